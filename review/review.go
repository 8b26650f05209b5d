package review

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/solution"
	"steelyard/statics"
)

// Review lists what a colleague would doubt in a question, in the order in which they would read it.
func Review(a *answer.Answers, s *solution.Solution) question.Faults {
	q := a.Layout.Question
	var out question.Faults
	out = append(out, hardToRead(q)...)
	out = append(out, givenAway(a)...)
	out = append(out, unused(a)...)
	out = append(out, ties(a)...)
	out = append(out, marks(q, s)...)
	out = append(out, slips(a, s)...)
	for i := range out {
		out[i].File = q.File
	}
	return out
}

// longest is how many words a sentence may have before a reader of that level loses it.
//
// Common practice, no source.
var longest = map[string]int{"14-16": 28, "16-18": 34, "first year": 40}

// hardToRead finds sentences that are too long for the level.
func hardToRead(q *question.Question) question.Faults {
	limit, ok := longest[q.Level]
	if !ok {
		return nil
	}
	var out question.Faults
	for _, paragraph := range question.Wording(q) {
		for _, sentence := range sentences(paragraph) {
			if n := words(sentence); n > limit {
				out = append(out, question.Fault{
					What: fmt.Sprintf("a sentence of %d words is long for %s: %q", n, q.Level, shortened(sentence)),
					Mend: "make two of it",
				})
			}
		}
	}
	return out
}

// sentences splits a paragraph after a full stop, question mark or colon that a capital or the end follows.
func sentences(p string) []string {
	var out []string
	start := 0
	for i := 0; i+1 < len(p); i++ {
		if (p[i] == '.' || p[i] == '?' || p[i] == ':') && p[i+1] == ' ' && i+2 < len(p) && p[i+2] >= 'A' && p[i+2] <= 'Z' {
			out = append(out, p[start:i+1])
			start = i + 2
		}
	}
	return append(out, p[start:])
}

// words counts words; a number and its unit are one.
func words(s string) int { return len(strings.FieldsFunc(s, func(r rune) bool { return r == ' ' })) }

func shortened(s string) string {
	f := strings.Fields(s)
	if len(f) > 8 {
		f = append(f[:8:8], "…")
	}
	return strings.Join(f, " ")
}

// givenAway finds answers that stand in the wording.
func givenAway(a *answer.Answers) question.Faults {
	q := a.Layout.Question
	text := strings.Join(question.Wording(q), " ")
	var out question.Faults
	for i := range a.Results {
		r := &a.Results[i]
		value := number(r.Shown)
		if value == "" || r.Part.Show.Known() || math.IsNaN(r.Value) || r.Value == 0 {
			continue
		}
		others := text
		for j := range q.Parts {
			if j != i {
				others += " " + question.PartWording(q, q.Parts[j])
			}
		}
		if contains(quantity.Plain(others), value) {
			out = append(out, question.Fault{Span: r.Part.Span,
				What: fmt.Sprintf("part %s: the answer, %s, stands in the wording", r.Part.Name, value),
				Mend: "change a number, so that it can't be taken from there"})
		}
	}
	return out
}

// number is the number with its unit at the start of what is shown: "480 N" of "480 N up".
func number(shown string) string {
	f := strings.Fields(quantity.Plain(shown))
	if len(f) < 2 {
		return ""
	}
	if _, err := strconv.ParseFloat(f[0], 64); err != nil {
		return ""
	}
	if _, ok := quantity.UnitNamed(f[1]); !ok {
		return ""
	}
	return f[0] + " " + f[1]
}

// contains reports whether text has the quantity, not as a piece of a longer number or word.
func contains(text, value string) bool {
	for from := 0; ; {
		i := strings.Index(text[from:], value)
		if i < 0 {
			return false
		}
		i += from
		end := i + len(value)
		before := i == 0 || !strings.ContainsRune("0123456789.", rune(text[i-1]))
		after := end == len(text) || !('a' <= text[end]|0x20 && text[end]|0x20 <= 'z')
		if before && after {
			return true
		}
		from = end
	}
}

// unused finds numbers that no answer depends on.
func unused(a *answer.Answers) question.Faults {
	q := a.Layout.Question
	var out question.Faults
	for _, n := range q.Numbers() {
		v := q.Value(n.Thing, n.Attribute)
		if v.SI() == 0 || drawn(q, n) || matters(a, n) {
			continue
		}
		out = append(out, question.Fault{Span: v.Span,
			What: fmt.Sprintf("no answer depends on %s.%s, %s", n.Thing, n.Attribute, v.Quantity.String()),
			Mend: "leave it out of the wording, unless choosing what matters is part of the question"})
	}
	return out
}

// drawn reports whether a number is there for the picture, or is where something stands that the question
// then moves.
func drawn(q *question.Question, n question.Number) bool {
	if n.Attribute == "length" || n.Attribute == "height" {
		return true
	}
	for i := range q.Parts {
		p := &q.Parts[i]
		if p.Ask == question.AskWhether || p.Thing == n.Thing && (p.Ask == question.AskFurthest || p.Ask == question.AskRange) {
			return true
		}
	}
	return false
}

// matters reports whether changing a number changes an answer, or what kind of answer there is.
func matters(a *answer.Answers, n question.Number) bool {
	for _, factor := range []float64{0.97, 1.03} {
		q := a.Layout.Question.Clone()
		v := q.Value(n.Thing, n.Attribute)
		v.Quantity = quantity.Of(v.SI()*factor, v.Unit)
		b, err := answer.Solve(q)
		if err != nil || b.State != a.State || len(b.Results) != len(a.Results) {
			return true
		}
		for i := range b.Results {
			x, y := &a.Results[i], &b.Results[i]
			if differ(x.Value, y.Value) || differ(x.Low, y.Low) || differ(x.High, y.High) || differ(x.At, y.At) || differ(x.Second, y.Second) {
				return true
			}
		}
	}
	return false
}

func differ(x, y float64) bool {
	if math.IsNaN(x) || math.IsNaN(y) {
		return math.IsNaN(x) != math.IsNaN(y)
	}
	return math.Abs(x-y) > 1e-9*math.Max(math.Abs(x), math.Abs(y))
}

// ties finds answers that lie exactly between two rounded values.
func ties(a *answer.Answers) question.Faults {
	q := a.Layout.Question
	var out question.Faults
	for i := range a.Results {
		r := &a.Results[i]
		if math.IsNaN(r.Value) || r.Value == 0 || r.Unit == "rad" || r.Unit == "" || r.Part.Ask == question.AskWhether {
			continue
		}
		in := quantity.Of(r.Value, answer.UnitFor(q, answer.Dimension(r.Unit))).Value
		if tie(in, answer.Figures(q, r.Part)) {
			out = append(out, question.Fault{Span: r.Part.Span,
				What: fmt.Sprintf("part %s: the answer is a tie: %s lies exactly between two values of %d figures",
					r.Part.Name, strconv.FormatFloat(quantity.Snap(in), 'f', -1, 64), answer.Figures(q, r.Part)),
				Mend: "change a number a little, so that every rounding rule gives the same"})
		}
	}
	return out
}

// tie reports whether v, in so many figures, is exactly half-way between two values.
func tie(v float64, figures int) bool {
	r, ok := new(big.Rat).SetString(strconv.FormatFloat(math.Abs(quantity.Snap(v)), 'g', -1, 64))
	if !ok || r.Sign() == 0 {
		return false
	}
	exponent := int(math.Floor(math.Log10(math.Abs(v)))) - figures + 1
	scale := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(exponent, -exponent))), nil))
	if exponent > 0 {
		r.Quo(r, scale)
	} else {
		r.Mul(r, scale)
	}
	r.Mul(r, big.NewRat(2, 1))
	return r.IsInt() && r.Num().Bit(0) == 1
}

// marks finds parts whose marks don't match the work that their first route needs: about one mark for
// a single balance, two to four for an equation of moments, one more for each further equation.
//
// Common practice, no source.
func marks(q *question.Question, s *solution.Solution) question.Faults {
	var out question.Faults
	for i := range s.Parts {
		w := &s.Parts[i]
		if i >= len(q.Parts) || w.Marks == 0 || len(w.Routes) == 0 || w.Routes[0].Working == nil {
			continue
		}
		n := len(w.Routes[0].Working.Moves)
		least, most := n, 3*n+2
		if n > 3 {
			least = n - 1
		}
		switch {
		case w.Marks < least:
			out = append(out, question.Fault{Span: q.Parts[i].Span,
				What: fmt.Sprintf("part %s needs %s but has %s", w.Name, counted(n, "equation"), counted(w.Marks, "mark")), Mend: "give it more marks, or split it"})
		case w.Marks > most:
			out = append(out, question.Fault{Span: q.Parts[i].Span,
				What: fmt.Sprintf("part %s has %s for %s", w.Name, counted(w.Marks, "mark"), counted(n, "equation")), Mend: "give it fewer marks, or ask for more"})
		}
	}
	return out
}

// counted is "1 mark", "2 marks".
func counted(n int, noun string) string {
	if n != 1 {
		noun += "s"
	}
	return fmt.Sprintf("%d %s", n, noun)
}

// stands reports whether a question has forces to be found.
func stands(a *answer.Answers) bool {
	return a.State == statics.Unique || a.State == statics.Limit
}
