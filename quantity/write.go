package quantity

import (
	"strconv"
	"strings"
)

// String writes q as it was typed, in one plain form: "0.60 m", "1500 N", "62°", "-4e-3 N". A
// computed quantity is written to its figures, or to as many as it needs.
func (q Quantity) String() string { return join(q.number(), q.Unit) }

func (q Quantity) number() string {
	switch {
	case q.Digits != "":
		return q.Digits
	case q.Figures > 0:
		return RoundFigures(q.Value, q.Figures)
	}
	return strconv.FormatFloat(Snap(q.Value), 'f', -1, 64)
}

// Format writes an SI value in unit u to so many significant figures: "480 N", "62.4°". The
// spaces are ordinary ones; see [Typeset].
func Format(siValue float64, u Unit, figures int) string {
	return join(RoundFigures(fromSI(Snap(siValue), u), figures), u)
}

// FormatDecimals writes an SI value in unit u with so many digits after the decimal point.
func FormatDecimals(siValue float64, u Unit, decimals int) string {
	return join(RoundDecimals(fromSI(Snap(siValue), u), decimals), u)
}

func join(number string, u Unit) string {
	switch u.Symbol {
	case "":
		return number
	case "°":
		return number + "°"
	}
	return number + " " + u.Symbol
}

// Typeset gives the quantities in a plain text the spaces and signs of print: U+00A0 between
// number and unit (and inside N m), U+202F between thousands of five digits or more, U+2212 for
// minus before a digit, and × 10⁻³ for e-3. Other words stay as they are.
func Typeset(plain string) string {
	var b strings.Builder
	b.Grow(len(plain) + 8)
	for i := 0; i < len(plain); {
		if c := plain[i]; c != '-' && !digit(c) || i > 0 && wordByte(plain[i-1]) {
			b.WriteByte(c)
			i++
			continue
		}
		n := numberLength(plain[i:])
		if n == 0 {
			b.WriteByte(plain[i])
			i++
			continue
		}
		writeNumber(&b, plain[i:i+n])
		i += n
		if i < len(plain) && plain[i] == ' ' {
			if k := unitLength(plain[i+1:]); k > 0 {
				b.WriteString("\u00a0")
				b.WriteString(strings.ReplaceAll(plain[i+1:i+1+k], " ", "\u00a0"))
				i += 1 + k
			}
		}
	}
	return b.String()
}

// Plain undoes Typeset, for files, tests and terminals.
func Plain(typeset string) string { return plainer.Replace(typeset) }

var plainer = strings.NewReplacer("\u00a0", " ", "\u202f", "", "\u2212", "-")

func wordByte(c byte) bool {
	return c == '_' || c == '.' || c == '-' || digit(c) || 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || c >= 0x80
}

// numberLength is the length of the plain number at the start of s, or 0.
func numberLength(s string) int {
	i := 0
	if s[0] == '-' {
		i = 1
	}
	k := digitRun(s[i:])
	if k == 0 {
		return 0
	}
	i += k
	if i+1 < len(s) && s[i] == '.' && digit(s[i+1]) {
		i += 1 + digitRun(s[i+1:])
	}
	if i+1 < len(s) && s[i] == 'e' {
		j := i + 1
		if s[j] == '-' {
			j++
		}
		if k := digitRun(s[j:]); k > 0 {
			i = j + k
		}
	}
	return i
}

// unitLength is the length of the unit symbol that s starts with, the longest there is, or 0.
func unitLength(s string) int {
	best := 0
	for i := range unitTable {
		u := unitTable[i].Symbol
		if len(u) > best && strings.HasPrefix(s, u) && (len(s) == len(u) || !wordByte(s[len(u)]) || s[len(u)] == '.') {
			best = len(u)
		}
	}
	return best
}

func writeNumber(b *strings.Builder, s string) {
	if rest, ok := strings.CutPrefix(s, "-"); ok {
		b.WriteString("−")
		s = rest
	}
	s, exponent, power := strings.Cut(s, "e")
	whole, part, marker := strings.Cut(s, ".")
	for i := range len(whole) {
		if i > 0 && len(whole) > 4 && (len(whole)-i)%3 == 0 {
			b.WriteString("\u202f")
		}
		b.WriteByte(whole[i])
	}
	if marker {
		b.WriteString("." + part)
	}
	if power {
		b.WriteString("\u00a0×\u00a010")
		for _, c := range exponent {
			if c == '-' {
				b.WriteString("⁻")
			} else {
				b.WriteString([]string{"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"}[c-'0'])
			}
		}
	}
}

// Words says q aloud: "480 newtons", "1.4 metres", "1 metre", "8 newton metres".
func (q Quantity) Words() string { return Words(q.number(), q.Unit) }

// Words says a written number with unit u aloud.
func Words(number string, u Unit) string {
	if rest, ok := strings.CutPrefix(number, "-"); ok {
		number = "minus " + rest
	}
	if u.Symbol == "" {
		return number
	}
	return number + " " + u.name(number != "1" && number != "minus 1")
}
