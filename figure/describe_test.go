package figure

import (
	"strings"
	"testing"
	"unicode/utf8"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
)

func lay(t testing.TB, src string) *answer.Layout {
	t.Helper()
	q, err := question.Parse("test", src)
	if err != nil {
		t.Fatal(err)
	}
	l, err := answer.Lay(q)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestDescribe(t *testing.T) {
	title, text := Describe(lay(t, beam), Options{})
	if want := "Diagram of plank 4.80 metres long, held at P and Q, with K acting on it."; title != want {
		t.Errorf("title %q, want %q", title, want)
	}
	want := "The plank is a uniform straight body, 4.80 metres long, weight 310 newtons, level. " +
		"Distances along the plank are from its left end. " +
		"P is a rest, 0.60 metres from the left end. Q is a rest, 4.20 metres from the left end. " +
		"K is a load standing on it, weight 540 newtons, 1.50 metres from the left end. Asked: force P."
	if text != want {
		t.Errorf("got  %s\nwant %s", text, want)
	}
}

// TestDescriptionSaysAllThatIsGiven checks on random arrangements that each number that a figure
// shows is in the words, that titles are short, and that nothing that only an answer has is told.
func TestDescriptionSaysAllThatIsGiven(t *testing.T) {
	for seed := range uint64(500) {
		q := randomQuestion(seed)
		l, err := answer.Lay(q)
		if err != nil {
			t.Fatal(err)
		}
		title, text := Describe(l, Options{})
		if n := utf8.RuneCountInString(title); n > 250 {
			t.Errorf("seed %d: the title has %d characters", seed, n)
		}
		var given []question.Value
		for _, b := range q.Bodies {
			given = append(given, b.Length, b.Height, b.Weight, b.Mass, b.Angle)
		}
		for _, s := range q.Supports {
			given = append(given, s.On.At, s.Mu, s.Angle, s.Reading)
		}
		for _, d := range q.Loads {
			given = append(given, d.On.At, d.To.At, d.Size, d.Weight, d.Mass)
		}
		for _, v := range given {
			if v.Known() && !strings.Contains(text, v.Quantity.Words()) {
				t.Errorf("seed %d: %s is given, but isn't in:\n%s", seed, quantity.Plain(v.Quantity.String()), text)
			}
		}
		for _, word := range []string{"perpendicular distance", "NaN", "tension of", "normal force of"} {
			if strings.Contains(text, word) {
				t.Errorf("seed %d: the description says %q:\n%s", seed, word, text)
			}
		}
		if rows := Rows(l); len(rows) != len(q.Bodies)+len(q.Supports)+len(q.Loads) {
			t.Errorf("seed %d: %d rows", seed, len(rows))
		}
	}
}

// Of a stage no more is told than it shows: no size that is still to be found, no distance that is not drawn yet.
func TestAStageIsDescribedAsFarAsItShows(t *testing.T) {
	l := lay(t, beam)
	p := Arrow{Name: "P", Letter: "R"}
	k := Arrow{Name: "K", Letter: "W"}
	o := Options{View: Moment, Body: "plank", Pivot: l.Supports[1].At, PivotName: "Q"}
	for name, c := range map[string]struct {
		stage    Stage
		has, not []string
	}{
		"nothing yet": {Stage{}, []string{"without forces yet"}, []string{"Force of P", "weight of"}},
		"forces":      {Stage{Arrows: true, Unsized: []Arrow{p}}, []string{"Forces on the plank", "Force of P, size not found yet, up, 0.60 m from the left end"}, []string{"perpendicular", "clockwise"}},
		"one arm":     {Stage{Arrows: true, Pivot: true, Arms: []Arrow{k}, Lit: []Arrow{k}}, []string{"About Q", "perpendicular distance 2.70 m, anticlockwise", "Set off from the others: the load K"}, []string{"2.40 m, clockwise", "3.60 m"}},
		"a letter":    {Stage{Arrows: true, Pivot: true, Arms: []Arrow{k}, Calls: []Call{{k, "d", ""}}}, []string{"perpendicular distance not found yet, anticlockwise"}, []string{"2.70"}},
	} {
		o.Stage = &c.stage
		_, text := Describe(l, o)
		for _, has := range c.has {
			if !strings.Contains(text, has) {
				t.Errorf("%s: %q is missing in %q", name, has, text)
			}
		}
		for _, not := range c.not {
			if strings.Contains(text, not) {
				t.Errorf("%s: %q is told in %q", name, not, text)
			}
		}
	}
}
