package show

import (
	"math"
	"slices"
	"strings"

	"steelyard/answer"
	"steelyard/figure"
	"steelyard/formula"
	"steelyard/question"
	"steelyard/solution"
	"steelyard/statics"
)

// momentAsked explains the moment of a force, or of all that is given, about a point: the point, each force with its
// perpendicular distance and sense, the product in symbols and in numbers, the result. It reports whether it has.
func (m *maker) momentAsked(steps []solution.Step, res *answer.Result) bool {
	p, l := res.Part, m.a.Layout
	at, name, ok := m.aboutWhat(p, steps)
	last := steps[len(steps)-1]
	if !ok || len(last.Lines) != 2 || last.Kind != solution.Result {
		return false
	}
	all := p.Ask == question.AskTotalMoment
	body := 0
	if f := m.forceNamed(p.Thing); f != nil && !all {
		body = max(f.On, 0)
	}
	e := m.w.Moments([]int{body}, m.w.PivotAt(name, body, at))
	var terms []*solution.Term
	for i := range e.Terms {
		t := &e.Terms[i]
		if all && given(t.Force, l) || !all && t.Force.Name == p.Thing {
			if m.sizeOf(t.Force) < 0 {
				return false
			}
			terms = append(terms, t)
		}
	}
	if len(terms) == 0 {
		return false
	}
	scene := m.moments(m.w, l, l.Bodies[body].Name, at, name)
	st := figure.Stage{Arrows: true, Pivot: true, Lit: arrows(terms)}
	which := termWords(terms[0])
	if len(terms) > 1 {
		which = "each of them"
	}
	m.add(Step{Kind: Pivot, Title: "Moments about " + name, Say: sayAll(steps[:len(steps)-1]...), scene: scene, stage: m.stage(m.w, st),
		Ask: "Where is the line of action of " + which + ", and which way does it turn " + m.w.Bodies(e.Bodies) + " about " + name + "?"})
	lines := linesOf(last.Lines)
	plus := 1
	if res.Value < 0 {
		plus = -1
	}
	m.growing(e, terms, plus, lines[0].Formula.Args[0], scene, "Which numbers go where?")
	whole := m.stage(m.w, figure.Stage{Arrows: true, Pivot: true, Lit: arrows(terms), Arms: arrows(terms)})
	m.add(Step{Kind: Numbers, Title: "The numbers", Say: sayLine(lines[0]), Ask: "What is the unit, and which way does it turn?", scene: scene, stage: whole}, lines[0])
	m.add(Step{Kind: Result, Title: titles[solution.Solving], Say: sayLine(lines[1]), Sum: true, scene: scene, stage: whole}, lines[1])
	return true
}

// growing shows one moment after the other, and their sum in symbols as it grows: those that turn the way of plus
// (+1 anticlockwise) are added, the others taken away. The last step ends with what to ask.
func (m *maker) growing(e *solution.Equation, terms []*solution.Term, plus int, is formula.Node, scene int, ask string) {
	var sum []formula.Node
	for i, t := range terms {
		n := m.w.Symbol(t.Force)
		if t.Force.Kind != solution.Turn {
			n = formula.Times(n, formula.Symbol("d", t.Force.Name, "the perpendicular distance of "+t.Force.Words, t.Arm.Metres()))
		}
		if t.Sense != plus && len(terms) > 1 {
			n = formula.Minus(n)
		}
		sum = append(sum, n)
		line := Line{Formula: formula.Equal(is, formula.Add(slices.Clone(sum)...)), Grows: i+1 < len(terms)}
		step := Step{Kind: Moment, Title: "The moment of " + termWords(t), Say: m.momentWords(m.w, e, t), Ask: ask, scene: scene,
			stage: m.stage(m.w, figure.Stage{Arrows: true, Pivot: true, Lit: arrows(terms[i : i+1]), Arms: arrows(terms[:i+1])})}
		if line.Grows {
			step.Ask = "Which way does " + termWords(terms[i+1]) + " turn it?"
		} else {
			step.Say = sentence(step.Say, sayLine(line))
		}
		m.add(step, line)
	}
}

// given reports whether a force is a load or a weight.
func given(f *solution.Force, l *answer.Layout) bool {
	return f.Kind <= solution.Turn && l.SupportNamed(f.Name) == nil
}

func (m *maker) forceNamed(name string) *solution.Force {
	for _, f := range m.w.Forces() {
		if f.Name == name {
			return f
		}
	}
	return nil
}

// sizeOf is the size of a force, in newtons or newton metres; negative where it acts the other way.
func (m *maker) sizeOf(f *solution.Force) float64 {
	if f.Size >= 0 {
		return f.Factor * m.w.Unknowns()[f.Size].Value
	}
	return f.Value
}

// aboutWhat is the point that a part asks moments about. A place without a name of its own is called what the solution
// calls it.
func (m *maker) aboutWhat(p *question.Part, steps []solution.Step) (statics.Vec, string, bool) {
	at, ok := m.a.Layout.Named(p.Other)
	name := p.Other
	if p.Place.Set() {
		at = m.a.Layout.Point(p.Place)
		_, after, found := strings.Cut(solution.Spoken(steps[0].Say), "The moment of a force about ")
		name, _, ok = strings.Cut(after, " is the force times")
		ok = ok && found
	}
	return at, name, ok && !math.IsNaN(at.X+at.Y)
}

// turns explains that a body does not stay: the forces given, what it can only turn about, the moments one way and the
// other, and what follows. It reports whether it has.
func (m *maker) turns(steps []solution.Step, res *answer.Result) bool {
	l := m.a.Layout
	moves := answer.Moves(l, m.a.Solution.Motion)
	i := slices.IndexFunc(moves, func(v answer.Move) bool { return v.Turns && v.About != "" })
	k := slices.IndexFunc(steps, func(s solution.Step) bool { return s.Kind == solution.Writing && len(s.Lines) == 2 })
	if i < 0 || k < 1 || steps[k-1].Kind != solution.Choosing {
		return false
	}
	v := moves[i]
	body := slices.IndexFunc(l.Bodies, func(b answer.Body) bool { return b.Name == v.Body })
	e := m.w.Moments([]int{body}, m.w.PivotAt(v.About, body, v.Pivot))
	var with, against, all []figure.Arrow
	for j := range e.Terms {
		t := &e.Terms[j]
		switch a := arrows([]*solution.Term{t})[0]; {
		case !given(t.Force, l):
		case (t.Sense > 0) == (v.Sense == "anticlockwise"):
			with = append(with, a)
		default:
			against = append(against, a)
		}
	}
	all = append(slices.Clone(with), against...)
	m.saying(steps[:k-1], res, m.sketch(l), nil, false)
	about, on := v.About, m.w.Bodies([]int{body})
	scene := m.moments(m.w, l, v.Body, v.Pivot, about)
	m.add(Step{Kind: Forces, Title: "Suppose it stays", Say: "Suppose that " + on + " stays at rest. Then the moments on it balance about every point, about " + about + " too.",
		Ask: "If it were to turn, what would it turn about?", scene: scene, stage: &figure.Stage{Arrows: true, Lit: all}})
	m.add(Step{Kind: Pivot, Title: "Moments about " + about, Say: sayAll(steps[k-1]), Ask: "Which of the given forces turn it clockwise about " + about + ", and which anticlockwise?",
		scene: scene, stage: &figure.Stage{Arrows: true, Pivot: true, Lit: all}})
	lines := linesOf(steps[k].Lines)
	m.add(Step{Kind: Moment, Title: "What turns it " + v.Sense, Say: sayLine(lines[0]), Ask: "What turns it the other way?", Sum: worked(lines[:1]),
		scene: scene, stage: &figure.Stage{Arrows: true, Pivot: true, Lit: with, Arms: with}}, lines[0])
	m.add(Step{Kind: Moment, Title: "What turns it the other way", Say: sayLine(lines[1]), Ask: "Which is greater?", Sum: true,
		scene: scene, stage: &figure.Stage{Arrows: true, Pivot: true, Lit: against, Arms: all}}, lines[1])
	m.saying(steps[k+1:], res, scene, &figure.Stage{Arrows: true, Pivot: true, Lit: all, Arms: all}, true)
	return true
}
