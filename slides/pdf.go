package slides

import (
	"fmt"

	"steelyard/draw"
	"steelyard/font"
	"steelyard/pdf"
	"steelyard/sheet"
	"steelyard/show"
)

// pdfFile writes slides as PDF, tagged, or pages of a slide with the script below it.
func pdfFile(t *show.Talk, o Options) ([]byte, error) {
	doc := pdf.New(pdf.Info{Title: talkTitle(t), Language: language})
	list := onSlides(t)
	for i := range list {
		part := doc.Root().Child(pdf.Sect)
		pen := pen{part, 1, 0, 0, i + 1, len(list)}
		if !o.Notes {
			list[i].paint(doc.AddPage(wide, high), pen)
			continue
		}
		page := doc.AddPage(595.28, 841.89)
		pen.scale, pen.x, pen.y = 0.53, (595.28-0.53*wide)/2, 48
		list[i].paint(page, pen)
		if err := list[i].script(page, part); err != nil {
			return nil, err
		}
	}
	return doc.Bytes()
}

// A pen says where a slide is painted, and which it is.
type pen struct {
	part        *pdf.Element
	scale, x, y float64
	n, of       int
}

// paint paints a slide; on a page of notes it has a frame.
func (v *slide) paint(p *pdf.Page, at pen) {
	p.Save()
	p.Shift(at.x, at.y)
	p.Scale(at.scale, 0, 0)
	p.Artifact("Layout")
	if at.scale != 1 {
		p.Stroke(pdf.Grey(0.35))
		p.LineWidth(1.5)
		p.Rectangle(0, 0, wide, high, pdf.Stroked)
	}
	p.End()
	v.paintTitle(p, at)
	v.paintPicture(p, at)
	bottom := v.paintWorking(p, at)
	v.paintWords(p, at, bottom)
	p.Artifact("Pagination")
	p.Fill(pdf.Grey(0.3))
	p.Text(font.Sans, footSize, margin, high-18, sheet.Notice)
	number := fmt.Sprintf("%d of %d", at.n, at.of)
	p.Text(font.Sans, footSize, wide-margin-font.Sans.Width(number, footSize), high-18, number)
	p.End()
	p.Restore()
}

func (v *slide) paintTitle(p *pdf.Page, at pen) {
	role := pdf.H2
	if at.n == 1 {
		role = pdf.H1
	}
	p.Begin(at.part.Child(role))
	p.Fill(pdf.Colour{})
	p.Stroke(pdf.Colour{})
	size := titleSize
	d := sheet.TypesetWords(v.title, true, size, wide-2*margin)
	for ; d.Height > titleHeight && size > 16; size -= 2 {
		d = sheet.TypesetWords(v.title, true, size, wide-2*margin)
	}
	d.Paint(p, margin, titleTop)
	p.End()
}

func (v *slide) paintPicture(p *pdf.Page, at pen) {
	k := v.scale()
	x, y := v.corner()
	e := at.part.Child(pdf.Figure)
	e.Alt = v.alt
	e.Box = [4]float64{at.x + at.scale*(x+k*v.drawn.left), at.y + at.scale*(y+k*v.drawn.top), at.x + at.scale*(x+k*v.drawn.right), at.y + at.scale*(y+k*v.drawn.bottom)}
	p.Begin(e)
	p.Save()
	p.Shift(x, y)
	p.Scale(k, 0, 0)
	draw.PDF(p, 0, 0, v.picture)
	p.Restore()
	p.End()
}

// A set row is one that has been set.
type setRow struct {
	*row
	sheet.Typeset
	tail   sheet.Typeset
	beside bool // the tail stands beside the formula, not below
}

func (r setRow) height() float64 {
	if r.beside {
		return r.Typeset.Height
	}
	return r.Typeset.Height + r.tail.Height
}

// set sets rows at the largest size at which they fit; where none is small enough the first rows are left out.
func (v *slide) set(height float64) (rows []setRow, size float64, cut bool) {
	lines := v.lines
	for size = most; ; {
		rows = rows[:0]
		all := 0.0
		for i := range lines {
			r := setRow{row: &lines[i], Typeset: sheet.TypesetFormula(lines[i].formula, size, workingWidth)}
			if t := lines[i].tail(); t != "" {
				r.tail = sheet.TypesetWords(t, false, 0.8*size, workingWidth)
				r.beside = r.Typeset.Lines() == 1 && r.Typeset.Width+size+r.tail.Width < workingWidth
			}
			rows = append(rows, r)
			all += r.height() + 0.5*size
		}
		switch {
		case all <= height || len(lines) == 1:
			return rows, size, cut
		case size > least:
			size--
		default:
			lines, cut = lines[1:], true
		}
	}
}

// paintWorking paints the working with a bar before what is new; it returns where it ends.
func (v *slide) paintWorking(p *pdf.Page, at pen) float64 {
	y := top
	if len(v.lines) == 0 {
		return y
	}
	rows, size, cut := v.set(room - 1.5*least)
	if cut {
		p.Begin(at.part.Child(pdf.P))
		p.Fill(pdf.Grey(0.3))
		d := sheet.TypesetWords("… (the first lines are left out)", false, least, workingWidth)
		d.Paint(p, workingLeft, y)
		p.End()
		y += d.Height + 4
	}
	for _, r := range rows {
		if r.fresh {
			p.Artifact("Layout")
			p.Fill(pdf.Colour{R: 0xa8 / 255.0, G: 0x3a / 255.0, B: 0x08 / 255.0})
			p.Rectangle(workingLeft-14, y, 5, r.height(), pdf.Filled)
			p.End()
		}
		ink := pdf.Grey(0.3)
		if r.fresh {
			ink = pdf.Colour{}
		}
		e := at.part.Child(pdf.Formula)
		e.Alt = r.said()
		e.Box = [4]float64{at.x + at.scale*workingLeft, at.y + at.scale*y, at.x + at.scale*(wide-margin), at.y + at.scale*(y+r.height())}
		p.Begin(e)
		p.Fill(ink)
		p.Stroke(ink)
		r.Typeset.Paint(p, workingLeft, y)
		if r.beside {
			r.tail.Paint(p, workingLeft+r.Typeset.Width+0.7*size, y+(r.Typeset.Height-r.tail.Height)/2)
		} else {
			r.tail.Paint(p, workingLeft, y+r.Typeset.Height)
		}
		p.End()
		y += r.height() + 0.5*size
	}
	return y
}

// paintWords paints a question to the class or a caution: below the working.
func (v *slide) paintWords(p *pdf.Page, at pen, y float64) {
	if v.words == "" {
		return
	}
	size := 22.0
	d := sheet.TypesetWords(v.words, false, size, workingWidth)
	for ; y+12+d.Height > top+room && size > 12; size-- {
		d = sheet.TypesetWords(v.words, false, size, workingWidth)
	}
	p.Begin(at.part.Child(pdf.P))
	p.Fill(pdf.Colour{})
	p.Stroke(pdf.Colour{})
	d.Paint(p, workingLeft, y+12)
	p.End()
}

// script paints the script below a slide.
func (v *slide) script(p *pdf.Page, part *pdf.Element) error {
	const left, size, below = 60.0, 13.0, 48 + 0.53*high + 30
	y := below
	for _, text := range v.notes {
		d := sheet.TypesetWords(text, false, size, 595.28-2*left)
		if y+d.Height > 841.89-40 {
			return fmt.Errorf("the script of %q is longer than its page; shorten the question's wording", v.title)
		}
		p.Begin(part.Child(pdf.P))
		p.Fill(pdf.Colour{})
		p.Stroke(pdf.Colour{})
		d.Paint(p, left, y)
		p.End()
		y += d.Height + 0.7*size
	}
	return nil
}
