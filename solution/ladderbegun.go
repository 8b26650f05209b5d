package solution

import (
	"strings"
)

// start is the equation that the ladder leads to: the one that has been begun, if it holds an unknown; else the first
// of moments in the route, which is what pupils get stuck at.
func (l *ladder) start(w *Working) (*Working, Move, bool) {
	if name, ok := strings.CutPrefix(l.means, "moments about "); ok {
		name, of, _ := strings.Cut(name, " for the ")
		for i := range l.worked.Routes {
			other := l.worked.Routes[i].Working
			if other == nil {
				continue
			}
			for _, m := range other.Moves {
				if e := m.Equation; e.Kind == Moments && e.Pivot.Name == name && other.scene.isFor(of, e) {
					return other, m, true
				}
			}
		}
		if m, ok := l.about(w, name, of); ok {
			return w, m, true
		}
	}
	if strings.Contains(l.means, "balance") {
		if other, m, ok := l.balanced(w); ok {
			return other, m, true
		}
	}
	for _, m := range w.Moves {
		if m.Equation.Kind == Moments {
			return w, m, false
		}
	}
	return w, w.Moves[0], false
}

// balanced is the balance that has been begun: where a route begins with it, or where it holds only what is asked for.
func (l *ladder) balanced(w *Working) (*Working, Move, bool) {
	begun, of, _ := strings.Cut(l.means, " for the ")
	is := func(s *scene, e *Equation) bool {
		return e.Kind == Balance && begun == e.Direction.begun(s, e) && s.isFor(of, e)
	}
	for i := range l.worked.Routes {
		if other := l.worked.Routes[i].Working; other != nil && is(other.scene, other.Moves[0].Equation) {
			return other, other.Moves[0], true
		}
	}
	s := w.scene
	for i := range s.l.Bodies {
		for _, d := range s.directions([]int{i}) {
			e := s.balance([]int{i}, d)
			if open := s.unknownsIn(e, w.known()); is(s, e) && len(open) == 1 && open[0] == w.target {
				return w, Move{Equation: e, Gives: w.target}, true
			}
		}
	}
	return nil, Move{}, false
}

// isFor reports whether an equation is for what a reader of a pupil's lines calls of: "lower bar"; "" for the only body.
func (s *scene) isFor(of string, e *Equation) bool {
	return of == "" || s.bodies(e.Bodies) == "the "+of || of == "bodies taken together" && len(e.Bodies) > 1
}

// begun is what a reader of a pupil's lines calls a balance in a direction.
func (d Direction) begun(s *scene, e *Equation) string {
	body := strings.TrimPrefix(s.bodies(e.Bodies), "the ")
	switch d.Name {
	case "Vertically":
		return "vertical balance"
	case "Horizontally":
		return "horizontal balance"
	case "Along the slope":
		return "balance along the " + body
	}
	return "balance at right angles to the " + body
}

// about is the equation of moments about a point that no route uses.
func (l *ladder) about(w *Working, name, of string) (Move, bool) {
	s := w.scene
	a := *l.a
	a.Layout = s.l
	place, _, _ := strings.Cut(strings.TrimPrefix(name, "the point "), " from the ")
	if end, body, ok := strings.Cut(place, " of the "); ok && of == "" {
		place, of = end, body
	}
	on, at, _, err := Point(&a, place)
	if err != nil {
		return Move{}, false
	}
	var bodies []int
	for i := range s.l.Bodies {
		switch {
		case of == "bodies taken together":
			bodies = append(bodies, i)
		case of == "" && s.l.Bodies[i].Name == on, s.body(i) == "the "+of:
			bodies = []int{i}
		}
	}
	if len(bodies) == 0 {
		return Move{}, false
	}
	e := s.moments(bodies, s.pivotAt(name, bodies[0], at, 0))
	open := s.unknownsIn(e, w.known())
	if len(open) == 0 {
		return Move{}, false
	}
	m := Move{Equation: e, Gives: open[0]}
	if has(open, w.target) {
		m.Gives = w.target
	}
	return m, true
}
