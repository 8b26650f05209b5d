package solution

import (
	"math"
	"slices"
	"strings"
)

// A beginning is the equation that a pupil has begun with, as a reader of their lines names it.
type beginning struct {
	words string // "moments about Q", "vertical balance"; "" if nothing
	about string // the point of moments; "" of anything else
	of    string // the body, "lower bar", or "bodies taken together"; "" for the only body
}

// beginningOf reads such a name: "moments about Q for the lower bar".
func beginningOf(means string) beginning {
	words, of, _ := strings.Cut(means, " for the ")
	b := beginning{words: words, of: of}
	if about, ok := strings.CutPrefix(words, "moments about "); ok {
		b.about = about
	}
	return b
}

func (b beginning) isBalance() bool { return b.about == "" && strings.Contains(b.words, "balance") }

// said is how a sentence names it: "moments about Q", "the vertical balance".
func (b beginning) said() string {
	if b.about != "" {
		return b.words
	}
	return "the " + b.words
}

// An aim is the equation that a ladder leads to, in the working that it belongs to.
type aim struct {
	Move
	w     *Working
	own   bool   // the pupil has begun with it
	known []bool // of each unknown: an earlier part has found it
}

func (w *Working) aim(m Move, own bool) *aim { return &aim{m, w, own, w.known()} }

// known tells of each unknown whether an earlier part has found it.
func (w *Working) known() []bool {
	known := make([]bool, len(w.start))
	for i, v := range w.start {
		known[i] = !math.IsNaN(v)
	}
	return known
}

// before are the moves of the working that come before the equation; none where it is not one of them.
func (t *aim) before() []Move {
	i := slices.IndexFunc(t.w.Moves, func(m Move) bool { return m.Equation == t.Equation })
	return t.w.Moves[:max(i, 0)]
}

// aim is the equation that the ladder leads to: the one that has been begun, if it holds an unknown; else the first of
// moments in the route, which is what pupils get stuck at.
func (l *ladder) aim(w *Working) *aim {
	var own *aim
	if l.begun.about != "" {
		own = l.begunMoments(w)
	} else if l.begun.isBalance() {
		own = l.begunBalance(w)
	}
	if own != nil {
		return own
	}
	for _, m := range w.Moves {
		if m.Equation.Kind == Moments {
			return w.aim(m, false)
		}
	}
	return w.aim(w.Moves[0], false)
}

// begunMoments are those that have been begun: of a route where one has them, else about a point that no route uses; nil where
// they hold no unknown.
func (l *ladder) begunMoments(w *Working) *aim {
	for i := range l.worked.Routes {
		other := l.worked.Routes[i].Working
		if other == nil {
			continue
		}
		for _, m := range other.Moves {
			if e := m.Equation; e.Kind == Moments && e.Pivot.Name == l.begun.about && other.scene.isFor(l.begun.of, e) {
				return other.aim(m, true)
			}
		}
	}
	return l.about(w)
}

// begunBalance is the balance that has been begun: where a route begins with it, or where it holds only what is asked for; nil
// elsewhere.
func (l *ladder) begunBalance(w *Working) *aim {
	is := func(s *scene, e *Equation) bool {
		return e.Kind == Balance && l.begun.words == e.Direction.begun(s, e) && s.isFor(l.begun.of, e)
	}
	for i := range l.worked.Routes {
		if other := l.worked.Routes[i].Working; other != nil && is(other.scene, other.Moves[0].Equation) {
			return other.aim(other.Moves[0], true)
		}
	}
	s := w.scene
	for i := range s.l.Bodies {
		for _, d := range s.directions([]int{i}) {
			e := s.balance([]int{i}, d)
			if open := s.unknownsIn(e, w.known()); is(s, e) && len(open) == 1 && open[0] == w.target {
				return w.aim(Move{Equation: e, Gives: w.target}, true)
			}
		}
	}
	return nil
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

// about is the equation of moments about a point that no route uses; nil where there is no such point, or nothing in it
// is unknown.
func (l *ladder) about(w *Working) *aim {
	s := w.scene
	a := *l.a
	a.Layout = s.l
	of := l.begun.of
	place, _, _ := strings.Cut(strings.TrimPrefix(l.begun.about, "the point "), " from the ")
	if end, body, ok := strings.Cut(place, " of the "); ok && of == "" {
		place, of = end, body
	}
	on, at, _, err := Point(&a, place)
	if err != nil {
		return nil
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
		return nil
	}
	e := s.moments(bodies, s.pivotAt(l.begun.about, bodies[0], at, 0))
	open := s.unknownsIn(e, w.known())
	switch {
	case len(open) == 0:
		return nil
	case has(open, w.target):
		return w.aim(Move{Equation: e, Gives: w.target}, true)
	}
	return w.aim(Move{Equation: e, Gives: open[0]}, true)
}
