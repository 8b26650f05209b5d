package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"steelyard/answer"
	"steelyard/bank"
	"steelyard/question"
	"steelyard/workbench"
)

type bankCommand struct {
	List    bankList    `cmd:"" default:"withargs" help:"List the questions: by idea, level, number of unknowns, kind."`
	Show    bankShow    `cmd:"" help:"Print one question: its file, its wording and its answers."`
	Copy    bankCopy    `cmd:"" help:"Copy one question out, to be changed."`
	Gallery bankGallery `cmd:"" help:"Take all of them through everything: answers, solutions, drawings, sheets."`
}

// Help shows examples.
func (bankCommand) Help() string {
	return `Examples:
  steelyard bank list --level 14-16
  steelyard bank list --kind overhang --unknowns 2
  steelyard bank show lock-footbridge
  steelyard bank copy lock-footbridge -o bridge.moments
  steelyard bank gallery -o out`
}

// A family is a question of the bank.
type family struct {
	name, text string
	question   *question.Question
	answers    *answer.Answers
	kinds      []string
	unknowns   int
}

// openFamily reads and solves one question of the bank.
func openFamily(name string) (*family, error) {
	text, err := fs.ReadFile(bank.Files, name+".moments")
	if err != nil {
		return nil, err
	}
	q, err := question.Parse(name+".moments", string(text))
	if err != nil {
		return nil, err
	}
	a, err := answer.Solve(q)
	if err != nil {
		return nil, err
	}
	return &family{name, string(text), q, a, workbench.KindsOf(a), workbench.UnknownsOf(a)}, nil
}

// familyNames are the names of all questions of the bank, without their ending.
func familyNames() []string {
	var names []string
	for _, n := range bank.Names() {
		names = append(names, strings.TrimSuffix(n, ".moments"))
	}
	return names
}

// find opens the question that the user named, with or without its ending.
func findFamily(s streams, name string) (*family, error) {
	name = strings.TrimSuffix(name, ".moments")
	if !slices.Contains(familyNames(), name) {
		return nil, usage(noFamily(name))
	}
	f, err := openFamily(name)
	if err != nil {
		return nil, s.refuse(err)
	}
	return f, nil
}

// noFamily says that there is no such question, and which share a word with what was typed.
func noFamily(name string) string {
	var like []string
	for _, n := range familyNames() {
		for _, word := range strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return r == '-' || r == ' ' || r == '_' }) {
			if len(word) > 2 && strings.Contains(n, word) && !slices.Contains(like, n) {
				like = append(like, n)
			}
		}
	}
	mend := `"steelyard bank list" names them all`
	if len(like) > 0 {
		mend = "there is " + strings.Join(like, ", ")
	}
	return fmt.Sprintf("the bank has no question %s; %s", strconv.Quote(name), mend)
}

type bankList struct {
	Idea     string `help:"Only those whose idea, title or traps have this word." placeholder:"WORD"`
	Level    string `enum:",14-16,16-18,first-year" default:"" help:"14-16, 16-18 or first-year." placeholder:"LEVEL"`
	Unknowns int    `help:"Only those with so many unknown numbers in the arrangement." placeholder:"N"`
	Kind     string `help:"Only those of this kind: ${kinds}." placeholder:"KIND"`
}

// Help says what is counted.
func (bankList) Help() string {
	return `Kinds and unknowns are found from the arrangement. A rest, a cable or a smooth wall is one unknown; a hinge
two, or one where all forces are upright; what is to be found of weights, places and angles counts too.

Examples:
  steelyard bank list --level 16-18 --kind tipping
  steelyard bank list --idea shared`
}

// Run lists the questions that fit, one a line.
func (c bankList) Run(s streams) error {
	if c.Kind != "" && !slices.Contains(workbench.Kinds, c.Kind) {
		return usage(fmt.Sprintf("there is no kind %s; there is %s", c.Kind, strings.Join(workbench.Kinds, ", ")))
	}
	w := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	n := 0
	for _, name := range familyNames() {
		f, err := openFamily(name)
		if err != nil {
			return s.refuse(err)
		}
		if !c.fits(f) {
			continue
		}
		if n++; n == 1 {
			fmt.Fprintln(w, "name\tlevel\tunknowns\tkinds\tidea")
		}
		fmt.Fprintf(w, "%s\t%s\t%d\t%s\t%s\n", f.name, f.question.Level, f.unknowns, strings.Join(f.kinds, ", "), f.question.Idea)
	}
	if n == 0 {
		fmt.Fprintln(s.err, "no question of the bank fits all of that; leave one condition out")
		return errRefused
	}
	return w.Flush()
}

func (c bankList) fits(f *family) bool {
	q := f.question
	words := strings.ToLower(strings.Join(append([]string{q.Idea, q.Title}, q.Traps...), " "))
	return strings.Contains(words, strings.ToLower(c.Idea)) &&
		(c.Level == "" || strings.ReplaceAll(q.Level, " ", "-") == c.Level) &&
		(c.Unknowns == 0 || f.unknowns == c.Unknowns) &&
		(c.Kind == "" || slices.Contains(f.kinds, c.Kind))
}

type bankShow struct {
	Name string `arg:"" help:"Name of the question."`
}

// Help shows an example.
func (bankShow) Help() string {
	return `Examples:
  steelyard bank show lock-footbridge`
}

// Run prints a question file, then the wording that pupils get, and the answers.
func (c bankShow) Run(s streams) error {
	f, err := findFamily(s, c.Name)
	if err != nil {
		return err
	}
	fmt.Fprintf(s.out, "%s\n", f.text)
	for _, p := range question.Wording(f.question) {
		fmt.Fprintln(s.out, p)
	}
	fmt.Fprintln(s.out)
	return writeAnswers(s.out, f.answers)
}

type bankCopy struct {
	Name   string `arg:"" help:"Name of the question."`
	Output string `short:"o" help:"File or folder to write to; - is standard output; NAME.moments if not given." placeholder:"FILE"`
	Force  bool   `help:"Write over a file that is there already."`
}

// Help shows examples.
func (bankCopy) Help() string {
	return `Examples:
  steelyard bank copy lock-footbridge
  steelyard bank copy lock-footbridge -o bridge.moments`
}

// Run copies a question file out of the bank.
func (c bankCopy) Run(s streams) error {
	f, err := findFamily(s, c.Name)
	if err != nil {
		return err
	}
	file := c.Output
	if file == "" {
		file = f.name + ".moments"
	}
	if file != "-" {
		if info, err := os.Stat(file); err == nil && info.IsDir() {
			file = filepath.Join(file, f.name+".moments")
		}
		if _, err := os.Lstat(file); !errors.Is(err, fs.ErrNotExist) && !c.Force {
			fmt.Fprintf(s.err, "steelyard: %s is there already; choose another name with -o, or write over it with --force\n", file)
			return errRefused
		}
	}
	return s.write(file, []byte(f.text))
}
