package statics

import (
	"fmt"
	"math"
)

// A column is one unknown component: each unit of it adds force at at, and couple, to body on,
// and takes the same from body by.
type column struct {
	on, by    int
	at, force Vec
	couple    float64
}

// A limit is an inequality that a possible set of forces obeys: of component col, at least bound
// or at most bound, or |F| ≤ Mu ΣN for one of the two senses of slipping.
type limit struct {
	kind  limitKind
	joint int // -1 for the bound of an unknown
	col   int // the component; of a slip, the friction
	end   int // of a Face
	bound float64
}

type limitKind uint8

const (
	atLeast limitKind = iota
	atMost
	slipAlong   // Mu ΣN - F ≥ 0
	slipAgainst // Mu ΣN + F ≥ 0
)

// lowered is a system as columns of three equations a body, then one equation a tie, and limits.
// Equation r, with component j, is scaled by powers of two: rowExp, colExp and, for every force,
// loadExp, so that newtons and meganewtons meet the same thresholds and lose no digit.
type lowered struct {
	*System
	cols    []column
	first   []int // first column of each joint; one more: first column of the unknowns
	limits  []limit
	refs    []Vec // where each body's moments are taken about
	rowExp  []int
	colExp  []int
	loadExp int
	a       []float64 // rows × (len(cols)+1), scaled; the last of a row is what the loads add
	strict  bool      // leave what might be dust to the exact path
	dust    int8      // 0 not yet looked at, 1 all numbers short, 2 some number is irrational
}

func (l *lowered) rows() int { return 3*l.Bodies + len(l.Ties) }

// lower turns a system into columns, or says what is wrong with it.
func lower(s *System) (*lowered, error) {
	if err := check(s); err != nil {
		return nil, err
	}
	l := &lowered{System: s}
	size := 3*len(s.Joints) + len(s.Unknowns)
	l.cols = make([]column, 0, size)
	l.first = make([]int, 0, len(s.Joints)+1)
	l.limits = make([]limit, 0, size+len(s.Joints))
	for i := range s.Joints {
		l.first = append(l.first, len(l.cols))
		l.joint(i)
	}
	l.first = append(l.first, len(l.cols))
	for _, u := range s.Unknowns {
		n := len(l.cols)
		l.cols = append(l.cols, column{u.On, Ground, u.At, u.Force, u.Couple})
		if !math.IsInf(u.Least, -1) {
			l.limits = append(l.limits, limit{atLeast, -1, n, 0, u.Least})
		}
		if !math.IsInf(u.Greatest, 1) {
			l.limits = append(l.limits, limit{atMost, -1, n, 0, u.Greatest})
		}
	}
	l.fill()
	return l, nil
}

// joint adds the columns and the limits of one joint.
func (l *lowered) joint(i int) {
	j := &l.Joints[i]
	add := func(at, force Vec, couple float64) {
		l.cols = append(l.cols, column{j.On, j.By, at, force, couple})
	}
	push := func(at Vec, end int) {
		l.limits = append(l.limits, limit{atLeast, i, len(l.cols), end, 0})
		add(at, direction(j.Normal), 0)
	}
	switch j.Kind {
	case Contact, Pull:
		push(j.At, 0)
	case Face:
		push(j.At, 0)
		push(j.To, 1)
	case Rod:
		add(j.At, direction(j.Normal), 0)
	case Hinge, Clamp:
		add(j.At, Vec{1, 0}, 0)
		add(j.At, Vec{0, 1}, 0)
	}
	if j.Kind == Clamp || j.Kind == Couple {
		add(j.At, Vec{}, 1)
	}
	if j.rough() {
		if !math.IsInf(j.Mu, 1) {
			l.limits = append(l.limits, limit{slipAlong, i, len(l.cols), 0, 0}, limit{slipAgainst, i, len(l.cols), 0, 0})
		}
		add(j.At, alongSurface(direction(j.Normal)), 0)
	}
}

// rough reports whether the joint has friction.
func (j *Joint) rough() bool { return (j.Kind == Contact || j.Kind == Face) && j.Mu > 0 }

// presses returns how many columns of the joint are normal forces of a contact.
func (j *Joint) presses() int {
	if j.Kind == Face {
		return 2
	}
	return 1
}

// direction returns n with length 1; a direction that has it to nine figures is left as it is,
// so that (0.6, 0.8) stays exact.
func direction(n Vec) Vec {
	if d := n.X*n.X + n.Y*n.Y; math.Abs(d-1) > 1e-9 {
		h := math.Hypot(n.X, n.Y)
		return Vec{n.X / h, n.Y / h}
	}
	return n
}

// alongSurface returns n turned a quarter clockwise: the direction of friction.
func alongSurface(n Vec) Vec { return Vec{n.Y, -n.X} }

// fill computes the scaled equations in float64.
func (l *lowered) fill() {
	n, rows := len(l.cols), l.rows()
	l.places()
	l.a = make([]float64, rows*(n+1))
	exps := make([]int, rows+n)
	l.rowExp, l.colExp = exps[:rows], exps[rows:]
	for j := range l.cols {
		c := &l.cols[j]
		l.act(j, c.on, 1, c.at, c.force, c.couple)
		l.act(j, c.by, -1, c.at, c.force, c.couple)
	}
	for i := range l.Loads {
		f := &l.Loads[i]
		l.act(n, f.On, 1, f.At, f.Force, f.Couple)
	}
	for i := range l.Ties {
		row := l.a[(3*l.Bodies+i)*(n+1):]
		for _, t := range l.Ties[i].Terms {
			l.part(t.Joint, t.Part, func(col int, factor float64) { row[col] += t.Factor * factor })
		}
		row[n] = -l.Ties[i].Value
	}
	l.scale()
}

// places picks the point that each body's moments are taken about: its centre if one is given, else
// the lower left corner of where its forces act.
func (l *lowered) places() {
	l.refs = make([]Vec, l.Bodies)
	low, high := make([]Vec, l.Bodies), make([]Vec, l.Bodies)
	for b := range low {
		low[b], high[b] = Vec{math.Inf(1), math.Inf(1)}, Vec{math.Inf(-1), math.Inf(-1)}
	}
	see := func(b int, at Vec) {
		if b >= 0 {
			low[b] = Vec{min(low[b].X, at.X), min(low[b].Y, at.Y)}
			high[b] = Vec{max(high[b].X, at.X), max(high[b].Y, at.Y)}
		}
	}
	for j := range l.cols {
		c := &l.cols[j]
		if c.force != (Vec{}) {
			see(c.on, c.at)
			see(c.by, c.at)
		}
	}
	for i := range l.Loads {
		if l.Loads[i].Force != (Vec{}) {
			see(l.Loads[i].On, l.Loads[i].At)
		}
	}
	for b := range low {
		if low[b].X <= high[b].X { // a corner of the box, a given number, keeps the distances exact
			l.refs[b] = low[b]
		}
		if b < len(l.Centres) && finite(l.Centres[b].X, l.Centres[b].Y) {
			l.refs[b] = l.Centres[b]
		}
	}
}

// act adds to column j what a force and a couple do to a body.
func (l *lowered) act(j, body int, sign float64, at, force Vec, couple float64) {
	if body < 0 {
		return
	}
	w := len(l.cols) + 1
	r := l.refs[body]
	row := l.a[3*body*w+j:]
	row[0] += sign * force.X
	row[w] += sign * force.Y
	row[2*w] += sign * ((at.X-r.X)*force.Y - (at.Y-r.Y)*force.X + couple)
}

// scale finds the powers of two that bring lengths, columns and loads near 1, and applies them.
func (l *lowered) scale() {
	w, n := len(l.cols)+1, len(l.cols)
	arm := exponent(l.reach())
	for b := range l.Bodies {
		l.rowExp[3*b+2] = -arm
		times(l.a[(3*b+2)*w:(3*b+3)*w], -arm)
	}
	for j := range n {
		l.scaleColumn(j)
	}
	load := 0.0
	for i := range l.rows() {
		row := l.a[i*w : (i+1)*w]
		if i >= 3*l.Bodies {
			high := 0.0
			for _, v := range row[:n] {
				high = max(high, math.Abs(v))
			}
			l.rowExp[i] = -exponent(high)
			times(row, l.rowExp[i])
		}
		load = max(load, math.Abs(row[n]))
	}
	l.loadExp = exponent(load)
	f := math.Ldexp(1, -l.loadExp)
	for i := range l.rows() {
		l.a[i*w+n] *= f
	}
}

// reach returns the greatest distance of a force from where its body's moments are taken about.
func (l *lowered) reach() float64 {
	far := 0.0
	see := func(b int, at Vec) {
		if b >= 0 {
			far = max(far, math.Abs(at.X-l.refs[b].X), math.Abs(at.Y-l.refs[b].Y))
		}
	}
	for j := range l.cols {
		if c := &l.cols[j]; c.force != (Vec{}) {
			see(c.on, c.at)
			see(c.by, c.at)
		}
	}
	for i := range l.Loads {
		if f := &l.Loads[i]; f.Force != (Vec{}) {
			see(f.On, f.At)
		}
	}
	return far
}

// scaleColumn brings what component j does to the bodies near 1, or to the ties if it is in no
// more than these.
func (l *lowered) scaleColumn(j int) {
	w := len(l.cols) + 1
	high, tied := 0.0, 0.0
	for i := range l.rows() {
		if v := math.Abs(l.a[i*w+j]); i < 3*l.Bodies {
			high = max(high, v)
		} else {
			tied = max(tied, v)
		}
	}
	if high == 0 {
		high = tied
	}
	e := -exponent(high)
	if l.colExp[j] = e; e == 0 {
		return
	}
	f := math.Ldexp(1, e)
	for i := range l.rows() {
		l.a[i*w+j] *= f
	}
}

// exponent returns the power of two next to v; 0 for 0.
func exponent(v float64) int {
	if v == 0 {
		return 0
	}
	_, e := math.Frexp(v)
	return e
}

func times(row []float64, exp int) {
	if exp == 0 {
		return
	}
	f := math.Ldexp(1, exp)
	for i := range row {
		row[i] *= f
	}
}

// part calls yield with the columns, and their factors, that make up one component of what joint i
// exerts; of unknown -1-i if i < 0.
func (l *lowered) part(i int, p Part, yield func(col int, factor float64)) {
	if i < 0 {
		yield(l.first[len(l.Joints)]-1-i, 1)
		return
	}
	j := &l.Joints[i]
	c := l.first[i]
	switch j.Kind {
	case Hinge, Clamp:
		switch {
		case p == N || p == X:
			yield(c, 1)
		case p == F || p == Y:
			yield(c+1, 1)
		case j.Kind == Clamp:
			yield(c+2, 1)
		}
		return
	case Couple:
		if p == C {
			yield(c, 1)
		}
		return
	}
	n := direction(j.Normal)
	t := alongSurface(n)
	presses := j.presses()
	normal, friction := 0.0, 0.0
	switch p {
	case N:
		normal = 1
	case F:
		friction = 1
	case X:
		normal, friction = n.X, t.X
	case Y:
		normal, friction = n.Y, t.Y
	case C:
		if j.Kind == Face {
			yield(c+1, cross(Vec{j.To.X - j.At.X, j.To.Y - j.At.Y}, n))
		}
		return
	}
	if normal != 0 {
		for k := range presses {
			yield(c+k, normal)
		}
	}
	if friction != 0 && j.rough() {
		yield(c+presses, friction)
	}
}

// reaction puts together what joint i exerts from the values of the components.
func (l *lowered) reaction(i int, x []float64) Reaction {
	c := l.first[i]
	switch j := &l.Joints[i]; j.Kind {
	case Hinge:
		return Reaction{X: x[c], Y: x[c+1], N: x[c], F: x[c+1]}
	case Clamp:
		return Reaction{X: x[c], Y: x[c+1], Couple: x[c+2], N: x[c], F: x[c+1]}
	case Couple:
		return Reaction{Couple: x[c]}
	default:
		n := direction(j.Normal)
		t := alongSurface(n)
		r := Reaction{N: x[c]}
		presses := j.presses()
		if j.Kind == Face {
			r.N += x[c+1]
			r.Couple = clean(x[c+1] * cross(Vec{j.To.X - j.At.X, j.To.Y - j.At.Y}, n))
		}
		if j.rough() {
			r.F = x[c+presses]
		}
		r.X, r.Y = clean(r.N*n.X+r.F*t.X), clean(r.N*n.Y+r.F*t.Y)
		return r
	}
}

// clean takes the sign off a zero.
func clean(v float64) float64 {
	if v == 0 {
		return 0
	}
	return v
}

// check returns a sentence about the first thing that makes a system ill-formed.
func check(s *System) error {
	if s.Bodies < 0 {
		return fmt.Errorf("a system has %d bodies; give 0 or more", s.Bodies)
	}
	body := func(what string, i, b int) error {
		if b < Ground || b >= s.Bodies {
			return fmt.Errorf("%s %d is on body %d, but bodies are numbered from 0 to %d; give one of these, or Ground", what, i, b, s.Bodies-1)
		}
		return nil
	}
	for i := range s.Loads {
		f := &s.Loads[i]
		if err := body("load", i, f.On); err != nil {
			return err
		}
		if !finite(f.At.X, f.At.Y, f.Force.X, f.Force.Y, f.Couple) {
			return fmt.Errorf("load %d has a number that is infinite or not a number; give finite newtons and metres", i)
		}
	}
	for i := range s.Joints {
		if err := checkJoint(s, i, body); err != nil {
			return err
		}
	}
	for i := range s.Unknowns {
		u := &s.Unknowns[i]
		if err := body("unknown", i, u.On); err != nil {
			return err
		}
		if !finite(u.At.X, u.At.Y, u.Force.X, u.Force.Y, u.Couple) {
			return fmt.Errorf("unknown %d has a number that is infinite or not a number; give finite newtons and metres", i)
		}
		if !(u.Least <= u.Greatest) || math.IsInf(u.Least, 1) || math.IsInf(u.Greatest, -1) {
			return fmt.Errorf("unknown %d lies between %g and %g; give a least value that is not above the greatest", i, u.Least, u.Greatest)
		}
	}
	return checkTies(s)
}

func checkJoint(s *System, i int, body func(string, int, int) error) error {
	j := &s.Joints[i]
	if j.Kind > Couple {
		return fmt.Errorf("joint %d is of kind %d, which does not exist; give one of Contact to Couple", i, j.Kind)
	}
	if err := body("joint", i, j.On); err != nil {
		return err
	}
	if err := body("joint", i, j.By); err != nil {
		return err
	}
	if j.On == j.By {
		return fmt.Errorf("joint %d joins body %d to itself; give two different bodies, or a body and Ground", i, j.On)
	}
	if !finite(j.At.X, j.At.Y) {
		return fmt.Errorf("joint %d acts at a place that is infinite or not a number; give finite metres", i)
	}
	switch j.Kind {
	case Hinge, Clamp, Couple:
		return nil
	}
	if h := math.Hypot(j.Normal.X, j.Normal.Y); !(h > 0) || math.IsInf(h, 0) {
		return fmt.Errorf("joint %d has a normal of length %g; give a direction of length 1", i, h)
	}
	if j.Kind == Face && (!finite(j.To.X, j.To.Y) || j.To == j.At) {
		return fmt.Errorf("joint %d is a face from a point to no other point; give its two ends", i)
	}
	if (j.Kind == Contact || j.Kind == Face) && !(j.Mu >= 0) {
		return fmt.Errorf("joint %d has a coefficient of friction of %g; give 0 or more", i, j.Mu)
	}
	return nil
}

func checkTies(s *System) error {
	for i, tie := range s.Ties {
		if !finite(tie.Value) {
			return fmt.Errorf("tie %d has a value that is infinite or not a number; give a finite one", i)
		}
		for _, t := range tie.Terms {
			if t.Joint >= len(s.Joints) || t.Joint < -len(s.Unknowns) {
				return fmt.Errorf("tie %d names joint %d of %d and %d unknowns; give a joint from 0, or -1 minus the number of an unknown", i, t.Joint, len(s.Joints), len(s.Unknowns))
			}
			if !finite(t.Factor) || t.Part > C {
				return fmt.Errorf("tie %d has a factor of %g of part %d; give a finite factor of N, F, X, Y or C", i, t.Factor, t.Part)
			}
		}
	}
	return nil
}

func finite(vs ...float64) bool {
	for _, v := range vs {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
