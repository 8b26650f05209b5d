package mark

import (
	"math"
	"strings"

	"steelyard/question"
	"steelyard/script"
	"steelyard/solution"
	"steelyard/statics"
)

// guessable reports whether a part's answer is one of two, so that a right one tells little where the working under it
// is about something else.
func (x *partKey) guessable() bool {
	return x.Ask == question.AskWhether && x.method
}

// bornOut reports whether some right line is about the arrangement: moments or a balance, or a comparison of what has
// been worked out before.
func (m *marker) bornOut(g *ground) bool {
	for i := range g.lines {
		j := &g.lines[i]
		if (j.Verdict == Right || j.Verdict == Carried) && j.method() && m.k.tells(j) || m.k.compares(g.x, &j.Line) {
			return true
		}
	}
	return false
}

// tells reports whether a right line can show whether it stays: where it moves, moments in numbers do so only about a
// support. About an end the supports' own moments are missing.
func (k *Key) tells(j *Judged) bool {
	s := k.theJudge().main
	point, moments := strings.CutPrefix(j.Means, "moments about ")
	if s.fixed || !moments {
		return true
	}
	p, ok := s.find(point)
	return ok && s.l.SupportNamed(p.key) != nil
}

// compares reports whether a line rightly compares what decides whether it stays: moments about one of the points that
// stand out, or the friction there would have to be with the greatest there can be.
func (k *Key) compares(x *partKey, l *script.Line) bool {
	s := k.theJudge().main
	friction := false
	for _, m := range x.scheme {
		friction = friction || m.Kind == solution.ForLimit
	}
	for i := range len(l.Sides) - 1 {
		if relation(l, i) == "=" {
			// 5.94 - 4.2 = 1.74: the two are compared by their difference.
			if e := &l.Sides[i]; e.Op == script.Subtract && s.decides(math.Abs(k.sideValue(x, &e.Args[0])), friction) && s.decides(math.Abs(k.sideValue(x, &e.Args[1])), friction) {
				return true
			}
			continue
		}
		a, b := k.sideValue(x, &l.Sides[i]), k.sideValue(x, &l.Sides[i+1])
		if related(l, i, a-b, 0) && s.decides(math.Abs(a), friction) && s.decides(math.Abs(b), friction) {
			return true
		}
	}
	return false
}

// sideValue works out a side that is numbers, or the name of a moment; NaN for any other.
func (k *Key) sideValue(x *partKey, e *script.Expr) float64 {
	if e.Op == script.Name {
		for _, m := range k.theJudge().main.meanings(e.Text, x.Part, "") {
			if m.per != 0 && !m.total && m.col >= 0 && m.per != 1 {
				return m.value
			}
		}
		return math.NaN()
	}
	if hasName(e) {
		return math.NaN()
	}
	var names nameList
	var c compiled
	root := c.add(e, &names, false, false)
	for i := range c.leaves {
		c.leaves[i].typed = si(&c.leaves[i].e.Quantity)
	}
	return c.typedValue(root)
}

// supported reports whether a support stands at a point.
func (s *scene) supported(at statics.Vec) bool {
	for i := range s.l.Supports {
		if p := s.l.Supports[i].At; math.Hypot(p.X-at.X, p.Y-at.Y) < 1e-9 {
			return true
		}
	}
	return false
}

// decides reports whether a number is one that shows whether it stays: a moment of one force about a support, or of all of one sense about it; with friction a force, the greatest friction, or the coefficient that it takes.
func (s *scene) decides(v float64, friction bool) bool {
	if friction {
		for i := range s.cols {
			c := &s.cols[i]
			n := s.column(normalOf, c.name)
			switch {
			case c.kind == frictionOf && near(v, c.value), c.kind == coefficient && near(v, c.value):
				return true
			case c.kind == frictionOf && n >= 0 && s.cols[n].value != 0 && near(v, c.value/s.cols[n].value):
				return true
			case c.kind == coefficient && n >= 0 && near(v, c.value*s.cols[n].value):
				return true
			}
		}
	}
	for n := range s.natural {
		e := &s.natural[n]
		if !e.turns || !s.supported(e.at) {
			continue
		}
		plus, minus := 0.0, 0.0
		for i := range e.row {
			x := e.row[i] * s.cols[i].value
			if !s.cols[i].isForce() || x == 0 || math.IsNaN(x) {
				continue
			}
			if near(v, x) || near(v, x*s.perLength()) {
				return true
			}
			plus, minus = plus+max(x, 0), minus+max(-x, 0)
		}
		for _, x := range []float64{plus, minus} {
			if x != 0 && (near(v, x) || near(v, x*s.perLength())) {
				return true
			}
		}
	}
	return false
}
