// Package formula holds formulas as trees and writes them as plain text, as MathML and in spoken words.
//
// A tree keeps the numbers as printed, so that a printed line can be put back and checked: Value
// computes from the printed digits.
//
// Written forms follow the SI Brochure, 9th edition, chapter 5: quantity symbols italic, units and
// descriptive subscripts upright, × between numbers, a space between number and unit.
package formula

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
	Unit  string  // as the SI Brochure writes it
	Value float64 // of a Num, in SI units, from the printed digits; of a Sym, its value where known (NaN if not)
	Args  []Node
}
