package solution_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/question"
	"steelyard/solution"
)

// arrangement writes a random question of one of the trade's families.
func arrangement(r *rand.Rand) string {
	length := 200 + 10*r.IntN(40) // cm
	at := func(low, high int) int { return low + r.IntN(max(1, high-low)) }
	m := func(cm int) string { return fmt.Sprintf("%d.%02d m", cm/100, cm%100) }
	weight := func() string { return fmt.Sprintf("%d N", 40+r.IntN(900)) }
	var b strings.Builder
	b.WriteString("question \"Random\"\n\n")
	switch r.IntN(11) {
	case 0: // a beam on two rests
		p, q := at(0, length/3), at(length/2, length)
		fmt.Fprintf(&b, "body plank: uniform, length %s, weight %s\nsupport P: rest, on plank at %s\nsupport Q: rest, on plank at %s\n", m(length), weight(), m(p), m(q))
		for i := range r.IntN(4) {
			fmt.Fprintf(&b, "load K%d: weight %s, on plank at %s\n", i, weight(), m(at(p, q)))
		}
		b.WriteString("part a: find force P marks 3\npart b: find force Q marks 1\npart c: find force of plank on Q marks 2\n")
	case 1: // one support holds down
		p, q := at(0, length/4), at(length/3, length/2)
		fmt.Fprintf(&b, "body plank: length %s, mass %d kg, centre of mass at %s\nsupport P: strap, on plank at %s\nsupport Q: rest, on plank at %s\nload K: mass %d kg, on plank at %s\n",
			m(length), 5+r.IntN(40), m(at(length/2, length)), m(p), m(q), 10+r.IntN(60), m(at(q, length)))
		b.WriteString("part a: find force P marks 4\npart b: find force Q marks 2\n")
	case 2: // an arm held by a cable
		fmt.Fprintf(&b, "body arm: uniform, length %s, weight %s\nsupport H: hinge, on arm at left end\ncable T: on arm at %s, pulls %d deg above left\nload S: weight %s, hung from arm at %s\n",
			m(length), weight(), m(at(length/2, length)), 20+r.IntN(60), weight(), m(at(20, length)))
		b.WriteString("part a: find tension T marks 3\npart b: find horizontal force H marks 1\npart c: find vertical force H marks 1\npart d: find force H marks 2\n")
	case 3: // a ladder
		fmt.Fprintf(&b, "body ladder: uniform, length %s, weight %s, angle %d deg\nsupport F: floor, on ladder at foot, rough\nsupport W: wall, on ladder at top, smooth\nload K: weight %s, on ladder at %s\n",
			m(length), weight(), 50+r.IntN(30), weight(), m(at(20, length)))
		b.WriteString("part a: find force W marks 4\npart b: find friction F marks 1\npart c: find normal force F marks 1\npart d: find least coefficient F marks 2\n")
	case 4: // tipping
		p, q := at(10, length/3), at(length/2, length-length/5)
		fmt.Fprintf(&b, "body plank: uniform, length %s, weight %s\nsupport P: rest, on plank at %s\nsupport Q: rest, on plank at %s\nload K: weight %s, on plank at %s\n", m(length), weight(), m(p), m(q), weight(), m(at(p, q)))
		b.WriteString("part a: find furthest K towards right marks 4\npart b: find range K marks 6\npart c: find force P marks 3\n")
	case 5: // a rule in centimetres, read from the right
		fmt.Fprintf(&b, "body rule: uniform, length 100 cm, mass %d g, zero at right end\nsupport P: pivot, on rule at %d cm\nload A: weight unknown, hung from rule at %d cm\nload B: mass %d g, hung from rule at %d cm\n",
			80+r.IntN(60), 35+r.IntN(10), 80+r.IntN(15), 20+r.IntN(20), 60+r.IntN(15))
		b.WriteString("part a: find weight A marks 3\npart b: find force P marks 2\npart c: find moment B about P marks 2\n")
	case 6: // about to slip
		fmt.Fprintf(&b, "body pole: uniform, length %s, weight %s, angle %d deg\nsupport F: floor, on pole at foot, coefficient unknown\nsupport W: wall, on pole at top, smooth\nload K: weight %s, on pole at %s\ngiven about to slip at F\n",
			m(length), weight(), 55+r.IntN(20), weight(), m(at(20, length)))
		b.WriteString("part a: find coefficient F marks 5\npart b: find force F marks 2\n")
	case 7: // one bar on another
		fmt.Fprintf(&b, "body lower: uniform, length 2.40 m, weight %s\nbody upper: uniform, length 1.60 m, weight %s\nsupport P: rest, on lower at left end\nsupport Q: rest, on lower at right end\nsupport C: rest, on upper at left end, by lower at %s\nsupport L: rest, on upper at %s\nload K: weight %s, on upper at %s\n",
			weight(), weight(), m(at(30, 200)), m(at(120, 160)), weight(), m(at(10, 110)))
		b.WriteString("part a: find force P marks 4\npart b: find force C marks 2\npart c: find force of upper on C marks 1\npart d: find force Q marks 1\n")
	case 8: // a leaning arm with a cable to a point
		fmt.Fprintf(&b, "body arm: uniform, length %s, weight %s, angle %d deg\nsupport H: hinge, on arm at left end\ncable T: on arm at right end, to (0 m, %s)\nload S: weight %s, hung from arm at %s\n",
			m(length), weight(), 10+r.IntN(30), m(length+at(10, 100)), weight(), m(at(20, length)))
		b.WriteString("part a: find tension T marks 4\npart b: find force H marks 4\npart c: find moment T about H marks 2\n")
	case 9: // kilonewtons, a spread load and a couple
		fmt.Fprintf(&b, "body deck: uniform, length 6.00 m, weight %d kN\nsupport P: rest, on deck at 0.50 m\nsupport Q: hinge, on deck at %s\nload S: %d kN/m, on deck from 1.00 m to %s\ncouple C: %d kN m clockwise, on deck\n",
			10+r.IntN(20), m(at(350, 590)), 1+r.IntN(4), m(at(150, 400)), 1+r.IntN(5))
		b.WriteString("part a: find force P marks 4\npart b: find vertical force Q marks 2\npart c: find total moment about P marks 3\npart d: find resultant deck marks 3\npart e: find whether it stays marks 2\n")
	default: // where does it balance?
		fmt.Fprintf(&b, "body rod: length %s, weight %s, centre of mass unknown\nsupport P: rest, on rod at %s\nsupport Q: force meter, on rod at %s, reading %d.%d N\n",
			m(length), "60 N", m(at(0, 40)), m(length-at(0, 40)), 20+r.IntN(20), r.IntN(10))
		b.WriteString("part a: find centre of mass rod marks 3\npart b: find force P marks 2\n")
	}
	return b.String()
}

// On random arrangements every route agrees with statics, every line is true, the marks add up, and a pivot
// that is called good leaves one unknown.
func TestRandomArrangements(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4)) // a fixed seed: a failure can be met again
	n, compared := 250, 0
	if testing.Short() {
		n = 60
	}
	for range n {
		src := arrangement(r)
		q, err := question.Parse("random.moments", src)
		if err != nil {
			t.Fatalf("%v in\n%s", err, src)
		}
		a, err := answer.Solve(q)
		if err != nil {
			t.Fatalf("%v in\n%s", err, src)
		}
		s, err := solution.Solve(a)
		if err != nil {
			t.Fatalf("%v in\n%s", err, src)
		}
		bad := false
		lines(s, func(where string, f formula.Node) {
			if err := formula.Check(f); err != nil {
				t.Errorf("%s: %v", where, err)
				bad = true
			}
		})
		for i, p := range s.Parts {
			if len(p.Routes) == 0 || strings.HasPrefix(p.Routes[0].Name, "all conditions") {
				t.Errorf("(%s) no route", p.Name)
				bad = true
			}
			for _, route := range p.Routes {
				compared += agree(t, p.Name+" "+route.Name, route)
				marks := 0
				for _, st := range route.Steps {
					for _, l := range st.Lines {
						marks += len(l.Marks)
					}
				}
				if route.Poor == "" && marks != a.Results[i].Part.Marks {
					t.Errorf("(%s) %s: %d marks, want %d", p.Name, route.Name, marks, a.Results[i].Part.Marks)
					bad = true
				}
			}
		}
		if bad {
			t.Fatalf("in\n%s\n%s", src, solution.Text(s))
		}
	}
	if compared < n {
		t.Errorf("only %d equations were compared", compared)
	}
}

// About any point of a beam the account is honest: with two forces that have an arm there it says so, and the
// second equation gives what statics gives.
func TestAboutAnyPoint(t *testing.T) {
	q := solve(t, "beam.moments", `question "Beam"
body plank: uniform, length 4.80 m, weight 310 N
support P: rest, on plank at 0.60 m
support Q: rest, on plank at 4.20 m
load K: weight 540 N, on plank at 1.50 m
part a: find force P marks 3
`)
	for _, c := range []struct {
		point string
		poor  string
		gives string
	}{
		{"P", "", "R_Q"}, {"Q", "", "R_P"},
		{"middle", "both R_P and R_Q stay in: one equation, two unknowns", ""},
		{"2.00 m", "both R_P and R_Q stay in: one equation, two unknowns", ""},
		{"left end", "both R_P and R_Q stay in: one equation, two unknowns", ""},
		{"K", "both R_P and R_Q stay in: one equation, two unknowns", ""},
	} {
		body, at, name, err := solution.Point(q.a, c.point)
		if err != nil {
			t.Fatal(err)
		}
		r, err := solution.About(q.a, body, at, name)
		if err != nil {
			t.Fatal(err)
		}
		if c.poor == "" != (r.Poor == "") || !strings.Contains(r.Poor, c.poor) {
			t.Errorf("about %s: poor is %q, want %q", c.point, r.Poor, c.poor)
		}
		text := solution.RouteText(&r)
		for _, want := range []string{"R_P = ", "R_Q = "} { // both come out in the end
			if !strings.Contains(text, want) {
				t.Errorf("about %s: %q is missing in\n%s", c.point, want, text)
			}
		}
		agree(t, "about "+c.point, r)
	}
	if _, _, _, err := solution.Point(q.a, "nowhere"); err == nil || !strings.Contains(err.Error(), "is no point") {
		t.Errorf("a point that isn't there gives %v", err)
	}
}

// A slip changes one term of an equation: the copy changes, the first stays, and the wrong value follows.
func TestWorkingCanBeChanged(t *testing.T) {
	// Base A of the trade's check values: a uniform bar of 6.00 m, 210 N, on cables at 1.40 m and 4.40 m.
	q := solve(t, "bar.moments", `question "Bar"
body bar: uniform, length 6.00 m, weight 210 N
cable P: on bar at 1.40 m, pulls up
cable Q: on bar at 4.40 m, pulls up
load J: weight 100 N, hung from bar at 0.20 m
load K: weight 120 N, hung from bar at 2.10 m
part a: find tension Q marks 3
part b: find tension P marks 2
`)
	w := q.s.Parts[0].Routes[0].Working
	if got := w.Values(nil)[w.Target()]; !near(got, 100) {
		t.Errorf("tension Q is %g, want 100", got)
	}
	turned := func(_ int, e *solution.Equation) {
		for i := range e.Terms {
			if e.Terms[i].Force.Name == "J" {
				e.Terms[i].Sense = -e.Terms[i].Sense
			}
		}
	}
	if got := w.Values(turned)[w.Target()]; !near(got, 180) { // J turned the wrong way
		t.Errorf("with J turned the wrong way tension Q is %g, want 180", got)
	}
	dropped := func(_ int, e *solution.Equation) {
		for i := range e.Terms {
			if e.Terms[i].Force.Name == "bar" {
				e.Terms[i].Force.Value = 0
			}
		}
	}
	if got := w.Values(dropped)[w.Target()]; !near(got, -12) { // its own weight left out
		t.Errorf("without its own weight tension Q is %g, want -12", got)
	}
	if got := w.Values(nil)[w.Target()]; !near(got, 100) {
		t.Errorf("a change has spoilt the working: tension Q is %g, want 100", got)
	}
}

func near(got, want float64) bool { return got > want-1e-9 && got < want+1e-9 }

func BenchmarkSolve(b *testing.B) {
	q := solve(b, "beam.moments", `question "Beam"
body plank: uniform, length 4.80 m, weight 310 N
support P: rest, on plank at 0.60 m
support Q: rest, on plank at 4.20 m
load K: weight 540 N, on plank at 1.50 m
part a: find force P marks 3
part b: find force Q marks 1
part c: find force of plank on Q marks 1
part d: find furthest K towards left marks 3
`)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := solution.Solve(q.a); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkHTML(b *testing.B) {
	q := every(b)[0]
	b.ReportAllocs()
	for b.Loop() {
		solution.HTML(q.s, 3)
	}
}
