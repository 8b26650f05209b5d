package figure

import "math"

// A surface is a wall, floor or ceiling: a straight line, solid on one side. Those in one line are
// painted as one.
type surface struct {
	id      string
	upright bool
	at      float64 // x of a wall, y of a floor or ceiling
	lo, hi  float64 // its reach along itself
	solid   float64 // 1: below or to the right; -1: above or to the left
	meets   bool    // a wall or floor that goes on until it meets another
}

func (s *scene) surface(f surface) {
	if finite(f.at) && finite(f.lo) && finite(f.hi) && math.Abs(f.at)+math.Abs(f.lo)+math.Abs(f.hi) < 1e7 {
		s.surfaces = append(s.surfaces, f)
	}
}

// paintSurfaces joins what is in line and paints it.
func (s *scene) paintSurfaces() {
	all := s.surfaces
	for again := true; again; {
		again = false
		for i := 0; i < len(all); i++ {
			for j := i + 1; j < len(all); j++ {
				if a, b := &all[i], &all[j]; s.inLine(a, b) {
					a.lo, a.hi, a.meets = min(a.lo, b.lo), max(a.hi, b.hi), a.meets || b.meets
					all = append(all[:j], all[j+1:]...)
					again = true
				}
			}
		}
	}
	for i := range all {
		for j := range all {
			wall, floor := &all[i], &all[j]
			if !wall.meets || !floor.meets || !wall.upright || floor.upright || floor.solid < 0 {
				continue
			}
			if floor.at < wall.lo || floor.at-wall.lo > 1.2*s.o.Width {
				continue
			}
			// Both go on to the corner, not beyond it on the open side.
			wall.hi = floor.at
			if wall.solid > 0 {
				floor.hi = wall.at
				floor.lo = min(floor.lo, wall.at-2*s.size)
			} else {
				floor.lo = wall.at
				floor.hi = max(floor.hi, wall.at+2*s.size)
			}
		}
	}
	for _, f := range all {
		s.begin(ground, f.id, "surface", "")
		if f.upright {
			s.hatch(pt{X: f.at, Y: f.lo}, pt{X: f.at, Y: f.hi}, pt{X: f.solid})
		} else {
			s.hatch(pt{X: f.lo, Y: f.at}, pt{X: f.hi, Y: f.at}, pt{Y: f.solid})
		}
		s.end()
	}
}

// inLine reports whether two surfaces are parts of one.
func (s *scene) inLine(a, b *surface) bool {
	if a.upright != b.upright || a.solid != b.solid || math.Abs(a.at-b.at) > 1.5 {
		return false
	}
	gap := max(a.lo, b.lo) - min(a.hi, b.hi)
	return a.upright && gap < 0.8*s.o.Width || gap < 2.5*s.size
}
