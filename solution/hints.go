package solution

import (
	"fmt"
	"math"
	"slices"
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

// Hints is the ladder for a part: at least seven rungs, from "what would it do without that support?" to the equation
// with one gap, taken from the route that is shown first. The error says that there is no such part.
//
// The order of the rungs is common practice, no source.
func Hints(a *answer.Answers, s *Solution, part string) ([]Hint, error) {
	return HintsFrom(a, s, part, "")
}

// HintsFrom is the ladder for a part whose working has begun: means says with what, such as "moments about Q" or
// "vertical balance". It keeps to that point wherever its moments hold something that is still unknown; where they
// don't, or means is "", it goes by the route that is shown first.
func HintsFrom(a *answer.Answers, s *Solution, part, means string) (hints []Hint, err error) {
	defer caught(&err)
	for i := range s.Parts {
		if s.Parts[i].Name == part && i < len(a.Results) {
			l := &ladder{a: a, part: a.Results[i].Part, worked: &s.Parts[i], means: means}
			return l.climb(), nil
		}
	}
	return nil, fmt.Errorf("there is no part %q", part)
}

type ladder struct {
	a      *answer.Answers
	part   *question.Part
	worked *Worked
	means  string // what the pupil has begun with; "" if nothing
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
	w, m, own := l.start(w)
	s, e := w.scene, m.Equation
	body := "the body"
	if len(e.Bodies) > 0 {
		body = s.bodies(e.Bodies)
	}
	l.wouldDo(s, e, body, m)
	l.ask("What two things must balance for " + body + " to stay at rest?")
	if l.limiting() {
		l.ask("At the very limit, what is about to happen? What does that say about one of the forces?")
	}
	l.ask("Draw " + body + " alone. How many arrows do you need, and where does each of them act?")
	if strings.HasPrefix(l.means, "moments about ") && !own {
		begun, _, _ := strings.Cut(l.means, " for the ")
		l.ask("You have begun with " + begun + ". Does what is asked for come into them, or which other equation would hold it?")
	}
	l.choice(e, body, own)
	if rest := l.rest(w, m); rest != "" {
		l.ask(rest)
	}
	l.line(w, m)
}

// start is the equation that the ladder leads to: the one that has been begun, if it holds an unknown; else the first
// of moments in the route, which is what pupils get stuck at.
func (l *ladder) start(w *Working) (*Working, Move, bool) {
	if name, ok := strings.CutPrefix(l.means, "moments about "); ok {
		name, of, _ := strings.Cut(name, " for the ")
		for i := range l.worked.Routes {
			other := l.worked.Routes[i].Working
			if other == nil {
				continue
			}
			for _, m := range other.Moves {
				if e := m.Equation; e.Kind == Moments && e.Pivot.Name == name && (of == "" || other.scene.bodies(e.Bodies) == "the "+of) {
					return other, m, true
				}
			}
		}
		if m, ok := l.about(w, name, of); ok {
			return w, m, true
		}
	}
	for _, m := range w.Moves {
		if m.Equation.Kind == Moments {
			return w, m, false
		}
	}
	return w, w.Moves[0], false
}

// about is the equation of moments about a point that no route uses.
func (l *ladder) about(w *Working, name, of string) (Move, bool) {
	s := w.scene
	a := *l.a
	a.Layout = s.l
	place, _, _ := strings.Cut(strings.TrimPrefix(name, "the point "), " from the ")
	if end, body, ok := strings.Cut(place, " of the "); ok && of == "" {
		place, of = end, body
	}
	on, at, _, err := Point(&a, place)
	if err != nil {
		return Move{}, false
	}
	var bodies []int
	for i := range s.l.Bodies {
		switch {
		case of == "bodies taken together":
			bodies = append(bodies, i)
		case of == "" && s.l.Bodies[i].Name == on, s.body(i) == "the "+of:
			bodies = []int{i}
		}
	}
	if len(bodies) == 0 {
		return Move{}, false
	}
	e := s.moments(bodies, s.pivotAt(name, bodies[0], at, 0))
	known := make([]bool, len(w.start))
	for i, v := range w.start {
		known[i] = !math.IsNaN(v)
	}
	open := s.unknownsIn(e, known)
	if len(open) == 0 {
		return Move{}, false
	}
	m := Move{Equation: e, Gives: open[0]}
	if has(open, w.target) {
		m.Gives = w.target
	}
	return m, true
}

// choice asks for the point or the direction, then for what it needs.
func (l *ladder) choice(e *Equation, body string, own bool) {
	switch e.Kind {
	case Moments:
		p := e.Pivot.Name
		switch {
		case own && len(e.Passing) > 0:
			l.ask("You have begun with moments about " + p + ". Which forces have no moment about it?")
		case own:
			l.ask("You have begun with moments about " + p + ". Which of the forces in it do you not know yet?")
		case strings.HasSuffix(l.means, "balance"):
			l.ask("You have begun with the " + l.means + ". Which forces in it do you still not know? About which point would one of them have no moment?")
		default:
			l.ask("Which force do you not know and not want to know? Where could you take moments so that it has no moment?")
		}
		l.ask("Take moments about " + p + ". Which forces would turn " + body + " clockwise, and which anticlockwise?")
		l.ask("How far from " + p + " is the line of action of each force? Did you measure at right angles to the force?")
	case Balance:
		l.ask("In which direction do you know all forces but one?")
		l.ask("Balance the forces " + strings.ToLower(e.Direction.Name) + ". Which of them act " + e.plus() + ", and which " + e.minus() + "?")
		l.ask("Is each force wholly in that direction, or only a component of it?")
	default:
		l.ask("How is the greatest friction connected with the normal force?")
		l.ask("Which of the two can you find first, and from which balance?")
		l.ask("Is it really about to slip there? How do you know?")
	}
}

// rest asks for what comes after the equation; "" where nothing does.
func (l *ladder) rest(w *Working, m Move) string {
	known := make([]bool, len(w.start))
	for i, v := range w.start {
		known[i] = !math.IsNaN(v)
	}
	u := &w.scene.unknowns[m.Gives]
	switch {
	case len(w.scene.unknownsIn(m.Equation, known)) > 1:
		return "How many unknowns are in this one equation? Which second equation do you need?"
	case m.Gives != w.target:
		return "Once you have " + u.Words + ", which other balance gives what is asked for?"
	}
	return "How many unknowns are in this equation? Is one equation enough?"
}

// line shows the equation twice: first in symbols only, then with its numbers but one.
func (l *ladder) line(w *Working, m Move) {
	s, e := w.scene, m.Equation
	k := s.worker(nil)
	copy(k.values, w.start)
	// What the route finds before this equation is known by then; an equation of the pupil's own comes first.
	for i := range max(0, slices.IndexFunc(w.Moves, func(x Move) bool { return x.Equation == e })) {
		k.values[w.Moves[i].Gives] = s.unknowns[w.Moves[i].Gives].Value
	}
	if e.Kind == Limiting {
		r := e.relation
		l.ask("Which force stands on the left of that equation, and which two things are multiplied on the right?")
		l.show(formula.Equal(s.unknowns[r.friction].symbol(), formula.Times(s.unknowns[r.normal].symbol(), formula.Blank(""))), "One thing is missing from the equation. Which?")
		return
	}
	symbols, gaps := blanks(k.symbols(e, m.Gives))
	words := "Here is the balance in symbols. Which of them do you know, and what do they stand for?"
	switch {
	case e.Kind == Moments:
		words = "Here are the moments in symbols. Which distance does each d stand for?"
	case gaps:
		words = "Here is the balance in symbols. Which of them do you know, and what belongs in each gap?"
	}
	l.show(symbols, words)
	if gap, ok := withGap(k.line(e, m.Gives, asLengths)); ok {
		l.show(gap, "One number is missing from the equation. Which?")
		return
	}
	l.ask("What do you get when you put in what you know?")
}

func (l *ladder) limiting() bool {
	switch l.part.Ask {
	case question.AskFurthest, question.AskRange, question.AskGreatest, question.AskLeast, question.AskLeastCoefficient:
		return true
	}
	return false
}

// wouldDo asks what would happen without a support: the one that is asked about, else the one whose force the equation
// gives. Which way it would go is asked, not told.
func (l *ladder) wouldDo(s *scene, e *Equation, body string, m Move) {
	p := s.l.SupportNamed(l.part.Thing)
	if p == nil || p.By >= 0 {
		p = l.without(s, m)
	}
	switch {
	case p != nil && p.By < 0:
		name, gone := s.called(p), "were not there"
		switch {
		case p.Kind == question.Cable || p.Kind == question.Link:
			gone = "were cut"
		case m.Gives < len(s.unknowns) && s.unknowns[m.Gives].Letter == "F" && s.unknowns[m.Gives].Sub == p.Name:
			gone = "were smooth"
		}
		l.ask("What would " + s.body(p.On) + " do if " + name + " " + gone + "? About which point would it turn, or which way would it move?")
	case e.Kind == Moments && m.Gives < len(s.unknowns) && s.unknowns[m.Gives].Kind == OfPlace:
		l.ask("What happens to the balance when " + s.unknowns[m.Gives].Name + " is moved further out? Which force changes, and which way?")
	default:
		l.ask("If " + body + " did start to turn, what would it turn about, and which way?")
	}
}

// called is a support by its label, or by its side or its kind and its letter.
func (s *scene) called(p *answer.Support) string {
	if p.Label != "" && p.Label != p.Name {
		return s.thing(p.Label, p.Name)
	}
	switch p.Kind {
	case question.Floor, question.Wall, question.Slope, question.Cable, question.Hinge, question.Pivot, question.Clamp:
		return "the " + p.Kind.String() + " " + p.Name
	}
	var other *answer.Support
	for i := range s.l.Supports {
		if x := &s.l.Supports[i]; x.Name != p.Name {
			if other != nil {
				return p.Name
			}
			other = x
		}
	}
	switch {
	case other == nil || other.At.X == p.At.X:
		return p.Name
	case other.At.X < p.At.X:
		return "the right-hand support " + p.Name
	}
	return "the left-hand support " + p.Name
}

// without is the support whose force a move gives.
func (l *ladder) without(s *scene, m Move) *answer.Support {
	for i := range s.forces {
		if f := &s.forces[i]; f.Size == m.Gives && f.Size >= 0 {
			return s.l.SupportNamed(f.Name)
		}
	}
	return nil
}

// blanks leaves a gap for each number of a formula.
func blanks(n formula.Node) (formula.Node, bool) {
	if n.Op == formula.Num {
		return formula.Blank(""), true
	}
	args, any := append([]formula.Node(nil), n.Args...), false
	for i := range args {
		var gap bool
		args[i], gap = blanks(args[i])
		any = any || gap
	}
	n.Args = args
	return n, any
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
