package trial_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"

	"steelyard/answer"
	"steelyard/statics"
	"steelyard/trial"
)

func pick(r *rand.Rand, lo, hi, step float64) float64 {
	return math.Round((lo+step*float64(r.IntN(int(math.Round((hi-lo)/step))+1)))*1e6) / 1e6
}

// arrangement is a question of one of four kinds, and a support that can be taken away.
func arrangement(r *rand.Rand) (text, gone string) {
	b := &strings.Builder{}
	line := func(format string, v ...any) { fmt.Fprintf(b, format+"\n", v...) }
	line(`question "Any arrangement"`)
	switch r.IntN(4) {
	case 0: // a beam on two or three supports
		long := pick(r, 2, 6, 0.2)
		line("body beam: uniform, length %.2f m, weight %g N", long, pick(r, 20, 400, 20))
		line("support P: %s, on beam at %.2f m", []string{"rest", "rest", "pivot", "hinge"}[r.IntN(4)], pick(r, 0, 0.4, 0.1)*long)
		line("support Q: rest, on beam at %.2f m", pick(r, 0.6, 1, 0.1)*long)
		if r.IntN(4) == 0 {
			line("support R: rest, on beam at %.2f m", 0.5*long)
		}
		for _, k := range []string{"K", "L"}[:r.IntN(3)] {
			line("load %s: weight %g N, on beam at %.2f m", k, pick(r, 50, 800, 50), pick(r, 0, 1, 0.05)*long)
		}
		gone = []string{"P", "Q"}[r.IntN(2)]
	case 1: // a ladder
		long := pick(r, 3, 6, 0.5)
		line("body ladder: uniform, length %.2f m, weight %g N, angle %g deg", long, pick(r, 80, 240, 20), pick(r, 50, 75, 1))
		line("support F: floor, on ladder at foot, rough")
		line("support W: wall, on ladder at top, smooth")
		line("load K: weight %g N, on ladder at %.2f m", pick(r, 200, 800, 50), pick(r, 0.1, 0.9, 0.1)*long)
		gone = "W"
	case 2: // a bar on a hinge, held by a cable or a rest
		long := pick(r, 1, 4, 0.2)
		line("body arm: uniform, length %.2f m, weight %g N", long, pick(r, 20, 200, 10))
		line("support H: hinge, on arm at left end")
		if r.IntN(2) == 0 {
			line("cable T: on arm at right end, pulls %g deg above left", pick(r, 20, 70, 5))
		} else {
			line("support T: rest, on arm at %.2f m", pick(r, 0.4, 1, 0.1)*long)
		}
		line("load K: weight %g N, on arm at %.2f m", pick(r, 20, 300, 20), pick(r, 0, 1, 0.1)*long)
		gone = "T"
	default: // one bar on another
		line("body lower: uniform, length 4.00 m, weight %g N", pick(r, 50, 300, 10))
		line("body upper: uniform, length 2.40 m, weight %g N", pick(r, 20, 200, 10))
		line("support P: rest, on lower at %.2f m", pick(r, 0, 1, 0.1))
		line("support Q: rest, on lower at %.2f m", pick(r, 3, 4, 0.1))
		line("support C: rest, on upper at %.2f m, by lower at %.2f m", pick(r, 0, 0.8, 0.1), pick(r, 0.8, 1.6, 0.1))
		line("support L: rest, on upper at 2.00 m")
		gone = []string{"P", "Q", "C", "L"}[r.IntN(4)]
	}
	return b.String(), gone
}

// A row is a linear condition on the velocities of the bodies: coefficients of vx, vy (of the origin) and the rate of
// turning of each body.
type row []float64

// power is the work that the loads do in a second for a unit of each of n velocities.
func power(s *statics.System, n int) row {
	work := make(row, n)
	for _, d := range s.Loads {
		for i, c := range speed(s.Bodies, d.On, statics.Ground, d.At, d.Force) {
			work[i] += c
		}
	}
	return work
}

// speed is how fast the force n at p on a body works, less what it works on the other.
func speed(bodies, on, by int, p, n statics.Vec) row {
	c := make(row, 3*bodies)
	add := func(body int, k float64) {
		if body >= 0 {
			c[3*body] += k * n.X
			c[3*body+1] += k * n.Y
			c[3*body+2] += k * (p.X*n.Y - p.Y*n.X)
		}
	}
	add(on, 1)
	add(by, -1)
	return c
}

// A virtual is the linear program of virtual work: velocities that violate no remaining contact. No body turns faster
// than 1 rad/s, or shifts faster than 20 m/s.
type virtual struct {
	n      int
	atMost []row // c v ≤ b
	b      []float64
	none   []row // c v = 0
}

func negative(c row) row {
	d := make(row, len(c))
	for i := range c {
		d[i] = -c[i]
	}
	return d
}

// contacts writes what the joints but one allow: a contact doesn't go in, a cable doesn't get longer, a hinge stays.
// Contacts are smooth, or rough enough never to slip: then they don't slide either.
func contacts(s *statics.System, gone int) *virtual {
	v := &virtual{n: 3 * s.Bodies}
	for i, j := range s.Joints {
		if i == gone {
			continue
		}
		n := j.Normal
		t := statics.Vec{X: n.Y, Y: -n.X}
		switch {
		case j.Kind == statics.Hinge:
			v.none = append(v.none, speed(s.Bodies, j.On, j.By, j.At, statics.Vec{X: 1}), speed(s.Bodies, j.On, j.By, j.At, statics.Vec{Y: 1}))
		case j.Kind == statics.Contact && math.IsInf(j.Mu, 1):
			v.atMost, v.b = append(v.atMost, negative(speed(s.Bodies, j.On, j.By, j.At, n))), append(v.b, 0)
			v.none = append(v.none, speed(s.Bodies, j.On, j.By, j.At, t))
		default:
			v.atMost, v.b = append(v.atMost, negative(speed(s.Bodies, j.On, j.By, j.At, n))), append(v.b, 0)
		}
	}
	return v
}

// most is the greatest value of c v, and v there. The program is gonum's, which knows nothing of mechanics.
func (v *virtual) most(t *testing.T, c row, more ...row) (float64, row, bool) {
	// In standard form: x = v + bound ≥ 0, and a slack for each row that is at most something.
	rows := append(append([]row{}, v.atMost...), more...)
	least := append([]float64{}, v.b...)
	for i := range more { // the last number is the bound
		least = append(least, more[i][v.n])
	}
	n, m := v.n+len(rows)+v.n, len(rows)+v.n+len(v.none)
	a, b, cost := mat.NewDense(m, n, nil), make([]float64, m), make([]float64, n)
	bound := func(j int) float64 { return []float64{20, 20, 1}[j%3] }
	for i, r := range append(rows, v.none...) {
		at := i
		if i < len(rows) {
			b[at] = least[i]
			a.Set(at, v.n+i, 1)
		} else {
			at += v.n
		}
		for j := range v.n {
			a.Set(at, j, r[j])
			b[at] += r[j] * bound(j)
		}
	}
	for j := range v.n {
		at := len(rows) + j
		a.Set(at, j, 1)
		a.Set(at, v.n+len(rows)+j, 1)
		b[at] = 2 * bound(j)
		cost[j] = -c[j]
	}
	value, x, err := lp.Simplex(cost, a, b, 1e-10, nil)
	if err != nil {
		t.Log(err)
		return 0, nil, false
	}
	out := make(row, v.n)
	for j := range out {
		out[j] = x[j] - bound(j)
		value += c[j] * bound(j)
	}
	return -value, out, true
}

// For 1 000 random arrangements with a contact removed, whether it moves, the sense and the pivot agree with virtual
// work over the remaining contacts: the motion in which the loads do most work, for the greatest rate of turning that
// is allowed. Where that program leaves a number open (several motions do equally well), it is not compared.
func TestMotionAgreesWithVirtualWork(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 6))
	moved, turned, pivots, done := 0, 0, 0, 0
	for done < 1000 {
		text, gone := arrangement(r)
		a := ask(t, text)
		if a.State == statics.NoEquilibrium {
			continue
		}
		done++
		o, err := trial.Without(a, trial.Change{Deed: trial.Away, Thing: gone})
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		s := &a.Layout.System
		v := contacts(s, a.Layout.SupportNamed(gone).Joint)
		work := power(s, v.n)
		best, _, ok := v.most(t, work)
		if !ok {
			t.Fatalf("the program of virtual work fails\n%s", text)
		}
		if rests := best < 1e-6; rests != o.Rests {
			t.Fatalf("without %s it rests: %v, but by virtual work %v (%g W)\n%s", gone, o.Rests, rests, best, text)
		}
		if o.Rests {
			continue
		}
		moved++
		for _, m := range answer.Moves(o.After.Layout, o.Motion) {
			i := 0
			for o.After.Layout.Bodies[i].Name != m.Body {
				i++
			}
			low, high, fixed := v.between(t, work, best, 3*i+2)
			if !m.Turns || !fixed || low*high <= 0 {
				continue
			}
			turned++
			if sense := answer.Sense(low); sense != m.Sense {
				t.Errorf("without %s %s turns %s, by virtual work %s\n%s", gone, m.Body, m.Sense, sense, text)
			}
			if math.Abs(high-low) > 1e-5 {
				continue
			}
			for k, want := range []float64{m.Pivot.Y, m.Pivot.X} { // vx = ω y, vy = −ω x of the pivot
				u, w, ok := v.between(t, work, best, 3*i+k)
				if !ok || math.Abs(u-w) > 1e-5 {
					continue
				}
				got := u / low
				if k == 1 {
					got = -got
				}
				pivots++
				if math.Abs(got-want) > 1e-4*max(1, math.Abs(want)) {
					t.Errorf("without %s %s turns about %v, by virtual work %v at %g\n%s", gone, m.Body, m.Pivot, []string{"y", "x"}[k], got, text)
				}
			}
		}
	}
	t.Logf("%d moved; sense compared of %d bodies, pivot of %d coordinates", moved, turned, pivots)
	if moved < 600 || turned < 600 || pivots < 600 {
		t.Error("too few could be compared")
	}
}

// between is the range of one velocity among the motions that do most work.
func (v *virtual) between(t *testing.T, work row, best float64, k int) (low, high float64, ok bool) {
	nearly := append(negative(work), -best*(1-1e-9))
	c := make(row, v.n)
	c[k] = 1
	high, _, one := v.most(t, c, nearly)
	low, _, two := v.most(t, negative(c), nearly)
	return -low, high, one && two
}

// rough is a question with friction of a limited coefficient, and a change: something taken away or made smooth.
func rough(r *rand.Rand) (text string, c trial.Change) {
	b := &strings.Builder{}
	line := func(format string, v ...any) { fmt.Fprintf(b, format+"\n", v...) }
	line(`question "Any rough arrangement"`)
	mu := func() float64 { return pick(r, 0.1, 0.9, 0.05) }
	change := func(list ...trial.Change) { c = list[r.IntN(len(list))] }
	gone := func(s string) trial.Change { return trial.Change{Deed: trial.Away, Thing: s} }
	smooth := func(s string) trial.Change { return trial.Change{Deed: trial.Smooth, Thing: s} }
	switch r.IntN(6) {
	case 0, 3: // a ladder, its wall smooth or rough
		long := pick(r, 3, 6, 0.5)
		line("body ladder: uniform, length %.2f m, weight %g N, angle %g deg", long, pick(r, 80, 240, 20), pick(r, 45, 75, 1))
		line("support F: floor, on ladder at foot, coefficient %g", mu())
		line("load K: weight %g N, on ladder at %.2f m", pick(r, 50, 800, 50), pick(r, 0.1, 0.9, 0.1)*long)
		if r.IntN(2) == 0 {
			line("support W: wall, on ladder at top, smooth")
			change(gone("W"), gone("F"), smooth("F"), smooth("F"))
		} else {
			line("support W: wall, on ladder at top, coefficient %g", mu())
			change(gone("W"), smooth("F"), smooth("W"), smooth("W"))
		}
	case 1: // a crate on a slope
		line("body crate: block %g m by %g m, uniform, weight %g N", pick(r, 0.6, 1.2, 0.1), pick(r, 0.4, 0.9, 0.1), pick(r, 100, 600, 50))
		line("support F: slope %g deg, on crate, coefficient %g", pick(r, 5, 35, 1), mu())
		change(smooth("F"))
	case 2: // a cabinet that is pushed, or a plank that a crate holds
		line("body cabinet: block %g m by %g m, uniform, weight %g N", pick(r, 0.5, 0.9, 0.1), pick(r, 0.8, 1.6, 0.1), pick(r, 200, 600, 50))
		line("support F: floor, on cabinet, coefficient %g", mu())
		line("force E: %g N right, on cabinet at (0 m, %g m)", pick(r, 10, 120, 10), pick(r, 0.2, 0.8, 0.1))
		change(smooth("F"), smooth("F"), gone("E"))
	default: // a plank aslant on two rough rests, or on a rough one and a hinge
		long := pick(r, 2, 5, 0.5)
		line("body plank: uniform, length %.2f m, weight %g N, angle %g deg", long, pick(r, 50, 300, 10), pick(r, 2, 30, 1))
		line("support P: rest, on plank at %.2f m, coefficient %g", pick(r, 0, 0.4, 0.1)*long, mu())
		if r.IntN(3) > 0 {
			line("support Q: rest, on plank at %.2f m, coefficient %g", pick(r, 0.6, 1, 0.1)*long, mu())
			change(gone("P"), gone("Q"), smooth("P"), smooth("Q"))
		} else {
			line("support Q: hinge, on plank at right end")
			change(gone("P"), smooth("P"), gone("Q"))
		}
	}
	return b.String(), c
}

// cones writes what contacts with friction allow. By the duality of linear programs bodies rest exactly if no velocities
// do work in which no contact loses less distance than μ times what it slides. Slides says which contacts are then taken
// to be smooth, for a real contact that slides stays pressed; nil takes none.
func cones(s *statics.System, slides func(int) bool) *virtual {
	v := &virtual{n: 3 * s.Bodies}
	atLeast := func(c row) { v.atMost, v.b = append(v.atMost, negative(c)), append(v.b, 0) }
	for i, j := range s.Joints {
		n, t := j.Normal, statics.Vec{X: j.Normal.Y, Y: -j.Normal.X}
		if j.Kind == statics.Hinge {
			v.none = append(v.none, speed(s.Bodies, j.On, j.By, j.At, statics.Vec{X: 1}), speed(s.Bodies, j.On, j.By, j.At, statics.Vec{Y: 1}))
			continue
		}
		mu := j.Mu
		if slides != nil && slides(i) {
			mu = 0
		}
		ends := []statics.Vec{j.At}
		if j.Kind == statics.Face {
			ends = append(ends, j.To)
		}
		for _, p := range ends {
			for _, k := range []float64{mu, -mu} {
				atLeast(speed(s.Bodies, j.On, j.By, p, statics.Vec{X: n.X + k*t.X, Y: n.Y + k*t.Y}))
			}
		}
	}
	return v
}

func dot(c row, v row) (sum float64) {
	for i := range v {
		sum += c[i] * v[i]
	}
	return sum
}

// For 1 000 random arrangements with friction of a limited coefficient, a support, a push or only friction is taken away.
// Compared with a linear program that knows nothing of the engine: whether it rests, for every one; the sense in which a
// body turns, and the point about which, where virtual work fixes them: over contacts that keep their friction where they
// don't slide and have none where they do. Not compared is what statics doesn't settle, whether a contact that could
// grip at first slips all the same: that the page leaves open too. Of every motion it is checked that no contact is
// violated and that the loads do work.
func TestMotionWithFrictionAgreesWithVirtualWork(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 3))
	rested, moved, smoothed, turned, pivots, shifted := 0, 0, 0, 0, 0, 0
	for done := 0; done < 1000; {
		text, c := rough(r)
		a := ask(t, text)
		if a.State == statics.NoEquilibrium {
			continue
		}
		done++
		o, err := trial.Without(a, c)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		if c.Deed == trial.Smooth {
			smoothed++
		}
		s := &o.After.Layout.System
		v := cones(s, nil)
		work := power(s, v.n)
		best, proof, ok := v.most(t, work)
		if !ok {
			t.Fatalf("the program of virtual work fails\n%s", text)
		}
		if rests := best < 1e-6; rests != o.Rests {
			t.Fatalf("after %v it rests: %v, but by virtual work %v (%g W)\n%s", c, o.Rests, rests, best, text)
		}
		if o.Rests {
			rested++
			continue
		}
		moved++
		is := make(row, 0, v.n)
		for _, u := range o.Motion.Velocity {
			is = append(is, u.X, u.Y, u.Turn)
		}
		if dot(work, is) <= 0 {
			t.Errorf("after %v the loads do no work in %v\n%s", c, is, text)
		}
		for _, k := range cones(s, func(int) bool { return true }).atMost {
			if dot(k, is) > 1e-9 {
				t.Errorf("after %v a contact is violated by %v\n%s", c, is, text)
			}
		}
		sliding := cones(s, func(i int) bool {
			j := &s.Joints[i]
			return math.Abs(dot(speed(s.Bodies, j.On, j.By, j.At, statics.Vec{X: j.Normal.Y, Y: -j.Normal.X}), proof)) > 1e-6
		})
		best, _, ok = sliding.most(t, work)
		if !ok {
			t.Fatalf("the program of virtual work fails\n%s", text)
		}
		low, high, fixed := sliding.between(t, work, best, 2)
		m := answer.Moves(o.After.Layout, o.Motion)[0]
		if !fixed || low*high <= 0 {
			if !m.Turns {
				shifted++
			}
			continue
		}
		if !m.Turns {
			continue // whether it turns as well as it goes, the greatest work alone does not settle
		}
		turned++
		if sense := answer.Sense(low); sense != m.Sense {
			t.Errorf("after %v %s turns %s, by virtual work %s\n%s", c, m.Body, m.Sense, sense, text)
		}
		if math.Abs(high-low) > 1e-5 {
			continue
		}
		for k, want := range []float64{m.Pivot.Y, m.Pivot.X} {
			u, w, ok := sliding.between(t, work, best, k)
			if !ok || math.Abs(u-w) > 1e-5 {
				continue
			}
			got := u / low
			if k == 1 {
				got = -got
			}
			pivots++
			if math.Abs(got-want) > 1e-4*max(1, math.Abs(want)) {
				t.Errorf("after %v %s turns about %v, by virtual work %v at %g\n%s", c, m.Body, m.Pivot, []string{"y", "x"}[k], got, text)
			}
		}
	}
	t.Logf("%d made smooth; %d rest, %d move; sense compared of %d, pivot of %d coordinates; %d shift", smoothed, rested, moved, turned, pivots, shifted)
	if moved < 500 || rested < 50 || smoothed < 400 || turned < 300 || pivots < 300 {
		t.Error("too few could be compared")
	}
}
