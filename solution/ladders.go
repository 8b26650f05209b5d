package solution

import (
	"slices"
	"strings"

	"steelyard/answer"
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
