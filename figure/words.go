package figure

import (
	"math"
	"strings"
	"unicode/utf8"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/quantity"
	"steelyard/question"
)

// longest is the most letters of a name that a picture shows.
const longest = 40

// plain is upright text, numbers and units set as in print.
func plain(text string) []draw.Run {
	if text = strings.TrimSpace(text); text == "" {
		return nil
	}
	return []draw.Run{{Text: text}}
}

// after is upright text that follows a symbol, with its space.
func after(text string) draw.Run { return draw.Run{Text: " = " + text} }

// shorten cuts a very long name.
func shorten(name string) string {
	if utf8.RuneCountInString(name) <= longest {
		return name
	}
	r := []rune(name)
	return strings.TrimSpace(string(r[:longest-1])) + "…"
}

// shown is a value as typed, typeset; "" unless it is given.
func shown(v question.Value) string {
	if !v.Known() {
		return ""
	}
	return quantity.Typeset(v.Quantity.String())
}

// computed writes the size of a force or a moment that was found as the question's answers are
// written: in its unit, and to as many figures.
func computed(l *answer.Layout, v float64, d quantity.Dimension) string {
	if !finite(v) {
		return ""
	}
	return quantity.Typeset(quantity.Format(math.Abs(v), answer.UnitFor(l.Question, d), answer.Figures(l.Question, nil)))
}

// length writes a length in metres in the unit and with the decimals that the question's lengths
// have, or one or two more where it is that exactly; else to one figure more than its answers.
func length(l *answer.Layout, v float64) string {
	q := l.Question
	u := answer.UnitFor(q, quantity.Length)
	decimals := answer.Decimals(q, u)
	v = quantity.Snap(math.Abs(v))
	for d := decimals; d <= decimals+2; d++ {
		text := quantity.FormatDecimals(v, u, d)
		if w, err := quantity.Parse(text, quantity.Length, u); err == nil && math.Abs(w.SI()-v) <= 1e-11*v {
			return quantity.Typeset(text)
		}
	}
	return quantity.Typeset(quantity.Format(v, u, max(answer.Figures(q, nil)+1, 4)))
}

// symbol is a quantity's symbol with a subscript: italic, but upright where the options ask so.
func (s *scene) symbolRuns(letter, sub string) []draw.Run {
	runs := []draw.Run{{Text: letter, Italic: !s.o.Upright}}
	if sub != "" {
		runs = append(runs, draw.Run{Text: shorten(sub), Sub: true})
	}
	return runs
}

// wrap breaks lines that are wider than a part of the picture, at spaces and inside long names.
func (s *scene) wrap(text [][]draw.Run) [][]draw.Run { return s.wrapTo(text, 0.36*s.o.Width) }

func (s *scene) wrapTo(text [][]draw.Run, most float64) [][]draw.Run {
	var out [][]draw.Run
	for _, runs := range text {
		if len(runs) != 1 || draw.RunsWidth(runs, s.size) <= most {
			out = append(out, runs)
			continue
		}
		style, line := runs[0], ""
		for _, word := range pieces(runs[0].Text) {
			longer := style
			longer.Text = strings.TrimRight(line+word, " ")
			if line != "" && draw.RunsWidth([]draw.Run{longer}, s.size) > most {
				style.Text = strings.TrimRight(line, " ")
				out, line = append(out, []draw.Run{style}), ""
			}
			line += word
		}
		style.Text = strings.TrimRight(line, " ")
		out = append(out, []draw.Run{style})
	}
	return out
}

// pieces cuts text where it may be broken: after a space, or a hyphen inside a long name.
func pieces(text string) []string {
	var out []string
	for _, word := range strings.SplitAfter(text, " ") {
		if utf8.RuneCountInString(word) < 16 {
			out = append(out, word)
			continue
		}
		out = append(out, strings.SplitAfter(word, "-")...)
	}
	return out
}
