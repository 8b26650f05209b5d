package question

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// A tokenKind is a kind of token.
type tokenKind uint8

const (
	endToken tokenKind = iota // of the line
	wordToken
	numberToken
	textToken // in quotation marks
	markToken // one of , : ( ) = ;
)

// A token is a piece of a line; from and to are byte offsets into it. The text of a textToken is
// without its quotation marks and escapes.
type token struct {
	kind     tokenKind
	text     string
	from, to int
}

func (t token) is(word string) bool { return t.kind == wordToken && t.text == word }
func (t token) mark(m byte) bool    { return t.kind == markToken && t.text[0] == m }

const hidden = "this character cannot be seen and means nothing here"

// unprintable reports whether a character is a command to a terminal, or to turn what follows round, and no text. The marks
// of direction that words in Arabic or Hebrew need are not among them.
func unprintable(r rune) bool {
	return unicode.IsControl(r) && r != '\t' || r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069'
}

// scan splits a line into tokens, appended to toks. It returns the comment at its end, without
// the #, or the offset of what cannot be read and why.
func scan(s string, toks []token) (_ []token, comment string, commented bool, bad int, why string) {
	for i := 0; i < len(s); {
		c := s[i]
		switch {
		case c == ' ' || c == '\t':
			i++
		case c == '#':
			return toks, strings.TrimSpace(s[i+1:]), true, -1, ""
		case c == '"' || strings.HasPrefix(s[i:], "“"):
			text, n, ok := scanText(s[i:])
			if !ok {
				return toks, "", false, i, "this quotation mark is never closed"
			}
			if k := strings.IndexFunc(s[i:i+n], unprintable); k >= 0 {
				return toks, "", false, i + k, hidden
			}
			toks = append(toks, token{textToken, text, i, i + n})
			i += n
		case isMark(c):
			toks = append(toks, token{markToken, s[i : i+1], i, i + 1})
			i++
		case startsNumber(s[i:]):
			n := numberLength(s[i:])
			toks = append(toks, token{numberToken, s[i : i+n], i, i + n})
			i += n
		default:
			r, n := utf8.DecodeRuneInString(s[i:])
			if unicode.IsSpace(r) {
				i += n
				continue
			}
			if unprintable(r) || r == '\ufeff' {
				return toks, "", false, i, hidden
			}
			k := wordLength(s[i:])
			toks = append(toks, token{wordToken, s[i : i+k], i, i + k})
			i += k
		}
	}
	return toks, "", false, -1, ""
}

func isMark(c byte) bool {
	return c == ',' || c == ':' || c == '(' || c == ')' || c == '=' || c == ';'
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// scanText reads a text in quotation marks, straight or curly. A \" inside stands for ".
func scanText(s string) (text string, n int, ok bool) {
	open, end := 1, `"`
	if s[0] != '"' {
		open, end = len("“"), "”"
	}
	body := s[open:]
	i := strings.Index(body, end)
	if i < 0 {
		return "", 0, false
	}
	if strings.IndexByte(body[:i], '\\') < 0 {
		return body[:i], open + i + len(end), true
	}
	var b strings.Builder
	for i = 0; i < len(body); i++ {
		if body[i] == '\\' && i+1 < len(body) && (body[i+1] == '"' || body[i+1] == '\\') {
			i++
		} else if strings.HasPrefix(body[i:], end) {
			return b.String(), open + i + len(end), true
		}
		b.WriteByte(body[i])
	}
	return "", 0, false
}

func startsNumber(s string) bool {
	switch {
	case s[0] == '-' || s[0] == '+':
		s = s[1:]
	case strings.HasPrefix(s, "−"):
		s = s[len("−"):]
	}
	return s != "" && (isDigit(s[0]) || s[0] == '.' && len(s) > 1 && isDigit(s[1]))
}

// numberLength is how far a number reaches: digits with point, comma or thin groups between
// them, a fraction, a power of ten. quantity.Parse settles what it means.
func numberLength(s string) int {
	i := 0
	switch {
	case s[0] == '-' || s[0] == '+':
		i = 1
	case strings.HasPrefix(s, "−"):
		i = len("−")
	}
	i += digitsLength(s[i:])
	if i < len(s) && s[i] == '/' && i+1 < len(s) && isDigit(s[i+1]) {
		return i + 1 + digitsLength(s[i+1:])
	}
	rest := s[i:]
	if n := exponentLength(rest); n > 0 {
		return i + n
	}
	return i
}

func digitsLength(s string) int {
	i := 0
	for i < len(s) {
		switch c := s[i]; {
		case isDigit(c):
			i++
			continue
		case (c == '.' || c == ',') && i+1 < len(s) && isDigit(s[i+1]):
			i++
			continue
		}
		n := 0 // of a space between groups
		for _, sp := range [...]string{" ", "\u00a0", "\u2009", "\u202f"} {
			if strings.HasPrefix(s[i:], sp) {
				n = len(sp)
			}
		}
		if n == 0 || i == 0 || i+n+3 > len(s) || !threeDigits(s[i+n:]) {
			break
		}
		i += n + 3
	}
	return i
}

func threeDigits(s string) bool {
	return isDigit(s[0]) && isDigit(s[1]) && isDigit(s[2]) && (len(s) == 3 || !isDigit(s[3]))
}

func exponentLength(s string) int {
	t := s
	switch {
	case s != "" && (s[0] == 'e' || s[0] == 'E'):
		t = s[1:]
	default:
		t = strings.TrimLeft(t, " ")
		for _, x := range [...]string{"x", "×", "*"} {
			if rest, ok := strings.CutPrefix(t, x); ok {
				t = strings.TrimLeft(rest, " ")
				break
			}
		}
		rest, ok := strings.CutPrefix(t, "10")
		if !ok || len(t) == len(s) {
			return 0
		}
		t = rest
		if up, ok := strings.CutPrefix(t, "^"); ok {
			t = up
		} else {
			n := 0
			for _, r := range t {
				if !strings.ContainsRune("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", r) {
					break
				}
				n += utf8.RuneLen(r)
			}
			if n == 0 {
				return 0
			}
			return len(s) - len(t) + n
		}
	}
	j := 0
	if t != "" && (t[0] == '-' || t[0] == '+') {
		j = 1
	}
	k := j
	for k < len(t) && isDigit(t[k]) {
		k++
	}
	if k == j {
		return 0
	}
	return len(s) - len(t) + k
}

// wordLength is how far a word or a unit reaches: up to a space or a mark.
func wordLength(s string) int {
	for i, r := range s {
		if i > 0 && (r < utf8.RuneSelf && (isMark(byte(r)) || r == '"' || r == '#' || r <= ' ') || r == '“' || r > utf8.RuneSelf && unicode.IsSpace(r)) {
			return i
		}
	}
	return len(s)
}
