package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"runtime"
	"slices"
	"strings"
	"sync"

	"steelyard/bank"
	"steelyard/class"
	"steelyard/mark"
	"steelyard/question"
	"steelyard/slip"
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

// A bankKey is a question of the bank, ready for marking once it is needed.
type bankKey struct {
	name     string
	question *question.Question
	level    bool // that of the question that it follows
	key      *mark.Key
}

// A shelf is the questions of the bank that may follow a question: in another scene, with numbers that can vary.
type shelf []bankKey

// openShelf reads the bank; questions of q's level come first.
func openShelf(q *question.Question) (shelf, error) {
	var level, other shelf
	for _, name := range familyNames() {
		text, err := bank.Files.ReadFile(name + ".moments")
		if err != nil {
			return nil, err
		}
		f, err := question.Parse(name+".moments", string(text))
		if err != nil {
			return nil, err
		}
		switch {
		case f.Title == q.Title || len(f.Vary) == 0:
		case f.Level == q.Level:
			level = append(level, bankKey{name: name, question: f, level: true})
		default:
			other = append(other, bankKey{name: name, question: f})
		}
	}
	return append(level, other...), nil
}

// fit lists the questions that are meant to show one of the slips: of the level asked for, or else of any.
func (h shelf) fit(slips []string) []int {
	var level, all []int
	for i := range h {
		if !slices.ContainsFunc(slips, func(s string) bool { return slices.Contains(h[i].question.Traps, s) }) {
			continue
		}
		if all = append(all, i); h[i].level {
			level = append(level, i)
		}
	}
	if len(level) > 0 {
		return level
	}
	return all
}

// next is the question whose answers are expected to tell most about which of the hypotheses left holds, of those
// that are meant to show one of the slips; and which part of what is open they are expected to settle. The name
// is "" if none tells anything.
func (h shelf) next(left []mark.Suspect, slips []string) (name string, settles float64, err error) {
	fit := h.fit(slips)
	faults := make([]error, len(fit))
	var wait sync.WaitGroup
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	for n, i := range fit {
		if h[i].key != nil {
			continue
		}
		wait.Go(func() {
			free <- struct{}{}
			h[i].key, faults[n] = mark.NewKey(h[i].question, mark.Policy{})
			<-free
		})
	}
	wait.Wait()
	if err := errors.Join(faults...); err != nil {
		return "", 0, err
	}
	keys := make([]*mark.Key, len(fit))
	for n, i := range fit {
		keys[n] = h[i].key
	}
	best, ok := mark.Next(keys, left)
	if !ok || best.Most <= 0 {
		return "", 0, nil
	}
	return h[fit[best.Bank]].name, best.Bits / best.Most, nil
}

// open lists the slips that a pupil may have made: those that aren't next to excluded, or else the first few.
func open(left []mark.Suspect) []string {
	var out []string
	for _, s := range left {
		if slip.Named(s.Name) != nil && (s.Probability >= 0.02 || len(out) < 5) {
			out = append(out, s.Name)
		}
	}
	return out
}

// together is the mean of what is known of several pupils.
func together(results []class.Result, who func(name string) bool) []mark.Suspect {
	var out []mark.Suspect
	n := 0
	for i := range results {
		if !who(results[i].Name) {
			continue
		}
		n++
		for _, s := range results[i].Suspects {
			k := slices.IndexFunc(out, func(o mark.Suspect) bool { return o.Name == s.Name })
			if k < 0 {
				k = len(out)
				out = append(out, mark.Suspect{Name: s.Name})
			}
			out[k].Probability += s.Probability
		}
	}
	for k := range out {
		out[k].Probability /= float64(n)
	}
	return out
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
