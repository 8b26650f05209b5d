package mark

import (
	"fmt"
	"math"

	"steelyard/question"
	"steelyard/script"
	"steelyard/slip"
	"steelyard/solution"
	"steelyard/statics"
)

// A follower recomputes what a part should be for the pupil's own earlier answers, by every route.
type follower struct {
	by       []*slip.Reckoner
	own, out []float64
}

func (k *Key) newFollower() *follower {
	f := &follower{own: make([]float64, len(k.Plan.Slots)), out: make([]float64, len(k.Plan.Slots))}
	for _, w := range k.ways {
		r := w.Reckoner()
		if r.Take(k.Question) == nil {
			f.by = append(f.by, r)
		}
	}
	return f
}

// follow lists what a slot's value would be after the pupil's own earlier answers, by each route.
func (k *Key) follow(slot int, own []float64) []float64 {
	f := k.pool.Get().(*follower)
	defer k.pool.Put(f)
	copy(f.own, own)
	for i := slot; i < len(f.own); i++ {
		f.own[i] = math.NaN()
	}
	var list []float64
	for _, r := range f.by {
		r.Following(f.out, f.own)
		if v := f.out[slot]; !math.IsNaN(v) && !math.IsInf(v, 0) {
			list = append(list, v)
		}
	}
	return append(list, k.followMoments(slot, own)...)
}

// followMoments lists what a force would be after a pupil's own earlier moment about a point: the force that the
// part asks for has to make up for the difference, at its own distance from that point.
func (k *Key) followMoments(slot int, own []float64) []float64 {
	x := &k.parts[k.Part(k.Plan.Slots[slot].Part)]
	at, way, ok := k.sought(x)
	if !ok && x.Ask != question.AskCouple {
		return nil
	}
	var list []float64
	for s := range slot {
		y := &k.parts[k.Part(k.Plan.Slots[s].Part)]
		if math.IsNaN(own[s]) || y.Ask != question.AskMoment && y.Ask != question.AskTotalMoment {
			continue
		}
		right := k.Plan.Slots[slot].Right
		if x.Ask == question.AskCouple {
			list = append(list, right-(own[s]-k.Plan.Slots[s].Right))
			continue
		}
		p, named := k.Answers.Layout.Named(y.Other)
		if y.Place.Set() {
			p, named = k.Answers.Layout.Point(y.Place), true
		}
		if !named {
			continue
		}
		arm := (at.X-p.X)*way.Y - (at.Y-p.Y)*way.X
		if math.Abs(arm) < 1e-9 {
			continue
		}
		list = append(list, right-(own[s]-k.Plan.Slots[s].Right)/arm)
	}
	return list
}

// sought is where the force of a part acts, and its direction.
func (k *Key) sought(x *partKey) (at, way statics.Vec, ok bool) {
	l := k.Answers.Layout
	switch x.Ask {
	case question.AskForce, question.AskUpright:
		if s := l.SupportNamed(x.Thing); s != nil {
			return s.At, s.Normal, s.Normal != (statics.Vec{})
		}
	case question.AskWeight, question.AskSize:
		if d := l.LoadNamed(x.Thing); d != nil {
			way = statics.Vec{Y: -1}
			if d.Kind == question.Force {
				way = d.Unit
			}
			return d.At, way, true
		}
	}
	return at, way, false
}

// excused reports whether a wrong line is none for this pupil: it goes on from an own earlier value, or it counts
// a force the other way whose direction the answer states.
func (m *marker) excused(g *ground) bool {
	j := g.spoilt
	if j.Slip == "turned-the-wrong-way" && g.x.against {
		return true
	}
	if !g.answer.carried {
		return false
	}
	for i := range j.Line.Sides {
		if m.mentions(&j.Line.Sides[i]) {
			return true
		}
	}
	return false
}

// mentions reports whether an expression has one of the pupil's own earlier values in it.
func (m *marker) mentions(e *script.Expr) bool {
	if e.Op == script.Number {
		v := math.Abs(e.Quantity.SI())
		for _, own := range m.own {
			if own = math.Abs(own); own > 0 && math.Abs(v-own) <= 0.005*own {
				return true
			}
		}
	}
	for i := range e.Args {
		if m.mentions(&e.Args[i]) {
			return true
		}
	}
	return false
}

// mayCarry reports whether a value that follows from the pupil's own earlier answer earns the marks. A rule that
// takes the place of mechanics, such as equal shares, would give the same value in both parts: without working
// nobody can tell that it was followed through.
func (m *marker) mayCarry(p *Part, g *ground) bool {
	if len(g.good) > 0 || g.x.Ask == question.AskForceOn {
		return true
	}
	if !m.goesOn(g) {
		p.AskTeacher = true
		p.Why = append(p.Why, "the answer would follow from their own earlier one, but the working doesn't use that; please look")
		return false
	}
	k, slot := m.k, g.x.slots[0]
	for i := range k.outcomes {
		o := &k.outcomes[i]
		if !o.Cases[0].Slip.TakesMethod() || k.Plan.Slots[slot].Margin(g.answer.Value, o.Values[slot]) >= 1 || !o.Cases[0].Touches[slot] ||
			o.Cases[0].Slip.OnLines() && !o.lines[g.x.Name] {
			continue
		}
		for s := range slot {
			if !math.IsNaN(m.own[s]) && !m.shown[s] && o.Cases[0].Touches[s] && k.Plan.Slots[s].Margin(m.own[s], o.Values[s]) < 1 &&
				(g.spoilt != nil || !m.likelier(s, o.Cases[0].Slip.Frequency)) {
				p.AskTeacher = true
				p.Why = append(p.Why, fmt.Sprintf("the answer would follow from their own earlier one, but also from the same assumption (%s); please look",
					lower(o.Cases[0].Slip.Title)))
				return false
			}
		}
	}
	return true
}

// likelier reports whether a slip in a line of mechanics, met more often than f, leads to the pupil's own answer.
func (m *marker) likelier(slot int, f slip.Frequency) bool {
	for i := range m.k.outcomes {
		o := &m.k.outcomes[i]
		s := &o.Cases[0].Slip
		if !s.TakesMethod() && s.Frequency > f && o.Cases[0].Touches[slot] && !math.IsNaN(o.Values[slot]) &&
			m.k.Plan.Slots[slot].Margin(m.own[slot], o.Values[slot]) < 1 {
			return true
		}
	}
	return false
}

// goesOn reports whether an answer that would follow from an own earlier one can have come from it: where it is the
// same number again, working in numbers has to use an own value or a name.
func (m *marker) goesOn(g *ground) bool {
	any := false
	for i := range g.lines {
		j := &g.lines[i]
		if j.Verdict == NotRead || j.Verdict == Statement {
			continue
		}
		any = true
		sides := j.Line.Sides
		if len(sides) > 1 {
			sides = sides[:len(sides)-1]
		}
		for n := range sides {
			if m.mentions(&sides[n]) || hasName(&sides[n]) {
				return true
			}
		}
	}
	// The same number again needs a reason; another one has been worked out.
	for _, own := range m.own {
		if math.Abs(math.Abs(own)-math.Abs(g.answer.Value)) <= 0.005*math.Abs(own) {
			return !any
		}
	}
	return true
}

// again names the slip that an earlier part of this pupil shows and that leads to this answer too.
func (m *marker) again(g *ground) string {
	if len(g.x.slots) != 1 || math.IsNaN(g.answer.Value) || g.spoilt != nil || len(g.lines) == 0 || m.k.Policy.FollowThrough == No {
		return ""
	}
	for _, s := range g.x.scheme { // moments taken anew are judged by themselves
		if s.Kind == solution.ForMoments {
			return ""
		}
	}
	k, slot := m.k, g.x.slots[0]
	title := ""
	for i := range k.outcomes {
		o := &k.outcomes[i]
		if math.IsNaN(o.Values[slot]) || k.Plan.Slots[slot].Margin(o.Values[slot], g.answer.Value) >= 1 {
			continue
		}
		for s := range slot {
			p := &k.Plan.Slots[s]
			if !math.IsNaN(m.own[s]) && p.Margin(m.own[s], p.Right) >= 1 && p.Margin(m.own[s], o.Values[s]) < 1 {
				if o.Cases[0].Slip.TakesMethod() {
					return ""
				}
				if title == "" {
					title = lower(o.Cases[0].Slip.Title)
				}
			}
		}
	}
	return title
}
