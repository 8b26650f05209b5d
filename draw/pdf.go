package draw

import "steelyard/pdf"

// haloRim is how far a halo reaches beyond its letters, in points, as in the other writers.
const haloRim = 1.25

// PDF paints the picture on a page with its top left corner at (x, y), in points. The caller opens
// and closes the tag that it belongs to, with the picture's description as its words.
func PDF(page *pdf.Page, x, y float64, p *Picture) {
	page.Save()
	page.Shift(x, y)
	paintMarks(page, p.Marks)
	page.Restore()
}

func paintMarks(page *pdf.Page, marks []Mark) {
	for _, m := range marks {
		switch m := m.(type) {
		case Line:
			paint, any := setPen(page, m.Style)
			if !any {
				continue
			}
			points := make([][2]float64, len(m.Points))
			for i, p := range m.Points {
				points[i] = [2]float64{p.X, p.Y}
			}
			page.Path(points, m.Closed, paint)
		case Arc:
			if paint, any := setPen(page, m.Style); any {
				page.Arc(m.Centre.X, m.Centre.Y, m.Radius, m.From, m.To, paint)
			}
		case Text:
			paintText(page, m)
		case Group:
			paintMarks(page, m.Marks)
		}
	}
}

// setPen sets the page's pen to a style, and reports what to do with a path: nothing at all for a
// style without outline and fill.
func setPen(page *pdf.Page, s Style) (paint pdf.Paint, any bool) {
	lined, filled := s.Stroke != None && s.Width > 0, s.Fill != None
	if filled {
		page.Fill(colour(s.Fill))
		paint = pdf.Filled
	}
	if lined {
		page.Stroke(colour(s.Stroke))
		page.LineWidth(s.Width)
		page.Dash(s.Dash...)
		page.Round(s.Round)
		paint = pdf.Stroked
		if filled {
			paint = pdf.Both
		}
	}
	return paint, lined || filled
}

func colour(i Ink) pdf.Colour {
	r, g, b := i.RGB()
	return pdf.Colour{R: float64(r) / 255, G: float64(g) / 255, B: float64(b) / 255}
}

func paintText(page *pdf.Page, t Text) {
	page.Fill(colour(t.Ink))
	pieces := t.Pieces()
	if t.Halo {
		page.Stroke(colour(Paper))
		page.Dash()
		for _, p := range pieces {
			page.Halo(p.Face, p.Size, p.At.X, p.At.Y, haloRim, p.Text)
		}
	}
	for _, p := range pieces {
		page.Text(p.Face, p.Size, p.At.X, p.At.Y, p.Text)
	}
}
