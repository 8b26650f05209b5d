package script

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"steelyard/quantity"
)

func digitsOf(digits string, v float64) string {
	if digits != "" {
		return digits
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}

// ReadAnswer reads what stands in an answer box: "RB = 152N up", "4,05 m from the left end", "23.1° above the
// horizontal". Of a chain the last side counts. An answer without a number is read if it says a direction or
// anything else in words; then Value is NaN.
func ReadAnswer(text string) Answer {
	a := Answer{Text: text, Value: math.NaN()}
	s := strings.TrimSpace(text)
	if s == "" {
		return a
	}
	if len(s) > longest {
		s = strings.ToValidUTF8(s[:longest], "")
	}
	s = strings.ToValidUTF8(s, "\ufffd")
	list := tokens(s, make([]token, 0, min(64, len(s)/2+2)))
	if len(list) == 0 {
		return a
	}
	list = unlabelled(list)
	from := 0
	for i := range list {
		if list[i].kind == relation && i+1 < len(list) {
			from = i + 1
		}
	}
	a.number(s, list[from:])
	for i := range list {
		if k := list[i].kind; k == word {
			p := parser{line: &Line{}}
			p.say(&list[i])
			a.Words = append(a.Words, p.line.Words...)
		} else if k == relation && list[i].text != "=" {
			a.Words = append(a.Words, list[i].text)
		}
	}
	a.Direction = direction(a.Words)
	a.Read = !math.IsNaN(a.Value) || len(a.Words) > 0
	return a
}

// number reads the value of an answer, worked out if it is a sum.
func (a *Answer) number(s string, t []token) {
	first := -1
	for i := range t {
		if t[i].kind == number {
			first = i
			break
		}
	}
	if first < 0 {
		return
	}
	x := &t[first]
	// A sum, a fraction, a power of ten or a root: everything up to the first word.
	k := first + 1
	for k < len(t) && t[k].kind != word && t[k].kind != comma && t[k].kind != colon && t[k].kind != relation && t[k].kind != strange {
		k++
	}
	begin := first
	for begin > 0 && (t[begin-1].kind == operator || t[begin-1].kind == opening || t[begin-1].kind == function) {
		begin--
	}
	part := t[begin:k]
	figuresOf := x
	if len(part) > 1 {
		p := parser{src: s, line: &Line{}, t: part}
		if e, ok := p.sum(); ok && p.at >= len(part) {
			if v, u, ok := e.constant(); ok {
				a.Value, a.Unit, a.HasUnit = v, u, u != quantity.Unit{}
				a.UnitText = u.Symbol
				a.Figures, a.Decimals = figuresOf.q.Figures, figuresOf.q.Decimals
				return
			}
		}
	}
	a.Value = x.q.Value
	if begin < first && t[first-1].kind == operator && t[first-1].text == "-" {
		a.Value = -a.Value
	}
	a.Figures, a.Decimals, a.Unit = x.q.Figures, x.q.Decimals, x.q.Unit
	a.HasUnit = x.q.Unit != quantity.Unit{}
	a.UnitText = x.q.Unit.Symbol
	if a.HasUnit {
		return
	}
	// 12 J: a unit that is none here.
	rest := strings.TrimLeftFunc(s[x.to:], unicode.IsSpace)
	if r, _ := utf8.DecodeRuneInString(rest); rest == "" || !isLetter(r) && r != '%' {
		return
	}
	end := strings.IndexFunc(rest, func(r rune) bool { return unicode.IsSpace(r) || r == ',' || r == ';' || r == '(' })
	if end < 0 {
		end = len(rest)
	}
	typed := strings.Trim(rest[:end], ".,")
	if u, ok := quantity.UnitNamed(typed); ok {
		a.Unit, a.HasUnit, a.UnitText = u, true, u.Symbol
		return
	}
	if lower := strings.ToLower(typed); !glue[lower] && !shortWords[lower] && !nouns[lower] && len(typed) <= 8 {
		a.UnitText = typed
	}
}

// constant is the value of an expression without names, in the one unit that its numbers bear.
func (e *Expr) constant() (v float64, u quantity.Unit, ok bool) {
	switch e.Op {
	case Number:
		return e.Quantity.Value, e.Quantity.Unit, true
	case Name:
		return 0, u, false
	}
	a, u, ok := e.Args[0].constant()
	if !ok {
		return 0, u, false
	}
	var b float64
	if len(e.Args) > 1 {
		var w quantity.Unit
		if b, w, ok = e.Args[1].constant(); !ok {
			return 0, u, false
		}
		none := quantity.Unit{}
		switch {
		case u == none:
			u = w
			if e.Op == Divide && w != none {
				return 0, u, false
			}
		case w != none && (e.Op == Multiply || e.Op == Divide || w != u):
			return 0, u, false
		}
	}
	switch e.Op {
	case Add:
		v = a + b
	case Subtract:
		v = a - b
	case Multiply:
		v = a * b
	case Divide:
		v = a / b
	case Negate:
		v = -a
	case Power:
		v = math.Pow(a, b)
	case Root:
		v = math.Sqrt(a)
	case Function:
		rad := a * math.Pi / 180
		deg := 180 / math.Pi
		switch e.Text {
		case "sin":
			v = math.Sin(rad)
		case "cos":
			v = math.Cos(rad)
		case "tan":
			v = math.Tan(rad)
		case "asin":
			v, u = math.Asin(a)*deg, degree
		case "acos":
			v, u = math.Acos(a)*deg, degree
		case "atan":
			v, u = math.Atan(a)*deg, degree
		}
	}
	return v, u, !math.IsNaN(v) && !math.IsInf(v, 0)
}

// direction is the one direction that the words say; "" if they say none or two that exclude each other.
func direction(words []string) string {
	found := ""
	for i, w := range words {
		d := ""
		switch w {
		case "up", "upward", "upwards":
			d = "up"
		case "down", "downward", "downwards":
			d = "down"
		case "leftward", "leftwards":
			d = "left"
		case "rightward", "rightwards":
			d = "right"
		case "clockwise", "cw":
			d = "clockwise"
			if i > 0 && (words[i-1] == "anti" || words[i-1] == "counter") {
				d = "anticlockwise"
			}
		case "anticlockwise", "counterclockwise", "acw", "ccw":
			d = "anticlockwise"
		case "left", "right":
			// "from the left end" and "the left support" say no direction.
			if i+1 < len(words) && (words[i+1] == "end" || words[i+1] == "hand" || words[i+1] == "support" || words[i+1] == "of" || words[i+1] == "side" || words[i+1] == "angle" || words[i+1] == "angles") {
				continue
			}
			if i > 0 && words[i-1] == "from" || i > 1 && words[i-1] == "the" && words[i-2] == "from" {
				continue
			}
			d = w
		default:
			continue
		}
		switch {
		case found == "" || found == d:
			found = d
		case (found == "up" || found == "down") && (d == "left" || d == "right"), (found == "left" || found == "right") && (d == "up" || d == "down"):
			// up and to the left: the first stands
		default:
			return ""
		}
	}
	return found
}
