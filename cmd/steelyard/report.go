package main

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"steelyard/class"
	"steelyard/sheet"
)

type reportCommand struct {
	Key      string   `arg:"" help:"Question file, if the numbers are the same for all; or the folder that vary has written."`
	Answers  string   `arg:"" help:"Table of answers as CSV, with the columns pupil, part, answer, working; - reads standard input."`
	Output   []string `short:"o" sep:"none" required:"" help:"Write the picture of the class as .pdf or .html; give it twice for both." placeholder:"FILE"`
	Before   string   `help:"Last time: marks that mark -o has written, or answers to the same question." placeholder:"FILE"`
	Override string   `help:"Your own decisions as CSV, with the columns pupil, part, mark, reason." placeholder:"FILE"`
	Policy   string   `help:"How to mark where practice differs, a rule to a line, such as: unit needed: no." placeholder:"FILE"`
	Paper    string   `enum:"a4,letter" default:"a4" help:"Paper: a4 or letter."`
	Size     float64  `default:"11" help:"Size of the text in points, from 9 to 36."`
}

// Help shows examples.
func (reportCommand) Help() string {
	return `The picture of a class: how the marks are spread, how each part went, which slips the working suggests for whom and
how surely, groups to teach again with a plan for five minutes and a question to follow, and what has changed.

Examples:
  steelyard report bridge.moments answers.csv -o report.pdf
  steelyard report set2 answers2.csv --before marks1.csv -o report.pdf -o report.html`
}

// Run writes the picture of a class.
func (c reportCommand) Run(s streams) error {
	if !(c.Size >= 9 && c.Size <= 36) { // NaN too
		return usage("the text must be from 9 to 36 points; 11 is usual, 18 and 24 are large print")
	}
	for _, name := range c.Output {
		if err := reportName(name); err != nil {
			return err
		}
	}
	m, err := s.mark(handIn{c.Key, c.Answers, c.Override, c.Policy})
	if err != nil {
		return err
	}
	var before *class.Earlier
	if c.Before != "" {
		if before, err = s.earlier(handIn{key: c.Key, answers: c.Before, policy: c.Policy}); err != nil {
			return err
		}
	}
	r, err := m.report(class.PictureOf(m.results, before))
	if err != nil {
		return err
	}
	files, err := makeReports(c.Output, r.Title, []sheet.Report{r}, paper(c.Paper, c.Size))
	if err != nil {
		return err
	}
	for _, f := range files {
		if err := s.write(f.name, f.content); err != nil {
			return err
		}
	}
	if !slices.Contains(c.Output, "-") {
		fmt.Fprintf(s.out, "%s; open %s\n", counted(len(m.results), "pupil"), strings.Join(c.Output, " or "))
	}
	return nil
}

// earlier reads last time's marks, or marks last time's answers.
func (s streams) earlier(in handIn) (*class.Earlier, error) {
	f, name, err := s.table(in.answers)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	b, err := io.ReadAll(f)
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", name, err)
	}
	if class.IsMarks(bytes.NewReader(b)) {
		return class.ReadMarks(bytes.NewReader(b), name)
	}
	if in.answers == "-" {
		s.in = bytes.NewReader(b)
	}
	m, err := s.mark(in)
	if err != nil {
		return nil, err
	}
	return class.EarlierOf(m.results), nil
}
