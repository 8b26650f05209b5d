package statics

import (
	"math"
	"math/big"
	"strconv"
)

// figures is how many significant figures a number that somebody wrote has at most. One with
// more is taken for the rounding of an irrational number, a sine say.
const figures = 12

// dustBits is the relative size, as a power of two, below which a result from irrational numbers
// is nothing: about 1e-9.
const dustBits = 30

// exact solves a lowered system in rationals. A float64 stands for its shortest decimal, so 0.6
// is 3/5.
type exact struct {
	l      *lowered
	bits   int
	untied bool       // leave the ties out
	pinned []bool     // components that are held at zero: unknowns that add nothing, friction where nothing presses
	fixed  []*big.Rat // scaled values of components that are given; nil where not
	mu     []*big.Rat // coefficient of each joint; nil: as in the system
	short  map[float64]*big.Rat

	allowed   []bool // joints whose friction has an allowance; nil for none
	allowance int    // the component that is it
}

func newExact(l *lowered) *exact {
	n := len(l.cols)
	e := &exact{l: l, pinned: make([]bool, n), fixed: make([]*big.Rat, n), mu: make([]*big.Rat, len(l.Joints)), short: map[float64]*big.Rat{}}
	if l.dusty() {
		e.bits = dustBits
	}
	for j := range n {
		e.pinned[j] = !l.appears(j)
	}
	return e
}

// rat returns the rational that v's shortest decimal stands for.
func (e *exact) rat(v float64) *big.Rat {
	if r, ok := e.short[v]; ok {
		return r
	}
	r, ok := new(big.Rat).SetString(strconv.FormatFloat(v, 'g', -1, 64))
	if !ok {
		r = new(big.Rat) // cannot be: check has refused what is not finite
	}
	e.short[v] = r
	return r
}

// scaled returns v × 2^exp.
func scaled(v *big.Rat, exp int) *big.Rat {
	switch {
	case exp == 0 || v.Sign() == 0:
		return v
	case exp > 0:
		return new(big.Rat).Mul(v, new(big.Rat).SetInt(new(big.Int).Lsh(big.NewInt(1), uint(exp))))
	}
	return new(big.Rat).Quo(v, new(big.Rat).SetInt(new(big.Int).Lsh(big.NewInt(1), uint(-exp))))
}

// dusty reports whether the system has a number with more figures than a person writes.
func (l *lowered) dusty() bool {
	if l.dust == 0 {
		l.dust = 1
		if l.irrational() {
			l.dust = 2
		}
	}
	return l.dust == 2
}

func (l *lowered) irrational() bool {
	for i := range l.cols {
		c := &l.cols[i]
		if long(c.at.X, c.at.Y, c.force.X, c.force.Y, c.couple) {
			return true
		}
	}
	for i := range l.Loads {
		f := &l.Loads[i]
		if long(f.At.X, f.At.Y, f.Force.X, f.Force.Y, f.Couple) {
			return true
		}
	}
	for i := range l.limits {
		if long(l.limits[i].bound) {
			return true
		}
	}
	for i := range l.Joints {
		if j := &l.Joints[i]; j.rough() && !math.IsInf(j.Mu, 1) && long(j.Mu) {
			return true
		}
	}
	for _, tie := range l.Ties {
		if long(tie.Value) {
			return true
		}
		for _, t := range tie.Terms {
			if long(t.Factor) {
				return true
			}
		}
	}
	return false
}

// long reports whether some number needs more than the usual figures.
func long(vs ...float64) bool {
	var buf [32]byte
	for _, v := range vs {
		if v == math.Trunc(v) && math.Abs(v) < 1e12 {
			continue
		}
		digits := 0
		for _, b := range strconv.AppendFloat(buf[:0], v, 'e', -1, 64) {
			if b == 'e' {
				break
			}
			if b >= '0' && b <= '9' {
				digits++
			}
		}
		if digits > figures {
			return true
		}
	}
	return false
}

// equations returns the scaled equations: constant, then a factor for each component.
func (e *exact) equations() [][]*big.Rat {
	l := e.l
	n := len(l.cols)
	rows := l.rows()
	if e.untied {
		rows = 3 * l.Bodies
	}
	out := make([][]*big.Rat, rows)
	for i := range out {
		out[i] = make([]*big.Rat, n+1)
		for j := range out[i] {
			out[i][j] = zero
		}
	}
	for j := range l.cols {
		if e.pinned[j] {
			continue
		}
		c := &l.cols[j]
		e.act(out, j+1, l.colExp[j], c.on, 1, c.at, c.force, c.couple)
		e.act(out, j+1, l.colExp[j], c.by, -1, c.at, c.force, c.couple)
	}
	for i := range l.Loads {
		f := &l.Loads[i]
		e.act(out, 0, -l.loadExp, f.On, 1, f.At, f.Force, f.Couple)
	}
	if !e.untied {
		e.ties(out)
	}
	return out
}

// act adds to a column what a force and a couple do to a body.
func (e *exact) act(out [][]*big.Rat, col, exp, body int, sign int64, at, force Vec, couple float64) {
	if body < 0 {
		return
	}
	ref := e.l.refs[body]
	add := func(r int, v *big.Rat) {
		if v.Sign() == 0 {
			return
		}
		v = scaled(v, exp+e.l.rowExp[3*body+r])
		if sign < 0 {
			v = new(big.Rat).Neg(v)
		}
		out[3*body+r][col] = new(big.Rat).Add(out[3*body+r][col], v)
	}
	x, y := e.rat(force.X), e.rat(force.Y)
	add(0, x)
	add(1, y)
	m := new(big.Rat).Set(e.rat(couple))
	if x.Sign() != 0 || y.Sign() != 0 {
		dx := new(big.Rat).Sub(e.rat(at.X), e.rat(ref.X))
		dy := new(big.Rat).Sub(e.rat(at.Y), e.rat(ref.Y))
		m.Add(m, dx.Mul(dx, y))
		m.Sub(m, dy.Mul(dy, x))
	}
	add(2, m)
}

// ties fills in the ties' equations.
func (e *exact) ties(out [][]*big.Rat) {
	l := e.l
	for i, tie := range l.Ties {
		r := 3*l.Bodies + i
		for _, t := range tie.Terms {
			factor := e.rat(t.Factor)
			e.part(t.Joint, t.Part, func(col int, f *big.Rat) {
				if e.pinned[col] {
					return
				}
				v := new(big.Rat).Mul(factor, f)
				v = scaled(v, l.rowExp[r]+l.colExp[col])
				out[r][col+1] = new(big.Rat).Add(out[r][col+1], v)
			})
		}
		out[r][0] = new(big.Rat).Neg(scaled(e.rat(tie.Value), l.rowExp[r]-l.loadExp))
	}
}

// part is lowered.part in rationals: the moment about a face's end is a product of given numbers.
func (e *exact) part(i int, p Part, yield func(col int, factor *big.Rat)) {
	if i >= 0 && p == C && e.l.Joints[i].Kind == Face {
		j := &e.l.Joints[i]
		n := direction(j.Normal)
		dx := new(big.Rat).Sub(e.rat(j.To.X), e.rat(j.At.X))
		dy := new(big.Rat).Sub(e.rat(j.To.Y), e.rat(j.At.Y))
		dx.Mul(dx, e.rat(n.Y))
		yield(e.l.first[i]+1, dx.Sub(dx, dy.Mul(dy, e.rat(n.X))))
		return
	}
	e.l.part(i, p, func(col int, f float64) { yield(col, e.rat(f)) })
}

// slack returns a limit as a row over all components: constant, then a factor for each. It is nil
// where the limit is of a component that is held at zero.
func (e *exact) slack(m *limit) []*big.Rat {
	l := e.l
	if e.pinned[m.col] {
		return nil
	}
	row := make([]*big.Rat, len(l.cols)+1)
	for j := range row {
		row[j] = zero
	}
	one := big.NewRat(1, 1)
	bound := scaled(e.rat(m.bound), -l.colExp[m.col]-l.loadExp)
	switch m.kind {
	case atLeast:
		row[m.col+1], row[0] = one, new(big.Rat).Neg(bound)
	case atMost:
		row[m.col+1], row[0] = one.Neg(one), bound
	default:
		if m.kind == slipAlong {
			one.Neg(one)
		}
		row[m.col+1] = scaled(one, l.colExp[m.col])
		mu := e.mu[m.joint]
		if mu == nil {
			mu = e.rat(l.Joints[m.joint].Mu)
		}
		for k := range l.Joints[m.joint].presses() {
			c := l.first[m.joint] + k
			row[c+1] = scaled(mu, l.colExp[c])
		}
		if e.allowed != nil && e.allowed[m.joint] {
			row[e.allowance+1] = big.NewRat(1, 1)
		}
	}
	return row
}

// dictionary solves the equations and finds forces within the limits; or returns the proof that
// there are none.
func (e *exact) dictionary() (*dictionary, proof) {
	l := e.l
	n := len(l.cols)
	d := &dictionary{n: n, bits: e.bits}
	for _, row := range e.equations() {
		d.row, d.basic = append(d.row, row), append(d.basic, equation)
	}
	for j, v := range e.fixed {
		if v != nil {
			row := make([]*big.Rat, n+1)
			for k := range row {
				row[k] = zero
			}
			row[0], row[j+1] = new(big.Rat).Neg(v), big.NewRat(1, 1)
			d.row, d.basic = append(d.row, row), append(d.basic, equation)
		}
	}
	for i := range l.limits {
		if row := e.slack(&l.limits[i]); row != nil {
			d.row, d.basic = append(d.row, row), append(d.basic, n+i)
		}
	}
	for i, row := range d.row {
		for j, v := range row {
			if d.isDust(v) {
				d.row[i][j] = zero
			}
		}
	}
	d.nonbasic = make([]int, n)
	for j := range d.nonbasic {
		d.nonbasic[j] = j
	}
	for j := n - 1; j >= 0; j-- {
		if e.pinned[j] {
			d.drop(j)
		}
	}
	if !d.eliminate() {
		return nil, proof{}
	}
	d.free()
	if y := d.feasible(); y != nil {
		return nil, y
	}
	return d, nil
}

// settle is dictionary, and sees to contacts that never slip: friction without a force that
// presses is not to be had however rough the surface, so where none can press, there is none.
func (e *exact) settle() (*dictionary, proof) {
	l := e.l
	for {
		d, y := e.dictionary()
		if y != nil {
			return nil, y
		}
		changed := false
		for i := range l.Joints {
			j := &l.Joints[i]
			if !j.rough() || !math.IsInf(j.Mu, 1) || e.mu[i] != nil {
				continue
			}
			friction := l.first[i] + j.presses()
			var press []weight
			now := new(big.Rat)
			for k := range j.presses() {
				c := l.first[i] + k
				press = append(press, weight{c, scaled(big.NewRat(1, 1), l.colExp[c])})
				now.Add(now, d.value(c))
			}
			if e.pinned[friction] || now.Sign() > 0 {
				continue
			}
			if most := d.greatest(press...); most != nil && most.Sign() == 0 {
				e.pinned[friction], changed = true, true
			}
		}
		if !changed {
			return d, nil
		}
	}
}
