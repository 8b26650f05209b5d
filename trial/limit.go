package trial

import (
	"slices"
	"strings"

	"steelyard/answer"
	"steelyard/question"
	"steelyard/statics"
)

// A Limit is a value of the number up to which, or from which, it stays at rest.
type Limit struct {
	At     float64  // SI
	Lower  bool     // it rests above, not below
	Giving []string // "contact at P is about to be lost"
	Short  string   // the same for a graph: "P lifts"
}

// findLimits finds where equilibrium begins and ends between low and high. It finds none where an end of the range can't be
// laid out, or where no limit can be worked out: the values tried show all the same where it rests.
func (c *Curve) findLimits(q *question.Question, low, high float64) {
	build := func(t float64) *answer.Layout {
		l, err := layAt(q, c.Number, t)
		if err != nil {
			return nil
		}
		return l
	}
	if build(low) == nil || build(high) == nil {
		return
	}
	list, err := extents(q, c.Number, low, high, build)
	if err != nil {
		return
	}
	near := 1e-9 * (high - low)
	for _, e := range list {
		if !e.Possible {
			continue
		}
		if e.Span.Least > low+near {
			c.Limits = append(c.Limits, limitOf(build(e.Span.Least), e.Span.Least, true, e.LeastGiving))
		}
		if e.Span.Greatest < high-near {
			c.Limits = append(c.Limits, limitOf(build(e.Span.Greatest), e.Span.Greatest, false, e.GreatestGiving))
		}
	}
}

// limitOf is the limit at one value, with what gives there; l is the arrangement at it, or nil.
func limitOf(l *answer.Layout, at float64, lower bool, giving []statics.Giving) Limit {
	x := Limit{At: at, Lower: lower}
	if l == nil {
		return x
	}
	x.Giving = answer.GivingInWords(l, giving)
	var short []string
	for _, g := range giving {
		i := slices.IndexFunc(l.Supports, func(s answer.Support) bool { return s.Joint == g.Joint })
		if i < 0 {
			continue
		}
		verb := " lifts"
		switch s := &l.Supports[i]; {
		case g.Slips:
			verb = " slips"
		case l.System.Joints[g.Joint].Kind == statics.Pull:
			verb = " slack"
		case l.System.Joints[g.Joint].Kind == statics.Face:
			verb = " tips"
		case s.Kind == question.Wall:
			verb = " parts"
		}
		short = append(short, l.Supports[i].Name+verb)
	}
	x.Short = strings.Join(short, ", ")
	return x
}

// extents uses that a load's place and size enter linearly, and tries many values of anything else.
func extents(q *question.Question, x Number, low, high float64, build func(float64) *answer.Layout) ([]statics.Extent, error) {
	if d := q.Load(x.Thing); d != nil && (x.Attribute == "at" || x.Attribute == "weight") {
		if e, ok := linear(q, x, low, high); ok {
			return []statics.Extent{e}, nil
		}
	}
	return statics.Extents(func(t float64) statics.System {
		if l := build(t); l != nil {
			return l.System
		}
		return statics.System{}
	}, low, high)
}

// linear finds the range of a load's place or weight at once, by leaving it unknown; ok is false where that can't be done.
func linear(q *question.Question, x Number, low, high float64) (e statics.Extent, ok bool) {
	free := q.Clone()
	free.Value(x.Thing, x.Attribute).Status = question.Unknown
	l, err := answer.Lay(free)
	if err != nil || len(l.System.Unknowns) != 1 {
		return statics.Extent{}, false
	}
	u, b := &l.System.Unknowns[0], (*answer.Body)(nil)
	u.Least, u.Greatest = low, high
	if x.Attribute == "at" {
		b = &l.Bodies[l.LoadNamed(x.Thing).On]
		one, two := b.FromZero(low), b.FromZero(high)
		u.Least, u.Greatest = min(one, two), max(one, two)
	}
	e, err = statics.Range(&l.System, 0)
	if err != nil || !e.Possible {
		return e, err == nil
	}
	if b != nil && b.ZeroRight {
		e.Span.Least, e.Span.Greatest = b.FromZero(e.Span.Greatest), b.FromZero(e.Span.Least)
		e.LeastGiving, e.GreatestGiving = e.GreatestGiving, e.LeastGiving
	}
	return e, true
}

// spurious says whether it rests just beyond a limit all the same, as roundings may have it at the end of a range.
func (c *Curve) spurious(l Limit) bool {
	i, near := slices.Index(c.At, l.At), c.near()
	if l.Lower {
		for i >= 0 && c.At[i] > l.At-near {
			i--
		}
	} else {
		for i < len(c.At) && c.At[i] < l.At+near {
			i++
		}
	}
	return i >= 0 && i < len(c.At) && c.State[i] != statics.NoEquilibrium
}
