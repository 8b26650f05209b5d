package sheet

import "steelyard/pdf"

// A column of a table.
type column struct {
	title string
	x     float64
	width float64
}

// A cell is what stands in a table: paragraphs under each other, as blocks painted from its own top.
type cell struct {
	blocks []block
	height float64
}

// inCell sets what a function adds to the flow into a cell instead.
func (f *flow) inCell(fill func()) cell {
	kept := f.blocks
	f.blocks = nil
	fill()
	c := cell{blocks: f.blocks}
	f.blocks = kept
	for i, b := range c.blocks {
		if i > 0 {
			c.height += b.before
		}
		c.height += b.height
	}
	return c
}

func (c *cell) paint(p *pdf.Page, y float64) {
	for i, b := range c.blocks {
		if i > 0 {
			y += b.before
		}
		b.paint(p, y)
		y += b.height
	}
}

// row adds a row of cells, with a rule above it.
func (f *flow) row(cells []cell, ruled bool) {
	pad := 0.22 * f.size
	height := 0.0
	for _, c := range cells {
		height = max(height, c.height)
	}
	f.add(block{height: height + 2*pad, paint: func(p *pdf.Page, y float64) {
		if ruled {
			f.tableRule(p, y, f.hair())
		}
		for i := range cells {
			cells[i].paint(p, y+pad)
		}
	}})
}

func (f *flow) tableRule(p *pdf.Page, y, thick float64) {
	p.Artifact("Layout")
	p.Stroke(pdf.Grey(0.35))
	p.LineWidth(thick)
	p.Dash()
	p.Line(f.left, y, f.pageWidth-f.right, y)
	p.End()
}

// tableHead adds the row of headings, and makes it stand again at the top of each page that the
// table goes on to.
func (f *flow) tableHead(table *pdf.Element, columns []column) {
	tr := table.Child(pdf.THead).Child(pdf.TR)
	pad := 0.22 * f.size
	cells := make([]*pdf.Element, len(columns))
	for i := range columns {
		cells[i] = tr.Child(pdf.TH)
		cells[i].Scope = "Column"
	}
	head := func(again bool) block {
		return block{height: f.lead + 2*pad, keep: true, paint: func(p *pdf.Page, y float64) {
			f.tableRule(p, y, 2*f.hair())
			for i, c := range columns {
				if again {
					p.Artifact("Pagination")
				} else {
					p.Begin(cells[i])
				}
				p.Fill(pdf.Colour{})
				p.Text(f.bold, f.size, c.x, y+pad+0.76*f.lead, c.title)
				p.End()
			}
		}}
	}
	f.resume = nil
	f.add(head(false))
	f.resume = func() block { return head(true) }
}
