package figure

import (
	"slices"

	"steelyard/draw"
)

// A Stage shows a diagram of forces in part, as it is explained. What isn't shown yet keeps its room, so that the
// picture holds still from one stage to the next.
type Stage struct {
	Arrows  bool    // the forces are there
	Pivot   bool    // so is the pivot: forces through it are set back
	Lit     []Arrow // these stand out: the others are set back, pale and thin. None sets nothing back
	Arms    []Arrow // these have their line of action, perpendicular distance and sense
	Unsized []Arrow // these carry their symbols only
	Taken   []Arrow // these point the way they are taken to act, against the way they will be found to
	Calls   []Call  // distances that are not known yet
}

// A Call is the letter that stands for the distance of a force while it is unknown.
type Call struct {
	Arrow       Arrow
	Letter, Sub string
}

// An Arrow names a force of a diagram: by the support, load or body, and the letter of its symbol.
type Arrow struct{ Name, Letter string }

// A veil says how much of a group is seen.
type veil uint8

const (
	bare   veil = iota
	pale        // set back
	hidden      // keeps its room only
)

func (f *force) among(list []Arrow) bool { return slices.Contains(list, Arrow{f.thing, f.letter}) }

// arrowVeil is that of a force's arrow and name.
func (s *scene) arrowVeil(f *force) veil {
	switch st := s.o.Stage; {
	case st == nil:
		return bare
	case !st.Arrows:
		return hidden
	case len(st.Lit) > 0 && !f.among(st.Lit):
		return pale
	}
	return bare
}

// armVeil is that of a force's line of action and distance.
func (s *scene) armVeil(f *force) veil {
	switch st := s.o.Stage; {
	case st == nil:
		return bare
	case !f.among(st.Arms):
		return hidden
	case len(st.Lit) > 0 && !f.among(st.Lit):
		return pale
	}
	return bare
}

// pivotVeil is that of the pivot's mark.
func (s *scene) pivotVeil() veil {
	if s.o.Stage != nil && !s.o.Stage.Pivot {
		return hidden
	}
	return bare
}

// upright line through the pivot from which distances are counted.
func (s *scene) baseVeil(forces []*force) veil {
	for _, f := range forces {
		if s.armVeil(f) != hidden {
			return bare
		}
	}
	return hidden
}

// armNow is what is written for a force's distance for now, given its text in the end.
func (s *scene) armNow(f *force, text [][]draw.Run) [][]draw.Run {
	if s.o.Stage != nil {
		for _, c := range s.o.Stage.Calls {
			if c.Arrow == (Arrow{f.thing, f.letter}) {
				return [][]draw.Run{s.symbolRuns(c.Letter, c.Sub)}
			}
		}
	}
	return text
}

// take turns a force round for as long as it is taken to act the other way.
func (f *force) take(st *Stage) {
	if st != nil && f.among(st.Taken) {
		f.dir, f.couple = mul(-1, f.dir), -f.couple
	}
}

// unsized reports whether a force carries its symbol only, for now.
func (s *scene) unsized(f *force) bool { return s.o.Stage != nil && f.among(s.o.Stage.Unsized) }

// setBack reports whether a force through the pivot is drawn pale.
func (s *scene) setBack(f *force) bool {
	return s.throughPivot(f) && (s.o.Stage == nil || s.o.Stage.Pivot)
}

// veiled is a group's marks as far as they are seen.
func veiled(marks []draw.Mark, v veil) []draw.Mark {
	switch v {
	case hidden:
		return nil
	case pale:
		for i, m := range marks {
			switch m := m.(type) {
			case draw.Line:
				m.Style = paler(m.Style)
				marks[i] = m
			case draw.Arc:
				m.Style = paler(m.Style)
				marks[i] = m
			case draw.Text:
				m.Ink = draw.Grey
				marks[i] = m
			}
		}
	}
	return marks
}

// paler is a style set back by less ink and a thinner line; what is seen by its fill keeps its size.
func paler(s draw.Style) draw.Style {
	s.Width *= 0.6
	if s.Stroke != draw.None && s.Stroke != draw.Paper {
		s.Stroke = draw.Faint
	}
	if s.Fill == draw.Black || s.Fill == draw.Deep || s.Fill == draw.Second || s.Fill == draw.Grey {
		s.Fill = draw.Faint
	}
	return s
}
