package main

import (
	"steelyard/answer"
	"steelyard/question"
	"steelyard/review"
	"steelyard/solution"
)

type tidyCommand struct {
	Files []string `arg:"" optional:"" name:"file" help:"Question files; none or - reads standard input."`
	Write bool     `short:"w" help:"Write each file back in place of printing it."`
}

// Help shows examples.
func (tidyCommand) Help() string {
	return `Examples:
  steelyard tidy bridge.moments
  steelyard tidy -w *.moments`
}

// Run writes each question in the standard form; comments stay.
func (c tidyCommand) Run(s streams) error {
	return s.each(c.Files, func(file string) error {
		_, text, err := s.text(file)
		if err != nil {
			return err
		}
		q, err := question.Parse(nameOf(file), text)
		if err != nil {
			return s.refuse(err)
		}
		tidy := q.String()
		if !c.Write || file == "-" {
			return s.write("-", []byte(tidy))
		}
		if tidy == text {
			return nil
		}
		return s.write(file, []byte(tidy))
	})
}

func nameOf(file string) string {
	if file == "-" || file == "" {
		return "standard input"
	}
	return file
}

type checkCommand struct {
	Files []string `arg:"" optional:"" name:"file" help:"Question files; none or - reads standard input."`
}

// Help shows examples.
func (checkCommand) Help() string {
	return `Says what is wrong (exit status 1) and what is doubtful (warnings, exit status 0).

Examples:
  steelyard check bridge.moments
  steelyard check *.moments`
}

// Run checks each file: the notation, the mechanics and the wording.
func (c checkCommand) Run(s streams) error {
	return s.each(c.Files, func(file string) error {
		q, err := s.read(file)
		if err != nil {
			return err
		}
		faults, warnings := answer.Check(q)
		s.warn(q.Warnings())
		s.warn(warnings)
		if len(faults) > 0 {
			return s.refuse(faults)
		}
		doubts, err := doubts(q)
		s.warn(doubts)
		return err
	})
}

// doubts is what a colleague would say of a question that has no faults.
func doubts(q *question.Question) (question.Faults, error) {
	a, err := answer.Solve(q)
	if err != nil {
		return nil, err
	}
	sol, err := solution.Solve(a)
	if err != nil {
		return nil, err
	}
	return review.Review(a, sol), nil
}
