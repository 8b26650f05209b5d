package quantity

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// A Refusal says why a text is no quantity of the kind wanted, and how to mend it.
type Refusal struct{ What, Mend string }

func (r *Refusal) Error() string {
	if r.Mend == "" {
		return r.What
	}
	return r.What + "; " + r.Mend
}

// Bounds on what is read. No school quantity comes near them.
const (
	longest     = 80 // bytes of text
	maxExponent = 30 // either way
	maxFigures  = 30
)

// Parse reads a quantity of dimension want as people type it. A number without a unit is taken in
// unit bare, if that is of dimension want; the zero Unit as bare means that a unit must be typed.
//
// A point is a decimal marker. Spaces (of any width) group digits in threes. A comma groups
// thousands if it stands before exactly three digits and the number does not begin with 0, and is
// a decimal marker otherwise: 1,250 is 1250; 12,5 and 0,125 are decimals. Where comma and point
// stand together, the last one is the decimal marker. Powers of ten are typed as 1.5e3, 1.5x10^3
// or 1.5 × 10³. A fraction such as 3/4 is exact.
//
// The error is a *Refusal.
func Parse(text string, want Dimension, bare Unit) (Quantity, error) {
	if len(text) > longest {
		return Quantity{}, refuse(want, "this is too long for a quantity")
	}
	if !utf8.ValidString(text) {
		return Quantity{}, refuse(want, "this holds bytes that are no text")
	}
	s := text
	if !plainASCII(s) {
		s = spaces.Replace(s)
		s = signs.Replace(s)
	}
	s = strings.TrimSpace(s)
	if s == "" {
		return Quantity{}, refuse(want, "a quantity is missing")
	}
	q, rest, why := readNumber(s)
	if why != "" {
		return Quantity{}, refuse(want, why)
	}
	rest = strings.TrimSpace(rest)
	if rest == "" {
		switch {
		case want == Number:
			return q, nil
		case bare.Dimension == want:
			q.Unit = bare
			return q, nil
		}
		return Quantity{}, &Refusal{s + " has no unit", "expected " + want.String() + ", such as " + want.Example()}
	}
	u, ok := UnitNamed(rest)
	if !ok {
		return Quantity{}, refuseUnit(rest, want)
	}
	q.Unit = u
	if u.Dimension != want {
		return Quantity{}, refuse(want, q.String()+" is "+u.Dimension.String())
	}
	return q, nil
}

func refuse(want Dimension, what string) *Refusal {
	return &Refusal{what, "expected " + want.String() + ", such as " + want.Example()}
}

func refuseUnit(unit string, want Dimension) *Refusal {
	if unit == "J" || unit == "kJ" {
		return &Refusal{unit + " measures energy", "write a moment in N m, such as 8 N m"}
	}
	if want == Number {
		return &Refusal{strconv.Quote(unit) + " after a plain number", "expected a number without a unit, such as 0.40"}
	}
	var known []string
	for _, r := range unitTable {
		if r.Dimension == want {
			known = append(known, r.Symbol)
		}
	}
	return &Refusal{strconv.Quote(unit) + " is no unit of " + strings.TrimPrefix(strings.TrimPrefix(want.String(), "a "), "an "),
		"expected " + strings.Join(known, ", ") + ", such as " + want.Example()}
}

var signs = strings.NewReplacer("−", "-", "–", "-", "×", "x")

func plainASCII(s string) bool {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// readNumber reads the number at the start of s and returns what follows it.
func readNumber(s string) (q Quantity, rest, why string) {
	mantissa, n, why := readDigits(s)
	if why != "" {
		return q, "", why
	}
	rest = s[n:]
	if strings.HasPrefix(rest, "/") && len(rest) > 1 && digit(rest[1]) {
		return readFraction(mantissa, rest)
	}
	exponent, n, why := readExponent(rest)
	if why != "" {
		return q, "", why
	}
	rest = rest[n:]
	q.Digits = mantissa
	q.Decimals = decimals(mantissa)
	q.Figures = figures(mantissa)
	if q.Figures > maxFigures {
		return q, "", "this number has too many digits"
	}
	if exponent != 0 {
		q.Digits += "e" + strconv.Itoa(exponent)
	}
	v, err := strconv.ParseFloat(q.Digits, 64)
	if err != nil || math.IsInf(v, 0) {
		return q, "", "this number is too large"
	}
	if v == 0 { // never -0
		v, q.Digits = 0, strings.TrimPrefix(q.Digits, "-")
	}
	q.Value = v
	return q, rest, ""
}

func readFraction(top, rest string) (q Quantity, _, why string) {
	bottom, n, why := readDigits(rest[1:])
	if why != "" {
		return q, "", why
	}
	a, _ := strconv.ParseFloat(top, 64)
	b, _ := strconv.ParseFloat(bottom, 64)
	if b == 0 {
		return q, "", "a fraction over 0 has no value"
	}
	if len(top) > 15 || len(bottom) > 15 || a != math.Trunc(a) || b != math.Trunc(b) {
		return q, "", "a fraction is one short whole number over another"
	}
	if a == 0 {
		return Quantity{Digits: "0"}, rest[1+n:], ""
	}
	return Quantity{Value: a / b, Digits: top + "/" + bottom}, rest[1+n:], ""
}

// readDigits reads sign, digits and markers; it returns them in plain decimal form and how many
// bytes they took.
func readDigits(s string) (plain string, n int, why string) {
	i := 0
	if i < len(s) && (s[i] == '-' || s[i] == '+') {
		i++
	}
	for i < len(s) && s[i] == ' ' {
		i++
	}
	start := i
	for i < len(s) {
		switch c := s[i]; {
		case digit(c):
			i++
			continue
		case (c == '.' || c == ',') && i+1 < len(s) && digit(s[i+1]):
			i++
			continue
		case c == '.' && i > start && digit(s[i-1]) && (i+1 == len(s) || s[i+1] == ' '):
			// "5. N": a full stop after a whole number is let pass
		case c == ' ' && i > start && i+1 < len(s) && digit(s[i+1]):
			if k := digitRun(s[i+1:]); k != 3 || digitsBefore(s[start:i]) > 3 {
				return "", 0, "digits are grouped in threes (1 500)"
			}
			i++
			continue
		}
		break
	}
	body := s[start:i]
	if body == "" || digitRun(strings.TrimLeft(body, ".,")) == 0 {
		return "", 0, strconv.Quote(firstWord(s)) + " is no number"
	}
	plain, why = plainDecimal(body)
	if why != "" {
		return "", 0, why
	}
	if s[0] == '-' {
		plain = "-" + plain
	}
	if i < len(s) && s[i] == '.' {
		i++
	}
	return plain, i, ""
}

// plainDecimal settles what commas, points and spaces inside a number mean.
func plainDecimal(body string) (plain, why string) {
	if strings.IndexByte(body, ',') < 0 && strings.IndexByte(body, ' ') < 0 {
		switch strings.Count(body, ".") {
		case 0:
			return noLeadingZeros(body), ""
		case 1:
			if body[0] == '.' {
				return "0" + body, ""
			}
			return noLeadingZeros(body), ""
		}
		return "", "a number has one decimal point"
	}
	whole, part, marker := body, "", false
	if i := strings.LastIndexAny(body, ".,"); i >= 0 {
		thousands := body[i] == ',' && len(body)-i-1 == 3 && body[0] != '0' && strings.IndexByte(body, '.') < 0 && i > 0
		if !thousands {
			whole, part, marker = body[:i], body[i+1:], true
		}
	}
	if strings.IndexByte(part, ' ') >= 0 { // 0.123 456
		part = strings.ReplaceAll(part, " ", "")
	}
	groups := strings.FieldsFunc(whole, func(r rune) bool { return r == ',' || r == '.' || r == ' ' })
	for k, g := range groups {
		if (k > 0 && len(g) != 3) || (k == 0 && len(groups) > 1 && len(g) > 3) {
			return "", "digits are grouped in threes (1 500)"
		}
	}
	plain = noLeadingZeros(strings.Join(groups, ""))
	if plain == "" {
		plain = "0"
	}
	if marker {
		plain += "." + part
	}
	return plain, ""
}

// readExponent reads e3, x10^3 or *10^-3.
func readExponent(s string) (exponent, n int, why string) {
	i := 0
	switch {
	case len(s) > 1 && (s[0] == 'e' || s[0] == 'E') && (digit(s[1]) || len(s) > 2 && (s[1] == '-' || s[1] == '+') && digit(s[2])):
		i = 1
	default:
		t := strings.TrimLeft(s, " ")
		if t == "" || (t[0] != 'x' && t[0] != '*' && t[0] != 'X') {
			return 0, 0, ""
		}
		t = strings.TrimLeft(t[1:], " ")
		if !strings.HasPrefix(t, "10") {
			return 0, 0, ""
		}
		i = len(s) - len(t) + 2
		if raised, n := superscript(s[i:]); n > 0 {
			exponent, err := strconv.Atoi(raised)
			if err != nil || exponent > maxExponent || exponent < -maxExponent {
				return 0, 0, "this power of ten is too large"
			}
			return exponent, i + n, ""
		}
		if i == len(s) || s[i] != '^' {
			return 0, 0, ""
		}
		i++
	}
	j := i
	if j < len(s) && (s[j] == '-' || s[j] == '+') {
		j++
	}
	k := j
	for k < len(s) && digit(s[k]) {
		k++
	}
	if k == j {
		return 0, 0, "a power of ten needs its exponent (1.5x10^3)"
	}
	if k-j > 6 {
		return 0, 0, "this power of ten is too large"
	}
	exponent, err := strconv.Atoi(s[i:k])
	if err != nil || exponent > maxExponent || exponent < -maxExponent {
		return 0, 0, "this power of ten is too large"
	}
	return exponent, k, ""
}

// superscript reads raised digits, and how many bytes they take.
func superscript(s string) (plain string, n int) {
	const raised, level = "⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789"
	for _, r := range s {
		k := utf8.RuneCountInString(raised[:max(0, strings.IndexRune(raised, r))])
		if !strings.ContainsRune(raised, r) || n > 20 {
			break
		}
		plain += level[k : k+1]
		n += utf8.RuneLen(r)
	}
	return plain, n
}

// figures counts every digit from the first that is not 0.
func figures(plain string) int {
	n, started := 0, false
	for i := range len(plain) {
		if c := plain[i]; digit(c) {
			started = started || c != '0'
			if started {
				n++
			}
		}
	}
	return n
}

func noLeadingZeros(s string) string {
	for len(s) > 1 && s[0] == '0' && digit(s[1]) {
		s = s[1:]
	}
	return s
}

func digit(c byte) bool { return '0' <= c && c <= '9' }

func digitRun(s string) int {
	n := 0
	for n < len(s) && digit(s[n]) {
		n++
	}
	return n
}

func digitsBefore(s string) int {
	n := 0
	for n < len(s) && digit(s[len(s)-1-n]) {
		n++
	}
	return n
}

func firstWord(s string) string {
	s, _, _ = strings.Cut(s, " ")
	return s
}
