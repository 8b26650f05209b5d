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
	if want := "P 570 N, Q −70 N, R: no single value."; p.Description != want {
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

// texts are the words of a picture with where they stand, and how high lines begin and end.
func texts(p *draw.Picture) (list []draw.Text) {
	for _, m := range p.Marks {
		if t, ok := m.(draw.Text); ok {
			list = append(list, t)
		}
	}
	return list
}

// Where no force is negative the axis begins at nought; where one is, it begins at the next round value below.
func TestAnAxisBeginsAtNoughtUnlessAForceIsNegative(t *testing.T) {
	for least, want := range map[float64]string{0: "0", 5: "0", -100: "−200", -460: "−500"} {
		g := Graph{Title: "Forces", Across: "place", At: []float64{0, 1}, Here: math.NaN(),
			Lines: []Series{{Name: "P", Value: []float64{least, 800}, Beyond: []float64{math.NaN(), math.NaN()}}}}
		lowest, at := "", 0.0
		for _, x := range texts(Draw(g, Options{Width: 400})) {
			if x.Anchor == draw.Finish && x.At.Y > at && x.At.X < 100 {
				lowest, at = x.String(), x.At.Y
			}
		}
		if lowest != want {
			t.Errorf("with a force of %g N the axis begins at %s, not %s", least, lowest, want)
		}
	}
}

// Words of marked values and symbols at the ends of lines keep apart, and on the picture, however close the values are.
func TestLabelsOfAGraphKeepApart(t *testing.T) {
	nan := math.NaN()
	for _, at := range [][]float64{{0, 0.02, 0.05}, {2.9, 2.95, 3}, {1.4, 1.5, 1.6, 1.7}, {0, 3}, {1.5}} {
		g := Graph{Title: "Forces", Across: "the place of K", Unit: "m", Up: "force", UpUnit: "N", At: []float64{0, 3}, Here: nan}
		for _, x := range at {
			g.Marks = append(g.Marks, Upright{x, "contact lifts: 2.00 m"})
		}
		for range 5 {
			g.Lines = append(g.Lines, Series{Name: "P", Symbol: []draw.Run{{Text: "R"}}, Value: []float64{0, 400}, Beyond: []float64{nan, nan}})
		}
		p := Draw(g, Options{Width: 340, TextSize: 13})
		type box struct{ left, right, top, bottom float64 }
		var boxes []box
		for _, x := range texts(p) {
			left := x.At.X - map[draw.Anchor]float64{draw.Start: 0, draw.Centre: 0.5, draw.Finish: 1}[x.Anchor]*x.Width()
			b := box{left, left + x.Width(), x.At.Y - 0.7*x.Size, x.At.Y + 0.2*x.Size}
			if b.left < -0.5 || b.right > p.Width+0.5 || b.top < 0 || b.bottom > p.Height {
				t.Errorf("marks at %v: %q leaves the picture", at, x.String())
			}
			for i, c := range boxes {
				if b.left < c.right-0.2 && c.left < b.right-0.2 && b.top < c.bottom && c.top < b.bottom {
					t.Errorf("marks at %v: %q and %q overlap", at, x.String(), texts(p)[i].String())
				}
			}
			boxes = append(boxes, b)
		}
	}
}
