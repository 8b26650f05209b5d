package chart

import (
	"math"
	"strings"
	"testing"

	"steelyard/draw"
)

// A line ends where it has no value, what is beyond goes on from there, and a value that stands alone is a dot.
func TestAGraphHasItsLinesMarksAndWords(t *testing.T) {
	nan := math.NaN()
	symbol := []draw.Run{{Text: "R", Italic: true}, {Text: "P", Sub: true}}
	g := Graph{Title: "Forces", Across: "the place of K", Unit: "m", Up: "force", UpUnit: "N", At: []float64{0, 1, 2, 3}, Here: nan, Words: "R falls.",
		Lines: []Series{{Name: "P", Symbol: symbol, Value: []float64{200, 100, 0, nan}, Beyond: []float64{nan, nan, nan, -100}},
			{Name: "Q", Symbol: symbol, Value: []float64{nan, 50, nan, nan}, Beyond: []float64{nan, nan, nan, nan}}},
		Marks: []Upright{{2, "2.00 m"}}}
	svg := string(draw.SVG(Draw(g, Options{Width: 300})))
	for _, want := range []string{"−100", "2.00 m", "the place of K / m", "force / N", `id="line-1"`, `id="line-2"`, "R falls.", "<circle"} {
		if !strings.Contains(svg, want) {
			t.Errorf("%q is not in the graph", want)
		}
	}
	if strings.Contains(svg, "NaN") {
		t.Error("NaN is drawn")
	}
}

func TestBarsSayTheirValues(t *testing.T) {
	p := Sizes([]Size{{Name: "P", Value: 570}, {Name: "Q", Value: -70, Beyond: true}, {Name: "R", Value: math.NaN()}}, 0, "N", Options{})
	if want := "P 570 N, Q −70 N, R has no single value."; p.Description != want {
		t.Errorf("the bars are described as %q, not %q", p.Description, want)
	}
}

func TestStepsOfAnAxisAreRound(t *testing.T) {
	for span, want := range map[float64]float64{1: 0.2, 4.8: 1, 60: 10, 1000: 200, 0.03: 0.005} {
		if got := tick(span, 6); math.Abs(got-want) > 1e-12 {
			t.Errorf("a span of %g is divided in steps of %g, not %g", span, got, want)
		}
	}
}
