package formula

import "strings"

// OMML writes n as a formula of an office document: the contents of an m:oMath element, whose prefix m the caller binds
// to http://schemas.openxmlformats.org/officeDocument/2006/math. Symbols are italic; numbers, units and words upright.
//
// Source: ISO/IEC 29500-1, clause 22.1.
func OMML(n Node) string {
	var b strings.Builder
	omml(&b, n)
	return b.String()
}

func omml(b *strings.Builder, n Node) {
	switch n.Op {
	case Sym:
		if n.Sub == "" {
			ommlItalic(b, n.Text)
			return
		}
		b.WriteString("<m:sSub><m:e>")
		ommlItalic(b, n.Text)
		b.WriteString("</m:e><m:sub>")
		ommlUpright(b, n.Sub)
		b.WriteString("</m:sub></m:sSub>")
	case Num:
		ommlUpright(b, n.Text+unitText(n.Unit))
	case Word:
		ommlUpright(b, n.Text)
	case Gap:
		ommlUpright(b, "____"+unitText(n.Unit))
	case Sum:
		for i, a := range n.Args {
			sign, a := signed(a)
			if i > 0 || sign == "−" {
				ommlSign(b, sign, i > 0)
				a = guarded(a)
			}
			omml(b, a)
		}
	case Product:
		for i, a := range n.Args {
			if i > 0 && !sideBySide(n.Args[i-1], a) {
				ommlSign(b, "×", true)
			} else if i > 0 {
				ommlUpright(b, "\u2009")
			}
			ommlInner(b, a, a.Op == Sum || a.Op == Neg || i > 0 && negative(a))
		}
	case Over:
		b.WriteString("<m:f><m:num>")
		omml(b, n.Args[0])
		b.WriteString("</m:num><m:den>")
		omml(b, n.Args[1])
		b.WriteString("</m:den></m:f>")
	case Neg:
		ommlSign(b, "−", false)
		omml(b, guarded(n.Args[0]))
	case Power:
		b.WriteString("<m:sSup><m:e>")
		ommlInner(b, n.Args[0], !plainBase(n.Args[0]))
		b.WriteString("</m:e><m:sup>")
		omml(b, n.Args[1])
		b.WriteString("</m:sup></m:sSup>")
		if n.Unit != "" {
			ommlUpright(b, unitText(n.Unit))
		}
	case Root:
		b.WriteString(`<m:rad><m:radPr><m:degHide m:val="1"/></m:radPr><m:deg/><m:e>`)
		omml(b, n.Args[0])
		b.WriteString("</m:e></m:rad>")
	case Func:
		b.WriteString("<m:func><m:fName>")
		if base, inverse := strings.CutSuffix(n.Text, "⁻¹"); inverse {
			b.WriteString("<m:sSup><m:e>")
			ommlUpright(b, base)
			b.WriteString("</m:e><m:sup>")
			ommlUpright(b, "−1")
			b.WriteString("</m:sup></m:sSup>")
		} else {
			ommlUpright(b, n.Text)
		}
		b.WriteString("</m:fName><m:e>")
		ommlInner(b, n.Args[0], needsBracket(n.Args[0]))
		b.WriteString("</m:e></m:func>")
	case Group:
		ommlInner(b, n.Args[0], true)
	case Equals:
		for i, a := range n.Args {
			if i > 0 {
				ommlSign(b, n.Text, true)
			}
			omml(b, a)
		}
	}
}

func ommlInner(b *strings.Builder, n Node, brackets bool) {
	if !brackets || n.Op == Group {
		omml(b, n)
		return
	}
	b.WriteString("<m:d><m:e>")
	omml(b, n)
	b.WriteString("</m:e></m:d>")
}

func ommlItalic(b *strings.Builder, text string) {
	b.WriteString(`<m:r><m:t xml:space="preserve">` + escape(text) + "</m:t></m:r>")
}

func ommlUpright(b *strings.Builder, text string) {
	b.WriteString(`<m:r><m:rPr><m:nor/></m:rPr><m:t xml:space="preserve">` + escape(text) + "</m:t></m:r>")
}

// ommlSign writes a sign; readers set the space around one that joins two sides.
func ommlSign(b *strings.Builder, sign string, joins bool) {
	if !joins {
		ommlUpright(b, sign)
		return
	}
	b.WriteString("<m:r><m:t>" + escape(sign) + "</m:t></m:r>")
}
