package demo

import (
	"regexp"
	"strings"
)

// A hand is how somebody types.
type hand struct {
	times   string // between factors
	bare    bool   // no units within a line
	tight   bool   // few spaces
	symbols int    // 0: R_P, 1: RP, 2: P
	comma   bool   // 1,5 for 1.5
	heads   bool   // writes what moments are taken about
	brief   bool   // leaves lines out
	silent  int    // writes no working at all, in per cent of parts
}

func newHand(c chance) hand {
	h := hand{times: pick(c, "x", "x", "*", "×", " x "), bare: c.in(60), tight: c.in(40), symbols: c.IntN(3), comma: c.in(4), heads: c.in(55), brief: c.in(50),
		silent: pick(c, 0, 0, 10, 25, 70)}
	if !h.bare { // who writes units leaves room between them
		h.times, h.tight = pick(c, " x ", " × ", " * "), false
	}
	return h
}

var units = regexp.MustCompile(`(\d) (?:N m|N/kg|N|m|kg)\b`)

// line types a line of working as it stands in a solution.
func (h hand) line(text string) string {
	text = strings.NewReplacer("−", "-", "\u00a0", " ", "\u202f", "").Replace(text)
	if h.bare {
		text = units.ReplaceAllString(text, "$1")
	}
	text = strings.ReplaceAll(text, " × ", h.times)
	switch h.symbols {
	case 1:
		text = strings.ReplaceAll(text, "_", "")
	case 2:
		text = strings.ReplaceAll(text, "R_", "")
	}
	if h.comma {
		text = commas(text)
	}
	if h.tight && h.bare {
		text = strings.NewReplacer(" + ", "+", " - ", "-", " / ", "/").Replace(text)
	}
	return text
}

// answer types an answer: "570 N up" may lose what doesn't matter, "4.05 m from the left-hand end" its end.
func (h hand) answer(c chance, shown string) string {
	text := strings.NewReplacer("−", "-", "\u00a0", " ", "\u202f", "").Replace(shown)
	if before, _, ok := strings.Cut(text, " from the "); ok && c.in(70) && !strings.Contains(text, "kg") {
		text = before
	}
	if before, ok := strings.CutSuffix(text, " up"); ok && c.in(80) {
		text = before
	}
	if !digit(text[0]) { // in words
		return h.words(c, text)
	}
	if h.tight {
		text = strings.Replace(text, " ", "", 1)
	}
	if h.comma {
		text = commas(text)
	}
	return text
}

// words says in a pupil's words what happens: "it does not stay at rest: the board turns clockwise about Q".
func (h hand) words(c chance, text string) string {
	_, how, ok := strings.Cut(text, ": ")
	switch {
	case ok && strings.HasPrefix(text, "it does not"):
		return pick(c, "no", "no, it tips", "no, "+how, "it does not stay, "+how, "it tips over")
	case strings.HasPrefix(text, "it stays"):
		return pick(c, "yes", "it stays", "yes it stays", text)
	}
	return text
}

// commas writes decimal commas.
func commas(text string) string {
	b := []byte(text)
	for i := 1; i < len(b)-1; i++ {
		if b[i] == '.' && digit(b[i-1]) && digit(b[i+1]) {
			b[i] = ','
		}
	}
	return string(b)
}

func digit(b byte) bool { return b >= '0' && b <= '9' }
