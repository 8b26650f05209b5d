package solution

import (
	"math"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/question"
	"steelyard/statics"
)

// pointAsked is the point of "moment K about P".
func (w *solver) pointAsked(p *question.Part, body int) (Pivot, bool) {
	l := w.a.Layout
	if p.Place.Set() {
		at := l.Point(p.Place)
		name := "that point"
		if s := w.s.supportAt(at); s != "" {
			name = s
		} else if p.Place.At.Known() {
			name = "the point at " + formula.Text(given(p.Place.At))
		}
		return w.s.pivotAt(name, body, at, 0), true
	}
	at, ok := l.Named(p.Other)
	return w.s.pivotAt(p.Other, body, at, 0), ok
}

// momentOf works out the moment of one force, or of all given forces, about a point.
func (w *solver) momentOf(r *answer.Result) []Route {
	p, s := r.Part, w.s
	body := 0
	var us []int
	all := p.Ask == question.AskTotalMoment
	for i := range s.forces {
		f := &s.forces[i]
		if f.Name == p.Thing {
			body = f.On
			if f.Size >= 0 {
				us = append(us, f.Size)
			}
		}
	}
	pivot, ok := w.pointAsked(p, body)
	if !ok {
		return nil
	}
	e := s.moments([]int{body}, pivot)
	var list []*Term
	for i := range e.Terms {
		t := &e.Terms[i]
		if all && !isSupport(t.Force.Kind) && !(t.Force.Kind == Turn && s.l.SupportNamed(t.Force.Name) != nil) || !all && t.Force.Name == p.Thing {
			list = append(list, t)
			if all && t.Force.Size >= 0 {
				us = append(us, t.Force.Size)
			}
		}
	}
	if all && len(s.l.Bodies) > 1 {
		return nil
	}
	return w.several(r, us, "force times perpendicular distance", func(k *worker) { w.momentWorking(k, r, e, list) })
}

func (w *solver) momentWorking(k *worker, r *answer.Result, e *Equation, list []*Term) {
	s := w.s
	k.step(Stating, say("The moment of a force about "+e.Pivot.Name+" is the force times the perpendicular distance from "+e.Pivot.Name+" to its line of action."))
	m := math.Abs(r.Value)
	sym := formula.Symbol("M", "", "the moment", m)
	if len(list) == 0 {
		w.sayAnswer(k, r, "Its line of action passes through "+e.Pivot.Name+", so it has no moment there.")
		return
	}
	want := 1
	if r.Value < 0 {
		want = -1
	}
	signed := func(f form) formula.Node {
		var nodes []formula.Node
		for _, t := range list {
			n := k.product(t, f)
			if t.Sense*signOf(t.Force.size(k.values)) != want && len(list) > 1 {
				n = formula.Minus(n)
			}
			nodes = append(nodes, n)
		}
		return formula.Add(nodes...)
	}
	if len(list) > 1 {
		k.step(Choosing, say("Count moments that turn "+sense(want)+" as positive."))
	}
	k.slants(e, list)
	var lines []Line
	k.mayEarn(moments, 0, e)
	lines = append(lines, Line{Formula: formula.Equal(sym, signed(asFound))})
	k.mayEarn(arms, 0, e)
	k.mayEarn(answering, 1, nil)
	chain := []formula.Node{sym}
	if len(list) > 1 {
		chain = append(chain, signed(asMoments))
	} else if a, b := signed(asFound), signed(asLengths); !sameText(a, b) {
		chain = append(chain, b)
	}
	lines = append(lines, Line{Formula: formula.Equal(append(chain, s.final(m, "N m", answer.Nearest))...), Note: answer.Sense(r.Value)})
	k.step(Result, nil, lines...)
}

func signOf(v float64) int {
	if v < 0 {
		return -1
	}
	return 1
}

// resultant works out one force that does what the loads and weights do together, and where it acts.
func (w *solver) resultant(r *answer.Result) []Route {
	s := w.s
	body := -1
	for i := range s.l.Bodies {
		if s.l.Bodies[i].Name == r.Part.Thing {
			body = i
		}
	}
	if body < 0 {
		return nil
	}
	b := &s.l.Bodies[body]
	zero := b.At(0)
	left, right := ends(b.Level())
	name := left
	if b.ZeroRight {
		zero, name = b.At(b.Length), right
	}
	e := s.moments([]int{body}, s.pivotAt(name+" of "+s.body(body), body, zero, 0.1))
	var terms []*Term
	var acting []*Force
	for i := range s.forces {
		if f := &s.forces[i]; f.On == body && !isSupport(f.Kind) && f.Kind != Turn {
			if !f.known() || math.Abs(f.Way.X) > 1e-12 {
				return nil
			}
			acting = append(acting, f)
		}
	}
	for i := range e.Terms {
		if t := &e.Terms[i]; t.Force.On == body && (!isSupport(t.Force.Kind) && t.Force.known()) {
			terms = append(terms, t)
		}
	}
	if len(acting) == 0 || math.IsNaN(r.At) {
		return nil
	}
	k := w.begin(s, make([]bool, len(s.unknowns)), -1, r, natural, nil)
	var sizes []formula.Node
	total := 0.0
	for _, f := range acting {
		n := f.Given
		if f.Way.Y > 0 {
			n = formula.Minus(n)
		}
		sizes, total = append(sizes, n), total-f.Way.Y*f.Value
	}
	k.step(Choosing, say("The resultant is one force that does what all the loads and weights do together: it has their sum, and the same moment about every point."))
	k.mayEarn(balancing, 0, &Equation{Kind: Balance, Direction: vertically})
	sym := formula.Symbol("R", "", "the resultant", math.Abs(total))
	k.step(Writing, nil, Line{Formula: formula.Equal(sym, formula.Add(sizes...), s.final(math.Abs(total), "N", answer.Nearest)), Note: way(statics.Vec{Y: -total}, 3)})
	x := formula.Symbol("x", "", "the distance of the resultant"+s.from(b), r.At)
	down := -1
	if b.ZeroRight {
		down = 1
	}
	signed := func(f form) formula.Node {
		var nodes []formula.Node
		for _, t := range terms {
			n := k.product(t, f)
			if t.Sense != down {
				n = formula.Minus(n)
			}
			nodes = append(nodes, n)
		}
		return formula.Add(nodes...)
	}
	m := 0.0
	for _, t := range terms {
		m += float64(t.Sense*down) * e.size(t, k.values)
	}
	k.step(Stating, say("About "+name+", the moment of the resultant equals the total moment of the forces."))
	k.mayEarn(moments, 0, e)
	k.mayEarn(arms, 0, e)
	k.step(Writing, nil, Line{Formula: formula.Equal(formula.Times(s.number(total, "N"), x), signed(asLengths), s.number(m, "N m"))})
	k.mayEarn(answering, 0, nil)
	k.step(Result, nil, Line{Formula: formula.Equal(x, formula.Frac(s.number(m, "N m"), s.number(total, "N")), s.final(r.At, "m", answer.Nearest)), Note: s.from(b)[1:]})
	w.weighs = true
	return []Route{w.finish(k, r, "sum of forces, then moments about "+name, nil)}
}

// supportAt is the support at a point, or "".
func (s *scene) supportAt(at statics.Vec) string {
	for i := range s.l.Supports {
		if p := &s.l.Supports[i]; math.Hypot(p.At.X-at.X, p.At.Y-at.Y) < 1e-9 {
			return p.Name
		}
	}
	return ""
}
