package trial

import (
	"math"

	"steelyard/answer"
	"steelyard/statics"
)

// The engine names the simplest motion that nothing prevents. That is what happens wherever one way alone is left, as
// about a hinge. Two things it leaves out, for which statics needs no more than it is given:
//
//   - A body that can move with all others held does move, whatever the engine's proof says of the others: the sum of
//     motions that no contact forbids is one that none forbids.
//   - A body that a single contact or cable holds, or none, goes where the forces on it drive its centre of mass. Which
//     way it turns follows too, in all but rare cases; how fast would need to be known how its mass is spread.
//
// What else depends on more than statics is told, in a sentence each, instead of being claimed.

// A start is how bodies start to move, and what of that statics does not settle.
type start struct {
	*statics.Motion
	loose []bool // of each body: drawn as though its mass were spread evenly
	open  []string
}

// begin refines the engine's motion.
func begin(l *answer.Layout, m *statics.Motion) *start {
	s := &start{Motion: m, loose: make([]bool, len(l.Bodies))}
	if m == nil || len(l.System.Unknowns) > 0 { // with a force that is not known there is nothing to add
		return s
	}
	s.Motion = together(l, m)
	for i := range l.Bodies {
		s.free(l, i)
	}
	s.doubts(l)
	return s
}

// together adds up how each body moves with all others held, where the engine's motion leaves one of these out.
func together(l *answer.Layout, m *statics.Motion) *statics.Motion {
	if len(l.Bodies) < 2 {
		return m
	}
	sum := &statics.Motion{Velocity: make([]statics.Velocity, len(l.Bodies))}
	missing := false
	for i := range l.Bodies {
		v, moves := alone(&l.System, i)
		if !moves {
			continue
		}
		sum.Velocity[i] = v
		w := m.Velocity[i]
		missing = missing || w == (statics.Velocity{}) || v.Turn*w.Turn < 0
	}
	if !missing {
		return m
	}
	sum.Opens, sum.Slides = parting(l, sum.Velocity)
	return sum
}

// alone is how body i moves if all the others are held where they are.
func alone(s *statics.System, i int) (statics.Velocity, bool) {
	t := statics.System{Bodies: 1}
	if i < len(s.Centres) {
		t.Centres = s.Centres[i : i+1]
	}
	for _, d := range s.Loads {
		if d.On == i {
			d.On = 0
			t.Loads = append(t.Loads, d)
		}
	}
	for _, j := range s.Joints {
		switch {
		case j.On == i:
			j.On, j.By = 0, statics.Ground
		case j.By == i:
			j.On, j.By, j.Normal = 0, statics.Ground, statics.Vec{X: -j.Normal.X, Y: -j.Normal.Y}
		default:
			continue
		}
		t.Joints = append(t.Joints, j)
	}
	sol, err := statics.Solve(&t)
	if err != nil || sol.Motion == nil {
		return statics.Velocity{}, false
	}
	return sol.Motion.Velocity[0], true
}

// relative is how fast a point of a joint moves on its body, against the other body.
func relative(v []statics.Velocity, j *statics.Joint, at statics.Vec) statics.Vec {
	var u statics.Vec
	if j.On >= 0 {
		u = v[j.On].At(at)
	}
	if j.By >= 0 {
		w := v[j.By].At(at)
		u = statics.Vec{X: u.X - w.X, Y: u.Y - w.Y}
	}
	return u
}

// dust is what counts as nothing, as a part of what it is held against.
const dust = 1e-7

// parting lists the contacts and cables that open in a motion, and the contacts that slide.
func parting(l *answer.Layout, v []statics.Velocity) (opens, slides []int) {
	limit := dust * span(l)
	for i := range l.System.Joints {
		j := &l.System.Joints[i]
		if j.Kind != statics.Contact && j.Kind != statics.Face && j.Kind != statics.Pull {
			continue
		}
		rate := func(at statics.Vec) float64 {
			u := relative(v, j, at)
			return u.X*j.Normal.X + u.Y*j.Normal.Y
		}
		one, two := rate(j.At) > limit, j.Kind == statics.Face && rate(j.To) > limit
		if one || two {
			opens = append(opens, i)
		}
		u := relative(v, j, j.At)
		if along := u.X*j.Normal.Y - u.Y*j.Normal.X; j.Kind != statics.Pull && !(one && (two || j.Kind == statics.Contact)) && math.Abs(along) > limit {
			slides = append(slides, i)
		}
	}
	return opens, slides
}
