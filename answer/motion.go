package answer

import (
	"fmt"
	"math"
	"strings"

	"steelyard/quantity"
	"steelyard/statics"
)

// A Move is how one body starts to move.
type Move struct {
	Body  string
	Turns bool
	About string      // the support or point that it turns about; "" if that has no name
	Pivot statics.Vec // the point that it turns about
	Sense string      // "clockwise" or "anticlockwise"
	Heads statics.Vec // the direction in which it slides or falls, length 1, where it does not turn
}

// Moves says how each body that moves starts to do so.
func Moves(l *Layout, m *statics.Motion) []Move {
	if m == nil {
		return nil
	}
	size, span := 0.0, l.extent()
	for _, v := range m.Velocity {
		size = max(size, math.Hypot(v.X, v.Y), math.Abs(v.Turn)*span)
	}
	var out []Move
	for i, v := range m.Velocity {
		switch {
		case math.Abs(v.Turn)*span > 1e-6*size:
			p := statics.Vec{X: -v.Y / v.Turn, Y: v.X / v.Turn}
			out = append(out, Move{Body: l.Bodies[i].Name, Turns: true, Pivot: p, About: l.nameAt(p, i), Sense: Sense(v.Turn)})
		case math.Hypot(v.X, v.Y) > 1e-6*size:
			out = append(out, Move{Body: l.Bodies[i].Name, Heads: times(1/math.Hypot(v.X, v.Y), statics.Vec{X: v.X, Y: v.Y})})
		}
	}
	return out
}

// extent is the greatest length in the arrangement, in metres.
func (l *Layout) extent() float64 {
	e := 0.0
	for i := range l.Bodies {
		b := &l.Bodies[i]
		e = max(e, b.Length, b.Height)
		for j := range l.Supports {
			e = max(e, math.Hypot(l.Supports[j].At.X-b.Origin.X, l.Supports[j].At.Y-b.Origin.Y))
		}
	}
	return max(e, 1e-3)
}

// nameAt is the support or point of body i that is at p, or "".
func (l *Layout) nameAt(p statics.Vec, i int) string {
	near := 1e-6 * l.extent()
	is := func(q statics.Vec) bool { return math.Hypot(p.X-q.X, p.Y-q.Y) < near }
	for j := range l.Supports {
		if s := &l.Supports[j]; (s.On == i || s.By == i) && is(s.At) {
			return s.Name
		}
	}
	for j := range l.Question.Points {
		if is(l.Point(l.Question.Points[j].Place)) {
			return l.Question.Points[j].Name
		}
	}
	for j := range l.Supports {
		if s := &l.Supports[j]; s.HasFar && s.On == i && is(s.Far) {
			if jointKind[s.Kind] != statics.Contact {
				return "the far end of " + s.Name
			}
			return "the far corner at " + s.Name
		}
	}
	return ""
}

// MotionInWords says how the bodies start to move: "the plank tips clockwise about Q".
func MotionInWords(l *Layout, m *statics.Motion) string {
	var parts []string
	for _, v := range Moves(l, m) {
		name := bodyName(l.BodyNamed(v.Body))
		switch {
		case v.Turns && v.About != "":
			parts = append(parts, fmt.Sprintf("%s turns %s about %s", name, v.Sense, v.About))
		case v.Turns:
			metre := quantity.SIUnit(quantity.Length)
			o := l.BodyNamed(v.Body).Origin
			parts = append(parts, fmt.Sprintf("%s turns %s about the point (%s, %s) from its left end", name, v.Sense,
				quantity.Format(l.dusted(v.Pivot.X-o.X), metre, 3), quantity.Format(l.dusted(v.Pivot.Y-o.Y), metre, 3)))
		case math.Abs(v.Heads.X) < 1e-6 && v.Heads.Y < 0:
			parts = append(parts, name+" falls")
		case math.Abs(v.Heads.X) < 1e-6:
			parts = append(parts, name+" rises")
		case math.Abs(v.Heads.Y) < 1e-6:
			parts = append(parts, name+" slides "+Direction(v.Heads.X, 0, 2))
		default:
			parts = append(parts, name+" slides "+strings.TrimPrefix(Direction(v.Heads.X, v.Heads.Y, 3), "at "))
		}
	}
	if len(parts) == 0 {
		return "it moves"
	}
	return strings.Join(parts, " and ")
}

// dusted is a length without what is only a rounding.
func (l *Layout) dusted(v float64) float64 {
	if math.Abs(v) < 1e-9*l.extent() {
		return 0
	}
	return v
}
