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
