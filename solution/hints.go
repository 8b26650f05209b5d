package solution

import (
	"fmt"
	"strings"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/question"
)

// A Hint is one rung of the ladder: a question, sometimes with a line that has a gap in it. It does not give
// the next rung away.
type Hint struct {
	Rung int // from 1
	Say  []Piece
	Line *Line
}

// Hints is the ladder for a part: at least seven rungs, from "what kind of question is this?" to the equation
// itself, taken from the route that is shown first. The error says that there is no such part.
//
// The order of the rungs is common practice, no source.
func Hints(a *answer.Answers, s *Solution, part string) (hints []Hint, err error) {
	defer caught(&err)
	for i := range s.Parts {
		if s.Parts[i].Name == part && i < len(a.Results) {
			l := &ladder{a: a, part: a.Results[i].Part, worked: &s.Parts[i]}
			return l.climb(), nil
		}
	}
	return nil, fmt.Errorf("there is no part %q", part)
}

type ladder struct {
	a      *answer.Answers
	part   *question.Part
	worked *Worked
	hints  []Hint
}

func (l *ladder) ask(parts ...any) {
	l.hints = append(l.hints, Hint{Rung: len(l.hints) + 1, Say: say(parts...)})
}

func (l *ladder) show(line formula.Node, parts ...any) {
	l.ask(parts...)
	l.hints[len(l.hints)-1].Line = &Line{Formula: line}
}

func (l *ladder) climb() []Hint {
	var working *Working
	if len(l.worked.Routes) > 0 {
		working = l.worked.Routes[0].Working
	}
	switch {
	case l.part.Ask == question.AskForceOn:
		l.pair()
	case working == nil:
		l.inWords()
	default:
		l.equations(working)
	}
	return l.hints
}

// pair asks about the other force of a pair.
func (l *ladder) pair() {
	body := l.part.Other
	l.ask("Two bodies touch at " + l.part.Thing + ". Which two?")
	l.ask("How many forces are there at that contact, counting both bodies?")
	l.ask("Which of the two forces have you found already, and on which body does it act?")
	l.ask("Which of the two is asked for: on which body does that one act?")
	l.ask("How does the size of one force of such a pair compare with the size of the other?")
	l.ask("And how do their directions compare?")
	l.ask("Does your answer name a size, a direction, and the body that the force acts on?")
	l.ask("Could a force on " + body + " be the answer, or must it be a force that " + body + " exerts?")
}

// inWords is the ladder for parts that are not worked out by an equation of equilibrium.
func (l *ladder) inWords() {
	about := l.part.Other
	if about == "" {
		about = "that point"
	}
	for _, q := range l.questions(about) {
		l.ask(q)
	}
}

// questions are the rungs for what is asked.
func (l *ladder) questions(about string) []string {
	rungs, ok := ladders[l.part.Ask]
	if !ok {
		rungs = l.ofForce()
	}
	out := make([]string, len(rungs))
	fill := strings.NewReplacer("{thing}", l.part.Thing, "{about}", about)
	for i, q := range rungs {
		out[i] = fill.Replace(q)
	}
	return out
}

// ofForce is the ladder of a force that no equation gives by itself, or of anything else.
func (l *ladder) ofForce() []string {
	switch l.part.Ask {
	case question.AskForce, question.AskAcross, question.AskUpright, question.AskDirection:
	default:
		return plainLadder
	}
	switch {
	case l.worked.Routes[0].Name == leastAndGreatest:
		return rangeLadder
	case l.a.Layout.SupportNamed(l.part.Thing) != nil:
		return partsLadder
	}
	return plainLadder
}

// equations is the ladder to a route of equations.
func (l *ladder) equations(w *Working) {
	m := w.Moves[0]
	s := w.scene
	e := m.Equation
	for i := range w.Moves { // the first equation of moments is what pupils get stuck at
		if w.Moves[i].Equation.Kind == Moments {
			m, e = w.Moves[i], w.Moves[i].Equation
			break
		}
	}
	body := "the body"
	if len(e.Bodies) > 0 {
		body = s.bodies(e.Bodies)
	}
	l.ask("What two things must balance for " + body + " to stay at rest?")
	l.wouldDo(s, e, body, m)
	if l.limiting() {
		l.ask("At the very limit, what is about to happen? What does that say about one of the forces?")
	}
	acting := 0
	for i := range s.forces {
		if s.acts(&s.forces[i], e.Bodies) != 0 && s.forces[i].Zero == "" {
			acting++
		}
	}
	l.ask("Draw " + body + " alone. How many arrows do you need, and where does each of them act?")
	u := &s.unknowns[m.Gives]
	switch e.Kind {
	case Moments:
		l.ask("Which force do you not know and not want to know? Where could you take moments so that it has no moment?")
		l.ask("Take moments about " + e.Pivot.Name + ". How far from " + e.Pivot.Name + " is each line of action? Measure from there, at right angles to the force.")
		l.ask("Which forces turn " + body + " clockwise about " + e.Pivot.Name + ", and which anticlockwise?")
	case Balance:
		l.ask("In which direction do you know all forces but one?")
		l.ask("Balance the forces " + strings.ToLower(e.Direction.Name) + ". Which of them act " + e.plus() + ", and which " + e.minus() + "?")
		l.ask("Is each force wholly in that direction, or only a component of it?")
	default:
		l.ask("How is the greatest friction connected with the normal force?")
		l.ask("Which of the two can you find first, and from which balance?")
		l.ask("Is it really about to slip there? How do you know?")
	}
	k := s.worker(nil)
	copy(k.values, w.start)
	for i := range w.Moves {
		if w.Moves[i].Equation == e {
			break
		}
		k.values[w.Moves[i].Gives] = s.unknowns[w.Moves[i].Gives].Value
	}
	full := k.line(e, m.Gives, asLengths)
	if gap, ok := withGap(full); ok {
		l.show(gap, "One number is missing from the equation. Which?")
	} else {
		l.show(k.symbols(e, m.Gives), "Put the numbers into this equation.")
	}
	l.show(full, "This is the equation. Solve it for ", u.symbol(), ".")
	if rest := len(w.Moves) - 1; rest > 0 {
		l.ask("With that found, which other balance gives what is asked for?")
	} else {
		l.ask("Has your answer a unit, a direction, and as many figures as the data?")
	}
}

func (l *ladder) limiting() bool {
	switch l.part.Ask {
	case question.AskFurthest, question.AskRange, question.AskGreatest, question.AskLeast, question.AskLeastCoefficient:
		return true
	}
	return false
}

// wouldDo asks what would happen without the thing that is asked about.
func (l *ladder) wouldDo(s *scene, e *Equation, body string, m Move) {
	if p := s.l.SupportNamed(l.part.Thing); p != nil {
		name := l.part.Thing
		if p.Label != "" && p.Label != name {
			name = s.thing(p.Label, name)
		}
		if p.By < 0 {
			l.ask("What would " + s.body(p.On) + " do if " + name + " were not there? About which point would it turn, or which way would it slide?")
			return
		}
	}
	if e.Kind == Moments && m.Gives < len(s.unknowns) && s.unknowns[m.Gives].Kind == OfPlace {
		l.ask("What happens to the balance when " + s.unknowns[m.Gives].Name + " is moved further out? Which force changes, and which way?")
		return
	}
	l.ask("If " + body + " did start to turn, what would it turn about, and which way?")
}

// withGap takes one distance or force out of the right-hand side of an equation.
func withGap(n formula.Node) (formula.Node, bool) {
	if n.Op != formula.Equals || len(n.Args) < 2 {
		return n, false
	}
	args := append([]formula.Node(nil), n.Args...)
	right, ok := gap(args[len(args)-1])
	if !ok {
		left, ok := gap(args[0])
		if !ok {
			return n, false
		}
		args[0] = left
		n.Args = args
		return n, true
	}
	args[len(args)-1] = right
	n.Args = args
	return n, true
}

func gap(n formula.Node) (formula.Node, bool) {
	switch n.Op {
	case formula.Num:
		return formula.Blank(n.Unit), true
	case formula.Product: // the distance, which stands last
		args := append([]formula.Node(nil), n.Args...)
		for i := len(args) - 1; i >= 0; i-- {
			if args[i].Op == formula.Num {
				args[i] = formula.Blank(args[i].Unit)
				n.Args = args
				return n, true
			}
		}
	case formula.Sum, formula.Neg, formula.Over:
		args := append([]formula.Node(nil), n.Args...)
		for i := range args {
			if g, ok := gap(args[i]); ok {
				args[i] = g
				n.Args = args
				return n, true
			}
		}
	}
	return n, false
}
