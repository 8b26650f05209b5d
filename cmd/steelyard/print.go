package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/figure"
	"steelyard/question"
	"steelyard/sheet"
	"steelyard/solution"
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
	a, err := answer.Solve(q)
	if err != nil {
		return sheet.Item{}, err
	}
	sol, err := solution.Solve(a)
	if err != nil {
		return sheet.Item{}, err
	}
	it := sheet.Item{
		Title:    q.Title,
		Wording:  question.Wording(q),
		Solution: sol,
		Picture: func(d sheet.Drawing) *draw.Picture {
			return figure.Draw(a.Layout, figure.Options{Width: d.Width, TextSize: d.TextSize, Upright: d.Upright})
		},
		View: func(v solution.View, d sheet.Drawing) *draw.Picture {
			o := figure.Options{View: figure.Forces, Body: v.Body, Width: d.Width, TextSize: d.TextSize, Upright: d.Upright, HideValues: true}
			if v.PivotName != "" {
				o.View, o.Pivot, o.PivotName = figure.Moment, v.Pivot, v.PivotName
			}
			return figure.Draw(v.Layout, o)
		},
	}
	for i := range a.Results {
		it.Parts = append(it.Parts, printedPart(q, &a.Results[i]))
	}
	return it, nil
}

func printedPart(q *question.Question, r *answer.Result) sheet.Part {
	p := r.Part
	out := sheet.Part{Name: p.Name, Text: question.PartWording(q, *p), Marks: p.Marks, Answer: r.Shown}
	switch p.Ask {
	case question.AskWhether, question.AskForceOn, question.AskDirection:
		out.Prose = true
	default:
		out.Label = strings.TrimSpace(label(p))
		out.Unit = unitSymbol(q, r.Unit)
	}
	return out
}

// label is what stands before an answer's line.
func label(p *question.Part) string {
	switch p.Ask {
	case question.AskFurthest, question.AskPosition:
		return "distance"
	case question.AskRange:
		return "from … to"
	case question.AskAngle:
		return "angle"
	case question.AskCoefficient, question.AskLeastCoefficient:
		return "coefficient of friction"
	case question.AskCentre:
		return "centre of mass at"
	case question.AskMoment, question.AskTotalMoment, question.AskCouple:
		return "moment"
	case question.AskMass:
		return "mass"
	case question.AskWeight:
		return "weight"
	case question.AskGreatest, question.AskLeast:
		if p.OfAngle {
			return "angle"
		}
		return "greatest or least"
	}
	return "force"
}

// unitSymbol is the unit that is printed after an answer's line, as the question writes it.
func unitSymbol(q *question.Question, si string) string {
	return answer.UnitFor(q, answer.Dimension(si)).Symbol
}
