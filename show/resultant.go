package show

import (
	"math"
	"slices"
	"strings"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/figure"
	"steelyard/formula"
	"steelyard/solution"
)

// resultant explains one force that does what the loads and weights do together: the forces, their sum, the moment of
// each about the zero of the scale, and where the one force acts. It reports whether it has.
func (m *maker) resultant(steps []solution.Step, res *answer.Result) bool {
	l := m.a.Layout
	body := slices.IndexFunc(l.Bodies, func(b answer.Body) bool { return b.Name == res.Part.Thing })
	k := slices.IndexFunc(steps, func(s solution.Step) bool { return s.Kind == solution.Choosing })
	if body < 0 || k < 0 {
		return false
	}
	b := &l.Bodies[body]
	var loads []figure.Arrow
	for _, f := range m.w.Forces() {
		if f.On == body && given(f, l) {
			loads = append(loads, figure.Arrow{Name: f.Name, Letter: f.Letter})
		}
	}
	forces, lit := m.diagram(m.w, l, b.Name), m.stage(m.w, figure.Stage{Arrows: true, Lit: loads})
	m.saying(steps[:k], res, forces, lit, false)
	m.add(Step{Kind: Forces, Title: "The forces to replace", Say: sayAll(steps[k]), Ask: "How large are they together, and which way?", scene: forces, stage: lit})
	rest := steps[k+1:]
	place := slices.IndexFunc(rest, func(s solution.Step) bool {
		return s.Kind == solution.Stating && strings.HasPrefix(solution.Spoken(s.Say), "About ")
	})
	writing := -1
	if place >= 0 {
		writing = slices.IndexFunc(rest[place:], func(s solution.Step) bool { return s.Kind == solution.Writing })
	}
	if writing < 0 || math.IsNaN(res.At) {
		m.saying(rest, res, forces, lit, true)
		return true
	}
	writing += place
	m.saying(rest[:place], res, forces, lit, false)
	from := 0.0
	if b.ZeroRight {
		from = b.Length
	}
	name := strings.TrimPrefix(m.w.From(body), " from ")
	e := m.w.Moments([]int{body}, m.w.PivotAt(name, body, b.At(from)))
	var terms []*solution.Term
	for i := range e.Terms {
		if t := &e.Terms[i]; given(t.Force, l) {
			terms = append(terms, t)
		}
	}
	scene := m.moments(m.w, l, b.Name, b.At(from), name)
	m.add(Step{Kind: Pivot, Title: "Moments about " + name, Say: sayAll(rest[place:writing]...), Ask: "Which way does each of them turn it about " + name + "?",
		scene: scene, stage: m.stage(m.w, figure.Stage{Arrows: true, Pivot: true, Lit: loads})})
	lines := linesOf(rest[writing].Lines)
	whole := m.stage(m.w, figure.Stage{Arrows: true, Pivot: true, Lit: loads, Arms: arrows(terms)})
	if plus := m.wayOf(terms); plus != 0 && len(lines) == 1 && lines[0].Formula.Op == formula.Equals && len(lines[0].Formula.Args) == 3 {
		n := lines[0].Formula.Args
		m.growing(e, terms, plus, formula.Times(formula.Symbol("R", "", "the resultant", n[0].Value), formula.Symbol("x", "", "its distance", res.At)), scene, "Which numbers go where?")
		m.add(Step{Kind: Numbers, Title: "The numbers", Say: sayLine(Line{Formula: formula.Equal(n[:2]...)}), scene: scene, stage: whole}, Line{Formula: formula.Equal(n[:2]...), Grows: true})
	}
	m.saying(rest[writing:writing+1], res, scene, whole, false)
	m.saying(rest[writing+1:], res, m.resultantScene(res, b), plain, true)
	return true
}

// wayOf is the way that forces turn together about a point, +1 anticlockwise; 0 if they balance.
func (m *maker) wayOf(terms []*solution.Term) int {
	sum := 0.0
	for _, t := range terms {
		arm := t.Arm.Metres()
		if t.Force.Kind == solution.Turn {
			arm = 1
		}
		sum += float64(t.Sense) * m.sizeOf(t.Force) * arm
	}
	switch {
	case sum > 1e-9:
		return 1
	case sum < -1e-9:
		return -1
	}
	return 0
}

// resultantScene is the arrangement with the resultant where it acts.
func (m *maker) resultantScene(res *answer.Result, b *answer.Body) int {
	l := m.a.Layout
	if math.IsNaN(res.Direction) || b.Length == 0 {
		return m.sketch(l)
	}
	return m.scene(scene{layout: l, o: figure.Options{View: figure.Sketch}, pair: "R", force: pair{letter: "R", body: slices.IndexFunc(l.Bodies, func(x answer.Body) bool { return x.Name == b.Name }),
		at: b.At(b.FromZero(res.At)), way: draw.Point{X: math.Cos(res.Direction), Y: -math.Sin(res.Direction)}}})
}

// pairAsked explains the other force of a pair: the force on the body, then the one by the body. It reports whether it
// has.
func (m *maker) pairAsked(steps []solution.Step, res *answer.Result) bool {
	l := m.a.Layout
	k := slices.IndexFunc(l.Supports, func(u answer.Support) bool {
		return u.Support != nil && (u.Name == res.Part.Thing || u.Name == res.Part.Other)
	})
	i := slices.IndexFunc(steps, func(s solution.Step) bool { return s.Kind == solution.Stating && len(s.Lines) == 0 })
	if k < 0 || i < 0 || i != len(steps)-2 || len(steps[i+1].Lines) != 1 || l.Supports[k].On < 0 {
		return false
	}
	known, then := spokenAfter(sayAll(steps[i+1]), "So on ")
	if then == "" {
		return false
	}
	u := &l.Supports[k]
	on, lit := m.supportScene(u)
	at, stage := m.pairScene(u)
	m.saying(steps[:i], res, on, lit, false)
	body := m.w.Bodies([]int{u.On})
	m.add(Step{Kind: Forces, Title: "The force on " + body, Say: known, Sum: true, Ask: "Which body exerts this force on " + body + ", and what does " + body + " do to that one?", scene: on, stage: lit})
	m.add(Step{Kind: Reaction, Title: "The other force of the pair", Say: sayAll(steps[i]), Ask: "How large is it, which way does it point, and on which body does it act?", scene: at, stage: stage})
	line := linesOf(steps[i+1].Lines)
	m.add(Step{Kind: Reaction, Title: "The other force of the pair", Say: sentence(then, sayLine(line[0])), Sum: true, scene: at, stage: stage}, line...)
	return true
}
