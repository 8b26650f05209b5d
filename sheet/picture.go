package sheet

import (
	"strings"

	"steelyard/draw"
	"steelyard/pdf"
)

// drawing is how pictures on this sheet have to be drawn, within a width.
func (l *look) drawing(width float64) Drawing {
	if !l.large {
		width = min(width, 420)
	}
	return Drawing{Width: width, TextSize: l.label, Upright: l.large}
}

// picture adds a drawing as a figure of parent, within the column from x; centred in ordinary print, at the
// left in large print. A drawing that is too large for its column or page all the same is made smaller.
func (f *flow) picture(parent *pdf.Element, pic *draw.Picture, x, width float64) {
	tallest := 0.55 * f.pageHeight
	scale := min(1, width/pic.Width, tallest/pic.Height)
	w, h := scale*pic.Width, scale*pic.Height
	if !f.large {
		x += (width - w) / 2
	}
	e := parent.Child(pdf.Figure)
	e.Alt = alternative(pic)
	f.add(block{before: 0.4 * f.size, height: h + 0.3*f.size, paint: func(p *pdf.Page, y float64) {
		e.Box = [4]float64{x, y, x + w, y + h}
		p.Begin(e)
		p.Save()
		p.Shift(x, y)
		p.Scale(scale, 0, 0)
		draw.PDF(p, 0, 0, pic)
		p.Restore()
		p.End()
	}})
}

// alternative is what stands for a picture where it cannot be seen.
func alternative(pic *draw.Picture) string {
	title := strings.TrimSpace(pic.Title)
	if title != "" && !strings.HasSuffix(title, ".") {
		title += "."
	}
	if all := strings.TrimSpace(title + " " + pic.Description); all != "" {
		return all
	}
	return "Drawing of the arrangement."
}
