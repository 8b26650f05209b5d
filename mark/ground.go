package mark

import (
	"math"
	"slices"
	"strings"

	"steelyard/question"
	"steelyard/script"
	"steelyard/slip"
)

// A ground is what the marks of one part rest on.
type ground struct {
	x       *partKey
	answer  JudgedAnswer
	lines   []Judged
	methods []*Judged // lines that earn a method mark
	good    []*Judged // of them, those without any slip
	spoilt  *Judged   // the last wrong line, if no right line of a method comes after it
	first   *Judged   // the first wrong line that is more than arithmetic
	unread  int
	open    int     // lines that were not judged, since equilibrium fixes no force in them
	equated *Judged // a line that sets two sums equal which are not
}

// sort finds the lines that earn something.
func (g *ground) sort(k *Key) {
	for i := range g.lines {
		j := &g.lines[i]
		switch j.Verdict {
		case NotRead:
			g.unread++
		case Statement:
			if j.Means == notJudged {
				g.open++
			}
		case Right, Carried:
			if !j.method() {
				continue
			}
			switch {
			case named(&j.Line):
				g.spoilt = nil
				g.methods, g.good = append(g.methods, j), append(g.good, j)
			case g.x.asksMoment(): // numbers alone show a method only where a moment is asked for
				g.methods = append(g.methods, j)
			}
		case Wrong:
			if j.Means == "arithmetic" {
				begins := g.x.asksMoment() && k.begins(g.x, j)
				if begins {
					g.methods = append(g.methods, j)
				}
				if n := len(j.Line.Sides); j.Line.Sides[0].Op != script.Number && j.Line.Sides[n-1].Op != script.Number || g.x.asksMoment() && !begins {
					g.equated = j
				}
				continue
			}
			if len(g.good) == 0 || j.Slip != "" {
				g.spoilt = j
			}
			if g.first == nil {
				g.first = j
			}
			if permitted(j.Slip) && (j.method() || j.Means == "") && (named(&j.Line) || g.x.asksMoment()) {
				g.methods = append(g.methods, j)
			}
		}
	}
}

// asksMoment reports whether a part asks for a moment of given forces.
func (x *partKey) asksMoment() bool {
	return x.Ask == question.AskMoment || x.Ask == question.AskTotalMoment
}

// named reports whether a line names something that is sought or given, not numbers alone.
func named(l *script.Line) bool {
	for i := range l.Sides {
		if hasName(&l.Sides[i]) {
			return true
		}
	}
	return false
}

func hasName(e *script.Expr) bool {
	if e.Op == script.Name {
		return true
	}
	for i := range e.Args {
		if hasName(&e.Args[i]) {
			return true
		}
	}
	return false
}

// begins reports whether the first side of a line with a wrong sum is a sum of moments as it should be.
func (k *Key) begins(x *partKey, j *Judged) bool {
	if len(j.Line.Sides) < 2 {
		return false
	}
	l := j.Line
	first := &l.Sides[0]
	if first.Op == script.Name { // MA = 8.4 x 0.5 = 4.3
		first = &l.Sides[1]
	}
	l.Sides, l.Links = []script.Expr{*first, *first}, nil
	said := k.Judge(x.Part, []script.Line{l}, nil)
	return said[0].Verdict == Right && said[0].method()
}

// byAnswer lets the answer tell which slip the lines have, where it is the answer that one leads to: it names a
// wrong line that is still without a name, and takes back the marks of lines that only seem right: they lead to that
// answer. A right line that doesn't stays right, whatever was made of it.
func (m *marker) byAnswer(g *ground) {
	a := &g.answer
	if len(g.lines) == 0 || a.Verdict != AnswerWrong || a.partly || len(g.x.slots) != 1 || math.IsNaN(a.Value) {
		return
	}
	slot := g.x.slots[0]
	s := &m.k.Plan.Slots[slot]
	var fit []*outcome
	var names []string
	for i := range m.k.outcomes {
		o := &m.k.outcomes[i]
		if !o.Cases[0].Touches[slot] || !o.lines[g.x.Name] || math.IsNaN(o.Values[slot]) || s.Margin(o.Values[slot], a.Value) >= 1 || s.Margin(o.Values[slot], s.Right) < 1 {
			continue
		}
		fit = append(fit, o)
		if !slices.Contains(names, o.name) {
			names = append(names, o.name)
		}
	}
	if len(fit) == 0 {
		return
	}
	best, all := fit[0], true
	for _, o := range fit {
		all = all && !o.Cases[0].Slip.TakesMethod()
	}
	for _, o := range fit[1:] {
		if o.Cases[0].Slip.Frequency > best.Cases[0].Slip.Frequency {
			best = o
		}
	}
	all = all && permitted(best.name)
	switch {
	case g.spoilt == nil && g.first == nil && len(g.methods) > 0:
		if len(names) == 1 && onlyInValues(best.name) {
			return
		}
		seems := func(j *Judged) bool { return leadsTo(&j.Line, g.answer.Value) }
		g.good = slices.DeleteFunc(g.good, seems)
		if !all {
			g.methods = slices.DeleteFunc(g.methods, seems)
		}
	case g.spoilt == nil && len(g.methods) == 0 && g.x.asksMoment() && all:
		for i := range g.lines {
			if j := &g.lines[i]; j.Means == "arithmetic" {
				g.methods = []*Judged{j}
				break
			}
		}
	case g.spoilt != nil && !slices.Contains(names, g.spoilt.Slip):
		j := g.first
		if len(names) == 1 {
			j.Slip, j.Of = best.name, best.of
		}
		g.methods = slices.DeleteFunc(g.methods, func(l *Judged) bool { return l == j })
		if all && (named(&j.Line) || g.x.asksMoment()) {
			g.methods = append(g.methods, j)
		}
	}
}

// leadsTo reports whether a value, SI or an angle in radians, is what a line gives: it makes all sides equal in the place of the
// line's only name, or stands on a side of a line without names. Powers of ten are left to units that were not typed.
func leadsTo(l *script.Line, v float64) bool {
	var c compiled
	var names nameList
	for i := range l.Sides {
		c.sides = append(c.sides, c.add(&l.Sides[i], &names, false, false))
	}
	if len(names.texts) > 1 {
		return false
	}
	is := func(x, y float64) bool {
		r := math.Abs(x / y)
		return math.Abs(r/math.Pow10(int(math.Round(math.Log10(r))))-1) < 2*slip.Tolerance
	}
	for _, scale := range []float64{1, 1 / radian} { // an angle stands in degrees
		for i := range c.leaves {
			if f := &c.leaves[i]; f.name >= 0 {
				f.value = v * scale
			} else {
				f.value = si(&f.e.Quantity)
			}
		}
		c.work()
		if len(names.texts) == 0 {
			for i, side := range c.sides {
				if l.Sides[i].Op == script.Number && is(c.val[side], v*scale) {
					return true
				}
			}
			continue
		}
		all := true
		for i := 1; i < len(c.sides); i++ {
			all = all && is(c.val[c.sides[i-1]], c.val[c.sides[i]])
		}
		if all {
			return true
		}
	}
	return false
}

// method reports whether the line sets up moments, a balance or another relation of the mechanics.
func (j *Judged) method() bool {
	switch m := j.Means; {
	case strings.HasPrefix(m, "moment"), strings.Contains(m, "balance"), strings.Contains(m, "together"), strings.Contains(m, "friction"):
		return true
	}
	return false
}

// permitted reports whether a line with just this slip still shows the method: every force is there, at one
// point. A missing force, a rule put in the place of mechanics, or two slips at once show none.
//
// Source: common practice of mechanics schemes; docs/marking.md has the table.
func permitted(name string) bool {
	s := slip.Named(name)
	if s == nil || s.TakesMethod() {
		return false
	}
	switch name {
	case "weight-left-out", "weight-left-out-of-moments", "load-left-out", "load-left-out-of-moments",
		"other-push-forgotten-end", "other-push-forgotten-middle", "all-from-the-end", "two-pivots", "couple-of-one-force",
		"missing-from-balance", "hinge-only-up", "cable-out-of-balance", "pivot-force-given-moment", "all-turn-one-way",
		"slant-lengths", "whole-force-turns", "normal-is-the-weight", "friction-at-its-limit", "both-still-push", "wrong-edge", "components-added", "multiplied-not-divided":
		return false
	}
	return true
}
