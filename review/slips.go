package review

import (
	"fmt"
	"math"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/slip"
	"steelyard/solution"
)

// slips finds wrong methods that lead to a right answer with these numbers. Rare slips are passed over.
func slips(a *answer.Answers, s *solution.Solution) question.Faults {
	if !stands(a) {
		return nil
	}
	plan, err := slip.NewPlan(a, s)
	if err != nil {
		return nil
	}
	outcomes, err := plan.Outcomes()
	if err != nil {
		return nil
	}
	var out question.Faults
	for i := range outcomes {
		o := &outcomes[i]
		c := o.Cases[0]
		if c.Slip.Frequency == slip.Rare {
			continue
		}
		if part, ok := passes(plan, o, &c); ok && !byNature(plan, &c) {
			out = append(out, question.Fault{Span: spanOf(a.Layout.Question, part),
				What: fmt.Sprintf("part %s: the right answer can be had by a wrong method: %s%s", part, c.Slip.Title, of(&c)),
				Mend: "move a load or a support, so that the slip shows"})
		}
	}
	return append(out, alike(plan, outcomes)...)
}

// mostAlike is how many pairs of slips are named that the answers can't tell apart.
const mostAlike = 5

// alike finds common slips that lead to the same answers with these numbers, though with others they would not.
func alike(plan *slip.Plan, outcomes []slip.Outcome) question.Faults {
	var out question.Faults
	for i := range outcomes {
		for j := i + 1; j < len(outcomes); j++ {
			a, b := outcomes[i].Cases[0], outcomes[j].Cases[0]
			if a.Slip.Name == b.Slip.Name || a.Slip.Frequency != slip.Common || b.Slip.Frequency != slip.Common ||
				plan.Margin(outcomes[i].Values, outcomes[j].Values) > 1 || sameByNature(plan, &a, &b) {
				continue
			}
			if out = append(out, question.Fault{
				What: fmt.Sprintf("the answers cannot tell two slips apart: %s%s; and: %s%s", a.Slip.Title, of(&a), b.Slip.Title, of(&b)),
				Mend: "change a number, or mark the working too"}); len(out) == mostAlike {
				return out
			}
		}
	}
	return out
}

// byNature reports whether a slip passes as right whatever the numbers are, such as one about a sign in a
// part that asks for a size: with other numbers for everything that is given, it still does.
func byNature(p *slip.Plan, c *slip.Case) bool {
	wrong := make([]float64, len(p.Slots))
	return always(p, func(r *slip.Reckoner, right []float64) bool {
		r.Wrong(wrong, c)
		// Not the very same number: the numbers decide.
		return !apart(p, c, right, wrong)
	})
}

// sameByNature reports whether two slips lead to the same answers whatever the numbers are.
func sameByNature(p *slip.Plan, a, b *slip.Case) bool {
	x, y := make([]float64, len(p.Slots)), make([]float64, len(p.Slots))
	return always(p, func(r *slip.Reckoner, _ []float64) bool {
		r.Wrong(x, a)
		r.Wrong(y, b)
		return !apart(p, a, x, y) && !apart(p, b, x, y)
	})
}

// apart reports whether two lists of answers differ where a case touches them. Signs don't count: pupils give sizes.
func apart(p *slip.Plan, c *slip.Case, x, y []float64) bool {
	for i := range p.Slots {
		if c.Touches[i] && !math.IsNaN(x[i]) && differ(math.Abs(x[i]), math.Abs(y[i])) {
			return true
		}
	}
	return false
}

// always reports whether something holds for a few sets of numbers near the question's own.
func always(p *slip.Plan, holds func(r *slip.Reckoner, right []float64) bool) bool {
	r := p.Reckoner()
	for probe := range 6 {
		q := p.Question.Clone()
		for i, n := range q.Numbers() {
			v := q.Value(n.Thing, n.Attribute)
			// A few per cent up or down, another way for each number and each probe.
			factor := 1 + 0.01*float64((7*i+11*probe)%9-4)
			v.Quantity = quantity.Of(v.SI()*factor, v.Unit)
		}
		if r.Take(q) == nil && !holds(r, r.Right()) {
			return false
		}
	}
	return true
}

// passes reports whether a slip leaves every answer that it touches within the marking tolerance of the right one.
func passes(p *slip.Plan, o *slip.Outcome, c *slip.Case) (part string, ok bool) {
	for i := range p.Slots {
		if !c.Touches[i] {
			continue
		}
		if math.IsNaN(o.Values[i]) || p.Slots[i].Margin(o.Values[i], p.Slots[i].Right) > 1 {
			return "", false
		}
		if part == "" {
			part = p.Slots[i].Part
		}
	}
	return part, part != ""
}

func of(c *slip.Case) string {
	if c.Of == "" {
		return ""
	}
	return " (" + c.Of + ")"
}

func spanOf(q *question.Question, part string) question.Span {
	if p := q.Part(part); p != nil {
		return p.Span
	}
	return question.Span{}
}
