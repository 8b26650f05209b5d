package variant

import (
	"math"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
)

// Tidiness, by the habits of the trade (common practice, no source): an answer is not near a rounding tie nor a
// number printed in the question, it does not recur where pupils are young, the two supports' forces differ by
// 15 %, and neither is within 5 % of lifting unless the question is about that.

// untidy says how untidy the candidate in hand is; false refuses it.
func (j *judge) untidy() (float64, bool) {
	sum := 0.0
	young := j.q.Level == "14-16"
	for _, s := range j.slots {
		v := math.Abs(j.right[s] * j.scale[s])
		if v < 1e-12 {
			continue
		}
		figures := j.figures[s]
		scaled := v * math.Pow(10, float64(figures-1)-math.Floor(math.Log10(v)))
		rest := math.Abs(scaled - math.Floor(scaled) - 0.5)
		exact := math.Abs(scaled-math.Round(scaled)) < 1e-6*scaled
		if rest < 0.03 { // too near a tie: rounded on the way, it goes the other way
			return 0, false
		}
		if j.o.Exact > 0 {
			at := v * math.Pow(10, float64(j.o.Exact-1)-math.Floor(math.Log10(v)))
			if math.Abs(at-math.Round(at)) > 1e-6*at {
				return 0, false
			}
		}
		switch {
		case !exact && young:
			sum += 1
		case !exact:
			sum += 0.1
		}
		for _, g := range j.numbers() {
			if math.Abs(g-v) <= 1e-9*v {
				sum += 0.5
			}
		}
	}
	p, q, ok := j.r.Shares()
	if !ok {
		return sum, true
	}
	bp, bq, _ := j.basis()
	differ := func(p, q float64) bool { return math.Abs(p-q) >= 0.15*max(math.Abs(p), math.Abs(q)) }
	near := func(p, q float64) bool { return min(math.Abs(p), math.Abs(q)) < 0.05*(math.Abs(p)+math.Abs(q)) }
	if differ(bp, bq) && !differ(p, q) || !near(bp, bq) && near(p, q) {
		return 0, false
	}
	return sum, p > 0 == (bp > 0) && q > 0 == (bq > 0)
}

// basis is the forces of the two supports with the question's own numbers.
func (j *judge) basis() (p, q float64, ok bool) {
	if j.shares == nil {
		r := j.plan.Reckoner()
		if r.Take(j.q) == nil {
			p, q, ok := r.Shares()
			j.shares = &shares{p, q, ok}
		} else {
			j.shares = &shares{}
		}
	}
	return j.shares.p, j.shares.q, j.shares.ok
}

type shares struct {
	p, q float64
	ok   bool
}

// numbers are those printed in the question, in its units.
func (j *judge) numbers() []float64 {
	if j.given == nil {
		for _, n := range j.work.Numbers() {
			j.printed = append(j.printed, j.work.Value(n.Thing, n.Attribute))
		}
		j.given = make([]float64, len(j.printed))
	}
	for i, v := range j.printed {
		j.given[i] = v.Value
	}
	return j.given
}

func inUnit(q *question.Question, v float64, unit string) float64 {
	return quantity.Of(v, answer.UnitFor(q, answer.Dimension(unit))).Value
}
