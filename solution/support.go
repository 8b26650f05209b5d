package solution

import (
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/question"
	"steelyard/statics"
)

// A reaction is the forces of one support while they are written down: what all of them share, and what statics found.
type reaction struct {
	s     *scene
	p     *answer.Support
	b     *answer.Body // that it acts on
	r     statics.Reaction
	lim   limit
	force Force // what its forces have in common
}

// addSupport adds the forces of support i.
func (s *scene) addSupport(i int, r statics.Reaction, lim limit) {
	p := &s.l.Supports[i]
	h := &reaction{s: s, p: p, b: &s.l.Bodies[p.On], r: r, lim: lim, force: s.supportForce(p)}
	switch p.Kind {
	case question.Hinge, question.Pivot:
		h.components()
	case question.Clamp:
		h.components()
		h.couple()
	case question.Cable, question.Link:
		h.add(Reaction, "", "the tension in "+p.Name, p.Normal, r.N)
	case question.Strut:
		h.add(Reaction, "", "the thrust in "+p.Name, p.Normal, r.N)
	case question.Meter:
		h.add(Reaction, "", "the pull of "+p.Name, p.Normal, r.N)
	default:
		h.base()
		h.contact()
	}
}

// supportForce is what all forces of a support have in common.
func (s *scene) supportForce(p *answer.Support) Force {
	b := &s.l.Bodies[p.On]
	f := Force{Name: p.Name, On: p.On, By: p.By, At: p.At, Size: -1, Place: -1, Factor: 1, Sub: p.Name, Mark: s.mark(b, p.Support.On, p.At)}
	if p.By >= 0 {
		f.ByMark = s.mark(&s.l.Bodies[p.By], p.Support.By, p.At)
	}
	if p.Direction != nil && p.Direction.Angle.Known() {
		f.Angles = append(f.Angles, given(p.Direction.Angle))
	}
	if p.Support.Angle.Known() {
		f.Angles = append(f.Angles, given(p.Support.Angle))
	}
	if p.HasFar && !answer.IsFace(p.Support, b) {
		f.Angles = append(f.Angles, s.lineAngle(p.Normal, statics.Vec{X: 1}))
		if !b.Level() {
			f.Angles = append(f.Angles, s.lineAngle(p.Normal, b.Axis))
		}
	}
	if p.Support.On.At.Status == question.Unknown {
		f.Place = s.unknown(Unknown{Name: p.Name, Words: "the distance of " + p.Name + s.from(b), Letter: "x", Sub: s.placeSub(p.Name), Unit: "m",
			Value: b.FromZero(b.Distance(p.At)), Kind: OfPlace, Body: p.On})
	}
	return f
}

// add adds one force, known where its reading is given or where it has just become zero. The one force of a
// support has the letter that goes with the kind of support.
func (h *reaction) add(kind ForceKind, letter, words string, way statics.Vec, value float64) {
	f := h.force
	f.Kind, f.Letter, f.Words, f.Way, f.Value = kind, letter, words, way, value
	if kind == Reaction {
		f.Letter, f.Sub = answer.Symbol(h.p.Support)
	}
	switch {
	case slices.Contains(h.lim.lifting, f.Name):
		f.Given, f.Value, f.Zero = formula.Given("0", "N"), 0, "limit"
	case h.p.Reading.Known() && f.Kind != Friction && f.Kind != Across:
		f.Given, f.Value = given(h.p.Reading), h.p.Reading.SI()
	default:
		f.Size = h.s.unknown(Unknown{Name: f.Name, Words: f.Words, Letter: f.Letter, Sub: f.Sub, Unit: "N", Value: f.Value})
	}
	h.s.forces = append(h.s.forces, f)
}

// components adds the force of a hinge: its horizontal and its vertical part, or one force where nothing is level.
func (h *reaction) components() {
	up, across := statics.Vec{Y: 1}, statics.Vec{X: 1}
	if !h.s.sideways || math.Abs(h.r.X) < 1e-12 && onlyUpright(h.s, h.p.On) {
		h.add(Reaction, "", "the force at "+h.p.Name, up, h.r.Y)
		return
	}
	if h.r.X < 0 {
		across.X = -1
	}
	h.add(Across, "X", "the horizontal force at "+h.p.Name, across, h.r.X*across.X)
	h.add(Upright, "Y", "the vertical force at "+h.p.Name, up, h.r.Y)
}

// couple adds the couple of a clamp.
func (h *reaction) couple() {
	f := h.force
	f.Kind, f.Letter, f.Words, f.Turn = Turn, "C", "the fixing couple at "+h.p.Name, 1
	if h.r.Couple < 0 {
		f.Turn = -1
	}
	f.Value = h.r.Couple * f.Turn
	f.Size = h.s.unknown(Unknown{Name: f.Name, Words: f.Words, Letter: f.Letter, Sub: f.Sub, Unit: "N m", Value: f.Value, Kind: OfCouple})
	h.s.forces = append(h.s.forces, f)
}

// base says where the normal forces of a flat contact act as one: at a corner that is about to be the last, or
// at a place that equilibrium finds.
func (h *reaction) base() {
	if edge, onEdge := h.lim.edges[h.p.Name]; onEdge {
		h.force.At = h.b.At(edge)
		h.force.Mark = h.s.computedMark(h.b, edge)
		return
	}
	if !h.p.HasFar || !answer.IsFace(h.p.Support, h.b) {
		return
	}
	at := faceAt(h.r, h.p.Normal, h.b)
	h.force.Place = h.s.unknown(Unknown{Name: h.p.Name, Words: "the distance from the lower left corner to where the normal force acts", Letter: "x", Unit: "m",
		Value: at, Kind: OfPlace, Body: h.p.On})
	h.force.At, h.force.Mark = h.b.At(at), h.s.computedMark(h.b, at)
}

// contact adds the normal force of a contact, and friction where it is rough.
func (h *reaction) contact() {
	if h.p.Mu == 0 || !h.s.sideways && math.Abs(h.r.F) < 1e-9*(1+math.Abs(h.r.N)) {
		h.add(Reaction, "", "the force at "+h.p.Name, h.p.Normal, h.r.N)
		return
	}
	h.add(Normal, "N", "the normal force at "+h.p.Name, h.p.Normal, h.r.N)
	along := statics.Vec{X: h.p.Normal.Y, Y: -h.p.Normal.X}
	if h.r.F < 0 {
		along = opposite(along)
	}
	h.add(Friction, "F", "the friction at "+h.p.Name, along, math.Abs(h.r.F))
}

// lineAngle is the angle between a line and an axis, 90° at most, as it is printed; its value is the unrounded one.
func (s *scene) lineAngle(way, axis statics.Vec) formula.Node {
	angle := math.Atan2(math.Abs(cross(axis, way)), math.Abs(dot(axis, way)))
	n := decimal(angle*180/math.Pi, "°", s.figures)
	n.Value = angle
	return n
}

// faceAt is how far from its first corner the normal force of a flat contact acts.
func faceAt(r statics.Reaction, normal statics.Vec, b *answer.Body) float64 {
	turn := cross(b.Axis, normal) * r.N
	if turn == 0 {
		return b.Length / 2
	}
	return r.Couple / turn
}

// onlyUpright reports whether nothing on body i but hinges can push sideways.
func onlyUpright(s *scene, i int) bool {
	for k := range s.forces {
		if f := &s.forces[k]; (f.On == i || f.By == i) && math.Abs(f.Way.X) > 1e-12 {
			return false
		}
	}
	for k := range s.l.Supports {
		p := &s.l.Supports[k]
		if (p.On == i || p.By == i) && (math.Abs(p.Normal.X) > 1e-12 || p.Mu > 0) {
			return false
		}
	}
	return true
}
