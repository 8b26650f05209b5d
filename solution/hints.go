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

// A Hint is one rung of the ladder: one question, sometimes with a line that has a gap in it. It does not give
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
// "vertical balance". It keeps to that point wherever its moments hold something that is still unknown, and to that
// balance wherever it leaves one unknown or a route begins with it; elsewhere, or where means is "", it goes by the
// route that is shown first.
func HintsFrom(a *answer.Answers, s *Solution, part, means string) (hints []Hint, err error) {
	defer caught(&err)
	l := newLadder(a, s, part, means)
	if l == nil {
		return nil, fmt.Errorf("there is no part %q", part)
	}
	l.climb()
	return l.hints, nil
}

func newLadder(a *answer.Answers, s *Solution, part, means string) *ladder {
	for i := range s.Parts {
		if s.Parts[i].Name == part && i < len(a.Results) {
			p := a.Results[i].Part
			return &ladder{a: a, result: &a.Results[i], part: p, all: s.Parts, worked: &s.Parts[i], means: means,
				main: newScene(a, a.Layout, a.Solution.Reactions, p, limit{})}
		}
	}
	return nil
}

type ladder struct {
	a      *answer.Answers
	result *answer.Result
	part   *question.Part
	all    []Worked
	worked *Worked
	main   *scene // the arrangement as the question has it
	means  string // what the pupil has begun with; "" if nothing
	hints  []Hint

	removed *removal // what is taken away in thought; nil where nothing is
}

func (l *ladder) ask(words ...string) {
	for _, w := range words {
		l.hints = append(l.hints, Hint{Rung: len(l.hints) + 1, Say: say(w)})
	}
}

func (l *ladder) show(line formula.Node, words string) {
	l.ask(words)
	l.hints[len(l.hints)-1].Line = &Line{Formula: line}
}

const fillIn = "One number is missing from the equation. Which?"

func (l *ladder) climb() {
	first := &Route{}
	if len(l.worked.Routes) > 0 {
		first = &l.worked.Routes[0]
	}
	switch {
	case l.part.Ask == question.AskForceOn:
		l.pair(first.Working)
	case first.Working != nil:
		l.equations(first.Working)
	case slices.ContainsFunc(first.Ends, func(w *Working) bool { return w != nil }):
		for _, w := range first.Ends { // an end may be said in words
			if w != nil {
				l.equations(w)
				return
			}
		}
	default:
		if w, part := l.foundBefore(); w != nil {
			l.ask("Part (" + part + ") has an equation that holds what you need here. Which of its unknowns is asked for now?")
			l.equations(w)
			return
		}
		l.inWords(first)
	}
}

// foundBefore is the working of an earlier part that has found what is asked for on its way; nil if none has.
func (l *ladder) foundBefore() (*Working, string) {
	if len(l.worked.Routes) == 0 || l.worked.Routes[0].Name != foundEarlier || l.part.Ask == question.AskWeight && l.hasMass() {
		return nil, ""
	}
	for i := range l.all {
		p := &l.all[i]
		if p == l.worked {
			break
		}
		if len(p.Routes) == 0 || p.Routes[0].Working == nil || !slices.Contains(l.worked.Routes[0].Uses, p.Name) {
			continue
		}
		w := p.Routes[0].Working
		if w.target < len(w.scene.unknowns) && w.scene.unknowns[w.target].Name == l.part.Thing {
			return w, p.Name
		}
	}
	return nil, ""
}

// pair asks about the other force of a pair, after the first if that is still to be found.
func (l *ladder) pair(w *Working) {
	s, p := l.main, l.main.l.SupportNamed(l.part.Thing)
	body, at := l.bodyNamed(l.part.Other), l.part.Thing
	switch {
	case p == nil:
	case p.By >= 0 && s.l.Bodies[p.By].Name != l.part.Other:
		at = s.body(p.By)
	case p.By >= 0:
		at = s.body(p.On)
	default:
		at = s.called(p)
	}
	l.ask("Two bodies touch here. What touches " + body + " at " + l.part.Thing + "?")
	l.ask(capital(body) + " and " + at + " push or pull on each other. How many forces is that?")
	if w != nil {
		l.ask("The force on " + body + " comes first. Which forces act on " + body + "?")
		begun, _, _ := strings.Cut(l.means, " for the ")
		if e := w.Moves[0].Equation; begun != "" {
			words := "the " + begun
			if strings.HasPrefix(begun, "moments about ") {
				words = begun
			}
			l.ask("You have begun with " + words + ". Which of the forces in it do you not know yet?")
		} else if e.Kind == Balance {
			l.ask("Balance the forces on " + body + " " + strings.ToLower(e.Direction.Name) + ". What does that give for the force at " + l.part.Thing + "?")
		} else {
			l.ask("Which equation gives the force at " + l.part.Thing + "?")
		}
	} else {
		l.ask("Which of the forces at " + l.part.Thing + " have you found already?")
		l.ask("On which body does the force that you have found act?")
	}
	l.ask("The question asks for the force of " + body + " on " + at + ". On which of the two does that force act?")
	l.ask("How does the size of one force of such a pair compare with the size of the other?")
	l.ask("How do their directions compare?")
	l.ask("Besides a number and its unit, what must your answer tell?")
}

// bodyNamed is what the text calls a body of that name.
func (l *ladder) bodyNamed(name string) string {
	for i := range l.main.l.Bodies {
		if l.main.l.Bodies[i].Name == name {
			return l.main.body(i)
		}
	}
	return "the body"
}

// equations is the ladder to a route of equations.
func (l *ladder) equations(w *Working) {
	w, m, own := l.start(w)
	s, e := w.scene, m.Equation
	body := l.moving(s, e)
	l.opening(s, e, m)
	l.ask("Which two things must balance for " + body + " to stay at rest?")
	l.atTheLimit(s)
	if len(e.Bodies) > 1 {
		l.ask("Draw " + body + ". How many forces act on them from outside?")
	} else {
		l.ask("Draw " + body + " alone, with an arrow for each force. How many arrows are there?")
	}
	l.weights(s, e)
	begun, _, _ := strings.Cut(l.means, " for the ")
	if strings.HasPrefix(l.means, "moments about ") && !own {
		l.ask("You have begun with " + begun + ". Does what is asked for come into that equation?")
	}
	known := w.known()
	l.choice(s, e, m, begun, own, known)
	l.toFindFirst(w, m, known)
	l.rest(w, m, known)
	l.line(w, m)
}

// known tells what earlier parts have found.
func (w *Working) known() []bool {
	known := make([]bool, len(w.start))
	for i, v := range w.start {
		known[i] = !math.IsNaN(v)
	}
	return known
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
				if e := m.Equation; e.Kind == Moments && e.Pivot.Name == name && other.scene.isFor(of, e) {
					return other, m, true
				}
			}
		}
		if m, ok := l.about(w, name, of); ok {
			return w, m, true
		}
	}
	if strings.Contains(l.means, "balance") {
		if other, m, ok := l.balanced(w); ok {
			return other, m, true
		}
	}
	for _, m := range w.Moves {
		if m.Equation.Kind == Moments {
			return w, m, false
		}
	}
	return w, w.Moves[0], false
}

// balanced is the balance that has been begun: where a route begins with it, or where it holds only what is asked for.
func (l *ladder) balanced(w *Working) (*Working, Move, bool) {
	begun, of, _ := strings.Cut(l.means, " for the ")
	is := func(s *scene, e *Equation) bool {
		return e.Kind == Balance && begun == e.Direction.begun(s, e) && s.isFor(of, e)
	}
	for i := range l.worked.Routes {
		if other := l.worked.Routes[i].Working; other != nil && is(other.scene, other.Moves[0].Equation) {
			return other, other.Moves[0], true
		}
	}
	s := w.scene
	for i := range s.l.Bodies {
		for _, d := range s.directions([]int{i}) {
			e := s.balance([]int{i}, d)
			if open := s.unknownsIn(e, w.known()); is(s, e) && len(open) == 1 && open[0] == w.target {
				return w, Move{Equation: e, Gives: w.target}, true
			}
		}
	}
	return nil, Move{}, false
}

// isFor reports whether an equation is for what a reader of a pupil's lines calls of: "lower bar"; "" for the only body.
func (s *scene) isFor(of string, e *Equation) bool {
	return of == "" || s.bodies(e.Bodies) == "the "+of || of == "bodies taken together" && len(e.Bodies) > 1
}

// begun is what a reader of a pupil's lines calls a balance in a direction.
func (d Direction) begun(s *scene, e *Equation) string {
	body := strings.TrimPrefix(s.bodies(e.Bodies), "the ")
	switch d.Name {
	case "Vertically":
		return "vertical balance"
	case "Horizontally":
		return "horizontal balance"
	case "Along the slope":
		return "balance along the " + body
	}
	return "balance at right angles to the " + body
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
	open := s.unknownsIn(e, w.known())
	if len(open) == 0 {
		return Move{}, false
	}
	m := Move{Equation: e, Gives: open[0]}
	if has(open, w.target) {
		m.Gives = w.target
	}
	return m, true
}

// weights asks for what must be known of the forces before the equation: weights from masses, spread loads as one
// force, a ratio that is given.
func (l *ladder) weights(s *scene, e *Equation) {
	var masses, units, spread []string
	add := func(name string, mass question.Value) {
		masses, units = append(masses, name), append(units, unitWords[mass.Unit.Symbol])
	}
	for i := range s.l.Bodies {
		if b := &s.l.Bodies[i]; b.Body.Mass.Known() && e.holds(b.Name) {
			add(s.body(i), b.Body.Mass)
		}
	}
	for i := range s.l.Loads {
		d := &s.l.Loads[i]
		switch {
		case !e.holds(d.Name):
		case d.Kind == question.Spread:
			spread = append(spread, s.load(d))
		case d.Load.Mass.Known():
			add(s.load(d), d.Load.Mass)
		}
	}
	for i := range units {
		if units[i] == "" || units[i] != units[0] {
			units[0] = "units of mass"
		}
	}
	switch {
	case len(masses) == 1:
		l.ask(capital(masses[0]) + " is given in " + units[0] + ", not in newtons. How do you get its weight?")
	case len(masses) > 1:
		l.ask(capital(and(masses)) + " are given in " + units[0] + ", not in newtons. How do you get each weight?")
	}
	if len(spread) > 0 {
		l.ask("The weight of " + and(spread) + " is spread out. At which point does it act, taken as one force?")
	}
	for i := range e.Terms {
		if f := e.Terms[i].Force; f.Tied != "" && f.Kind != Friction {
			l.ask("What does the question say of " + f.Words + " and " + s.unknowns[f.Size].Words + "?")
			break
		}
	}
}

// unitWords are the units that masses are given in.
var unitWords = map[string]string{"g": "grams", "kg": "kilograms", "t": "tonnes"}

// holds reports whether a load or a body's weight has a term.
func (e *Equation) holds(name string) bool {
	return slices.ContainsFunc(e.Terms, func(t Term) bool { return t.Force.Name == name && !isSupport(t.Force.Kind) })
}

// choice asks for the point or the direction, then for what it needs.
func (l *ladder) choice(s *scene, e *Equation, m Move, begun string, own bool, known []bool) {
	switch e.Kind {
	case Moments:
		l.point(s, e, m, begun, own, known)
	case Balance:
		switch {
		case own:
			l.ask("You have begun with the " + begun + ". Which forces in it do you not know yet?")
		case len(s.unknownsIn(e, known)) == 1:
			l.ask("In which direction do you know all forces but one?")
		default:
			l.ask("In which direction do you know most of the forces?")
		}
		l.ask("Balance the forces on " + s.bodies(e.Bodies) + " " + strings.ToLower(e.Direction.Name) + ". Which way does each of them act?")
		if slices.ContainsFunc(e.Terms, func(t Term) bool { return t.Share != nil }) {
			l.ask("Which of them are at an angle, so that only a component counts here?")
		}
	default:
		at := e.relation.support
		l.ask("How do you get the greatest friction at " + at + " from the normal force there?")
		l.ask("Which balance gives the friction that is needed at " + at + "?")
		l.ask("Which balance gives the normal force at " + at + "?")
	}
}

// point asks for the point that moments are taken about, and for the arms there.
func (l *ladder) point(s *scene, e *Equation, m Move, begun string, own bool, known []bool) {
	p, body := e.Pivot.Name, s.bodies(e.Bodies)
	unwanted := 0
	for _, f := range e.Passing {
		if f.Size >= 0 && f.Size != m.Gives && !known[f.Size] {
			unwanted++
		}
	}
	switch {
	case own && len(e.Passing) > 0:
		l.ask("You have begun with moments about " + p + ". Which forces have no moment about it?")
	case own:
		l.ask("You have begun with moments about " + p + ". Which of the forces in it do you not know yet?")
	case strings.Contains(l.means, "balance"):
		l.ask("You have begun with the " + begun + ". Which forces in it do you not know yet?")
		l.ask("About which point would one of them have no moment?")
	case unwanted == 1:
		l.ask("Which unknown force would you like to leave out of the equation?")
		l.ask("About which point does that force have no moment?")
	case unwanted > 1:
		l.ask("Which unknown forces would you like to leave out of the equation?")
		l.ask("About which point do these forces have no moment?")
	default:
		l.ask("About which point would you take moments, so that few unknowns are left?")
	}
	l.ask("Take moments about " + p + ". Which way does each force turn " + body + "?")
	l.ask("How far from " + p + " is the line of action of each force?")
	if slices.ContainsFunc(e.Terms, func(t Term) bool { return t.Arm.Trig != nil }) {
		l.ask("Is each of these distances at right angles to its force?")
	}
}

// toFindFirst asks for what the equation takes over, from earlier parts or from equations that come before it.
func (l *ladder) toFindFirst(w *Working, m Move, known []bool) {
	s := w.scene
	none := make([]bool, len(known))
	for _, u := range s.unknownsIn(m.Equation, none) {
		if known[u] {
			l.ask("What in this equation do you know from an earlier part?")
			break
		}
	}
	at := slices.IndexFunc(w.Moves, func(x Move) bool { return x.Equation == m.Equation })
	for i := range max(at, 0) {
		x := &w.Moves[i]
		if !has(s.unknownsIn(m.Equation, none), x.Gives) {
			continue
		}
		l.ask("This equation holds " + s.unknowns[x.Gives].Words + " too. How can you find that first?")
	}
}

// rest asks for what comes after the equation.
func (l *ladder) rest(w *Working, m Move, known []bool) {
	s := w.scene
	u := &s.unknowns[m.Gives]
	open := s.unknownsIn(m.Equation, known)
	for _, x := range w.Moves {
		if x.Equation == m.Equation {
			break
		}
		open = slices.DeleteFunc(open, func(v int) bool { return v == x.Gives })
	}
	l.ask("How many unknowns are in this equation?")
	switch two := len(l.result.Part.Thing) > 0 && l.twoParts(s); {
	case len(open) > 1:
		l.ask("You need one equation for each unknown. Which other equation can you use?")
	case l.part.Ask == question.AskMass || l.result.Unit == "kg":
		l.ask("Once you have " + u.Words + ", how do you get the mass from it?")
	case l.part.Ask == question.AskMoment || l.part.Ask == question.AskTotalMoment:
		l.ask("Which side of the equation is the moment that is asked for?")
	case m.Gives == w.target && !two:
	case two && l.part.Ask == question.AskDirection:
		l.ask("Once you have " + u.Words + ", which equation gives " + l.otherPart(s, m.Gives) + "?")
		l.ask("How do you get the direction from two parts at right angles?")
	case two:
		l.ask("Once you have " + u.Words + ", which equation gives " + l.otherPart(s, m.Gives) + "?")
		l.ask("How do you put two parts at right angles together?")
	case m.Gives != w.target:
		l.ask("Once you have " + u.Words + ", which equation gives what is asked for?")
	}
	if p := l.base(s); p != nil && p.Mu > 0 && l.limits() {
		l.ask("How do you make sure which comes first, sliding or toppling?")
	}
	if len(l.worked.Routes) > 0 && len(l.worked.Routes[0].Ends) > 1 {
		l.ask("That is one end of the range. What is different at the other end?")
	}
}

// twoParts reports whether a force is asked for that is put together from two components.
func (l *ladder) twoParts(s *scene) bool {
	switch l.part.Ask {
	case question.AskForce, question.AskDirection:
	default:
		return false
	}
	n := 0
	for i := range s.forces {
		if f := &s.forces[i]; f.Name == l.part.Thing && isSupport(f.Kind) {
			n++
		}
	}
	return n == 2
}

// otherPart is the component of the force asked for that an equation does not give, in words.
func (l *ladder) otherPart(s *scene, gives int) string {
	for i := range s.forces {
		if f := &s.forces[i]; f.Name == l.part.Thing && isSupport(f.Kind) && f.Size != gives {
			return f.Words
		}
	}
	return "the other part of the force at " + l.part.Thing
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
		l.ask("Which force stands by itself on one side of that equation?")
		l.show(formula.Equal(s.unknowns[r.friction].symbol(), formula.Times(s.unknowns[r.normal].symbol(), formula.Blank(""))), "One thing is missing from the equation. Which?")
		return
	}
	symbols, gaps := blanks(k.symbols(e, m.Gives))
	words := "Here is the balance in symbols. Which of them do you know?"
	switch {
	case e.Kind == Moments && gaps:
		words = "Here are the moments in symbols. What belongs in each gap?"
	case e.Kind == Moments:
		words = "Here are the moments in symbols. Which distance does each d stand for?"
	case gaps:
		words = "Here is the balance in symbols. What belongs in each gap?"
	}
	l.show(symbols, words)
	if gap, ok := withGap(k.line(e, m.Gives, asLengths)); ok {
		l.show(gap, fillIn)
		return
	}
	l.ask("What do you get when you put in what you know?")
}
