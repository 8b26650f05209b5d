// Package script reads what pupils write: answers and lines of working, typed on a keyboard or a phone,
// into numbers with units and equations as trees.
//
// It reads generously and says what it could not read; it never judges. Names of forces are kept as
// written; package mark matches them to the question's.
package script

import "steelyard/quantity"

// A Kind says what a line of working is.
type Kind uint8

const (
	NotRead    Kind = iota // nothing in it was understood
	Equation               // two sides or more, joined by =
	Inequality             // F ≤ μN, 137 < 150
	Value                  // one expression, no relation: "234 + 130.5"
	Statement              // words: "moments about A:", "up"
)

// A Line is one line of working as it was read.
type Line struct {
	Text     string // as written
	Kind     Kind
	Sides    []Expr   // of an equation, a chain a = b = c has three
	Relation string   // "=", or the first other one that stands in it: "<", "≤", …
	Links    []string // the relation between each side and the next
	Words    []string // words that stood before, between or after, in order, in lower case
	About    string   // the point that "moments about …" names, as written; ""
	Unread   string   // the piece that could not be read, if any
	opening  string   // the relation that it begins with, if it goes on from the line before
}

// An Op is what an expression does with its arguments.
type Op uint8

const (
	Number Op = iota // Value, perhaps with a unit
	Name             // a symbol: Text ("R_B", "T", "mu", "theta", "g", "W")
	Add
	Subtract
	Multiply
	Divide
	Negate
	Power
	Root
	Function // Text: "sin", "cos", "tan", "asin", …
)

// An Expr is an expression as a tree. Quantities keep their typed digits and unit.
type Expr struct {
	Op       Op
	Text     string
	Quantity quantity.Quantity // of a Number; the zero Unit where none was typed
	Degrees  bool              // of a Number: a degree sign was typed
	Args     []Expr
	From, To int // where it stands in the line, in bytes
}

// An Answer is what stands in an answer box.
type Answer struct {
	Text      string
	Read      bool
	Value     float64 // in Unit
	Unit      quantity.Unit
	HasUnit   bool
	UnitText  string // the unit as typed, also where it is none that is known
	Figures   int
	Decimals  int
	Direction string // "up", "down", "left", "right", "clockwise", "anticlockwise" or ""
	Words     []string
}
