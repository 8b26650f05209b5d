package statics

import (
	"bytes"
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"reflect"
	"strings"
	"testing"
)

// The handbook's formulas, over random values. The sources are beside them in testdata.
func TestHandbookReactions(t *testing.T) {
	data, err := os.ReadFile("testdata/beam-reactions.csv")
	if err != nil {
		t.Fatal(err)
	}
	lines := csv.NewReader(bytes.NewReader(data))
	lines.Comment = '#'
	rows, err := lines.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	// For each row of the file, by how it starts: its loads and its span, and its formulas in Go.
	type made struct {
		left, right float64 // supports
		loads       []Load
		p, q        float64 // reactions by the formulas
	}
	r := rand.New(rand.NewPCG(10, 10))
	num := func() float64 { return 0.5 + 5*r.Float64() }
	spread := func(w, from, to float64) Load { return down(0, (from+to)/2, 0, w*(to-from)) }
	makers := []func() (formula [2]string, m made){
		func() ([2]string, made) {
			P, L := num(), num()
			a := L * r.Float64()
			b := L - a
			return [2]string{"P*b/L", "P*a/L"}, made{0, L, []Load{down(0, a, 0, P)}, P * b / L, P * a / L}
		},
		func() ([2]string, made) {
			P, Q, L := num(), num(), num()
			a, b := L*r.Float64(), L*r.Float64()
			return [2]string{"(P*(L - a) + Q*b)/L", "(P*a + Q*(L - b))/L"}, made{0, L, []Load{down(0, a, 0, P), down(0, L-b, 0, Q)}, (P*(L-a) + Q*b) / L, (P*a + Q*(L-b)) / L}
		},
		func() ([2]string, made) {
			w, L := num(), num()
			return [2]string{"w*L/2", "w*L/2"}, made{0, L, []Load{spread(w, 0, L)}, w * L / 2, w * L / 2}
		},
		func() ([2]string, made) {
			w, a, b, c := num(), num(), num(), num()
			L := a + b + c
			return [2]string{"w*b*(2*c + b)/(2*L)", "w*b*(2*a + b)/(2*L)"}, made{0, L, []Load{spread(w, a, a+b)}, w * b * (2*c + b) / (2 * L), w * b * (2*a + b) / (2 * L)}
		},
		func() ([2]string, made) {
			P, L, a := num(), num(), num()
			return [2]string{"-P*a/L", "P*(L + a)/L"}, made{0, L, []Load{down(0, L+a, 0, P)}, -P * a / L, P * (L + a) / L}
		},
		func() ([2]string, made) {
			P, L, a := num(), num(), num()
			return [2]string{"P", "P"}, made{0, L, []Load{down(0, -a, 0, P), down(0, L+a, 0, P)}, P, P}
		},
		func() ([2]string, made) {
			w, L, a := num(), num(), num()
			return [2]string{"w*(L^2 - a^2)/(2*L)", "w*(L + a)^2/(2*L)"}, made{0, L, []Load{spread(w, 0, L+a)}, w * (L*L - a*a) / (2 * L), w * (L + a) * (L + a) / (2 * L)}
		},
		func() ([2]string, made) {
			w, a, b, c := num(), num(), num(), num()
			l := a + b + c
			return [2]string{"w*l*(l - 2*c)/(2*b)", "w*l*(l - 2*a)/(2*b)"}, made{a, a + b, []Load{spread(w, 0, l)}, w * l * (l - 2*c) / (2 * b), w * l * (l - 2*a) / (2 * b)}
		},
	}
	if len(rows)-1 != len(makers) {
		t.Fatalf("the file has %d cases, the test %d", len(rows)-1, len(makers))
	}
	for i, maker := range makers {
		for range 200 {
			formula, m := maker()
			if got := [2]string{rows[i+1][1], rows[i+1][2]}; got != formula {
				t.Fatalf("row %d has the formulas %q, the test %q", i+1, got, formula)
			}
			s := System{Bodies: 1, Loads: m.loads}
			for _, x := range []float64{m.left, m.right} {
				s.Joints = append(s.Joints, Joint{Kind: Rod, On: 0, By: Ground, At: Vec{x, 0}, Normal: Vec{0, 1}})
			}
			sol := must(t, s)
			size := math.Abs(m.p) + math.Abs(m.q)
			if sol.State != Unique || !near(sol.Reactions[0].Y, m.p, size) || !near(sol.Reactions[1].Y, m.q, size) {
				t.Errorf("%s: %v, want %v and %v", rows[i+1][0], sol.Reactions, m.p, m.q)
			}
			// On rests, which can't pull down, the verdict follows the signs.
			for k := range s.Joints {
				s.Joints[k].Kind = Contact
			}
			if got, want := must(t, s).State, min(m.p, m.q) < -1e-9; (got == NoEquilibrium) != want {
				t.Errorf("%s on rests: state %d, reactions %v and %v", rows[i+1][0], got, m.p, m.q)
			}
		}
	}
}

func board(at float64) System {
	return System{Bodies: 1, Loads: []Load{down(0, 2.4, 0, 310), down(0, at, 0, 540)},
		Joints: []Joint{rest(0, Ground, 0.6, 0, 0), rest(0, Ground, 4.2, 0, 0)}}
}

func TestFourStates(t *testing.T) {
	third := board(1.5)
	third.Joints = append(third.Joints, rest(0, Ground, 3, 0, 0))
	tip := 4.2 + 310*1.8/540 // a number that only just is the tipping position, irrational or not
	tests := []struct {
		name string
		s    System
		want State
	}{
		{"two rests", board(1.5), Unique},
		{"three rests", third, NotFixed},
		{"at the tipping position", board(tip), Limit},
		{"just inside", board(tip - 1e-6), Unique},
		{"just outside", board(tip + 1e-6), NoEquilibrium},
		{"nothing to hold it", System{Bodies: 1, Loads: []Load{down(0, 0, 0, 1)}}, NoEquilibrium},
		{"nothing at all", System{}, Unique},
	}
	for _, tt := range tests {
		if got := must(t, tt.s); got.State != tt.want {
			t.Errorf("%s: state %d, want %d", tt.name, got.State, tt.want)
		}
		if got, _ := Classify(&tt.s); got != tt.want {
			t.Errorf("%s: Classify says %d, want %d", tt.name, got, tt.want)
		}
	}
	sol := must(t, board(tip))
	if want := []Giving{{Joint: 0}}; !reflect.DeepEqual(sol.Giving, want) {
		t.Errorf("at the tipping position %v gives, want %v", sol.Giving, want)
	}
	sol = must(t, board(6))
	p, turns := sol.Motion.Velocity[0].Pivot()
	if !turns || p != (Vec{4.2, 0}) || sol.Motion.Velocity[0].Turn != -1 || !reflect.DeepEqual(sol.Motion.Opens, []int{0}) {
		t.Errorf("it tips about %v, %+v; want clockwise about the right-hand rest", p, sol.Motion)
	}
	spans := must(t, third).Spans
	if got := spans[2].N; got != (Span{0, 435}) { // moments about the left rest: 2.4 m × N + 3.6 m × N' = 1044 N m
		t.Errorf("the third rest bears %v, want 0 to 435 N", got)
	}
}

// A unknown of no effect doesn't make the forces unknown.
func TestIdleUnknown(t *testing.T) {
	s := board(1.5)
	s.Unknowns = []Unknown{{On: 0, Least: 2, Greatest: 5}}
	sol := must(t, s)
	if sol.State != Unique || sol.Unknowns[0] != 2 {
		t.Errorf("state %d, unknown %v; want fixed forces and 2", sol.State, sol.Unknowns)
	}
}

// Rough without end: friction only where something presses.
func TestEndlessFriction(t *testing.T) {
	s := System{Bodies: 1, Loads: []Load{{On: 0, Force: Vec{10, 0}}},
		Joints: []Joint{rest(0, Ground, 0, 0, math.Inf(1)), {Kind: Couple, On: 0, By: Ground}}}
	if got := must(t, s); got.State != NoEquilibrium {
		t.Errorf("nothing presses, and yet friction holds: %+v", got)
	}
	s.Loads = append(s.Loads, down(0, 0, 0, 1e-3))
	if got := must(t, s); got.State != Unique {
		t.Errorf("pressed a little, it must hold: %+v", got)
	}
}

// A block is tipped about its far edge: half the width times the weight over the height of the push.
func TestBlockTipsOrSlides(t *testing.T) {
	block := func(push, mu float64) System {
		return System{Bodies: 1, Loads: []Load{down(0, 0.3, 0.5, 100), {On: 0, At: Vec{0, 1}, Force: Vec{push, 0}}},
			Joints: []Joint{{Kind: Face, On: 0, By: Ground, At: Vec{0, 0}, To: Vec{0.6, 0}, Normal: Vec{0, 1}, Mu: mu}}}
	}
	sol := must(t, block(30, 0.5))
	if want := []Giving{{Joint: 0, End: 0}}; sol.State != Limit || !reflect.DeepEqual(sol.Giving, want) {
		t.Errorf("at the tipping force: %+v, want %v to give", sol, want)
	}
	if sol.Reactions[0].Couple != 60 { // all 100 N at the far end, 0.6 m from At
		t.Errorf("couple %v about At, want 60 N m", sol.Reactions[0].Couple)
	}
	if sol = must(t, block(20, 0.2)); sol.State != Limit || !sol.Giving[0].Slips {
		t.Errorf("at the sliding force: %+v", sol)
	}
	sol = must(t, block(40, 0.5))
	if p, ok := sol.Motion.Velocity[0].Pivot(); !ok || p != (Vec{0.6, 0}) || len(sol.Motion.Slides) > 0 {
		t.Errorf("it tips about %v: %+v, want about the far edge", p, sol.Motion)
	}
	sol = must(t, block(25, 0.2))
	if len(sol.Motion.Slides) != 1 || len(sol.Motion.Opens) != 0 || sol.Motion.Velocity[0].Turn != 0 {
		t.Errorf("it moves by %+v, want to slide", sol.Motion)
	}
}

func TestRange(t *testing.T) {
	s := board(0)
	s.Unknowns = []Unknown{{On: 0, Couple: -540, Least: math.Inf(-1), Greatest: math.Inf(1)}} // the place of the load
	x, err := Range(&s, 0)
	if err != nil {
		t.Fatal(err)
	}
	// Moments about each rest: 310 N × 1.8 m = 540 N × overhang.
	if least, greatest := 0.6-310*1.8/540, 4.2+310*1.8/540; !near(x.Span.Least, least, 1) || !near(x.Span.Greatest, greatest, 1) {
		t.Errorf("the load may stand at %v, want %v to %v", x.Span, least, greatest)
	}
	if !reflect.DeepEqual(x.LeastGiving, []Giving{{Joint: 1}}) || !reflect.DeepEqual(x.GreatestGiving, []Giving{{Joint: 0}}) {
		t.Errorf("%v and %v give", x.LeastGiving, x.GreatestGiving)
	}
	if x.AtGreatest.State != Limit || x.AtGreatest.Reactions[1].N != 850 {
		t.Errorf("at the greatest: %+v", x.AtGreatest)
	}
	s = board(2)
	s.Unknowns = []Unknown{{On: 0, At: Vec{2, 0}, Force: Vec{0, -1}, Greatest: math.Inf(1)}}
	if x, _ = Range(&s, 0); x.Span != (Span{0, math.Inf(1)}) || x.AtGreatest.Reactions != nil {
		t.Errorf("a load between the rests may be %v", x.Span)
	}
	s.Unknowns[0].At.X = -1
	if x, _ = Range(&s, 0); !near(x.Span.Greatest, (310*1.8+540*1.4)/1.6, 1) {
		t.Errorf("a load on the overhang may be %v", x.Span)
	}
	if _, err = Range(&s, 1); err == nil {
		t.Error("there is no unknown 1")
	}
}

func TestLeastFriction(t *testing.T) {
	s := System{Bodies: 1, Loads: []Load{down(0, 1.5, 2, 100)}, Joints: []Joint{rest(0, Ground, 0, 0, 0),
		{Kind: Contact, On: 0, By: Ground, At: Vec{3, 4}, Normal: Vec{-1, 0}}}}
	f, err := LeastFriction(&s, []int{0}) // uniform ladder, smooth wall: half of 3/4
	if err != nil || !f.Possible || f.Mu != 0.375 || f.At.State != Limit || !f.At.Giving[0].Slips {
		t.Errorf("%+v %v, want 0.375", f, err)
	}
	// Wall and floor alike: tan of the steepest lean is 2μ/(1-μ²) (common practice, no source); 3/4 gives 1/3.
	if f, _ = LeastFriction(&s, []int{0, 1}); !near(f.Mu, 1.0/3, 1) || len(f.At.Giving) != 2 {
		t.Errorf("%+v, want 1/3 and both to slip", f)
	}
	s.Loads = append(s.Loads, Load{On: 0, At: Vec{0, 0}, Force: Vec{0, 300}})
	if f, _ = LeastFriction(&s, []int{0}); f.Possible {
		t.Errorf("lifted off the floor it can't be held: %+v", f)
	}
	if _, err = LeastFriction(&s, []int{2}); err == nil {
		t.Error("there is no joint 2")
	}
}

// Just less friction than the least is too little, just more is enough.
func TestLeastFrictionIsLeast(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 11))
	found := 0
	for range 150 {
		s, _ := arrangement(r)
		var joints []int
		for i, j := range s.Joints {
			if j.Kind == Contact || j.Kind == Face {
				joints = append(joints, i)
			}
		}
		if len(joints) == 0 {
			continue
		}
		f, err := LeastFriction(&s, joints)
		if err != nil {
			t.Fatal(err)
		}
		verdict := func(mu float64) State {
			u := s
			u.Joints = append([]Joint{}, s.Joints...)
			for _, i := range joints {
				u.Joints[i].Mu = mu
			}
			st, err := Classify(&u)
			if err != nil {
				t.Fatal(err)
			}
			return st
		}
		switch {
		case !f.Possible:
			if st := verdict(1e6); st != NoEquilibrium {
				t.Errorf("said not to be possible, but it is with 1e6: %+v", s)
			}
		case f.Mu > 0:
			if f.Mu > 1e-11 && f.At.State != NoEquilibrium {
				found++
			}
			if a, b := verdict(f.Mu*(1-1e-6)), verdict(f.Mu*(1+1e-6)); a != NoEquilibrium || b == NoEquilibrium || f.At.State == NoEquilibrium && f.At.Motion != nil {
				t.Errorf("%v is not the least (%d, %d, %d): %+v", f.Mu, a, f.At.State, b, s)
			}
		default:
			if verdict(0) == NoEquilibrium {
				t.Errorf("smooth is said to do: %+v", s)
			}
		}
	}
	if found < 15 {
		t.Errorf("only %d found", found)
	}
}

func TestExtents(t *testing.T) {
	ladder := func(a float64) System {
		at := func(d float64) Vec { return Vec{d * math.Cos(a), d * math.Sin(a)} }
		wall := Joint{Kind: Contact, On: 0, By: Ground, At: at(3), Normal: Vec{-1, 0}}
		return System{Bodies: 1, Loads: []Load{{On: 0, At: at(1.5), Force: Vec{0, -100}}}, Joints: []Joint{rest(0, Ground, 0, 0, 0.3), wall}}
	}
	xs, err := Extents(ladder, 0.1, 1.5)
	want := math.Atan(1 / 0.6) // tan = 1/(2μ), by moments about the foot (common practice, no source)
	if err != nil || len(xs) != 1 || math.Abs(xs[0].Span.Least-want) > 2e-12 || xs[0].Span.Greatest != 1.5 {
		t.Fatalf("%+v %v, want %v to 1.5", xs, err, want)
	}
	if !reflect.DeepEqual(xs[0].LeastGiving, []Giving{{Joint: 0, Slips: true}}) || xs[0].GreatestGiving != nil {
		t.Errorf("%v and %v give", xs[0].LeastGiving, xs[0].GreatestGiving)
	}
	// A body hung from a hinge, pulled aside by 3 N for 100 N of weight, has one place below and one above.
	hung := func(a float64) System {
		return System{Bodies: 1, Loads: []Load{{On: 0, At: Vec{1.5 * math.Cos(a), 1.5 * math.Sin(a)}, Force: Vec{3, -100}}}, Joints: []Joint{{Kind: Hinge, On: 0, By: Ground}}}
	}
	xs, err = Extents(hung, -3, 3)
	if err != nil || len(xs) != 2 || math.Abs(xs[0].Span.Least+math.Atan(100.0/3)) > 1e-12 || xs[0].Span.Least != xs[0].Span.Greatest {
		t.Errorf("%+v %v, want one angle below and one above", xs, err)
	}
	if _, err = Extents(func(float64) System { return System{Loads: []Load{{}}} }, 0, 1); err == nil {
		t.Error("a load on no body is no error")
	}
}

func TestIllFormed(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	one := func(j Joint) System { return System{Bodies: 1, Joints: []Joint{j}} }
	tests := []struct {
		s    System
		want string // part of the sentence
	}{
		{System{Bodies: -1}, "-1 bodies"},
		{System{Bodies: 1, Loads: []Load{{On: 1}}}, "load 0 is on body 1"},
		{System{Bodies: 1, Loads: []Load{{Force: Vec{nan, 0}}}}, "load 0 has a number"},
		{System{Bodies: 1, Loads: []Load{{At: Vec{inf, 0}}}}, "load 0 has a number"},
		{one(Joint{Kind: Contact, By: Ground}), "normal of length 0"},
		{one(Joint{Kind: Contact, By: Ground, Normal: Vec{nan, 0}}), "normal of length NaN"},
		{one(Joint{Kind: Contact, By: Ground, Normal: Vec{0, 1}, Mu: -1}), "friction of -1"},
		{one(Joint{Kind: Contact, By: Ground, Normal: Vec{0, 1}, Mu: nan}), "friction of NaN"},
		{one(Joint{Kind: Face, By: Ground, Normal: Vec{0, 1}}), "no other point"},
		{one(Joint{Kind: Hinge, By: 0}), "to itself"},
		{one(Joint{Kind: Hinge, By: 3}), "joint 0 is on body 3"},
		{one(Joint{Kind: Hinge, By: Ground, At: Vec{nan, 0}}), "joint 0 acts at a place"},
		{one(Joint{Kind: 9, By: Ground}), "kind 9"},
		{System{Bodies: 1, Unknowns: []Unknown{{On: 2}}}, "unknown 0 is on body 2"},
		{System{Bodies: 1, Unknowns: []Unknown{{Couple: nan}}}, "unknown 0 has a number"},
		{System{Bodies: 1, Unknowns: []Unknown{{Least: 2, Greatest: 1}}}, "between 2 and 1"},
		{System{Bodies: 1, Ties: []Tie{{[]Term{{Joint: 0}}, 1}}}, "tie 0 names joint 0"},
		{System{Bodies: 1, Ties: []Tie{{[]Term{{Joint: -1}}, 1}}}, "tie 0 names joint -1"},
		{System{Bodies: 1, Ties: []Tie{{nil, nan}}}, "tie 0 has a value"},
	}
	for _, tt := range tests {
		_, err := Solve(&tt.s)
		if err == nil || !strings.Contains(err.Error(), tt.want) || !strings.Contains(err.Error(), "give") {
			t.Errorf("%+v: %v, want %q and what to give", tt.s, err, tt.want)
		}
	}
}

// Numbers far beyond any classroom end in an answer or a sentence, and soon.
func TestExtremeNumbers(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 12))
	wild := func() float64 {
		return []float64{0, 1, -1, 5e-324, 1e-300, 1e-17, 1e17, 1e300, -1e300, math.MaxFloat64}[r.IntN(10)]
	}
	for range 300 {
		s, _ := arrangement(r)
		for i := range s.Loads {
			if r.IntN(2) == 0 {
				s.Loads[i].Force = Vec{wild(), wild()}
			}
			if r.IntN(4) == 0 {
				s.Loads[i].At = Vec{wild(), wild()}
			}
		}
		for i := range s.Joints {
			if r.IntN(4) == 0 {
				s.Joints[i].At.X = wild()
			}
			if r.IntN(8) == 0 {
				s.Joints[i].Normal = Vec{wild(), wild()}
			}
		}
		sol, err := Solve(&s)
		if err == nil && sol.State != NoEquilibrium && len(sol.Reactions) != len(s.Joints) {
			t.Errorf("%d reactions of %d joints", len(sol.Reactions), len(s.Joints))
		}
	}
}

// Where ties alone forbid equilibrium there is no motion to speak of; limiting friction is a tie.
func TestTies(t *testing.T) {
	s := board(1.5)
	s.Ties = []Tie{{[]Term{{0, N, 1}}, 100}} // it bears 560 N
	if sol := must(t, s); sol.State != NoEquilibrium || sol.Motion != nil {
		t.Errorf("a false reading: %+v", sol)
	}
	s = System{Bodies: 1, Unknowns: []Unknown{{On: 0, Force: Vec{1, 0}, Least: math.Inf(-1), Greatest: math.Inf(1)}},
		Loads: []Load{down(0, 0.5, 0, 40)}, Joints: []Joint{{Kind: Face, On: 0, By: Ground, At: Vec{0, 0}, To: Vec{1, 0}, Normal: Vec{0, 1}, Mu: 0.3}},
		Ties: []Tie{{[]Term{{0, F, 1}, {0, N, -0.3}}, 0}}}
	sol := must(t, s)
	if want := []Giving{{Joint: 0, Slips: true}}; sol.State != Limit || !near(sol.Unknowns[0], -12, 1) || !reflect.DeepEqual(sol.Giving, want) {
		t.Errorf("limiting friction: %+v, want a pull of 12 N to the left", sol)
	}
}

// Redundant equations with the rounding of sines in them are still redundant.
func TestDustDecidesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 13))
	for range 500 {
		a := r.Float64() * 2 * math.Pi
		turn := func(x, y float64) Vec { return Vec{x*math.Cos(a) - y*math.Sin(a), x*math.Sin(a) + y*math.Cos(a)} }
		s, tip := board(1.5), board(4.2+310*1.8/540)
		for _, v := range []*System{&s, &tip} {
			for i := range v.Loads {
				v.Loads[i].At, v.Loads[i].Force = turn(v.Loads[i].At.X, 0), turn(0, v.Loads[i].Force.Y)
			}
			for i := range v.Joints {
				v.Joints[i].At, v.Joints[i].Normal = turn(v.Joints[i].At.X, 0), turn(0, 1)
			}
		}
		if sol := must(t, s); sol.State != Unique || !near(sol.Reactions[0].N, 560, 1000) {
			t.Errorf("turned by %v: %+v", a, sol)
		}
		if sol := must(t, tip); sol.State != Limit || len(sol.Giving) != 1 {
			t.Errorf("tipping, turned by %v: %+v", a, sol)
		}
	}
}

// Just inside an end of a range equilibrium is possible, just outside it isn't, at the end something gives.
func TestRangeEndsAreEnds(t *testing.T) {
	r := rand.New(rand.NewPCG(14, 14))
	ends := 0
	for range 800 {
		s := randomTied(r)
		if r.IntN(2) == 0 {
			s = randomBlock(r)
			s.Unknowns = []Unknown{{On: 0, At: s.Loads[1].At, Force: s.Joints[0].Normal, Couple: 0.1, Least: -300, Greatest: 300}}
		}
		x, err := Range(&s, 0)
		if err != nil {
			t.Fatal(err)
		}
		verdict := func(v float64) State {
			u := s
			u.Unknowns = []Unknown{s.Unknowns[0]}
			u.Unknowns[0].Least, u.Unknowns[0].Greatest = v, v
			st, err := Classify(&u)
			if err != nil {
				t.Fatal(err)
			}
			return st
		}
		if !x.Possible {
			if st, _ := Classify(&s); st != NoEquilibrium {
				t.Errorf("no range, though state %d: %+v", st, s)
			}
			continue
		}
		for i, end := range []float64{x.Span.Least, x.Span.Greatest} {
			bound, sol, giving, out := s.Unknowns[0].Least, x.AtLeast, x.LeastGiving, -1e-5
			if i == 1 {
				bound, sol, giving, out = s.Unknowns[0].Greatest, x.AtGreatest, x.GreatestGiving, 1e-5
			}
			if math.IsInf(end, 0) || near(end, bound, 1) {
				continue
			}
			out *= max(1, math.Abs(end))
			if verdict(end+out) != NoEquilibrium || x.Span.Greatest-x.Span.Least > 1e-3 && verdict(end-out) == NoEquilibrium {
				t.Errorf("%v is no end: %+v", end, s)
			}
			if sol.State == NoEquilibrium || !near(sol.Unknowns[0], end, 1) {
				t.Errorf("the solution at %v is %+v", end, sol)
			}
			if len(s.Ties) == 0 {
				ends++
				if x.Span.Greatest > x.Span.Least && len(giving) == 0 {
					t.Errorf("nothing gives at %v: %+v", end, s)
				}
			}
		}
	}
	if ends < 100 {
		t.Errorf("only %d ends", ends)
	}
}

// What both rests hold from above falls, whichever of them is named first; what is on a slope slides along
// it though it rests at two points, one rough and one smooth.
func TestMotionIsTheSimplest(t *testing.T) {
	above := func(x float64) Joint {
		return Joint{Kind: Contact, On: 0, By: Ground, At: Vec{x, 0}, Normal: Vec{0, -1}}
	}
	for _, joints := range [][]Joint{{above(0.2), above(1.5)}, {above(1.5), above(0.2)}} {
		s := System{Bodies: 1, Loads: []Load{{On: 0, At: Vec{1, 0}, Force: Vec{0, -30}}}, Joints: joints}
		sol, err := Solve(&s)
		if err != nil || sol.Motion == nil || sol.Motion.Velocity[0] != (Velocity{0, -1, 0}) {
			t.Errorf("want a fall, got %+v, %v", sol.Motion, err)
		}
	}
	sin, cos := math.Sincos(15 * math.Pi / 180)
	at := func(d float64) Vec { return Vec{d * cos, d * sin} }
	n := Vec{-sin, cos}
	s := System{Bodies: 1, Loads: []Load{{On: 0, At: at(1.5), Force: Vec{0, -150}}}, Joints: []Joint{
		{Kind: Contact, On: 0, By: Ground, At: at(0.5), Normal: n, Mu: 0.4},
		{Kind: Contact, On: 0, By: Ground, At: at(2.5), Normal: n},
	}}
	sol, err := Solve(&s)
	if err != nil || sol.Motion == nil || len(sol.Motion.Opens) > 0 {
		t.Fatalf("want a slide, got %+v, %v", sol.Motion, err)
	}
	v := sol.Motion.Velocity[0]
	if v.Turn != 0 || math.Abs(v.X/v.Y-cos/sin) > 1e-9 || v.X >= 0 {
		t.Errorf("want a slide down the slope, got %+v", v)
	}
}
