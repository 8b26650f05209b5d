package statics

import (
	"math"
	"math/big"
)

// Solve returns what equilibrium says about a system. An error is only for a system that is
// ill-formed: a number that is not finite, a normal of no length, a body or joint that isn't
// there. That a system can't be in equilibrium, or that equilibrium doesn't fix its forces, is
// an answer and not an error.
func Solve(s *System) (Solution, error) {
	l, err := lower(s)
	if err != nil {
		return Solution{}, err
	}
	x := make([]float64, len(l.cols))
	if state, ok := l.quick(x); ok && state == Unique {
		return l.solution(x), nil
	}
	return newExact(l).solve(), nil
}

// Classify returns only the state of a system, which takes less time than [Solve].
// Its errors are those of Solve.
func Classify(s *System) (State, error) {
	l, err := lower(s)
	if err != nil {
		return 0, err
	}
	if state, ok := l.quick(make([]float64, len(l.cols))); ok {
		return state, nil
	}
	e := newExact(l)
	d, y := e.settle()
	if y != nil {
		return NoEquilibrium, nil
	}
	return e.classify(d), nil
}

// solution is what is known once every component has its value.
func (l *lowered) solution(x []float64) Solution {
	s := Solution{Reactions: make([]Reaction, len(l.Joints))}
	for i := range l.Joints {
		s.Reactions[i] = l.reaction(i, x)
	}
	if len(l.Unknowns) > 0 {
		s.Unknowns = x[l.first[len(l.Joints)]:]
	}
	return s
}

func (e *exact) solve() Solution {
	d, y := e.settle()
	if y != nil {
		return Solution{State: NoEquilibrium, Motion: e.start(y)}
	}
	return e.describe(d)
}

// describe puts together the solution from forces within all limits.
func (e *exact) describe(d *dictionary) Solution {
	l := e.l
	if e.classify(d) != NotFixed {
		s := l.solution(e.floats(e.values(d)))
		if s.Giving = e.giving(d); s.Giving != nil {
			s.State = Limit
		}
		return s
	}
	v := &survey{e: e, d: d, spans: make([]*Span, len(l.cols))}
	spans := make([]Spans, len(l.Joints))
	for i := range spans {
		spans[i] = Spans{v.part(i, X), v.part(i, Y), v.couple(i), v.part(i, N), v.part(i, F)}
	}
	ranges := make([]Span, len(l.Unknowns))
	for i := range ranges {
		if c := l.first[len(l.Joints)] + i; e.pinned[c] {
			ranges[i] = Span{l.Unknowns[i].Least, l.Unknowns[i].Greatest}
		} else {
			ranges[i] = v.column(c)
		}
	}
	s := l.solution(e.floats(v.middle()))
	s.State, s.Spans = NotFixed, spans
	if len(ranges) > 0 {
		s.Ranges = ranges
	}
	return s
}

// classify tells the state of a feasible dictionary.
func (e *exact) classify(d *dictionary) State {
	if len(d.nonbasic) > 0 {
		inside := true
		for i, b := range d.basic {
			inside = inside && (b < d.n || d.row[i][0].Sign() > 0)
		}
		if inside {
			return NotFixed // any of the others can grow a little
		}
		for j := range d.n {
			if e.pinned[j] {
				continue
			}
			high := d.greatest(weight{j, big.NewRat(1, 1)})
			if high == nil {
				return NotFixed
			}
			low := d.greatest(weight{j, big.NewRat(-1, 1)})
			if low == nil || e.apart(high, new(big.Rat).Neg(low)) {
				return NotFixed
			}
		}
	}
	if e.giving(d) != nil {
		return Limit
	}
	return Unique
}

// apart reports whether two values differ by more than dust.
func (e *exact) apart(a, b *big.Rat) bool {
	v := new(big.Rat).Sub(a, b)
	return v.Sign() != 0 && !(&dictionary{bits: e.bits}).isDust(v)
}

// giving returns the limits that are reached in all possible sets of forces, in order of joints.
func (e *exact) giving(d *dictionary) []Giving {
	l := e.l
	one := big.NewRat(1, 1)
	var out []Giving
	reached := func(v int) bool {
		if d.value(v).Sign() > 0 {
			return false
		}
		most := d.greatest(weight{v, one})
		return most != nil && most.Sign() == 0
	}
	for i := range l.limits {
		m := &l.limits[i]
		if m.joint < 0 || e.pinned[m.col] {
			continue
		}
		if !reached(d.n + i) {
			continue
		}
		if m.kind == atLeast {
			out = append(out, Giving{Joint: m.joint, End: m.end})
		} else if !e.lost(m.joint, out) {
			out = append(out, Giving{Joint: m.joint, Slips: true})
		}
	}
	return out
}

// lost reports whether the whole joint is about to be lost, by what has been found so far.
func (e *exact) lost(joint int, found []Giving) bool {
	ends := 0
	for _, g := range found {
		if g.Joint == joint && !g.Slips {
			ends++
		}
	}
	return ends == e.l.Joints[joint].presses()
}

// values returns the scaled components.
func (e *exact) values(d *dictionary) []*big.Rat {
	x := make([]*big.Rat, d.n)
	for j := range x {
		x[j] = d.value(j)
	}
	return x
}

// floats returns the components, in newtons, as float64.
func (e *exact) floats(x []*big.Rat) []float64 {
	out := make([]float64, len(x))
	for j, v := range x {
		if e.pinned[j] && e.l.unknown(j) >= 0 {
			out[j] = e.l.idle(j)
			continue
		}
		out[j], _ = scaled(v, e.l.colExp[j]+e.l.loadExp).Float64()
	}
	return out
}

// A survey finds the spans of components, and remembers the extreme sets of forces it met.
type survey struct {
	e     *exact
	d     *dictionary
	spans []*Span
	sum   []*big.Rat
	count int64
}

// span returns the least and the greatest of a weighted sum, × 2^exp.
func (v *survey) span(ws []weight, exp int) Span {
	end := func(sign int64) float64 {
		turned := make([]weight, len(ws))
		for i, w := range ws {
			turned[i] = weight{w.of, new(big.Rat).Mul(w.factor, big.NewRat(sign, 1))}
		}
		high := v.d.greatest(turned...)
		if high == nil {
			return math.Inf(int(sign))
		}
		v.note()
		f, _ := scaled(high, exp).Float64()
		return clean(float64(sign) * f)
	}
	s := Span{end(-1), end(1)}
	if v.e.bits > 0 && math.Abs(s.Greatest-s.Least) <= math.Ldexp(1, exp-v.e.bits) {
		s.Greatest = s.Least
	}
	return s
}

// note adds the present set of forces to those met.
func (v *survey) note() {
	if v.sum == nil {
		v.sum = make([]*big.Rat, v.d.n)
		for j := range v.sum {
			v.sum[j] = new(big.Rat)
		}
	}
	for j := range v.sum {
		v.sum[j].Add(v.sum[j], v.d.value(j))
	}
	v.count++
}

// middle returns the mean of the extreme sets of forces, a possible one that is at no limit that
// it could keep away from.
func (v *survey) middle() []*big.Rat {
	if v.count == 0 {
		return v.e.values(v.d)
	}
	out := make([]*big.Rat, len(v.sum))
	for j, s := range v.sum {
		out[j] = new(big.Rat).Quo(s, big.NewRat(v.count, 1))
	}
	return out
}

// column returns the span of one component.
func (v *survey) column(j int) Span {
	if v.e.pinned[j] {
		return Span{}
	}
	if v.spans[j] == nil {
		s := v.span([]weight{{j, big.NewRat(1, 1)}}, v.e.l.colExp[j]+v.e.l.loadExp)
		v.spans[j] = &s
	}
	return *v.spans[j]
}

// part returns the span of one part of a joint's force.
func (v *survey) part(i int, p Part) Span {
	var ws []weight
	only, factor := 0, 0.0
	v.e.part(i, p, func(col int, f *big.Rat) {
		only = col
		factor, _ = f.Float64()
		ws = append(ws, weight{col, scaled(f, v.e.l.colExp[col])})
	})
	switch {
	case len(ws) == 0:
		return Span{}
	case len(ws) > 1:
		return v.span(ws, v.e.l.loadExp)
	}
	s := v.column(only)
	if factor < 0 {
		s.Least, s.Greatest = s.Greatest, s.Least
	}
	return Span{clean(factor * s.Least), clean(factor * s.Greatest)}
}

// couple returns the span of a joint's couple about At.
func (v *survey) couple(i int) Span { return v.part(i, C) }
