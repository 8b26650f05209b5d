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

func (l *ladder) questions(about string) []string {
	thing := l.part.Thing
	p := l.a.Layout.SupportNamed(thing)
	switch l.part.Ask {
	case question.AskMoment:
		return []string{
			"What does a moment measure: how hard something pushes, or how strongly it turns?",
			"Which two quantities are multiplied to give a moment?",
			"Where is " + about + ", and where is the line of action of " + thing + "?",
			"Draw the line of action of " + thing + " and make it longer. Which point of it is nearest to " + about + "?",
			"At what angle does the shortest line from " + about + " meet the line of action?",
			"How long is that perpendicular distance? From where to where did you measure?",
			"Which way would " + thing + " alone turn the body about " + about + "?",
			"Has your answer a size, a unit and a sense?",
		}
	case question.AskTotalMoment:
		return []string{
			"Which forces have a moment about " + about + ", and does any of them pass through it?",
			"Which forces count here: all of them, or only the loads and weights?",
			"How far from " + about + " is each line of action?",
			"Does each distance start from " + about + ", or from the end of the body?",
			"Which of them turn the body clockwise about " + about + ", and which anticlockwise?",
			"What is each single moment?",
			"Which way do you count as positive? What do they add up to, signs included?",
			"Has your answer a size, a unit and a sense?",
		}
	case question.AskResultant:
		return []string{
			"What would one single force have to do to replace all of them?",
			"Which two things must be the same for that one force as for all of them together?",
			"How large is it, and which way does it point?",
			"About which point will you compare moments?",
			"What is the moment of each force about that point?",
			"What is the moment of all of them together, signs included?",
			"How far from that point must the one force act to have the same moment?",
			"From where is the position to be measured?",
		}
	case question.AskCentre, question.AskMass:
		return []string{
			"Which simple pieces is the body made of? Is any of them a hole?",
			"Where is the centre of mass of each piece on its own?",
			"What stands for the mass of each piece: its mass, its length or its area?",
			"From which corner do you measure, and in which two directions?",
			"Make a table: a row for each piece, its mass and the two distances. Is every distance measured from that corner?",
			"What is mass times distance for each row?",
			"How does the moment of the whole about the corner compare with the sum for the pieces?",
			"Does your point lie where you would try to balance the body?",
		}
	case question.AskAngle:
		return []string{
			"How many forces act on the body, and where?",
			"If only two forces act and the body is at rest, what do you know about their lines of action?",
			"Where must the centre of mass be, compared with the point it hangs from?",
			"Draw the line from that point to the centre of mass. Which way does it point in space?",
			"How far is the centre of mass from the point, along each side of the body?",
			"Which right-angled triangle holds the angle that is asked for?",
			"Which side is opposite that angle, and which is next to it?",
			"Would the body look right, drawn at that angle?",
		}
	case question.AskWhether:
		return []string{
			"How could it start to move: turn about something, or slide?",
			"If it turned, which point would stay where it is?",
			"Which forces would turn it that way, and which would turn it back?",
			"How far from that point is each line of action?",
			"What are the two totals of moments about that point?",
			"Could a support make up the difference? Would it have to pull where it can only push?",
			"If something is rough: how much friction is needed, and how much can there be?",
			"Does your answer say what happens, which way, and why?",
		}
	case question.AskForce, question.AskAcross, question.AskUpright, question.AskDirection:
		if l.worked.Routes[0].Name == leastAndGreatest {
			return []string{
				"Which forces are unknown? How many are there?",
				"How many independent equations does equilibrium give here?",
				"Can that many equations fix that many unknowns?",
				"What can a rest not do? What does that say about each force?",
				"Which other support has just lost contact when the force at " + thing + " is greatest?",
				"With that one gone, about which point would you take moments?",
				"Could the others hold the body without " + thing + "? What does that say about the least value?",
				"Does your answer give a least and a greatest value, and say why it cannot say more?",
			}
		}
		if p != nil {
			return []string{
				"Which parts of the force at " + thing + " do you know already?",
				"In which two directions do they point? What is the angle between them?",
				"Sketch the two as arrows, one starting where the other ends. Where does the resultant go?",
				"What kind of triangle is it? Which side is the resultant?",
				"How do you find the longest side of such a triangle from the other two?",
				"Which ratio of the two sides gives the angle to the horizontal?",
				"To which side, and above or below the horizontal, does the resultant point?",
				"Is it longer than each of the two, and shorter than both together?",
			}
		}
	}
	return []string{
		"What is asked for: a force, a moment, a place, or a reason? What would its unit be?",
		"Sketch the body alone. Which things touch it?",
		"Which forces act on it, and where does each of them act?",
		"Which of these forces are given, and which can take any size that is needed?",
		"What can each support not do? Can it pull as well as push?",
		"What is about to change at the moment that is asked about?",
		"Which point, or which direction, leaves fewest unknowns?",
		"Does your answer say what happens, which way, and why?",
	}
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
