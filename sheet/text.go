package sheet

import (
	"math"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"steelyard/font"
	"steelyard/formula"
)

// A span is a stretch of a sentence in one style, or a formula in it.
type span struct {
	text   string
	italic bool
	bold   bool
	sub    bool
	math   *formula.Node
}

// A word is what is never broken over two lines. A formula in a sentence may be several words.
type word struct {
	pieces []wordPiece
	width  float64
	gap    float64 // before it, unless it starts a line
}

// A wordPiece is a part of a word in one style, or a formula.
type wordPiece struct {
	box
	math *formula.Node
}

const nobreak = "\u00a0"

var (
	numberUnit = regexp.MustCompile(`(\d|½|¼|¾|°) (kN m|MN m|mN m|N m|N cm|N mm|N/kg|N/m|kN/m|kg/m²|kg/m|m/s²|kN|MN|mN|mm|cm|km|kg|m|g|N|t|marks?)\b|\d °`)
	loneLetter = regexp.MustCompile(`(\pL) ([A-Z])([\s,.;:)?]|$)`)
)

// tie puts no-break spaces between a number and its unit, inside a unit of two letters, and before
// the name of a point, so that none of them is torn apart at the end of a line.
func tie(text string) string {
	text = numberUnit.ReplaceAllStringFunc(text, func(s string) string { return strings.ReplaceAll(s, " ", nobreak) })
	return loneLetter.ReplaceAllString(text, "$1"+nobreak+"$2$3")
}

// symbols finds the symbols of quantities in plain words and marks them: X_Y is X with the index Y,
// and Greek letters, g and a letter before "=" are quantities; a letter alone is the name of a point.
func symbols(text string) []span {
	var out []span
	plain := 0
	put := func(from, to int, spans ...span) {
		if from > plain {
			out = append(out, span{text: text[plain:from]})
		}
		out = append(out, spans...)
		plain = to
	}
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		if !unicode.IsLetter(r) && r != '\u00b5' {
			i += n
			continue
		}
		end := i
		for end < len(text) {
			r, n := utf8.DecodeRuneInString(text[end:])
			if !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '_' && r != '\u00b5' {
				break
			}
			end += n
		}
		token, after := text[i:end], text[end:]
		name, index, indexed := strings.Cut(token, "_")
		switch {
		case indexed && name != "" && index != "":
			put(i, end, span{text: name, italic: true}, span{text: index, sub: true})
		case isGreek(token), isGreekProduct(token), token == "g" && isSymbolG(text[:i], after), utf8.RuneCountInString(token) == 1 && isEquated(after):
			put(i, end, span{text: token, italic: true})
		}
		i = end
	}
	put(len(text), len(text))
	return out
}

// isGreekProduct reports whether text is a Greek letter before a capital, such as μN.
func isGreekProduct(text string) bool {
	_, n := utf8.DecodeRuneInString(text)
	return n > 1 && isGreek(text[:n]) && len(text) == n+1 && text[n] >= 'A' && text[n] <= 'Z'
}

// isSymbolG tells the field strength from the gram.
func isSymbolG(before, after string) bool {
	before = strings.TrimRight(before, " \u00a0\u2009\u202f")
	r, _ := utf8.DecodeLastRuneInString(before)
	return !unicode.IsDigit(r) && !strings.HasPrefix(after, ".")
}

func isEquated(after string) bool {
	after = strings.TrimLeft(after, " \u00a0")
	for _, sign := range []string{"=", "≤", "≥", "≈"} {
		if strings.HasPrefix(after, sign) {
			return true
		}
	}
	return false
}

// face is the face that a span is set in.
func (l *look) face(s span) *font.Face {
	switch {
	case s.bold:
		return l.bold
	case s.italic:
		return l.italic
	}
	return l.roman
}

// words splits spans into words at their spaces.
func (l *look) words(spans []span, size float64) []word {
	var out []word
	glue := false // the next piece belongs to the word before
	gap := 0.0
	put := func(p wordPiece) {
		if glue && len(out) > 0 {
			w := &out[len(out)-1]
			w.pieces = append(w.pieces, p)
			w.width += p.width
			return
		}
		out = append(out, word{pieces: []wordPiece{p}, width: p.width, gap: gap})
		glue = true
	}
	for _, s := range spans {
		if s.math != nil {
			set := setter{look: l, size: size, small: true}
			for i, link := range set.links(*s.math) {
				if i > 0 {
					glue, gap = false, loose*size
				}
				put(wordPiece{link, s.math})
			}
			continue
		}
		face, at := l.face(s), size
		if s.sub {
			at = l.sub * size
		}
		for i, text := range strings.Split(s.text, " ") {
			if i > 0 {
				glue, gap = false, face.Width(" ", size)
			}
			if text == "" {
				continue
			}
			b := textBox(face, at, text)
			if s.sub {
				lowered := box{width: b.width + 0.03*size}
				lowered.add(b, 0.02*size, 0.2*size)
				b = lowered
			}
			put(wordPiece{box: b})
		}
	}
	return out
}

// chop cuts words that are wider than the column, which only a name without spaces can be.
func (l *look) chop(words []word, width float64) []word {
	out := make([]word, 0, len(words))
	for _, w := range words {
		if w.width <= width || len(w.pieces) != 1 || len(w.pieces[0].runs) != 1 {
			out = append(out, w)
			continue
		}
		r := w.pieces[0].runs[0]
		gap := w.gap
		for rest := []rune(r.text); len(rest) > 0; gap = 0 {
			n := 1
			for n < len(rest) && r.face.Width(string(rest[:n+1]), r.size) <= width {
				n++
			}
			b := textBox(r.face, r.size, string(rest[:n]))
			out = append(out, word{pieces: []wordPiece{{box: b}}, width: b.width, gap: gap})
			rest = rest[n:]
		}
	}
	return out
}

// breakLines breaks words into lines no wider than width, ragged right: of all ways the one whose
// lines fall short least, by the sum of squares; a last line may be short, but rather not one word.
func breakLines(words []word, width float64) [][]word {
	n := len(words)
	if n == 0 {
		return nil
	}
	cost := make([]float64, n+1) // of setting words i.. from a line's start
	next := make([]int, n+1)
	for i := n - 1; i >= 0; i-- {
		cost[i] = math.Inf(1)
		wide := 0.0
		for j := i; j < n; j++ {
			if j > i {
				wide += words[j].gap
			}
			wide += words[j].width
			if wide > width && j > i {
				break
			}
			short := max(0, width-wide) / width
			c := short * short
			if j == n-1 {
				c = 0
				if i == j && i > 0 {
					c = 0.04 // one word alone in the last line
				}
			}
			if c += cost[j+1] + 1e-3; c < cost[i] {
				cost[i], next[i] = c, j+1
			}
		}
	}
	var lines [][]word
	for i := 0; i < n; i = next[i] {
		lines = append(lines, words[i:next[i]])
	}
	return lines
}
