package sheet

import "steelyard/font"

// A look is how everything on a sheet is set: faces, sizes and distances, in points.
type look struct {
	large         bool // large print: upright, sans serif, nothing smaller than the text
	size          float64
	lead          float64 // from baseline to baseline
	roman, italic *font.Face
	bold          *font.Face
	head          *font.Face // headings
	small         float64    // footers, notes
	label         float64    // text in drawings
	sub           float64    // size of a subscript, as part of its text's
	pitch         float64    // between answer lines

	pageWidth, pageHeight    float64
	left, right, top, bottom float64 // margins
}

func newLook(o Options) *look {
	l := &look{
		size: o.Size, lead: 1.36 * o.Size,
		roman: font.Serif, italic: font.SerifItalic, bold: font.SerifBold, head: font.SansBold,
		small: 0.8 * o.Size, label: max(8.5, 0.87*o.Size), sub: 0.7, pitch: 1.95 * o.Size,
		left: 57, right: 57, top: 51, bottom: 45,
	}
	l.pageWidth, l.pageHeight = o.Paper.size()
	if o.Size >= 16 {
		l.large = true
		l.lead = 1.42 * o.Size
		l.roman, l.italic, l.bold, l.head = font.Sans, font.Sans, font.SansBold, font.SansBold
		l.small, l.label, l.sub = max(16, 0.75*o.Size), o.Size, 0.8
		l.left, l.right, l.top = 50, 50, 45
	}
	return l
}

// measure is the width of the text.
func (l *look) measure() float64 { return l.pageWidth - l.left - l.right }

// marksWidth is the room at the right margin where the marks stand.
func (l *look) marksWidth() float64 { return l.roman.Width("[10]", l.size) + 0.8*l.size }
