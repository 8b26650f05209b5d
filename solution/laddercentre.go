package solution

import (
	"slices"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/question"
)

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
		l.massOfPieces(body, hole)
		l.given(r.Steps, true)
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
	l.given(slices.DeleteFunc(slices.Clone(r.Steps), func(x Step) bool { return x.Kind != Writing }), false)
}

// massOfPieces asks for the masses of a body's pieces and their sum; hole is the piece where nothing is left, "" for none.
func (l *ladder) massOfPieces(body, hole string) {
	l.ask("Is each piece given by its mass, or by how much each metre or square metre has?")
	l.ask("How long is each piece, or how large is its area?")
	l.ask("What do you multiply to get the mass of a piece?")
	if hole != "" {
		l.ask("How does " + hole + " count, where nothing is left?")
	}
	l.ask("In which unit is each mass?")
	l.ask("Is any piece counted twice?")
	l.ask("What do you do with the masses of the pieces to get the mass of " + body + "?")
}

// hung is the ladder of the angle at which a body hangs from one point.
func (l *ladder) hung(r *Route) {
	s := l.main
	i := s.l.BodyIndex(l.part.Thing)
	p := slices.IndexFunc(s.l.Supports, func(p answer.Support) bool { return p.On == i })
	if i < 0 || p < 0 || len(s.l.Bodies[i].Pieces) == 0 {
		l.plain()
		return
	}
	body, pin := s.body(i), s.called(&s.l.Supports[p])
	l.takeAway(s.l.Supports[p].Name)
	l.ask("Which two forces act on " + body + "?")
	l.ask("How must the lines of action of two forces lie, so that they balance?")
	l.ask("Where must the centre of mass be, seen from " + pin + "?")
	if before := l.earlier(question.AskCentre, l.part.Thing); before != "" {
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
	l.given(r.Steps[max(at, 0):], false)
}
