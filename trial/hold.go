package trial

import (
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/question"
	"steelyard/statics"
)

// A hold is a direction in which a body is held at a point; no direction where it is held against turning.
type hold struct {
	at, way statics.Vec
	leaves  bool // it only pushes, or only pulls
}

// holds are what goes on holding body i while it moves; by tells whether another body that moves is among what holds it.
func (s *start) holds(l *answer.Layout, i int) (list []hold, by bool) {
	for k := range l.System.Joints {
		j := &l.System.Joints[k]
		if j.On != i && j.By != i {
			continue
		}
		for _, b := range []int{j.On, j.By} {
			by = by || b >= 0 && b != i && s.Velocity[b] != statics.Velocity{} && !slices.Contains(s.Opens, k)
		}
		n, t := j.Normal, statics.Vec{X: j.Normal.Y, Y: -j.Normal.X}
		if j.By == i {
			n = statics.Vec{X: -n.X, Y: -n.Y}
		}
		switch j.Kind {
		case statics.Hinge, statics.Clamp:
			list = append(list, hold{j.At, statics.Vec{X: 1}, false}, hold{j.At, statics.Vec{Y: 1}, false})
			if j.Kind == statics.Clamp {
				list = append(list, hold{j.At, statics.Vec{}, false})
			}
		case statics.Couple:
			list = append(list, hold{j.At, statics.Vec{}, false})
		case statics.Rod:
			list = append(list, hold{j.At, n, false})
		default:
			ends := []statics.Vec{j.At}
			if j.Kind == statics.Face {
				ends = append(ends, j.To)
			}
			if slices.Contains(s.Opens, k) {
				if j.Kind != statics.Face {
					continue
				}
				ends = slices.DeleteFunc(ends, func(at statics.Vec) bool { return s.lifts(l, j, at) })
			}
			for _, at := range ends {
				list = append(list, hold{at, n, true})
			}
			if len(ends) > 0 && (j.Mu > 0 || math.IsNaN(j.Mu)) {
				list = append(list, hold{ends[0], t, true})
			}
		}
	}
	return list, by
}

// A mass is how a body and the weights on it are spread, as though the body were even along its length and the weights
// were points. With weights in place of masses, accelerations come out in units of g.
type mass struct {
	weight float64     // N
	centre statics.Vec // m
	second float64     // N m², the second moment about the centre
	others bool        // forces or couples act that are not weights
}

// massOf is the mass of body i. One without any weight counts as 1 N, so that forces can drive it.
func massOf(l *answer.Layout, i int) mass {
	b := &l.Bodies[i]
	middle := b.Centre
	if math.IsNaN(middle.X + middle.Y) {
		middle = b.At(b.Length / 2)
	}
	size := b.Length*b.Length + b.Height*b.Height
	if size == 0 {
		size = span(l) * span(l)
	}
	type point struct {
		at     statics.Vec
		weight float64
	}
	var points []point
	var m mass
	add := func(at statics.Vec, w float64) {
		if !math.IsNaN(at.X+at.Y+w) && w > 0 {
			points = append(points, point{at, w})
			m.weight += w
			m.centre.X += w * at.X
			m.centre.Y += w * at.Y
		}
	}
	add(middle, b.Weight)
	for k := range l.Loads {
		d := &l.Loads[k]
		if d.On != i {
			continue
		}
		if d.Kind == question.Weight || d.Kind == question.Spread {
			add(d.At, -d.Force.Y)
		} else {
			m.others = true
		}
	}
	if m.weight == 0 {
		return mass{1, middle, size / 12, m.others}
	}
	m.centre.X /= m.weight
	m.centre.Y /= m.weight
	for _, p := range points {
		m.second += p.weight * apart(p.at, m.centre) * apart(p.at, m.centre)
	}
	m.second += max(b.Weight, 0) * size / 12
	return m
}

// accelerates is how a body that nothing holds speeds up: its centre, and its turning in radians, anticlockwise positive.
func (m *mass) accelerates(l *answer.Layout, i int) (a statics.Vec, alpha float64) {
	var f statics.Vec
	turn := 0.0
	for _, d := range l.System.Loads {
		if d.On == i {
			f = statics.Vec{X: f.X + d.Force.X, Y: f.Y + d.Force.Y}
			turn += d.Couple + statics.Moment(m.centre, d.At, d.Force)
		}
	}
	return statics.Vec{X: f.X / m.weight, Y: f.Y / m.weight}, m.spin(turn)
}

// spin is the angular acceleration that a moment about the centre gives; none to a point.
func (m *mass) spin(moment float64) float64 {
	if m.second > 0 {
		return moment / m.second
	}
	return 0
}

// held is what becomes of accelerations where one hold forbids a direction: the hold gives just the push that is needed,
// or none where the body leaves it.
func (m *mass) held(h hold, a statics.Vec, alpha float64) (statics.Vec, float64) {
	arm := statics.Moment(m.centre, h.at, h.way)
	into := a.X*h.way.X + a.Y*h.way.Y + alpha*arm
	if into >= 0 && h.leaves {
		return a, alpha
	}
	push := -into / (1/m.weight + m.spin(arm*arm))
	return statics.Vec{X: a.X + push*h.way.X/m.weight, Y: a.Y + push*h.way.Y/m.weight}, alpha + m.spin(push*arm)
}

// free lets a body that one contact or cable holds, or none, go where the forces drive it, by Gauss's principle.
//
// Source: the equations of plane motion, OpenStax University Physics vol. 1, §10.7 (from memory).
func (s *start) free(l *answer.Layout, i int) {
	list, by := s.holds(l, i)
	v := s.Velocity[i]
	if v == (statics.Velocity{}) || by || len(list) > 1 || len(list) == 1 && (turns(l, v) || list[0].way == statics.Vec{}) {
		return
	}
	m := massOf(l, i)
	a, alpha := m.accelerates(l, i)
	if len(list) == 1 {
		a, alpha = m.held(list[0], a, alpha)
	}
	if !turns(l, statics.Velocity{X: a.X, Y: a.Y, Turn: alpha}) {
		alpha = 0
	}
	size := math.Abs(alpha)
	if size == 0 {
		size = math.Hypot(a.X, a.Y)
	}
	if !(size > 0) || math.IsInf(size, 0) {
		return
	}
	moved := *s.Motion
	moved.Velocity = slices.Clone(moved.Velocity)
	moved.Velocity[i] = statics.Velocity{X: clean((a.X + alpha*m.centre.Y) / size), Y: clean((a.Y - alpha*m.centre.X) / size), Turn: alpha / size}
	moved.Opens, moved.Slides = parting(l, moved.Velocity)
	s.Motion, s.loose[i] = &moved, alpha != 0
}

// turns says whether a body turns, and does not only shift but for roundings.
func turns(l *answer.Layout, v statics.Velocity) bool {
	return math.Abs(v.Turn)*span(l) > dust*math.Hypot(v.X, v.Y)
}

// clean takes dust for nought.
func clean(v float64) float64 {
	if math.Abs(v) < 1e-12 {
		return 0
	}
	return v
}

// lifts says whether a contact parts at a point.
func (s *start) lifts(l *answer.Layout, j *statics.Joint, at statics.Vec) bool {
	u := relative(s.Velocity, j, at)
	return u.X*j.Normal.X+u.Y*j.Normal.Y > dust*span(l)
}
