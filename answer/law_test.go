package answer_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/question"
	"steelyard/statics"
)

func solve(t *testing.T, text string) *answer.Answers {
	t.Helper()
	q, err := question.Parse("test.moments", text)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	a, err := answer.Solve(q)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return a
}

// near reports whether two numbers agree to 1e-9 of scale.
func near(a, b, scale float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(1, math.Abs(scale)) }

// A beam is a random beam on two rests with two loads, in whole centimetres and newtons.
type beam struct{ l, p, q, x, y, w, k, j int }

func randomBeam(r *rand.Rand) beam {
	b := beam{l: 100 + r.IntN(500)}
	b.p = r.IntN(b.l / 3)
	b.q = b.l - r.IntN(b.l/3)
	b.x, b.y = r.IntN(b.l+1), r.IntN(b.l+1)
	b.w, b.k, b.j = r.IntN(900), 1+r.IntN(900), 1+r.IntN(900)
	return b
}

// text writes the beam with lengths in a unit that is power decimal places from the centimetre.
func (b beam) text(length func(cm int) string, parts ...string) string {
	weight := fmt.Sprintf("weight %d N", b.w)
	if b.w == 0 {
		weight = "light"
	} else {
		weight = "uniform, " + weight
	}
	return fmt.Sprintf(`question "Beam"
body bar: length %s, %s
support P: rest, on bar at %s
support Q: rest, on bar at %s
load K: weight %d N, on bar at %s
load J: weight %d N, on bar at %s
%s
`, length(b.l), weight, length(b.p), length(b.q), b.k, length(b.x), b.j, length(b.y), strings.Join(parts, "\n"))
}

func metres(cm int) string      { return fmt.Sprintf("%d.%02d m", cm/100, cm%100) }
func centimetres(cm int) string { return fmt.Sprintf("%d cm", cm) }
func millimetres(cm int) string { return fmt.Sprintf("%d mm", 10*cm) }

// reactions are by the handbook: each load shared in the inverse ratio of its distances.
//
// Source: Hicks, Civil Engineering Formulas (McGraw-Hill), Fig. 2.2 case 2 (load P at a from the
// left support: P b/L and P a/L), which superposes and holds outside the span with a sign.
func (b beam) reactions() (p, q float64) {
	span := float64(b.q - b.p)
	for _, f := range []struct {
		w int
		x float64
	}{{b.w, float64(b.l) / 2}, {b.k, float64(b.x)}, {b.j, float64(b.y)}} {
		q += float64(f.w) * (f.x - float64(b.p)) / span
		p += float64(f.w) * (float64(b.q) - f.x) / span
	}
	return p, q
}

func TestBeamsAsInTheHandbook(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for range 400 {
		b := randomBeam(r)
		p, q := b.reactions()
		for name, length := range map[string]func(int) string{"m": metres, "cm": centimetres, "mm": millimetres} {
			a := solve(t, b.text(length, "part a: find force P marks 2", "part b: find force of bar on Q marks 1"))
			switch total := p + q; {
			case p < -1e-6 || q < -1e-6:
				if a.State != statics.NoEquilibrium {
					t.Fatalf("a rest would have to pull (P %g, Q %g), yet state %d in %s\n%s", p, q, a.State, name, b.text(length))
				}
				about, sense := "Q", "clockwise"
				if q < 0 {
					about, sense = "P", "anticlockwise"
				}
				if m := answer.Moves(a.Layout, a.Solution.Motion); len(m) != 1 || m[0].About != about || m[0].Sense != sense {
					t.Fatalf("want %s about %s, got %+v\n%s", sense, about, m, b.text(length))
				}
			case p > 1e-6 && q > 1e-6:
				if a.State != statics.Unique || !near(a.ForceNamed("P").Y, p, total) || !near(a.ForceNamed("Q").Y, q, total) {
					t.Fatalf("want P %g Q %g, got %+v in %s\n%s", p, q, a.Forces, name, b.text(length))
				}
				if third := a.Results[1]; !near(third.Value, q, total) || !strings.HasSuffix(third.Shown, " down") {
					t.Fatalf("the beam pushes Q down with the same force, got %s", third.Shown)
				}
			}
		}
	}
}

// A load exactly at the tipping place is at the limit; a millimetre further, it tips.
func TestExactlyAtTheLimit(t *testing.T) {
	const bridge = `question "Bridge"
body plank: uniform, length 4.00 m, weight 260 N
support P: rest, on plank at 0.60 m
support Q: rest, on plank at 3.00 m
load K: weight 650 N, on plank at %s
part a: find whether it stays marks 1
`
	// Base E of our notes: 260 × 1.00 = 650 × 0.40, so it tips beyond 3.40 m.
	for at, want := range map[string]statics.State{"3.40 m": statics.Limit, "3.399 m": statics.Unique, "3.401 m": statics.NoEquilibrium, "340 cm": statics.Limit} {
		if a := solve(t, fmt.Sprintf(bridge, at)); a.State != want {
			t.Errorf("keeper at %s: state %d, want %d (%s)", at, a.State, want, a.Results[0].Shown)
		}
	}
}

// What is found as a limit is one: a little inside there is equilibrium, a little outside there is none.
func TestLimitsAreLimits(t *testing.T) {
	tests := []struct{ name, text, part string }{
		{"furthest right", "body plank: uniform, length 4.00 m, weight 260 N\nsupport P: rest, on plank at 0.60 m\nsupport Q: rest, on plank at 3.00 m\nload K: weight 650 N, on plank at {2.00} m", "find furthest K towards right"},
		{"furthest left", "body plank: uniform, length 4.00 m, weight 260 N\nsupport P: rest, on plank at 1.10 m\nsupport Q: rest, on plank at 3.00 m\nload K: weight 650 N, on plank at {2.00} m", "find furthest K towards left"},
		{"greatest load", "body plank: uniform, length 4.00 m, weight 260 N\nsupport P: rest, on plank at 0.60 m\nsupport Q: rest, on plank at 3.00 m\nload K: weight {10} N, on plank at 3.90 m", "find greatest K"},
		{"least load", "body plank: uniform, length 4.00 m, weight 260 N\nsupport P: rest, on plank at 2.30 m\nsupport Q: rest, on plank at 3.00 m\nload K: weight {300} N, on plank at 3.90 m", "find least K"},
		{"least coefficient", "body ladder: uniform, length 5.00 m, weight 180 N, angle 65 deg\nsupport F: floor, on ladder at foot, coefficient {0.90}\nsupport W: wall, on ladder at top, smooth\nload K: weight 700 N, on ladder at 3.50 m", "find least coefficient F"},
		{"how far up", "body ladder: uniform, length 5.00 m, weight 180 N, angle 65 deg\nsupport F: floor, on ladder at foot, coefficient 0.28\nsupport W: wall, on ladder at top, smooth\nload K: weight 700 N, on ladder at {0.50} m", "find furthest K towards right"},
		{"least angle", "body ladder: uniform, length 5.00 m, weight 180 N, angle {85} deg\nsupport F: floor, on ladder at foot, coefficient 0.50\nsupport W: wall, on ladder at top, coefficient 0.25", "find least angle ladder"},
	}
	outside := map[string]float64{"furthest right": 1, "furthest left": -1, "greatest load": 1, "least load": -1, "least coefficient": -1, "how far up": 1, "least angle": -1}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			head, rest, _ := strings.Cut(test.text, "{")
			given, tail, _ := strings.Cut(rest, "}")
			with := func(v string) string {
				return "question \"Limit\"\n" + head + v + tail + "\npart a: " + test.part + " marks 3\n"
			}
			r := solve(t, with(given)).Results[0]
			v := r.Value
			if r.Unit == "rad" {
				v *= 180 / math.Pi
			}
			if math.IsNaN(v) || len(r.Giving) == 0 {
				t.Fatalf("no limit found: %+v", r)
			}
			step := 1e-6 * v * outside[test.name]
			if a := solve(t, with(fmt.Sprintf("%.12g", v+step))); a.State != statics.NoEquilibrium {
				t.Errorf("beyond %g it should move, but %s", v, a.Results[0].Shown)
			}
			if a := solve(t, with(fmt.Sprintf("%.12g", v-step))); a.State == statics.NoEquilibrium {
				t.Errorf("before %g it should hold", v)
			}
		})
	}
}

// What was unknown and found, put back as given, leads to what was given.
func TestUnknownsPutBack(t *testing.T) {
	tests := []struct{ name, known, unknown, part, force, put string }{
		{"place of a load", "load K: weight 5.0 N, on batten at 0.99 m", "load K: weight 5.0 N, on batten at unknown", "find position K", ", reading 5.3 N", "%.12g m"},
		{"weight of a load", "load K: weight 5.0 N, on batten at 0.99 m", "load K: weight unknown, on batten at 0.99 m", "find weight K", ", reading 5.3 N", "%.12g N"},
		{"mass of a load", "load K: mass 0.5 kg, on batten at 0.99 m", "load K: mass unknown, on batten at 0.99 m", "find mass K", ", reading 5.3 N", "%.12g kg"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			text := func(load, reading string) string {
				return "question \"Batten\"\nbody batten: uniform, length 1.50 m, weight 3.6 N\n" +
					"support A: force meter, on batten at 0.15 m\nsupport B: force meter, on batten at 1.35 m" + reading + "\n" +
					load + "\npart a: " + test.part + " marks 3\n"
			}
			found := solve(t, text(test.unknown, test.force)).Results[0]
			put := strings.Replace(test.unknown, "unknown", fmt.Sprintf(test.put, found.Value), 1)
			whole := strings.Replace(text(put, ""), test.part, "find force B", 1)
			if b := solve(t, whole).Results[0].Value; math.Abs(b-5.3) > 1e-9 {
				t.Errorf("%s put back gives B = %.12g N, want 5.3 N", found.Shown, b)
			}
		})
	}
}

// Counting from the other end, and drawing the arrangement as in a mirror, change no force.
func TestMirrored(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	for range 200 {
		b := randomBeam(r)
		plain := solve(t, b.text(metres, "part a: find force P marks 1"))
		fromRight := strings.Replace(beam{b.l, b.l - b.p, b.l - b.q, b.l - b.x, b.l - b.y, b.w, b.k, b.j}.text(metres, "part a: find force P marks 1"),
			"length", "zero at right end, length", 1)
		mirror := beam{b.l, b.l - b.p, b.l - b.q, b.l - b.x, b.l - b.y, b.w, b.k, b.j}.text(metres, "part a: find force P marks 1")
		for name, text := range map[string]string{"zero at the right": fromRight, "mirrored": mirror} {
			other := solve(t, text)
			if other.State != plain.State {
				t.Fatalf("%s: state %d became %d\n%s", name, plain.State, other.State, text)
			}
			for i := range plain.Forces {
				if !near(plain.Forces[i].Y, other.Forces[i].Y, 2000) {
					t.Fatalf("%s: %+v became %+v\n%s", name, plain.Forces[i], other.Forces[i], text)
				}
			}
		}
	}
}
