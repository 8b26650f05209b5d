package solution

import (
	"math"
	"slices"
	"strings"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/question"
	"steelyard/statics"
)

// inWords is the ladder for parts that are not worked out by an equation of equilibrium: each from the part's own
// arrangement.
//
// The order of the rungs is common practice, no source.
func (l *ladder) inWords(r *Route) {
	switch l.part.Ask {
	case question.AskMoment:
		l.moment(r)
	case question.AskTotalMoment:
		l.totalMoment(r)
	case question.AskResultant:
		l.resultant(r)
	case question.AskCentre, question.AskMass:
		if b := l.main.l.BodyNamed(l.part.Thing); b != nil && len(b.Pieces) > 0 {
			l.centre(b, r)
			return
		}
		l.plain()
	case question.AskAngle:
		l.hung(r)
	case question.AskWhether:
		l.whether(r)
	case question.AskWeight:
		if l.hasMass() {
			l.weight()
			return
		}
		l.plain()
	case question.AskGreatest, question.AskLeast:
		if p := l.main.l.SupportNamed(l.part.Thing); p != nil && l.part.OfAngle {
			l.steepness(p, r)
			return
		}
		l.plain()
	case question.AskForce, question.AskAcross, question.AskUpright, question.AskDirection, question.AskNormal, question.AskFriction:
		l.force(r)
	default:
		l.plain()
	}
}

// given is a line of a route with its answer cut off and one number left out. Of the lines that will do, the last of
// the first step is taken where the distances are worked out there, else the first.
func (l *ladder) given(r *Route, last bool) {
	for i := range r.Steps {
		found := false
		var line formula.Node
		for _, x := range r.Steps[i].Lines {
			e := x.Formula
			if e.Op != formula.Equals || e.Text != "=" || len(e.Args) < 2 || found && !last {
				continue
			}
			e = formula.Equal(e.Args[0], e.Args[1])
			if n := numbers(e.Args[1]); n == 0 || e.Args[1].Op == formula.Num || numbers(e.Args[0]) == 0 && n == 1 && e.Args[1].Op != formula.Product {
				continue
			}
			line, found = e, true
		}
		if !found {
			continue
		}
		if left, ok := gap(line.Args[0]); ok { // the sum of the forces tells more than a distance
			l.show(formula.Equal(left, line.Args[1]), fillIn)
		} else if e, ok := withGap(line); ok {
			l.show(e, fillIn)
		}
		return
	}
}

// numbers counts the numbers of a formula that carry a unit.
func numbers(n formula.Node) int {
	if n.Op == formula.Num {
		if n.Unit == "" {
			return 0
		}
		return 1
	}
	count := 0
	for _, a := range n.Args {
		count += numbers(a)
	}
	return count
}

// place is what the text calls the point that a part asks about.
func (l *ladder) place() string {
	s, p := l.main, l.part
	if p.Place.Set() {
		return s.placeName(p.Place, s.l.Point(p.Place))
	}
	if q := s.l.SupportNamed(p.Other); q != nil && q.Label != "" && q.Label != q.Name {
		return s.called(q)
	}
	return p.Other
}

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
	l.ask("If " + thing + " were the only force on " + body + ", which way would it turn it about " + about + "?")
	l.ask("Which two things do you multiply to get a moment?")
	l.ask("Draw the line of action of " + thing + ". Does it pass through " + about + "?")
	l.ask("Which point of that line is nearest to " + about + "?")
	l.ask("At which angle does the shortest way from " + about + " meet that line?")
	if slants {
		l.ask("Is the length along " + body + " that shortest way, or is it too long?")
	}
	l.ask("Between which two places do you measure the shortest way?")
	l.ask("Which unit and which sense belong to the answer?")
	l.given(r, true)
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
	l.given(r, false)
}

// resultant is the ladder of one force in place of many.
func (l *ladder) resultant(r *Route) {
	s := l.main
	i := slices.IndexFunc(s.l.Bodies, func(b answer.Body) bool { return b.Name == l.part.Thing })
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
			one := Route{Steps: r.Steps[k : k+1]}
			l.given(&one, false)
			return
		}
	}
	l.given(r, false)
}

// centre is the ladder of the centre of mass, or the mass, of a body made of pieces.
func (l *ladder) centre(b *answer.Body, r *Route) {
	s := l.main
	t, body, corner := s.tableOf(b), l.bodyNamed(b.Name), "the corner"
	var names []string
	hole, negative := "", false
	for i := range t.rows {
		p := &t.rows[i]
		name := s.thing(p.Label, p.Piece.Name)
		names = append(names, name)
		if p.Hole {
			hole = name
		}
		negative = negative || p.X < -1e-9 || p.Y < -1e-9
	}
	l.ask("Which simple pieces is " + body + " made of?")
	if l.part.Ask == question.AskMass {
		l.ask("Is each piece given by its mass, or by how much each metre or square metre has?")
		l.ask("How long is each piece, or how large is its area?")
		l.ask("What do you multiply to get the mass of a piece?")
		if hole != "" {
			l.ask("How does " + hole + " count, where nothing is left?")
		}
		l.ask("In which unit is each mass?")
		l.ask("Is any piece counted twice?")
		l.ask("What do you do with the masses of the pieces to get the mass of " + body + "?")
		l.given(r, true)
		return
	}
	for i := range t.rows {
		switch t.rows[i].Kind {
		case question.RodPiece:
			l.ask("How far along " + names[i] + " is its centre of mass?")
		case question.Triangle:
			l.ask("A triangle does not balance at half its height. How far above its base does " + names[i] + " balance?")
		case question.Rectangle, question.Disc:
			l.ask("Where is the centre of mass of " + names[i] + " by itself?")
		}
	}
	if hole != "" {
		l.ask("How does " + hole + " count in the sums, where nothing is left?")
	}
	if t.each == "mass" {
		l.ask("What is the mass of each piece?")
	} else {
		l.ask("No mass is given for each piece. What can stand for it here?")
	}
	l.ask("From which corner do you measure, and in which two directions?")
	if negative {
		l.ask("Some pieces lie on the other side of " + corner + ". What is the sign of their distances?")
	}
	l.ask("Make a table with a row for each of " + and(names) + ". What stands in the columns?")
	l.ask("What is " + t.each + " times distance across for each row?")
	l.ask("All the mass of " + body + " may be put at its centre of mass. What is its moment about " + corner + " then equal to?")
	l.ask("What changes in the table for the distance up?")
	l.given(&Route{Steps: slices.DeleteFunc(slices.Clone(r.Steps), func(x Step) bool { return x.Kind != Writing })}, false)
}

// hung is the ladder of the angle at which a body hangs from one point.
func (l *ladder) hung(r *Route) {
	s := l.main
	i := slices.IndexFunc(s.l.Bodies, func(b answer.Body) bool { return b.Name == l.part.Thing })
	p := slices.IndexFunc(s.l.Supports, func(p answer.Support) bool { return p.On == i })
	if i < 0 || p < 0 || len(s.l.Bodies[i].Pieces) == 0 {
		l.plain()
		return
	}
	body, pin := s.body(i), s.called(&s.l.Supports[p])
	if o := l.without(s.l.Supports[p].Name, false); o != nil {
		l.asksWithout(o)
	}
	l.ask("Which two forces act on " + body + "?")
	l.ask("How must the lines of action of two forces lie, so that they balance?")
	l.ask("Where must the centre of mass be, seen from " + pin + "?")
	before := ""
	for k := range l.all {
		if l.all[k].Name == l.part.Name {
			break
		}
		if q := l.a.Results[k].Part; q.Ask == question.AskCentre && q.Thing == l.part.Thing {
			before = q.Name
		}
	}
	if before != "" {
		l.ask("Part (" + before + ") has given the centre of mass. From which point is it measured there?")
	} else {
		l.ask("How do you find the centre of mass of " + body + " from its pieces?")
	}
	l.ask("How far is the centre of mass from " + pin + ", along each of the two sides?")
	l.ask("These two distances are the short sides of a right-angled triangle. Where is its long side?")
	l.ask("Which angle of that triangle do you need?")
	at := len(r.Steps) - 1
	for k := range r.Steps {
		if len(r.Steps[k].Lines) > 0 && r.Steps[k].Lines[0].Formula.Op == formula.Equals && r.Steps[k].Lines[0].Formula.Args[0].Op == formula.Func {
			at = k
		}
	}
	l.given(&Route{Steps: r.Steps[max(at, 0):]}, false)
}

// hasMass reports whether a weight is asked for of something whose mass is given or has been found.
func (l *ladder) hasMass() bool {
	for i := range l.a.Results {
		p := l.a.Results[i].Part
		if p == l.part {
			break
		}
		if p.Ask == question.AskMass && p.Thing == l.part.Thing {
			return true
		}
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
	found := ""
	for i := range l.a.Results {
		if p := l.a.Results[i].Part; found == "" && p != l.part && p.Ask == question.AskMass && p.Thing == l.part.Thing {
			found = p.Name
		}
	}
	l.ask("What would " + thing + " do if nothing held it up?")
	l.ask("Which body pulls it that way?")
	l.ask("Is the weight of " + thing + " that pull, or how much stuff is in it?")
	l.ask("In which unit is a weight given?")
	if found != "" {
		l.ask("Which earlier part gives the mass of " + thing + "?")
	} else {
		l.ask("Where does the question tell the mass of " + thing + "?")
	}
	l.ask("In which unit must that mass be, before you go on?")
	l.ask("How many newtons does g give for each kilogram?")
	l.ask("What do you multiply to get the weight of " + thing + "?")
	l.show(formula.Equal(s.symbol(f), formula.Times(formula.Blank("kg"), fieldNode(s))), fillIn)
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
	l.given(r, false)
	if face && len(l.hints) > n {
		l.hints[n].Say = say("One number is missing from the equation for toppling. Which?")
	}
}

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
	if o := l.without(p.Name, false); o != nil {
		l.asksWithout(o)
	}
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
	l.given(r, false)
}

// parts is the ladder of a force that is put together from its two components.
func (l *ladder) parts(p *answer.Support, r *Route) {
	thing := l.main.called(p)
	if o := l.without(p.Name, false); o != nil {
		l.asksWithout(o)
	}
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
	l.given(r, false)
}

// open is the ladder of a force that equilibrium leaves open.
func (l *ladder) open(p *answer.Support, r *Route) {
	s := l.main
	body, thing := s.body(p.On), l.part.Thing
	pull := "a rest"
	does := "pull"
	if pulls(p) {
		pull, does = "a cable", "push"
	}
	l.ask("Would " + body + " stay at rest if " + thing + " were not there?")
	l.ask("Which forces on " + body + " are not known?")
	l.ask("How many equations does equilibrium give for " + body + "?")
	l.ask("Are there enough equations for all the unknowns?")
	l.ask("What can " + pull + " not do: push or pull?")
	l.ask("If " + pull + " cannot " + does + ", which forces are not possible?")
	if len(r.Steps) > 0 && math.Abs(l.result.Low) < 1e-9 {
		l.ask("What is the least force that there can be at " + thing + "?")
	} else {
		l.ask("Which other support carries nothing when the force at " + thing + " is least?")
	}
	if !math.IsInf(l.result.High, 0) {
		l.ask("Which other support carries nothing when the force at " + thing + " is greatest?")
		l.ask("With that one gone, about which point would you take moments?")
	}
	last := *r // the greatest comes after the least
	for i := range r.Steps {
		if r.Steps[i].Kind == Writing {
			last.Steps = r.Steps[i:]
		}
	}
	l.given(&last, true)
}

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
	l.given(r, false)
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
	last := *r
	for i := range r.Steps {
		if r.Steps[i].Kind == Result {
			last.Steps = r.Steps[i:]
			break
		}
	}
	l.given(&last, false)
}

// plain is the ladder of anything else.
func (l *ladder) plain() {
	s := l.main
	i := 0
	if p := s.l.SupportNamed(l.part.Thing); p != nil {
		i = p.On
	} else if d := s.l.LoadNamed(l.part.Thing); d != nil {
		i = d.On
	} else if k := slices.IndexFunc(s.l.Bodies, func(b answer.Body) bool { return b.Name == l.part.Thing }); k >= 0 {
		i = k
	}
	var names []string
	for k := range s.l.Supports {
		if p := &s.l.Supports[k]; p.On == i {
			names = append(names, s.called(p))
		}
	}
	body := s.body(i)
	l.ask("What is asked for: a force, a moment, a place, or a reason?")
	if len(names) == 0 {
		l.ask("Draw " + body + " alone. Which things touch it?")
	} else {
		l.ask("Draw " + body + " alone. Which way can it be pushed or pulled by " + strings.Join(names, ", by ") + "?")
	}
	l.ask("Which forces act on " + body + "?")
	l.ask("Where does each of them act?")
	l.ask("Which of these forces are given?")
	l.ask("Which of them can be as large as is needed?")
	l.ask("What is about to change at the moment that is asked about?")
	l.ask("Which point, or which direction, leaves fewest unknowns?")
}
