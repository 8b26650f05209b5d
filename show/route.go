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
	s.Title = "Answer to (" + p.Name + ")"
	s.Ask = "Does the answer make sense: its size, its direction, its unit?"
	words := formula.Spoken(p.Answer.Words)
	if !strings.HasSuffix(strings.TrimSuffix(s.Say, "."), words) {
		s.Say = tidy(sentence(s.Say, "So the answer is: "+words+"."))
	}
	m.t.Steps[first].Say = tidy(sentence("Part "+p.Name+". "+formula.Spoken(p.Asked), m.t.Steps[first].Say))
}

// titles of steps that are said in words.
var titles = map[solution.StepKind]string{
	solution.Setting: "What we know", solution.Choosing: "How to go about it", solution.Stating: "The principle", solution.Writing: "Written out",
	solution.Solving: "Worked out", solution.Result: "The answer", solution.Reading: "What it means", solution.Checking: "Check",
}

var kinds = map[solution.StepKind]Kind{
	solution.Setting: Forces, solution.Choosing: Pivot, solution.Stating: Symbols, solution.Writing: Numbers,
	solution.Solving: Solving, solution.Result: Result, solution.Reading: Result, solution.Checking: Check,
}

// inWords explains what has no equation of equilibrium: words go with the lines that follow them, a line at a time
// where there are many.
func (m *maker) inWords(steps []solution.Step, res *answer.Result, w *solution.Working, end bool) {
	at, stage := m.wordScene(res, w)
	var before []solution.Step
	for i := range steps {
		s := steps[i]
		before = append(before, s)
		last := i == len(steps)-1
		if len(s.Lines) == 0 && !last {
			continue
		}
		if last && len(s.Lines) == 0 && len(before) == 1 && end && m.n > 0 { // a closing remark
			p := &m.t.Steps[len(m.t.Steps)-1]
			p.Say = tidy(sentence(p.Say, sayAll(s)))
			return
		}
		lines := linesOf(s.Lines)
		kind := kinds[s.Kind]
		if res != nil && res.Part.Ask == question.AskForceOn {
			kind = Reaction
		}
		title := titles[s.Kind]
		if kind == Reaction {
			title = "The other force of the pair"
		}
		say := sayAll(before...)
		at1 := 3 // lines at once
		if len(lines) <= 3 {
			at1 = 1
		}
		for len(lines) > at1 {
			k, head := kind, title
			if kind == Result {
				k, head = Numbers, titles[solution.Writing]
			}
			m.add(Step{Kind: k, Title: head, Say: sentence(say, sayLines(lines[:at1])), Sum: s.Kind > solution.Writing && worked(lines[:at1]), scene: at, stage: stage}, lines[:at1]...)
			lines, say = lines[at1:], ""
		}
		m.add(Step{Kind: kind, Title: title, Say: sentence(say, sayLines(lines)), Sum: s.Kind >= solution.Writing && (worked(lines) || s.Kind > solution.Writing), scene: at, stage: stage}, lines...)
		before = nil
	}
}

// worked reports whether a line ends in a number that was worked out.
func worked(lines []Line) bool {
	for _, l := range lines {
		if n := l.Formula; n.Op == formula.Equals && n.Args[len(n.Args)-1].Op == formula.Num {
			return true
		}
	}
	return false
}

// wordScene is the picture for a part that is said in words.
func (m *maker) wordScene(res *answer.Result, w *solution.Working) (int, *figure.Stage) {
	if res == nil {
		return m.sketch(m.a.Layout), nil
	}
	p := res.Part
	switch p.Ask {
	case question.AskForceOn:
		for i := range m.a.Layout.Supports {
			u := &m.a.Layout.Supports[i]
			if u.Support != nil && (u.Name == p.Thing || u.Name == p.Other) {
				return m.pairScene(u)
			}
		}
	case question.AskMoment, question.AskTotalMoment:
		if at, name, ok := m.aboutWhat(p); ok {
			return m.momentScene(p, at, name)
		}
	}
	if w != nil {
		return m.sketch(w.Layout()), nil
	}
	if res.Layout != nil {
		return m.sketch(res.Layout), nil
	}
	return m.sketch(m.a.Layout), nil
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
