package mark

import (
	"fmt"
	"math"
	"strings"
	"sync"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/slip"
	"steelyard/solution"
)

// A partKey is what marking needs to know of one part.
type partKey struct {
	*question.Part
	result  *answer.Result
	slots   []int // of the plan
	scheme  []solution.Mark
	figures int             // as the answer is given
	unit    quantity.Unit   // of the question, for a number without a unit
	points  map[string]bool // plain directions that the right answer has: "up", "left", "clockwise"
	against bool            // it points against what is usual there, as a support that pulls down
	stated  bool            // the direction has to be stated
	method  bool            // the scheme has a mark for a method
	printed float64         // of a "show that", SI; NaN if none
}

// An outcome is what a slip leads to, with whether it shows in lines.
type outcome struct {
	*slip.Outcome
	name  string
	of    string
	lines map[string]bool // parts where a line of working is wrong
	h     int             // number of its slip among the key's names
}

// A prior is a slip with how common it is.
type prior struct {
	name   string
	weight float64
}

// NewKey makes a question ready for marking. The question is solved; an error says what is wrong with it.
func NewKey(q *question.Question, p Policy) (k *Key, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			k, err = nil, fmt.Errorf("making the key of %q: the program has a fault (%v); please report this question", q.Title, fault)
		}
	}()
	plan, sol, err := slip.Make(q)
	if err != nil {
		return nil, err
	}
	k = &Key{Question: q, Answers: plan.Answers, Solution: sol, Plan: plan, Policy: p}
	list, err := plan.Outcomes()
	if err != nil {
		return nil, err
	}
	for i := range list {
		o := outcome{Outcome: &list[i], name: list[i].Cases[0].Slip.Name, of: list[i].Cases[0].Of}
		for _, l := range list[i].Lines {
			if l.Move < 0 && l.Changed == nil || o.lines[l.Part] {
				continue
			}
			if o.lines == nil {
				o.lines = map[string]bool{}
			}
			o.lines[l.Part] = true
		}
		if n := len(k.names); n == 0 || k.names[n-1].name != o.name {
			k.names = append(k.names, prior{o.name, list[i].Cases[0].Slip.Frequency.Weight()})
		}
		o.h = len(k.names) - 1
		k.outcomes = append(k.outcomes, o)
	}
	ways, err := plan.Ways(sol)
	if err != nil {
		return nil, err
	}
	k.ways = append([]*slip.Plan{plan}, ways...)
	k.pool = &sync.Pool{New: func() any { return k.newFollower() }}
	for i := range q.Parts {
		k.parts = append(k.parts, k.newPart(i))
	}
	k.judge = newJudge(k.Answers)
	return k, nil
}

func (k *Key) newPart(i int) partKey {
	q := k.Question
	x := partKey{Part: &q.Parts[i], result: &k.Answers.Results[i], printed: math.NaN()}
	for s := range k.Plan.Slots {
		if k.Plan.Slots[s].Part == x.Name {
			x.slots = append(x.slots, s)
		}
	}
	if w := &k.Solution.Parts[i]; len(w.Routes) > 0 {
		for _, s := range w.Routes[0].Steps {
			for _, l := range s.Lines {
				x.scheme = append(x.scheme, l.Marks...)
			}
		}
	}
	for _, m := range x.scheme {
		x.method = x.method || m.Code[0] == 'M'
	}
	x.figures = answer.Figures(q, x.Part)
	x.unit = answer.UnitFor(q, answer.Dimension(x.result.Unit))
	if x.Show.Known() {
		x.printed = x.Show.SI()
	}
	x.points = pointing(x.result.Shown)
	down := x.points["down"]
	switch x.Ask {
	case question.AskForce, question.AskUpright, question.AskSize:
		x.against = down && x.Ask != question.AskSize && len(x.points) == 1
	case question.AskForceOn:
		x.stated = true
	}
	text := strings.ToLower(x.Text)
	x.stated = x.stated || x.against || strings.Contains(text, "direction") || x.Ask == question.AskForce && strings.Contains(text, "angle")
	if len(x.points) == 0 {
		x.stated = false
	}
	return x
}

// pointing finds the plain directions in the words of an answer.
func pointing(shown string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.FieldsFunc(shown, func(r rune) bool { return r == ' ' || r == ',' }) {
		switch w {
		case "up", "down", "left", "right", "clockwise", "anticlockwise":
			m[w] = true
		case "above":
			m["up"] = true
		case "below":
			m["down"] = true
		}
	}
	if strings.Contains(shown, "acting") || strings.Contains(shown, "-hand end") || strings.Contains(shown, "from the") && !strings.Contains(shown, "°") {
		delete(m, "left")
		delete(m, "right")
	}
	return m
}

// opposite of a plain direction.
var opposite = map[string]string{
	"up": "down", "down": "up", "left": "right", "right": "left",
	"clockwise": "anticlockwise", "anticlockwise": "clockwise",
}

// Part returns the number of the part of that name, written "a", "A", "(a)" or "a)"; −1 if there is none.
func (k *Key) Part(name string) int {
	name = strings.ToLower(strings.Trim(strings.TrimSpace(name), "().: "))
	name = strings.TrimSpace(strings.TrimPrefix(name, "part "))
	for i := range k.parts {
		if k.parts[i].Name == name {
			return i
		}
	}
	return -1
}

// Scheme lists the marks of a part, in order.
func (k *Key) Scheme(part int) []solution.Mark { return k.parts[part].scheme }

// Outcomes lists what each slip leads to with this key's numbers.
func (k *Key) Outcomes() []*slip.Outcome {
	list := make([]*slip.Outcome, len(k.outcomes))
	for i := range k.outcomes {
		list[i] = k.outcomes[i].Outcome
	}
	return list
}

// A Ring keeps the keys of a set, so that pupils with the same numbers share one. The zero Ring is ready; it may
// be used by several goroutines at once.
type Ring struct {
	Policy Policy
	mu     sync.Mutex
	keys   map[string]*Key
}

// Key is the key of a question with a pupil's own numbers.
func (r *Ring) Key(q *question.Question) (*Key, error) {
	name := q.String()
	r.mu.Lock()
	k := r.keys[name]
	r.mu.Unlock()
	if k != nil {
		return k, nil
	}
	k, err := NewKey(q, r.Policy)
	if err != nil {
		return nil, err
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.keys == nil {
		r.keys = map[string]*Key{}
	}
	r.keys[name] = k
	return k, nil
}
