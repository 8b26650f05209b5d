package solution

import (
	"math"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/question"
)

// names writes the symbols of unknowns as pieces.
func (s *scene) names(us []int) []Piece {
	parts := make([][]Piece, len(us))
	for i, u := range us {
		parts[i] = say(s.unknowns[u].symbol())
	}
	return join(parts)
}

// poor shows what a tempting pivot leaves: two unknowns in one equation.
func (w *solver) poor(s *scene, u int, known []bool, routes []Route) (Route, bool) {
	if len(routes) == 0 {
		return Route{}, false
	}
	var worst *Equation
	for _, e := range s.candidates() {
		open := s.unknownsIn(e, known)
		if e.Kind != Moments || e.Pivot.Labour < 0.45 || len(open) < 2 || !has(open, u) || len(e.Bodies) > 1 {
			continue
		}
		if last := lastBodies(routes[0]); last != nil && last[0] != e.Bodies[0] {
			continue
		}
		if worst == nil || e.Pivot.Labour < worst.Pivot.Labour {
			worst = e
		}
	}
	if worst == nil {
		return Route{}, false
	}
	open := s.unknownsIn(worst, known)
	k := s.worker(known)
	k.setting(worst)
	name := worst.Pivot.full()
	k.step(Choosing, say("Take moments about "+name+": ", k.passingWords(worst), "but ", s.names(open), " "+bothOrAll(len(open))+" have an arm there."))
	left, right := worst.sides(u)
	k.step(Writing, nil, Line{Formula: formula.Equal(k.products(left, asLengths), k.products(right, asLengths))})
	k.step(Reading, say("That is true, but it is one equation with "+count(len(open), "unknown")+": it gives none of them without a second equation."))
	return Route{Name: "moments about " + name + ", and why it is a poor choice", Steps: k.steps,
		Poor: "about " + name + " " + s.plainNames(open) + " stay in: one equation, " + count(len(open), "unknown")}, true
}

func (s *scene) plainNames(us []int) string {
	names := make([]string, len(us))
	for i, u := range us {
		names[i] = formula.Text(s.unknowns[u].symbol())
	}
	if len(names) == 2 {
		return "both " + names[0] + " and " + names[1]
	}
	return and(names)
}

// lastBodies are the bodies of the last equation of a route.
func lastBodies(r Route) []int {
	if r.Working == nil {
		return nil
	}
	moves := r.Working.Moves
	if b := moves[len(moves)-1].Equation.Bodies; len(b) > 0 {
		return b
	}
	return nil
}

func bothOrAll(n int) string {
	if n == 2 {
		return "both"
	}
	return "all"
}

// onBodies reports whether the pivot of an equation lies on one of its bodies: on a bar's length, within the
// outline of a block, anywhere on a frame.
func (w *worker) onBodies(e *Equation) bool {
	for _, i := range e.Bodies {
		b := &w.s.l.Bodies[i]
		if b.Shape == question.Frame {
			return true
		}
		along := b.Distance(e.Pivot.At)
		slack := 1e-9 * (1 + b.Length)
		foot := b.At(along)
		off := math.Hypot(e.Pivot.At.X-foot.X, e.Pivot.At.Y-foot.Y)
		if along >= -slack && along <= b.Length+slack && off <= b.Height+slack {
			return true
		}
	}
	return false
}

// passingWords says which known forces drop out at a pivot.
func (w *worker) passingWords(e *Equation) []Piece {
	var parts [][]Piece
	for _, f := range e.Passing {
		if f.Zero == "" {
			parts = append(parts, say(f.Words))
		}
	}
	if len(parts) == 0 {
		if !w.onBodies(e) {
			return say("it is a point in the plane, on none of the bodies, ")
		}
		return say("it is a point on the body, ")
	}
	if len(parts) == 1 {
		return say(parts[0], " drops out, ")
	}
	return say(join(parts), " drop out, ")
}

// together solves two equations for two unknowns, where no equation holds only one.
func (w *solver) together(r *answer.Result, s *scene, u int, known []bool, by []string, begin func(*worker)) []Route {
	before := s.best(known, u)
	have := append([]bool(nil), known...)
	var first []move
	for v, p := range before {
		if p == nil || have[v] || v == u {
			continue
		}
		for _, m := range p.moves {
			if !have[m.gives] {
				have[m.gives] = true
				first = append(first, m)
			}
		}
	}
	a, b, other := s.pairFor(u, have)
	if a == nil {
		return w.afterPair(r, s, u, known, by, begin)
	}
	first = needed(s, first, known, a, b)
	k := w.begin(s, known, u, r, natural, begin)
	for _, m := range first {
		k.setting(m.equation)
		k.move(m)
	}
	if !k.pairLines(a, b, u, other) {
		return nil
	}
	return []Route{w.finish(k, r, "two equations solved together", uses(s, &plan{moves: append(first, move{a, u}, move{b, other})}, known, by))}
}

// afterPair finds u from what two equations, solved together for two other unknowns, make known.
func (w *solver) afterPair(r *answer.Result, s *scene, u int, known []bool, by []string, begin func(*worker)) []Route {
	for v := range s.unknowns {
		if v == u || known[v] {
			continue
		}
		a, b, other := s.pairFor(v, known)
		if a == nil || other == u {
			continue
		}
		more := append([]bool(nil), known...)
		more[v], more[other] = true, true
		plans := s.plans(u, more, 1)
		if len(plans) == 0 {
			continue
		}
		k := w.begin(s, known, -1, r, natural, begin)
		if !k.pairLines(a, b, v, other) {
			continue
		}
		k.target = u
		if !k.plan(plans[0]) {
			continue
		}
		return []Route{w.finish(k, r, "two equations solved together, then "+s.routeName(plans[0], natural), uses(s, plans[0], known, by))}
	}
	return nil
}

// needed keeps the moves that the pair of equations rests on.
func needed(s *scene, first []move, known []bool, a, b *Equation) []move {
	want := map[int]bool{}
	for _, e := range []*Equation{a, b} {
		for _, v := range s.unknownsIn(e, known) {
			want[v] = true
		}
	}
	keep := make([]bool, len(first))
	for i := len(first) - 1; i >= 0; i-- {
		if want[first[i].gives] {
			keep[i] = true
			for _, v := range s.unknownsIn(first[i].equation, known) {
				want[v] = true
			}
		}
	}
	var out []move
	for i, m := range first {
		if keep[i] {
			out = append(out, m)
		}
	}
	return out
}

// pairFor finds the two cheapest independent equations with the same two forces unknown, u one of them.
func (s *scene) pairFor(u int, known []bool) (*Equation, *Equation, int) {
	var a, b *Equation
	other, cheapest := -1, math.Inf(1)
	list := s.candidates()
	open := make([][]int, len(list))
	for i, e := range list {
		open[i] = s.unknownsIn(e, known)
	}
	for i, e := range list {
		if len(open[i]) != 2 || !has(open[i], u) || !s.linear(open[i]) {
			continue
		}
		v := open[i][0] + open[i][1] - u
		for j := i + 1; j < len(list); j++ {
			f := list[j]
			if c := s.cost(e) + s.cost(f); len(open[j]) == 0 || !subset(open[j], open[i]) || c >= cheapest {
				continue
			}
			p, q := s.factor(e, u), s.factor(e, v)
			x, y := s.factor(f, u), s.factor(f, v)
			if det := p*y - q*x; math.Abs(det) < 1e-9*(math.Abs(p*y)+math.Abs(q*x)) {
				continue
			}
			a, b, other, cheapest = e, f, v, s.cost(e)+s.cost(f)
		}
	}
	return a, b, other
}

func subset(a, b []int) bool {
	for _, x := range a {
		if !has(b, x) {
			return false
		}
	}
	return true
}

// linear reports whether unknowns are forces or couples.
func (s *scene) linear(us []int) bool {
	for _, u := range us {
		if k := s.unknowns[u].Kind; k != OfForce && k != OfCouple {
			return false
		}
	}
	return true
}

// factor is what unknown u is multiplied by in e.
func (s *scene) factor(e *Equation, u int) float64 {
	if e.Kind == Limiting {
		switch u {
		case e.relation.friction:
			return 1
		case e.relation.normal:
			return -e.relation.value
		}
		return 0
	}
	sum := 0.0
	for i := range e.Terms {
		if t := &e.Terms[i]; t.Force.Size == u {
			sum += e.coefficient(t) * t.Force.Factor
		}
	}
	return sum
}

// pairLines writes two equations and what they give together.
func (w *worker) pairLines(a, b *Equation, u, v int) bool {
	s := w.s
	vu, vv := s.solvePair(a, b, u, v, w.values)
	defer func() { w.on = nil }()
	for i, e := range []*Equation{a, b} {
		w.on, w.gives = e, u
		if e.Kind != Limiting && (i == 0 || a.Kind == Limiting || len(a.Bodies) != len(b.Bodies) || a.Bodies[0] != b.Bodies[0]) {
			w.setting(e)
		}
		w.choosing(e, u)
		w.pairEquation(e, u)
	}
	w.step(Solving, say("Each of these holds both ", s.unknowns[u].symbol(), " and ", s.unknowns[v].symbol(), ": two equations, two unknowns. Solved together:"),
		Line{Formula: formula.Equal(s.unknowns[v].symbol(), w.result(v, vv))}, w.safeEnd(u, vu))
	last := answering
	if u != w.target {
		last = passing
	}
	w.earn = append(w.earn, earner{len(w.steps) - 1, 0, passing, nil}, earner{len(w.steps) - 1, 1, last, nil})
	w.values[u], w.values[v] = vu, vv
	w.moves = append(w.moves, Move{Equation: a, Gives: u, With: b, Also: v})
	w.reading(u, vu)
	return w.agrees()
}

// safeEnd writes the value asked for, rounded to the safe side where it is a limit.
func (w *worker) safeEnd(u int, v float64) Line {
	sym := w.s.unknowns[u].symbol()
	if u == w.target && w.way != answer.Nearest {
		return w.safeLine(w.s.number(v, w.s.unknowns[u].Unit), w.result(u, v), []formula.Node{sym})
	}
	return Line{Formula: formula.Equal(sym, w.result(u, v))}
}

// pairEquation writes one of two equations with its numbers.
func (w *worker) pairEquation(e *Equation, u int) {
	s := w.s
	if e.Kind == Limiting {
		f, n := s.unknowns[e.relation.friction].symbol(), s.unknowns[e.relation.normal].symbol()
		w.mayEarn(limitingMark, 0, e)
		w.step(Writing, say("At "+e.relation.support+" it is about to slip:"), Line{Formula: formula.Equal(f, formula.Times(e.relation.given, n))})
		return
	}
	left, right := e.sides(u)
	if e.Kind == Balance {
		w.mayEarn(balancing, 0, e)
		w.step(Writing, nil, Line{Formula: formula.Equal(w.parts(left, false), w.parts(right, false))})
		return
	}
	w.mayEarn(moments, 0, e)
	w.mayEarn(arms, 0, e)
	lines := []Line{{Formula: formula.Equal(w.products(left, asFound), w.products(right, asFound))}}
	if subtracts(e) {
		lines = append(lines, Line{Formula: formula.Equal(w.products(left, asLengths), w.products(right, asLengths))})
	}
	w.step(Writing, nil, lines...)
}
