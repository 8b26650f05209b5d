package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"steelyard/formula"
	"steelyard/slip"
)

type slipsCommand struct {
	Files []string `arg:"" optional:"" name:"file" help:"Question files; none or - reads standard input."`
	Pairs bool     `help:"List two slips at once too."`
	JSON  bool     `name:"json" help:"Print JSON, values in SI units."`
}

// Help shows examples.
func (slipsCommand) Help() string {
	return `For each slip that a pupil could make: the wrong lines, the wrong answers to all parts, and which slips these
numbers cannot tell apart. An answer that fits a slip is a hint, never a verdict: ask the pupil.

Examples:
  steelyard slips bridge.moments
  steelyard slips --pairs bridge.moments
  steelyard slips --json bridge.moments`
}

// Run lists the slips of each file.
func (c slipsCommand) Run(s streams) error {
	return s.each(c.Files, func(file string) error {
		q, err := s.read(file)
		if err != nil {
			return err
		}
		p, _, err := slip.Make(q)
		if err != nil {
			return s.refuse(err)
		}
		list, err := p.Outcomes()
		if err != nil {
			return err
		}
		single := len(list)
		if c.Pairs {
			pairs, err := p.Pairs()
			if err != nil {
				return err
			}
			list = append(list, pairs...)
		}
		if c.JSON {
			return writeSlipsJSON(s.out, p, list, single)
		}
		return writeSlips(s.out, p, list, single)
	})
}

func writeSlips(w io.Writer, p *slip.Plan, list []slip.Outcome, single int) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n", p.Question.Title)
	fmt.Fprint(&b, "right:")
	for i := range p.Slots {
		fmt.Fprintf(&b, "  %s %s", slotName(&p.Slots[i]), p.Shown(p.Slots[i].Right, i))
	}
	fmt.Fprintln(&b)
	for i := range list {
		o := &list[i]
		if i == single {
			fmt.Fprintln(&b, "\ntwo slips at once:")
		}
		title := o.Cases[0].Slip.Title + on(&o.Cases[0])
		if len(o.Cases) > 1 {
			title += "; " + o.Cases[1].Slip.Title + on(&o.Cases[1])
		} else {
			title += " (" + o.Cases[0].Slip.Frequency.String() + ")"
		}
		fmt.Fprintf(&b, "\n%s\n", title)
		for _, l := range o.Lines {
			fmt.Fprintf(&b, "    (%s) %s\n", l.Part, l.Plain())
		}
		fmt.Fprint(&b, "  gives:")
		for k := range p.Slots {
			if o.Shown[k] != "" {
				fmt.Fprintf(&b, "  %s %s", slotName(&p.Slots[k]), o.Shown[k])
			}
		}
		if o.Hidden {
			fmt.Fprint(&b, "  which passes as right: these numbers hide it")
		}
		fmt.Fprintln(&b)
	}
	if len(p.Words) > 0 {
		fmt.Fprintln(&b, "\nshows only in words or in how the answer is written:")
		for i := range p.Words {
			fmt.Fprintf(&b, "  %s: %s\n", p.Words[i].Title, p.Words[i].Evidence)
		}
	}
	if groups := p.Alike(list[:single]); len(groups) > 0 {
		fmt.Fprintln(&b, "\nthese numbers cannot tell apart:")
		for _, g := range groups {
			var names []string
			for _, i := range g {
				names = append(names, list[i].Cases[0].Slip.Title+on(&list[i].Cases[0]))
			}
			fmt.Fprintf(&b, "  %s\n", strings.Join(names, "; "))
		}
	}
	if len(p.Without) > 0 {
		fmt.Fprintf(&b, "\nno slip is known here for the numbers of part %s\n", strings.Join(p.Without, ", "))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// on says what a slip falls on.
func on(c *slip.Case) string {
	if c.Of == "" {
		return ""
	}
	return ": " + c.Of
}

func slotName(s *slip.Slot) string {
	if s.End != "" {
		return "(" + s.Part + ", " + s.End + ")"
	}
	return "(" + s.Part + ")"
}

type jsonSlot struct {
	Part  string `json:"part"`
	End   string `json:"end,omitempty"`
	Unit  string `json:"unit"`
	Right number `json:"right"`
}

type jsonSlip struct {
	Slip      string `json:"slip"`
	Title     string `json:"title"`
	Of        string `json:"of,omitempty"`
	Change    string `json:"change"`
	Evidence  string `json:"evidence"`
	Ask       string `json:"ask"`
	Frequency string `json:"frequency"`
	Source    string `json:"source"`
}

type jsonWrongLine struct {
	Part   string `json:"part"`
	Move   int    `json:"move"`
	Plain  string `json:"plain"`
	Spoken string `json:"spoken"`
	MathML string `json:"mathml"`
}

type jsonOutcome struct {
	Slips  []jsonSlip      `json:"slips"`
	Values []number        `json:"values"`
	Shown  []string        `json:"shown"`
	Lines  []jsonWrongLine `json:"lines"`
	Hidden bool            `json:"hidden"`
}

type jsonSlips struct {
	Question string        `json:"question"`
	Answers  []jsonSlot    `json:"answers"`
	Outcomes []jsonOutcome `json:"outcomes"`
	InWords  []jsonSlip    `json:"inWords"`
	Alike    [][]int       `json:"alike"`
	Without  []string      `json:"without"`
}

func writeSlipsJSON(w io.Writer, p *slip.Plan, list []slip.Outcome, single int) error {
	out := jsonSlips{Question: p.Question.Title, Answers: []jsonSlot{}, Outcomes: []jsonOutcome{}, InWords: []jsonSlip{},
		Alike: p.Alike(list[:single]), Without: append([]string{}, p.Without...)}
	if out.Alike == nil {
		out.Alike = [][]int{}
	}
	for _, s := range p.Slots {
		out.Answers = append(out.Answers, jsonSlot{s.Part, s.End, s.Unit, number(s.Right)})
	}
	row := func(s *slip.Slip, of string) jsonSlip {
		return jsonSlip{s.Name, s.Title, of, s.Change, s.Evidence, s.Ask, s.Frequency.String(), s.Source}
	}
	for i := range list {
		o := jsonOutcome{Slips: []jsonSlip{}, Shown: list[i].Shown, Lines: []jsonWrongLine{}, Hidden: list[i].Hidden}
		for k := range list[i].Cases {
			c := &list[i].Cases[k]
			o.Slips = append(o.Slips, row(&c.Slip, c.Of))
		}
		for _, v := range list[i].Values {
			o.Values = append(o.Values, number(v))
		}
		for k := range list[i].Lines {
			l := &list[i].Lines[k]
			o.Lines = append(o.Lines, jsonWrongLine{l.Part, l.Move, l.Plain(), l.Spoken(), formula.MathML(l.Formula, false)})
		}
		out.Outcomes = append(out.Outcomes, o)
	}
	for i := range p.Words {
		out.InWords = append(out.InWords, row(&p.Words[i], ""))
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(out)
}
