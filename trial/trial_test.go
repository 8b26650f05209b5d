package trial_test

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/bank"
	"steelyard/bank/banktest"
	"steelyard/chart"
	"steelyard/draw"
	"steelyard/figure"
	"steelyard/formula"
	"steelyard/question"
	"steelyard/solution"
	"steelyard/statics"
	"steelyard/trial"
)

func ask(t testing.TB, text string) *answer.Answers {
	t.Helper()
	q, err := question.Parse("test", text)
	if err != nil {
		t.Fatal(err)
	}
	a, err := answer.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// plain has ordinary spaces only.
func plain(s string) string { return strings.Join(strings.Fields(s), " ") }

func keep(t *testing.T, name string, p *draw.Picture) {
	dir := os.Getenv("STEELYARD_SHOTS")
	if dir == "" {
		return
	}
	b, err := draw.PNG(p, 120)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, name+".png"), b, 0o644); err != nil {
		t.Fatal(err)
	}
}

// Every question of the bank can be tried out in every way, and each picture is drawn.
func TestTheBankCanBeTriedOut(t *testing.T) {
	for _, file := range bank.Names() {
		name := strings.TrimSuffix(file, ".moments")
		a := banktest.Solved(t, name)
		places := trial.Places(a)
		if len(places) == 0 && len(a.Layout.Bodies) > 0 {
			t.Errorf("%s has no places", name)
		}
		for i, p := range places {
			r, err := trial.Pivot(a, p)
			if err != nil {
				t.Errorf("%s about %s: %v", name, p.Name, err)
				continue
			}
			again, err := trial.Find(a, p.Key)
			if err != nil || again.At != p.At {
				t.Errorf("%s: %q finds %v, not %v (%v)", name, p.Key, again.At, p.At, err)
			}
			if i == 0 {
				p.Picture(a, figure.Options{})
			}
			if r.Gives == "" {
				t.Errorf("%s about %s: nothing is said of what it gives", name, p.Name)
			}
			if a.State != statics.NoEquilibrium && i > 0 {
				if _, err := trial.Two(a, places[0], p); err != nil {
					t.Errorf("%s about %s and %s: %v", name, places[0].Name, p.Name, err)
				}
			}
		}
		for _, c := range trial.Changes(a) {
			o, err := trial.Without(a, c)
			if err != nil {
				t.Logf("%s: %s: %v", name, c.Words, err)
				continue
			}
			s, err := o.Scene(figure.Options{Width: 420, TextSize: 12, ID: "try"})
			if err != nil {
				t.Errorf("%s: %s: %v", name, c.Words, err)
				continue
			}
			t.Log(name, o.Say, o.Open, o.Needed, len(s.Ghosts))
			keep(t, name+"-"+string(c.Deed)+"-"+c.Thing, s.Picture)
		}
		for i, x := range trial.Numbers(a) {
			if i > 2 {
				break
			}
			c, err := trial.Vary(a, x, x.Low, x.High, 41)
			if err != nil {
				t.Logf("%s: %s: %v", name, x.Words, err)
				continue
			}
			keep(t, name+"-graph-"+x.Thing+"-"+x.Attribute, c.Picture(x.Now, chart.Options{Width: 420}))
			keep(t, name+"-bars-"+x.Thing+"-"+x.Attribute, chart.Sizes(c.Forces(x.Now), c.Greatest(), "N", chart.Options{Width: 300}))
			t.Log(name, x.Words, c.Say())
		}
	}
}

// Two equations with both forces in them are solved together, to the forces that the question has.
func TestTwoEquationsTogether(t *testing.T) {
	a := banktest.Solved(t, "lock-footbridge")
	p, err := trial.Find(a, "0.20, 1.00")
	if err != nil {
		t.Fatal(err)
	}
	q, err := trial.Find(a, "2.00 m")
	if err != nil {
		t.Fatal(err)
	}
	pair, err := trial.Two(a, p, q)
	if err != nil {
		t.Fatal(err)
	}
	got := ""
	for _, n := range pair.Lines {
		if err := formula.Check(n); err != nil {
			t.Error(err)
		}
		got += formula.Text(n) + "\n"
	}
	// Moments about Q: P × 2.80 = 560 × 2.30 + 280 × 1.10, so P = 570 N, and Q = 840 − 570 = 270 N.
	for _, want := range []string{"R_P = 570 N", "R_Q = 270 N"} {
		if !strings.Contains(plain(got), want) {
			t.Errorf("%q is not in\n%s%s", want, pair.Say, got)
		}
	}
	if r, err := trial.Pivot(a, p); err != nil || !strings.Contains(r.Gives, "stay in") {
		t.Errorf("about a point off the body: %q, %v", r.Gives, err)
	}
}

// Three pushes on a level beam: no equation is left that two of moments do not hold already.
func TestTwoEquationsAreNotEnough(t *testing.T) {
	for _, x := range []struct{ name, p, q, want string }{
		{"bench-on-three-rests", "P", "R", "No further equation of equilibrium fixes them all here."},
		{"painters-ladder", "W", "F", "A balance of forces is needed as well."},
	} {
		a := banktest.Solved(t, x.name)
		p, err := trial.Find(a, x.p)
		if err != nil {
			t.Fatal(err)
		}
		q, err := trial.Find(a, x.q)
		if err != nil {
			t.Fatal(err)
		}
		if pair, err := trial.Two(a, p, q); err != nil || !strings.HasSuffix(pair.Say, "two equations fix two at most. "+x.want) {
			t.Errorf("%s: %q, %v", x.name, pair.Say, err)
		}
	}
}

// An unknown place may stand in an equation as part of a distance: then it says so, and not that it gives nothing.
func TestAPlaceWithinADistance(t *testing.T) {
	a := banktest.Solved(t, "herb-balance")
	p, err := trial.Find(a, "0.10, 0.20")
	if err != nil {
		t.Fatal(err)
	}
	about, err := trial.Pivot(a, p)
	if err != nil || !strings.Contains(about.Gives, "the equation gives the distance") {
		t.Errorf("about a point above the pivot: %q, %v", about.Gives, err)
	}
}

// Without Q the plank turns clockwise about P, which Q had prevented by a force up; a load that is moved beyond the
// limit tips it about Q.
func TestWhatASupportPrevents(t *testing.T) {
	a := banktest.Solved(t, "lock-footbridge")
	o, err := trial.Without(a, trial.Change{Deed: trial.Away, Thing: "Q"})
	if err != nil {
		t.Fatal(err)
	}
	said := strings.Join(o.Say, " ") + " " + o.Needed
	for _, want := range []string{"turns clockwise about P", "force at Q had prevented it", "270 N", "anticlockwise", "at Q has to act up"} {
		if !strings.Contains(plain(said), want) {
			t.Errorf("%q is not in %q", want, said)
		}
	}
	// 280 × 1.10 = 560 × x, so the keeper may stand 0.55 m beyond Q: at 4.05 m.
	for to, rests := range map[float64]bool{4.0: true, 4.05: true, 4.1: false} {
		o, err := trial.Without(a, trial.Change{Deed: trial.Moved, Thing: "K", Attribute: "at", To: to})
		if err != nil || o.Rests != rests {
			t.Errorf("with K at %g m it rests: %v (%v)", to, o.Rests, err)
		}
		if !rests && !strings.Contains(o.Needed, "at P would have to act down") {
			t.Errorf("what could hold it: %q", o.Needed)
		}
	}
}

// The graph ends exactly where the plank tips, and beyond it P would have to pull.
func TestALimitIsMarkedExactly(t *testing.T) {
	a := banktest.Solved(t, "lock-footbridge")
	x, err := trial.NumberOf(a, "K", "at")
	if err != nil {
		t.Fatal(err)
	}
	c, err := trial.Vary(a, x, 0, 4.8, 49)
	if err != nil {
		t.Fatal(err)
	}
	// About P: 280 × 1.70 = 560 × x, so K may be 0.85 m left of P, which is off the plank: no limit there.
	if len(c.Limits) != 1 || math.Abs(c.Limits[0].At-4.05) > 1e-9 || !strings.Contains(strings.Join(c.Limits[0].Giving, ""), "P") {
		t.Fatalf("limits: %+v", c.Limits)
	}
	for _, l := range c.Lines {
		if l.Name == "push at P" && !(l.Beyond[len(l.Beyond)-1] < 0) {
			t.Error("beyond the limit P is not negative")
		}
	}
	if rows := c.Table(); len(rows) != len(c.At)+1 || rows[1][0] != "0" {
		t.Errorf("the table begins %v", rows[:2])
	}
}

// A single value at which it rests has one row and one dot, whatever roundings make of its two ends.
func TestASingleValueIsOneDot(t *testing.T) {
	for _, x := range []struct{ name, thing, attribute string }{{"balanced-rule", "A", "at"}, {"herb-balance", "S", "at"}, {"rough-wall", "pole", "angle"}} {
		a := banktest.Solved(t, x.name)
		n, err := trial.NumberOf(a, x.thing, x.attribute)
		if err != nil {
			t.Fatal(err)
		}
		c, err := trial.Vary(a, n, n.Low, n.High, 80)
		if err != nil {
			t.Fatal(err)
		}
		found := 0
		for _, v := range c.Lines[0].Value {
			if !math.IsNaN(v) {
				found++
			}
		}
		if found != 1 {
			t.Errorf("%s: the %s is found at %d values, want one", x.name, c.Lines[0].Name, found)
		}
	}
}

func TestWhatCantBeDoneIsRefused(t *testing.T) {
	a := banktest.Solved(t, "lock-footbridge")
	for _, c := range []trial.Change{{Deed: trial.Away, Thing: "Z"}, {Deed: trial.Smooth, Thing: "K"}, {Deed: "fly", Thing: "P"},
		{Deed: trial.Moved, Thing: "K", Attribute: "colour", To: 1}, {Deed: trial.Moved, Thing: "K", Attribute: "at", To: math.NaN()}} {
		if _, err := trial.Without(a, c); err == nil {
			t.Errorf("%+v is done", c)
		}
	}
	for _, w := range []string{"", "Z", "1,", "1e9, 2", "nan, 1", "1, 2 on Z"} {
		if p, err := trial.Find(a, w); err == nil {
			t.Errorf("%q is found at %v", w, p)
		}
	}
}

func FuzzFind(f *testing.F) {
	a := banktest.Solved(f, "lock-footbridge")
	for _, s := range []string{"Q", "1.2, 0.4", "(1 m, -2 m) on plank", "middle", "2.00 m on plank"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if p, err := trial.Find(a, s); err == nil && (math.IsNaN(p.At.X) || p.Body == "" || p.Name == "") {
			t.Errorf("%q finds %+v", s, p)
		}
	})
}

// Aim: under 2 ms for the equation and the picture about any point.
func BenchmarkPivot(b *testing.B) {
	a := banktest.Solved(b, "lock-footbridge")
	for b.Loop() {
		p, err := trial.Find(a, "1.23, 0.45")
		if err != nil {
			b.Fatal(err)
		}
		r, err := trial.Pivot(a, p)
		if err != nil {
			b.Fatal(err)
		}
		solution.RouteHTML(&r.Route)
		draw.SVG(p.Picture(a, figure.Options{Width: 560, TextSize: 13}))
	}
}

func BenchmarkVary(b *testing.B) {
	a := banktest.Solved(b, "lock-footbridge")
	x, _ := trial.NumberOf(a, "K", "at")
	for b.Loop() {
		if _, err := trial.Vary(a, x, 0, 4.8, 41); err != nil {
			b.Fatal(err)
		}
	}
}
