package script

import (
	"math"
	"strings"
	"unicode/utf8"

	"steelyard/formula"
	"steelyard/quantity"
)

// Formula is a line as it was read, to be set as a formula or said in words; ok is false where the line is words
// alone or could not be read. Words that stood beside the equation are not in it.
func (l *Line) Formula() (n formula.Node, ok bool) {
	if len(l.Sides) == 0 {
		return n, false
	}
	sides := make([]formula.Node, len(l.Sides))
	for i := range l.Sides {
		sides[i] = l.Sides[i].Formula()
	}
	return chain(sides, l.link), true
}

// link is the relation after side i.
func (l *Line) link(i int) string {
	if i < len(l.Links) {
		return l.Links[i]
	}
	return l.Relation
}

// chain joins sides; where relations differ, a chain ends with another: F ≤ μN = 352.
func chain(sides []formula.Node, link func(int) string) formula.Node {
	n := 1
	for n < len(sides) && link(n-1) == link(0) {
		n++
	}
	switch {
	case len(sides) == 1:
		return sides[0]
	case n == len(sides):
		return formula.Relate(link(0), sides...)
	}
	rest := chain(sides[n-1:], func(i int) string { return link(n - 1 + i) })
	return formula.Relate(link(0), append(sides[:n-1:n-1], rest)...)
}

// Formula is an expression as a formula. A capital letter and what follows it is set as a symbol with a subscript,
// whether an underscore was typed or not: RB as R_B.
func (e *Expr) Formula() formula.Node {
	arg := func(i int) formula.Node { return e.Args[i].Formula() }
	switch e.Op {
	case Number:
		return numeral(e.Quantity)
	case Name:
		return name(e.Text)
	case Add:
		return formula.Node{Op: formula.Sum, Args: append(terms(&e.Args[0]), grouped(&e.Args[1], Add))}
	case Subtract:
		return formula.Node{Op: formula.Sum, Args: append(terms(&e.Args[0]), formula.Minus(grouped(&e.Args[1], Add)))}
	case Multiply:
		if e.unitBehind() {
			power := arg(0)
			power.Unit = e.Args[1].Quantity.Unit.Symbol
			return power
		}
		return formula.Times(append(factors(&e.Args[0]), factors(&e.Args[1])...)...)
	case Divide:
		return formula.Frac(arg(0), arg(1))
	case Negate:
		return formula.Minus(grouped(&e.Args[0], Add))
	case Power:
		return formula.Node{Op: formula.Power, Args: []formula.Node{arg(0), arg(1)}}
	case Root:
		return formula.Sqrt(arg(0))
	}
	if inverse, ok := strings.CutPrefix(e.Text, "a"); ok {
		return formula.Of(inverse+"⁻¹", arg(0))
	}
	return formula.Of(e.Text, arg(0))
}

// unitBehind reports whether a product is only a unit behind a power of ten: 10⁴ N.
func (e *Expr) unitBehind() bool {
	a, b := &e.Args[0], &e.Args[1]
	return a.Op == Power && b.Op == Number && b.Quantity.Digits == "1" && b.From == a.Args[1].From
}

// terms are the terms of a sum from left to right.
func terms(e *Expr) []formula.Node {
	switch e.Op {
	case Add:
		return append(terms(&e.Args[0]), grouped(&e.Args[1], Add))
	case Subtract:
		return append(terms(&e.Args[0]), formula.Minus(grouped(&e.Args[1], Add)))
	}
	return []formula.Node{e.Formula()}
}

// grouped puts a sum that stands inside another in brackets.
func grouped(e *Expr, op Op) formula.Node {
	n := e.Formula()
	if e.Op == op || e.Op == Subtract {
		return formula.Bracket(n)
	}
	return n
}

// factors are the factors of a product from left to right.
func factors(e *Expr) []formula.Node {
	if e.Op == Multiply && !e.unitBehind() { // a × (b × c) too: brackets change nothing there
		return append(factors(&e.Args[0]), factors(&e.Args[1])...)
	}
	return []formula.Node{e.Formula()}
}

// numeral is a number as it was typed: 1.2e3 N is 1.2 × 10³ N.
func numeral(q quantity.Quantity) formula.Node {
	digits := digitsOf(q.Digits, q.Value)
	if above, below, ok := strings.Cut(digits, "/"); ok {
		return formula.Frac(formula.Given(above, ""), formula.Given(below, q.Unit.Symbol))
	}
	if mantissa, power, ok := strings.Cut(strings.ToLower(digits), "e"); ok {
		power = strings.Replace(strings.TrimPrefix(power, "+"), "-", "−", 1)
		ten := formula.Node{Op: formula.Power, Args: []formula.Node{formula.Given("10", ""), formula.Given(power, "")}}
		ten.Unit = q.Unit.Symbol
		return formula.Times(formula.Given(mantissa, ""), ten)
	}
	return formula.Given(strings.Replace(digits, "-", "−", 1), q.Unit.Symbol)
}

// name is the symbol of a quantity, or its name in words.
func name(text string) formula.Node {
	if phrase(text) {
		return formula.Upright(text)
	}
	if letter, sub, ok := strings.Cut(text, "_"); ok {
		return formula.Symbol(letter, sub, "", math.NaN())
	}
	if r, w := utf8.DecodeRuneInString(text); r >= 'A' && r <= 'Z' && w < len(text) {
		return formula.Symbol(text[:w], text[w:], "", math.NaN())
	}
	return formula.Symbol(text, "", "", math.NaN())
}
