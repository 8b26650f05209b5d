package solution

import (
	"fmt"
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
			return &ladder{a: a, result: &a.Results[i], part: p, all: s.Parts, worked: &s.Parts[i], begun: beginningOf(means),
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
	begun  beginning
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
		if e := w.Moves[0].Equation; l.begun.words != "" {
			l.ask("You have begun with " + l.begun.said() + ". Which of the forces in it do you not know yet?")
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
	if i := l.main.l.BodyIndex(name); i >= 0 {
		return l.main.body(i)
	}
	return "the body"
}
