package mark

import (
	"math"
)

// gCancels is why an equation of masses counts as one of weights.
const gCancels = "masses stand for weights: every term is a weight in the same field, so g cancels"

// inMasses reports whether every force of a right line is a weight written as a mass, with g nowhere in it.
func (w *working) inMasses(s *scene) bool {
	masses, g := 0, s.l.Field
	for i := range w.c.leaves {
		lf := &w.c.leaves[i]
		switch {
		case lf.col < 0 && near(lf.value, g) && (lf.name >= 0 || !lf.exact || !s.isLength(g)):
			return false
		case lf.col < 0 || !s.cols[lf.col].isForce():
		case s.cols[lf.col].kind != weightOf || lf.col2 >= 0:
			return false
		case powerOfTen(lf.per * g):
			masses++
		default:
			return false
		}
	}
	return masses > 1
}

// powerOfTen reports whether v is one of the factors between kilograms, grams and tonnes.
func powerOfTen(v float64) bool {
	v = math.Abs(v)
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return false
	}
	return math.Abs(v/math.Pow10(int(math.Round(math.Log10(v))))-1) < 1e-9
}
