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

// base is the baseline of the cell's first line.
func (c *cell) base() float64 {
	if len(c.blocks) == 0 {
		return 0
	}
	return c.blocks[0].base
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

// row adds a row of cells, with a rule above it. A row that is tall is laid down in slices, one for
// each line, so that it can go on over a page's end.
func (f *flow) row(cells []cell, ruled, keep bool) {
	pad := 0.22 * f.size
	// The first lines of all cells stand on one baseline.
	base, height := 0.0, 0.0
	for _, c := range cells {
		base = max(base, c.base())
	}
	for _, c := range cells {
		height = max(height, base-c.base()+c.height)
	}
	rule := func(p *pdf.Page, y float64) {
		if ruled {
			f.tableRule(p, y, f.hair())
		}
	}
	if height > 0.45*f.pageHeight {
		f.slices(cells, pad, rule)
		return
	}
	f.add(block{height: height + 2*pad, keep: keep, paint: func(p *pdf.Page, y float64) {
		rule(p, y)
		for i := range cells {
			cells[i].paint(p, y+pad+base-cells[i].base())
		}
	}})
}

// slices adds the blocks of cells side by side: all first ones, all second ones and so on.
func (f *flow) slices(cells []cell, pad float64, rule func(p *pdf.Page, y float64)) {
	for k := 0; ; k++ {
		height, last := 0.0, true
		for _, c := range cells {
			if k < len(c.blocks) {
				height = max(height, c.blocks[k].height)
			}
			last = last && k+1 >= len(c.blocks)
		}
		top := 0.0
		if k == 0 {
			top = pad
		}
		bottom := 0.0
		if last {
			bottom = pad
		}
		f.add(block{height: top + height + bottom, keep: k == 0 && !last, paint: func(p *pdf.Page, y float64) {
			if k == 0 {
				rule(p, y)
			}
			for _, c := range cells {
				if k < len(c.blocks) {
					c.blocks[k].paint(p, y+top)
				}
			}
		}})
		if last {
			return
		}
	}
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
