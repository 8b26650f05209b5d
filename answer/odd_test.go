package answer_test

import (
	"math"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/question"
)

const ladder = `question "Ladder"
body l: uniform, length 6.00 m, weight 220 N, angle 70 deg
support F: floor, on l at foot, coefficient 0.50
support W: wall, on l at top, coefficient 0.25
`

const crate = `question "Crate"
body k: block 0.40 m by 1.00 m, uniform, weight 300 N
support F: slope 25 deg, on k, coefficient 0.60
`

// What has no limit, or none that anything can reach, is said in words and has no number.
func TestNoLimit(t *testing.T) {
	for _, c := range []struct{ text, part, want string }{
		{ladder, "part a: find greatest angle l", "there is no greatest: it stays at rest however steep it is"},
		{crate, "part a: find least coefficient F", "no coefficient is great enough"},
	} {
		r := solve(t, c.text+c.part).Results[0]
		if !strings.HasPrefix(r.Shown, c.want) || !math.IsNaN(r.Value) {
			t.Errorf("%s: %q, %v; want %q and no number", c.part, r.Shown, r.Value, c.want)
		}
	}
	// Two rough surfaces: tan θ = (1 − μμ') / 2μ (resolve, and take moments about the foot).
	r := solve(t, ladder+"part a: find least angle l").Results[0]
	if want := math.Atan((1 - 0.5*0.25) / (2 * 0.5)); math.Abs(r.Value-want) > 1e-8 {
		t.Errorf("least angle %v rad, want %v", r.Value, want)
	}
}

// A condition that the numbers do not bear out is a fault, and so is one that says nothing.
func TestIdleConditions(t *testing.T) {
	const pushed = `question "Crate"
body k: block 0.80 m by 0.60 m, uniform, weight 300 N
support F: floor, on k, coefficient 0.5
force E: 20 N right, on k at (0 m, 0.60 m)
`
	const plank = `question "Plank"
body k: uniform, length 2 m, weight 300 N
support P: rest, on k at 0.5 m
support Q: rest, on k at 1.7 m
`
	for _, c := range []struct{ text, want string }{
		{pushed + "given about to slip at F\npart a: find force F", "no forces in equilibrium agree"},
		{plank + "given about to tip about P\npart a: find force P", "no forces in equilibrium agree"},
		{pushed + "given about to tip about F\npart a: find force F", "nothing but F holds k"},
	} {
		q, err := question.Parse("test.moments", c.text)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := answer.Solve(q); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s\n%v; want %q", c.text, err, c.want)
		}
	}
}

// Ranges of forces that can act either way say which way, and places and points are called what they are.
func TestWordsForWays(t *testing.T) {
	const pole = `question "Pole"
body l: uniform, length 4.00 m, weight 200 N, angle 60 deg
support F: floor, on l at foot, rough
support W: wall, on l at top, rough
`
	const down = `question "Down"
body l: uniform, length 4.00 m, weight 200 N, angle -50 deg
support H: hinge, on l at left end
support R: rest, on l at right end
load K: weight 20 N, on l at 1.00 m
`
	const bar = `question "Bar"
body b: uniform, length 2.00 m, weight 30 N
cable P: on b at left end, to (1.0 m, 2.0 m)
cable Q: on b at right end, to (1.0 m, 2.0 m)
load K: weight 10 N, on b at 0.5 m
`
	const couples = `question "Couples"
body b: light, length 2.00 m
support P: pivot, on b at middle
force E: 20 N up, on b at left end
force G: 20 N down, on b at right end
couple X: 40 N m anticlockwise, on b
`
	for _, c := range []struct{ text, part, want string }{
		{pole, "find normal force F", "not fixed by equilibrium: at least 100 N up"},
		{pole, "find friction W", "not fixed by equilibrium: at most 100 N up, or any size down"},
		{pole, "find horizontal force W", "not fixed by equilibrium: at least 0 N to the left"},
		{down, "find furthest K towards left", "0 m from the top, the end of the body l"},
		{down, "find resultant l", "220 N down, acting 1.91 m from the top"},
		{strings.Replace(down, "-50", "-20", 1), "find resultant l", "220 N down, acting 1.91 m from the upper end"},
		{strings.Replace(down, "-50", "20", 1), "find resultant l", "220 N down, acting 1.91 m from the lower end"},
		{bar, "find whether it stays", "it does not stay at rest: the body b turns anticlockwise about the far end of P"},
		{couples, "find resultant b", "no resultant: neither a force nor a couple"},
	} {
		if got := solve(t, c.text+"part a: "+c.part).Results[0].Shown; got != c.want {
			t.Errorf("%s:\ngot  %s\nwant %s", c.part, got, c.want)
		}
	}
}

// A spring pulls up, as the notation says: it never pushes, so a load that would press on it tips the beam.
func TestSpringOnlyPulls(t *testing.T) {
	r := solve(t, `question "Spring"
body b: uniform, length 4.00 m, weight 200 N
support P: strap, on b at 1.00 m
support Q: spring, on b at 3.00 m
load K: weight 500 N, on b at right end
part a: find furthest K towards left
`).Results[0]
	// About P: 200 N × 1.00 m = 500 N × (1.00 m − x) when the spring is slack.
	if math.Abs(r.Value-0.6) > 1e-12 {
		t.Errorf("%v m (%s), want 0.60 m", r.Value, r.Shown)
	}
}

// A rod hung from its upper end and pushed to the right at its foot leans up to the left:
// about the hinge, 8 N × 1.20 m × sin θ = 20 N × 0.60 m × cos θ.
func TestAngleBeyondUpright(t *testing.T) {
	const rod = `question "Rod"
body r: uniform, length 1.20 m, weight 20 N, angle unknown
support H: hinge, on r at top
force E: 8.0 N %s, on r at foot
part a: find angle r
`
	acute := math.Atan(20 * 0.6 / (8 * 1.2))
	for way, want := range map[string]float64{"left": acute, "right": math.Pi - acute} {
		if r := solve(t, strings.Replace(rod, "%s", way, 1)).Results[0]; math.Abs(r.Value-want) > 1e-9 {
			t.Errorf("pushed %s: %v rad, want %v", way, r.Value, want)
		}
	}
}

// A part that asks to show what is not so is a fault; a rounded value is none.
func TestShowsWhatIsSo(t *testing.T) {
	const plank = `question "Plank"
body plank: uniform, length 4.80 m, weight 310 N
support P: rest, on plank at 0.60 m
support Q: rest, on plank at 4.20 m
load K: weight 540 N, on plank at 1.50 m
part a: show force P is %s marks 3
`
	// P = (310 × 1.80 + 540 × 2.70) / 3.60 = 560 N
	for value, wrong := range map[string]bool{"560 N": false, "0.56 kN": false, "600 N": false, "300 N": true, "561 N": true, "0.555 kN": true} {
		q, err := question.Parse("test.moments", strings.Replace(plank, "%s", value, 1))
		if err != nil {
			t.Fatal(err)
		}
		faults, _ := answer.Check(q)
		if got := strings.Contains(faults.Error(), "asks to show "+value+", but"); got != wrong {
			t.Errorf("show %s: %v", value, faults)
		}
	}
}

// On a knife edge one weight and one place balance, and no end of the bar is the limit.
func TestOnlyOneBalances(t *testing.T) {
	const bar = `question "Bar"
body b: uniform, length 2.00 m, weight 45 N
support P: pivot, on b at 0.80 m
load K: weight 20 N, on b at left end
load L: weight 30 N, on b at right end
part a: find `
	// About P: 20 × 0.80 = 45 × 0.20 + 1.20 L, L = 5.83 N; or 20 × 0.80 = 45 × 0.20 + 30 (x − 0.80), x = 1.03 m.
	for part, want := range map[string]string{
		"greatest L":               "only 5.83 N",
		"least L":                  "only 5.83 N",
		"range L":                  "only 1.03 m from the left-hand end",
		"furthest L towards right": "only 1.03 m from the left-hand end",
	} {
		if got := solve(t, bar+part).Results[0].Shown; got != want {
			t.Errorf("%s: %s, want %s", part, got, want)
		}
	}
}
