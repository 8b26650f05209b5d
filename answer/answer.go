// Package answer lays a question out in the plane, asks statics for the forces and computes what
// each part asks for.
//
// All numbers are in SI units; x points right, y up, anticlockwise moments are positive.
package answer

import (
	"steelyard/question"
	"steelyard/statics"
)

// A Layout is a question's arrangement in the plane, with every number that was unknown put in
// where it could be found.
type Layout struct {
	Question *question.Question
	Field    float64 // g, N/kg
	Bodies   []Body
	Supports []Support
	Loads    []Load
	System   statics.System
	sought   []sought // the unknown numbers of System, in order
	found    found    // the values that were put in
	slipSign float64  // sense of the friction that is about to be overcome: 1 or -1
}

// A Body is a body in the plane.
type Body struct {
	*question.Body
	Origin statics.Vec // its left (lower) end, or its frame's origin
	Axis   statics.Vec // unit vector along it, from left to right
	Length float64     // m; 0 for a frame
	Height float64     // m, of a block
	Weight float64     // N; 0 if light; NaN if unknown
	Centre statics.Vec // where its weight acts; NaN if unknown
	Along  float64     // distance of Centre from Origin along Axis; NaN if unknown
	above  float64     // distance of Centre from the axis, to its left
}

// A Support is a support in the plane.
type Support struct {
	*question.Support
	On, By int         // bodies; statics.Ground for the surroundings
	Joint  int         // its number in System.Joints
	At     statics.Vec // where its force acts
	Far    statics.Vec // of a face: the base's other corner; of a cable, strut or link: its other end
	HasFar bool
	Normal statics.Vec // direction of its force on On, for one force of one direction
	Mu     float64     // +Inf if rough, NaN if unknown
}

// A Load is a given force in the plane. A spread load acts at the middle of its length.
type Load struct {
	*question.Load
	On       int
	At       statics.Vec // where it (or its resultant) acts
	From, To statics.Vec // ends of a spread load
	Force    statics.Vec // N; NaN if unknown
	Unit     statics.Vec // direction of a Force, length 1
	Couple   float64     // N m, anticlockwise; NaN if unknown
	PerMetre float64     // N/m of a spread load
}

// A Force is a force that was found.
type Force struct {
	Name         string // of the support
	On           string // the body that it acts on
	By           string // the body that exerts it, or "" for the surroundings
	At           statics.Vec
	X, Y, Couple float64
	N, F         float64
	Spans        *statics.Spans // where equilibrium does not fix it
}

// A Result is the answer to one part.
type Result struct {
	Part      *question.Part
	Value     float64          // SI; NaN where the answer is in words
	Unit      string           // SI unit: "N", "m", "kg", "N m", "rad", "1"
	Shown     string           // rounded, in the unit that the question uses, with direction in words where there is one
	Low, High float64          // of a range, or of a force that is not fixed; equal to Value otherwise
	Direction float64          // of a force: radians anticlockwise from the right; NaN if none
	At        float64          // of a resultant or a position: metres from the zero of the body's scale; NaN if none
	Layout    *Layout          // the arrangement at the limit, for parts that ask for one; else nil
	Giving    []string         // what is about to give at the limit: "P is about to lift", "F is about to slip"
	GivingAt  []statics.Giving // the same, for each end; of Layout's system
	Other     *Layout          // the arrangement at the other end of a range
	Second    float64          // y of a centre of mass; NaN if none
	By, On    string           // of a force: what exerts it, and on what
}

// Answers are all answers of a question.
type Answers struct {
	Layout   *Layout
	State    statics.State
	Solution statics.Solution
	Forces   []Force
	Results  []Result
	Warnings []string
}
