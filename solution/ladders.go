package solution

import (
	"strings"

	"steelyard/formula"
	"steelyard/question"
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

// given shows a line of the first step that has one to show, with its answer cut off and one number left out. Where the
// distances are worked out in the step, it is the last such line, else the first.
func (l *ladder) given(steps []Step, last bool) {
	for i := range steps {
		line, ok := toFill(steps[i].Lines, last)
		if !ok {
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

// toFill is the first line, or the last, in which a gap asks for something: an equation with a number on its right-hand
// side, which is not all that there is.
func toFill(lines []Line, last bool) (fill formula.Node, found bool) {
	for i := range lines {
		e := lines[i].Formula
		if e.Op != formula.Equals || e.Text != "=" || len(e.Args) < 2 {
			continue
		}
		left, right := e.Args[0], e.Args[1]
		n := numbers(right)
		if n == 0 || right.Op == formula.Num || n == 1 && numbers(left) == 0 && right.Op != formula.Product {
			continue
		}
		if fill, found = formula.Equal(left, right), true; !last {
			break
		}
	}
	return fill, found
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

// earlier is the first part before this one that asks the same of a thing; "" if none does.
func (l *ladder) earlier(ask question.Ask, thing string) string {
	for i := range l.a.Results {
		p := l.a.Results[i].Part
		if p == l.part {
			break
		}
		if p.Ask == ask && p.Thing == thing {
			return p.Name
		}
	}
	return ""
}

// plain is the ladder of anything else.
func (l *ladder) plain() {
	s := l.main
	i := 0
	if p := s.l.SupportNamed(l.part.Thing); p != nil {
		i = p.On
	} else if d := s.l.LoadNamed(l.part.Thing); d != nil {
		i = d.On
	} else {
		i = max(0, s.l.BodyIndex(l.part.Thing))
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
