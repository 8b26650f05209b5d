package solution

import (
	"fmt"
	"slices"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/statics"
)

// Arrangement is the working of a question before anything has been found: it has no moves, but lists what
// acts and what there is to find, numbered as in the workings of the parts that ask for no limit.
func Arrangement(a *answer.Answers) (w *Working, err error) {
	defer caught(&err)
	if a == nil || a.Layout == nil {
		return nil, fmt.Errorf("listing the forces: the question has no answers yet; solve it first")
	}
	s := newScene(a, a.Layout, a.Solution.Reactions, nil, limit{})
	return &Working{scene: s, start: s.worker(nil).values, target: -1}, nil
}

// Forces lists everything that acts in the arrangement of a working: weights, loads, then supports. They are
// not to be changed.
func (w *Working) Forces() []*Force {
	list := make([]*Force, len(w.scene.forces))
	for i := range w.scene.forces {
		list[i] = &w.scene.forces[i]
	}
	return list
}

// Start lists what earlier parts have found, by number, in SI units; NaN for the rest.
func (w *Working) Start() []float64 { return slices.Clone(w.start) }

// SameAs reports whether two workings number their forces and unknowns alike, being about one arrangement.
func (w *Working) SameAs(v *Working) bool { return w.scene == v.scene }

// Layout is the arrangement in the plane that the working is about: at a limit, where that is asked for.
func (w *Working) Layout() *answer.Layout { return w.scene.l }

// Moments is the equation of moments about p for bodies taken together.
func (w *Working) Moments(bodies []int, p Pivot) *Equation { return w.scene.moments(bodies, p) }

// PivotAt is a pivot at a point of a body, with a name of its own.
func (w *Working) PivotAt(name string, body int, at statics.Vec) Pivot {
	return w.scene.pivotAt(name, body, at, 0)
}

// Sides are the terms of an equation as its lines have them: with unknown gives on the left, and what turns or acts
// the other way on the right.
func (e *Equation) Sides(gives int) (left, right []*Term) { return e.sides(gives) }

// Symbols writes an equation of the chain in symbols, its terms in the order of Sides.
func (w *Working) Symbols(e *Equation, gives int) formula.Node {
	return w.scene.worker(nil).symbols(e, gives)
}

// Symbol is how lines write a force that is not known yet.
func (w *Working) Symbol(f *Force) formula.Node { return w.scene.symbol(f) }

// Arm writes a perpendicular distance by the lengths that the question gives, such as 3.50 m − 1.20 m.
func (w *Working) Arm(d Distance) formula.Node {
	n := w.scene.shown(d)
	if d.Trig != nil {
		return flat(n, d.Trig.node())
	}
	return n
}

// Called is what the text calls a thing by its label and its name: "the left sill", "P".
func (w *Working) Called(label, name string) string { return w.scene.thing(label, name) }

// From says where a body's scale begins: " from the left end".
func (w *Working) From(body int) string { return w.scene.from(&w.scene.l.Bodies[body]) }

// Bodies is what the text calls bodies taken together.
func (w *Working) Bodies(list []int) string { return w.scene.bodies(list) }

// Number writes a value in SI units as it stands in a line of working; the unit is "N", "N m" or "".
func (w *Working) Number(v float64, unit string) formula.Node { return w.scene.number(v, unit) }

// Metres writes a length in metres as it stands in a line of working.
func (w *Working) Metres(v float64) formula.Node { return w.scene.metres(v) }

// Place writes a place along a body in the question's unit.
func (w *Working) Place(v float64) formula.Node { return w.scene.length(v) }

// Contact tells which contact a Limiting equation is about: its support, the numbers of friction and normal
// force among the unknowns, and that of the coefficient, −1 where the question gives it.
func (e *Equation) Contact() (support string, friction, normal, coefficient int) {
	if e.relation == nil {
		return "", -1, -1, -1
	}
	r := e.relation
	return r.support, r.friction, r.normal, r.mu
}
