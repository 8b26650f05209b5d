package sheet

import (
	"steelyard/draw"
	"steelyard/font"
	"steelyard/formula"
)

// A FormulaLine is one line of a formula as marks, from the left end of its baseline.
type FormulaLine struct {
	Marks           []draw.Mark
	Width, Up, Down float64 // above and below the baseline
}

// Display sets a formula for a picture: in sans serif, symbols italic, at a size in points, within a width. Lines after
// the first are indented; what can't be broken is set smaller.
func Display(n formula.Node, size, width float64, ink draw.Ink) []FormulaLine {
	l := &look{size: size, roman: font.Sans, italic: font.SansItalic, bold: font.SansBold, head: font.SansBold, sub: 0.7}
	var out []FormulaLine
	for _, b := range (setter{look: l, size: size}).lines(n, width) {
		out = append(out, FormulaLine{Marks: b.marks(ink), Width: b.width, Up: b.up, Down: b.down})
	}
	return out
}

// marks are the box's pieces as marks of a picture.
func (a *box) marks(ink draw.Ink) []draw.Mark {
	var out []draw.Mark
	for _, r := range a.runs {
		out = append(out, draw.Text{At: draw.Point{X: r.x, Y: r.y}, Size: r.size, Ink: ink,
			Runs: []draw.Run{{Text: r.text, Italic: r.face.Italic(), Bold: r.face.Bold()}}})
	}
	for _, r := range a.rules {
		out = append(out, draw.Line{Points: []draw.Point{{X: r.x1, Y: r.y1}, {X: r.x2, Y: r.y2}}, Style: draw.Style{Stroke: ink, Width: r.thick}})
	}
	for _, c := range a.curves {
		out = append(out, draw.Line{Points: c.points(), Style: draw.Style{Stroke: ink, Width: c.thick}})
	}
	return out
}

// points are places along a curve, close enough for brackets.
func (c *curve) points() []draw.Point {
	const n = 16
	var out []draw.Point
	for i := range n + 1 {
		t := float64(i) / n
		u := 1 - t
		at := func(k int) float64 {
			return u*u*u*c.at[k] + 3*u*u*t*c.at[k+2] + 3*u*t*t*c.at[k+4] + t*t*t*c.at[k+6]
		}
		out = append(out, draw.Point{X: at(0), Y: at(1)})
	}
	return out
}
