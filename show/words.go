package show

import (
	"strings"

	"steelyard/formula"
	"steelyard/solution"
)

// signs are what is left over in words that were written to be read.
var signs = strings.NewReplacer("°", " degrees ", "²", " squared", "³", " cubed", "×", " times ", "−", " minus ", "=", " is equal to ", "μ", "mu", "θ", "theta", "≤", " is at most ", "≥", " is at least ", "√", "the square root of ", "π", "pi", "_", " ", "–", " to ", "\u00a0", " ", "\u202f", "", "\u2009", "")

// tidy closes words up.
func tidy(s string) string {
	s = strings.Join(strings.Fields(signs.Replace(s)), " ")
	for _, p := range []string{".", ",", ";", ":", ")"} {
		s = strings.ReplaceAll(s, " "+p, p)
	}
	return s
}

// sayAll says the words of several steps, one after another.
func sayAll(steps ...solution.Step) string {
	var list []string
	for _, s := range steps {
		if words := solution.Spoken(apposed(s.Say)); words != "" {
			list = append(list, words)
		}
	}
	return strings.Join(list, " ")
}

// apposed is words in which "is F = 234 N" reads "is F, 234 N".
func apposed(pieces []solution.Piece) []solution.Piece {
	var out []solution.Piece
	for i, p := range pieces {
		if p.Math == nil || p.Math.Op != formula.Equals || len(p.Math.Args) != 2 || i == 0 || !strings.HasSuffix(pieces[i-1].Text, " is ") {
			out = append(out, p)
			continue
		}
		out = append(out, solution.Piece{Math: &p.Math.Args[0]}, solution.Piece{Text: ", "}, solution.Piece{Math: &p.Math.Args[1]})
	}
	return out
}

// sayLine says a line as a sentence.
func sayLine(l Line) string {
	words := capital(formula.Words(l.Formula))
	if l.Note != "" {
		words += ", " + formula.Spoken(l.Note)
	}
	return words + "."
}

func sayLines(lines []Line) string {
	list := make([]string, len(lines))
	for i, l := range lines {
		list[i] = sayLine(l)
	}
	return strings.Join(list, " ")
}

func linesOf(list []solution.Line) []Line {
	out := make([]Line, len(list))
	for i, l := range list {
		out[i] = Line{Formula: l.Formula, Note: l.Note}
	}
	return out
}

// sentence joins words so that there is one space between them, and nothing is said twice.
func sentence(parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, " ")
}
