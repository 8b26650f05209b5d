package solution

import (
	"math"

	"steelyard/answer"
	"steelyard/question"
)

// force is the ladder of a force that no one equation gives: put together from two parts, open between two limits, or
// a multiple of another.
func (l *ladder) force(r *Route) {
	s := l.main
	p := s.l.SupportNamed(l.part.Thing)
	switch {
	case p == nil:
		l.plain()
	case r.Name == leastAndGreatest:
		l.open(p, r)
	case l.twoParts(s):
		l.parts(p, r)
	case s.forceNamed(p.Name).Tied != "":
		l.multiple(p, r)
	default:
		l.plain()
	}
}

// multiple is the ladder of a force that is a multiple of one that has been found.
func (l *ladder) multiple(p *answer.Support, r *Route) {
	s := l.main
	f := s.forceNamed(p.Name)
	other := s.unknowns[max(f.Size, 0)].Words
	l.takeAway(p.Name)
	l.ask("Which other force has to do with " + f.Words + "?")
	if f.Kind == Friction {
		l.ask("What is about to happen at " + p.Name + "?")
		l.ask("How do you get the greatest friction there from the normal force?")
	} else {
		l.ask("What does the question say of " + f.Words + " and " + other + "?")
		l.ask("Which of the two is the larger?")
	}
	if len(r.Uses) > 0 {
		l.ask("Which earlier part gives " + other + "?")
	} else {
		l.ask("Which balance gives " + other + "?")
	}
	l.ask("Do you multiply by the number, or divide by it?")
	l.ask("With your two values, do the forces on " + s.body(p.On) + " balance?")
	l.given(r.Steps, false)
}

// parts is the ladder of a force that is put together from its two components.
func (l *ladder) parts(p *answer.Support, r *Route) {
	thing := l.main.called(p)
	l.takeAway(p.Name)
	l.ask("Into which two components can you split the force at " + thing + "?")
	if len(r.Uses) > 0 {
		l.ask("Which earlier parts give the two components?")
	} else {
		l.ask("Which two balances give the two components?")
	}
	l.ask("At which angle do the two components meet?")
	l.ask("Draw one component as an arrow, and the other from its end. Where does the arrow of the force at " + thing + " go?")
	l.ask("What kind of triangle do the three arrows make?")
	if l.part.Ask != question.AskDirection {
		l.ask("How do you find the longest side of such a triangle from the other two?")
	}
	l.ask("Which two sides give the tangent of the angle to the horizontal?")
	l.ask("To which side, and up or down, does the force at " + thing + " point?")
	l.given(r.Steps, false)
}

// open is the ladder of a force that equilibrium leaves open.
func (l *ladder) open(p *answer.Support, r *Route) {
	s := l.main
	body, thing := s.body(p.On), l.part.Thing
	kind, missing := "a rest", "pull" // what it can't do
	if pulls(p) {
		kind, missing = "a cable", "push"
	}
	l.ask("Would " + body + " stay at rest if " + thing + " were not there?")
	l.ask("Which forces on " + body + " are not known?")
	l.ask("How many equations does equilibrium give for " + body + "?")
	l.ask("Are there enough equations for all the unknowns?")
	l.ask("What can " + kind + " not do: push or pull?")
	l.ask("If " + kind + " cannot " + missing + ", which forces are not possible?")
	if len(r.Steps) > 0 && math.Abs(l.result.Low) < 1e-9 {
		l.ask("What is the least force that there can be at " + thing + "?")
	} else {
		l.ask("Which other support carries nothing when the force at " + thing + " is least?")
	}
	if !math.IsInf(l.result.High, 0) {
		l.ask("Which other support carries nothing when the force at " + thing + " is greatest?")
		l.ask("With that one gone, about which point would you take moments?")
	}
	last := 0 // the greatest comes after the least
	for i := range r.Steps {
		if r.Steps[i].Kind == Writing {
			last = i
		}
	}
	l.given(r.Steps[last:], true)
}
