package trial

import (
	"fmt"
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/statics"
)

// doubts says what statics leaves open of a motion.
func (s *start) doubts(l *answer.Layout) {
	say := func(format string, v ...any) {
		if text := fmt.Sprintf(format, v...); !slices.Contains(s.open, text) {
			s.open = append(s.open, text)
		}
	}
	moving := 0
	for i := range l.Bodies {
		v := s.Velocity[i]
		if v == (statics.Velocity{}) {
			continue
		}
		moving++
		name, m := capital(called(l, i)), massOf(l, i)
		list, by := s.holds(l, i)
		turns := turns(l, v)
		clings := s.clings(l, i, say)
		switch {
		case s.loose[i]:
			say("How fast it turns as it goes depends on how its mass is spread; it is drawn as though that were even.")
		case turns && len(list) == 1 && !clings && (m.others || math.Abs(list[0].way.X) > dust):
			say("About which point it turns at the very first depends on how its mass is spread; this is the simplest.")
		case !turns && by && len(list) < 3:
			say("Whether %s turns as well depends on how its mass is spread.", called(l, i))
		case !turns && s.onFace(l, i, m.others):
			say("%s may tip as it slides, if what drives it or holds it back acts far from its centre of mass.", name)
		}
	}
	s.leaning(l, say)
	if moving > 1 {
		say("How fast each of them goes, statics does not tell.")
	}
}

// leaning tells of bodies at rest that would not be without what moves.
func (s *start) leaning(l *answer.Layout, say func(string, ...any)) {
	still := func(b int) bool { return b < 0 || s.Velocity[b] == statics.Velocity{} }
	for i := range l.Bodies {
		if !still(i) {
			continue
		}
		without, lost := l.System, false
		without.Joints = slices.DeleteFunc(slices.Clone(l.System.Joints), func(j statics.Joint) bool {
			gone := (j.On == i || j.By == i) && !(still(j.On) && still(j.By))
			lost = lost || gone
			return gone
		})
		if !lost {
			continue
		}
		if _, moves := alone(&without, i); moves {
			say("%s leans on what moves, so it may go too; how, statics alone does not tell.", capital(called(l, i)))
		}
	}
}

// clings reports whether a body stays on a rough surface as it moves, without sliding there, and says what is not known then.
func (s *start) clings(l *answer.Layout, i int, say func(string, ...any)) (any bool) {
	for k := range l.Supports {
		p := &l.Supports[k]
		mu := l.System.Joints[p.Joint].Mu
		if p.On != i && p.By != i || !(mu > 0) && !math.IsNaN(mu) || slices.Contains(s.Slides, p.Joint) || slices.Contains(s.Opens, p.Joint) && !s.halfOpen(l, p.Joint) {
			continue
		}
		any = true
		if math.IsInf(mu, 1) {
			say("%s is taken to be rough enough not to slip.", p.Name)
			continue
		}
		say("Whether %s slips as well depends on the friction there and on how the mass is spread. If it does, %s still turns the same way, but about another point.", p.Name, called(l, i))
	}
	return any
}

// halfOpen says whether a face is lifted at one end only.
func (s *start) halfOpen(l *answer.Layout, k int) bool {
	j := &l.System.Joints[k]
	if j.Kind != statics.Face {
		return false
	}
	return s.lifts(l, j, j.At) != s.lifts(l, j, j.To)
}

// onFace says whether a body slides on a face that is rough, or pushed by more than weights.
func (s *start) onFace(l *answer.Layout, i int, pushed bool) bool {
	for k := range l.System.Joints {
		if j := &l.System.Joints[k]; j.Kind == statics.Face && (j.On == i || j.By == i) && (pushed || j.Mu > 0) && !slices.Contains(s.Opens, k) {
			return true
		}
	}
	return false
}
