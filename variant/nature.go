package variant

import (
	"fmt"
	"math"

	"steelyard/quantity"
	"steelyard/question"
	"steelyard/slip"
)

// nature is what no numbers can change: found by trying many sets of numbers far beyond the ranges.
type nature struct {
	pairs     []Pair // of different slips that some numbers tell apart
	never     []Pair // of different slips that none of many sets of numbers tells apart
	unseen    []bool // by case: no numbers bring it far enough from the right answer
	neverSeen []Hidden
	probes    int
}

const probes = 96

// probe varies every number of the question at random, by up to 30 %, by less where the question doesn't stay
// what it is: the same picture, with things in the same order along each body.
func (j *judge) probe() nature {
	r := stream("probe", j.text)
	cases := j.plan.Cases
	n := len(cases)
	most := make([]float64, n*n)
	best := make([]float64, n)
	nat := nature{unseen: make([]bool, n)}
	numbers := j.plan.FreeNumbers()
	if j.r.Take(j.q) == nil {
		j.order, j.on = j.r.Places()
	}
	for try := 0; try < 8*probes && nat.probes < probes; try++ {
		q := j.q.Clone()
		reach := 0.3 / float64(1+try/(2*probes))
		for _, x := range numbers {
			shift(q, x, 1+reach*(2*r.Float64()-1))
		}
		if !j.reckon(q) || !j.likeBase() || !j.samePicture() {
			continue
		}
		nat.probes++
		for a := range n {
			best[a] = max(best[a], j.margin(j.wrong[a], j.right))
			for b := a + 1; b < n; b++ {
				if cases[a].Slip.Name != cases[b].Slip.Name && most[a*n+b] < 1 {
					most[a*n+b] = max(most[a*n+b], j.margin(j.wrong[a], j.wrong[b]))
				}
			}
		}
	}
	for a := range n {
		if best[a] < Enough {
			nat.unseen[a] = true
			nat.neverSeen = append(nat.neverSeen, Hidden{a, best[a]})
		}
		for b := a + 1; b < n; b++ {
			switch {
			case cases[a].Slip.Name == cases[b].Slip.Name:
			case most[a*n+b] < 1:
				nat.never = append(nat.never, Pair{a, b})
			default:
				nat.pairs = append(nat.pairs, Pair{a, b})
			}
		}
	}
	return nat
}

// samePicture reports whether things stand in the same order along each body as with the question's own numbers;
// things at one place there may part either way.
func (j *judge) samePicture() bool {
	if !j.r.SameSlants() {
		return false
	}
	places, _ := j.r.Places()
	for a := range places {
		for b := range a {
			if j.on[a] != j.on[b] {
				continue
			}
			was, is := j.order[a]-j.order[b], places[a]-places[b]
			if was > 1e-9 && is < 1e-9 || was < -1e-9 && is > -1e-9 {
				return false
			}
		}
	}
	return true
}

// shift multiplies a number of a question.
func shift(q *question.Question, x question.Number, by float64) {
	if v := q.Value(x.Thing, x.Attribute); v != nil {
		v.Quantity = quantity.Of(v.SI()*by, v.Unit)
	}
}

// narrow says what no candidate does, and which number to widen for it.
func (j *judge) narrow() []Narrow {
	var want []Narrow
	for i := range j.plan.Cases {
		if !j.seen[i] && !j.nature.unseen[i] {
			want = append(want, Narrow{Cases: []int{i}})
		}
	}
	for k, p := range j.nature.pairs {
		if !j.ever[k] {
			want = append(want, Narrow{Cases: []int{p.A, p.B}})
		}
	}
	if len(want) == 0 || j.o.Ordinary {
		return nil
	}
	gain := make([]float64, len(want))
	for _, x := range j.q.Numbers() {
		for _, by := range []float64{0.8, 0.9, 1.1, 1.2} {
			q := j.q.Clone()
			shift(q, x, by)
			if !j.reckon(q) || !j.likeBase() || !j.samePicture() {
				continue
			}
			for k := range want {
				w := &want[k]
				m := j.margin(j.wrong[w.Cases[0]], j.right) / Enough
				if len(w.Cases) == 2 {
					m = j.margin(j.wrong[w.Cases[0]], j.wrong[w.Cases[1]])
				}
				if m = steady(m); m >= 1 && m > gain[k] {
					gain[k], w.Thing, w.Attribute = m, x.Thing, x.Attribute
				}
			}
		}
	}
	for k := range want {
		want[k].Words = j.advice(&want[k])
	}
	return want
}

// advice says in a sentence what to widen.
func (j *judge) advice(w *Narrow) string {
	c := j.plan.Cases
	words := fmt.Sprintf("within these ranges %q gives an answer that passes as right", c[w.Cases[0]].Name())
	if len(w.Cases) == 2 {
		words = fmt.Sprintf("within these ranges %q and %q give the same answers", c[w.Cases[0]].Name(), c[w.Cases[1]].Name())
	}
	if m := j.midway(); m != "" && (involves(c, w, "midway-between-supports") || involves(c, w, "equal-shares")) {
		words += ": " + m
	}
	if w.Thing == "" {
		return words + "; no single number alone parts them: let two vary together"
	}
	for i := range j.axes {
		x := &j.axes[i]
		if x.thing == w.Thing && x.attribute == w.Attribute {
			n := len(x.values)
			return words + fmt.Sprintf("; widen the range of %s.%s, now %s to %s", w.Thing, w.Attribute, x.values[0], x.values[n-1])
		}
	}
	return words + fmt.Sprintf("; let %s.%s vary too, or give it another value", w.Thing, w.Attribute)
}

func involves(c []slip.Case, w *Narrow, name string) bool {
	for _, i := range w.Cases {
		if c[i].Slip.Name == name {
			return true
		}
	}
	return false
}

// midway says so where a body's weight acts halfway between two supports.
func (j *judge) midway() string {
	l := j.plan.Answers.Layout
	if len(l.Bodies) != 1 || len(l.Supports) != 2 {
		return ""
	}
	b := &l.Bodies[0]
	p, q := b.Distance(l.Supports[0].At), b.Distance(l.Supports[1].At)
	if math.Abs(b.Along-(p+q)/2) > 0.02*b.Length {
		return ""
	}
	return fmt.Sprintf("the weight acts midway between %s and %s, so move one of them", l.Supports[0].Name, l.Supports[1].Name)
}
