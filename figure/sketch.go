package figure

import (
	"math"

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
	for i := range s.l.Bodies { // beside a slanting bar there is no room once its lengths are given
		if s.slanting(i) || s.stacked(i) {
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
		if !s.slanting(i) && !s.stacked(i) {
			s.bodyLabels(i)
		}
	}
}

// stacked reports whether a bar lies on another: its name and its lengths are on the same side.
func (s *scene) stacked(i int) bool {
	if s.l.Bodies[i].Shape != question.Bar {
		return false
	}
	for k := range s.l.Supports {
		if u := &s.l.Supports[k]; u.Support != nil && u.On == i && u.By >= 0 && (u.Kind == question.Rest || u.Kind == question.Roller) {
			return true
		}
	}
	return false
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

// farDistances gives the place of the fixed ends of cables, struts and links from the body's origin.
func (s *scene) farDistances() {
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
			s.distances(p, pt{Y: -1}, pt{X: side}, []span{{min(0, dy) * s.scale, max(0, dy) * s.scale, offset(s.l, u.To.Y, dy)}})
		}
		if math.Abs(dx) > 1e-9 {
			s.distances(p, pt{X: 1}, pt{Y: -math.Copysign(1, dy)}, []span{{min(0, dx) * s.scale, max(0, dx) * s.scale, offset(s.l, u.To.X, dx)}})
		}
	}
}
