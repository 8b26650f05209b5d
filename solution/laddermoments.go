package solution

import (
	"math"
	"slices"

	"steelyard/formula"
	"steelyard/question"
)

// moment is the ladder of the moment of one force about a point.
func (l *ladder) moment(r *Route) {
	s, about := l.main, l.place()
	f := s.forceNamed(l.part.Thing)
	thing := f.Words
	if d := s.l.LoadNamed(l.part.Thing); d != nil && f.Kind == Carried {
		thing = "the weight of " + s.load(d)
	} else if thing == "" {
		thing = l.part.Thing
	}
	body := s.body(max(f.On, 0))
	slants := !plainForce(f) || !s.l.Bodies[max(f.On, 0)].Level()
	l.ask("If " + thing + " were the only force on " + body + ", which way would " + body + " turn about " + about + "?")
	l.ask("Which two things do you multiply to get a moment?")
	l.ask("Draw the line of action of " + thing + ". Does it pass through " + about + "?")
	l.ask("Which point of that line is nearest to " + about + "?")
	l.ask("At which angle does the shortest way from " + about + " meet that line?")
	if slants {
		l.ask("Is the length along " + body + " that shortest way, or is it too long?")
	}
	l.ask("Between which two places do you measure the shortest way?")
	l.ask("Which unit and which sense belong to the answer?")
	l.given(r.Steps, true)
}

// totalMoment is the ladder of the moment of all that is given about a point.
func (l *ladder) totalMoment(r *Route) {
	s, about := l.main, l.place()
	body, turn, through := s.body(0), "", false
	at, known := s.l.Named(l.part.Other)
	if l.part.Place.Set() {
		at, known = s.l.Point(l.part.Place), true
	}
	for i := range s.forces {
		f := &s.forces[i]
		if isSupport(f.Kind) {
			continue
		}
		if f.Kind == Turn && s.l.SupportNamed(f.Name) == nil {
			turn = f.Words
		} else if known && math.Abs(cross(sub(f.At, at), f.Way)) < 1e-9 {
			through = true
		}
	}
	l.ask("If " + body + " could turn about " + about + " and nothing else held it, what would it do?")
	l.ask("Which forces on " + body + " count here: only what is given, or the supports too?")
	if through {
		l.ask("Which of these forces has no moment about " + about + "?")
	}
	l.ask("Which way does each of them turn " + body + " about " + about + "?")
	l.ask("How far from " + about + " is each line of action?")
	l.ask("Did you measure each of these distances from " + about + "?")
	if turn != "" {
		l.ask("What is the moment of " + turn + " about " + about + "?")
	}
	l.ask("Which sense do you count as positive?")
	l.ask("Which unit and which sense belong to the answer?")
	l.given(r.Steps, false)
}

// resultant is the ladder of one force in place of many.
func (l *ladder) resultant(r *Route) {
	s := l.main
	i := s.l.BodyIndex(l.part.Thing)
	if i < 0 {
		l.plain()
		return
	}
	t := s.sumOn(i)
	body := s.body(i)
	l.ask("Which loads and weights on " + body + " is the one force to stand for?")
	l.ask("Which two things must the one force have the same as all of them together?")
	for _, f := range t.acting {
		if f.Kind == Spread {
			l.ask(capital(f.Words) + " is spread out. At which point does it act, taken as one force?")
		}
	}
	if slices.ContainsFunc(t.acting, func(f *Force) bool { return f.Way.Y > 1e-12 }) {
		l.ask("Some of the forces on " + body + " act upwards. With which sign do they count?")
	}
	if t.level() {
		l.ask("What do the level parts of the forces on " + body + " add up to?")
		l.ask("What do the upright parts of these forces add up to?")
	} else {
		l.ask("What do all of these forces on " + body + " add up to?")
	}
	l.ask("From which point is its place to be measured?")
	l.ask("Which way does each load or weight turn " + body + " about " + t.from + "?")
	l.ask("How far from " + t.from + " is the line of action of each?")
	if slices.ContainsFunc(t.terms, func(x *Term) bool { return x.Force.Kind == Turn }) {
		l.ask("A couple has no line of action. How does it count in the sum of the moments?")
	}
	l.ask("How is the moment of the one force about " + t.from + " written?")
	for k := range r.Steps { // the equation for the place, without the sum of the forces
		if lines := r.Steps[k].Lines; r.Steps[k].Kind == Writing && len(lines) > 0 && numbers(lines[0].Formula.Args[0]) > 0 {
			l.given(r.Steps[k:k+1], false)
			return
		}
	}
	l.given(r.Steps, false)
}

// hasMass reports whether a weight is asked for of something whose mass is given or has been found.
func (l *ladder) hasMass() bool {
	if l.earlier(question.AskMass, l.part.Thing) != "" {
		return true
	}
	if b := l.main.l.BodyNamed(l.part.Thing); b != nil {
		return b.Body.Mass.Known()
	}
	d := l.main.l.LoadNamed(l.part.Thing)
	return d != nil && d.Load.Mass.Known()
}

// weight is the ladder from a mass to its weight.
func (l *ladder) weight() {
	s := l.main
	thing, f := "", s.forceNamed(l.part.Thing)
	if b := s.l.BodyNamed(l.part.Thing); b != nil {
		thing = l.bodyNamed(b.Name)
	} else if d := s.l.LoadNamed(l.part.Thing); d != nil {
		thing = s.thing(d.Load.Label, d.Name)
	}
	l.ask("What would " + thing + " do if nothing held it up?")
	l.ask("Which body pulls it that way?")
	l.ask("Is the weight of " + thing + " that pull, or how much stuff is in it?")
	l.ask("In which unit is a weight given?")
	if l.earlier(question.AskMass, l.part.Thing) != "" {
		l.ask("Which earlier part gives the mass of " + thing + "?")
	} else {
		l.ask("Where does the question tell the mass of " + thing + "?")
	}
	l.ask("In which unit must that mass be, before you go on?")
	l.ask("How many newtons does g give for each kilogram?")
	l.ask("What do you multiply to get the weight of " + thing + "?")
	l.show(formula.Equal(s.symbol(f), formula.Times(formula.Blank("kg"), fieldNode(s))), fillIn)
}
