package sheet

import (
	"testing"

	"steelyard/bank"
	"steelyard/draw"
	"steelyard/solution"
)

// No solution shows the same picture twice, nor a body's forces once more.
func TestPicturesOnce(t *testing.T) {
	for _, name := range bank.Names() {
		it, ok := exampleItem(t, name)
		if !ok {
			continue
		}
		var drawn []solution.View
		make, last := it.View, solution.View{}
		it.View = func(v solution.View, d Drawing) *draw.Picture {
			if v != last { // not the same one, drawn narrower
				drawn, last = append(drawn, v), v
			}
			return make(v, d)
		}
		if _, err := Solutions(Set{Title: it.Title, Items: []Item{it}}, Options{}); err != nil {
			t.Error(err)
		}
		asked := false
		for i := range it.Solution.Parts {
			for _, r := range it.Solution.Parts[i].Routes[:min(1, len(it.Solution.Parts[i].Routes))] {
				for _, s := range r.Steps {
					asked = asked || s.View != nil
				}
			}
		}
		if asked && len(drawn) == 0 {
			t.Errorf("%s: the solution has no picture", name)
		}
		for i, v := range drawn {
			for _, w := range drawn[:i] {
				if v.Layout == w.Layout && v.Body == w.Body && (v.PivotName == "" || v == w) {
					t.Errorf("%s: the picture of %s about %q comes again", name, v.Body, v.PivotName)
				}
			}
		}
	}
}

// In one route a body's forces are not drawn before the same forces about a pivot, but are before another body's.
func TestForcesAreDrawnOnceInARoute(t *testing.T) {
	steps := func(views ...*solution.View) []solution.Step {
		var out []solution.Step
		for _, v := range views {
			out = append(out, solution.Step{View: v}, solution.Step{})
		}
		return out
	}
	forces, about, other := &solution.View{Body: "plank"}, &solution.View{Body: "plank", PivotName: "P"}, &solution.View{Body: "leg", PivotName: "H"}
	for _, c := range []struct {
		steps []solution.Step
		want  bool
	}{
		{steps(forces, about), true},
		{steps(forces), false},
		{steps(forces, other, about), false},
		{steps(about, about), false},
	} {
		if got := again(c.steps); got != c.want {
			t.Errorf("%v: comes again is %t, want %t", c.steps, got, c.want)
		}
	}
}
