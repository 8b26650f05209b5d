package formula

import (
	"encoding/xml"
	"strings"
	"unicode/utf8"
)

// MathML writes n as a math element, in a line of its own or inside a sentence; its alternative text
// is what [Words] says.
//
// Only elements and attributes of MathML Core are used (W3C, "MathML Core").
func MathML(n Node, display bool) string {
	var b strings.Builder
	b.WriteString(`<math xmlns="http://www.w3.org/1998/Math/MathML" display="`)
	if display {
		b.WriteString("block")
	} else {
		b.WriteString("inline")
	}
	b.WriteString(`" alttext="` + escape(Words(n)) + `">`)
	row(&b, n)
	b.WriteString("</math>")
	return b.String()
}

// Pieces writes n as MathML in pieces between which a line may break, since browsers don't break formulas: a piece
// begins at each relation, and at each + and − of a sum that stands on a side of its own. The pieces are for the
// eye alone; [Words] says the whole.
func Pieces(n Node) []string {
	var list []string
	pieces(&list, "", n)
	return list
}

func pieces(list *[]string, sign string, n Node) {
	switch n.Op {
	case Equals:
		for i, a := range n.Args {
			if i > 0 {
				sign = n.Text
			}
			pieces(list, sign, a)
		}
	case Sum:
		for i, a := range n.Args {
			before := sign
			plus, a := signed(a)
			if i > 0 || plus == "−" {
				a = guarded(a)
			}
			switch {
			case i > 0:
				before = plus
			case plus == "−":
				a = Minus(a)
			}
			pieces(list, before, Node{Op: Product, Args: []Node{a}})
		}
	default:
		var b strings.Builder
		b.WriteString(`<math xmlns="http://www.w3.org/1998/Math/MathML" display="inline"><mrow>`)
		if sign != "" {
			b.WriteString(`<mo form="infix">` + escape(sign) + "</mo>")
		}
		row(&b, n)
		b.WriteString("</mrow></math>")
		*list = append(*list, b.String())
	}
}

const (
	invisibleTimes = "<mo>\u2062</mo>"
	application    = "<mo>\u2061</mo>"
	unitSpace      = `<mspace width="0.1667em"/>`
	open           = `<mo stretchy="false">(</mo>`
	shut           = `<mo stretchy="false">)</mo>`
)

// row writes n as exactly one element.
func row(b *strings.Builder, n Node) {
	switch n.Op {
	case Sym:
		name := "<mi>" + escape(n.Text) + "</mi>"
		if n.Sub == "" {
			b.WriteString(name)
			return
		}
		b.WriteString("<msub>" + name + `<mi mathvariant="normal">` + escape(n.Sub) + "</mi></msub>")
	case Word:
		b.WriteString("<mtext>" + escape(n.Text) + "</mtext>")
	case Over:
		b.WriteString("<mfrac>")
		row(b, n.Args[0])
		row(b, n.Args[1])
		b.WriteString("</mfrac>")
	case Power:
		if n.Unit != "" {
			b.WriteString("<mrow>")
			defer b.WriteString("</mrow>")
			defer unit(b, n.Unit)
		}
		b.WriteString("<msup>")
		bracketed(b, n.Args[0], !plainBase(n.Args[0]))
		row(b, n.Args[1])
		b.WriteString("</msup>")
	case Root:
		b.WriteString("<msqrt>")
		row(b, n.Args[0])
		b.WriteString("</msqrt>")
	default:
		b.WriteString("<mrow>")
		content(b, n)
		b.WriteString("</mrow>")
	}
}

// content writes what stands inside the row of n.
func content(b *strings.Builder, n Node) {
	switch n.Op {
	case Num:
		digits, minus := strings.CutPrefix(n.Text, "−")
		if minus {
			b.WriteString("<mo>−</mo>")
		}
		b.WriteString("<mn>" + escape(digits) + "</mn>")
		unit(b, n.Unit)
	case Gap:
		b.WriteString("<mtext>____</mtext>")
		unit(b, n.Unit)
	case Sum:
		for i, a := range n.Args {
			sign, a := signed(a)
			if i > 0 || sign == "−" {
				b.WriteString("<mo>" + sign + "</mo>")
			}
			if i > 0 || sign == "−" {
				a = guarded(a)
			}
			row(b, a)
		}
	case Product:
		for i, a := range n.Args {
			if i > 0 {
				if sideBySide(n.Args[i-1], a) {
					b.WriteString(invisibleTimes)
					if a.Op == Func {
						b.WriteString(unitSpace)
					}
				} else {
					b.WriteString("<mo>×</mo>")
				}
			}
			bracketed(b, a, a.Op == Sum || a.Op == Neg || i > 0 && negative(a))
		}
	case Neg:
		b.WriteString("<mo>−</mo>")
		row(b, guarded(n.Args[0]))
	case Func:
		if base, inverse := strings.CutSuffix(n.Text, "⁻¹"); inverse {
			b.WriteString("<msup><mi>" + escape(base) + "</mi><mrow><mo>−</mo><mn>1</mn></mrow></msup>")
		} else {
			b.WriteString("<mi>" + escape(n.Text) + "</mi>")
		}
		b.WriteString(application)
		if !needsBracket(n.Args[0]) {
			b.WriteString(unitSpace)
		}
		bracketed(b, n.Args[0], needsBracket(n.Args[0]) && n.Args[0].Op != Over)
	case Group:
		b.WriteString(open)
		row(b, n.Args[0])
		b.WriteString(shut)
	case Equals:
		for i, a := range n.Args {
			if i > 0 {
				b.WriteString("<mo>" + escape(n.Text) + "</mo>")
			}
			row(b, a)
		}
	}
}

func bracketed(b *strings.Builder, n Node, brackets bool) {
	if !brackets || n.Op == Group {
		row(b, n)
		return
	}
	b.WriteString("<mrow>" + open)
	row(b, n)
	b.WriteString(shut + "</mrow>")
}

// unit writes a thin space and the unit, upright; a product of units has thin spaces inside.
func unit(b *strings.Builder, symbol string) {
	if symbol == "" {
		return
	}
	if symbol == "°" {
		b.WriteString(`<mi mathvariant="normal">°</mi>`)
		return
	}
	for part := range strings.SplitSeq(symbol, " ") {
		b.WriteString(unitSpace)
		for i, u := range strings.Split(part, "/") {
			if i > 0 {
				b.WriteString(`<mo lspace="0" rspace="0">/</mo>`)
			}
			base, power := u, ""
			for sign, digit := range powers {
				if rest, ok := strings.CutSuffix(u, sign); ok {
					base, power = rest, digit
				}
			}
			letters := "<mi>" + escape(base) + "</mi>"
			if utf8.RuneCountInString(base) == 1 {
				letters = `<mi mathvariant="normal">` + escape(base) + "</mi>"
			}
			if power != "" {
				letters = "<msup>" + letters + "<mn>" + power + "</mn></msup>"
			}
			b.WriteString(letters)
		}
	}
}

// powers are the raised digits that units end in.
var powers = map[string]string{"²": "2", "³": "3"}

func escape(s string) string {
	if !strings.ContainsAny(s, "<>&\"'\t\n\r") && utf8.ValidString(s) {
		return s
	}
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a strings.Builder takes everything
	return b.String()
}
