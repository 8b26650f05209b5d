package show

import (
	"slices"
	"strings"

	"steelyard/answer"
	"steelyard/figure"
	"steelyard/formula"
	"steelyard/question"
	"steelyard/solution"
)

// route explains the route of a part that is shown first.
func (m *maker) route(p *solution.Worked, r *solution.Route, res *answer.Result) {
	first := len(m.t.Steps)
	workings := r.Ends
	if r.Working != nil {
		workings = []*solution.Working{r.Working}
	}
	var words []solution.Step
	for i := 0; i < len(r.Steps); {
		e := r.Steps[i].Equation
		w := workingOf(workings, e)
		if e == nil || w == nil {
			words = append(words, r.Steps[i])
			i++
			continue
		}
		end := i
		for end < len(r.Steps) && r.Steps[end].Equation == e {
			end++
		}
		m.inWords(words, res, w, false)
		words = nil
		m.equation(w, e, r.Steps[i:end])
		i = end
	}
	last := (*solution.Working)(nil)
	if len(workings) > 0 {
		last = workings[len(workings)-1]
	}
	m.inWords(words, res, last, true)
	m.conclude(p, res, first)
}

// workingOf is the working that an equation belongs to.
func workingOf(list []*solution.Working, e *solution.Equation) *solution.Working {
	for _, w := range list {
		if w == nil {
			continue
		}
		for _, v := range w.Moves {
			if v.Equation == e || v.With == e && e != nil {
				return w
			}
		}
	}
	return nil
}

// conclude ends a part with its answer in words.
func (m *maker) conclude(p *solution.Worked, res *answer.Result, first int) {
	if len(m.t.Steps) == first {
		return
	}
	s := &m.t.Steps[len(m.t.Steps)-1]
	if s.Kind != Reaction {
		s.Kind = Result
	}
	s.Sum = true
	if b := m.a.Layout.BodyNamed(res.Part.Thing); b != nil && res.Part.Ask == question.AskAngle && m.t.scenes[s.scene].o.View == figure.Sketch { // a sketch stands at some other angle
		s.scene, s.stage = m.diagram(m.w, m.a.Layout, b.Name), &figure.Stage{Arrows: true}
	}
	s.Title = "Answer to (" + p.Name + ")"
	s.Ask = "Does the answer make sense: its size, its direction, its unit?"
	words := formula.Spoken(p.Answer.Words)
	if _, _, place := place(p.Answer.Words); !place && !strings.HasSuffix(strings.ToLower(strings.TrimSuffix(s.Say, ".")), strings.ToLower(tidy(words))) {
		s.Say = tidy(sentence(s.Say, "So the answer is: "+words+"."))
	}
	m.t.Steps[first].Say = tidy(sentence("Part "+p.Name+". "+formula.Spoken(p.Asked), m.t.Steps[first].Say))
}

// check explains the check about a point that was not used: what turns one way, then what turns the other.
func (m *maker) check(steps []solution.Step) {
	at := m.sketch(m.a.Layout)
	var stages [2]*figure.Stage
	if len(steps) > 0 && steps[0].Equation != nil {
		at, stages = m.checkScene(steps[0].Equation)
	}
	for _, s := range steps {
		if len(s.Lines) == 0 && m.n > 0 {
			p := &m.t.Steps[len(m.t.Steps)-1]
			p.Say = tidy(sentence(p.Say, sayAll(s)))
			continue
		}
		for i, l := range linesOf(s.Lines) {
			say, ask := sayLine(l), ""
			if i == 0 {
				say, ask = sentence(sayAll(s), say), "What must the other total be?"
			}
			m.add(Step{Kind: Check, Title: "A check", Say: say, Ask: ask, Sum: true, scene: at, stage: stages[min(i, 1)]}, l)
		}
	}
}

// checkScene shows what turns clockwise, or pushes one way, then the others.
func (m *maker) checkScene(e *solution.Equation) (int, [2]*figure.Stage) {
	var sides [2][]figure.Arrow
	us := m.w.Unknowns()
	for i := range e.Terms {
		t := &e.Terms[i]
		way, size := t.Sense, t.Force.Value
		if t.Force.Size >= 0 {
			size = t.Force.Factor * us[t.Force.Size].Value
		}
		if size < 0 {
			way = -way
		}
		if e.Kind == solution.Balance {
			way = -way
		}
		a := figure.Arrow{Name: t.Force.Name, Letter: t.Force.Letter}
		sides[max(way, 0)] = append(sides[max(way, 0)], a)
	}
	var stages [2]*figure.Stage
	for i := range stages {
		arms := sides[0]
		if i == 1 {
			arms = slices.Concat(sides[0], sides[1])
		}
		stages[i] = &figure.Stage{Arrows: true, Pivot: true, Lit: sides[i], Arms: arms}
	}
	return m.forcesScene(m.w, e), stages
}
