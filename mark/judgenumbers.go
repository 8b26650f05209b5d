package mark

import (
	"math"
	"slices"

	"steelyard/quantity"
)

// numbers finds what each typed number is in a scene: a force or a mass of the question, a length, or rounded.
func (w *working) numbers(s *scene, mode int) {
	for i := range w.c.leaves {
		lf := &w.c.leaves[i]
		if lf.name >= 0 {
			continue
		}
		q := &lf.e.Quantity
		v := si(q)
		if mode == unitless {
			v = q.Value
		}
		lf.value, lf.typed, lf.col, lf.col2, lf.per, lf.slack, lf.exact, lf.own = v, v, -1, -1, 0, 0, false, false
		if lf.exponent || v == 0 || q.Figures == 0 {
			lf.exact = true
			continue
		}
		s.recognise(lf, q, v, mode != literal)
	}
}

// recognise finds what a number is.
func (s *scene) recognise(lf *leaf, q *quantity.Quantity, v float64, found bool) {
	none := q.Unit == quantity.Unit{}
	d := q.Unit.Dimension
	size := math.Abs(v)
	if d == quantity.Angle {
		for _, a := range s.degrees {
			if math.Abs(a-size) < 1e-9 || math.Abs(90-a-size) < 1e-9 {
				lf.exact = true
				return
			}
		}
	}
	if none || d == quantity.Length {
		for _, x := range s.lengths {
			if x == size || math.Abs(x-size) <= 1e-9*x || none && math.Abs(x*s.perLength()-size) <= 1e-9*size {
				lf.exact = true
				break
			}
		}
	}
	if none || d == quantity.Force || d == quantity.Mass {
		col, per, count := -1, 0.0, 0
		for i := range s.cols {
			c := &s.cols[i]
			if !c.isForce() || c.kind == turnOf || !c.known || c.value == 0 {
				continue
			}
			if d != quantity.Mass {
				for _, k := range [2]float64{1, s.perForce()} {
					if math.Abs(c.value*k-size) <= 1e-9*size {
						col, per = i, k
						count++
						break
					}
					if k == s.perForce() || !none {
						break
					}
				}
			}
			if c.mass != 0 && d != quantity.Force {
				for _, k := range [2]float64{1, s.perMass()} {
					if math.Abs(c.mass*k-size) <= 1e-9*size {
						col, per = i, c.mass*k/c.value
						count++
						break
					}
					if !none {
						break
					}
				}
			}
		}
		if count == 1 {
			lf.col, lf.per = col, per
			if v < 0 {
				lf.per = -per
			}
			if none && (lf.exact || size == s.l.Field) {
				lf.own = true // a length has this value too: not certain
			}
			lf.exact = true
			return
		}
		if count > 1 {
			lf.exact = true
			return
		}
	}
	if lf.exact || slices.Contains(s.given, size) {
		lf.exact = true
		return
	}
	if found && (none || d == quantity.Force) {
		// A force that was found, rounded.
		col, count := -1, 0
		for i := range s.cols {
			c := &s.cols[i]
			if !c.isForce() || c.kind == turnOf || c.value == 0 {
				continue
			}
			if agrees(q, size, math.Abs(c.value)) {
				col = i
				count++
			}
		}
		if count == 1 && !(none && s.isLength(size)) {
			lf.col, lf.per = col, 1
			lf.value = math.Copysign(math.Abs(s.cols[col].value), v)
			if (lf.value < 0) != (s.cols[col].value < 0) {
				lf.per = -1
			}
			return
		}
	}
	if none {
		for _, t := range s.trigs {
			if q.Figures >= 2 && math.Abs(t-size) <= half(q)*(1+1e-9) {
				lf.slack = math.Abs(t-size) * 1.0001
				return
			}
		}
		for _, known := range [...]float64{s.l.Field} {
			if math.Abs(known-size) <= 1e-9*size {
				lf.exact = true
				return
			}
		}
		if q.Decimals == 0 && size < 10 {
			lf.exact = true // a count: two supports, half of
			return
		}
	}
	if q.Digits == "9.8" && s.l.Field == 9.81 || q.Digits == "9.81" && s.l.Field == 9.8 {
		lf.slack = math.Abs(s.l.Field - size)
		return
	}
	lf.slack = min(half(q), 0.005*size)
}

func (s *scene) perLength() float64 { return math.Pow10(-s.unit[quantity.Length].Power) }
func (s *scene) perForce() float64  { return math.Pow10(-s.unit[quantity.Force].Power) }
func (s *scene) perMass() float64   { return math.Pow10(-s.unit[quantity.Mass].Power) }

func (s *scene) isLength(v float64) bool {
	for _, x := range s.lengths {
		if math.Abs(x-v) <= 1e-9*x {
			return true
		}
	}
	return false
}
