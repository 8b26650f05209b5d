package solution

import (
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/quantity"
	"steelyard/statics"
)

// check puts the numbers back about a point that no route used.
func (w *solver) check() []Step {
	if w.a.State != statics.Unique && w.a.State != statics.Limit {
		return nil
	}
	s := w.s
	s.part, s.figures = nil, max(3, answer.Figures(s.q, nil))
	all := make([]bool, len(s.unknowns))
	for i := range all {
		all[i] = !math.IsNaN(s.unknowns[i].Value)
		if !all[i] {
			return nil
		}
	}
	k := s.worker(all)
	best := w.unused()
	if best == nil {
		return w.balanceCheck(k)
	}
	k.on = best
	turn := [2][]*Term{}
	sum := [2]float64{}
	for i := range best.Terms {
		t := &best.Terms[i]
		if math.Abs(t.Force.size(k.values)) < 1e-9 {
			continue
		}
		side := 0
		if t.Sense*signOf(t.Force.size(k.values)) > 0 {
			side = 1
		}
		turn[side] = append(turn[side], t)
		sum[side] += math.Abs(best.size(t, k.values))
	}
	if math.Abs(sum[0]-sum[1]) > 1e-7*(sum[0]+sum[1]) || sum[0] == 0 {
		return nil // better no check than one that is not true
	}
	line := func(side int) Line {
		name := []string{"total clockwise moment", "total anticlockwise moment"}[side]
		total := formula.Rounded(splitNumber(s, sum[side]), s.number(1, "N m").Unit)
		if list := turn[side]; len(list) == 1 && list[0].Force.Kind == Turn { // it is the total
			return Line{Formula: formula.Equal(formula.Upright(name), total)}
		}
		return Line{Formula: formula.Equal(formula.Upright(name), k.sizes(turn[side]), total)}
	}
	k.step(Checking, say("Check about a point that was not used: "+best.Pivot.full()+". Put all forces back, as found:"), line(0), line(1))
	k.step(Checking, say("The two are equal, as they must be about every point."))
	return k.steps
}

// unused is the equation of moments to check with: it holds every force, about a natural point that no route
// shown first has used; nil if there is none.
func (w *solver) unused() *Equation {
	var best *Equation
	for _, e := range w.s.candidates() {
		if e.Kind != Moments || len(e.Terms) < 2 || len(e.Bodies) > 1 && best != nil {
			continue
		}
		mixed := slices.ContainsFunc(e.Terms, func(t Term) bool { // the plan does not say how its distance is found
			return t.Arm.From == nil && (t.Arm.Unknown >= 0 || t.Arm.Trig != nil)
		})
		if !mixed && !w.taken(e) && (best == nil || score(e) > score(best)) {
			best = e
		}
	}
	return best
}

// sizes adds up the moments of terms without their signs.
func (w *worker) sizes(terms []*Term) formula.Node {
	nodes := make([]formula.Node, len(terms))
	for i, t := range terms {
		nodes[i] = w.product(t, asLengths)
		switch {
		case t.Force.size(w.values) >= 0:
		case len(nodes[i].Args) == 0: // a couple
			nodes[i] = absNode(nodes[i])
		default:
			nodes[i].Args = slices.Clone(nodes[i].Args)
			nodes[i].Args[0] = absNode(nodes[i].Args[0])
		}
	}
	return formula.Add(nodes...)
}

// balanceCheck puts the numbers back into a balance of forces, where no other point is left.
func (w *solver) balanceCheck(k *worker) []Step {
	s := w.s
	for _, e := range s.candidates() {
		if e.Kind != Balance || len(e.Terms) < 3 || len(e.Bodies) > 1 {
			continue
		}
		var sides [2][]formula.Node
		var sum [2]float64
		for i := range e.Terms {
			t := &e.Terms[i]
			v := e.size(t, k.values)
			side := 0
			if t.Sense*signOf(v) < 0 {
				side = 1
			}
			n := w.s.node(t.Force, k.values)
			n = absNode(n)
			if t.Share != nil {
				n = flat(n, k.trig(t.Share))
			}
			sides[side], sum[side] = append(sides[side], n), sum[side]+math.Abs(v)
		}
		if math.Abs(sum[0]-sum[1]) > 1e-7*(sum[0]+sum[1]) || len(sides[0]) == 0 || len(sides[1]) == 0 {
			continue
		}
		k.on = e
		line := func(i int, name string) Line {
			unit, factor := s.inUnit("N")
			return Line{Formula: formula.Equal(formula.Upright("total force "+name), formula.Add(sides[i]...), formula.Rounded(minusSign(quantity.RoundFigures(sum[i]/factor, s.figures)), unit))}
		}
		k.step(Checking, say("Check: put all forces back, as found, and add them up."), line(0, e.plus()), line(1, e.minus()))
		k.step(Checking, say("The two are equal, as they must be."))
		return k.steps
	}
	return nil
}

// splitNumber writes a moment to the figures of the answers.
func splitNumber(s *scene, v float64) string {
	_, factor := s.inUnit("N m")
	return minusSign(quantity.RoundFigures(v/factor, s.figures))
}

// score prefers a check that holds every force, at a natural point.
func score(e *Equation) float64 {
	unknown := 0
	for i := range e.Terms {
		if !e.Terms[i].Force.known() {
			unknown++
		}
	}
	return 2*float64(unknown) + float64(len(e.Terms)) - e.Pivot.Labour - float64(len(e.Bodies))
}

// taken reports whether moments were taken about the pivot of e in the routes shown first.
func (w *solver) taken(e *Equation) bool {
	for _, p := range w.used {
		if math.Hypot(p.X-e.Pivot.At.X, p.Y-e.Pivot.At.Y) < 1e-9 {
			return true
		}
	}
	return false
}
