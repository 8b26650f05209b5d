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
		return w.s.pivotAt(w.s.placeName(p.Place, at), body, at, 0), true
	}
	at, ok := l.Named(p.Other)
	return w.s.pivotAt(p.Other, body, at, 0), ok
}

// placeName is what the text calls a place that a part asks about.
func (s *scene) placeName(p question.Place, at statics.Vec) string {
	if name := s.supportAt(at); name != "" {
		return name
	}
	i := s.l.BodyIndex(p.Body)
	switch {
	case p.Point != "":
		return "point " + p.Point
	case p.XY != nil:
		return "the point (" + formula.Text(given(p.XY.X)) + ", " + formula.Text(given(p.XY.Y)) + ")"
	case p.At.Known():
		return "the point at " + formula.Text(given(p.At))
	case i < 0:
		return "the origin"
	case p.End == question.Middle:
		return "the middle of " + s.body(i)
	}
	left, right := ends(&s.l.Bodies[i])
	if p.End == question.Right {
		left = right
	}
	return left + " of " + s.body(i)
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

// supportAt is the support at a point, or "".
func (s *scene) supportAt(at statics.Vec) string {
	for i := range s.l.Supports {
		if p := &s.l.Supports[i]; math.Hypot(p.At.X-at.X, p.At.Y-at.Y) < 1e-9 {
			return p.Name
		}
	}
	return ""
}
