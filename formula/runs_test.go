package formula_test

import (
	"math"
	"strings"
	"testing"

	"steelyard/formula"
)

// working is a formula with every kind of piece.
func working() formula.Node {
	tQ := formula.Symbol("T", "Q", "the tension in Q", math.NaN())
	return formula.Relate("=", formula.Times(tQ, formula.Of("sin", formula.Given("40", "°"))),
		formula.Frac(formula.Add(formula.Rounded("3.2", "N m"), formula.Minus(formula.Times(formula.Count(2), formula.Given("1.0", "N m")))), formula.Sqrt(formula.Square(formula.Given("0.6", "m")))),
		formula.Blank("N"), formula.Upright("R&D <b>"), formula.Of("tan⁻¹", formula.Frac(formula.Count(1), formula.Count(2))))
}

// Runs hold the same words as the plain text, but for the sign that stands for a subscript there.
func TestRunsSayWhatTextSays(t *testing.T) {
	var all strings.Builder
	var sub, italic bool
	for _, r := range formula.Runs(working()) {
		all.WriteString(r.Text)
		sub, italic = sub || r.Sub && r.Text == "Q", italic || r.Italic && r.Text == "T"
	}
	if want := strings.ReplaceAll(formula.Text(working()), "T_Q", "TQ"); all.String() != want || !sub || !italic {
		t.Errorf("got %q, want %q; sub %v, italic %v", all.String(), want, sub, italic)
	}
}

func TestOfficeFormula(t *testing.T) {
	got := formula.OMML(working())
	for _, want := range []string{
		`<m:sSub><m:e><m:r><m:t xml:space="preserve">T</m:t></m:r></m:e><m:sub>`, "<m:f><m:num>", `<m:rad><m:radPr><m:degHide m:val="1"/></m:radPr><m:deg/><m:e>`,
		"<m:func><m:fName><m:sSup>", "____\u00a0N", "R&amp;D &lt;b&gt;", "3.2\u00a0N\u00a0m",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %s in %s", want, got)
		}
	}
}
