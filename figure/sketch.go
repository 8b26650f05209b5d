package figure

import (
	"math"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/question"
)

// sketch paints what the pupil is given.
func (s *scene) sketch() {
	for i := range s.l.Loads { // what is spread lies nearest to the body
		if d := &s.l.Loads[i]; d.Load != nil && d.Kind == question.Spread {
			s.load(i)
		}
	}
	for i := range s.l.Loads {
		if d := &s.l.Loads[i]; d.Load != nil && d.Kind == question.Weight {
			s.load(i)
		}
	}
	for i := range s.l.Loads {
		if d := &s.l.Loads[i]; d.Load != nil && d.Kind != question.Spread && d.Kind != question.Weight {
			s.load(i)
		}
	}
	for i := range s.l.Supports {
		if s.l.Supports[i].Support != nil && s.l.Supports[i].On >= 0 {
			s.support(i)
		}
	}
	s.paintSurfaces()
	for i := range s.l.Bodies {
		s.body(i)
		s.centreOfMass(i)
		s.bodyAngle(i)
	}
	s.points()
	named := make([]bool, len(s.l.Bodies))
	for i := range s.l.Bodies { // beside a slanting bar there is no room once its lengths are given
		if named[i] = s.slanting(i) || s.stacked(i); named[i] {
			s.bodyLabels(i)
			drawn := len(s.strokes)
			if !s.o.HideDistances { // leave way for their extension lines
				a, n := axes(&s.l.Bodies[i])
				o := s.on(i, s.l.Bodies[i].Origin)
				for _, p := range s.alongSpans(i) {
					for _, u := range []float64{p.from, p.to} {
						s.keepOff(light, false, along(along(o, a, u), n, 9*s.size), along(along(o, a, u), n, -9*s.size))
					}
				}
			}
			s.placeFirst(&s.labels[len(s.labels)-1])
			s.strokes = s.strokes[:drawn]
		}
	}
	if !s.o.HideDistances {
		for i := range s.l.Bodies {
			s.bodyDistances(i)
		}
		s.farDistances()
	}
	for i := range s.l.Bodies {
		if !named[i] {
			s.bodyLabels(i)
		}
	}
}

// stacked reports whether a bar's name and its lengths will be on the same side, so that the name comes first.
func (s *scene) stacked(i int) bool {
	b := &s.l.Bodies[i]
	if b.Shape != question.Bar || s.o.HideDistances || isRule(b) {
		return false
	}
	spans := s.alongSpans(i)
	if len(spans) == 0 {
		return false
	}
	for k := range s.l.Supports { // on another bar, whose own lengths are below
		if u := &s.l.Supports[k]; u.Support != nil && u.On == i && u.By >= 0 && (u.Kind == question.Rest || u.Kind == question.Roller) {
			return true
		}
	}
	a, n := axes(b)
	return n.Y < 0 && s.above(s.on(i, b.Origin), a, n, 0, spans)
}

// slanting reports whether a body is a bar too steep for its name to stand along it.
func (s *scene) slanting(i int) bool {
	b := &s.l.Bodies[i]
	return s.crowding == 0 && b.Shape == question.Bar && math.Abs(b.Axis.Y) > 0.3
}

// bodyAngle marks the angle of a slanting body with the level.
func (s *scene) bodyAngle(i int) {
	b := &s.l.Bodies[i]
	if b.Body.Angle.Status == question.Absent || math.Abs(b.Axis.Y) < 0.02 || b.Shape == question.Frame && !b.Body.Angle.Known() {
		return
	}
	a, _ := axes(b)
	o := s.on(i, b.Origin)
	level := pt{X: 1} // from which the angle is counted
	text := shown(b.Body.Angle)
	for k := range s.l.Supports {
		u := &s.l.Supports[k]
		if u.On == i && u.Kind == question.Floor && !u.HasFar {
			if p := s.on(i, u.At); norm(sub(p, o)) < 2 {
				// The floor is the level line.
				o = along(p, pt{Y: 1}, s.skin(i, pt{Y: -1}))
				s.angle("angle-"+slug(b.Name), o, level, a, text)
				return
			}
		}
		if u.On == i && u.Kind == question.Slope && u.HasFar {
			return // the slope carries its own angle
		}
	}
	s.begin(measures, "", "level", "")
	s.dashed(draw.Grey, s.fine, light, o, along(o, level, 4.4*s.size))
	s.end()
	s.angle("angle-"+slug(b.Name), o, level, a, text)
}

// farDistances gives the place of the fixed ends of cables, struts and links from the body's origin, and
// that of bodies which nothing joins from each other.
func (s *scene) farDistances() {
	type given struct {
		from, to pt
		upright  bool
	}
	var all []given
	give := func(from, to pt, upright bool, side pt, text string) {
		for _, g := range all {
			if g.upright == upright && norm(sub(g.from, from)) < 0.5 && norm(sub(g.to, to)) < 0.5 {
				return // two cables to one point
			}
		}
		all = append(all, given{from, to, upright})
		a, d := pt{X: 1}, to.X-from.X
		if upright {
			a, d = pt{Y: -1}, from.Y-to.Y
		}
		s.distances(from, a, side, []span{{min(0, d), max(0, d), text}})
	}
	for i := range s.l.Supports {
		u := &s.l.Supports[i]
		if u.Support == nil || u.To == nil || u.On < 0 {
			continue
		}
		o := s.l.Bodies[u.On].Origin
		dx, dy := u.Far.X-o.X, u.Far.Y-o.Y
		p, q := add(s.at(o), s.lift[u.On]), add(s.at(u.Far), s.lift[u.On])
		side := -1.0
		if q.X > p.X+0.5*s.l.Bodies[u.On].Length*s.scale {
			side = 1
		}
		if level := math.Abs(u.At.Y-u.Far.Y) < 1e-9; math.Abs(dy) > 1e-9 && !level {
			give(p, q, true, pt{X: side}, offset(s.l, u.To.Y, dy))
		}
		if math.Abs(dx) > 1e-9 {
			give(p, q, false, pt{Y: -math.Copysign(1, dy)}, offset(s.l, u.To.X, dx))
		}
	}
	for _, i := range apart(s.l) {
		o, at, typed := s.l.Bodies[0].Origin, s.l.Bodies[i].Origin, s.l.Bodies[i].Body.At
		p, q := s.on(0, o), s.on(i, at)
		if dy := at.Y - o.Y; math.Abs(dy) > 1e-9 {
			give(p, q, true, pt{X: -1}, offset(s.l, typed.Y, dy))
		}
		if dx := at.X - o.X; math.Abs(dx) > 1e-9 {
			give(p, q, false, pt{Y: 1}, offset(s.l, typed.X, dx))
		}
	}
}

// apart lists the bodies after the first that are placed in the plane and that no hinge or contact joins to another, so
// that only their places say where they are.
func apart(l *answer.Layout) []int {
	var out []int
	for i := range l.Bodies {
		if i == 0 || l.Bodies[i].Body == nil || l.Bodies[i].Body.At == nil {
			continue
		}
		joined := false
		for k := range l.Supports {
			u := &l.Supports[k]
			if u.Support == nil || u.By < 0 || u.On != i && u.By != i {
				continue
			}
			switch u.Kind {
			case question.Cable, question.Strut, question.Link:
			default:
				joined = true
			}
		}
		if !joined {
			out = append(out, i)
		}
	}
	return out
}
