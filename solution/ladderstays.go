package solution

import (
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/statics"
)

// whether is the ladder of whether it stays.
func (l *ladder) whether(r *Route) {
	s := l.main
	for i := range s.l.Supports {
		if p := &s.l.Supports[i]; p.Mu > 0 && !math.IsInf(p.Mu, 0) {
			l.slipsOrStays(p, r)
			return
		}
	}
	edge := l.edge()
	if edge == nil {
		l.plain()
		return
	}
	body, at := s.body(edge.On), edge.Name
	var rests []*answer.Support
	for i := range s.l.Supports {
		if p := &s.l.Supports[i]; p.On == edge.On {
			rests = append(rests, p)
		}
	}
	if len(rests) == 1 {
		l.ask("About which point can " + body + " turn?")
		l.ask("Has the force at " + at + " a moment about that point?")
	} else {
		l.ask("If " + body + " did tip, about which of its supports would it turn?")
		l.ask("Which support would it leave then?")
	}
	l.ask("Look at moments about " + at + ". Which way does each load or weight turn " + body + "?")
	l.ask("How far from " + at + " is the line of action of each?")
	l.ask("What is the total clockwise moment about " + at + " of the loads and weights?")
	l.ask("What is their total anticlockwise moment about " + at + "?")
	if len(rests) == 1 {
		l.ask("What must be true of the two totals if " + body + " is to stay level?")
	} else {
		l.ask("If the two totals differ, which support must make up for it?")
		l.ask("Can that support push or pull the way that is needed?")
	}
	l.ask("Which way would the larger total turn " + body + "?")
	l.given(r.Steps, false)
}

// edge is the support that the bodies would turn about: as they start to move where they do, else the one that carries
// most.
func (l *ladder) edge() *answer.Support {
	lay := l.a.Layout
	for _, m := range answer.Moves(lay, l.a.Solution.Motion) {
		if p := lay.SupportNamed(m.About); m.Turns && p != nil {
			return p
		}
	}
	var most *answer.Support
	size := -1.0
	for i := range lay.Supports {
		p := &lay.Supports[i]
		if p.Joint < len(l.a.Solution.Reactions) {
			if r := l.a.Solution.Reactions[p.Joint]; math.Hypot(r.X, r.Y) > size {
				most, size = p, math.Hypot(r.X, r.Y)
			}
		}
	}
	return most
}

// slipsOrStays is the ladder of whether friction holds a body.
func (l *ladder) slipsOrStays(p *answer.Support, r *Route) {
	s := l.main
	body, at := s.body(p.On), s.called(p)
	if o := l.without(p.Name, true); o != nil && l.a.State != statics.NoEquilibrium {
		l.asksWithout(o)
	} else {
		l.ask("What would " + body + " do if " + at + " were smooth?")
	}
	l.ask("Which way must the friction of " + at + " act to stop that?")
	if len(r.Uses) > 0 {
		l.ask("Which earlier part gives the friction that is needed to keep " + body + " at rest?")
		l.ask("Which earlier part gives the normal force of " + at + "?")
	} else {
		l.ask("Which balance gives the friction that is needed to keep " + body + " at rest?")
		l.ask("Which balance gives the normal force of " + at + "?")
	}
	l.ask("How do you get the greatest friction that there can be from the normal force?")
	l.ask("Which two sizes of friction must you compare?")
	if answer.IsFace(p.Support, &s.l.Bodies[p.On]) {
		l.ask("Besides sliding, in which other way could " + body + " start to move?")
		l.ask("Between which two points must the normal force act?")
	}
	l.ask("What follows if the friction that is needed is the smaller of the two?")
	end := slices.IndexFunc(r.Steps, func(x Step) bool { return x.Kind == Result })
	l.given(r.Steps[max(end, 0):], false)
}

// steepness is the ladder of the angle at which a slope lets a body slide or topple.
func (l *ladder) steepness(p *answer.Support, r *Route) {
	s := l.main
	body, slope := s.body(p.On), s.called(p)
	l.ask("What would " + body + " do if " + slope + " were far too steep?")
	face := answer.IsFace(p.Support, &s.l.Bodies[p.On])
	if face {
		l.ask("In which two ways could it start to move?")
	} else {
		l.ask("Which way would it start to move?")
	}
	l.ask("Draw " + body + " alone, with an arrow for each force. How many arrows are there?")
	l.ask("Which component of the weight of " + body + " must friction balance?")
	l.ask("Which component of the weight must the normal force balance?")
	l.ask("When " + body + " is about to slide, how do you get the friction from the normal force?")
	l.ask("What do you get if you divide one balance by the other?")
	if face {
		l.ask("When it is about to topple, at which point of the base does the normal force act?")
		l.ask("Through which point must the line of the weight then pass?")
		l.ask("Which of the two angles comes first as " + slope + " is raised?")
	}
	n := len(l.hints)
	l.given(r.Steps, false)
	if face && len(l.hints) > n {
		l.hints[n].Say = say("One number is missing from the equation for toppling. Which?")
	}
}
