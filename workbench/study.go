package workbench

import (
	"steelyard/answer"
	"steelyard/formula"
	"steelyard/question"
	"steelyard/review"
	"steelyard/slip"
	"steelyard/solution"
)

// A Study is what takes longer than a step of dragging: the solution, the slips and the doubts.
type Study struct {
	Faults   question.Faults // why there is no more of it
	Solution string          // HTML
	Safety   string
	Wording  []string // what pupils read, a paragraph each
	Slips    []Slip
	Hidden   []string   // slips that lead to the right answer with these numbers
	Alike    [][]string // slips that these numbers can't tell apart
	InWords  []string   // slips that show only in words
	Without  []string   // parts for which no slip is known
	Doubts   question.Faults
	Plan     *slip.Plan

	Drawing string // what the drawing shows, in words
}

// A Slip is one that pupils can make here.
type Slip struct {
	Title, Frequency string
	Line             []string // of wrong working, as pieces for the eye ([formula.Pieces]); none if it changes none
	Said             string   // that line in words
	Plain            string
	Gives            []string // "(a) 310 N"
	Hidden           bool
}

// Study works out the slower part. Level is that of the headings of the solution.
func (v *View) Study(level int) *Study {
	s := &Study{Faults: v.Faults}
	if v.Picture != nil {
		s.Drawing = v.Picture.Description
	}
	if v.Question == nil {
		return s
	}
	s.Wording = question.Wording(v.Question)
	faults, warnings := answer.Check(v.Question)
	s.Doubts = append(append(s.Doubts, v.Question.Warnings()...), warnings...)
	if len(s.Faults) == 0 {
		s.Faults = faults
	}
	if v.Answers == nil {
		return s
	}
	sol, err := solution.Solve(v.Answers)
	if err != nil {
		return s
	}
	s.Solution, s.Safety = solution.HTML(sol, level), sol.Safety
	s.Doubts = append(s.Doubts, review.Review(v.Answers, sol)...)
	s.slips(v.Answers, sol)
	return s
}

func (s *Study) slips(a *answer.Answers, sol *solution.Solution) {
	p, err := slip.NewPlan(a, sol)
	if err != nil {
		return
	}
	list, err := p.Outcomes()
	if err != nil {
		return
	}
	s.Plan, s.Without = p, p.Without
	for i := range list {
		o := &list[i]
		x := Slip{Title: o.Cases[0].Slip.Title, Frequency: o.Cases[0].Slip.Frequency.String(), Hidden: o.Hidden}
		if of := o.Cases[0].Of; of != "" {
			x.Title += ": " + of
		}
		if len(o.Lines) > 0 {
			x.Line, x.Said, x.Plain = formula.Pieces(o.Lines[0].Formula), formula.Words(o.Lines[0].Formula), o.Lines[0].Plain()
		}
		for k := range p.Slots {
			if o.Shown[k] == "" {
				continue
			}
			name := p.Slots[k].Part
			if p.Slots[k].End != "" {
				name += ", " + p.Slots[k].End
			}
			x.Gives = append(x.Gives, "("+name+") "+o.Shown[k])
		}
		s.Slips = append(s.Slips, x)
		if o.Hidden {
			s.Hidden = append(s.Hidden, x.Title)
		}
	}
	for _, g := range p.Alike(list) {
		var names []string
		for _, i := range g {
			names = append(names, s.Slips[i].Title)
		}
		s.Alike = append(s.Alike, names)
	}
	for i := range p.Words {
		s.InWords = append(s.InWords, p.Words[i].Title)
	}
}
