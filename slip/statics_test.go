package slip

import (
	"math"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
)

// Some slips are right answers to another question: a bar without its weight, without one of its loads, with a load
// somewhere else. Package statics, which knows nothing of routes and slips, solves that question.
var otherQuestions = map[string]func(q *question.Question, p *Plan, of string) bool{
	"weight-left-out": func(q *question.Question, p *Plan, of string) bool {
		b := q.Body(of)
		if b == nil {
			return false
		}
		b.Light, b.Uniform, b.Weight, b.Mass, b.Centre = true, false, question.Value{}, question.Value{}, question.Place{}
		return true
	},
	"load-left-out": func(q *question.Question, p *Plan, of string) bool {
		for i := range q.Loads {
			if q.Loads[i].Name == of {
				q.Loads = append(q.Loads[:i:i], q.Loads[i+1:]...)
				return true
			}
		}
		return false
	},
	"counted-from-other-end": func(q *question.Question, p *Plan, of string) bool {
		d := q.Load(of)
		if d == nil || d.Kind == question.Spread {
			return false
		}
		l := p.Answers.Layout
		b := &l.Bodies[l.LoadNamed(of).On]
		at(&d.On, b.FromZero(b.Length-b.Distance(l.LoadNamed(of).At)))
		return true
	},
	"midway-between-supports": func(q *question.Question, p *Plan, of string) bool {
		b := q.Body(of)
		if b == nil || p.two == nil {
			return false
		}
		m := 0.0
		for i := range p.Answers.Layout.Supports {
			m += p.Answers.Layout.Bodies[0].Distance(p.Answers.Layout.Supports[i].At) / 2
		}
		b.Uniform = false
		b.Centre.Body = of
		at(&b.Centre, p.Answers.Layout.Bodies[0].FromZero(m))
		return true
	},
	"times-g-again": func(q *question.Question, p *Plan, of string) bool {
		g := p.Answers.Layout.Field
		if b := q.Body(of); b != nil && b.Weight.Known() {
			b.Weight.Quantity = quantity.Of(b.Weight.SI()*g, b.Weight.Unit)
			return true
		}
		if d := q.Load(of); d != nil && d.Weight.Known() {
			d.Weight.Quantity = quantity.Of(d.Weight.SI()*g, d.Weight.Unit)
			return true
		}
		return false
	},
	"one-mass-as-force": func(q *question.Question, p *Plan, of string) bool {
		newton, _ := quantity.UnitNamed("N")
		if b := q.Body(of); b != nil && b.Mass.Known() {
			b.Weight, b.Mass = question.Value{Quantity: quantity.Of(b.Mass.SI(), newton), Status: question.Given}, question.Value{}
			return true
		}
		if d := q.Load(of); d != nil && d.Mass.Known() && d.Kind == question.Weight {
			d.Weight, d.Mass = question.Value{Quantity: quantity.Of(d.Mass.SI(), newton), Status: question.Given}, question.Value{}
			return true
		}
		return false
	},
}

func at(p *question.Place, metres float64) {
	u, _ := quantity.UnitNamed("m")
	*p = question.Place{Body: p.Body, At: question.Value{Quantity: quantity.Of(metres, u), Status: question.Given}}
}

func TestSlipsAreOtherQuestions(t *testing.T) {
	compared := 0
	fs := files(t)
	for name, text := range bases {
		fs[name] = parse(t, text)
	}
	for name, q := range fs {
		p, _, err := Make(q)
		if err != nil {
			t.Fatal(name, err)
		}
		if len(p.Answers.Layout.Bodies) != 1 || len(q.Conditions) > 0 || len(p.scenes[0].angles) > 0 {
			continue
		}
		for i := range p.Cases {
			c := &p.Cases[i]
			change := otherQuestions[c.Slip.Name]
			if change == nil {
				continue
			}
			f := p.scenes[0].forces[c.of]
			other := q.Clone()
			if f.Size >= 0 || !change(other, p, f.Name) {
				continue
			}
			other.Parts = nil
			for k := range q.Parts { // what is asked of the forces, in equilibrium
				switch q.Parts[k].Ask {
				case question.AskForce, question.AskForceOn, question.AskAcross, question.AskUpright:
					other.Parts = append(other.Parts, q.Parts[k])
				}
			}
			for k := range other.Supports { // a pupil's wrong answer may be a pull
				if other.Supports[k].Kind == question.Rest {
					other.Supports[k].Kind = question.Strap
				}
			}
			a, err := answer.Solve(other)
			if err != nil { // a reading that is given contradicts it: no question of its own
				continue
			}
			o, err := p.Outcome(c)
			if err != nil {
				t.Fatal(err)
			}
			for k := range a.Results {
				for s := range p.Slots {
					r := &a.Results[k]
					if p.Slots[s].Part != r.Part.Name || math.IsNaN(r.Value) || !p.Worked(s) {
						continue
					}
					compared++
					if got, want := math.Abs(o.Values[s]), math.Abs(r.Value); !(math.Abs(got-want) <= 1e-8*want+1e-8) {
						var lines []string
						for _, l := range o.Lines {
							lines = append(lines, l.Plain())
						}
						t.Errorf("%s, %s, part (%s): %v, but statics says %v\n%s", name, c.Name(), r.Part.Name, got, want, strings.Join(lines, "\n"))
					}
				}
			}
		}
	}
	t.Logf("%d wrong answers compared", compared)
	if compared < 100 {
		t.Errorf("only %d wrong answers compared", compared)
	}
}
