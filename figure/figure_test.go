package figure

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

var update = flag.Bool("update", false, "rewrite the golden pictures")

// TestGolden compares pictures of one arrangement of each kind, byte for byte.
func TestGolden(t *testing.T) {
	names, err := filepath.Glob("testdata/*.moments")
	if err != nil || len(names) < 12 {
		t.Fatalf("only %d arrangements in testdata (%v)", len(names), err)
	}
	for _, name := range names {
		src, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		q, err := question.Parse(name, string(src))
		if err != nil {
			t.Fatal(err)
		}
		a, err := answer.Solve(q)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		pivot, at := pivotFor(a.Layout, 0)
		for view, o := range map[string]Options{
			"sketch": {},
			"forces": {View: Forces, Forces: a.Forces},
			"moment": {View: Moment, Forces: a.Forces, Pivot: pivot, PivotName: at, Lengths: Scaled},
			"large":  {TextSize: 18, Upright: true, Width: 480},
		} {
			path := strings.TrimSuffix(name, ".moments") + "-" + view + ".svg"
			got := draw.SVG(Draw(a.Layout, o))
			if *update {
				if err := os.WriteFile(path, got, 0o644); err != nil {
					t.Fatal(err)
				}
				continue
			}
			if want, err := os.ReadFile(path); err != nil || !bytes.Equal(got, want) {
				t.Errorf("%s has changed (%v); if you meant it, run go test -update and look at the picture", path, err)
			}
		}
	}
}

// everyView lists a picture of each kind for a question: sketches in two sizes, and each body's
// forces and moments, with and without the forces found.
func everyView(q *question.Question) ([]*answer.Layout, []Options, error) {
	l, err := answer.Lay(q)
	if err != nil {
		return nil, nil, err
	}
	layouts, options := []*answer.Layout{l, l}, []Options{{}, {Width: 240, TextSize: 18, Upright: true}}
	o := Options{Width: 320}
	if a, err := answer.Solve(q); err == nil {
		l, o.Forces = a.Layout, a.Forces
	}
	for i := range l.Bodies {
		o.View, o.Body = Forces, l.Bodies[i].Name
		layouts, options = append(layouts, l), append(options, o)
		o.View, o.Lengths = Moment, Scaled
		o.Pivot, o.PivotName = pivotFor(l, i)
		layouts, options = append(layouts, l), append(options, o)
	}
	return layouts, options, nil
}

// TestLabelsNeverCollide draws random arrangements of all kinds in all views: no two label boxes
// overlap, none leaves the picture, and nor does anything else.
func TestLabelsNeverCollide(t *testing.T) {
	pictures := 10_000
	if testing.Short() {
		pictures = 1000
	}
	crossed, labels := 0, 0
	for seed := uint64(1); pictures > 0; seed++ {
		q := randomQuestion(seed)
		layouts, options, err := everyView(q)
		if err != nil {
			t.Fatalf("seed %d: %v\n%s", seed, err, q)
		}
		for i, o := range options {
			p, s := compose(layouts[i], o)
			pictures--
			if fault := faultIn(p, s); fault != "" {
				t.Fatalf("seed %d, view %d: %s\n%s", seed, i, fault, q)
			}
			for k := range s.labels {
				labels++
				for j := range s.strokes {
					if s.strokes[j].weight >= heavy && s.strokes[j].meets(s.labels[k].box.grown(-0.5)) {
						crossed++
						break
					}
				}
			}
		}
	}
	t.Logf("%d of %d labels lie on an outline or an arrow", crossed, labels)
	if crossed*100 > labels {
		t.Errorf("%d of %d labels lie on an outline or an arrow; at most one in a hundred may", crossed, labels)
	}
}

// faultIn says what is wrong with a picture's edges or labels; "" if nothing is.
func faultIn(p *draw.Picture, s *scene) string {
	const dust = 1e-6
	for i, b := range s.boxes {
		if b.low.X < -dust || b.low.Y < -dust || b.high.X > p.Width+dust || b.high.Y > p.Height+dust {
			return "a label leaves the picture"
		}
		for _, c := range s.boxes[:i] {
			if b.grown(-dust).overlaps(c) {
				return "two labels overlap"
			}
		}
	}
	texts := 0
	var walk func([]draw.Mark) string
	walk = func(marks []draw.Mark) string {
		for _, m := range marks {
			switch m := m.(type) {
			case draw.Group:
				if f := walk(m.Marks); f != "" {
					return f
				}
			case draw.Line:
				for _, q := range m.Points {
					if !(q.X >= -dust && q.Y >= -dust && q.X <= p.Width+dust && q.Y <= p.Height+dust) {
						return "a line leaves the picture"
					}
				}
			case draw.Text:
				texts++
				x, w := m.At.X, m.Width()
				switch m.Anchor {
				case draw.Centre:
					x -= w / 2
				case draw.Finish:
					x -= w
				}
				// The text itself is where its box says.
				in := func(b box) bool {
					return x >= b.low.X-0.01 && x+w <= b.high.X+0.01 && m.At.Y >= b.low.Y && m.At.Y <= b.high.Y
				}
				found := false
				for _, b := range s.boxes {
					found = found || in(b)
				}
				if !found {
					return "the text " + m.String() + " is outside of its box"
				}
			}
		}
		return ""
	}
	if f := walk(p.Marks); f != "" {
		return f
	}
	if texts == 0 {
		return "there is no text"
	}
	return ""
}

// TestHostile draws what no one should write: nothing panics, labels still keep apart.
func TestHostile(t *testing.T) {
	long := strings.Repeat("very", 8) + "long"
	for name, src := range map[string]string{
		"crowd": "question \"Crowd\"\nbody plank: uniform, length 2.00 m, weight 10 N\nsupport P: rest, on plank at 1.00 m\nsupport Q: rest, on plank at 1.01 m\n" +
			"load A: weight 1 N, on plank at 1.00 m\nload B: weight 1 N, on plank at 1.00 m\nload C: weight 1 N, on plank at 1.00 m\nload D: weight 1 N, on plank at 1.005 m\npart a: find force P\n",
		"long names": "question \"Long\"\nbody plank: uniform, length 2.00 m, weight 10 N, \"" + strings.Repeat("very ", 40) + "\"\nsupport " + long + ": rest, on plank at 1.00 m\npart a: find force " + long + "\n",
		"forty":      crowd(40),
		"tiny":       "question \"Tiny\"\nbody hair: uniform, length 0.0001 m, weight 0.00001 N\nsupport P: rest, on hair at left end\nsupport Q: rest, on hair at right end\npart a: find force P\n",
		"huge":       "question \"Huge\"\nbody bridge: uniform, length 1000000 m, weight 1e9 N\nsupport P: rest, on bridge at left end\nsupport Q: rest, on bridge at 1 m\npart a: find force P\n",
	} {
		q, err := question.Parse(name, src)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		layouts, options, err := everyView(q)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for i, o := range options {
			p, s := compose(layouts[i], o)
			if fault := faultIn(p, s); fault != "" {
				t.Errorf("%s, view %d: %s", name, i, fault)
			}
		}
	}
}

// crowd is a beam with many loads.
func crowd(n int) string {
	var b strings.Builder
	b.WriteString("question \"Forty\"\nbody plank: uniform, length 5.00 m, weight 10 N\nsupport P: rest, on plank at 1.00 m\nsupport Q: rest, on plank at 4.01 m\n")
	for i := range n {
		fmt.Fprintf(&b, "load K%d: weight %d N, on plank at %.2f m\n", i, i+1, float64(i)*5/float64(n))
	}
	b.WriteString("part a: find force P\n")
	return b.String()
}

const beam = `question "Beam"
body plank: uniform, length 4.80 m, weight 310 N
support P: rest, on plank at 0.60 m
support Q: rest, on plank at 4.20 m
load K: weight 540 N, on plank at 1.50 m
part a: find force P
`

// TestArrowsPointAsTheForcesDo checks each arrow of a force diagram against the force it stands for.
func TestArrowsPointAsTheForcesDo(t *testing.T) {
	for seed := range uint64(400) {
		q := randomQuestion(seed)
		a, err := answer.Solve(q)
		if err != nil || len(a.Forces) == 0 {
			continue
		}
		for body := range a.Layout.Bodies {
			o := Options{View: Forces, Body: a.Layout.Bodies[body].Name, Forces: a.Forces}
			var x, y, turn, most, moments float64
			s := scene{o: o, l: a.Layout}
			s.o.View, s.o.Pivot = Moment, statics.Vec{X: 0.37, Y: -0.21}
			for _, f := range forcesOn(a.Layout, o, body) {
				if f.couple != 0 {
					moments += float64(f.couple) * f.size
					turn += float64(f.couple) * f.size
					continue
				}
				fx, fy := f.dir.X*f.size, -f.dir.Y*f.size
				moments += f.size * s.arm(&f)
				x, y, turn = x+fx, y+fy, turn+f.at.X*fy-f.at.Y*fx
				most = max(most, f.size*(1+math.Hypot(f.at.X, f.at.Y)))
			}
			if math.Abs(moments) > 1e-6*(most+1e-9) {
				t.Errorf("seed %d, %s: with the arms given, the moments add up to %g N m\n%s", seed, o.Body, moments, q)
			}
			// The arrows drawn are in equilibrium: none is missing, reversed or misplaced.
			if math.Abs(x)+math.Abs(y)+math.Abs(turn) > 1e-6*(most+1e-9) {
				t.Errorf("seed %d, %s: the arrows add up to %g N, %g N, %g N m\n%s", seed, o.Body, x, y, turn, q)
			}
		}
	}
}

// TestSketchGivesNothingAway checks that a sketch has no arrow of a reaction, and that what is
// unknown is somewhere else than its answer.
func TestSketchGivesNothingAway(t *testing.T) {
	q, err := question.Parse("bar", "question \"Bar\"\nbody bar: uniform, length 4.00 m, weight 200 N\nsupport P: rest, on bar at left end\nsupport Q: rest, on bar at right end\nload K: weight 500 N, on bar at unknown\ngiven Q = 3 P\npart a: find position K\n")
	if err != nil {
		t.Fatal(err)
	}
	a, err := answer.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	p, s := compose(a.Layout, Options{})
	svg := string(draw.SVG(p))
	if strings.Contains(svg, `class="force"`) || strings.Contains(svg, "3.4") {
		t.Error("the sketch shows a reaction or the place that is asked for")
	}
	if !strings.Contains(svg, "Not to scale.") {
		t.Error("K stands where it doesn't belong, and the sketch doesn't say so")
	}
	if at := s.l.Loads[0].At.X; math.Abs(at-3.4) < 0.2 {
		t.Errorf("K is drawn at %.2f m, where the answer is", at)
	}
}

// TestArms compares the perpendicular distances and senses about P with ones worked out by hand.
func TestArms(t *testing.T) {
	l := lay(t, beam)
	a, err := answer.Solve(l.Question)
	if err != nil {
		t.Fatal(err)
	}
	p, _ := compose(a.Layout, Options{View: Moment, Forces: a.Forces, Pivot: statics.Vec{X: 0.6}, PivotName: "P"})
	for _, want := range []string{"310 N, down, perpendicular distance 1.80 m, clockwise", "540 N, down, perpendicular distance 0.90 m, clockwise",
		"up, perpendicular distance 3.60 m, anticlockwise", "through the pivot"} {
		if !strings.Contains(p.Description, want) {
			t.Errorf("no %q in:\n%s", want, p.Description)
		}
	}
}

func BenchmarkBeam(b *testing.B) {
	l := lay(b, beam)
	b.ReportAllocs()
	for b.Loop() {
		draw.SVG(Draw(l, Options{}))
	}
}

func BenchmarkMoment(b *testing.B) {
	l := lay(b, beam)
	a, err := answer.Solve(l.Question)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		draw.SVG(Draw(a.Layout, Options{View: Moment, Forces: a.Forces, PivotName: "P", Pivot: a.Layout.Supports[0].At}))
	}
}

// TestUnsolved draws layouts as they are before anything is found, where what is unknown is NaN.
func TestUnsolved(t *testing.T) {
	names, err := filepath.Glob("testdata/*.moments")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		src, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		l := lay(t, string(src))
		for _, o := range []Options{{}, {View: Forces}, {View: Moment, PivotName: "X"}, {View: Moment, Pivot: statics.Vec{X: math.NaN()}, Lengths: Equal}, {View: Forces, Width: math.NaN(), TextSize: 1e9, HideDistances: true, HideValues: true}} {
			p, s := compose(l, o)
			if fault := faultIn(p, s); fault != "" && fault != "there is no text" {
				t.Errorf("%s: %s", name, fault)
			}
			if !(p.Width > 0 && p.Height > 0) || math.IsInf(p.Width+p.Height, 0) {
				t.Errorf("%s: the picture is %g by %g", name, p.Width, p.Height)
			}
		}
	}
	if p := Draw(&answer.Layout{}, Options{}); p == nil || p.Title == "" {
		t.Error("an empty layout gives no picture")
	}
}

// TestSameTwice checks that the same layout gives the same bytes.
func TestSameTwice(t *testing.T) {
	for seed := range uint64(50) {
		q := randomQuestion(seed)
		layouts, options, err := everyView(q)
		if err != nil {
			t.Fatal(err)
		}
		for i, o := range options {
			if !bytes.Equal(draw.SVG(Draw(layouts[i], o)), draw.SVG(Draw(layouts[i], o))) {
				t.Errorf("seed %d, view %d differs from run to run", seed, i)
			}
		}
	}
}

func BenchmarkPNG(b *testing.B) {
	p := Draw(lay(b, beam), Options{})
	for b.Loop() {
		if _, err := draw.PNG(p, 150); err != nil {
			b.Fatal(err)
		}
	}
}

// TestSizesInTheQuestionsUnit holds the sizes in force diagrams against what the answers and solutions write.
func TestSizesInTheQuestionsUnit(t *testing.T) {
	l := lay(t, `question "Hoist"
body hoist: length 5.00 m, weight 12 kN, centre of mass at 2.00 m
support P: rest, on hoist at 1.10 m
support Q: rest, on hoist at 2.90 m
load K: weight 3 kN, hung from hoist at right end
part a: find force Q
`)
	a, err := answer.Solve(l.Question)
	if err != nil {
		t.Fatal(err)
	}
	p := Draw(a.Layout, Options{View: Moment, Forces: a.Forces, Pivot: a.Layout.Supports[1].At, PivotName: "Q"})
	svg := string(draw.SVG(p))
	if shown := answer.Round(a.ForceNamed("Q").N, answer.UnitFor(l.Question, quantity.Force), answer.Figures(l.Question, nil), answer.Nearest); !strings.Contains(p.Description, shown) || !strings.HasSuffix(shown, " kN") {
		t.Errorf("the force at Q is not written as %s in:\n%s", shown, p.Description)
	}
	for _, want := range []string{"0.90\u00a0m", "2.10\u00a0m"} {
		if !strings.Contains(svg, want) {
			t.Errorf("no distance %s in the picture:\n%s", want, p.Description)
		}
	}
}

// TestOwnLetters: the tension of a cable called T is T.
func TestOwnLetters(t *testing.T) {
	l := lay(t, "question \"Arm\"\nbody arm: uniform, length 2.00 m, weight 80 N\nsupport H: hinge, on arm at left end\ncable T: on arm at right end, pulls 40 deg above left\npart a: find tension T\n")
	a, err := answer.Solve(l.Question)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range forcesOn(a.Layout, Options{Forces: a.Forces}, 0) {
		if f.letter == "T" && f.sub != "" {
			t.Errorf("the tension is %s with %s below it", f.letter, f.sub)
		}
	}
}
