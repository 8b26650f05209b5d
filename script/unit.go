package script

import (
	"strings"
	"unicode/utf8"

	"steelyard/quantity"
)

// typedUnits are units as they are typed after a number, the longest first; what follows must be no letter.
var typedUnits = func() []struct {
	typed string
	unit  quantity.Unit
} {
	var list []struct {
		typed string
		unit  quantity.Unit
	}
	for _, t := range []string{
		"newton metres", "newton-metres", "newton meters", "Newton metres", "newton metre", "newtons per metre", "newtons per kilogram",
		"centimetres", "centimeters", "millimetres", "millimeters", "kilonewtons", "kilograms", "centimetre", "kilonewton", "kilogram",
		"newtons", "Newtons", "newton", "Newton", "metres", "meters", "metre", "meter", "grams", "gram", "degrees", "degree", "radians",
		"kN/m", "N/kg", "N/cm", "N/mm", "N/m", "kg/m²", "kg/m^2", "kg/m2", "kg/m", "g/cm", "m/s²", "m/s^2", "m/s2", "ms⁻²", "ms^-2", "ms-2", "m s⁻²", "m s^-2", "N kg⁻¹", "N kg^-1", "Nkg⁻¹", "Nkg^-1", "Nkg-1", "N m⁻¹", "N m^-1",
		"kN m", "kN·m", "kN⋅m", "kNm", "N cm", "Ncm", "N·cm", "N mm", "Nmm", "N·m", "N⋅m", "N.m", "N*m", "N-m", "Nm", "N m", "m N", "nm", "NM",
		"kgs", "KG", "Kg", "kg", "cm", "CM", "mm", "km", "kN", "KN", "kn", "MN", "deg", "rad", "N", "n", "m", "g", "t",
	} {
		name := t
		switch t {
		case "nm", "NM":
			name = "Nm"
		case "CM":
			name = "cm"
		case "newtons per metre":
			name = "N/m"
		case "newtons per kilogram", "N kg⁻¹", "N kg^-1", "Nkg⁻¹", "Nkg^-1", "Nkg-1":
			name = "N/kg"
		case "N m⁻¹", "N m^-1":
			name = "N/m"
		case "newton-metres", "newton meters", "Newton metres", "N-m":
			name = "Nm"
		case "ms⁻²", "ms^-2", "ms-2", "m s⁻²", "m s^-2", "m/s^2", "m/s2":
			name = "m/s²"
		}
		if u, ok := quantity.UnitNamed(name); ok {
			list = append(list, struct {
				typed string
				unit  quantity.Unit
			}{t, u})
		}
	}
	return list
}()

// unitAt is the unit at the start of s and its width in bytes; 0 if there is none.
func unitAt(s string) (quantity.Unit, int) {
	if s == "" {
		return quantity.Unit{}, 0
	}
	for i := range typedUnits {
		u := &typedUnits[i]
		if s[0] != u.typed[0] || !strings.HasPrefix(s, u.typed) {
			continue
		}
		rest := s[len(u.typed):]
		if r, _ := utf8.DecodeRuneInString(rest); rest != "" && (isLetter(r) || r == '_' || isDigit(rest[0])) {
			if len(u.typed) == 1 && timesAfter(rest) { // 280Nx1.1, 1.1mx280
				return u.unit, 1
			}
			if len(u.typed) > 1 && timesAfter(rest) && u.typed != "nm" {
				return u.unit, len(u.typed)
			}
			continue
		}
		// 280 N·1.1: the dot multiplies; N m before a bracket or number is still N m.
		return u.unit, len(u.typed)
	}
	return quantity.Unit{}, 0
}

// timesAfter reports whether an x that multiplies a number, or a place called by one letter, follows a unit closed up.
func timesAfter(s string) bool {
	if s == "" || s[0] != 'x' && s[0] != 'X' {
		return false
	}
	s = strings.TrimLeft(s[1:], " ")
	return s != "" && (isDigit(s[0]) || s[0] == '(' || s[0] == '.' || lone(s))
}

// lone reports whether a text begins with a small letter that stands by itself.
func lone(s string) bool {
	if s[0] < 'a' || s[0] > 'z' {
		return false
	}
	r, _ := utf8.DecodeRuneInString(s[1:])
	return len(s) == 1 || !isLetter(r) && !isDigit(s[1]) && r != '_'
}

// unit reads the unit of the number just read.
func (x *lexer) unit() {
	t := x.last()
	i := t.to
	for i < len(x.s) {
		r, w := utf8.DecodeRuneInString(x.s[i:])
		if !isSpace(r) {
			break
		}
		i += w
	}
	u, w := unitAt(x.s[i:])
	if w == 0 {
		return
	}
	typed := x.s[i : i+w]
	switch {
	case typed == "g" && (i == t.to && t.q.Value < 150 || followsProduct(x.s[i+w:])):
		return // 18g is a mass times g
	case (typed == "n" || typed == "t") && i > t.to:
		return
	case typed == "m" && strings.HasPrefix(x.s[i+w:], "g"):
		return
	}
	t.q.Unit, t.to = u, i+w
	t.degrees = u == degree
	x.at = i + w
}

// followsProduct reports whether a times sign or a bracket follows.
func followsProduct(s string) bool {
	s = strings.TrimLeft(s, " ")
	for _, p := range []string{"x ", "x(", "×", "*", "·", "("} {
		if strings.HasPrefix(s, p) {
			return true
		}
	}
	return len(s) > 1 && s[0] == 'x' && isDigit(s[1])
}

// bracketedUnit reads 152 (N).
func (x *lexer) bracketedUnit() bool {
	t := x.last()
	s := x.rest()
	u, w := unitAt(s[1:])
	if w == 0 || t.q.Unit != (quantity.Unit{}) || len(s) <= 1+w || s[1+w] != ')' {
		return false
	}
	rest := strings.TrimLeft(s[2+w:], " ")
	if len(u.Symbol) == 1 && rest != "" && !strings.ContainsAny(rest[:1], "=+-,.") { // 560 (m) would be a product
		return false
	}
	t.q.Unit, t.to = u, x.at+w+2
	x.at += w + 2
	return true
}
