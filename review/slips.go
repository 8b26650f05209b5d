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
	return out
}

// byNature reports whether a slip passes as right whatever the numbers are, such as one about a sign in a
// part that asks for a size: with other numbers for everything that is given, it still does.
func byNature(p *slip.Plan, c *slip.Case) bool {
	r := p.Reckoner()
	wrong := make([]float64, len(p.Slots))
	for probe := range 6 {
		q := p.Question.Clone()
		for i, n := range q.Numbers() {
			v := q.Value(n.Thing, n.Attribute)
			// A few per cent up or down, another way for each number and each probe.
			factor := 1 + 0.01*float64((7*i+11*probe)%9-4)
			v.Quantity = quantity.Of(v.SI()*factor, v.Unit)
		}
		if r.Take(q) != nil {
			continue
		}
		right := r.Right()
		r.Wrong(wrong, c)
		for i := range p.Slots {
			// Not within the tolerance, or no longer the very same number: the numbers decide.
			if c.Touches[i] && !math.IsNaN(right[i]) && differ(math.Abs(right[i]), math.Abs(wrong[i])) {
				return false
			}
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
