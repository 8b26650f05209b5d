package solution

import (
	"fmt"
	"math"
	"strings"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/quantity"
	"steelyard/statics"
)

// Point finds a point by what a person calls it: the name of a support, load, body or point ("Q"), "left end",
// "right end", "middle", or a place such as "2.00 m" or "2.00 m on plank". It returns the body that the point is
// counted on, and what to call it. The error says what was expected.
func Point(a *answer.Answers, words string) (body string, at statics.Vec, name string, err error) {
	l := a.Layout
	if len(l.Bodies) == 0 {
		return "", at, "", fmt.Errorf("there is no body to take moments for")
	}
	words = strings.TrimSpace(words)
	place, on, _ := strings.Cut(words, " on ")
	b := &l.Bodies[0]
	if on != "" {
		if b = l.BodyNamed(strings.TrimSpace(on)); b == nil {
			return "", at, "", fmt.Errorf("no body is called %q (there is %s)", on, bodyNames(l))
		}
	}
	place = strings.TrimPrefix(strings.TrimSpace(place), "the ")
	low, high := 0.0, b.Length
	if b.Axis.Y < 0 {
		low, high = high, low
	}
	switch place {
	case "left end":
		return b.Name, b.At(0), "the " + place, nil
	case "right end":
		return b.Name, b.At(b.Length), "the " + place, nil
	case "lower end", "foot", "bottom":
		return b.Name, b.At(low), "the " + place, nil
	case "upper end", "top":
		return b.Name, b.At(high), "the " + place, nil
	case "middle":
		return b.Name, b.At(b.Length / 2), "the middle", nil
	}
	if p, ok := l.Named(place); ok && on == "" {
		return bodyOf(l, place), p, place, nil
	}
	metre, _ := quantity.UnitNamed("m")
	q, err := quantity.Parse(place, quantity.Length, metre)
	if err != nil {
		return "", at, "", fmt.Errorf("%q is no point: name a support, a load or a body, or give a place such as 2.00 m on %s", words, b.Name)
	}
	s := q.SI()
	if b.ZeroRight {
		s = b.Length - s
	}
	return b.Name, b.At(s), "the point at " + quantity.Typeset(q.String()), nil
}

func bodyNames(l *answer.Layout) string {
	names := make([]string, len(l.Bodies))
	for i := range l.Bodies {
		names[i] = l.Bodies[i].Name
	}
	return and(names)
}

// bodyOf is the body that a named thing is on.
func bodyOf(l *answer.Layout, name string) string {
	if s := l.SupportNamed(name); s != nil {
		return l.Bodies[s.On].Name
	}
	if d := l.LoadNamed(name); d != nil {
		return l.Bodies[d.On].Name
	}
	if b := l.BodyNamed(name); b != nil {
		return b.Name
	}
	return l.Bodies[0].Name
}

// About takes moments for a body about any point, which the text calls name, and says what that gives and what
// it cannot give. Where two forces or more stay unknown, Route.Poor says so, and the route goes on with
// a second equation if one is enough. An error says that there is no such body or nothing to balance.
func About(a *answer.Answers, body string, at statics.Vec, name string) (route Route, err error) {
	defer caught(&err)
	if a == nil || a.Layout == nil {
		return Route{}, fmt.Errorf("taking moments about %s: the question has no answers yet; solve it first", name)
	}
	s := newScene(a, a.Layout, a.Solution.Reactions, nil, limit{})
	i := -1
	for j := range a.Layout.Bodies {
		if a.Layout.Bodies[j].Name == body {
			i = j
		}
	}
	if i < 0 {
		return Route{}, fmt.Errorf("no body is called %q (there is %s)", body, bodyNames(a.Layout))
	}
	if math.IsNaN(at.X) || math.IsNaN(at.Y) {
		return Route{}, fmt.Errorf("where %s is, is not known", name)
	}
	if p := s.supportAt(at); p != "" {
		name = p
	}
	w := &solver{a: a, s: s, known: make([]bool, len(s.unknowns)), by: make([]string, len(s.unknowns)), told: map[int]bool{}, centred: map[string]string{}, via: map[int][]int{}}
	pivot := s.pivotAt(name, i, at, 0.1)
	if p := a.Layout.SupportNamed(name); p != nil && p.HasFar && answer.IsFace(p.Support, &a.Layout.Bodies[p.On]) {
		pivot.Full = name + ", here the lower left corner of " + s.body(p.On)
	}
	e := s.moments([]int{i}, pivot)
	k := s.worker(nil)
	w.weigh(k)
	route = Route{Name: "moments about " + name}
	if len(e.Terms) == 0 {
		k.setting(e)
		k.step(Reading, say("The lines of action of all forces on "+s.body(i)+" pass through "+name+", so moments about it say nothing."))
		route.Steps, route.Poor = k.steps, "every line of action passes through "+name+": the equation is 0 = 0"
		return route, nil
	}
	if a.State == statics.NoEquilibrium {
		return w.aboutMoving(route, e, i)
	}
	open := s.unknownsIn(e, w.known)
	k.setting(e)
	switch {
	case len(open) == 0:
		k.choosing(e, -1)
		k.step(Writing, nil, k.linesOf(e, -1)...)
		k.step(Reading, say("Nothing in it is unknown: it is true, and serves as a check."))
		route.Poor = "about " + name + " no unknown force has a moment: the equation is only a check"
	case len(open) == 1 && s.gives(e, open[0]):
		k.move(move{e, open[0]})
		w.goOn(k, i)
	default:
		w.tooMany(k, e, open, &route)
	}
	route.Steps = k.steps
	route.Working = k.working()
	if a.State == statics.NotFixed && route.Poor == "" {
		route.Poor = "equilibrium does not fix every force here"
	}
	return route, nil
}

func (k *worker) linesOf(e *Equation, u int) []Line {
	lines := []Line{{Formula: k.line(e, u, asFound)}}
	if e.Kind == Moments && subtracts(e) {
		if next := k.line(e, u, asLengths); !sameText(next, lines[0].Formula) {
			lines = append(lines, Line{Formula: next})
		}
	}
	return lines
}

// goOn finds the other forces on the body, one equation at a time.
func (w *solver) goOn(k *worker, body int) {
	s := w.s
	for range s.unknowns {
		known := k.found()
		var next *move
		cheapest := math.Inf(1)
		for _, e := range s.candidates() {
			open := s.unknownsIn(e, known)
			if len(open) != 1 || e.Kind != Limiting && (len(e.Bodies) > 1 || e.Bodies[0] != body) || !s.gives(e, open[0]) {
				continue
			}
			if c := s.cost(e); c < cheapest {
				next, cheapest = &move{e, open[0]}, c
			}
		}
		if next == nil {
			return
		}
		k.move(*next)
	}
}

// found tells which unknowns have values by now.
func (k *worker) found() []bool {
	known := make([]bool, len(k.values))
	for i, v := range k.values {
		known[i] = !math.IsNaN(v)
	}
	return known
}

// tooMany is honest about an equation that keeps two unknowns or more.
func (w *solver) tooMany(k *worker, e *Equation, open []int, route *Route) {
	s := w.s
	name := e.Pivot.Name
	if len(open) == 1 {
		w.hidden(k, e, open, route)
		return
	}
	k.step(Choosing, say("Take moments about "+e.Pivot.full()+": ", k.passingWords(e), "but ", s.names(open), " "+stay(len(open))+" in."))
	k.base(e)
	k.step(Stating, say(capital(s.bodies(e.Bodies))+" does not turn, so the total clockwise moment about "+name+" equals the total anticlockwise moment about "+name+"."))
	k.step(Writing, nil, k.linesOf(e, open[0])...)
	k.step(Reading, say("That is true, but it is one equation with "+count(len(open), "unknown")+"; alone it gives none of them."))
	route.Poor = "about " + name + " " + s.plainNames(open) + " stay in: one equation, " + count(len(open), "unknown")
	if len(open) != 2 || !s.linear(open) {
		return
	}
	// A second equation with the same two makes it possible.
	var second *Equation
	u, v := open[0], open[1]
	for _, f := range s.candidates() {
		both := s.unknownsIn(f, w.known)
		if len(both) == 0 || !subset(both, open) || len(f.Bodies) > 1 {
			continue
		}
		if det := s.factor(e, u)*s.factor(f, v) - s.factor(e, v)*s.factor(f, u); math.Abs(det) < 1e-9 {
			continue
		}
		if second == nil || s.cost(f) < s.cost(second) {
			second = f
		}
	}
	if second == nil {
		return
	}
	vu, vv := s.solvePair(e, second, u, v, k.values)
	what := "the balance of forces " + strings.ToLower(second.Direction.Name)
	if second.Kind == Moments {
		what = "moments about " + second.Pivot.full()
	}
	left := u
	if !has(s.unknownsIn(second, w.known), u) {
		left = v
	}
	k.step(Choosing, say("A second equation is needed: "+what+"."))
	k.step(Writing, nil, k.linesOf(second, left)...)
	k.step(Solving, say("Solved together:"), Line{Formula: formula.Equal(s.unknowns[u].symbol(), s.number(vu, s.unknowns[u].Unit))},
		Line{Formula: formula.Equal(s.unknowns[v].symbol(), s.number(vv, s.unknowns[v].Unit))})
	k.values[u], k.values[v] = vu, vv
	k.moves = append(k.moves, Move{Equation: e, Gives: u, With: second, Also: v})
	k.reading(u, vu)
	k.reading(v, vv)
}

// hidden is an equation with one unknown that it does not give at once: within a distance from the pivot, or cancelled.
func (w *solver) hidden(k *worker, e *Equation, open []int, route *Route) {
	s, name := w.s, e.Pivot.Name
	k.step(Choosing, say("Take moments about "+e.Pivot.full()+": ", k.passingWords(e), "but ", s.names(open), " stays in."))
	k.base(e)
	k.step(Stating, say(capital(s.bodies(e.Bodies))+" does not turn, so the total clockwise moment about "+name+" equals the total anticlockwise moment about "+name+"."))
	k.step(Writing, nil, k.linesOf(e, open[0])...)
	for i := range e.Terms {
		if e.Terms[i].Arm.Unknown == open[0] {
			k.step(Reading, say("It gives a distance from "+name+", and that distance gives ", s.names(open), "."))
			route.Poor = "about " + name + " " + s.plainNames(open) + " is part of a distance: the equation gives the distance, and that gives " + s.plainNames(open)
			return
		}
	}
	k.step(Reading, say("In it the moments of ", s.names(open), " cancel, so it is only a check."))
	route.Poor = "about " + name + " the moments of " + s.plainNames(open) + " cancel: the equation is only a check"
}

func stay(n int) string {
	return bothOrAll(n) + " stay"
}

// aboutMoving takes moments of the given forces where there is no equilibrium.
func (w *solver) aboutMoving(route Route, e *Equation, body int) (Route, error) {
	k := w.s.worker(nil)
	k.setting(e)
	for _, m := range answer.Moves(w.a.Layout, w.a.Solution.Motion) {
		if m.Turns && m.Body == w.a.Layout.Bodies[body].Name && math.Hypot(m.Pivot.X-e.Pivot.At.X, m.Pivot.Y-e.Pivot.At.Y) < 1e-6 {
			m.About = e.Pivot.Name
			w.unbalanced(k, m)
		}
	}
	k.step(Reading, say("There is no equilibrium: "+answer.MotionInWords(w.a.Layout, w.a.Solution.Motion)+". Whatever the supports can do, forces and moments do not all balance, about "+e.Pivot.Name+" or any other point."))
	route.Steps = k.steps
	route.Poor = "it does not stay at rest, so no forces balance about any point"
	return route, nil
}
