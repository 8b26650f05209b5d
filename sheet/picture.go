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

// viewing is how pictures of a solution's steps have to be drawn: smaller than the question's own in ordinary
// print, so that words and pictures of a part stay on one page.
func (l *look) viewing() Drawing { return l.within(28 * l.size) }

// within is how pictures have to be drawn that in ordinary print are no wider than some points.
func (l *look) within(width float64) Drawing {
	d := l.drawing(l.measure())
	if !l.large {
		d.Width = min(d.Width, width)
	}
	return d
}

// given adds the drawing of a question whose words start at block at, and keeps them together. A tall
// drawing is drawn anew, narrower, until the words fit on its page: on that of the sheet's heading,
// if the question is the first and it takes little, else on one of their own.
func (f *flow) given(sect *pdf.Element, it *Item, at int, d Drawing) {
	if it.Picture != nil {
		page := f.pageHeight - f.top - f.bottom - f.footHeight
		own, above := page-tall(f.blocks[at:])-f.size, 0.0
		if at > 0 && !f.blocks[at-1].starts && tall(f.blocks[:at]) < 0.4*page {
			above = tall(f.blocks[:at]) + 2*f.size
		}
		pic := narrowed(it.Picture, d, own-above, 0.6)
		if above > 0 && pic != nil && pic.Height > own-above {
			// The words stay with the sheet's heading, whose page would be nearly empty; the drawing goes overleaf.
			over := max(0, tall(f.blocks)-page)
			if pic = narrowed(it.Picture, d, f.tallest()-over, 0.4); pic != nil {
				f.picture(sect, pic, f.left, f.measure())
			}
			return
		}
		if pic == nil || pic.Height > own-above {
			pic = narrowed(it.Picture, d, own, 0.4)
		}
		if pic != nil {
			f.picture(sect, pic, f.left, f.measure())
		}
	}
	f.keepFrom(at)
}

// narrowed asks for a drawing, and again for narrower ones, not below least of the width, until it is
// no taller than the room. Where none is, the first is given.
func narrowed(make func(Drawing) *draw.Picture, d Drawing, room, least float64) *draw.Picture {
	first := make(d)
	pic, w := first, d.Width
	for pic != nil && (pic.Height > room || pic.Width > max(first.Width, d.Width)+0.5) { // labels can make a narrow one wide again
		if w *= 0.85; w < least*d.Width {
			return first
		}
		pic = make(Drawing{w, d.TextSize, d.Upright})
	}
	return pic
}

// picture adds a drawing as a figure of parent, within the column from x; centred in ordinary print, at the
// left in large print. A drawing that is too large for its column or page all the same is made smaller.
func (f *flow) picture(parent *pdf.Element, pic *draw.Picture, x, width float64) {
	scale := min(1, width/pic.Width, f.tallest()/pic.Height)
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

// tallest is how tall a drawing may be: the page, less the line that says what goes on.
func (f *flow) tallest() float64 {
	return f.pageHeight - f.top - f.bottom - f.footHeight - f.lead - 1.5*f.size
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
