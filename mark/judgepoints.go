package mark

import (
	"math"
	"slices"
	"strings"

	"steelyard/question"
	"steelyard/statics"
)

// findPoints lists the points that moments may well be taken about.
func (s *scene) findPoints() {
	add := func(name, key string, at statics.Vec, body int) {
		if math.IsNaN(at.X) || math.IsNaN(at.Y) {
			return
		}
		for _, p := range s.points {
			if math.Hypot(p.at.X-at.X, p.at.Y-at.Y) < 1e-9 && (key == "" || p.key == key) {
				return
			}
		}
		s.points = append(s.points, point{name, at, body, key})
	}
	for i := range s.l.Supports {
		p := &s.l.Supports[i]
		add(p.Name, p.Name, p.At, p.On)
	}
	for i := range s.l.Question.Points {
		p := &s.l.Question.Points[i]
		at, ok := s.l.Named(p.Name)
		if ok {
			add(p.Name, p.Name, at, -1)
		}
	}
	for i := range s.l.Loads {
		d := &s.l.Loads[i]
		if d.Kind != question.Couple {
			add(plainName("", d.Name), d.Name, d.At, d.On)
		}
	}
	for i := range s.l.Bodies {
		b := &s.l.Bodies[i]
		label := plainName(b.Label, b.Name)
		if b.Shape == question.Bar {
			left, right := "the left end of the ", "the right end of the "
			if b.Axis.Y > 0.5 {
				left, right = "the foot of the ", "the top of the "
			}
			add(left+label, "", b.At(0), i)
			add(right+label, "", b.At(b.Length), i)
			add("the middle of the "+label, "", b.At(b.Length/2), i)
		}
		add("the centre of mass of the "+label, "", b.Centre, i)
	}
	// Where the lines of two supports' forces cross.
	n := len(s.cols)
	for i := range n {
		for j := range i {
			a, b := &s.cols[j], &s.cols[i]
			if a.kind < reactionOf || b.kind < reactionOf || !a.isForce() || !b.isForce() || a.on != b.on || a.name == b.name {
				continue
			}
			det := a.way.X*b.way.Y - a.way.Y*b.way.X
			if math.Abs(det) < 1e-6 {
				continue
			}
			t := ((b.at.X-a.at.X)*b.way.Y - (b.at.Y-a.at.Y)*b.way.X) / det
			add("the point where the lines of "+a.words+" and "+b.words+" cross", "", statics.Vec{X: a.at.X + t*a.way.X, Y: a.at.Y + t*a.way.Y}, a.on)
		}
	}
}

// findLengths lists the lengths and the sines and cosines that can stand in working without being rounded.
func (s *scene) findLengths() {
	note := func(v float64) {
		v = math.Abs(v)
		if v > 1e-9 && !math.IsNaN(v) {
			s.lengths = append(s.lengths, v)
		}
	}
	for i := range s.points {
		for j := range i {
			a, b := s.points[i].at, s.points[j].at
			note(a.X - b.X)
			note(a.Y - b.Y)
			note(math.Hypot(a.X-b.X, a.Y-b.Y))
		}
	}
	for i := range s.l.Bodies {
		b := &s.l.Bodies[i]
		note(b.Length)
		note(b.Height)
		if b.ZeroRight {
			for _, p := range s.points {
				if p.body == i {
					note(b.FromZero(b.Distance(p.at)))
				}
			}
		}
	}
	for _, a := range s.angles() {
		s.degrees = append(s.degrees, a.value)
		sin, cos := math.Sincos(a.value * math.Pi / 180)
		for _, v := range []float64{math.Abs(sin), math.Abs(cos), math.Abs(sin / cos), math.Abs(cos / sin)} {
			if v > 1e-6 && v < 1e6 {
				s.trigs = append(s.trigs, v)
			}
		}
	}
	q := s.l.Question
	say := func(list ...*question.Value) {
		for _, v := range list {
			if v.Known() {
				s.given = append(s.given, math.Abs(v.SI()), math.Abs(v.Quantity.Value))
			}
		}
	}
	for i := range q.Bodies {
		say(&q.Bodies[i].Weight, &q.Bodies[i].Mass)
	}
	for i := range q.Loads {
		say(&q.Loads[i].Weight, &q.Loads[i].Mass, &q.Loads[i].Size)
	}
	for i := range q.Supports {
		say(&q.Supports[i].Mu, &q.Supports[i].Reading)
	}
	slices.Sort(s.lengths)
	s.lengths = slices.Compact(s.lengths)
}

// An angle is one that the arrangement has, in degrees.
type angle struct {
	value float64
	words string
	of    string
	known bool
}

// angles lists the angles of bodies, slopes and slanting forces to the level.
func (s *scene) angles() []angle {
	var list []angle
	add := func(v float64, words, of string, known bool) {
		v = math.Mod(math.Abs(v), 180)
		if v > 90 {
			v = 180 - v
		}
		if v > 0.01 && v < 89.99 {
			list = append(list, angle{v, words, of, known})
		}
	}
	for i := range s.l.Bodies {
		b := &s.l.Bodies[i]
		add(math.Atan2(b.Axis.Y, b.Axis.X)*180/math.Pi, "the angle of the "+plainName(b.Label, b.Name), b.Name, b.Body.Angle.Status != question.Unknown)
	}
	for i := range s.l.Supports {
		p := &s.l.Supports[i]
		if p.Normal != (statics.Vec{}) {
			a := math.Atan2(p.Normal.Y, p.Normal.X) * 180 / math.Pi
			if p.Kind == question.Slope {
				a -= 90
			}
			add(a, "the angle of "+p.Name, p.Name, true)
			if b := &s.l.Bodies[p.On]; b.Axis.Y != 0 {
				add(a-math.Atan2(b.Axis.Y, b.Axis.X)*180/math.Pi, "the angle of "+p.Name+" to the "+plainName(b.Label, b.Name), p.Name, true)
			}
		}
	}
	for i := range s.l.Loads {
		if d := &s.l.Loads[i]; d.Kind == question.Force {
			add(math.Atan2(d.Unit.Y, d.Unit.X)*180/math.Pi, "the angle of "+d.Name, d.Name, true)
		}
	}
	// The direction of a hinge's force, and of a rough contact's.
	for i := range s.l.Supports {
		name := s.l.Supports[i].Name
		x, y := s.column(acrossOf, name), s.column(uprightOf, name)
		if x < 0 {
			x, y = s.column(frictionOf, name), s.column(normalOf, name)
		}
		if x >= 0 && y >= 0 && s.fixed {
			add(math.Atan2(s.cols[y].value, s.cols[x].value)*180/math.Pi, "the direction of the force at "+name, name, false)
		}
	}
	return list
}

// find is the point that words or a name mean; false if none.
func (s *scene) find(words string) (point, bool) {
	w := strings.ToLower(strings.TrimSpace(words))
	w = strings.TrimPrefix(strings.TrimPrefix(w, "the "), "point ")
	for _, p := range s.points {
		if p.key != "" && (p.key == words || strings.EqualFold(p.key, w)) {
			return p, true
		}
	}
	for _, p := range s.points {
		n := strings.ToLower(strings.TrimPrefix(p.name, "the "))
		if n == w || strings.HasPrefix(n, w+" of ") {
			return p, true
		}
	}
	for i := range s.l.Supports {
		p := &s.l.Supports[i]
		if p.Label != "" && strings.Contains(w, strings.ToLower(p.Label)) || w == kindWords[p.Kind] {
			return point{p.Name, p.At, p.On, p.Name}, true
		}
	}
	return point{}, false
}

// kindWords are what pupils call a support that has no other name.
var kindWords = map[question.Kind]string{
	question.Pivot: "pivot", question.Hinge: "hinge", question.Clamp: "clamp", question.Floor: "floor", question.Wall: "wall",
}
