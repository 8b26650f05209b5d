package script

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"steelyard/quantity"
)

// A tokenKind is what a piece of a line is.
type tokenKind uint8

const (
	end       tokenKind = iota
	number              // a number, perhaps with its unit
	symbol              // a name: R_B, T, μ
	word                // a word of English
	function            // sin, atan, sqrt
	operator            // + - * / ^
	opening             // ( [ {
	closing             // ) ] }
	relation            // = < ≤ …
	colon               // : that is no division
	comma               //
	strange             // a character that means nothing here
	unitAlone           // a unit that follows no number: (234 + 130.5) N m
)

type token struct {
	kind     tokenKind
	text     string // plain form: a name without braces, a word in lower case, an operator or relation in one form
	q        quantity.Quantity
	degrees  bool
	spaced   bool // white space stands before it
	cross    bool // the letter x, which may be a times sign
	word     bool // of a relation or operator: it was typed as a word
	lettered bool // of a word: it may be a letter closed up with a name, Wplank
	from, to int
}

// lexer cuts one line into tokens.
type lexer struct {
	s      string
	at     int
	tokens []token
}

// tokens cuts a line into tokens. It takes time in proportion to the line's length.
func tokens(s string, list []token) []token {
	x := lexer{s: s, tokens: list[:0]}
	for x.next() {
	}
	return x.tokens
}

func (x *lexer) rest() string { return x.s[x.at:] }

func (x *lexer) last() *token {
	if n := len(x.tokens); n > 0 {
		return &x.tokens[n-1]
	}
	return &token{}
}

func (x *lexer) add(k tokenKind, text string, width int) {
	spaced := x.at > 0 && isSpace(lastRune(x.s[:x.at]))
	x.tokens = append(x.tokens, token{kind: k, text: text, spaced: spaced, from: x.at, to: x.at + width})
	x.at += width
}

func lastRune(s string) rune { r, _ := utf8.DecodeLastRuneInString(s); return r }

func isSpace(r rune) bool {
	return r == '\u00a0' || unicode.IsSpace(r) || r == '\u200b' || r == '\ufeff'
}

// signs are the characters that stand for one thing wherever they are.
var signs = map[rune]struct {
	kind tokenKind
	text string
}{
	'+': {operator, "+"}, '-': {operator, "-"}, '−': {operator, "-"}, '–': {operator, "-"}, '—': {operator, "-"}, '‐': {operator, "-"}, '‑': {operator, "-"},
	'*': {operator, "*"}, '×': {operator, "*"}, '·': {operator, "*"}, '⋅': {operator, "*"}, '∙': {operator, "*"}, '•': {operator, "*"}, '✕': {operator, "*"}, '✖': {operator, "*"},
	'/': {operator, "/"}, '÷': {operator, "/"}, '∕': {operator, "/"}, '⁄': {operator, "/"}, '^': {operator, "^"},
	'(': {opening, "("}, '[': {opening, "("}, '{': {opening, "("}, ')': {closing, ")"}, ']': {closing, ")"}, '}': {closing, ")"},
	'=': {relation, "="}, '≈': {relation, "="}, '≃': {relation, "="}, '≅': {relation, "="}, '≡': {relation, "="}, '≐': {relation, "="},
	'<': {relation, "<"}, '>': {relation, ">"}, '≤': {relation, "≤"}, '≥': {relation, "≥"}, '⩽': {relation, "≤"}, '⩾': {relation, "≥"},
	':': {colon, ":"}, ',': {comma, ","}, '√': {function, "sqrt"},
	'↑': {word, "up"}, '↓': {word, "down"}, '←': {word, "left"}, '→': {word, "→"}, '↻': {word, "clockwise"}, '↺': {word, "anticlockwise"}, '⟳': {word, "clockwise"}, '⟲': {word, "anticlockwise"},
	'Σ': {word, "sum"}, '∑': {word, "sum"}, '∴': {word, "therefore"}, '⇒': {word, "therefore"}, '⟹': {word, "therefore"}, '∵': {word, "because"},
	'⊥': {word, "perpendicular"},
	'.': {word, "."}, '!': {word, "!"}, '?': {word, "?"}, '"': {word, "\""}, '\'': {word, "'"}, '’': {word, "'"}, '‘': {word, "'"}, '“': {word, "\""}, '”': {word, "\""}, '…': {word, "."}, '✓': {word, "✓"}, '✔': {word, "✓"},
}

// superscripts turn raised digits into plain ones.
var superscripts = map[rune]byte{'⁰': '0', '¹': '1', '²': '2', '³': '3', '⁴': '4', '⁵': '5', '⁶': '6', '⁷': '7', '⁸': '8', '⁹': '9', '⁻': '-', '⁺': '+'}

// subscripts turn lowered digits and letters into plain ones.
var subscripts = map[rune]byte{'₀': '0', '₁': '1', '₂': '2', '₃': '3', '₄': '4', '₅': '5', '₆': '6', '₇': '7', '₈': '8', '₉': '9',
	'ₐ': 'a', 'ₑ': 'e', 'ₒ': 'o', 'ₓ': 'x', 'ₕ': 'h', 'ₖ': 'k', 'ₗ': 'l', 'ₘ': 'm', 'ₙ': 'n', 'ₚ': 'p', 'ₛ': 's', 'ₜ': 't', 'ᵢ': 'i', 'ᵣ': 'r'}

var halves = map[rune]string{'½': "1/2", '¼': "1/4", '¾': "3/4", '⅓': "1/3", '⅔': "2/3", '⅕': "1/5", '⅛': "1/8"}

// longSigns are typed with more than one character.
var longSigns = []struct {
	typed string
	kind  tokenKind
	text  string
}{
	{"<=>", word, "therefore"}, {"==>", word, "therefore"}, {"-->", word, "therefore"},
	{"=>", word, "therefore"}, {"->", word, "therefore"}, {"<=", relation, "≤"}, {"=<", relation, "≤"}, {">=", relation, "≥"},
	{"==", relation, "="}, {"~=", relation, "="}, {"=~", relation, "="}, {"**", operator, "^"}, {"...", word, "."},
}

func (x *lexer) next() bool {
	for x.at < len(x.s) {
		r, w := utf8.DecodeRuneInString(x.rest())
		if !isSpace(r) {
			break
		}
		x.at += w
	}
	if x.at >= len(x.s) {
		return false
	}
	r, w := utf8.DecodeRuneInString(x.rest())
	switch {
	case r >= '0' && r <= '9', r == '.' && x.at+1 < len(x.s) && isDigit(x.s[x.at+1]):
		x.number()
		return true
	case isLetter(r):
		x.letters()
		return true
	case r == '~':
		x.add(relation, "=", w)
		return true
	}
	if h, ok := halves[r]; ok {
		x.half(h, w)
		return true
	}
	if _, ok := superscripts[r]; ok {
		x.raised()
		return true
	}
	if r == '°' || r == 'º' || r == '˚' {
		if t := x.last(); t.kind == number && t.q.Unit == (quantity.Unit{}) {
			t.q.Unit, t.degrees, t.to = degree, true, x.at+w
			x.at += w
			return true
		}
		x.at += w // a degree sign after a name or a bracket says nothing new
		return true
	}
	for _, l := range longSigns {
		if r < utf8.RuneSelf && strings.HasPrefix(x.rest(), l.typed) {
			x.add(l.kind, l.text, len(l.typed))
			return true
		}
	}
	if r == '(' && x.last().kind == number && x.bracketedUnit() {
		return true
	}
	if s, ok := signs[r]; ok {
		x.add(s.kind, s.text, w)
		return true
	}
	x.add(strange, x.s[x.at:x.at+w], w)
	return true
}

var degree, _ = quantity.UnitNamed("deg")

func isDigit(b byte) bool { return b >= '0' && b <= '9' }

func isLetter(r rune) bool {
	if r < utf8.RuneSelf {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
	}
	return r != 'Σ' && r != '∑' && r != 'º' && superscripts[r] == 0 && (unicode.IsLetter(r) || r == 'µ')
}

func (x *lexer) half(text string, w int) {
	top, bottom, _ := strings.Cut(text, "/")
	a, _ := strconv.ParseFloat(top, 64)
	b, _ := strconv.ParseFloat(bottom, 64)
	v := a / b
	if t := x.last(); t.kind == number && t.to == x.at && t.q.Decimals == 0 { // 2½
		t.q = quantity.Quantity{Value: t.q.Value + v}
		t.to += w
		x.at += w
		return
	}
	x.add(number, "", w)
	x.last().q = quantity.Quantity{Value: v, Digits: text}
	x.unit()
}

// raised reads ² and ⁻¹ as a power.
func (x *lexer) raised() {
	var b [8]byte
	digits, i := b[:0], x.at
	for i < len(x.s) && len(digits) < 8 {
		r, w := utf8.DecodeRuneInString(x.s[i:])
		d, ok := superscripts[r]
		if !ok {
			break
		}
		digits, i = append(digits, d), i+w
	}
	v, err := strconv.ParseFloat(string(digits), 64)
	if err != nil {
		x.add(strange, x.s[x.at:i], i-x.at)
		return
	}
	from := x.at
	x.add(operator, "^", i-x.at)
	x.tokens = append(x.tokens, token{kind: number, q: quantity.Quantity{Value: v, Digits: string(digits)}, from: from, to: i})
	if s := strings.TrimLeft(x.s[i:], " "); len(s) < len(x.s[i:]) { // 10⁴ N
		if u, w := unitAt(s); w > 0 && u.Symbol != "g" && u.Symbol != "t" {
			x.last().q.Unit, x.at = u, len(x.s)-len(s)+w
			x.last().to = x.at
		}
	}
}

// number reads digits with a decimal point or comma, thousands apart, and a power of ten typed with e; then its unit.
func (x *lexer) number() {
	s, i := x.s, x.at
	digits := make([]byte, 0, 24)
	whole := func() {
		for i < len(s) && isDigit(s[i]) {
			digits = append(digits, s[i])
			i++
		}
	}
	whole()
	// Thousands in groups of three, apart by a space or a comma.
	if n := i - x.at; n >= 1 && n <= 3 && s[x.at] != '0' {
		for {
			g := separator(s[i:])
			if g == 0 || !three(s[i+g:]) {
				break
			}
			digits = append(digits, s[i+g:i+g+3]...)
			i += g + 3
		}
	}
	places := 0
	if i < len(s) && (s[i] == '.' || s[i] == ',') && i+1 < len(s) && isDigit(s[i+1]) {
		digits = append(digits, '.')
		i++
		k := i
		whole()
		places = i - k
	} else if i < len(s) && s[i] == '.' && i == len(s)-1 {
		i++ // a full stop
	}
	if i+1 < len(s) && (s[i] == 'e' || s[i] == 'E') {
		k := i + 1
		if s[k] == '-' || s[k] == '+' {
			k++
		}
		if k < len(s) && isDigit(s[k]) && k-i <= 2 {
			digits = append(digits, s[i:k]...)
			i = k
			for n := 0; i < len(s) && isDigit(s[i]) && n < 4; n++ {
				digits = append(digits, s[i])
				i++
			}
		}
	}
	text := string(digits)
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) {
		x.add(strange, s[x.at:i], i-x.at)
		return
	}
	if text[0] == '.' {
		text = "0" + text
	}
	if w := figuresWord(s[i:]); w > 0 { // 3 s.f. says how it was rounded
		x.add(word, "figures", i-x.at+w)
		return
	}
	x.add(number, "", i-x.at)
	x.last().q = quantity.Quantity{Value: v, Figures: figures(text), Decimals: places, Digits: text}
	x.unit()
}

// figuresWord is the width of "s.f.", "sf", "d.p." and the like after a number; 0 if none stands there.
func figuresWord(s string) int {
	rest := strings.TrimLeft(s, " ")
	if rest == "" || rest[0]|0x20 != 's' && rest[0]|0x20 != 'd' {
		return 0
	}
	lower := strings.ToLower(rest[:min(len(rest), 20)])
	for _, w := range [...]string{"significant figures", "sig. figs", "sig figs", "sig fig", "s.f.", "s.f", "sf", "d.p.", "d.p", "dp"} {
		if strings.HasPrefix(lower, w) && (len(rest) == len(w) || !isLetter(rune(rest[len(w)]))) {
			return len(s) - len(rest) + len(w)
		}
	}
	return 0
}

// separator is the width of a thousands separator at the start of s, or 0.
func separator(s string) int {
	if s == "" {
		return 0
	}
	switch {
	case s[0] == ' ', s[0] == ',':
		return 1
	case s[0] < utf8.RuneSelf:
		return 0
	}
	switch r, w := utf8.DecodeRuneInString(s); r {
	case '\u00a0', '\u2009', '\u202f', '\u2007':
		return w
	}
	return 0
}

// three reports whether exactly three digits follow.
func three(s string) bool {
	return len(s) >= 3 && isDigit(s[0]) && isDigit(s[1]) && isDigit(s[2]) && (len(s) == 3 || !isDigit(s[3]))
}

// figures counts the significant figures of a number in plain form.
func figures(digits string) int {
	digits, _, _ = strings.Cut(digits, "e")
	digits, _, _ = strings.Cut(digits, "E")
	n, begun := 0, false
	for i := range len(digits) {
		if c := digits[i]; c != '.' {
			begun = begun || c != '0'
			if begun {
				n++
			}
		}
	}
	return n
}
