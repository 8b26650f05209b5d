package statics

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

// each runs a law on random arrangements with their solutions.
func each(t *testing.T, n int, seed uint64, law func(t *testing.T, r *rand.Rand, s System, sol Solution)) {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 7))
	for k := range n {
		s, kind := arrangement(r)
		sol := must(t, s)
		law(t, r, s, sol)
		if t.Failed() {
			t.Fatalf("arrangement %d (%s): state %d\n%+v", k, kind, sol.State, s)
		}
	}
}

func must(t *testing.T, s System) Solution {
	t.Helper()
	sol, err := Solve(&s)
	if err != nil {
		t.Fatal(err)
	}
	return sol
}

// size returns the largest force of a system or its solution, for tolerances.
func (s *System) size(sol *Solution) float64 {
	high := 0.0
	for b := range s.Bodies {
		for _, f := range s.On(b, sol) {
			high = max(high, math.Abs(f.Force.X), math.Abs(f.Force.Y), math.Abs(f.Couple))
		}
	}
	return high
}

// In equilibrium the moments balance about every point, not only about the one chosen.
func TestMomentsBalanceAboutEveryPoint(t *testing.T) {
	held := 0
	each(t, 1500, 1, func(t *testing.T, r *rand.Rand, s System, sol Solution) {
		if sol.State == NoEquilibrium {
			return
		}
		held++
		size := s.size(&sol)
		for b := range s.Bodies {
			forces := s.On(b, &sol)
			for range 100 {
				p := Vec{20*r.Float64() - 10, 20*r.Float64() - 10}
				f, m := Balance(p, forces...)
				if math.Abs(f.X)+math.Abs(f.Y) > 1e-9*size || math.Abs(m) > 2e-8*size {
					t.Errorf("body %d: %v N and %v N m about %v are left of forces up to %v N", b, f, m, p, size)
					return
				}
			}
		}
	})
	if held < 300 {
		t.Errorf("only %d were in equilibrium", held)
	}
}

// same reports whether two solutions have the same state and the same forces, times factor.
func same(t *testing.T, a, b Solution, size, factor float64) {
	t.Helper()
	if a.State != b.State {
		t.Errorf("state %d has become %d", a.State, b.State)
		return
	}
	for i := range a.Reactions {
		if a.State == NotFixed {
			for k, x := range []Span{a.Spans[i].N, a.Spans[i].F} {
				y := []Span{b.Spans[i].N, b.Spans[i].F}[k]
				if !near(x.Least*factor, y.Least, size*factor) || !near(x.Greatest*factor, y.Greatest, size*factor) {
					t.Errorf("joint %d: span %v has become %v", i, x, y)
				}
			}
			continue
		}
		x, y := a.Reactions[i], b.Reactions[i]
		if !near(x.N*factor, y.N, size*factor) || !near(x.F*factor, y.F, size*factor) {
			t.Errorf("joint %d: %v has become %v", i, x, y)
		}
	}
	if !reflect.DeepEqual(a.Giving, b.Giving) {
		t.Errorf("%v gives, then %v", a.Giving, b.Giving)
	}
}

// changed returns s with every place and every force changed.
func changed(s System, place, force func(Vec) Vec, couple, metre float64) System {
	out := System{Bodies: s.Bodies, Ties: s.Ties}
	for _, f := range s.Loads {
		f.At, f.Force, f.Couple = place(f.At), force(f.Force), couple*f.Couple
		out.Loads = append(out.Loads, f)
	}
	for _, j := range s.Joints {
		j.At, j.To = place(j.At), place(j.To)
		if n := force(j.Normal); math.Hypot(n.X, n.Y) > 0 {
			j.Normal = direction(n)
		}
		out.Joints = append(out.Joints, j)
	}
	for _, u := range s.Unknowns {
		u.At, u.Force, u.Couple = place(u.At), force(u.Force), couple*u.Couple
		u.Least, u.Greatest = u.Least*metre, u.Greatest*metre
		out.Unknowns = append(out.Unknowns, u)
	}
	return out
}

func TestShifted(t *testing.T) {
	still := func(v Vec) Vec { return v }
	each(t, 700, 2, func(t *testing.T, r *rand.Rand, s System, sol Solution) {
		if len(s.Unknowns) > 0 && s.Unknowns[0].Force == (Vec{}) {
			return // a place counted from the origin
		}
		moved := changed(s, func(v Vec) Vec { return Vec{v.X + 2, v.Y - 3} }, still, 1, 1)
		same(t, sol, must(t, moved), s.size(&sol), 1)
	})
}

// In a mirror the friction direction, a quarter turn clockwise from the normal, is turned about.
func TestMirrored(t *testing.T) {
	flip := func(v Vec) Vec { return Vec{-v.X, v.Y} }
	each(t, 700, 3, func(t *testing.T, r *rand.Rand, s System, sol Solution) {
		if len(s.Ties) > 0 {
			return
		}
		got := must(t, changed(s, flip, flip, -1, 1))
		for i := range got.Reactions {
			switch s.Joints[i].Kind {
			case Contact, Face:
				got.Reactions[i].F *= -1
				if got.Spans != nil {
					got.Spans[i].F = Span{-got.Spans[i].F.Greatest, -got.Spans[i].F.Least}
				}
			case Hinge, Clamp:
				got.Reactions[i].N *= -1
				if got.Spans != nil {
					got.Spans[i].N = Span{-got.Spans[i].N.Greatest, -got.Spans[i].N.Least}
				}
			}
		}
		same(t, sol, got, s.size(&sol), 1)
	})
}

// Millinewtons and meganewtons, and loads doubled, give the same digits.
func TestUnits(t *testing.T) {
	each(t, 500, 4, func(t *testing.T, r *rand.Rand, s System, sol Solution) {
		if len(s.Unknowns)+len(s.Ties) > 0 {
			return
		}
		still := func(v Vec) Vec { return v }
		for _, k := range []float64{2, 1e-3, 1e6} {
			scaled := changed(s, still, still, k, 1)
			for i := range scaled.Loads {
				f := &scaled.Loads[i].Force
				f.X, f.Y = f.X*k, f.Y*k
			}
			same(t, sol, must(t, scaled), s.size(&sol), k)
		}
		// In millimetres, couples are in N mm and turn up 1000 times as large: forces are the same.
		short := changed(s, func(v Vec) Vec { return Vec{v.X * 1000, v.Y * 1000} }, still, 1000, 1)
		same(t, sol, must(t, short), s.size(&sol), 1)
	})
}

// Bodies renumbered and joints in another order are the same arrangement.
func TestRenamed(t *testing.T) {
	each(t, 700, 5, func(t *testing.T, r *rand.Rand, s System, sol Solution) {
		if len(s.Ties) > 0 {
			return
		}
		name := func(b int) int {
			if b < 0 {
				return b
			}
			return s.Bodies - 1 - b
		}
		other := changed(s, func(v Vec) Vec { return v }, func(v Vec) Vec { return v }, 1, 1)
		order := r.Perm(len(s.Joints))
		for i, k := range order {
			other.Joints[k] = s.Joints[i]
			other.Joints[k].On, other.Joints[k].By = name(s.Joints[i].On), name(s.Joints[i].By)
		}
		for i := range other.Loads {
			other.Loads[i].On = name(other.Loads[i].On)
		}
		for i := range other.Unknowns {
			other.Unknowns[i].On = name(other.Unknowns[i].On)
		}
		got := must(t, other)
		back := got
		back.Reactions, back.Spans, back.Giving = nil, nil, sol.Giving
		for _, k := range order {
			if got.Reactions != nil {
				back.Reactions = append(back.Reactions, got.Reactions[k])
			}
			if got.Spans != nil {
				back.Spans = append(back.Spans, got.Spans[k])
			}
		}
		same(t, sol, back, s.size(&sol), 1)
		if len(got.Giving) != len(sol.Giving) {
			t.Errorf("%v gives, then %v", sol.Giving, got.Giving)
		}
	})
}

// Where forces are fixed, those of two loads together are the sums of those of each alone.
func TestSuperposition(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	for range 500 {
		s := System{Bodies: 1, Joints: []Joint{{Kind: Hinge, On: 0, By: Ground, At: Vec{pick(r, 0, 2, 0.1), 0}},
			{Kind: Rod, On: 0, By: Ground, At: Vec{pick(r, 3, 5, 0.1), 0}, Normal: Vec{0.6, 0.8}}}}
		a := down(0, pick(r, 0, 5, 0.1), 0, pick(r, 10, 500, 1))
		b := Load{On: 0, At: Vec{pick(r, 0, 5, 0.1), 1}, Force: Vec{pick(r, -90, 90, 7), 30}, Couple: pick(r, -9, 9, 0.1)}
		solve := func(l ...Load) []Reaction { s.Loads = l; return must(t, s).Reactions }
		first, second, both := solve(a), solve(b), solve(a, b)
		for i := range both {
			if sum := first[i].X + second[i].X; !near(sum, both[i].X, 500) {
				t.Errorf("joint %d: %v and %v make %v", i, first[i], second[i], both[i])
			}
			if sum := first[i].Y + second[i].Y; !near(sum, both[i].Y, 500) {
				t.Errorf("joint %d: %v and %v make %v", i, first[i], second[i], both[i])
			}
		}
	}
}

// A motion does positive work and violates no contact, cable, rod, hinge or clamp; friction within
// its cone does no work that could stop it.
func TestMotionDoesWorkAndViolatesNothing(t *testing.T) {
	moved := 0
	each(t, 2500, 8, func(t *testing.T, r *rand.Rand, s System, sol Solution) {
		if sol.State != NoEquilibrium {
			return
		}
		if sol.Motion == nil {
			s.Ties = nil
			if got := must(t, s); got.State == NoEquilibrium {
				t.Error("no motion, though no tie is needed to forbid equilibrium")
			}
			return
		}
		moved++
		work := 0.0
		power := func(body int, at, force Vec, couple float64) float64 {
			if body < 0 {
				return 0
			}
			v := sol.Motion.Velocity[body]
			u := v.At(at)
			return u.X*force.X + u.Y*force.Y + v.Turn*couple
		}
		size := 0.0
		for _, f := range s.Loads {
			work += power(f.On, f.At, f.Force, f.Couple)
			size += math.Hypot(f.Force.X, f.Force.Y) + math.Abs(f.Couple)
		}
		for _, u := range s.Unknowns {
			rate := power(u.On, u.At, u.Force, u.Couple)
			worst := min(rate*u.Least, rate*u.Greatest)
			if math.Abs(rate) < 1e-9 {
				worst = 0
			}
			work += worst
		}
		if !(work > 1e-9*size) {
			t.Errorf("the motion does work at %v W", work)
		}
		for i, j := range s.Joints {
			rate := func(at, f Vec, c float64) float64 { return power(j.On, at, f, c) - power(j.By, at, f, c) }
			n := j.Normal
			tangent := Vec{n.Y, -n.X}
			const tol = 1e-8
			bad := false
			switch j.Kind {
			case Contact, Pull, Face:
				bad = rate(j.At, n, 0) < -tol || j.Kind == Face && rate(j.To, n, 0) < -tol
				// A rough contact that slides and stays pressed is said to slide.
				if slide := math.Abs(rate(j.At, tangent, 0)); j.Kind != Pull && j.Mu > 0 && slide > 1e-6 && !math.IsInf(j.Mu, 1) {
					bad = bad || !slices.Contains(sol.Motion.Slides, i) && !slices.Contains(sol.Motion.Opens, i)
				}
			case Rod:
				bad = math.Abs(rate(j.At, n, 0)) > tol
			case Hinge, Clamp:
				bad = math.Abs(rate(j.At, Vec{1, 0}, 0)) > tol || math.Abs(rate(j.At, Vec{0, 1}, 0)) > tol
			}
			if j.Kind == Clamp || j.Kind == Couple {
				bad = bad || math.Abs(rate(Vec{}, Vec{}, 1)) > tol
			}
			if bad {
				t.Errorf("the motion %+v violates joint %d", *sol.Motion, i)
			}
		}
	})
	if moved < 500 {
		t.Errorf("only %d moved", moved)
	}
}

// A thousand arrangements in which the float64 path is sure of itself, worked again in rationals.
func TestFloatAgainstExact(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	sure := 0
	for k := 0; sure < 1000; k++ {
		s, kind := arrangement(r)
		l, err := lower(&s)
		if err != nil {
			t.Fatal(err)
		}
		x := make([]float64, len(l.cols))
		state, ok := l.quick(x)
		if !ok {
			continue
		}
		sure++
		e := newExact(l)
		d, y := e.settle()
		want := NoEquilibrium
		if y == nil {
			want = e.classify(d)
		}
		if state != want {
			t.Fatalf("arrangement %d (%s): state %d, exactly %d\n%+v", k, kind, state, want, s)
		}
		if state != Unique {
			continue
		}
		exactly := e.floats(e.values(d))
		size := 0.0
		for _, v := range exactly {
			size = max(size, math.Abs(v))
		}
		for j := range x {
			if math.Abs(x[j]-exactly[j]) > 1e-9*math.Abs(exactly[j]) && math.Abs(x[j]-exactly[j]) > 1e-13*size {
				t.Errorf("arrangement %d (%s): component %d is %v, exactly %v", k, kind, j, x[j], exactly[j])
			}
		}
	}
}
