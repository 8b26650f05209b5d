package sheet

import (
	"strings"

	"steelyard/formula"
	"steelyard/pdf"
)

// A textLine is one line: pieces of one tag each, text or a formula.
type textLine struct {
	pieces   []wordPiece
	at       []float64 // where each starts
	width    float64
	up, down float64
}

// setLine joins the pieces of a line's words. A space that ends a word is put into its text, so that
// text read out or copied has it.
func setLine(words []word) textLine {
	var l textLine
	x := 0.0
	for i, w := range words {
		if i > 0 {
			if w.gap > 0 {
				l.endWithSpace()
			}
			x += w.gap
		}
		for _, p := range w.pieces {
			l.pieces = append(l.pieces, p)
			l.at = append(l.at, x)
			x += p.width
			l.up, l.down = max(l.up, p.up), max(l.down, p.down)
		}
	}
	l.width = x
	return l
}

// endWithSpace ends the line so far with a space, where it ends with text.
func (l *textLine) endWithSpace() {
	last := &l.pieces[len(l.pieces)-1]
	if last.math != nil || len(last.runs) == 0 {
		return
	}
	runs := append([]run(nil), last.runs...) // the word may stand in another line too
	runs[len(runs)-1].text += " "
	last.runs = runs
}

// paint paints the line at its baseline: stretches of text tagged with e, formulas with elements of
// their own in it. A formula that goes on from the line before keeps its element.
func (l *textLine) paint(p *pdf.Page, e *pdf.Element, x, y float64, formulas map[*formula.Node]*pdf.Element) {
	p.Fill(pdf.Colour{})
	p.Stroke(pdf.Colour{})
	for i := 0; i < len(l.pieces); {
		var all box
		math := l.pieces[i].math
		start := l.at[i]
		for ; i < len(l.pieces) && l.pieces[i].math == math; i++ {
			all.add(l.pieces[i].box, l.at[i]-start, 0)
		}
		within := e
		if math != nil {
			if within = formulas[math]; within == nil {
				within = newFormula(e, *math)
				formulas[math] = within
			}
		}
		p.Begin(within)
		all.paint(p, x+start, y)
		p.End()
	}
}

// whole is the line as one box.
func (l *textLine) whole() box {
	all := box{width: l.width}
	for i, p := range l.pieces {
		all.add(p.box, l.at[i], 0)
	}
	return all
}

// setText breaks spans into lines.
func (l *look) setText(spans []span, size, width float64) []textLine {
	var out []textLine
	for _, words := range breakLines(l.chop(l.words(spans, size), width), width) {
		if n := len(out); n > 0 {
			out[n-1].endWithSpace() // so that text read out keeps the last word of a line apart from the next
		}
		out = append(out, setLine(words))
	}
	return out
}

// newFormula adds an element for a formula, with its words.
func newFormula(parent *pdf.Element, n formula.Node) *pdf.Element {
	e := parent.Child(pdf.Formula)
	if e.Alt = formula.Words(n); e.Alt == "" {
		e.Alt = "empty formula"
	}
	return e
}

// heights says how high a line is and where its baseline is below its top; a tall formula makes
// room for itself.
func (l *look) heights(t textLine, size float64) (height, base float64) {
	lead := l.lead / l.size * size
	base = max(0.76*lead, t.up+0.08*size)
	return base + max(0.24*lead, t.down+0.08*size), base
}

// text adds a paragraph. Its first two lines stay together, and its last two.
func (f *flow) text(e *pdf.Element, spans []span, size, x, width float64) {
	f.textBeside(e, spans, size, x, width, nil)
}

// textBeside is text with something painted beside the last line: the marks of a part.
func (f *flow) textBeside(e *pdf.Element, spans []span, size, x, width float64, beside func(p *pdf.Page, baseline float64)) {
	lines := f.setText(spans, size, width)
	formulas := map[*formula.Node]*pdf.Element{}
	for i, line := range lines {
		height, base := f.heights(line, size)
		last := i == len(lines)-1
		f.add(block{
			height: height,
			base:   base,
			keep:   !last && (i == 0 || i == len(lines)-2),
			paint: func(p *pdf.Page, y float64) {
				line.paint(p, e, x, y+base, formulas)
				if last && beside != nil {
					beside(p, y+base)
				}
			},
		})
	}
}

// plain is text in one style.
func plain(text string) []span { return []span{{text: tie(oneLine.Replace(text))}} }

// marked is text with the symbols of quantities marked.
func marked(text string) []span { return symbols(tie(oneLine.Replace(text))) }

// oneLine turns what would start a new line into spaces: the sheet breaks lines itself.
var oneLine = strings.NewReplacer("\r\n", " ", "\n", " ", "\r", " ", "\t", " ")

// bold makes spans bold.
func bold(spans []span) []span {
	out := append([]span(nil), spans...)
	for i := range out {
		out[i].bold = true
	}
	return out
}
