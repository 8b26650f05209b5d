package figure

import (
	"math"
	"strings"
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

// A thing whose place is to be found stands, in the sketch, on the right side of every support, but not at the answer.
func TestWhatIsSoughtStandsOnTheRightSide(t *testing.T) {
	const beam = "body b: uniform, length 4.00 m, weight 200 N\nsupport P: rest, on b at 0.50 m\nsupport Q: rest, on b at 2.50 m\n"
	for name, c := range map[string]struct {
		text      string
		low, high float64
	}{
		"beyond the right support":   {beam + "load K: weight 600 N, on b at 3.60 m\npart a: find furthest K towards right\n", 2.50, 4.00},
		"beyond the left support":    {beam + "load K: weight 2000 N, on b at 1.60 m\npart a: find furthest K towards left\n", 0, 0.50},
		"between, and not at 1.62":   {"body b: uniform, length 4.00 m, weight 200 N\nsupport P: rest, on b at 0.50 m\nsupport Q: rest, on b at 2.50 m, reading 244 N\nload K: weight 168 N, on b at unknown\npart a: find position K\n", 0.50, 2.50},
		"zero at the right-hand end": {"body b: uniform, length 4.00 m, weight 200 N, zero at right end\nsupport P: rest, on b at 3.50 m\nsupport Q: rest, on b at 1.50 m\nload K: weight 600 N, on b at 2.00 m\npart a: find furthest K towards right\n", 2.50, 4.00},
	} {
		q, err := question.Parse(name, "question \"Side\"\n"+c.text)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		a, err := answer.Solve(q)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		l := a.Layout
		if r := a.Results[0]; r.Layout != nil {
			l = r.Layout
		}
		p := Place(l, Options{View: Sketch})
		var box draw.Point
		for _, m := range p.Marks {
			if g, ok := m.(draw.Group); ok && g.ID == "load-K" {
				for _, x := range g.Marks {
					if line, ok := x.(draw.Line); ok && line.Closed {
						box = line.Points[0]
						for _, v := range line.Points {
							box.X = (box.X + v.X) / 2
						}
					}
				}
			}
		}
		at := (box.X - p.At(statics.Ground, statics.Vec{}).X) / p.Scale
		if at < c.low || at > c.high {
			t.Errorf("%s: K stands at %.2f m, not between %.2f m and %.2f m", name, at, c.low, c.high)
		}
		want := l.Loads[0].At.X
		if math.Abs(at-want) < 0.09*(c.high-c.low) {
			t.Errorf("%s: the sketch shows the answer, %.2f m", name, want)
		}
	}
}

// Two rafters on a pin: under upright loads alone each thrusts the other sideways, and the unknown force at a hinge is
// drawn as two. On level bars nothing does, and it is one.
func TestLeaningBodiesOnAPinThrustSideways(t *testing.T) {
	for _, x := range []struct {
		angles [2]string
		id     string
		want   int
	}{{[2]string{"40 deg", "-40 deg"}, "force-C-b", 1}, {[2]string{"0 deg", "0 deg"}, "force-C-b", 0}} {
		p := placed(t, `question "Rafters"
body left: uniform, length 2.00 m, weight 120 N, angle `+x.angles[0]+`
body right: uniform, length 2.00 m, weight 180 N, angle `+x.angles[1]+`
support A: hinge, on left at left end
support B: hinge, on right at right end
support C: hinge, on right at left end, by left at right end
`, Options{View: Forces, Body: "left"})
		if got := strings.Count(string(draw.SVG(p.Picture)), `id="`+x.id+`"`); got != x.want {
			t.Errorf("at %v the pin has %d level forces beside its upright one, want %d", x.angles, got, x.want)
		}
	}
}
