package show

import (
	"sync"

	"steelyard/figure"
	"steelyard/formula"
)

// A Talk is a question explained step by step.
type Talk struct {
	Title  string
	Safety string // caution for teaching use
	Steps  []Step

	scenes []scene
	plans  *sync.Map // of *plan, by size; talks of the same scenes share them
}

// A Step is one press of the clicker.
type Step struct {
	ID    string // for addresses: "start", "a-1"; the same question always gives the same
	Part  string // "a"; "" before the first part and for the check
	Kind  Kind
	Title string // of a slide, a chapter: "Moments about Q"
	Ask   string // what to ask the class before going on; may be empty
	Say   string // the spoken script, numbers and units as they are said
	Lines []Line // the working as it stands after this step; the last ones are new
	New   int    // how many of Lines are new, or have grown, in this step
	Sum   bool   // arithmetic: left out where pupils are to finish it themselves

	scene int // whose picture it shows
	stage *figure.Stage
}

// A Line is a line of working, perhaps not whole yet.
type Line struct {
	Formula formula.Node
	Note    string // a short remark at its end
	Grows   bool   // terms are still to come
}

// A Kind says what a step shows.
type Kind uint8

const (
	Arrangement Kind = iota // what there is
	Points                  // points named
	Forces                  // forces drawn
	Pivot                   // the pivot chosen, and why
	Moment                  // one moment: its line of action, perpendicular distance and sense
	Symbols                 // the equation in symbols
	Numbers                 // the equation in numbers
	Solving                 // rearranged
	Result                  // the answer
	Balance                 // the other force
	Reaction                // the action on the other body
	Check                   // about a third point
)
