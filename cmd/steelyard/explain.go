package main

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/hint"
	"steelyard/mark"
	"steelyard/question"
	"steelyard/sheet"
	"steelyard/solution"
)

type explainCommand struct {
	File    string  `arg:"" optional:"" help:"Question file; none or - reads standard input."`
	Part    string  `short:"p" help:"One part only, such as a." placeholder:"LETTER"`
	About   string  `help:"Take moments about this point: a name, or a place such as 2.00m." placeholder:"POINT"`
	Route   int     `help:"Show this way of working each part out, where there are several; 1 is the first." placeholder:"N"`
	Hints   bool    `help:"Print a ladder of questions in place of the working."`
	Working string  `help:"With --hints: a file with a pupil's lines for one part; - reads standard input. The ladder goes on from them." placeholder:"FILE"`
	Output  string  `short:"o" help:"With --hints: print the ladder as cards to cut out, to this PDF file." placeholder:"FILE"`
	Paper   string  `enum:"a4,letter" default:"a4" help:"Paper for cards: a4 or letter."`
	Size    float64 `default:"11" help:"Size of the text on cards in points, from 9 to 36; from 16 on it is large print."`
	HTML    bool    `name:"html" help:"Print HTML with MathML."`
	JSON    bool    `name:"json" help:"Print JSON: each step with its words, lines and marks."`
}

// Help shows examples.
func (explainCommand) Help() string {
	return `Examples:
  steelyard explain bridge.moments
  steelyard explain bridge.moments --part a --route 2
  steelyard explain bridge.moments --about Q
  steelyard explain bridge.moments --about 2.00m
  steelyard explain bridge.moments --part a --hints
  steelyard explain bridge.moments --part b --hints --working lines.txt
  steelyard explain bridge.moments --hints -o cards.pdf
  steelyard explain bridge.moments --hints -o cards.pdf --size 18`
}

// Run explains a question.
func (c explainCommand) Run(s streams) error {
	q, err := s.read(c.File)
	if err != nil {
		return err
	}
	a, err := answer.Solve(q)
	if err != nil {
		return s.refuse(err)
	}
	sol, err := solution.Solve(a)
	if err != nil {
		return err
	}
	if err := c.pick(sol); err != nil {
		return err
	}
	if c.Working != "" && !c.Hints {
		return usage("--working is for --hints")
	}
	if !(c.Size >= 9 && c.Size <= 36) { // NaN too
		return usage("the text must be from 9 to 36 points; 11 is usual, 18 and 24 are large print")
	}
	if c.Output != "" && (!c.Hints || !strings.EqualFold(filepath.Ext(c.Output), ".pdf")) {
		return usage("-o prints hint cards: it goes with --hints, and its file ends in .pdf")
	}
	switch {
	case c.About != "":
		return c.about(s, a)
	case c.Hints:
		return c.hints(s, q, a, sol)
	case c.JSON:
		return writeSolutionJSON(s, sol)
	case c.HTML:
		_, err = fmt.Fprintf(s.out, "<!DOCTYPE html>\n<html lang=\"en-GB\">\n<meta charset=\"utf-8\">\n<title>%s</title>\n%s</html>\n", escape(sol.Question), solution.HTML(sol, 1))
	default:
		_, err = fmt.Fprint(s.out, solution.Text(sol))
	}
	return err
}

func escape(s string) string {
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;").Replace(s)
}

// pick keeps the part and the route that are asked for.
func (c explainCommand) pick(sol *solution.Solution) error {
	if c.Part != "" {
		var kept []solution.Worked
		var letters []string
		for _, p := range sol.Parts {
			letters = append(letters, p.Name)
			if p.Name == c.Part {
				kept = append(kept, p)
			}
		}
		if len(kept) == 0 {
			return usage(fmt.Sprintf("there is no part %s; there is %s", c.Part, strings.Join(letters, ", ")))
		}
		sol.Parts = kept
	}
	if c.Route == 0 {
		return nil
	}
	most := 0
	for i := range sol.Parts {
		p := &sol.Parts[i]
		most = max(most, len(p.Routes))
		if c.Route > 0 && c.Route <= len(p.Routes) {
			p.Routes = p.Routes[c.Route-1 : c.Route]
		} else if c.Part != "" {
			return usage(fmt.Sprintf("part %s has %d ways of working it out; there is no --route %d", p.Name, len(p.Routes), c.Route))
		}
	}
	if c.Route < 0 || c.Route > most {
		return usage(fmt.Sprintf("no part has more than %d ways of working it out; there is no --route %d", most, c.Route))
	}
	return nil
}

func (c explainCommand) about(s streams, a *answer.Answers) error {
	body, at, name, err := solution.Point(a, c.About)
	if err != nil {
		return usage("--about: " + err.Error())
	}
	r, err := solution.About(a, body, at, name)
	if err != nil {
		return err
	}
	text := solution.RouteText(&r)
	switch {
	case c.JSON:
		return writeIndented(s, routeJSON(&r))
	case c.HTML:
		text = solution.RouteHTML(&r)
	}
	_, err = fmt.Fprint(s.out, text)
	return err
}

func (c explainCommand) hints(s streams, q *question.Question, a *answer.Answers, sol *solution.Solution) error {
	ladder := func(part string) ([]solution.Hint, error) { return solution.Hints(a, sol, part) }
	if c.Working != "" {
		if len(sol.Parts) > 1 {
			return usage("--working holds the lines for one part; say which with --part")
		}
		_, lines, err := s.text(c.Working)
		if err != nil {
			return err
		}
		k, err := mark.NewKey(q, mark.Policy{})
		if err != nil {
			return err
		}
		ladder = func(part string) ([]solution.Hint, error) { return hint.Working(k, part, lines) }
	}
	var cards []sheet.Ladder
	for i, p := range sol.Parts {
		hints, err := ladder(p.Name)
		if err != nil {
			return err
		}
		if c.Output != "" {
			cards = append(cards, sheet.Ladder{Part: p.Name, Asked: p.Asked, Hints: hints})
			continue
		}
		if i > 0 {
			fmt.Fprintln(s.out)
		}
		fmt.Fprintf(s.out, "(%s) %s\n", p.Name, p.Asked)
		for _, h := range hints {
			fmt.Fprintf(s.out, "  %d. %s\n", h.Rung, solution.SayText(h.Say))
			if h.Line != nil {
				fmt.Fprintf(s.out, "       %s\n", formula.Text(h.Line.Formula))
			}
		}
	}
	if c.Output == "" {
		return nil
	}
	o := sheet.Options{Size: c.Size}
	if c.Paper == "letter" {
		o.Paper = sheet.Letter
	}
	out, err := sheet.Cards(sol.Question, []sheet.Pack{{Title: sol.Question, Ladders: cards}}, o)
	if err != nil {
		return err
	}
	return s.write(c.Output, out)
}

type jsonLine struct {
	Text   string   `json:"text"`
	Words  string   `json:"words"`
	MathML string   `json:"mathml"`
	Marks  []string `json:"marks,omitempty"`
}

type jsonStep struct {
	Say   string     `json:"say"`
	Lines []jsonLine `json:"lines,omitempty"`
}

type jsonRoute struct {
	Name  string     `json:"name"`
	Poor  string     `json:"poor,omitempty"`
	Steps []jsonStep `json:"steps"`
}

type jsonWorked struct {
	Part   string      `json:"part"`
	Asked  string      `json:"asked"`
	Answer string      `json:"answer"`
	Routes []jsonRoute `json:"routes"`
}

type jsonSolution struct {
	Question string       `json:"question"`
	Parts    []jsonWorked `json:"parts"`
	Check    []jsonStep   `json:"check"`
	Safety   string       `json:"safety,omitempty"`
}

func writeSolutionJSON(s streams, sol *solution.Solution) error {
	out := jsonSolution{Question: sol.Question, Parts: []jsonWorked{}, Check: stepsJSON(sol.Check), Safety: sol.Safety}
	for _, p := range sol.Parts {
		w := jsonWorked{Part: p.Name, Asked: p.Asked, Answer: p.Answer.Words, Routes: []jsonRoute{}}
		for i := range p.Routes {
			w.Routes = append(w.Routes, routeJSON(&p.Routes[i]))
		}
		out.Parts = append(out.Parts, w)
	}
	return writeIndented(s, out)
}

func routeJSON(r *solution.Route) jsonRoute {
	return jsonRoute{Name: r.Name, Poor: r.Poor, Steps: stepsJSON(r.Steps)}
}

func stepsJSON(steps []solution.Step) []jsonStep {
	out := []jsonStep{}
	for _, st := range steps {
		j := jsonStep{Say: solution.SayText(st.Say)}
		for _, l := range st.Lines {
			line := jsonLine{Text: formula.Text(l.Formula), Words: formula.Words(l.Formula), MathML: formula.MathML(l.Formula, true)}
			for _, m := range l.Marks {
				line.Marks = append(line.Marks, m.Code)
			}
			j.Lines = append(j.Lines, line)
		}
		out = append(out, j)
	}
	return out
}

func writeIndented(s streams, v any) error {
	e := json.NewEncoder(s.out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}
