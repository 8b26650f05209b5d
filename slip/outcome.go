package slip

import (
	"math"
	"strings"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/question"
)

// Tolerance is the marking tolerance: an answer counts as a value if it lies within this part of it.
//
// Source: common practice; a three-figure step shifts a product by at most 0.5 %, and 2 % would take in
// g = 10 N/kg for 9.81 N/kg.
const Tolerance = 0.01

// An Outcome is what a slip, or two at once, lead to in a question.
type Outcome struct {
	Cases  []Case    // one, or two
	Values []float64 // by slot of the plan, SI; NaN where the slip leaves no number
	Shown  []string  // the same, rounded, in the question's units; "" where no slip of the outcome touches it
	Lines  []Line    // wrong lines, in the order in which they are written
	Hidden bool      // every answer still passes as right
}

// Name is the name of the slip, and what it falls on.
func (o *Outcome) Name() string {
	names := make([]string, len(o.Cases))
	for i := range o.Cases {
		names[i] = o.Cases[i].Name()
	}
	return strings.Join(names, " + ")
}

// Outcomes lists what every slip leads to with the question's own numbers.
func (p *Plan) Outcomes() ([]Outcome, error) {
	var list []Outcome
	for i := range p.Cases {
		o, err := p.Outcome(&p.Cases[i])
		if err != nil {
			return nil, err
		}
		list = append(list, o)
	}
	return list, nil
}

// Outcome is what a slip, or several at once, lead to with the question's own numbers.
func (p *Plan) Outcome(cases ...*Case) (o Outcome, err error) {
	defer caught(&err)
	r := p.Reckoner()
	if err := r.Take(p.Question); err != nil {
		return Outcome{}, err
	}
	r.Right()
	o.Values = make([]float64, len(p.Slots))
	r.record = &o.Lines
	r.touched = make([]bool, len(p.Slots))
	r.Wrong(o.Values, cases...)
	o.Shown = make([]string, len(p.Slots))
	for _, c := range cases {
		o.Cases = append(o.Cases, *c)
	}
	o.Hidden = true
	for i := range p.Slots {
		if math.IsInf(o.Values[i], 0) {
			o.Values[i] = math.NaN()
		}
		if r.touched[i] || !same(o.Values[i], r.right[i]) {
			o.Shown[i] = p.text(o.Values[i], p.Slots[i].Unit)
		}
		if p.Slots[i].Margin(o.Values[i], r.right[i]) >= 1 {
			o.Hidden = false
		}
	}
	return o, nil
}

// Pairs lists what two compatible slips at once lead to: two that fall on different things, neither of them a
// method of its own. In about one script in twenty there are two slips (common practice, no source).
func (p *Plan) Pairs() ([]Outcome, error) {
	var list []Outcome
	for i := range p.Cases {
		for j := i + 1; j < len(p.Cases); j++ {
			a, b := &p.Cases[i], &p.Cases[j]
			if !Compatible(a, b) {
				continue
			}
			o, err := p.Outcome(a, b)
			if err != nil {
				return nil, err
			}
			list = append(list, o)
		}
	}
	return list, nil
}

// Compatible reports whether one pupil could make both slips in one question.
func Compatible(a, b *Case) bool {
	if a.Slip.Name == b.Slip.Name || a.Slip.method || b.Slip.method || a.of >= 0 && a.of == b.of {
		return false
	}
	stage := func(s *Slip) int {
		switch {
		case s.line != nil:
			return 0
		case s.found != nil:
			return 1
		}
		return 2
	}
	// Two that change every arm, or two that change the same last value, are one slip, not two.
	if stage(&a.Slip) == stage(&b.Slip) && (a.of < 0 || b.of < 0) {
		return false
	}
	return a.Slip.Frequency > Rare && b.Slip.Frequency > Rare
}

// Margin is how far apart two answers to a slot are, in marking tolerances, whatever their signs: pupils give
// sizes. It is 0 where one of them is no number.
func (s *Slot) Margin(a, b float64) float64 {
	a, b = math.Abs(a), math.Abs(b)
	d := math.Abs(a - b)
	if !(d >= 0) || math.IsInf(d, 0) {
		return 0
	}
	return d / max(Tolerance*max(a, b), s.Floor, 1e-300)
}

// Margin is how far apart two lists of answers are, in marking tolerances: the most over all slots.
func (p *Plan) Margin(a, b []float64) float64 {
	most := 0.0
	for i := range p.Slots {
		most = max(most, p.Slots[i].Margin(a[i], b[i]))
	}
	return most
}

// Alike lists groups of outcomes, by number, that their answers cannot tell apart with these numbers. Each
// outcome is in one group at most: with those that it can't be told from.
func (p *Plan) Alike(list []Outcome) [][]int {
	group := make([]int, len(list))
	for i := range group {
		group[i] = i
	}
	for i := range list {
		for j := 0; j < i; j++ {
			if p.Margin(list[i].Values, list[j].Values) < 1 {
				group[i] = group[j]
				break
			}
		}
	}
	var out [][]int
	for i := range list {
		var g []int
		for j := range list {
			if group[j] == i {
				g = append(g, j)
			}
		}
		if len(g) > 1 {
			out = append(out, g)
		}
	}
	return out
}

// text rounds a value to three figures in the question's unit.
func (p *Plan) text(v float64, unit string) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "no number"
	}
	return answer.Round(v, answer.UnitFor(p.Question, answer.Dimension(unit)), 3, answer.Nearest)
}

// Shown writes a value of a slot in the question's unit, rounded to three figures.
func (p *Plan) Shown(v float64, slot int) string { return p.text(v, p.Slots[slot].Unit) }

func (p *Plan) shown(v float64, unit string) formula.Node {
	return formula.Upright(p.text(v, unit))
}

// Worked reports whether a slot's answer is worked out by equations here, so that slips can change it.
func (p *Plan) Worked(slot int) bool {
	f := p.parts[p.Slots[slot].part].finish
	return f != given && f != inWords
}

// Of reads a slot's right answer from the answers of a question of the same kind.
func (s *Slot) Of(a *answer.Answers) float64 {
	r := &a.Results[s.part]
	switch s.End {
	case "low":
		return r.Low
	case "high":
		return r.High
	}
	return r.Value
}

// Way says how the slot's answer is rounded: to the safe side where a part asks for a limit.
func (s *Slot) Way(a *answer.Answers) answer.Way {
	switch a.Results[s.part].Part.Ask {
	case question.AskLeast, question.AskLeastCoefficient:
		return answer.Up
	case question.AskGreatest:
		return answer.Down
	}
	return answer.Nearest
}
