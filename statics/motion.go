package statics

import (
	"math/big"
	"slices"
)

// At returns how fast the point p of the body moves.
func (v Velocity) At(p Vec) Vec { return Vec{v.X - v.Turn*p.Y, v.Y + v.Turn*p.X} }

// Pivot returns the point about which the body turns, and false if it only shifts or stays.
func (v Velocity) Pivot() (Vec, bool) {
	if v.Turn == 0 {
		return Vec{}, false
	}
	return Vec{clean(-v.Y / v.Turn), clean(v.X / v.Turn)}, true
}

// start is how the bodies start to move. In a proof, a rough contact that slides parts as well, at Mu times
// the rate of sliding, which real ones don't: so the motion is looked for once more with those contacts
// smooth, and taken if it slides at the same ones the same way.
func (e *exact) start(y proof) *Motion {
	m := e.simplest(y)
	if m == nil || len(m.Slides) == 0 {
		return m
	}
	smooth := *e.l.System
	smooth.Ties = nil
	smooth.Joints = slices.Clone(smooth.Joints)
	for _, i := range m.Slides {
		smooth.Joints[i].Mu = 0
	}
	l, err := lower(&smooth)
	if err != nil {
		return m
	}
	freed := newExact(l)
	_, proof := freed.settle()
	if proof == nil {
		return m
	}
	if n := freed.simplest(proof); n != nil && slices.Equal(n.Slides, m.Slides) && e.sameWay(m, n) {
		return n
	}
	return m
}

// sameWay reports whether two motions slide at the contacts of the first in the same direction.
func (e *exact) sameWay(m, n *Motion) bool {
	for _, i := range m.Slides {
		if e.l.slideRate(i, m)*e.l.slideRate(i, n) <= 0 {
			return false
		}
	}
	return true
}

// slideRate is how fast the body On of joint i slides along its surface, against By.
func (l *lowered) slideRate(i int, m *Motion) float64 {
	j := &l.Joints[i]
	t := alongSurface(direction(j.Normal))
	v := Vec{}
	if j.On >= 0 {
		v = m.Velocity[j.On].At(j.At)
	}
	if j.By >= 0 {
		w := m.Velocity[j.By].At(j.At)
		v = Vec{v.X - w.X, v.Y - w.Y}
	}
	return v.X*t.X + v.Y*t.Y
}

// simplest is a motion of a proof, simplest first: where they can fall or slide without turning, though
// a hand stopped every turning, they do that; else they turn.
func (e *exact) simplest(y proof) *Motion {
	held := *e.l.System
	held.Ties = nil
	held.Joints = slices.Clone(held.Joints)
	for b := range held.Bodies {
		held.Joints = append(held.Joints, Joint{Kind: Couple, On: b, By: Ground})
	}
	if l, err := lower(&held); err == nil {
		shifting := newExact(l)
		copy(shifting.mu, e.mu)
		if _, proof := shifting.settle(); proof != nil {
			return shifting.motion(proof)
		}
	}
	return e.motion(y)
}

// motion reads a proof that no forces do as a motion: the factors of the equations are the
// velocities of the bodies (principle of virtual work), those of the limits are how fast contacts
// open or slide. It returns nil where the bodies could be held and only the ties forbid it.
func (e *exact) motion(y proof) *Motion {
	if len(e.l.Ties) > 0 {
		bare := *e
		bare.untied = true
		bare.pinned = make([]bool, len(e.pinned))
		for j := range bare.pinned {
			bare.pinned[j] = !e.l.appears(j)
		}
		if _, y = bare.settle(); y == nil {
			return nil
		}
		e = &bare
	}
	m := &mover{e: e, d: dictionary{bits: e.bits}, n: 3 * e.l.Bodies, y: y}
	m.demand()
	m.prefer()
	v := m.solve()
	return m.describe(v)
}

// A mover finds velocities from linear conditions, taken one after the other: one that follows
// from those before, or contradicts them, is passed over.
type mover struct {
	e     *exact
	d     dictionary
	n     int // three velocities a body
	y     proof
	row   [][]*big.Rat // reduced conditions: factors, then value
	pivot []int        // the velocity that each one gives
}

// demand takes the conditions that the proof lays down: every component that a limit does not
// stop does no work.
func (m *mover) demand() {
	l := m.e.l
	eq := m.e.equations()
	rate := make([]*big.Rat, len(l.cols)) // power of each component
	for j := range rate {
		rate[j] = new(big.Rat)
	}
	for i := range l.limits {
		f, row := m.y[i], m.e.slack(&l.limits[i])
		if f == nil || row == nil {
			continue
		}
		for j := range rate {
			if row[j+1].Sign() != 0 {
				rate[j].Add(rate[j], new(big.Rat).Mul(f, row[j+1]))
			}
		}
	}
	for j := range l.cols {
		if !m.e.pinned[j] {
			m.take(m.column(eq, j+1), rate[j])
		}
	}
	if len(m.y) == 0 {
		m.take(m.column(eq, 0), big.NewRat(1, 1))
	}
}

func (m *mover) column(eq [][]*big.Rat, j int) []*big.Rat {
	c := make([]*big.Rat, m.n)
	for i := range c {
		c[i] = eq[i][j]
	}
	return c
}

// prefer adds what makes the motion the simplest to look at: what stays in contact does not
// slide, bodies don't turn or shift without need.
func (m *mover) prefer() {
	l := m.e.l
	for i := range l.Joints {
		if j := &l.Joints[i]; (j.Kind == Contact || j.Kind == Face) && !m.opensAt(i, 0) {
			m.take(m.sliding(i), zero)
		}
	}
	for i := range l.Joints {
		if j := &l.Joints[i]; j.Kind == Pull && !m.opensAt(i, 0) {
			m.take(m.sliding(i), zero)
		}
	}
	for part := 2; part >= 0; part-- {
		for b := range l.Bodies {
			row := m.blank()
			row[3*b+part] = big.NewRat(1, 1)
			m.take(row, zero)
		}
	}
}

func (m *mover) blank() []*big.Rat {
	row := make([]*big.Rat, m.n)
	for i := range row {
		row[i] = zero
	}
	return row
}

// sliding returns the rate at which joint i slides, as factors of the velocities.
func (m *mover) sliding(i int) []*big.Rat {
	j := &m.e.l.Joints[i]
	out := make([][]*big.Rat, m.n)
	for r := range out {
		out[r] = []*big.Rat{zero}
	}
	t := alongSurface(direction(j.Normal))
	m.e.act(out, 0, 0, j.On, 1, j.At, t, 0)
	m.e.act(out, 0, 0, j.By, -1, j.At, t, 0)
	return m.column(out, 0)
}

// take adds a condition: the factors times the velocities make value.
func (m *mover) take(factors []*big.Rat, value *big.Rat) {
	row := append(append(make([]*big.Rat, 0, m.n+1), factors...), value)
	for i, p := range m.pivot {
		m.subtract(row, m.row[i], p)
	}
	best := -1
	for k, v := range row[:m.n] {
		if v.Sign() != 0 && (best < 0 || m.d.size(v) > m.d.size(row[best])) {
			best = k
		}
	}
	if best < 0 {
		return
	}
	inv := new(big.Rat).Inv(row[best])
	for k, v := range row {
		row[k] = new(big.Rat).Mul(v, inv)
	}
	for i := range m.row {
		m.subtract(m.row[i], row, best)
	}
	m.row, m.pivot = append(m.row, row), append(m.pivot, best)
}

// subtract clears velocity p from row by means of other, in which it has factor 1.
func (m *mover) subtract(row, other []*big.Rat, p int) {
	f := row[p]
	if f.Sign() == 0 {
		return
	}
	for k, v := range other {
		if v.Sign() == 0 {
			continue
		}
		x := new(big.Rat).Mul(f, v)
		x.Sub(row[k], x)
		if m.d.isDust(x) {
			x = zero
		}
		row[k] = x
	}
	row[p] = zero
}

// solve returns the velocities; one that no condition fixes is zero.
func (m *mover) solve() []*big.Rat {
	v := m.blank()
	for i, p := range m.pivot {
		v[p] = m.row[i][m.n]
	}
	return v
}

// opensAt reports whether the contact of joint i parts at one end.
func (m *mover) opensAt(i, end int) bool {
	for k := range m.e.l.limits {
		if q := &m.e.l.limits[k]; q.joint == i && q.kind == atLeast && q.end == end {
			f := m.y[k]
			return f != nil && f.Sign() > 0
		}
	}
	return false
}

// describe returns the motion in metres and radians, the fastest turning at 1 rad/s, or the
// fastest shifting at 1 m/s where nothing turns.
func (m *mover) describe(v []*big.Rat) *Motion {
	l := m.e.l
	out := &Motion{Velocity: m.velocities(v)}
	for i := range l.Joints {
		j := &l.Joints[i]
		if j.Kind != Contact && j.Kind != Face && j.Kind != Pull {
			continue
		}
		first, second := m.opensAt(i, 0), j.Kind == Face && m.opensAt(i, 1)
		if first || second {
			out.Opens = append(out.Opens, i)
		}
		wholly := first && (second || j.Kind != Face)
		if j.Kind != Pull && !wholly && m.rate(m.sliding(i), v) {
			out.Slides = append(out.Slides, i)
		}
	}
	return out
}

// velocities brings the motion back from the scaled equations, and to its unit.
func (m *mover) velocities(v []*big.Rat) []Velocity {
	l := m.e.l
	f := make([]*big.Rat, len(v))
	turn, shift := zero, zero
	for i := range v {
		f[i] = scaled(v[i], l.rowExp[i])
		most := &shift
		if i%3 == 2 {
			most = &turn
		}
		if size := new(big.Rat).Abs(f[i]); size.Cmp(*most) > 0 {
			*most = size
		}
	}
	unit := turn
	if turn.Sign() == 0 {
		unit = shift
	}
	out := make([]Velocity, l.Bodies)
	if unit.Sign() == 0 {
		return out // numbers so far apart that the motion is lost among dust
	}
	float := func(x *big.Rat) float64 {
		y, _ := x.Quo(x, unit).Float64()
		return y
	}
	for b := range out {
		// The point of the body at the origin, from that at the reference point.
		w := f[3*b+2]
		x := new(big.Rat).Mul(w, m.e.rat(l.refs[b].Y))
		y := new(big.Rat).Mul(w, m.e.rat(l.refs[b].X))
		x.Add(f[3*b], x)
		y.Sub(f[3*b+1], y)
		out[b] = Velocity{float(x), float(y), float(new(big.Rat).Set(w))}
	}
	return out
}

// rate reports whether a rate, given by factors of the velocities, is other than zero.
func (m *mover) rate(factors, v []*big.Rat) bool {
	sum, size := new(big.Rat), new(big.Rat)
	for i, f := range factors {
		if f.Sign() != 0 && v[i].Sign() != 0 {
			p := new(big.Rat).Mul(f, v[i])
			sum.Add(sum, p)
			size.Add(size, p.Abs(p))
		}
	}
	if sum.Sign() == 0 {
		return false
	}
	return !m.d.isDust(sum.Quo(sum, size))
}
