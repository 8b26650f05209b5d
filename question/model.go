package question

import "steelyard/quantity"

// A Question is one arrangement of bodies with its wording, what is asked and what may vary.
// Positions are kept as written; package answer lays them out in the plane.
type Question struct {
	File       string // name of the file that it was read from, for faults
	Title      string
	Level      string   // "14-16", "16-18" or "first year"; "" if not said
	Idea       string   // what it tests, in a sentence for the teacher
	Traps      []string // names of the slips that its numbers should tell apart: "equal-shares"
	Field      Value    // g; absent if no line gives it (9.81 N/kg is then used)
	Text       []string // the author's own wording, a paragraph each, placeholders still in braces
	Bodies     []Body
	Points     []Point
	Supports   []Support
	Loads      []Load
	Conditions []Condition
	Parts      []Part
	Vary       []Vary
	lines      []line // the file as it was, with its comments, for tidy
}

// A Span is where something stands in a question file: a line (from 1), and its columns (from 1,
// counted in characters, End is one past the last).
type Span struct{ Line, Column, End int }

// A Status says whether a value is given, asked for, or not mentioned.
type Status uint8

const (
	Absent Status = iota
	Given
	Unknown // written "unknown"
)

// A Value is a quantity that may be unknown.
type Value struct {
	quantity.Quantity
	Status Status
	Span   Span
}

// Known reports whether v is given.
func (v Value) Known() bool { return v.Status == Given }

// A Shape is the outline of a body.
type Shape uint8

const (
	Bar   Shape = iota // a straight body: beam, plank, rule, ladder, arm; length along its axis
	Block              // a rectangle: length along its base, height at right angles
	Frame              // pieces fixed together, each at (x, y) of the body's own axes
)

// A Body is a rigid body. A bar's axis starts at its left (or lower) end and makes Angle with the
// horizontal, anticlockwise from the right; the left end is at At in the plane.
type Body struct {
	Name      string
	Label     string // what the wording calls it; the name if none is given
	Shape     Shape
	Uniform   bool
	Light     bool  // its weight is to be left out
	Length    Value // m; of a block, the length of its base
	Height    Value // of a block
	Weight    Value // N; one of Weight and Mass
	Mass      Value
	Centre    Place   // centre of mass, if given or unknown; else the middle
	Angle     Value   // of its axis above the horizontal; absent is level
	ZeroRight bool    // positions are counted from the right-hand end
	Rule      Value   // distance between marks, if it is drawn as a graduated rule
	At        *XY     // where its left end (or the frame's origin) is in the plane; nil: the origin, or where a joint with a placed body puts it
	Pieces    []Piece // of a frame
	Span      Span
}

// A PieceKind is the shape of a piece of a frame.
type PieceKind uint8

const (
	RodPiece  PieceKind = iota // thin, from From to To
	Rectangle                  // Width along x by Height along y, lower left corner at From
	Triangle                   // corners From, To, Third
	Disc                       // centre From, radius Width
	PointMass                  // a small mass at From
)

// A Piece is part of a frame. Its mass or weight is given, or the frame has one density (mass for
// each metre of rod, for each square metre of plate) and Density is set on it. A hole counts negative.
type Piece struct {
	Kind            PieceKind
	Name, Label     string
	Body            string // the frame that it belongs to
	From, To, Third XY     // in the frame's own axes
	Width, Height   Value
	Mass, Weight    Value
	Density         Value // kg/m of a rod, kg/m² of a plate; absent on all pieces: all of one material, the frame's own mass shared by length or area
	Hole            bool
	Span            Span
}

// XY is a point as written: (0.80 m, 0 m).
type XY struct {
	X, Y Value
	Span Span
}

// An End is a place named by a word.
type End uint8

const (
	NoEnd End = iota
	Left      // left end; also lower end, foot, of a bar that leans (angle from 0° to 180°)
	Right     // right end; also upper end, top
	Middle
)

// A Place is a point of a body: a distance along its axis from the zero of its scale, a named end,
// a point (x, y) of its own axes, or a named point.
type Place struct {
	Body  string
	At    Value // distance along the axis; may be unknown
	End   End
	XY    *XY    // x along the body's axis from its left end, y at right angles to it, to the left of the axis (above a level body)
	Point string // name of a Point
	Span  Span

	body     Span // of the body's name
	byHeight bool // End was written as foot or top, not as left or right end
}

// Set reports whether the place is given in any way.
func (p Place) Set() bool {
	return p.At.Status != Absent || p.End != NoEnd || p.XY != nil || p.Point != ""
}

// A Point is a named point of a body, or of the plane if Body is "".
type Point struct {
	Name, Label string
	Place       Place
	Span        Span
}

// A Compass is one of the four plain directions.
type Compass uint8

const (
	NoCompass Compass = iota
	Up
	Down
	ToLeft
	ToRight
)

// A Direction is a direction as written: "up", "35 deg above left" (Base left, turned towards up),
// "20 deg left of up", "at right angles to arm", "along arm", "35 deg to arm" (Angle from the body's axis back
// towards its left end, on its upper side).
type Direction struct {
	Base    Compass
	Towards Compass // the side that Angle turns to
	Angle   Value   // absent: Base itself
	Along   string  // body whose axis is meant; then Angle is counted from the axis
	Across  bool    // at right angles to Along, on its upper side
	Reverse bool    // "below"/"back": the opposite side of Along
	Span    Span
}

// A Kind is a kind of support.
type Kind uint8

const (
	Rest   Kind = iota // smooth, or rough, edge that pushes at right angles to the body
	Pivot              // a knife edge, nail or axle that the body turns on: any force, no couple
	Hinge              // a pin joint: any force, no couple
	Clamp              // built in: any force and any couple
	Strap              // pushes up or pulls down at right angles to the body
	Meter              // a force meter that the body hangs from: a pull upwards
	Spring             // as a force meter, without a scale
	Floor              // level ground under a point
	Wall               // upright wall beside a point
	Slope              // flat surface at an angle, under the base of a block or a point
	Roller             // pushes or pulls along one line, as written by "pushes"; by default pushes only, as a smooth rest
	Cable              // pulls along its line
	Strut              // light rod that pushes or pulls along its line; positive is a thrust
	Link               // light rod that pushes or pulls along its line; positive is a tension
)

// A Support is anything that exerts a force that is not given. By names another body that it
// belongs to (a rest on another body, a hinge that joins two); else it is fixed to the surroundings.
type Support struct {
	Kind      Kind
	Name      string
	Label     string
	On        Place
	By        Place      // place on another body, if By.Body is not ""
	To        *XY        // of a cable, strut or link: the fixed point in the plane where its other end is
	ToPoint   string     // the named point that To was taken from, if it was
	Direction *Direction // of the push, or of the pull of a cable; nil: what the kind implies
	Above     bool       // a rest that lies on top of the body and so pushes down
	Rough     bool       // rough enough never to slip, or with coefficient Mu
	Smooth    bool       // written "smooth"; without friction is also what is taken if nothing is said
	Mu        Value      // coefficient of friction
	Angle     Value      // of a slope
	Reading   Value      // the force that it exerts, where given or unknown ("reading 6.4 N", "force 240 N")
	Span      Span
}

// A LoadKind is a kind of given force.
type LoadKind uint8

const (
	Weight LoadKind = iota // a thing on or under the body; its weight or mass is given or unknown
	Force                  // a push or pull in a direction
	Spread                 // so many newtons (or kilograms) for each metre
	Couple
)

// A Load is a given (or unknown) action on a body.
type Load struct {
	Kind          LoadKind
	Name, Label   string
	On            Place
	To            Place      // the end of a spread load
	Size          Value      // the force, the load for each metre, or the couple
	Weight, Mass  Value      // of a Weight
	Direction     *Direction // of a Force
	Anticlockwise bool       // of a Couple
	Hung          bool       // hangs below the body instead of standing on it
	Span          Span
}

// A ConditionKind is a kind of further condition.
type ConditionKind uint8

const (
	Ratio       ConditionKind = iota // given P = Q, given Q = 3 P
	AboutToTip                       // given about to tip about Q: every other rest of that body has just lost contact
	AboutToSlip                      // given about to slip at F
	AboutToLift                      // given about to lift at P
)

// A Condition is what else is known.
type Condition struct {
	Kind   ConditionKind
	Name   string // support on the left of =, or where it is about to slip, lift or turn
	Factor Value  // Name = Factor × Other
	Other  string
	Span   Span
	name   Span // of Name
	other  Span // of Other
}

// An Ask says what kind of thing a part asks for.
type Ask uint8

const (
	AskForce            Ask = iota // find force P: what support P exerts on the body; size, and direction if it is not plain
	AskAcross                      // find horizontal force H
	AskUpright                     // find vertical force H
	AskDirection                   // find direction of force H
	AskNormal                      // find normal force F
	AskFriction                    // find friction F
	AskForceOn                     // find force of plank on Q (third law)
	AskCouple                      // find couple C of a clamp, or an unknown couple
	AskWeight                      // find weight K (load or body)
	AskMass                        // find mass K
	AskSize                        // find size E of a force
	AskPosition                    // find position K (load or support whose place is unknown)
	AskCentre                      // find centre of mass plank
	AskAngle                       // find angle ladder
	AskCoefficient                 // find coefficient F
	AskFurthest                    // find furthest K towards left|right
	AskRange                       // find range K: between which positions
	AskGreatest                    // find greatest K (weight), greatest angle ladder
	AskLeast                       // find least K, least angle ladder
	AskLeastCoefficient            // find least coefficient F
	AskMoment                      // find moment K about P
	AskTotalMoment                 // find total moment about P (of the given loads and weights)
	AskResultant                   // find resultant plank: size and where it acts, of the loads and weights
	AskWhether                     // find whether it stays
)

// A Part is one part of a question.
type Part struct {
	Name    string // "a"
	Text    string // the author's own wording; "" is written from what is asked
	Ask     Ask
	Thing   string  // what is asked about
	Other   string  // the body of "force of BODY on SUPPORT", the point of "moment K about P"
	Place   Place   // the point of "about 2.00 m on plank"
	Towards Compass // of AskFurthest
	OfAngle bool    // greatest or least angle in place of weight
	Show    Value   // "show force P is 240 N": the printed value
	Marks   int
	Figures int // significant figures asked for; 0: as the data
	Span    Span
	thing   Span // of Thing
	other   Span // of Other
}

// A Vary says that a number may differ from pupil to pupil.
type Vary struct {
	Thing, Attribute string // "K", "weight"
	From, To, Step   Value
	Span             Span
	thing            Span // of Thing.Attribute
}
