package sheet

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/bank"
	"steelyard/bank/banktest"
	"steelyard/draw"
	"steelyard/figure"
	"steelyard/pdf/uacheck"
	"steelyard/question"
	"steelyard/solution"
)

// exampleItem takes an example through the whole engine to what is printed of it.
func exampleItem(t testing.TB, name string) (Item, bool) {
	t.Helper()
	q := banktest.Parsed(t, name)
	a, err := answer.Solve(q)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return Item{}, false
	}
	s, err := solution.Solve(a)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return Item{}, false
	}
	it := Item{Title: q.Title, Wording: question.Wording(q), Solution: s,
		Picture: func(d Drawing) *draw.Picture {
			return figure.Draw(a.Layout, figure.Options{Width: d.Width, TextSize: d.TextSize, Upright: d.Upright})
		},
		View: func(v solution.View, d Drawing) *draw.Picture {
			o := figure.Options{View: figure.Forces, Body: v.Body, Width: d.Width, TextSize: d.TextSize, Upright: d.Upright, HideValues: true}
			if v.PivotName != "" {
				o.View, o.Pivot, o.PivotName = figure.Moment, v.Pivot, v.PivotName
			}
			return figure.Draw(v.Layout, o)
		},
	}
	for i := range a.Results {
		r := &a.Results[i]
		it.Parts = append(it.Parts, Part{Name: r.Part.Name, Text: question.PartWording(q, *r.Part), Marks: r.Part.Marks, Unit: r.Unit, Label: "answer", Answer: r.Shown})
	}
	return it, true
}

// Every example is printed in every kind, in turns in ordinary and in large print: nothing leaves the
// margins, no words collide, and the rules of tagged files are kept.
func TestAllExamplesArePrinted(t *testing.T) {
	for i, name := range bank.Names() {
		it, ok := exampleItem(t, name)
		if !ok {
			continue
		}
		for k, kind := range slices.Sorted(maps.Keys(kinds)) {
			for _, o := range []Options{{}, {Size: 24, Paper: Letter}}[(i+k)%2:][:1] {
				set := Set{Title: it.Title, Items: []Item{it}}
				where := fmt.Sprintf("%s, %s in %g points", name, kind, o.Size)
				d, err := kinds[kind](set, o)
				if err != nil {
					t.Errorf("%s: %v", where, err)
					continue
				}
				b, err := d.Bytes()
				if err != nil {
					t.Errorf("%s: %v", where, err)
				}
				for _, broken := range uacheck.Check(b) {
					t.Errorf("%s: %s", where, broken)
				}
				set.Items[0].Picture, set.Items[0].View = nil, nil
				checkPlaces(t, where, kind, set, o)
			}
		}
	}
}

// checkPlaces looks for text that leaves the margins or collides.
func checkPlaces(t *testing.T, where, kind string, set Set, o Options) {
	t.Helper()
	full, err := o.withDefaults()
	if err != nil {
		t.Fatal(err)
	}
	l := newLook(full)
	lines := printedText(t, kind, set, o)
	wide := make([]float64, len(lines)) // without the space at its end
	for i, r := range lines {
		wide[i] = r.face.Width(strings.TrimRight(r.text, " "), r.size)
		if r.x < l.left-0.5 || r.x+wide[i] > l.pageWidth-l.right+0.5 || r.y > l.pageHeight-l.bottom+0.5 || r.y-r.face.CapHeight(r.size) < l.top-1 {
			t.Errorf("%s, page %d: %q leaves the margins", where, r.page, r.text)
		}
		for j, s := range lines[:i] {
			if s.page == r.page && overlap(s, r, wide[j], wide[i]) {
				t.Errorf("%s, page %d: %q and %q collide", where, r.page, s.text, r.text)
			}
		}
	}
}

// BenchmarkExampleSheet prints two examples on two pages, their drawings drawn anew each time.
func BenchmarkExampleSheet(b *testing.B) {
	var set = Set{Title: "Two supports"}
	for _, name := range []string{"lock-footbridge.moments", "mooring-plank.moments"} {
		it, ok := exampleItem(b, name)
		if !ok {
			return
		}
		set.Items = append(set.Items, it)
	}
	for b.Loop() {
		if _, err := Questions(set, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// In large print no drawing has to be made smaller to fit, which would make its words smaller than the text.
func TestLargePrintDrawingsFit(t *testing.T) {
	for _, name := range bank.Names() {
		it, ok := exampleItem(t, name)
		if !ok {
			continue
		}
		for _, o := range []Options{{Size: 18}, {Size: 24}, {Size: 18, Paper: Letter}, {Size: 24, Paper: Letter}} {
			full, err := o.withDefaults()
			if err != nil {
				t.Fatal(err)
			}
			f := &flow{look: newLook(full)}
			f.footHeight = f.newFoot(&Set{}, full).height
			d := f.drawing(f.measure())
			if d.TextSize < o.Size {
				t.Errorf("drawings beside %g point text have %g point words", o.Size, d.TextSize)
			}
			if p := narrowed(it.Picture, d, f.tallest(), 0.4); p.Width > f.measure()+0.6 || p.Height > f.tallest()+0.6 {
				t.Errorf("%s: at %g points on paper %d the drawing is %.0f by %.0f points", name, o.Size, o.Paper, p.Width, p.Height)
			}
			for _, v := range views(it.Solution) {
				view := func(d Drawing) *draw.Picture { return it.View(v, d) }
				if p := f.viewed(view); p.Width > f.measure()+0.6 || p.Height > f.tallest()+0.6 {
					t.Errorf("%s: at %g points on paper %d the picture of %s about %q is %.0f by %.0f points", name, o.Size, o.Paper, v.Body, v.PivotName, p.Width, p.Height)
				}
			}
		}
	}
}

// views are the pictures of the first route of each part.
func views(s *solution.Solution) []solution.View {
	var out []solution.View
	for i := range s.Parts {
		if len(s.Parts[i].Routes) == 0 {
			continue
		}
		for _, step := range s.Parts[i].Routes[0].Steps {
			if step.View != nil && !slices.Contains(out, *step.View) {
				out = append(out, *step.View)
			}
		}
	}
	return out
}
