// Package solution works a question out as a person would: which body, which pivot and why, the
// equations term by term, the result, and a check about a point that was not used.
//
// Routes are found by search over pivots and directions, not written by hand. Values are in SI
// units inside; what is printed is rounded once, from the unrounded value.
package solution

import (
	"steelyard/answer"
	"steelyard/formula"
	"steelyard/statics"
)

// A Solution is the working of all parts of a question.
type Solution struct {
	Question string // its title
	Parts    []Worked
	Check    []Step // about a point that no route used
	Safety   string // caution for teaching use
}

// A Worked part has one route or more to the same answer; the first is the one to show.
type Worked struct {
	Name   string // "a"
	Asked  string // what is asked, in words
	Marks  int
	Routes []Route
	Answer Answer
}

// An Answer is the final line of a part.
type Answer struct {
	Formula formula.Node // such as R_Q = 480 N
	Words   string       // "480 N upwards, on the plank"
	Value   float64      // SI
	Unit    string
}

// A Route is one way of working a part out.
type Route struct {
	Name  string   // "moments about P, then the balance of forces"
	Uses  []string // parts whose answers it takes over
	Steps []Step
	Poor  string // why this pivot is a poor choice, where it was asked for all the same
	// Working holds the equations as data, for hints and for slips; nil where the route is said in words.
	Working *Working
	Ends    []*Working // of a range, where each end has its own; Working is nil then
}

// A StepKind says what a step is for; hints, slides and marks go by it.
type StepKind uint8

const (
	Setting  StepKind = iota // which body, which forces act on it
	Choosing                 // the pivot or the direction, and why
	Stating                  // the principle used, in words
	Writing                  // the equation, in symbols and then in numbers
	Solving                  // rearranged for the unknown
	Result                   // the answer, rounded
	Reading                  // third law, direction, meaning of a negative sign
	Checking
)

// A Step is a few sentences and the lines of working that go with them.
type Step struct {
	Kind  StepKind
	Say   []Piece
	Lines []Line
	View  *View // picture that belongs to the step, if any
	// Equation is the one that the step chooses, writes or solves, or whose forces it lists; nil where the route is
	// said in words. Gives is the number of the unknown that it is solved for.
	Equation *Equation
	Gives    int
}

// A Piece is a run of words or a formula inside a sentence.
type Piece struct {
	Text string
	Math *formula.Node // in place of Text
}

// A Line is one displayed line of working, with the marks that it earns.
type Line struct {
	Formula formula.Node
	Note    string // short remark at the line's end
	Marks   []Mark
}

// A Mark is one mark of the scheme: its code ("M1", "A1", "B1"), and what earns it.
type Mark struct {
	Code     string
	For      string
	Guidance string // tolerance, follow-through, alternatives
	Kind     MarkKind
}

// A MarkKind says what a mark is earned for.
type MarkKind uint8

const (
	ForAnswer  MarkKind = iota // the value that is asked for
	ForMoments                 // moments about one point, every force there
	ForBalance                 // forces along one direction, every force there
	ForLimit                   // friction is at its limit
	ForZero                    // a force has just become zero
	ForArms                    // every distance and sense right
	ForForces                  // every force of a balance right
	ForValue                   // a value on the way
	ForSolving                 // rearranged rightly
	ForWeight                  // weight from mass
	ForPair                    // third law
	ForPieces                  // masses and places of pieces
	ForPlace                   // the last step from a distance to a place
)

// A View asks for a picture: the forces on a body, with moments about Pivot if PivotName is not "".
type View struct {
	Layout    *answer.Layout // the arrangement: of a limit, at that limit
	Body      string
	Pivot     statics.Vec
	PivotName string
}
