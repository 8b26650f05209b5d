package formula

import (
	"slices"
	"strings"
)

// Text writes n in one line of plain text, such as "R_Q × 3.60 m = 540 N × 0.90 m + 310 N × 1.80 m".
// A no-break space stands between a number and its unit.
func Text(n Node) string {
	var b line
	text(&b, n)
	return b.String()
}

func text(b *line, n Node) {
	switch n.Op {
	case Sym:
		b.symbol(n)
	case Num:
		b.WriteString(n.Text + unitText(n.Unit))
	case Word:
		b.WriteString(n.Text)
	case Gap:
		b.WriteString("____" + unitText(n.Unit))
	case Sum:
		for i, a := range n.Args {
			sign, a := signed(a)
			switch {
			case i > 0:
				b.WriteString(" " + sign + " ")
			case sign == "−":
				b.WriteString("−")
			}
			if i > 0 || sign == "−" {
				a = guarded(a)
			}
			text(b, a)
		}
	case Product:
		for i, a := range n.Args {
			if i > 0 {
				b.WriteString(textTimes(n.Args[i-1], a))
			}
			inner(b, a, a.Op == Sum || a.Op == Neg || a.Op == Over && i > 0 || i > 0 && negative(a))
		}
	case Over:
		inner(b, n.Args[0], n.Args[0].Op == Sum)
		b.WriteString(" / ")
		inner(b, n.Args[1], n.Args[1].Op == Sum || n.Args[1].Op == Product || n.Args[1].Op == Over)
	case Neg:
		b.WriteString("−")
		text(b, guarded(n.Args[0]))
	case Power:
		inner(b, n.Args[0], !plainBase(n.Args[0]))
		if n.Args[1].Op == Num && n.Args[1].Text == "2" {
			b.WriteString("²")
		} else {
			b.WriteString("^")
			inner(b, n.Args[1], n.Args[1].Op != Num)
		}
		b.WriteString(unitText(n.Unit))
	case Root:
		b.WriteString("√")
		inner(b, n.Args[0], true)
	case Func:
		b.WriteString(n.Text)
		wide := needsBracket(n.Args[0])
		if !wide {
			b.WriteString(" ")
		}
		inner(b, n.Args[0], wide)
	case Group:
		inner(b, n.Args[0], true)
	case Equals:
		for i, a := range n.Args {
			if i > 0 {
				b.WriteString(" " + n.Text + " ")
			}
			text(b, a)
		}
	}
}

func inner(b *line, n Node, brackets bool) {
	if brackets && n.Op != Group {
		b.WriteString("(")
		defer b.WriteString(")")
	}
	text(b, n)
}

// signed takes the sign off a term of a sum.
func signed(n Node) (string, Node) {
	if n.Op == Neg {
		return "−", n.Args[0]
	}
	return "+", n
}

// needsBracket says whether the argument of a function is more than one symbol or number.
func needsBracket(n Node) bool { return n.Op != Sym && n.Op != Num && n.Op != Gap && n.Op != Group }

// plainBase reports whether a power can stand at n without brackets.
func plainBase(n Node) bool {
	return n.Op == Sym || n.Op == Num && n.Unit == "" && !negative(n)
}

// textTimes is what stands between two factors: nothing but a space where the left one is a symbol
// and the right one a symbol or a function, a cross otherwise.
func textTimes(left, right Node) string {
	if sideBySide(left, right) {
		if right.Op == Sym && len(right.Text) <= 2 && (left.Op == Num || left.Sub == "" && len(left.Text) <= 2) {
			return ""
		}
		return " "
	}
	return " × "
}

// guarded is a as it stands after a sign: a sum, or a number with a minus sign that leads it, in brackets.
func guarded(a Node) Node {
	switch {
	case a.Op == Sum || a.Op == Neg || negative(a):
		return Bracket(a)
	case (a.Op == Product || a.Op == Over && a.Args[0].Op != Sum) && len(a.Args) > 0:
		if first := guarded(a.Args[0]); first.Op == Group && a.Args[0].Op != Group {
			a.Args = slices.Clone(a.Args)
			a.Args[0] = first
		}
	}
	return a
}

// negative reports whether a is a number with a minus sign, which needs brackets after another sign.
func negative(a Node) bool { return a.Op == Num && strings.HasPrefix(a.Text, "−") }

func sideBySide(left, right Node) bool {
	return (left.Op == Sym || left.Op == Num && left.Unit == "") && (right.Op == Sym || right.Op == Func)
}

func unitText(unit string) string {
	switch unit {
	case "":
		return ""
	case "°":
		return "°"
	}
	return "\u00a0" + strings.ReplaceAll(unit, " ", "\u00a0")
}
