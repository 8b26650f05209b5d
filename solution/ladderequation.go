package solution

import (
	"slices"
	"strings"

	"steelyard/formula"
	"steelyard/question"
)

// equations is the ladder to a route of equations.
func (l *ladder) equations(w *Working) {
	t := l.aim(w)
	s, e := t.w.scene, t.Equation
	body := l.moving(s, e)
	l.opening(s, e, t.Move)
	l.ask("Which two things must balance for " + body + " to stay at rest?")
	l.atTheLimit(s)
	if len(e.Bodies) > 1 {
		l.ask("Draw " + body + ". How many forces act on them from outside?")
	} else {
		l.ask("Draw " + body + " alone, with an arrow for each force. How many arrows are there?")
	}
	l.weights(s, e)
	if l.begun.about != "" && !t.own {
		l.ask("You have begun with " + l.begun.said() + ". Does what is asked for come into that equation?")
	}
	l.choice(t)
	l.toFindFirst(t)
	l.rest(t)
	l.line(t)
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
func (l *ladder) choice(t *aim) {
	s, e := t.w.scene, t.Equation
	switch e.Kind {
	case Moments:
		l.point(t)
	case Balance:
		switch {
		case t.own:
			l.ask("You have begun with " + l.begun.said() + ". Which forces in it do you not know yet?")
		case len(s.unknownsIn(e, t.known)) == 1:
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
func (l *ladder) point(t *aim) {
	s, e := t.w.scene, t.Equation
	p, body := e.Pivot.Name, s.bodies(e.Bodies)
	unwanted := 0
	for _, f := range e.Passing {
		if f.Size >= 0 && f.Size != t.Gives && !t.known[f.Size] {
			unwanted++
		}
	}
	switch {
	case t.own && len(e.Passing) > 0:
		l.ask("You have begun with moments about " + p + ". Which forces have no moment about it?")
	case t.own:
		l.ask("You have begun with moments about " + p + ". Which of the forces in it do you not know yet?")
	case l.begun.isBalance():
		l.ask("You have begun with " + l.begun.said() + ". Which forces in it do you not know yet?")
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
func (l *ladder) toFindFirst(t *aim) {
	s := t.w.scene
	unknowns := s.unknownsIn(t.Equation, make([]bool, len(t.known)))
	for _, u := range unknowns {
		if t.known[u] {
			l.ask("What in this equation do you know from an earlier part?")
			break
		}
	}
	for _, m := range t.before() {
		if has(unknowns, m.Gives) {
			l.ask("This equation holds " + s.unknowns[m.Gives].Words + " too. How can you find that first?")
		}
	}
}

// rest asks for what comes after the equation.
func (l *ladder) rest(t *aim) {
	s := t.w.scene
	u := &s.unknowns[t.Gives]
	open := s.unknownsIn(t.Equation, t.known)
	for _, m := range t.w.Moves {
		if m.Equation == t.Equation {
			break
		}
		open = slices.DeleteFunc(open, func(v int) bool { return v == m.Gives })
	}
	l.ask("How many unknowns are in this equation?")
	switch two := l.part.Thing != "" && l.twoParts(s); {
	case len(open) > 1:
		l.ask("You need one equation for each unknown. Which other equation can you use?")
	case l.part.Ask == question.AskMass || l.result.Unit == "kg":
		l.ask("Once you have " + u.Words + ", how do you get the mass from it?")
	case l.part.Ask == question.AskMoment || l.part.Ask == question.AskTotalMoment:
		l.ask("Which side of the equation is the moment that is asked for?")
	case two:
		l.ask("Once you have " + u.Words + ", which equation gives " + l.otherPart(s, t.Gives) + "?")
		if l.part.Ask == question.AskDirection {
			l.ask("How do you get the direction from two parts at right angles?")
		} else {
			l.ask("How do you put two parts at right angles together?")
		}
	case t.Gives != t.w.target:
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
func (l *ladder) line(t *aim) {
	s, e := t.w.scene, t.Equation
	k := s.worker(nil)
	copy(k.values, t.w.start)
	// What the route finds before this equation is known by then; an equation of the pupil's own comes first.
	for _, m := range t.before() {
		k.values[m.Gives] = s.unknowns[m.Gives].Value
	}
	if e.Kind == Limiting {
		r := e.relation
		l.ask("Which force stands by itself on one side of that equation?")
		l.show(formula.Equal(s.unknowns[r.friction].symbol(), formula.Times(s.unknowns[r.normal].symbol(), formula.Blank(""))), "One thing is missing from the equation. Which?")
		return
	}
	symbols, gaps := blanks(k.symbols(e, t.Gives))
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
	if gap, ok := withGap(k.line(e, t.Gives, asLengths)); ok {
		l.show(gap, fillIn)
		return
	}
	l.ask("What do you get when you put in what you know?")
}
