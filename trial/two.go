package trial

import (
	"fmt"
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/solution"
	"steelyard/statics"
)

// A Pair is two equations of moments taken together.
type Pair struct {
	Say   string
	Lines []formula.Node
	Same  string // where each gives the same force alone: that it is the same
}

// Two takes two equations of moments together, as a person would: the one that has a single unknown first, then the
// other with what was found; two unknowns in both are solved for together. Where that is not enough, Say says why.
func Two(a *answer.Answers, p, q Place) (Pair, error) {
	w, err := solution.Arrangement(a)
	if err != nil {
		return Pair{}, err
	}
	e, err := equation(a, w, p)
	if err != nil {
		return Pair{}, err
	}
	f, err := equation(a, w, q)
	if err != nil {
		return Pair{}, err
	}
	one, two := open(w, e), open(w, f)
	if one == nil || two == nil {
		return Pair{Say: "A place or an angle is unknown here, so take the equations one at a time."}, nil
	}
	all := slices.Clone(one)
	for _, u := range two {
		if !slices.Contains(all, u) {
			all = append(all, u)
		}
	}
	pair := Pair{Same: same(w, p, q, one, two)}
	start := w.Start()
	switch {
	case len(all) == 0:
		pair.Say = "Neither has an unknown in it: both are checks."
	case len(one) == 1 && len(two) == 1 && one[0] == two[0]:
		pair.Say = "Both have the same one unknown, so one of them is enough, and the other is a check."
	case len(all) > 2:
		pair.Say = fmt.Sprintf("Together they have %d unknowns, and two equations fix two at most. %s", len(all), more(a, len(all)))
	case len(one) == 0 || len(two) == 0:
		pair.Say = "One of them has no unknown in it, so together they give no more than the other alone."
	case len(one) == 1:
		pair.Say = "The moments about " + p.Name + " give " + w.Unknowns()[one[0]].Words + "; with it the moments about " + q.Name + " give the other."
		pair.Lines = chain(w, e, f, one[0], all, start)
	case len(two) == 1:
		pair.Say = "The moments about " + q.Name + " give " + w.Unknowns()[two[0]].Words + "; with it the moments about " + p.Name + " give the other."
		pair.Lines = chain(w, f, e, two[0], all, start)
	case math.Abs(determinant(e, f, all)) < 1e-9*bound(e, f, all):
		pair.Say = "For these two forces one equation is a multiple of the other, so together they give neither. Choose one of the points somewhere else, off the line through both."
	default:
		pair.Say = "Each has both unknowns in it. Taken together, two equations give two unknowns:"
		pair.Lines = append(pair.Lines, w.Line(e, all[0], start), w.Line(f, all[1], start), result(w, all[0]), result(w, all[1]))
	}
	return pair, nil
}

// more says what two equations of moments need beside them to find so many unknowns.
func more(a *answer.Answers, unknowns int) string {
	switch {
	case a.State == statics.NotFixed:
		return "No further equation of equilibrium fixes them all here."
	case unknowns > 3 && len(a.Layout.Bodies) > 1:
		return "A balance of forces is needed as well, and equations for the other bodies."
	}
	return "A balance of forces is needed as well."
}

// equation is the moments about a place for its body. The error says that there is no such body.
func equation(a *answer.Answers, w *solution.Working, p Place) (*solution.Equation, error) {
	i := a.Layout.BodyIndex(p.Body)
	if i < 0 {
		return nil, fmt.Errorf("no body is called %q", p.Body)
	}
	return w.Moments([]int{i}, w.PivotAt(p.Name, i, p.At)), nil
}

// open lists the forces that an equation leaves to find, by their numbers among the unknowns: empty for none, nil where a
// place or an angle in it is unknown.
func open(w *solution.Working, e *solution.Equation) []int {
	list := []int{}
	for i := range e.Terms {
		t := &e.Terms[i]
		if t.Arm.Unknown >= 0 || t.Force.Place >= 0 || t.Share != nil && t.Share.Unknown >= 0 {
			return nil
		}
		if u := t.Force.Size; u >= 0 && math.IsNaN(w.Start()[u]) && !slices.Contains(list, u) {
			list = append(list, u)
		}
	}
	return list
}

// factor is what an unknown force is multiplied by in an equation, in metres, anticlockwise positive.
func factor(e *solution.Equation, u int) (sum float64) {
	for i := range e.Terms {
		t := &e.Terms[i]
		if t.Force.Size != u {
			continue
		}
		k := float64(t.Sense) * t.Arm.Metres() * t.Force.Factor
		if t.Force.Kind == solution.Turn {
			k = float64(t.Sense) * t.Force.Factor
		}
		if t.Share != nil {
			k *= t.Share.Value
		}
		sum += k
	}
	return sum
}

// determinant is that of two equations in the unknown forces u, in square metres: nought where one is a multiple of the
// other. bound is the largest that it could be for factors of this size.
func determinant(e, f *solution.Equation, u []int) float64 {
	return factor(e, u[0])*factor(f, u[1]) - factor(e, u[1])*factor(f, u[0])
}

func bound(e, f *solution.Equation, u []int) float64 {
	return math.Hypot(factor(e, u[0]), factor(e, u[1])) * math.Hypot(factor(f, u[0]), factor(f, u[1]))
}

// chain takes u from the first equation and the other unknown from the second.
func chain(w *solution.Working, first, second *solution.Equation, u int, all []int, start []float64) []formula.Node {
	other := all[0]
	if other == u && len(all) > 1 {
		other = all[1]
	}
	found := slices.Clone(start)
	lines := []formula.Node{w.Line(first, u, found), result(w, u)}
	found[u] = w.Unknowns()[u].Value
	return append(lines, w.Line(second, other, found), result(w, other))
}

// result is what an unknown comes to.
func result(w *solution.Working, u int) formula.Node {
	x := &w.Unknowns()[u]
	return formula.Equal(x.Symbol(), w.Number(x.Value, x.Unit))
}

// same says that both equations give the same force alone; "" where they do not.
func same(w *solution.Working, p, q Place, one, two []int) string {
	if len(one) != 1 || len(two) != 1 || one[0] != two[0] {
		return ""
	}
	u := &w.Unknowns()[one[0]]
	return fmt.Sprintf("About %s and about %s the equations differ, but both give the same: %s = %s.", p.Name, q.Name,
		formula.Text(u.Symbol()), formula.Text(w.Number(u.Value, u.Unit)))
}
