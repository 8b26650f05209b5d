// Package formula holds formulas as trees and writes them as plain text, as MathML and in spoken words.
//
// A tree keeps the numbers as printed, so that a printed line can be put back and checked: [Eval]
// computes from the printed digits and [Check] says whether a printed relation is true, given that
// each rounded number may be half a unit of its last digit out.
//
// Written forms follow the SI Brochure, 9th edition, chapter 5: quantity symbols italic, units and
// descriptive subscripts upright, × between numbers, a space between number and unit.
package formula

import (
	"math"
	"strconv"
	"strings"
)

// An Op is what a node does with its arguments.
type Op uint8

const (
	Sym     Op = iota // a quantity's symbol: Text, with subscript Sub
	Num               // a number as printed: Text, with unit Unit; Value in SI as printed
	Word              // upright words inside a formula: Text
	Sum               // Args joined by +; an argument that is a Neg is joined by −
	Product           // Args joined by ×, symbols side by side
	Over              // Args[0] over Args[1], a fraction
	Neg               // minus Args[0]
	Power             // Args[0] to the power Args[1]
	Root              // square root of Args[0]
	Func              // Text ("sin", "cos", "tan", "tan⁻¹") of Args[0]
	Group             // Args[0] in brackets
	Equals            // Args joined by the relation Text ("=", "≤", "≥", "<", ">", "≈"), a chain
	Gap               // a blank to be filled in, as in a hint
)

// A Node is a formula or a piece of one. Nodes are values: changing a copy changes nothing else.
type Node struct {
	Op    Op
	Text  string
	Sub   string
	Say   string  // of a Sym: its spoken words ("the force at Q"); letters are spelt where it is ""
	Unit  string  // as the SI Brochure writes it; of a Num, a Gap, or a power of ten
	Value float64 // of a Num, in SI units, from the printed digits; of a Sym, its value where known (NaN if not)
	Exact bool    // of a Num: a datum or a count, not the outcome of rounding
	Args  []Node
}

// Symbol is the symbol of a quantity whose value in SI units is value (NaN if it isn't known).
func Symbol(text, sub, say string, value float64) Node {
	return Node{Op: Sym, Text: text, Sub: sub, Say: say, Value: value}
}

// Given is a number that the question states: it counts as exact.
func Given(digits, unit string) Node {
	n := Rounded(digits, unit)
	n.Exact = true
	return n
}

// Rounded is a number that was rounded to the digits shown.
func Rounded(digits, unit string) Node {
	v, err := strconv.ParseFloat(plain(digits), 64)
	if err != nil {
		v = math.NaN()
	}
	return Node{Op: Num, Text: digits, Unit: unit, Value: v * scale(unit)}
}

// Count is a pure number such as the 2 of a half.
func Count(n int) Node {
	return Node{Op: Num, Text: strconv.Itoa(n), Value: float64(n), Exact: true}
}

// Upright is a run of upright words inside a formula.
func Upright(text string) Node { return Node{Op: Word, Text: text, Value: math.NaN()} }

// Add is the sum of its terms; a sum of one is that one, of none is 0.
func Add(terms ...Node) Node { return join(Sum, Count(0), terms) }

// Times is the product of its factors; a product of none is 1.
func Times(factors ...Node) Node { return join(Product, Count(1), factors) }

// Minus is the negative of n.
func Minus(n Node) Node { return Node{Op: Neg, Args: []Node{n}} }

// Frac is the fraction above/below.
func Frac(above, below Node) Node { return Node{Op: Over, Args: []Node{above, below}} }

// Square is n squared.
func Square(n Node) Node { return Node{Op: Power, Args: []Node{n, Count(2)}} }

// Sqrt is the square root of n.
func Sqrt(n Node) Node { return Node{Op: Root, Args: []Node{n}} }

// Of is a named function of n: "sin", "cos", "tan", "tan⁻¹".
func Of(function string, n Node) Node { return Node{Op: Func, Text: function, Args: []Node{n}} }

// Bracket is n in brackets. Sums inside products get their brackets without it.
func Bracket(n Node) Node { return Node{Op: Group, Args: []Node{n}} }

// Equal is the chain of equalities between its sides.
func Equal(sides ...Node) Node { return Node{Op: Equals, Text: "=", Args: sides} }

// Relate is a chain of sides joined by one relation sign. A last side that is a chain itself makes
// a mixed one, as in F ≤ μN = 352 N.
func Relate(sign string, sides ...Node) Node { return Node{Op: Equals, Text: sign, Args: sides} }

// Blank is a gap to be filled in.
func Blank(unit string) Node { return Node{Op: Gap, Unit: unit, Value: math.NaN()} }

func join(op Op, none Node, args []Node) Node {
	switch len(args) {
	case 0:
		return none
	case 1:
		return args[0]
	}
	return Node{Op: op, Args: args}
}

// plain is a printed number as strconv reads it.
func plain(digits string) string {
	for i := range len(digits) {
		if c := digits[i]; c >= 0x80 || c == ' ' || c == ',' {
			return plainer.Replace(digits)
		}
	}
	return digits
}

var plainer = strings.NewReplacer("−", "-", "\u2009", "", "\u202f", "", "\u00a0", "", " ", "", ",", ".")

// scale is the SI value of one unit; an angle in degrees counts in radians.
func scale(unit string) float64 {
	switch unit {
	case "mm":
		return 1e-3
	case "cm", "N cm", "%":
		return 1e-2
	case "km", "kN", "kN m", "kN/m", "t":
		return 1e3
	case "MN", "MN m":
		return 1e6
	case "g", "mN", "mN m", "N mm":
		return 1e-3
	case "°":
		return math.Pi / 180
	case "N/cm":
		return 100
	case "N/mm":
		return 1000
	case "g/cm", "g/m":
		if unit == "g/cm" {
			return 0.1
		}
		return 1e-3
	case "g/cm²":
		return 10
	}
	return 1
}
