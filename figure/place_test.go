package figure

import (
	"math"
	"testing"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/question"
	"steelyard/statics"
)

const plank = `question "Plank"
body plank: uniform, length 4.00 m, weight 200 N
support P: rest, on plank at 0.50 m
support Q: rest, on plank at 3.50 m
`

// A metre on the plane is Scale points on the picture, to the right and up.
func TestPlacesAreToScale(t *testing.T) {
	p := placed(t, plank, Options{})
	a, b, c := p.At(0, statics.Vec{}), p.At(0, statics.Vec{X: 4}), p.At(statics.Ground, statics.Vec{Y: 1})
	if math.Abs(b.X-a.X-4*p.Scale) > 1e-9 || math.Abs(a.Y-c.Y-p.Scale) > 1e-9 {
		t.Errorf("4 m take %v points, 1 m up %v, at %v points for a metre", b.X-a.X, a.Y-c.Y, p.Scale)
	}
	if a.X < 0 || b.X > p.Width || a.Y < 0 || a.Y > p.Height {
		t.Errorf("the ends at %v and %v are outside the picture of %v by %v", a, b, p.Width, p.Height)
	}
}

// At a scale that is held the picture has that scale, and at its own scale it is the same picture.
func TestAScaleCanBeHeld(t *testing.T) {
	p := placed(t, plank, Options{})
	if q := placed(t, plank, Options{Scale: p.Scale}); string(draw.SVG(q.Picture)) != string(draw.SVG(p.Picture)) {
		t.Error("held at its own scale, the picture is another")
	}
	if q := placed(t, plank, Options{Scale: 50}); q.Scale != 50 || math.Abs(q.At(0, statics.Vec{X: 4}).X-q.At(0, statics.Vec{}).X-200) > 1e-9 {
		t.Errorf("held at 50 points for a metre it is drawn at %v", q.Scale)
	}
}

func placed(t *testing.T, text string, o Options) Placed {
	t.Helper()
	q, err := question.Parse("plank.moments", text)
	if err != nil {
		t.Fatal(err)
	}
	l, err := answer.Lay(q)
	if err != nil {
		t.Fatal(err)
	}
	return Place(l, o)
}

// Labels are where a ring would hide them, and nowhere else.
func TestLabelsAreKeptClearOf(t *testing.T) {
	p := placed(t, plank, Options{})
	text := 0
	for _, m := range p.Marks {
		g, ok := m.(draw.Group)
		for i := range g.Marks {
			if w, isText := g.Marks[i].(draw.Text); ok && isText && w.Anchor == draw.Start {
				text++
				if p.Clear(draw.Point{X: w.At.X + w.Width()/2, Y: w.At.Y - 3}, 5) {
					t.Errorf("the ring over %q hides nothing", w.String())
				}
			}
		}
	}
	if text == 0 || !p.Clear(draw.Point{X: -100, Y: -100}, 5) {
		t.Errorf("%d labels; far outside there is one too", text)
	}
}
