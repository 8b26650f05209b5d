package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"steelyard/answer"
	"steelyard/homework"
	"steelyard/question"
	"steelyard/sheet"
)

type printCommand struct {
	Files     []string `arg:"" optional:"" name:"file" help:"Question files, in the order in which they are printed; none or - reads standard input."`
	Output    string   `short:"o" required:"" help:"PDF file to write; - is standard output." placeholder:"FILE"`
	Scheme    bool     `xor:"what" help:"Print the mark scheme."`
	Solutions bool     `xor:"what" help:"Print worked solutions."`
	Paper     string   `enum:"a4,letter" default:"a4" help:"Paper: a4 or letter."`
	Size      float64  `default:"11" help:"Size of the text in points, from 9 to 36; from 16 on it is large print, set anew."`
	Title     string   `help:"Title of the sheet; the question's own if not given."`
	Code      string   `help:"What stands in the foot, such as the number of the set."`
	NoNames   bool     `help:"No lines for name, class and date."`
}

// Help shows examples.
func (printCommand) Help() string {
	return `Examples:
  steelyard print bridge.moments ladder.moments -o sheet.pdf
  steelyard print bridge.moments -o scheme.pdf --scheme
  steelyard print bridge.moments -o large.pdf --size 18
  steelyard print bridge.moments -o solutions.pdf --solutions --paper letter`
}

// Run prints the questions on one sheet.
func (c printCommand) Run(s streams) error {
	if !(c.Size >= 9 && c.Size <= 36) { // NaN too
		return usage("the text must be from 9 to 36 points; 11 is usual, 18 and 24 are large print")
	}
	if ext := filepath.Ext(c.Output); c.Output != "-" && !strings.EqualFold(ext, ".pdf") {
		return usage(fmt.Sprintf("a sheet is written as .pdf; %s is no such name", c.Output))
	}
	set := sheet.Set{Title: c.Title, Code: c.Code}
	err := s.each(c.Files, func(file string) error {
		q, err := s.read(file)
		if err != nil {
			return err
		}
		// What check refuses is not printed for a class: a force that cannot be found, a false "show that".
		if faults, _ := answer.Check(q); len(faults) > 0 {
			return s.refuse(faults)
		}
		it, err := item(q)
		if err != nil {
			return s.refuse(err)
		}
		set.Items = append(set.Items, it)
		return nil
	})
	if err != nil {
		return err
	}
	if set.Title == "" {
		set.Title = "Bodies in equilibrium"
		if len(set.Items) == 1 {
			set.Title = set.Items[0].Title
		}
	}
	o := sheet.Options{Size: c.Size, HideNames: c.NoNames}
	if c.Paper == "letter" {
		o.Paper = sheet.Letter
	}
	write := sheet.Questions
	switch {
	case c.Scheme:
		write = sheet.Scheme
	case c.Solutions:
		write = sheet.Solutions
	}
	file, err := write(set, o)
	if err != nil {
		return fmt.Errorf("printing %s: %w", c.Output, err)
	}
	return s.write(c.Output, file)
}

// item takes a question through the whole of the engine to what is printed of it.
func item(q *question.Question) (sheet.Item, error) {
	a, err := homework.AskOf(q)
	if err != nil {
		return sheet.Item{}, err
	}
	return a.Item()
}
