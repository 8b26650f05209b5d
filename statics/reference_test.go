package statics

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// A program is a system written anew, apart from the code under test, as a linear program with
// A x = b, x ≥ 0: every component that may be negative is the difference of two, every limit has a slack.
type program struct {
	a    [][]float64
	b    []float64
	cols int
	part []func(p Part) []float64 // of each joint: a row whose product with x is that part of its force
	un   [][]float64              // the same of each unknown
	size float64                  // largest number in b
	// Contacts that never slip, whose normal force must be above zero for any friction.
	endless [][]float64
	// What is left before each limit, to tell whether one is reached.
	left []int
}

// reference writes s out about the origin of the plane.
func reference(s *System) *program {
	p := &program{}
	bodyRows := 3 * s.Bodies
	p.b = make([]float64, bodyRows)
	var columns [][]float64
	var limits []map[int]float64
	blank := func() int { columns = append(columns, make([]float64, bodyRows)); return len(columns) - 1 }
	addTo := func(col []float64, body int, sign float64, at, f Vec, c float64) {
		if body >= 0 {
			col[3*body] += sign * f.X
			col[3*body+1] += sign * f.Y
			col[3*body+2] += sign * (at.X*f.Y - at.Y*f.X + c)
		}
	}
	positive := func(on, by int, at, f Vec, c float64) int {
		k := blank()
		addTo(columns[k], on, 1, at, f, c)
		addTo(columns[k], by, -1, at, f, c)
		return k
	}
	both := func(on, by int, at, f Vec, c float64) int { // and the next column, its opposite
		k := positive(on, by, at, f, c)
		positive(on, by, at, Vec{-f.X, -f.Y}, -c)
		return k
	}
	type share struct {
		col           int
		signed        bool
		n, f, x, y, c float64
	}
	shares := make([][]share, len(s.Joints))
	for i, j := range s.Joints {
		n, t := j.Normal, Vec{j.Normal.Y, -j.Normal.X}
		var presses []int
		switch j.Kind {
		case Contact, Pull, Face:
			k := positive(j.On, j.By, j.At, n, 0)
			presses = append(presses, k)
			p.left = append(p.left, k)
			shares[i] = append(shares[i], share{k, false, 1, 0, n.X, n.Y, 0})
			if j.Kind == Face {
				k = positive(j.On, j.By, j.To, n, 0)
				presses = append(presses, k)
				p.left = append(p.left, k)
				shares[i] = append(shares[i], share{k, false, 1, 0, n.X, n.Y, (j.To.X-j.At.X)*n.Y - (j.To.Y-j.At.Y)*n.X})
			}
		case Rod:
			shares[i] = append(shares[i], share{both(j.On, j.By, j.At, n, 0), true, 1, 0, n.X, n.Y, 0})
		case Hinge, Clamp:
			shares[i] = append(shares[i], share{both(j.On, j.By, j.At, Vec{1, 0}, 0), true, 1, 0, 1, 0, 0},
				share{both(j.On, j.By, j.At, Vec{0, 1}, 0), true, 0, 1, 0, 1, 0})
		}
		if j.Kind == Clamp || j.Kind == Couple {
			shares[i] = append(shares[i], share{both(j.On, j.By, j.At, Vec{}, 1), true, 0, 0, 0, 0, 1})
		}
		if (j.Kind == Contact || j.Kind == Face) && j.Mu > 0 {
			k := both(j.On, j.By, j.At, t, 0)
			shares[i] = append(shares[i], share{k, true, 0, 1, t.X, t.Y, 0})
			if !math.IsInf(j.Mu, 1) {
				for _, sign := range []float64{1, -1} {
					m := map[int]float64{k: sign, k + 1: -sign}
					for _, q := range presses {
						m[q] = j.Mu
					}
					limits = append(limits, m)
				}
			}
		}
	}
	type bounded struct {
		col   int
		value float64
		sign  float64
	}
	var bounds []bounded
	unknown := make([]int, len(s.Unknowns))
	for i, u := range s.Unknowns {
		unknown[i] = both(u.On, Ground, u.At, u.Force, u.Couple)
		if !math.IsInf(u.Least, 0) {
			bounds = append(bounds, bounded{unknown[i], u.Least, 1})
		}
		if !math.IsInf(u.Greatest, 0) {
			bounds = append(bounds, bounded{unknown[i], u.Greatest, -1})
		}
	}
	for _, f := range s.Loads {
		addTo(p.b, f.On, -1, f.At, f.Force, f.Couple)
	}
	structural := len(columns)
	p.cols = structural + len(limits) + len(bounds)
	row := func() []float64 { return make([]float64, p.cols) }
	for r := range bodyRows {
		a := row()
		for k, c := range columns {
			a[k] = c[r]
		}
		p.a = append(p.a, a)
	}
	for i := range s.Joints {
		p.part = append(p.part, func(q Part) []float64 {
			a := row()
			for _, sh := range shares[i] {
				v := [...]float64{sh.n, sh.f, sh.x, sh.y, sh.c}[q]
				a[sh.col] += v
				if sh.signed {
					a[sh.col+1] -= v
				}
			}
			return a
		})
		if j := s.Joints[i]; (j.Kind == Contact || j.Kind == Face) && math.IsInf(j.Mu, 1) {
			p.endless = append(p.endless, p.part[i](N))
		}
	}
	for _, k := range unknown {
		a := row()
		a[k], a[k+1] = 1, -1
		p.un = append(p.un, a)
	}
	for _, tie := range s.Ties {
		a := row()
		for _, t := range tie.Terms {
			var add []float64
			if t.Joint < 0 {
				add = p.un[-1-t.Joint]
			} else {
				add = p.part[t.Joint](t.Part)
			}
			for k, v := range add {
				a[k] += t.Factor * v
			}
		}
		p.a, p.b = append(p.a, a), append(p.b, tie.Value)
	}
	for i, m := range limits {
		a := row()
		for k, v := range m {
			a[k] = v
		}
		a[structural+i] = -1
		p.left = append(p.left, structural+i)
		p.a, p.b = append(p.a, a), append(p.b, 0)
	}
	for i, m := range bounds {
		a := row()
		a[m.col], a[m.col+1] = m.sign, -m.sign
		a[structural+len(limits)+i] = -1
		p.a, p.b = append(p.a, a), append(p.b, m.sign*m.value)
	}
	for _, v := range p.b {
		p.size = max(p.size, math.Abs(v))
	}
	return p
}

var errRefused = errors.New("the general solver refused")

// A watched matrix stops a solver that goes in circles, which gonum's does where many limits meet.
type watched struct {
	m    *mat.Dense
	left *int
}

func (w watched) Dims() (int, int) { return w.m.Dims() }
func (w watched) T() mat.Matrix    { return mat.Transpose{Matrix: w} }
func (w watched) At(i, j int) float64 {
	if *w.left--; *w.left < 0 {
		panic(errRefused)
	}
	return w.m.At(i, j)
}

// dear is the cost of leaving an equation unfulfilled by as much as the largest load.
const dear = 1e4

// least minimises c·x with gonum; c nil is for any x. Each equation gets an artificial column, so
// that there is a first set to start from even where equations follow from each other.
func (p *program) least(c []float64) (value float64, x []float64, err error) {
	rows := len(p.a)
	size := max(p.size, 1e-300)
	a, b := mat.NewDense(rows, p.cols+rows, nil), make([]float64, rows)
	cost, basis := make([]float64, p.cols+rows), make([]int, rows)
	copy(cost, c)
	scale := 1.0
	for _, v := range c {
		scale = max(scale, math.Abs(v))
	}
	for i, row := range p.a {
		sign := 1.0
		if p.b[i] < 0 {
			sign = -1
		}
		for k, v := range row {
			a.Set(i, k, sign*v)
		}
		b[i] = sign * p.b[i] / size
		a.Set(i, p.cols+i, 1)
		cost[p.cols+i], basis[i] = dear*scale, p.cols+i
	}
	// The solver takes no column of zeros.
	for k := range p.cols {
		if mat.Norm(a.ColView(k), 1) == 0 {
			return 0, nil, errRefused
		}
	}
	defer func() {
		if recover() != nil {
			value, x, err = 0, nil, errRefused
		}
	}()
	left := 60 * rows * (p.cols + rows)
	_, x, err = lp.Simplex(cost, watched{a, &left}, b, 1e-12, basis)
	if errors.Is(err, lp.ErrUnbounded) {
		// Only a verdict if there is any set of forces at all.
		if c != nil {
			if _, _, err := p.least(nil); err == nil {
				return 0, nil, lp.ErrUnbounded
			}
		}
		return 0, nil, errRefused
	}
	if err != nil {
		return 0, nil, errRefused
	}
	over := 0.0
	for _, v := range x[p.cols:] {
		over += v
	}
	switch {
	case over > 1e-7 && c == nil:
		return 0, nil, lp.ErrInfeasible
	case over > 1e-11:
		return 0, nil, errRefused
	}
	x = x[:p.cols]
	for k := range x {
		if x[k] < -1e-9 {
			return 0, nil, errRefused
		}
		x[k] *= size
	}
	for i, row := range p.a { // does the answer hold at all?
		if math.Abs(dot(row, x)-p.b[i]) > 1e-8*p.size {
			return 0, nil, errRefused
		}
	}
	if c != nil {
		value = dot(c, x)
	}
	return value, x, nil
}

func dot(a, x []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * x[i]
	}
	return sum
}

func near(a, b, size float64) bool {
	return a == b || math.Abs(a-b) <= 1e-9*max(size, math.Abs(a), math.Abs(b))
}

// Ten thousand arrangements of all kinds: the same verdict, the same forces and the same spans as a
// general-purpose linear program solver. Those it refuses are put to another one in TestGLPK.
func TestAgainstGeneralSolver(t *testing.T) {
	r, own := rand.New(rand.NewPCG(1, 2)), rand.New(rand.NewPCG(3, 4))
	states := map[State]int{}
	kinds := map[string]int{}
	refused, spans := 0, 0
	for k := range 10000 {
		s, kind := arrangement(r)
		sol, err := Solve(&s)
		if err != nil {
			t.Fatalf("arrangement %d (%s): %v", k, kind, err)
		}
		states[sol.State]++
		kinds[kind]++
		p := reference(&s)
		_, x, err := p.least(nil)
		if errors.Is(err, errRefused) {
			refused++
			continue
		}
		if (err == nil) != (sol.State != NoEquilibrium) {
			if err == nil && p.slipsFree() {
				continue
			}
			t.Errorf("arrangement %d (%s): state %d, the general solver says %v\n%+v", k, kind, sol.State, err, s)
			continue
		}
		if err == nil && sol.State != NotFixed {
			p.compare(t, k, kind, &s, &sol, x)
		}
		if sol.State == NotFixed {
			spans += p.compareSpans(t, k, kind, own, &sol)
		}
	}
	t.Logf("states %v, kinds %v; refused by the general solver: %d; spans compared: %d", states, kinds, refused, spans)
	for st := Unique; st <= NoEquilibrium; st++ {
		if states[st] < 200 {
			t.Errorf("only %d arrangements of state %d: too few to tell anything", states[st], st)
		}
	}
	if spans < 500 {
		t.Errorf("only %d spans compared: too few to tell anything", spans)
	}
}

// slipsFree reports whether some contact that never slips has nothing to press it.
func (p *program) slipsFree() bool {
	for _, n := range p.endless {
		c := make([]float64, len(n))
		for i, v := range n {
			c[i] = -v
		}
		if v, _, err := p.least(c); err == nil && math.Abs(v) < 1e-9*p.size {
			return true
		}
	}
	return false
}

// compare holds a fixed solution against the general solver's forces.
func (p *program) compare(t *testing.T, k int, kind string, s *System, sol *Solution, x []float64) {
	for i, got := range sol.Reactions {
		for part, v := range map[Part]float64{N: got.N, F: got.F, X: got.X, Y: got.Y, C: got.Couple} {
			if want := dot(p.part[i](part), x); !near(v, want, p.size) {
				t.Errorf("arrangement %d (%s): part %d of joint %d is %v, want %v", k, kind, part, i, v, want)
			}
		}
	}
	for i, v := range sol.Unknowns {
		if want := dot(p.un[i], x); !near(v, want, p.size) {
			t.Errorf("arrangement %d (%s): unknown %d is %v, want %v", k, kind, i, v, want)
		}
	}
	reached := false
	for _, q := range p.left {
		reached = reached || math.Abs(x[q]) <= 1e-9*p.size
	}
	if reached != (sol.State == Limit) {
		t.Errorf("arrangement %d (%s): state %d, limit reached: %v\n%+v", k, kind, sol.State, reached, *s)
	}
	if sol.State == Limit && len(sol.Giving) == 0 {
		t.Errorf("arrangement %d (%s): at the limit, but nothing gives", k, kind)
	}
}

// compareSpans holds the span of one random part, and of a wide one, against the general solver's.
func (p *program) compareSpans(t *testing.T, k int, kind string, r *rand.Rand, sol *Solution) int {
	type item struct {
		got  Span
		part []float64
	}
	var items []item
	for i, v := range sol.Spans {
		for part, got := range []Span{v.N, v.F, v.X, v.Y, v.Couple} {
			items = append(items, item{got, p.part[i](Part(part))})
		}
	}
	for i, got := range sol.Ranges {
		items = append(items, item{got, p.un[i]})
	}
	wide := 0
	for i, it := range items {
		if it.got.Greatest-it.got.Least > items[wide].got.Greatest-items[wide].got.Least {
			wide = i
		}
	}
	if !(items[wide].got.Greatest > items[wide].got.Least) {
		t.Errorf("arrangement %d (%s): not fixed, but every span is a single value", k, kind)
	}
	done := 0
	for _, i := range []int{wide, r.IntN(len(items))} {
		for _, sign := range []float64{1, -1} {
			c := make([]float64, p.cols)
			for q, v := range items[i].part {
				c[q] = sign * v
			}
			v, _, err := p.least(c)
			want, got := sign*v, items[i].got.Least
			if sign < 0 {
				got = items[i].got.Greatest
			}
			switch {
			case errors.Is(err, lp.ErrUnbounded):
				want = math.Inf(-int(sign))
			case err != nil:
				continue
			}
			done++
			if !near(got, want, p.size) {
				t.Errorf("arrangement %d (%s): span %d %v, the general solver says %v for sign %v", k, kind, i, items[i].got, want, sign)
			}
		}
	}
	return done
}

// Bodies joined in a chain, each held by a hinge and a rod: a general dense solve gives the forces.
func TestAgainstDenseSolve(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 15))
	compared := 0
	for range 2000 {
		n := 1 + r.IntN(3)
		s := System{Bodies: n}
		point := func() Vec { return Vec{10*r.Float64() - 5, 10*r.Float64() - 5} }
		a, b := mat.NewDense(3*n, 3*n, nil), mat.NewVecDense(3*n, nil)
		act := func(body, col int, sign float64, at, f Vec) {
			if body >= 0 {
				a.Set(3*body, col, sign*f.X)
				a.Set(3*body+1, col, sign*f.Y)
				a.Set(3*body+2, col, sign*(at.X*f.Y-at.Y*f.X))
			}
		}
		for i := range n {
			l := Load{On: i, At: point(), Force: Vec{200 * r.NormFloat64(), 200 * r.NormFloat64()}, Couple: 50 * r.NormFloat64()}
			s.Loads = append(s.Loads, l)
			b.SetVec(3*i, -l.Force.X)
			b.SetVec(3*i+1, -l.Force.Y)
			b.SetVec(3*i+2, -(l.At.X*l.Force.Y - l.At.Y*l.Force.X + l.Couple))
			hinge, angle := Joint{Kind: Hinge, On: i, By: i - 1, At: point()}, 2*math.Pi*r.Float64()
			rod := Joint{Kind: Rod, On: i, By: Ground, At: point(), Normal: Vec{math.Cos(angle), math.Sin(angle)}}
			s.Joints = append(s.Joints, hinge, rod)
			for k, f := range []Vec{{1, 0}, {0, 1}} {
				act(i, 3*i+k, 1, hinge.At, f)
				act(i-1, 3*i+k, -1, hinge.At, f)
			}
			act(i, 3*i+2, 1, rod.At, rod.Normal)
		}
		var x mat.VecDense
		if err := x.SolveVec(a, b); err != nil || mat.Cond(a, 2) > 1e4 {
			continue // nearly a mechanism: digits are lost in either
		}
		compared++
		sol, err := Solve(&s)
		if err != nil || sol.State != Unique {
			t.Fatalf("state %d, %v: %+v", sol.State, err, s)
		}
		size := mat.Norm(&x, math.Inf(1))
		for i := range n {
			got := []float64{sol.Reactions[2*i].X, sol.Reactions[2*i].Y, sol.Reactions[2*i+1].N}
			for k, v := range got {
				if want := x.AtVec(3*i + k); !near(v, want, size) {
					t.Errorf("body %d: component %d is %v, want %v", i, k, v, want)
				}
			}
		}
	}
	if compared < 1000 {
		t.Errorf("only %d compared", compared)
	}
}
