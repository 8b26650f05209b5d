package main

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"steelyard/bank"
	"steelyard/class"
	"steelyard/question"
	"steelyard/slip"
)

type reportCommand struct {
	Key      string   `arg:"" help:"Question file, if the numbers are the same for all; or the folder that vary has written."`
	Answers  string   `arg:"" help:"Table of answers as CSV, with the columns pupil, part, answer, working; - reads standard input."`
	Output   []string `short:"o" sep:"none" required:"" help:"Write the picture of the class as .pdf or .html; give it twice for both." placeholder:"FILE"`
	Before   string   `help:"Last time: marks that mark -o has written, or answers to the same question." placeholder:"FILE"`
	Override string   `help:"Your own decisions as CSV, with the columns pupil, part, mark, reason." placeholder:"FILE"`
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
	m, err := s.mark(handIn{c.Key, c.Answers, c.Override})
	if err != nil {
		return err
	}
	var before *class.Earlier
	if c.Before != "" {
		if before, err = s.earlier(c.Key, c.Before); err != nil {
			return err
		}
	}
	r, err := m.report(class.PictureOf(m.results, before))
	if err != nil {
		return err
	}
	files, err := makeReports(c.Output, r.Title, []report{r}, paper(c.Paper, c.Size))
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
func (s streams) earlier(key, file string) (*class.Earlier, error) {
	f, name, err := s.table(file)
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
	again := s
	again.in = bytes.NewReader(b)
	if file != "-" {
		again = s
	}
	m, err := again.mark(handIn{key: key, answers: file})
	if err != nil {
		return nil, err
	}
	return class.EarlierOf(m.results), nil
}

// followUp names a question of the bank whose numbers show the slips of a group, in another scene.
func followUp(q *question.Question, slips []string) string {
	best, most := "", 0
	for _, name := range familyNames() {
		text, err := bank.Files.ReadFile(name + ".moments")
		if err != nil {
			continue
		}
		f, err := question.Parse(name+".moments", string(text))
		if err != nil || f.Title == q.Title || len(f.Vary) == 0 {
			continue
		}
		score := 0
		for i, s := range slips {
			if slices.Contains(f.Traps, s) {
				score += 4 * (len(slips) - i) // the commonest weighs most
			}
		}
		if score > 0 && f.Level == q.Level {
			score++
		}
		if score > most {
			best, most = name, score
		}
	}
	return best
}

// titles are slips in words.
func titles(names []string) string {
	var out []string
	for _, n := range names {
		if s := slip.Named(n); s != nil {
			out = append(out, "“"+s.Title+"”")
		}
	}
	return strings.Join(out, ", ")
}
