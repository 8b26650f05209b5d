package sheet

import (
	"steelyard/font"
	"steelyard/formula"
	"steelyard/pdf"
)

// A Typeset is a formula or words set in lines, for a page that is no sheet, such as a slide. Lengths are in points.
type Typeset struct {
	Width, Height float64
	lines         []box
	base          []float64 // of each line's baseline below the top
}

// onSlides is how they are set: in the face of the pictures.
func onSlides(size float64) *look {
	return &look{size: size, lead: 1.3 * size, roman: font.Sans, italic: font.SansItalic, bold: font.SansBold, head: font.SansBold, sub: 0.7}
}

// TypesetFormula sets a formula in a width, in lines broken where formulas may be.
func TypesetFormula(n formula.Node, size, width float64) Typeset {
	l := onSlides(size)
	return l.stack((setter{look: l, size: size}).lines(n, width), size)
}

// TypesetWords sets words in a width.
func TypesetWords(text string, bold bool, size, width float64) Typeset {
	l := onSlides(size)
	if bold {
		l.roman = l.bold
	}
	var lines []box
	for _, t := range l.setText(plain(text), size, width) {
		lines = append(lines, t.whole())
	}
	return l.stack(lines, size)
}

func (l *look) stack(lines []box, size float64) Typeset {
	d := Typeset{lines: lines}
	for _, b := range lines {
		height, base := l.heights(textLine{up: b.up, down: b.down}, size)
		d.base = append(d.base, d.Height+base)
		d.Height += height
		d.Width = max(d.Width, b.width)
	}
	return d
}

// Lines is how many lines it takes.
func (d Typeset) Lines() int { return len(d.lines) }

// Paint paints it with its top left corner at (x, y), in the pen's colours. The caller opens and closes the tag.
func (d Typeset) Paint(p *pdf.Page, x, y float64) {
	p.Dash()
	for i := range d.lines {
		d.lines[i].paint(p, x, y+d.base[i])
	}
}
