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

// titles of steps that are said in words.
var titles = map[solution.StepKind]string{
	solution.Setting: "What we know", solution.Choosing: "How to go about it", solution.Stating: "The principle", solution.Writing: "Written out",
	solution.Solving: "Worked out", solution.Result: "The result", solution.Reading: "What it means", solution.Checking: "Check",
}

var kinds = map[solution.StepKind]Kind{
	solution.Setting: Forces, solution.Choosing: Pivot, solution.Stating: Symbols, solution.Writing: Numbers,
	solution.Solving: Solving, solution.Result: Result, solution.Reading: Result, solution.Checking: Check,
}

// inWords explains what has no equation of equilibrium. Some kinds of question have pictures of their own.
func (m *maker) inWords(steps []solution.Step, res *answer.Result, w *solution.Working, end bool) {
	if len(steps) == 0 {
		return
	}
	if res != nil && end {
		done := false
		switch res.Part.Ask {
		case question.AskMoment, question.AskTotalMoment:
			done = m.momentAsked(steps, res)
		case question.AskResultant:
			done = m.resultant(steps, res)
		case question.AskForceOn:
			done = m.pairAsked(steps, res)
		case question.AskWhether:
			done = m.turns(steps, res)
		}
		if done {
			return
		}
	}
	at, stage := m.wordScene(res, w)
	m.saying(steps, res, at, stage, end)
}

// saying explains steps a line at a time, and a table a row at a time. Where lines are few, or there is much to say,
// words that none follows at once stand by themselves; else they go with the next line.
func (m *maker) saying(steps []solution.Step, res *answer.Result, at int, stage *figure.Stage, end bool) {
	all := 0
	for _, s := range steps {
		all += len(s.Lines)
	}
	apart := all <= 3
	var before []solution.Step
	for i := range steps {
		s := steps[i]
		last := i == len(steps)-1
		base := Step{Kind: kinds[s.Kind], Title: m.titleOf(s, res), scene: at, stage: stage}
		if last && len(s.Lines) == 0 && len(before) == 0 && end && m.n > 0 && !verdict(res) { // a closing remark
			p := &m.t.Steps[len(m.t.Steps)-1]
			p.Say = tidy(sentence(p.Say, sayAll(s)))
			return
		}
		before = append(before, s)
		switch {
		case len(s.Lines) == 0 && (last || apart && len(sayAll(s)) > 60 || len(sayAll(s)) > 160):
			base.Say, base.Sum, base.Ask = sayAll(before...), s.Kind > solution.Writing, asks[s.Kind]
			if s.Kind == solution.Choosing && res != nil && res.Low < res.High && !limits(res) { // equilibrium does not fix it
				base.Ask = "How many equations are there, and how many unknown forces?"
			}
			m.add(base)
			before = nil
			continue
		case len(s.Lines) == 0:
			continue
		}
		lines, say := linesOf(s.Lines), sayAll(before...)
		before = nil
		if n := lines[0].Formula; len(lines) == 1 && n.Op == formula.Word { // the answer in words: first why
			if answer := answerWords(n.Text); strings.Contains(strings.ToLower(say), strings.ToLower(answer)) {
				base.Say = say
			} else if base.Say = sentence(say, capital(answer)+"."); apart && say != "" {
				why := base
				why.Title, why.Say, why.Sum, why.Ask = "Why", say, s.Kind > solution.Writing, "What follows from that?"
				m.add(why)
				base.Say = capital(answer) + "."
			}
			base.Title, base.Sum = "The answer", true
			m.add(base, lines...)
			continue
		}
		at1 := 1 // lines at once; of a table, a row
		if s.Kind == solution.Setting && len(lines) > 3 {
			at1 = 3
		}
		for len(lines) > 0 {
			now := lines[:min(at1, len(lines))]
			lines = lines[len(now):]
			step := base
			if step.Kind == Result && len(lines) > 0 {
				step.Kind, step.Title = Numbers, titles[solution.Writing]
			}
			step.Sum = s.Kind > solution.Writing || s.Kind == solution.Writing && worked(now)
			step.Say = sentence(say, m.sayRows(s.Kind, now))
			if limits(res) && s.Kind == solution.Setting {
				step.Ask = "What can the body turn about, or slide along, once that force is zero?"
			}
			if step.Sum && step.Title == titles[solution.Writing] {
				step.Title = titles[solution.Solving]
			}
			m.add(step, now...)
			say = ""
		}
	}
}

// asks are what to ask a class after words that no line follows.
var asks = map[solution.StepKind]string{
	solution.Choosing: "Why does that help?",
	solution.Stating:  "How would you write that down?",
}

// answerWords says an answer that is written as words, or as a place.
func answerWords(text string) string {
	if x, y, ok := place(text); ok {
		return "so the centre of mass is " + side(x, "to the left of", "to the right of", "on the upright line through") + ", and " + side(y, "below", "above", "level with") + ", along its own axes"
	}
	return tidy(formula.Spoken(text))
}

// place takes (x, y) apart.
func place(text string) (x, y string, ok bool) {
	inside, ok := strings.CutPrefix(strings.TrimSuffix(text, ")"), "(")
	if !ok {
		return "", "", false
	}
	return strings.Cut(inside, ", ")
}

// side says on which side of the corner something is, by its sign.
func side(length, minus, plus, none string) string {
	size := tidy(formula.Spoken(strings.TrimPrefix(length, "−")))
	switch {
	case strings.Trim(size, "0. metrsci") == "":
		return size + " " + none + " the corner"
	case strings.HasPrefix(length, "−"):
		return size + " " + minus + " the corner"
	}
	return size + " " + plus + " the corner"
}

// sayRows says lines; a table says what is what by its symbols, so its notes are not said as well.
func (m *maker) sayRows(k solution.StepKind, lines []Line) string {
	if k != solution.Setting {
		return sayLines(lines)
	}
	bare := slices.Clone(lines)
	for i := range bare {
		bare[i].Note = ""
	}
	return sayLines(bare)
}

// titleOf is the title of a step that is said in words.
func (m *maker) titleOf(s solution.Step, res *answer.Result) string {
	switch {
	case res == nil:
	case s.Kind == solution.Setting && limits(res):
		return "At the limit"
	case s.Kind == solution.Setting && len(s.Lines) > 1 && (res.Part.Ask == question.AskCentre || res.Part.Ask == question.AskAngle || res.Part.Ask == question.AskMass):
		return "The pieces"
	case s.Kind == solution.Result && verdict(res):
		return "The two compared"
	}
	return titles[s.Kind]
}

// limits reports whether a part asks for a limit.
func limits(res *answer.Result) bool {
	if res == nil {
		return false
	}
	switch res.Part.Ask {
	case question.AskFurthest, question.AskRange, question.AskGreatest, question.AskLeast, question.AskLeastCoefficient:
		return true
	}
	return false
}

// verdict reports whether a part ends in a decision.
func verdict(res *answer.Result) bool {
	return res != nil && res.Part.Ask == question.AskWhether
}

// worked reports whether a line ends in a number that was worked out.
func worked(lines []Line) bool {
	return slices.ContainsFunc(lines, func(l Line) bool {
		n := l.Formula
		return n.Op == formula.Equals && n.Args[len(n.Args)-1].Op == formula.Num
	})
}

// wordScene is the picture for a part that is said in words: of a support's force, and of friction, the forces on the
// body; else the arrangement.
func (m *maker) wordScene(res *answer.Result, w *solution.Working) (int, *figure.Stage) {
	if res == nil {
		return m.sketch(m.a.Layout), nil
	}
	switch p := res.Part; p.Ask {
	case question.AskForce, question.AskAcross, question.AskUpright, question.AskDirection, question.AskNormal, question.AskFriction, question.AskWhether, question.AskCouple:
		name := p.Thing
		if p.Ask == question.AskWhether {
			name = m.rough()
		}
		if u := m.a.Layout.SupportNamed(name); u != nil && u.On >= 0 {
			return m.supportScene(u)
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

// rough is the first support with friction, where there are forces at all; "" if there is none.
func (m *maker) rough() string {
	for _, f := range m.w.Forces() {
		if f.Kind == solution.Friction && m.a.ForceNamed(f.Name) != nil {
			return f.Name
		}
	}
	return ""
}

// supportScene is the diagram of the body that a support holds, with the support's forces set off.
func (m *maker) supportScene(u *answer.Support) (int, *figure.Stage) {
	l := m.a.Layout
	return m.diagram(m.w, l, l.Bodies[u.On].Name), m.stage(m.w, figure.Stage{Arrows: true, Lit: m.ofSupport(u.Name)})
}

// ofSupport are the arrows of a support's forces.
func (m *maker) ofSupport(name string) (list []figure.Arrow) {
	for _, f := range m.w.Forces() {
		if f.Name == name {
			list = append(list, figure.Arrow{Name: f.Name, Letter: f.Letter})
		}
	}
	return list
}

// spokenAfter cuts words in two before a mark; the second part is empty if it is not there.
func spokenAfter(words, mark string) (string, string) {
	if i := strings.Index(words, mark); i > 0 {
		return strings.TrimSpace(words[:i]), strings.TrimSpace(words[i:])
	}
	return words, ""
}
