package variant

import (
	"cmp"
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/question"
	"steelyard/slip"
	"steelyard/statics"
)

// A judge examines candidates for one question.
type judge struct {
	o       Options
	seed    string
	text    string
	q       *question.Question
	plan    *slip.Plan
	axes    []axis
	work    *question.Question // a copy, whose numbers are changed in place
	values  []*question.Value  // of the axes, in work
	r       *slip.Reckoner
	right   []float64   // of the candidate in hand
	wrong   [][]float64 // by case
	pool    []candidate
	nature  nature
	figures []int     // by slot
	scale   []float64 // by slot: from SI to the question's unit
	given   []float64
	printed []*question.Value
	shares  *shares
	base    kind
	slots   []int  // those that slips can change
	ever    []bool // by pair of nature.pairs: whether some candidate tells them apart
	seen    []bool // by case: whether some candidate brings it far enough from the right answer
	looked  int
	order   []float64 // where things stand along their bodies, with the question's own numbers
	on      []int     // which body each stands on
}

// A candidate is a set of numbers that passed.
type candidate struct {
	point    []int
	right    []float64
	hidden   float64 // weight of the slips that lie too near the right answer
	alike    float64 // weight of the pairs that can't be told apart
	untidy   float64
	question *question.Question // once it has been looked at closely
	answers  *answer.Answers
	state    int8     // 0: not looked at closely; 1: of the same kind; −1: not
	shown    []string // the answers, rounded; "" where only a closer look gives one
}

// kind is what must stay the same.
type kind struct {
	state  statics.State
	signs  []int8 // of the right answers
	giving []string
	forces []int8 // by support: whether it pushes, pulls or does nothing
}

func newJudge(q *question.Question, seed string, o Options) (*judge, error) {
	if o.Most <= 0 {
		o.Most = 8000
	}
	plan, _, err := slip.Make(q)
	if err != nil {
		return nil, err
	}
	j := &judge{o: o, seed: seed, text: q.String(), q: q, plan: plan, work: q.Clone(), r: plan.Reckoner()}
	if j.axes, err = grid(q); err != nil {
		return nil, err
	}
	for _, x := range j.axes {
		j.values = append(j.values, j.work.Value(x.thing, x.attribute))
	}
	for i := range plan.Slots {
		j.scale = append(j.scale, inUnit(q, 1, plan.Slots[i].Unit))
		j.figures = append(j.figures, answer.Figures(q, q.Part(plan.Slots[i].Part)))
	}
	for range plan.Cases {
		j.wrong = append(j.wrong, make([]float64, len(plan.Slots)))
	}
	j.right = make([]float64, len(plan.Slots))
	for i := range plan.Slots {
		if plan.Worked(i) {
			j.slots = append(j.slots, i)
		}
	}
	j.base = kindOf(plan.Answers)
	j.nature = j.probe()
	j.ever, j.seen = make([]bool, len(j.nature.pairs)), make([]bool, len(plan.Cases))
	j.examine()
	return j, nil
}

func kindOf(a *answer.Answers) kind {
	k := kind{state: a.State}
	sign := func(v float64) int8 {
		switch {
		case v > 1e-9:
			return 1
		case v < -1e-9:
			return -1
		}
		return 0
	}
	for i := range a.Results {
		r := &a.Results[i]
		k.signs = append(k.signs, sign(r.Value))
		k.giving = append(k.giving, r.Giving...)
		k.giving = append(k.giving, "")
	}
	for i := range a.Forces {
		k.forces = append(k.forces, sign(a.Forces[i].N+a.Forces[i].Y))
	}
	return k
}

func (k kind) same(l kind) bool {
	return k.state == l.state && slices.Equal(k.signs, l.signs) && slices.Equal(k.giving, l.giving) && slices.Equal(k.forces, l.forces)
}

// take works out the right and the wrong answers with a set of numbers; it reports whether there are any.
func (j *judge) take(point []int) bool {
	for i, v := range j.values {
		v.Quantity = j.axes[i].values[point[i]]
	}
	return j.reckon(j.work)
}

func (j *judge) reckon(q *question.Question) bool {
	if j.r.Take(q) != nil {
		return false
	}
	copy(j.right, j.r.Right())
	for _, s := range j.slots {
		if v := j.right[s]; math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	for i := range j.wrong {
		j.r.Wrong(j.wrong[i], &j.plan.Cases[i])
	}
	return true
}

// margin is how far apart two lists of answers are: the most over all parts.
func (j *judge) margin(a, b []float64) float64 {
	most := 0.0
	for _, s := range j.slots {
		if m := j.plan.Slots[s].Margin(a[s], b[s]); m > most {
			most = m
		}
	}
	return most
}

// apart reports whether two lists of answers differ by at least m tolerances in some part.
func (j *judge) apart(a, b []float64, m float64) bool {
	for _, s := range j.slots {
		if j.plan.Slots[s].Margin(a[s], b[s]) >= m {
			return true
		}
	}
	return false
}

// examine goes through the candidates and keeps those of the same kind, the best first.
func (j *judge) examine() {
	for _, p := range points(j.axes, j.o.Most, stream("grid", j.text, j.seed)) {
		j.looked++
		if !j.take(p) || !j.likeBase() {
			continue
		}
		untidy, ok := j.untidy()
		if !ok && !j.o.Ordinary {
			continue
		}
		c := candidate{point: p, right: slices.Clone(j.right), untidy: steady(untidy)}
		if !j.o.Ordinary {
			c.hidden, c.alike = j.score()
		}
		j.pool = append(j.pool, c)
	}
	if j.o.Ordinary {
		return
	}
	// Among equals, the seed decides: another class gets other numbers.
	r := stream("order", j.text, j.seed)
	r.Shuffle(len(j.pool), func(a, b int) { j.pool[a], j.pool[b] = j.pool[b], j.pool[a] })
	slices.SortStableFunc(j.pool, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(a.hidden, b.hidden), cmp.Compare(a.alike+a.untidy, b.alike+b.untidy))
	})
}

// likeBase is a quick look whether the question stays what it is.
func (j *judge) likeBase() bool {
	for _, s := range j.slots {
		v, w := j.right[s], j.plan.Slots[s].Right
		if math.Signbit(v) != math.Signbit(w) && math.Abs(w) > 1e-9 || math.Abs(w) <= 1e-9 && math.Abs(v) > 1e-9 {
			return false
		}
	}
	return true
}

// score adds up the weights of the slips that these numbers hide and of the pairs that they can't tell apart.
func (j *judge) score() (hidden, alike float64) {
	cases := j.plan.Cases
	for i := range cases {
		switch {
		case j.nature.unseen[i]:
		case j.apart(j.wrong[i], j.right, Enough):
			j.seen[i] = true
		default:
			hidden += cases[i].Slip.Frequency.Weight()
		}
	}
	for k, p := range j.nature.pairs {
		if j.apart(j.wrong[p.A], j.wrong[p.B], 1) {
			j.ever[k] = true
		} else {
			alike += cases[p.A].Slip.Frequency.Weight() * cases[p.B].Slip.Frequency.Weight() / 144
		}
	}
	return steady(hidden), steady(alike)
}
