package show

import (
	"math"
	"slices"

	"steelyard/figure"
	"steelyard/formula"
	"steelyard/solution"
)

// equation explains one equation of a route, from the forces to what it gives.
func (m *maker) equation(w *solution.Working, e *solution.Equation, steps []solution.Step) {
	var setting, choosing, stating, writing, solving []solution.Step
	for _, s := range steps {
		switch {
		case s.Kind == solution.Setting:
			setting = append(setting, s)
		case len(writing) > 0:
			solving = append(solving, s)
		case s.Kind == solution.Writing:
			writing = append(writing, s)
		case s.Kind == solution.Choosing && len(stating) == 0:
			choosing = append(choosing, s)
		default:
			stating = append(stating, s)
		}
	}
	gives := steps[0].Gives
	at := m.forcesScene(w, e)
	m.setting(w, e, at, setting)
	switch e.Kind {
	case solution.Moments:
		m.pivot(w, e, at, choosing)
		m.eachMoment(w, e, gives, at, stating, writing)
	case solution.Balance:
		m.balance(w, e, at, append(choosing, stating...), writing)
	default:
		m.limiting(w, e, at, append(choosing, stating...), writing)
	}
	m.solving(w, e, at, solving)
	m.finds(w, e)
}

// setting shows the forces on the body.
func (m *maker) setting(w *solution.Working, e *solution.Equation, at int, steps []solution.Step) {
	if len(steps) == 0 {
		return
	}
	var lines []Line
	for _, s := range steps {
		lines = append(lines, linesOf(s.Lines)...)
	}
	stage, ask := m.stage(w, figure.Stage{Arrows: true}), "How many of them are not known yet, and what would give one of them?"
	switch unknown := len(stage.Unsized); {
	case unknown == 0:
		ask = "Their sizes are known by now. Which of them does this part need?"
	case unknown > 1 && e.Kind == solution.Moments:
		ask = "About which point would one of the unknown forces have no moment?"
	}
	m.add(Step{Kind: Forces, Title: "The forces on " + w.Bodies(e.Bodies), Say: sentence(sayAll(steps...), sayLines(lines)),
		Ask: ask, scene: at, stage: stage}, lines...)
}

// pivot shows the point that moments are taken about.
func (m *maker) pivot(w *solution.Working, e *solution.Equation, at int, steps []solution.Step) {
	m.add(Step{Kind: Pivot, Title: "Moments about " + e.Pivot.Name, Say: sayAll(steps...), Ask: "Which way does each of the other forces turn it about " + e.Pivot.Name + "?",
		scene: at, stage: m.stage(w, figure.Stage{Arrows: true, Pivot: true})})
}

// eachMoment shows each moment, then the equation, growing.
func (m *maker) eachMoment(w *solution.Working, e *solution.Equation, gives, at int, stating, writing []solution.Step) {
	terms := sides(e, gives)
	var symbols *formula.Node
	if !slices.ContainsFunc(terms, func(t *solution.Term) bool { return t.Share != nil }) {
		n := w.Symbols(e, gives)
		symbols = &n
	}
	whole := figure.Stage{Arrows: true, Pivot: true, Arms: arrows(terms), Calls: m.calls(w, terms)}
	for i, t := range terms {
		st := whole
		st.Lit, st.Arms = arrows(terms[i:i+1]), arrows(terms[:i+1])
		step := Step{Kind: Moment, Title: "The moment of " + termWords(t), Say: m.momentWords(w, e, t), scene: at, stage: m.stage(w, st)}
		if i+1 < len(terms) {
			step.Ask = "Which way does " + termWords(terms[i+1]) + " turn it?"
		}
		var lines []Line
		if symbols != nil {
			lines = []Line{{Formula: upTo(*symbols, i+1), Grows: true}}
		}
		m.add(step, lines...)
	}
	step := Step{Kind: Symbols, Title: "The two sides balance", Say: sayAll(stating...), Ask: "Which numbers go where?", scene: at, stage: m.stage(w, whole)}
	var lines []Line
	if symbols != nil {
		lines = []Line{{Formula: *symbols}}
		step.Say = sentence(step.Say, sayLines(lines))
	}
	m.add(step, lines...)
	m.numbers(len(terms), at, step.stage, writing)
}

// sides are the terms in the order of the equation's line.
func sides(e *solution.Equation, gives int) []*solution.Term {
	left, right := e.Sides(gives)
	return slices.Concat(left, right)
}

// arrows name the forces of terms.
func arrows(terms []*solution.Term) []figure.Arrow {
	list := make([]figure.Arrow, len(terms))
	for i, t := range terms {
		list[i] = figure.Arrow{Name: t.Force.Name, Letter: t.Force.Letter}
	}
	return list
}

// calls are the letters of distances that are still to be found.
func (m *maker) calls(w *solution.Working, terms []*solution.Term) (list []figure.Call) {
	for i, t := range terms {
		if m.open(w, t) {
			list = append(list, figure.Call{Arrow: arrows(terms[i : i+1])[0], Letter: "d", Sub: t.Force.Name})
		}
	}
	if len(list) == 1 {
		list[0].Sub = "" // the lines call it d, too
	}
	return list
}

// open reports whether the distance of a force is still to be found.
func (m *maker) open(w *solution.Working, t *solution.Term) bool {
	return (t.Arm.Unknown >= 0 || t.Arm.Trig != nil && t.Arm.Trig.Unknown >= 0) && !m.knows(w, t.Arm)
}

// numbers shows the equation with its numbers, the first of a talk term by term, then worked out.
func (m *maker) numbers(terms, at int, stage *figure.Stage, writing []solution.Step) {
	sum := false
	for _, s := range writing {
		for i, l := range linesOf(s.Lines) {
			say := sayLine(l)
			if i == 0 {
				say = sentence(sayAll(s), say)
			}
			if !sum && !m.grown {
				for k := 1; k < terms; k++ {
					part := Line{Formula: upTo(l.Formula, k), Grows: true}
					m.add(Step{Kind: Numbers, Title: "The numbers", Say: capital(formula.Words(term(l.Formula, k))) + ".", scene: at, stage: stage}, part)
				}
				m.grown = true
			}
			kind, title := Numbers, "The numbers"
			if sum {
				kind, title = Solving, "Worked out"
			}
			m.add(Step{Kind: kind, Title: title, Say: say, Sum: sum, scene: at, stage: stage}, l)
			sum = true
		}
	}
}

// termWords is what a force is called in an equation: of a pair, the one that acts here.
func termWords(t *solution.Term) string {
	if t.Other {
		return "the reaction to " + t.Force.Words
	}
	return t.Force.Words
}

// momentWords says what one force does about the pivot.
func (m *maker) momentWords(w *solution.Working, e *solution.Equation, t *solution.Term) string {
	turn := "clockwise"
	if t.Sense > 0 {
		turn = "anticlockwise"
	}
	f := capital(termWords(t))
	if t.Force.Kind == solution.Turn {
		return f + " turns " + w.Bodies(e.Bodies) + " " + turn + ". A couple has the same moment about every point, so no distance is needed."
	}
	say := f + " turns " + w.Bodies(e.Bodies) + " " + turn + " about " + e.Pivot.Name + ". "
	if t.Force.Size >= 0 && m.has(w, t.Force.Size) && against(w, t.Force) {
		say = f + ", the way it was taken, turns " + w.Bodies(e.Bodies) + " " + turn + " about " + e.Pivot.Name + "; it came out negative, so in truth it turns it the other way, and its minus sign stays with it. "
	}
	if t.Arm.Unknown >= 0 && !m.knows(w, t.Arm) {
		return say + "Its perpendicular distance from " + e.Pivot.Name + " is not known yet, so it keeps a letter."
	}
	return say + "Its perpendicular distance from " + e.Pivot.Name + " is " + formula.Words(w.Arm(t.Arm)) + "."
}

// has reports whether an unknown has been found by now; −1 is none.
func (m *maker) has(w *solution.Working, u int) bool {
	if u < 0 {
		return true
	}
	x := &w.Unknowns()[u]
	return slices.Contains(m.found[w.Layout()], figure.Arrow{Name: x.Name, Letter: x.Letter})
}

// knows reports whether what a distance depends on has been found.
func (m *maker) knows(w *solution.Working, d solution.Distance) bool {
	return m.has(w, d.Unknown) && (d.Trig == nil || m.has(w, d.Trig.Unknown))
}

// balance shows the balance of forces.
func (m *maker) balance(w *solution.Working, e *solution.Equation, at int, words, writing []solution.Step) {
	stage := m.stage(w, figure.Stage{Arrows: true, Lit: arrows(sides(e, -1))})
	m.lineByLine(Balance, "The balance of forces", "Which forces act along this direction, and which way?", at, stage, words, writing)
}

// limiting shows that friction is at its limit.
func (m *maker) limiting(w *solution.Working, e *solution.Equation, at int, words, writing []solution.Step) {
	name, _, _, _ := e.Contact()
	stage := m.stage(w, figure.Stage{Arrows: true, Lit: []figure.Arrow{{Name: name, Letter: "N"}, {Name: name, Letter: "F"}}})
	m.lineByLine(Symbols, "Friction at its limit", "What is the greatest that friction can be?", at, stage, words, writing)
}

// lineByLine shows an equation a line at a time: the words and the symbols, then the numbers.
func (m *maker) lineByLine(kind Kind, title, ask string, at int, stage *figure.Stage, words, writing []solution.Step) {
	say, first := sayAll(words...), true
	for _, s := range writing {
		say = sentence(say, sayAll(s))
		for _, l := range linesOf(s.Lines) {
			k := kind
			if !first {
				k, title, ask = Numbers, "The numbers", ""
			}
			m.add(Step{Kind: k, Title: title, Say: sentence(say, sayLine(l)), Ask: ask, Sum: !first && kind != Balance, scene: at, stage: stage}, l)
			say, first = "", false
		}
	}
	if say != "" {
		m.add(Step{Kind: kind, Title: title, Say: say, Ask: ask, scene: at, stage: stage})
	}
}

// solving rearranges for what the equation gives.
func (m *maker) solving(w *solution.Working, e *solution.Equation, at int, steps []solution.Step) {
	stage := m.t.Steps[len(m.t.Steps)-1].stage
	say := ""
	for i, s := range steps {
		say = sentence(say, sayAll(s))
		if len(s.Lines) == 0 {
			if i == len(steps)-1 {
				p := &m.t.Steps[len(m.t.Steps)-1]
				p.Say = tidy(sentence(p.Say, say))
			}
			continue
		}
		for _, l := range linesOf(s.Lines) {
			m.add(Step{Kind: Solving, Title: "Solved for " + m.sought(w, s), Say: sentence(say, sayLine(l)), Sum: true, scene: at, stage: stage}, l)
			say = ""
		}
	}
}

// sought is what an equation is solved for, in words.
func (m *maker) sought(w *solution.Working, s solution.Step) string {
	if us := w.Unknowns(); s.Gives >= 0 && s.Gives < len(us) {
		return us[s.Gives].Words
	}
	return "what is asked"
}

// finds notes what the equation has found, and shows it in the picture of the last step. Of a pair of equations, the
// second gives both.
func (m *maker) finds(w *solution.Working, e *solution.Equation) {
	us := w.Unknowns()
	for _, v := range w.Moves {
		gives := []int{v.Gives}
		switch {
		case v.With == e:
			gives = append(gives, v.Also)
		case v.Equation != e || v.With != nil:
			continue
		}
		for _, u := range gives {
			m.found[w.Layout()] = append(m.found[w.Layout()], figure.Arrow{Name: us[u].Name, Letter: us[u].Letter})
		}
	}
	last := &m.t.Steps[len(m.t.Steps)-1]
	if last.stage == nil || last.stage == plain {
		return
	}
	st := *last.stage
	st.Unsized, st.Taken = nil, nil
	st.Calls = slices.DeleteFunc(slices.Clone(st.Calls), func(c figure.Call) bool { return m.placed(w, e, c.Arrow) })
	last.stage = m.stage(w, st)
}

// placed reports whether the distance of a force is known by now.
func (m *maker) placed(w *solution.Working, e *solution.Equation, a figure.Arrow) bool {
	for i := range e.Terms {
		if t := &e.Terms[i]; t.Force.Name == a.Name && t.Force.Letter == a.Letter {
			return m.knows(w, t.Arm)
		}
	}
	return false
}

// stage hides the sizes of what is not found yet, and draws it the way that the equations take it.
func (m *maker) stage(w *solution.Working, st figure.Stage) *figure.Stage {
	known := w.Start()
	for _, f := range w.Forces() {
		if f.Size >= 0 && math.IsNaN(known[f.Size]) && !m.has(w, f.Size) {
			a := figure.Arrow{Name: f.Name, Letter: f.Letter}
			st.Unsized = append(st.Unsized, a)
			if against(w, f) {
				st.Taken = append(st.Taken, a)
			}
		}
	}
	return &st
}

// against reports whether a force comes out negative.
func against(w *solution.Working, f *solution.Force) bool {
	return f.Factor*w.Unknowns()[f.Size].Value < -1e-9
}

// upTo is an equation as far as its first n terms.
func upTo(n formula.Node, terms int) formula.Node {
	if n.Op != formula.Equals || len(n.Args) < 2 {
		return n
	}
	left, right := addends(n.Args[0]), addends(n.Args[1])
	if terms <= len(left) {
		return formula.Add(left[:terms]...)
	}
	return formula.Equal(n.Args[0], formula.Add(right[:min(terms-len(left), len(right))]...))
}

// term is the nth term of an equation, from 1.
func term(n formula.Node, k int) formula.Node {
	if n.Op != formula.Equals || len(n.Args) < 2 {
		return n
	}
	all := append(append([]formula.Node(nil), addends(n.Args[0])...), addends(n.Args[1])...)
	return all[min(k, len(all))-1]
}

func addends(n formula.Node) []formula.Node {
	if n.Op == formula.Sum {
		return n.Args
	}
	return []formula.Node{n}
}
