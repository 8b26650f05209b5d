package answer

import (
	"math"

	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// StandardField is the field strength used where a question gives none, in N/kg.
//
// Source: Cambridge International AS & A Level Physics 9702 data sheet, syllabus 2022-2024.
const StandardField = 9.81

// found holds the values of what was unknown in a question, by what they belong to.
type found struct {
	at     map[string]float64 // metres along the body from its left end, of a load or support
	centre map[string]float64 // the same, of a body's centre of mass
	weight map[string]float64 // newtons, of a load or body
	size   map[string]float64 // newtons or newton metres, of a force or couple
	angle  map[string]float64 // radians, of a body
	mu     map[string]float64 // of a support
}

func newFound() found {
	m := func() map[string]float64 { return map[string]float64{} }
	return found{m(), m(), m(), m(), m(), m()}
}

// value is v in SI units, or what was found under name, or NaN.
func value(v question.Value, known map[string]float64, name string) float64 {
	if v.Known() {
		return v.SI()
	}
	if x, ok := known[name]; ok {
		return x
	}
	return math.NaN()
}

// Lay puts a question's arrangement into the plane. What is unknown is NaN.
// Its errors are question.Faults.
func Lay(q *question.Question) (*Layout, error) {
	l, err := lay(q, newFound(), 1)
	return l, named(q, err)
}

func lay(q *question.Question, f found, slipSign float64) (*Layout, error) {
	l := &Layout{Question: q, Field: StandardField, found: f, slipSign: slipSign}
	if q.Field.Known() {
		l.Field = q.Field.SI()
	}
	l.Bodies = make([]Body, len(q.Bodies))
	for i := range q.Bodies {
		l.Bodies[i] = shape(q, &q.Bodies[i], l.Field, f)
	}
	if err := l.putBodies(f); err != nil {
		return nil, err
	}
	for i := range l.Bodies {
		l.Bodies[i].finish()
	}
	l.Supports = make([]Support, len(q.Supports))
	for i := range q.Supports {
		s, err := l.support(&q.Supports[i], f)
		if err != nil {
			return nil, err
		}
		l.Supports[i] = s
	}
	l.Loads = make([]Load, len(q.Loads))
	for i := range q.Loads {
		load, err := l.load(&q.Loads[i], f)
		if err != nil {
			return nil, err
		}
		l.Loads[i] = load
	}
	l.System = l.system()
	return l, nil
}

// BodyIndex returns the number of the body called name, or statics.Ground, which is negative.
func (l *Layout) BodyIndex(name string) int {
	for i := range l.Bodies {
		if l.Bodies[i].Name == name {
			return i
		}
	}
	return statics.Ground
}

// BodyNamed returns the body called name, or nil.
func (l *Layout) BodyNamed(name string) *Body {
	if i := l.BodyIndex(name); i >= 0 {
		return &l.Bodies[i]
	}
	return nil
}

// SupportNamed returns the support called name, or nil.
func (l *Layout) SupportNamed(name string) *Support {
	for i := range l.Supports {
		if l.Supports[i].Name == name {
			return &l.Supports[i]
		}
	}
	return nil
}

// LoadNamed returns the load called name, or nil.
func (l *Layout) LoadNamed(name string) *Load {
	for i := range l.Loads {
		if l.Loads[i].Name == name {
			return &l.Loads[i]
		}
	}
	return nil
}

// along returns how far a place is along its body's axis from the left end (the origin of a frame),
// and how far above the axis, in metres; name is whose place it is, for one that was unknown.
func along(q *question.Question, b *question.Body, p question.Place, known map[string]float64, name string) (s, t float64) {
	length := 0.0
	if b.Length.Known() {
		length = b.Length.SI()
	}
	switch {
	case p.Point != "":
		for i := range q.Points {
			if q.Points[i].Name == p.Point {
				return along(q, b, q.Points[i].Place, nil, "")
			}
		}
		return math.NaN(), 0
	case p.XY != nil:
		return p.XY.X.SI(), p.XY.Y.SI()
	case p.End == question.Left:
		return 0, 0
	case p.End == question.Right:
		return length, 0
	case p.End == question.Middle:
		return length / 2, 0
	case p.At.Known():
		if s = p.At.SI(); b.ZeroRight {
			s = tidy(length - s)
		}
		return s, 0
	case p.At.Status == question.Unknown:
		if x, ok := known[name]; ok {
			return x, 0
		}
		return math.NaN(), 0
	}
	return 0, 0
}

// FromZero turns a distance along the body from its left end into one from the zero of its scale, and back.
func (b *Body) FromZero(s float64) float64 {
	if b.ZeroRight {
		return tidy(b.Length - s)
	}
	return s
}

// Point returns where a place is in the plane; NaN where it is unknown.
func (l *Layout) Point(p question.Place) statics.Vec { return l.point(p, nil, "") }

func (l *Layout) point(p question.Place, known map[string]float64, name string) statics.Vec {
	if p.Body == "" && p.Point != "" {
		for i := range l.Question.Points {
			if pt := &l.Question.Points[i]; pt.Name == p.Point {
				return l.point(pt.Place, nil, "")
			}
		}
	}
	i := l.BodyIndex(p.Body)
	if i < 0 {
		if p.XY != nil {
			return statics.Vec{X: p.XY.X.SI(), Y: p.XY.Y.SI()}
		}
		return statics.Vec{X: math.NaN(), Y: math.NaN()}
	}
	b := &l.Bodies[i]
	s, t := along(l.Question, b.Body, p, known, name)
	return b.at(s, t)
}

// at is the point of the body a distance s along its axis and t above it.
func (b *Body) at(s, t float64) statics.Vec {
	v := statics.Vec{
		X: b.Origin.X + s*b.Axis.X - t*b.Axis.Y,
		Y: b.Origin.Y + s*b.Axis.Y + t*b.Axis.X,
	}
	if level(b.Axis) {
		v = statics.Vec{X: tidy(v.X), Y: tidy(v.Y)}
	}
	return v
}

// At is the point of the body a distance s along its axis from its left end, in metres.
func (b *Body) At(s float64) statics.Vec { return b.at(s, 0) }

// Along is how far p is along the body's axis from its left end, in metres.
func (b *Body) Distance(p statics.Vec) float64 {
	s := (p.X-b.Origin.X)*b.Axis.X + (p.Y-b.Origin.Y)*b.Axis.Y
	if level(b.Axis) {
		return tidy(s)
	}
	return s
}

// Level reports whether the body's axis is horizontal.
func (b *Body) Level() bool { return b.Axis.Y == 0 }

func level(axis statics.Vec) bool { return axis.X == 0 || axis.Y == 0 }

// tidy takes the dust off a sum of decimals: 0.3 + 0.6 is 0.9. It must not be used on sines.
func tidy(v float64) float64 { return quantity.Snap(v) }

// heading is the unit vector at angle radians; exact for right angles.
func heading(angle float64) statics.Vec {
	switch turn := angle / (math.Pi / 2); turn {
	case 0, 4, -4:
		return statics.Vec{X: 1}
	case 1, -3:
		return statics.Vec{Y: 1}
	case 2, -2:
		return statics.Vec{X: -1}
	case 3, -1:
		return statics.Vec{Y: -1}
	}
	return statics.Vec{X: math.Cos(angle), Y: math.Sin(angle)}
}

// left is v turned 90° anticlockwise.
func left(v statics.Vec) statics.Vec { return statics.Vec{X: -v.Y, Y: v.X} }

func cross(a, b statics.Vec) float64 { return a.X*b.Y - a.Y*b.X }

func minus(a, b statics.Vec) statics.Vec { return statics.Vec{X: a.X - b.X, Y: a.Y - b.Y} }

func times(k float64, v statics.Vec) statics.Vec { return statics.Vec{X: k * v.X, Y: k * v.Y} }

func nan(v statics.Vec) bool { return math.IsNaN(v.X) || math.IsNaN(v.Y) }
