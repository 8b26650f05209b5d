package solution

import (
	"strings"

	"steelyard/formula"
)

// Text writes a whole solution for a terminal: every part with its first route, other routes in short.
func Text(s *Solution) string {
	var b strings.Builder
	if s.Question != "" {
		b.WriteString(s.Question + "\n\n")
	}
	for i := range s.Parts {
		b.WriteString(PartText(&s.Parts[i], 0))
		b.WriteString("\n")
	}
	if len(s.Check) > 0 {
		b.WriteString("Check\n")
		stepsText(&b, s.Check)
		b.WriteString("\n")
	}
	b.WriteString(wrap(s.Safety, 0))
	return b.String()
}

// PartText writes one part by its route n, from 0.
func PartText(w *Worked, n int) string {
	var b strings.Builder
	b.WriteString("(" + w.Name + ") " + capital(w.Asked))
	if w.Marks > 0 {
		b.WriteString("  [" + count(w.Marks, "mark") + "]")
	}
	b.WriteString("\n")
	if n >= 0 && n < len(w.Routes) {
		b.WriteString(RouteText(&w.Routes[n]))
	}
	b.WriteString("  Answer: " + plainText(w.Answer.Words) + "\n")
	for i := range w.Routes {
		if i != n {
			b.WriteString(wrap("Another way: "+plainText(w.Routes[i].Name), 2))
		}
	}
	return b.String()
}

// RouteText writes one route.
func RouteText(r *Route) string {
	var b strings.Builder
	b.WriteString(wrap("By "+plainText(r.Name)+".", 2))
	stepsText(&b, r.Steps)
	return b.String()
}

func stepsText(b *strings.Builder, steps []Step) {
	for i := range steps {
		if words := SayText(steps[i].Say); words != "" {
			b.WriteString(wrap(words, 2))
		}
		for _, l := range steps[i].Lines {
			line := "      " + plainText(formula.Text(l.Formula))
			if l.Note != "" {
				line += "   (" + plainText(l.Note) + ")"
			}
			var codes []string
			for _, m := range l.Marks {
				codes = append(codes, m.Code)
			}
			if len(codes) > 0 {
				line += "   " + strings.Join(codes, " ")
			}
			b.WriteString(line + "\n")
		}
	}
}

// SayText writes the words of a step in plain text.
func SayText(pieces []Piece) string {
	var b strings.Builder
	for _, p := range pieces {
		if p.Math != nil {
			b.WriteString(plainText(formula.Text(*p.Math)))
		} else {
			b.WriteString(plainText(p.Text))
		}
	}
	return b.String()
}

// Spoken writes the words of a step as they are said.
func Spoken(pieces []Piece) string {
	var b strings.Builder
	for _, p := range pieces {
		if p.Math != nil {
			b.WriteString(formula.Words(*p.Math))
			continue
		}
		if startsWithSpace(p.Text) {
			b.WriteString(" ")
		}
		b.WriteString(formula.Spoken(p.Text))
		if n := len(p.Text); n > 0 && p.Text[n-1] == ' ' {
			b.WriteString(" ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

func startsWithSpace(s string) bool { return s != "" && s[0] == ' ' }

// plainText has ordinary spaces, for terminals.
func plainText(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }

// wrap breaks words into lines of at most 96 characters, each indented.
func wrap(words string, indent int) string {
	margin := strings.Repeat(" ", indent)
	var b strings.Builder
	line := margin
	for word := range strings.FieldsSeq(words) {
		if len([]rune(line))+len([]rune(word)) > 96 && strings.TrimSpace(line) != "" {
			b.WriteString(strings.TrimRight(line, " ") + "\n")
			line = margin
		}
		line += word + " "
	}
	if strings.TrimSpace(line) != "" {
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	return b.String()
}
