package statics

// Ground stands for the fixed surroundings in place of a body's number.
const Ground = -1

// A Vec is a point in metres, a force in newtons, or a direction of length 1.
type Vec struct{ X, Y float64 }

// A Kind says which forces a joint can exert.
type Kind uint8

const (
	Contact Kind = iota // pushes along Normal only (N ≥ 0); friction along the surface with |F| ≤ Mu N
	Face                // a flat contact from At to To: pushes along Normal at both ends (N ≥ 0 each), one friction |F| ≤ Mu (N + N')
	Hinge               // any force, no couple
	Clamp               // any force and any couple
	Pull                // a force along Normal that is never negative, without friction: a cable, Normal towards its other end; an unknown weight, Normal down
	Rod                 // a force along Normal of either sign: strut, link, strap, guided roller
	Couple              // a couple of either sign and no force
)

// A Joint is something that can exert a force that is not given. It exerts it on the body On; the
// body By (or Ground) receives the opposite one at the same point.
type Joint struct {
	Kind   Kind
	On, By int
	At     Vec     // where the force acts, in the plane
	To     Vec     // other end of a Face
	Normal Vec     // direction of the force on On when N > 0, length 1 (another length is brought to 1); the friction direction is Normal turned 90° clockwise; at right angles to At-To of a Face; Hinge, Clamp, Couple don't use it
	Mu     float64 // coefficient of friction of a Contact or Face: 0 smooth, +Inf rough enough never to slip while it presses (N = 0 has F = 0)
}

// A Load is a given force, at a point of a body, and a given couple (anticlockwise positive).
type Load struct {
	On     int
	At     Vec
	Force  Vec
	Couple float64
}

// An Unknown is a number that equilibrium must find and that enters the equations linearly: each
// unit of it adds Force at At and Couple to body On. The place of a known weight along a body is
// one (each metre adds a couple), as is an unknown weight.
type Unknown struct {
	On              int
	At              Vec
	Force           Vec
	Couple          float64
	Least, Greatest float64 // bounds; use ±Inf for none
}

// A Part names one component of what a joint exerts on its body On.
type Part uint8

const (
	N Part = iota // along Normal (of a Face: both ends together); of a Hinge or Clamp: to the right, the same as X
	F             // friction, along Normal turned 90° clockwise; of a Hinge or Clamp: up, the same as Y
	X             // to the right
	Y             // up
	C             // couple, anticlockwise; of a Face, the moment of its normal forces about At, as in Reaction
)

// A Term is Factor × a component of a joint's force; with Joint < 0 it is Factor × the unknown number -1-Joint.
type Term struct {
	Joint  int
	Part   Part
	Factor float64
}

// A Tie is a further linear condition: the terms add up to Value. A known reading, equal reactions
// and friction that is limiting (F - μ N = 0) are ties.
type Tie struct {
	Terms []Term
	Value float64
}

// A System is everything that acts on a number of plane rigid bodies.
type System struct {
	Bodies   int
	Centres  []Vec // optional: a point of each body that stays where it is, and about which moments are balanced, where its motion leaves a choice; NaN for none
	Loads    []Load
	Joints   []Joint
	Unknowns []Unknown
	Ties     []Tie
}

// A State is one of the four kinds of answer.
type State uint8

const (
	Unique        State = iota // equilibrium, and it fixes every force
	Limit                      // as Unique, and at least one contact is about to be lost or to slip
	NotFixed                   // equilibrium is possible, but does not fix every force
	NoEquilibrium              // no forces can hold the bodies: they move
)

// A Reaction is what a joint exerts on its body On, acting at the joint's At.
type Reaction struct {
	X, Y, Couple float64 // newtons, newtons, newton metres about At: of a Clamp and a Couple their couple, of a Face the moment of its push at To; else 0
	N, F         float64 // along Normal (of a Face, both ends together) and along the surface; for a Hinge or Clamp the same as X and Y
}

// A Span is the least and the greatest that something could be; the two are equal where it is fixed,
// and infinite where unbounded.
type Span struct{ Least, Greatest float64 }

// Spans are the ranges of the components of one reaction.
type Spans struct{ X, Y, Couple, N, F Span }

// A Giving is a limit that is reached: joint Joint is about to be lost, to go slack or to lift at
// an end (Slips false), or to slip (Slips true).
type Giving struct {
	Joint int
	Slips bool
	End   int // of a Face: which end is about to lift, 0 at At, 1 at To
}

// A Velocity is the motion of one body as it starts: of the point of the body at the origin of the
// plane, and the rate of turning (anticlockwise positive). Its size means nothing; see Motion.
type Velocity struct{ X, Y, Turn float64 }

// A Motion says how the bodies start to move where nothing can hold them. The given forces do
// positive work in it (with each unknown at whatever its bounds allow), and it violates no contact,
// cable or hinge. Where the bodies can fall or slide without turning, they do. A rough contact that slides
// stays pressed, but where several slide at once no such motion may be found: one then parts at up to Mu times the
// rate at which it slides, as in the proof; read only the sliding from it. The fastest turning is 1 rad/s, or the fastest shifting 1 m/s where nothing turns.
type Motion struct {
	Velocity []Velocity // of each body
	Opens    []int      // joints that part, cables that go slack, faces that lift at one end or both
	Slides   []int      // joints that slide along their surface while they press
}

// A Solution is what equilibrium says about a system.
type Solution struct {
	State     State
	Reactions []Reaction // of each joint; one possible set where NotFixed; nil for NoEquilibrium
	Unknowns  []float64  // value of each unknown; one that adds no force and no couple has the allowed value nearest 0
	Spans     []Spans    // of each joint, only for NotFixed
	Ranges    []Span     // of each unknown, only for NotFixed
	Giving    []Giving   // only for Limit
	Motion    *Motion    // only for NoEquilibrium; nil where the bodies could be held and only the ties forbid it
}
