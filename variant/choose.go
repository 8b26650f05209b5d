package variant

import (
	"fmt"
	"strings"

	"steelyard/answer"
)

// tries is how many candidates a pupil's stream of chance offers before the rest is gone through in order.
const tries = 24

// choose gives every pupil a candidate. The window of candidates that a pupil may get grows with the pupil's place
// in the list, so that nobody's numbers depend on how many come after.
func (j *judge) choose(pupils []string) *Result {
	res := &Result{Plan: j.plan, Never: j.nature.never, NeverSeen: j.nature.neverSeen, TooNarrow: j.narrow(), Examined: j.looked, judge: j}
	for i := range j.pool {
		if j.pool[i].hidden == 0 {
			res.Fit++
		}
	}
	used := map[string]bool{}
	var before []string
	again := 0
	for k, name := range pupils {
		c, fresh, near := j.pick(k, stream("pupil", j.text, j.seed, name), used, before)
		if c == nil {
			res.TooNarrow = append(res.TooNarrow, Narrow{Words: "no set of numbers in these ranges keeps the question what it is; narrow or move the ranges"})
			return res
		}
		v := j.variant(name, c)
		if v.Again, v.Near = !fresh, near; v.Again {
			again++
		}
		used[c.key()] = true
		before = c.shown
		res.Pupils = append(res.Pupils, v)
		if j.o.Progress != nil {
			j.o.Progress(k+1, len(pupils))
		}
	}
	hiding := 0
	for i := range res.Pupils {
		for _, h := range res.Pupils[i].Certificate.Hidden {
			if !j.nature.unseen[h.Case] && j.seen[h.Case] {
				hiding++
				break
			}
		}
	}
	if hiding > 0 && !j.o.Ordinary {
		res.TooNarrow = append(res.TooNarrow, Narrow{Words: fmt.Sprintf("the numbers in these ranges that show every slip give too few different answers, so the numbers of %d of %d pupils hide one; widen a range, take a smaller step or let one more number vary", hiding, len(pupils))})
	}
	if again > 0 {
		res.TooNarrow = append(res.TooNarrow, Narrow{Words: fmt.Sprintf("these ranges give only %d different sets of answers that do, for %d pupils: %d share theirs; widen a range, take a smaller step or let one more number vary", len(used), len(pupils), again)})
	}
	return res
}

// pick finds a candidate for the pupil at place k: with answers that nobody has had and, if it can be, with every
// answer different from the neighbour's.
func (j *judge) pick(k int, r interface{ IntN(int) int }, used map[string]bool, before []string) (c *candidate, fresh, near bool) {
	fit := j.fit()
	window := min(fit, max(32, (k+1)*5/4+16))
	var second, third *candidate
	try := func(i int) bool {
		x := &j.pool[i]
		j.show(x)
		free, next := !used[x.key()], beside(x.shown, before)
		better := free && !next || free && second == nil || third == nil || !next && beside(third.shown, before)
		if !better || !j.sound(x) { // the closer look takes time, so it comes last
			return false
		}
		free, next = !used[x.key()], beside(x.shown, before)
		switch {
		case free && !next:
			c = x
			return true
		case free && second == nil:
			second = x
		case third == nil || !next && beside(third.shown, before):
			third = x
		}
		return false
	}
	if window > 0 {
		for range tries {
			if try(r.IntN(window)) {
				return c, true, false
			}
		}
		start := r.IntN(window)
		for i := range window {
			if try((start + i) % window) {
				return c, true, false
			}
		}
	}
	for i := window; i < fit; i++ {
		if try(i) {
			return c, true, false
		}
	}
	if second != nil { // rather than hide a slip, let neighbours share the answer to a part
		return second, true, true
	}
	for i := fit; i < len(j.pool); i++ {
		if try(i) {
			return c, true, false
		}
	}
	if second != nil {
		return second, true, true
	}
	if third == nil {
		return nil, false, false
	}
	return third, false, beside(third.shown, before)
}

// fit is how many candidates hide as little as the best one does; those stand first.
func (j *judge) fit() int {
	if j.o.Ordinary || len(j.pool) == 0 {
		return len(j.pool)
	}
	n := 0
	for n < len(j.pool) && j.pool[n].hidden == j.pool[0].hidden {
		n++
	}
	return n
}

// key is what no two pupils share: the answers, or the numbers where no part has a number for an answer.
func (c *candidate) key() string {
	if len(c.shown) == 0 {
		return fmt.Sprint(c.point)
	}
	return strings.Join(c.shown, "|")
}

// beside reports whether two neighbours would share an answer in some part.
func beside(a, b []string) bool {
	for i := range b {
		if i < len(a) && a[i] == b[i] && a[i] != "" {
			return true
		}
	}
	return false
}

// sound looks closely at a candidate, once: the whole of package answer has to find the same state, the same
// supports in contact and the same limits, and the same answers as the quick way.
func (j *judge) sound(c *candidate) bool {
	if c.state != 0 {
		return c.state > 0
	}
	c.state = -1
	q := j.q.Clone()
	put(q, j.axes, c.point)
	a, err := answer.Solve(q)
	if err != nil || !kindOf(a).same(j.base) || !j.reckon(q) {
		return false
	}
	for _, s := range j.slots {
		want := j.plan.Slots[s].Of(a)
		if d := j.right[s] - want; !(d*d <= 1e-12*want*want+1e-18) {
			return false
		}
	}
	c.state, c.question, c.answers = 1, q, a
	for i := range j.plan.Slots {
		if c.shown[i] == "" {
			c.shown[i] = j.round(i, j.plan.Slots[i].Of(a))
		}
	}
	return true
}

// show writes the answers that the quick way gives.
func (j *judge) show(c *candidate) {
	if c.shown != nil {
		return
	}
	c.shown = make([]string, len(j.plan.Slots))
	for _, s := range j.slots {
		c.shown[s] = j.round(s, c.right[s])
	}
}

func (j *judge) round(slot int, v float64) string {
	s := &j.plan.Slots[slot]
	return answer.Round(v, answer.UnitFor(j.q, answer.Dimension(s.Unit)), j.figures[slot], s.Way(j.plan.Answers))
}

// variant makes a pupil's question.
func (j *judge) variant(name string, c *candidate) Variant {
	v := Variant{Name: name, Question: c.question, Answers: c.answers, Shown: c.shown}
	for i, x := range j.axes {
		v.Numbers = append(v.Numbers, Number{x.thing, x.attribute, x.values[c.point[i]].String()})
	}
	j.take(c.point)
	v.Certificate = j.certify(name, v.Numbers)
	return v
}
