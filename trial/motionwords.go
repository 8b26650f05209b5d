package trial

import (
	"math"
	"slices"
	"strings"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// words say how the bodies start to move: "The plank turns clockwise about Q."
func (s *start) words(l *answer.Layout) string {
	var list []string
	for _, mv := range answer.Moves(l, s.Motion) {
		i := l.BodyIndex(mv.Body)
		name := called(l, i)
		switch {
		case mv.Turns && s.loose[i]:
			centre := massOf(l, i).centre
			v := s.Velocity[i].At(centre)
			if math.Hypot(v.X, v.Y) < dust*span(l) {
				list = append(list, name+" turns "+mv.Sense+" about its centre of mass")
			} else {
				list = append(list, name+" "+s.heads(l, i, v)+", turning "+mv.Sense+" as it goes")
			}
		case mv.Turns && mv.About != "":
			list = append(list, name+" turns "+mv.Sense+" about "+mv.About)
		case mv.Turns:
			list = append(list, name+" turns "+mv.Sense+" about "+pointWords(l, i, mv.Pivot))
		default:
			list = append(list, name+" "+s.heads(l, i, mv.Heads))
		}
	}
	if len(list) == 0 {
		return "It moves."
	}
	return capital(strings.Join(list, " and ")) + "."
}

// heads is a verb and a direction.
func (s *start) heads(l *answer.Layout, i int, v statics.Vec) string {
	size := math.Hypot(v.X, v.Y)
	list, _ := s.holds(l, i)
	switch {
	case math.Abs(v.X) < dust*size && v.Y < 0:
		return "falls"
	case math.Abs(v.X) < dust*size:
		return "rises"
	}
	verb := "moves off "
	if len(list) > 0 {
		switch {
		case s.byPull(l, i, list[0]):
			verb = "swings "
		case list[0].leaves:
			verb = "slides "
		default: // a hinge goes with it
			verb = "moves "
		}
		if s.loose[i] { // the angle depends on how the mass is spread
			way := "down to the "
			if v.Y > 0 {
				way = "up to the "
			}
			if v.X > 0 {
				return verb + way + "right"
			}
			return verb + way + "left"
		}
	}
	return verb + strings.TrimPrefix(answer.Direction(v.X, v.Y, 3), "at ")
}

// byPull says whether what holds a body is a cable.
func (s *start) byPull(l *answer.Layout, i int, h hold) bool {
	return slices.ContainsFunc(l.System.Joints, func(j statics.Joint) bool {
		return (j.Kind == statics.Pull || j.Kind == statics.Rod) && (j.On == i || j.By == i) && j.At == h.at
	})
}

// pointWords is where a point is that has no name of the body's own: a support of another body, or, from a support of
// the body, "the point 3.60 m above F".
func pointWords(l *answer.Layout, i int, p statics.Vec) string {
	from, at := "the left end of "+called(l, i), l.Bodies[i].At(0)
	best := math.Inf(1)
	near := 1e-6 * span(l)
	for k := range l.Supports {
		switch s := &l.Supports[k]; {
		case apart(s.At, p) <= near:
			return s.Name
		case s.HasFar && apart(s.Far, p) <= near && (s.Kind == question.Link || s.Kind == question.Cable || s.Kind == question.Strut):
			return "the other end of " + s.Name
		}
	}
	for k := range l.Supports {
		s := &l.Supports[k]
		if s.On != i && s.By != i {
			continue
		}
		far := apart(s.At, p)
		if math.Abs(s.At.X-p.X) > near && math.Abs(s.At.Y-p.Y) > near {
			far += 1e6 * span(l) // straight above or beside it is easier to find
		}
		if far < best {
			best, from, at = far, s.Name, s.At
		}
	}
	metre := quantity.SIUnit(quantity.Length)
	part := func(v float64, positive, negative string) string {
		if math.Abs(v) <= near {
			return ""
		}
		if v < 0 {
			positive = negative
		}
		return Written(math.Abs(v), metre) + " " + positive
	}
	across, up := part(p.X-at.X, "to the right of", "to the left of"), part(p.Y-at.Y, "above", "below")
	switch {
	case across == "" && up == "":
		return from
	case across == "":
		return "the point " + up + " " + from
	case up == "":
		return "the point " + across + " " + from
	}
	return "the point " + across + " " + from + " and " + up + " it"
}
