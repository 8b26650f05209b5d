package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"steelyard/answer"
	"steelyard/statics"
)

type solveCommand struct {
	Files []string `arg:"" optional:"" name:"file" help:"Question files; none or - reads standard input."`
	JSON  bool     `name:"json" help:"Print JSON, in SI units (docs/solve.schema.json)."`
}

// Help shows examples.
func (solveCommand) Help() string {
	return `Examples:
  steelyard solve bridge.moments
  steelyard solve --json bridge.moments
  steelyard solve < bridge.moments`
}

// Run solves each file. A question of which no part has an answer, or a part has none, is refused
// once everything has been printed.
func (c solveCommand) Run(s streams) error {
	return s.each(c.Files, func(file string) error {
		q, err := s.read(file)
		if err != nil {
			return err
		}
		a, err := answer.Solve(q)
		if err != nil {
			return s.refuse(err)
		}
		if c.JSON {
			err = writeJSON(s.out, a)
		} else {
			err = writeAnswers(s.out, a)
		}
		if err != nil {
			return err
		}
		for _, r := range a.Results {
			if math.IsNaN(r.Value) {
				return errRefused
			}
		}
		return nil
	})
}

// stateNames are how the four kinds of answer are called in JSON.
var stateNames = map[statics.State]string{
	statics.Unique:        "unique",
	statics.NotFixed:      "not-fixed",
	statics.NoEquilibrium: "no-equilibrium",
	statics.Limit:         "limit",
}

// stateWords are how they are called to a reader.
var stateWords = map[statics.State]string{
	statics.Unique:        "in equilibrium",
	statics.NotFixed:      "in equilibrium, but equilibrium does not fix every force",
	statics.NoEquilibrium: "not in equilibrium",
	statics.Limit:         "in equilibrium, at the limit",
}

func writeAnswers(w io.Writer, a *answer.Answers) error {
	var b strings.Builder
	q := a.Layout.Question
	fmt.Fprintf(&b, "%s: %s\n", q.Title, stateWords[a.State])
	if a.State == statics.NoEquilibrium {
		fmt.Fprintf(&b, "  %s\n", answer.MotionInWords(a.Layout, a.Solution.Motion))
	}
	for _, g := range answer.GivingInWords(a.Layout, a.Solution.Giving) {
		fmt.Fprintf(&b, "  %s\n", g)
	}
	for _, f := range a.Forces {
		fmt.Fprintf(&b, "  %s\n", answer.ForceInWords(a, f))
	}
	for _, r := range a.Results {
		fmt.Fprintf(&b, "(%s) %s: %s\n", r.Part.Name, q.Asked(r.Part), r.Shown)
	}
	for _, t := range a.Warnings {
		fmt.Fprintf(&b, "warning: %s\n", t)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

type jsonForce struct {
	Name   string     `json:"name"`
	On     string     `json:"on"`
	X      number     `json:"x"`
	Y      number     `json:"y"`
	Couple number     `json:"couple"`
	XSpan  *[2]number `json:"xSpan,omitempty"`
	YSpan  *[2]number `json:"ySpan,omitempty"`
}

type jsonPart struct {
	Part  string `json:"part"`
	Asked string `json:"asked"`
	Value number `json:"value"`
	Unit  string `json:"unit"`
	Shown string `json:"shown"`
	Low   number `json:"low"`
	High  number `json:"high"`
}

type jsonMove struct {
	Body  string     `json:"body"`
	Turns bool       `json:"turns"`
	Sense string     `json:"sense,omitempty"`
	About string     `json:"about,omitempty"`
	Pivot *[2]number `json:"pivot,omitempty"`
	Heads *[2]number `json:"heads,omitempty"`
}

type jsonMotion struct {
	Words  string     `json:"words"`
	Bodies []jsonMove `json:"bodies"`
	Opens  []string   `json:"opens"`
	Slides []string   `json:"slides"`
}

type jsonAnswers struct {
	Question string      `json:"question"`
	State    string      `json:"state"`
	Forces   []jsonForce `json:"forces"`
	Parts    []jsonPart  `json:"parts"`
	Motion   *jsonMotion `json:"motion"`
	Giving   []string    `json:"giving"`
	Warnings []string    `json:"warnings"`
}

// A number is written as null where it is not a number or has no bound.
type number float64

// MarshalJSON writes 15 significant figures at most: every figure that float64 can be trusted for,
// and the same ones on every machine.
func (n number) MarshalJSON() ([]byte, error) {
	if math.IsNaN(float64(n)) || math.IsInf(float64(n), 0) {
		return []byte("null"), nil
	}
	v, err := strconv.ParseFloat(strconv.FormatFloat(float64(n), 'g', 15, 64), 64)
	if err != nil {
		return nil, err
	}
	return json.Marshal(v + 0) // never -0
}

func writeJSON(w io.Writer, a *answer.Answers) error {
	out := jsonAnswers{
		Question: a.Layout.Question.Title,
		State:    stateNames[a.State],
		Forces:   []jsonForce{},
		Parts:    []jsonPart{},
		Giving:   append([]string{}, answer.GivingInWords(a.Layout, a.Solution.Giving)...),
		Warnings: append([]string{}, a.Warnings...),
	}
	for _, f := range a.Forces {
		j := jsonForce{Name: f.Name, On: f.On, X: number(f.X), Y: number(f.Y), Couple: number(f.Couple)}
		if f.Spans != nil {
			j.XSpan, j.YSpan = span(f.Spans.X), span(f.Spans.Y)
			for _, c := range []struct {
				v *number
				s statics.Span
			}{{&j.X, f.Spans.X}, {&j.Y, f.Spans.Y}, {&j.Couple, f.Spans.Couple}} {
				if c.s.Least != c.s.Greatest {
					*c.v = number(math.NaN())
				}
			}
		}
		out.Forces = append(out.Forces, j)
	}
	for _, r := range a.Results {
		out.Parts = append(out.Parts, jsonPart{r.Part.Name, a.Layout.Question.Asked(r.Part), number(r.Value), r.Unit, r.Shown, number(r.Low), number(r.High)})
	}
	if m := a.Solution.Motion; m != nil {
		out.Motion = motion(a.Layout, m)
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(out)
}

func span(s statics.Span) *[2]number {
	if s.Least == s.Greatest {
		return nil
	}
	return &[2]number{number(s.Least), number(s.Greatest)}
}

func motion(l *answer.Layout, m *statics.Motion) *jsonMotion {
	out := &jsonMotion{Words: answer.MotionInWords(l, m), Bodies: []jsonMove{}, Opens: l.JointNames(m.Opens), Slides: l.JointNames(m.Slides)}
	for _, v := range answer.Moves(l, m) {
		j := jsonMove{Body: v.Body, Turns: v.Turns, Sense: v.Sense, About: v.About}
		if v.Turns {
			j.Pivot = &[2]number{number(v.Pivot.X), number(v.Pivot.Y)}
		} else {
			j.Heads = &[2]number{number(v.Heads.X), number(v.Heads.Y)}
		}
		out.Bodies = append(out.Bodies, j)
	}
	return out
}
