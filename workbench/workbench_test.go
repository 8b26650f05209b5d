package workbench

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"steelyard/bank"
	"steelyard/bank/banktest"
	"steelyard/question"
)

const bridge = `question "Lock footbridge"   # for year 12
level 16-18

body plank:  uniform, length 4.80 m, weight 310 N   # oak
support P: rest, on plank at 0.60 m, "left sill"
support Q: rest, on plank at 3.90 m
load K: weight 540 N, on plank at 1.50 m, "lock keeper" # in boots

part a: find force P  marks 3
part b: find force Q  marks 1

vary K.weight 480 N to 620 N step 20 N
`

func must(t *testing.T, c Change, err error) Change {
	t.Helper()
	if err != nil {
		t.Fatalf("refused: %v", err)
	}
	return c
}

// Moving changes the one number, and nothing else on the page.
func TestMovingChangesOneNumber(t *testing.T) {
	c, err := Move(bridge, "P", "at", 0.82, 0, Stepped)
	must(t, c, err)
	if want := strings.Replace(bridge, "0.60 m", "0.80 m", 1); c.Text != want {
		t.Errorf("the text is now\n%s", c.Text)
	}
	if c.Said != "left sill P: 0.80 metres from the left end of plank" {
		t.Errorf("it says %q", c.Said)
	}
}

// What is moved there and back leaves the text as it was, in every question of the bank, for every handle that stands
// at a number; a step by keyboard is the drag to the same place; what results can be read.
func TestThereAndBack(t *testing.T) {
	handles := 0
	for _, f := range banktest.All(t) {
		name, text := f.Name, f.Text
		v := Look(text, Options{})
		if len(v.Faults) > 0 {
			t.Errorf("%s: %v", name, v.Faults)
			continue
		}
		for _, h := range v.Handles {
			if h.Moves == 0 {
				continue
			}
			handles++
			g, err := gripOf(v.Question, h.Thing, h.What)
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			by := [2]float64{1, 0}
			switch {
			case h.Moves == 2 && h.Low[0] == h.High[0]:
				by = [2]float64{0, 1}
				if h.Now[1]+h.Step > h.High[1]+1e-12 {
					by[1] = -1
				}
			case h.Now[0]+h.Step > h.High[0]+1e-12:
				by[0] = -1
			}
			stepped, err := Step(text, h.Thing, h.What, int(by[0]), int(by[1]), false)
			if err != nil {
				t.Errorf("%s, %s: a step is refused: %v", name, h.Label, err)
				continue
			}
			if stepped.Text == text {
				t.Errorf("%s, %s: a step changes nothing", name, h.Label)
			}
			dragged, err := Move(text, h.Thing, h.What, h.Now[0]+by[0]*h.Step, h.Now[1]+by[1]*h.Step, Exactly)
			if err != nil || dragged.Text != stepped.Text {
				t.Errorf("%s, %s: dragged to where the key takes it, it is elsewhere (%v)", name, h.Label, err)
			}
			if w := Look(stepped.Text, Options{}); w.Question == nil || w.Picture == nil {
				t.Errorf("%s, %s: after a step nothing can be drawn: %v", name, h.Label, w.Faults)
			}
			if g.x == nil || g.way == onBody || g.way == inPlane {
				continue // a place by a word becomes a number
			}
			back, err := Move(stepped.Text, h.Thing, h.What, h.Now[0], h.Now[1], Exactly)
			if err != nil || back.Text != text && finer(text, stepped.Text) == 0 {
				t.Errorf("%s, %s: there and back is not the same text (%v)", name, h.Label, err)
			}
		}
	}
	if handles < 150 {
		t.Errorf("only %d handles in the whole bank", handles)
	}
}

// finer is by how many characters a step made a text longer: it needed decimals that the writer had not.
func finer(was, is string) int { return max(0, len(is)-len(was)) }

// Points move in both directions, and back.
func TestPointsMoveBothWays(t *testing.T) {
	text := strings.Replace(bridge, "part a:", "cable T: on plank at right end, to (0.50 m, 1.05 m)\npart a:", 1)
	there := must2(t)(Move(text, "T", "far", 0.70, 1.25, Stepped))
	if !strings.Contains(there.Text, "to (0.70 m, 1.25 m)") {
		t.Errorf("the text is now\n%s", there.Text)
	}
	if back := must2(t)(Move(there.Text, "T", "far", 0.50, 1.05, Exactly)); back.Text != text {
		t.Errorf("back it is\n%s", back.Text)
	}
}

func must2(t *testing.T) func(Change, error) Change {
	return func(c Change, err error) Change { t.Helper(); return must(t, c, err) }
}

// Units, figures and decimal commas stay the writer's.
func TestNumbersStayTheWriters(t *testing.T) {
	tests := []struct{ typed, want string }{
		{"at 60 cm", "at 65 cm"},
		{"at 0,600 m", "at 0.650 m"}, // 0,600 reads as a decimal; with three decimals a comma could group thousands
		{"at 0,60 m", "at 0,65 m"},
		{"at 600 mm", "at 650 mm"},
		{"at 0.600 metres", "at 0.650 metres"},
	}
	for _, c := range tests {
		text := strings.Replace(bridge, "at 0.60 m", c.typed, 1)
		got, err := Move(text, "P", "", 0.65, 0, Exactly)
		if err != nil {
			t.Errorf("%s: %v", c.typed, err)
		} else if want := strings.Replace(text, c.typed, c.want, 1); got.Text != want {
			t.Errorf("%s becomes\n%s", c.typed, got.Text)
		}
	}
}

func TestSet(t *testing.T) {
	tests := []struct{ thing, what, to, was, is string }{
		{"K", "weight", "560", "weight 540 N", "weight 560 N"},
		{"K", "weight", "0.56 kN", "weight 540 N", "weight 0.56 kN"},
		{"K", "weight", "unknown", "", ""}, // it varies, so it has to be given: refused
		{"K", "label", `the "keeper"`, `"lock keeper"`, `"the \"keeper\""`},
		{"K", "label", "", `, "lock keeper"`, ``},
		{"K", "at", "left end", "on plank at 1.50 m", "on plank at left end"},
		{"K", "at", "2", "on plank at 1.50 m", "on plank at 2 m"},
		{"K", "at", "unknown", "on plank at 1.50 m", "on plank at unknown"},
		{"K", "hung", "hung from", "on plank at 1.50 m", "hung from plank at 1.50 m"},
		{"P", "kind", "hinge", "support P: rest", "support P: hinge"},
		{"P", "kind", "force meter", "support P: rest", "support P: force meter"},
		{"P", "label", "sill", `"left sill"`, `"sill"`},
		{"Q", "label", "sill", `on plank at 3.90 m`, `on plank at 3.90 m, "sill"`},
		{"P", "surface", "0.40", `0.60 m, "left`, `0.60 m, coefficient 0.40, "left`},
		{"P", "above", "yes", `0.60 m, "left`, `0.60 m, above, "left`},
		{"plank", "weight-acts", "light", "uniform, length 4.80 m, weight 310 N", "light, length 4.80 m"},
		{"plank", "weight-acts", "2.10 m", "uniform, ", "centre of mass at 2.10 m, "},
		{"plank", "length", "5", "length 4.80 m", "length 5 m"},
		{"plank", "angle", "10", "weight 310 N", "weight 310 N, angle 10 deg"},
		{"plank", "mass", "30 kg", "weight 310 N", "mass 30 kg"},
		{"plank", "length", "3.00 m", "", ""}, // Q would be beyond its end
		{"part a", "marks", "4", "find force P  marks 3", "find force P  marks 4"},
		{"part a", "wording", "Find P.", "find force P  marks 3", `find force P  marks 3  "Find P."`},
		{"vary K.weight", "step", "10", "step 20 N", "step 10 N"},
		{"vary K.weight", "to", "3 m", "", ""},
		{"", "level", "14-16", "level 16-18", "level 14-16"},
		{"", "level", "", "level 16-18\n", ""},
		{"", "title", "Bridge", `question "Lock footbridge"   #`, `question "Bridge"   #`},
		{"", "g", "9.8", "level 16-18\n", "g 9.8 N/kg\nlevel 16-18\n"},
		{"P", "kind", "wheel", "", ""},
		{"K", "weight", "12,5,0 N", "", ""},
		{"K", "weight", "3 m", "", ""},
		{"Z", "weight", "3 N", "", ""},
	}
	for _, c := range tests {
		t.Run(c.thing+" "+c.what+" "+c.to, func(t *testing.T) {
			got, err := Set(bridge, c.thing, c.what, c.to)
			if c.is == "" && c.was == "" {
				if err == nil {
					t.Errorf("it is taken:\n%s", got.Text)
				}
				return
			}
			if want := strings.Replace(bridge, c.was, c.is, 1); err != nil || got.Text != want {
				t.Errorf("%v\n%s", err, got.Text)
			}
		})
	}
}

// Numbers that are no places have steps too, there and back.
func TestNumbersHaveSteps(t *testing.T) {
	text := strings.Replace(bridge, "weight 310 N", "weight 310 N, angle 12 deg", 1)
	tests := []struct{ thing, what, was, is string }{
		{"K", "weight", "540 N", "560 N"},
		{"plank", "weight", "310 N", "320 N"},
		{"plank", "angle", "12 deg", "13 deg"},
	}
	for _, c := range tests {
		there := must2(t)(Step(text, c.thing, c.what, 1, 0, false))
		if want := strings.Replace(text, c.was, c.is, 1); there.Text != want {
			t.Errorf("%s of %s: the text is now\n%s", c.what, c.thing, there.Text)
		}
		if back := must2(t)(Step(there.Text, c.thing, c.what, -1, 0, false)); back.Text != text {
			t.Errorf("%s of %s: back it is\n%s", c.what, c.thing, back.Text)
		}
	}
	if _, err := Step(text, "K", "weight", -100, 0, false); err == nil {
		t.Error("a weight can be made less than nothing")
	}
}

// Every kind of thing can be added to every question of the bank, or is refused in words; what is added can be taken
// away again and leaves the text as it was.
func TestAddingAndTakingAway(t *testing.T) {
	added := 0
	for _, f := range banktest.All(t) {
		name, text := f.Name, f.Text
		for _, kind := range Additions {
			c, err := Add(text, Addition{Kind: kind})
			if err != nil {
				if r, ok := err.(*Refusal); !ok || r.What == "" {
					t.Errorf("%s, %s: %v", name, kind, err)
				} else if testing.Verbose() {
					t.Logf("%s, %s: %v", name, kind, err)
				}
				continue
			}
			added++
			was, _ := question.Parse("", text)
			is, _ := question.Parse("", c.Text)
			thing := newThing(was, is)
			back, err := Remove(c.Text, thing)
			if err != nil || back.Text != text {
				t.Errorf("%s: %s added as %q and taken away is not the same text (%v)", name, kind, thing, err)
			}
		}
	}
	if most := len(bank.Names()) * len(Additions); added < most*9/10 {
		t.Errorf("only %d of %d can be added", added, most)
	}
}

func newThing(was, is *question.Question) string {
	for i := range is.Bodies {
		if n := is.Bodies[i].Name; was.Body(n) == nil {
			return n
		}
	}
	for i := range is.Supports {
		if n := is.Supports[i].Name; was.Support(n) == nil {
			return n
		}
	}
	for i := range is.Loads {
		if n := is.Loads[i].Name; was.Load(n) == nil {
			return n
		}
	}
	for i := range is.Points {
		if n := is.Points[i].Name; was.Point(n) == nil {
			return n
		}
	}
	return ""
}

// What can't do without a thing goes with it, and that is said.
func TestTakingAwayTellsWhatGoesWithIt(t *testing.T) {
	text := strings.Replace(bridge, "\nbody", "\ntext \"A keeper of {K.weight} stands on it.\"\nbody", 1)
	c := must2(t)(Remove(text, "K"))
	if strings.Contains(c.Text, "load K") || strings.Contains(c.Text, "vary") || !strings.Contains(c.Text, "A keeper of 540 N stands") {
		t.Errorf("the text is now\n%s", c.Text)
	}
	if got := strings.Join(c.Also, "; "); got != "K.weight no longer varies; the wording spoke of it: read it again" {
		t.Errorf("it also says %q", got)
	}
	c = must2(t)(Remove(bridge, "P"))
	if len(c.Also) != 1 || !strings.Contains(c.Also[0], "part a") {
		t.Errorf("with P it says %q", c.Also)
	}
	if _, err := Remove(bridge, "plank"); err == nil {
		t.Error("the only body can be taken away")
	}
}

func TestRename(t *testing.T) {
	text := strings.Replace(bridge, "\nbody", "\ntext \"K weighs {K.weight}.\"\nbody", 1)
	c := must2(t)(Rename(text, "K", "L"))
	for _, want := range []string{"load L: weight", "vary L.weight", `"K weighs {L.weight}."`} {
		if !strings.Contains(c.Text, want) {
			t.Errorf("%q is missing in\n%s", want, c.Text)
		}
	}
	for _, name := range []string{"P", "two words", "", "9", "rest"} {
		if _, err := Rename(text, "K", name); err == nil {
			t.Errorf("K can be called %q", name)
		}
	}
	for _, f := range banktest.All(t) {
		name, text := f.Name, f.Text
		q, _ := question.Parse("", text)
		for i := range q.Supports {
			c, err := Rename(text, q.Supports[i].Name, "Zz")
			if err != nil {
				t.Errorf("%s: %s: %v", name, q.Supports[i].Name, err)
				continue
			}
			if back, err := Rename(c.Text, "Zz", q.Supports[i].Name); err != nil || back.Text != text {
				t.Errorf("%s: %s renamed and back is another text (%v)", name, q.Supports[i].Name, err)
			}
		}
	}
}

// A handle stands inside the picture and keeps clear of others, so that each can be hit.
func TestHandlesCanBeHit(t *testing.T) {
	for _, f := range banktest.All(t) {
		name, text := f.Name, f.Text
		for _, width := range []float64{328, 560} {
			v := Look(text, Options{Width: width})
			for i, h := range v.Handles {
				if h.X < -20 || h.Y < -30 || h.X > v.Picture.Width+20 || h.Y > v.Picture.Height+30 {
					t.Errorf("%s, %v wide: the handle of %s is at %v, %v, outside %v by %v", name, width, h.Label, h.X, h.Y, v.Picture.Width, v.Picture.Height)
				}
				for _, o := range v.Handles[:i] {
					if math.Hypot(o.X-h.X, o.Y-h.Y) < 24 {
						t.Errorf("%s, %v wide: %s and %s are %v points apart", name, width, h.Label, o.Label, math.Hypot(o.X-h.X, o.Y-h.Y))
					}
				}
			}
		}
	}
}

// All four kinds of answer are told apart.
func TestStates(t *testing.T) {
	rests := "question \"B\"\nbody b: uniform, length 4 m, weight 100 N\nsupport P: rest, on b at %s m\n"
	tests := []struct {
		text string
		want State
	}{
		{bridge, Unique},
		{fmt.Sprintf(rests, "1") + "support Q: rest, on b at 3 m\nsupport R: rest, on b at 2 m\n", NotFixed},
		{fmt.Sprintf(rests, "1"), Moves},
		{fmt.Sprintf(rests, "1") + "support Q: rest, on b at 2 m\n", AtLimit},
	}
	for _, c := range tests {
		if v := Look(c.text, Options{}); v.State != c.want || v.Verdict == "" || v.Picture == nil {
			t.Errorf("it is %q (%v), want %q", v.State, v.Faults, c.want)
		}
	}
	v := Look("question \"B\"\nbody b: uniform, length 4 m, weight 100 N\nsupport P: rests, on b at 1 m\n", Options{})
	if len(v.Faults) != 1 || v.Faults[0].Span.Line != 3 || v.Picture != nil {
		t.Errorf("a misspelt kind: %v", v.Faults)
	}
}

// While the scale is held, dragging does not move the ground under the hand.
func TestTheScaleHolds(t *testing.T) {
	v := Look(bridge, Options{})
	c := must2(t)(Move(bridge, "plank", "length", 6, 0, Stepped))
	if w := Look(c.Text, Options{Scale: v.Scale}); w.Scale != v.Scale {
		t.Errorf("the scale was %v and is %v", v.Scale, w.Scale)
	}
}

// A quick look tells the same as a whole one, but for what it says that it leaves out.
func TestAQuickLookTellsTheSame(t *testing.T) {
	for _, f := range banktest.All(t) {
		name, text := f.Name, f.Text
		whole, quick := Look(text, Options{}), Look(text, Options{Quick: true})
		if quick.Picture == nil || len(quick.Handles) != len(whole.Handles) {
			t.Errorf("%s: the quick look has %d handles of %d", name, len(quick.Handles), len(whole.Handles))
		}
		if quick.Later {
			continue
		}
		if quick.State != whole.State || fmt.Sprint(quick.Forces) != fmt.Sprint(whole.Forces) || len(quick.Asked) != len(whole.Asked) {
			t.Errorf("%s: the quick look tells something else", name)
			continue
		}
		for i, a := range quick.Asked {
			if !a.Later && a != whole.Asked[i] {
				t.Errorf("%s: the quick look has %+v, the whole one %+v", name, a, whole.Asked[i])
			}
		}
	}
}

// The slower part has the solution, the slips and what a colleague would doubt.
func TestStudy(t *testing.T) {
	s := Look(bridge, Options{}).Study(3)
	if !strings.Contains(s.Solution, "<math") || len(s.Slips) < 5 || len(s.Wording) == 0 || s.Drawing == "" {
		t.Errorf("%d slips, wording %q, drawing %q", len(s.Slips), s.Wording, s.Drawing)
	}
	even := "question \"B\"\nbody b: uniform, length 4 m, weight 100 N\nsupport P: rest, on b at 1 m\nsupport Q: rest, on b at 3 m\npart a: find force P marks 2\n"
	if s := Look(even, Options{}).Study(3); len(s.Hidden) == 0 {
		t.Error("with equal shares the slip of sharing equally isn't told")
	}
}

func FuzzEdits(f *testing.F) {
	f.Add("move", "P", "at", "", 0.8, 0.0)
	f.Add("step", "plank", "length", "", 3.0, 0.0)
	f.Add("set", "K", "weight", "12,5 N", 0.0, 0.0)
	f.Add("set", "P", "kind", "slope", 0.0, 0.0)
	f.Add("set", "P", "label", "a \"b\" # c", 0.0, 0.0)
	f.Add("set", "K", "at", "(1 m, 2 m)", 0.0, 0.0)
	f.Add("set", "", "title", "x", 0.0, 0.0)
	f.Add("add", "plank", "cable", "", 1.0, 0.0)
	f.Add("add", "", "part", "force P", 0.0, 0.0)
	f.Add("add", "", "vary", "Q.at", 0.0, 0.0)
	f.Add("remove", "Q", "", "", 0.0, 0.0)
	f.Add("rename", "K", "", "L", 0.0, 0.0)
	f.Fuzz(func(t *testing.T, do, thing, what, to string, x, y float64) {
		for _, here := range []bool{false, true} {
			c, err := Apply(bridge, Edit{Do: do, Thing: thing, What: what, To: to, X: x, Y: y, Here: here})
			if err != nil {
				if _, ok := err.(*Refusal); !ok {
					t.Errorf("no refusal in words: %v", err)
				}
				continue
			}
			if _, err := question.Parse("", c.Text); err != nil {
				t.Errorf("what is left can't be read: %v\n%s", err, c.Text)
			}
			if strings.Count(c.Text, "# oak") != 1 && do != "remove" {
				t.Errorf("a comment is lost:\n%s", c.Text)
			}
		}
	})
}

// BenchmarkDragStep is one step of dragging on the server: the edit, the forces, the answers, the picture and its handles.
func BenchmarkDragStep(b *testing.B) {
	for _, name := range []string{"lock-footbridge", "painters-ladder", "boat-trestle", "crate-on-ramp", "orchard-ladder"} {
		text := banktest.Text(b, name)
		v := Look(text, Options{})
		h := v.Handles[0]
		for _, x := range v.Handles {
			if x.What == "at" && x.Moves == 1 {
				h = x
			}
		}
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			n := 0.0
			for b.Loop() {
				n++
				c, err := Move(text, h.Thing, h.What, h.Now[0]+math.Mod(n, 3)*h.Step, h.Now[1], Stepped)
				if err != nil {
					b.Fatal(err)
				}
				w := Look(c.Text, Options{Scale: v.Scale, Quick: true})
				if len(w.SVG()) == 0 {
					b.Fatal("no picture")
				}
			}
		})
	}
}

func BenchmarkStudy(b *testing.B) {
	text, err := os.ReadFile("../docs/pictures/bridge.moments")
	if err != nil {
		b.Fatal(err)
	}
	v := Look(string(text), Options{})
	for b.Loop() {
		v.Study(3)
	}
}

// FuzzLook reads anything, and moves and takes away whatever there is to take hold of.
func FuzzLook(f *testing.F) {
	f.Add(bridge)
	for _, known := range banktest.All(f) {
		text := known.Text
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 3000 || strings.Count(text, "\n") > 30 {
			return
		}
		v := Look(text, Options{Quick: true})
		for i, h := range v.Handles {
			if i == 4 {
				break
			}
			for _, e := range []Edit{{Do: "step", Thing: h.Thing, What: h.What, X: 1, Y: 1}, {Do: "remove", Thing: h.Thing}, {Do: "move", Thing: h.Thing, What: h.What, X: 0.7}} {
				c, err := Apply(text, e)
				if err != nil {
					continue
				}
				if _, err := question.Parse("", c.Text); err != nil {
					t.Errorf("after %+v it can't be read: %v\n%s", e, err, c.Text)
				}
			}
		}
	})
}
