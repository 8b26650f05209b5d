package script

import (
	"strings"
	"testing"

	"steelyard/formula"
)

// How lines are shown to whoever typed them: as plain text here, since MathML is formula's.
func TestLinesAsFormulas(t *testing.T) {
	for _, c := range []struct{ typed, shown, said string }{
		{"280*1.1 + 560x2.3 = 2.8RB", "280 × 1.1 + 560 × 2.3 = 2.8R_B", "280 times 1.1 plus 560 times 2.3 is equal to 2.8 times R B"},
		{"R_P = 364.5/2.4 = 152 N", "R_P = 364.5 / 2.4 = 152 N", "R P is equal to 364.5 over 2.4, which is equal to 152 newtons"},
		{"F <= mu N = 352N", "F ≤ μN = 352 N", "F is less than or equal to mu times N, which is equal to 352 newtons"},
		{"-(3 - 2.4) + 5 - (2 - 1) = x", "−(3 − 2.4) + 5 − (2 − 1) = x", "minus open bracket, 3 minus 2.4, close bracket plus 5 minus open bracket, 2 minus 1, close bracket is equal to x"},
		{"1.2e3 N = 1.2 x 10^3 N", "1.2 × 10^3 N = 1.2 × 10^3 N", "1.2 times 10 to the power 3 newtons is equal to 1.2 times 10 to the power 3 newtons"},
		{"1.4 T sin40 = 130", "1.4T sin 40 = 130", "1.4 times T times sin of 40 is equal to 130"},
		{"theta = atan(0.42)", "θ = tan⁻¹ 0.42", "theta is equal to the angle whose tan is 0.42"},
		{"2R^2 = sqrt(3)", "2 × R² = √(3)", "2 times R squared is equal to the square root of 3"},
		{"½ x 4 = 2", "1 / 2 × 4 = 2", "1 over 2 times 4 is equal to 2"},
		{"(1+2)(3-4)", "(1 + 2) × (3 − 4)", "open bracket, 1 plus 2, close bracket times open bracket, 3 minus 4, close bracket"},
		{"moments about P", "", ""},
		{"5 6 7", "", ""},
	} {
		l := Read(c.typed)[0]
		n, ok := l.Formula()
		if !ok {
			if c.shown != "" {
				t.Errorf("%q is no formula", c.typed)
			}
			continue
		}
		if got := strings.ReplaceAll(formula.Text(n), "\u00a0", " "); got != c.shown {
			t.Errorf("%q is shown as %q, want %q", c.typed, got, c.shown)
		}
		if got := formula.Words(n); got != c.said {
			t.Errorf("%q is said as %q, want %q", c.typed, got, c.said)
		}
	}
}

// Whatever is typed comes out as one math element, with what HTML reserves escaped.
func FuzzFormula(f *testing.F) {
	for _, s := range []string{"280*1.1 + 560x2.3 = 2.8RB", "F <= mu N = 352N", "1/2/3", "-(a-(b-c))", "1.2e3 N", "<b>x</b> = 1 & 2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, l := range Read(s) {
			if n, ok := l.Formula(); ok {
				m := formula.MathML(n, true)
				if strings.Contains(m, "<b>") || !strings.HasPrefix(m, "<math") {
					t.Errorf("%q: %s", s, m)
				}
			}
		}
	})
}

func BenchmarkReadLine(b *testing.B) {
	for b.Loop() {
		for _, l := range Read("280 N x 1.1 m + 560 N x 2.3 m = RP x 2.8 m") {
			n, _ := l.Formula()
			formula.MathML(n, true)
		}
	}
}
