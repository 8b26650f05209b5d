package sheet

import (
	"errors"
	"fmt"

	"steelyard/draw"
	"steelyard/pdf"
)

// A Report is a text with tables and pictures, such as one pupil's feedback or the picture of a class. It is
// printed by [Reports] and shown in a browser by [ReportsHTML], with the same words.
type Report struct {
	Title  string
	Kind   string // below the title; may be empty
	Code   string // in the foot of each page
	Pieces []Piece
}

// A Piece is a part of a report: [Heading], [Words], [Quote], [List], [Grid], [Picture], [Room] or [Solved].
type Piece interface{ piece() }

type (
	// A Heading starts a section.
	Heading struct{ Text string }
	// Words are a paragraph.
	Words struct {
		Text string
		Bold bool
	}
	// A Quote is what somebody wrote, line by line, as they wrote it.
	Quote struct{ Lines []string }
	// A List has a bullet before each item.
	List struct{ Items []string }
	// A Grid is a table. Shares are the widths of its columns as parts of the whole.
	Grid struct {
		Heads  []string
		Shares []float64
		Rows   [][]string
	}
	// A Picture is a chart or a drawing, drawn for the page that it comes onto.
	Picture struct{ Draw func(Drawing) *draw.Picture }
	// Room is lines to write on; on a browser's page it is a box, of use once that is printed.
	Room struct{ Lines int }
	// A Solved is a question with its worked solution.
	Solved struct{ Item *Item }
)

func (Heading) piece() {}
func (Words) piece()   {}
func (Quote) piece()   {}
func (List) piece()    {}
func (Grid) piece()    {}
func (Picture) piece() {}
func (Room) piece()    {}
func (Solved) piece()  {}

func (r *Report) check() error {
	if r.Title == "" {
		return errors.New("the report needs a title")
	}
	for _, p := range r.Pieces {
		g, ok := p.(Grid)
		if !ok {
			continue
		}
		if len(g.Heads) == 0 || len(g.Shares) != len(g.Heads) {
			return fmt.Errorf("report %q: a table of %d columns has widths for %d", r.Title, len(g.Heads), len(g.Shares))
		}
		for _, row := range g.Rows {
			if len(row) != len(g.Heads) {
				return fmt.Errorf("report %q: a table of %d columns has a row of %d", r.Title, len(g.Heads), len(row))
			}
		}
	}
	return nil
}

// Reports prints reports in one file, each from a new page on and with page numbers of its own.
func Reports(title string, reports []Report, o Options) ([]byte, error) {
	o, err := o.withDefaults()
	if err != nil {
		return nil, err
	}
	if len(reports) == 0 {
		return nil, fmt.Errorf("%q has no report in it", title)
	}
	doc := pdf.New(pdf.Info{Title: title, Language: o.Language, Author: o.Author, Created: o.Created})
	doc.OnText = o.onText
	for i := range reports {
		r := &reports[i]
		if err := r.check(); err != nil {
			return nil, err
		}
		f := &flow{look: newLook(o), doc: doc, root: doc.Root()}
		if len(reports) > 1 {
			f.root = doc.Root().Child(pdf.Part)
		}
		set := Set{Title: r.Title, Code: r.Code}
		f.footHeight = f.newFoot(&set, o).height
		f.heading(&set, r.Kind)
		for _, p := range r.Pieces {
			f.piece(p)
		}
		if err := f.finish(&set, o); err != nil {
			return nil, err
		}
	}
	return doc.Bytes()
}

// piece adds a piece of a report.
func (f *flow) piece(p Piece) {
	at := len(f.blocks)
	space := 0.5 * f.size
	switch p := p.(type) {
	case Heading:
		f.resume = nil
		f.styled(f.root.Child(pdf.H2), p.Text, 1.12*f.size)
		space = 1.1 * f.size
	case Words:
		spans := marked(p.Text)
		if p.Bold {
			spans = bold(spans)
		}
		f.text(f.root.Child(pdf.P), spans, f.size, f.left, f.measure())
	case Quote:
		f.quote(p)
	case List:
		f.list(p)
	case Grid:
		f.grid(p)
		space = 0.6 * f.size
	case Picture:
		if pic := narrowed(p.Draw, f.drawing(f.measure()), f.tallest(), 0.4); pic != nil {
			f.picture(f.root, pic, f.left, f.measure())
		}
		space = 0.6 * f.size
	case Room:
		for range p.Lines {
			f.add(block{height: f.pitch, paint: func(p *pdf.Page, y float64) { f.rule(p, f.left, f.pageWidth-f.right, y+0.8*f.pitch) }})
		}
		f.keepFrom(at)
	case Solved:
		f.solved(1, p.Item)
		return
	}
	f.gap(space, at)
}

// quote adds lines as they were written, set in and with a rule at their left.
func (f *flow) quote(q Quote) {
	e := f.root.Child(pdf.P)
	indent := 1.5 * f.size
	from := len(f.blocks)
	for _, line := range q.Lines {
		f.text(e, []span{{text: oneLine.Replace(line)}}, f.size, f.left+indent, f.measure()-indent)
	}
	f.keepFrom(from)
	for i := from; i < len(f.blocks); i++ {
		b := f.blocks[i]
		f.blocks[i].paint = func(p *pdf.Page, y float64) {
			p.Artifact("Layout")
			p.Stroke(pdf.Grey(0.35))
			p.LineWidth(3 * f.hair())
			p.Dash()
			p.Line(f.left+0.6*f.size, y, f.left+0.6*f.size, y+b.height)
			p.End()
			b.paint(p, y)
		}
	}
}

// list adds items with a bullet before each.
func (f *flow) list(l List) {
	e := f.root.Child(pdf.L)
	e.Numbered = "Disc"
	indent := 1.3 * f.size
	for i, item := range l.Items {
		li := e.Child(pdf.LI)
		label, body := li.Child(pdf.Lbl), li.Child(pdf.LBody)
		at := len(f.blocks)
		f.text(body, marked(item), f.size, f.left+indent, f.measure()-indent)
		if at == len(f.blocks) {
			continue
		}
		first := f.blocks[at]
		f.blocks[at].paint = func(p *pdf.Page, y float64) {
			p.Begin(label)
			p.Fill(pdf.Colour{})
			p.Text(f.roman, f.size, f.left+0.4*f.size, y+first.base, "•")
			p.End()
			first.paint(p, y)
		}
		if i > 0 {
			f.gap(0.2*f.size, at)
		}
	}
}

// grid adds a table whose cells may have several lines.
func (f *flow) grid(g Grid) {
	if f.large && len(g.Heads) > 3 {
		f.records(g)
		return
	}
	sum := 0.0
	for _, s := range g.Shares {
		sum += s
	}
	columns := make([]column, len(g.Heads))
	x := f.left
	for i, h := range g.Heads {
		wide := f.measure() * g.Shares[i] / sum
		columns[i] = column{f.shortened(h, wide-0.4*f.size), x, wide - 0.8*f.size}
		x += wide
	}
	table := f.root.Child(pdf.Table)
	f.tableHead(table, columns)
	body := table.Child(pdf.TBody)
	for i, row := range g.Rows {
		tr := body.Child(pdf.TR)
		cells := make([]cell, len(row))
		for k, text := range row {
			td := tr.Child(pdf.TD)
			if k == 0 {
				td.Role, td.Scope = pdf.TH, "Row"
			}
			cells[k] = f.inCell(func() {
				if text == "" { // an empty cell is still a cell
					text = nobreak
				}
				f.text(td, marked(text), f.size, columns[k].x, columns[k].width)
			})
		}
		f.row(cells, i > 0, false)
	}
	if n := len(f.blocks); len(g.Rows) > 0 {
		last := f.blocks[n-1]
		f.blocks[n-1].paint = func(p *pdf.Page, y float64) {
			last.paint(p, y)
			f.tableRule(p, y+last.height, 2*f.hair())
		}
	}
	f.resume = nil
}

// records adds the rows of a table one below the other, each with its columns named, where the text is too large
// for columns side by side.
func (f *flow) records(g Grid) {
	e := f.root.Child(pdf.L)
	for _, row := range g.Rows {
		body := e.Child(pdf.LI).Child(pdf.LBody)
		at := len(f.blocks)
		f.text(body.Child(pdf.P), bold(marked(row[0])), f.size, f.left, f.measure())
		for k := 1; k < len(row); k++ {
			if row[k] != "" {
				f.keepNext()
				f.text(body.Child(pdf.P), marked(g.Heads[k]+": "+row[k]), f.size, f.left+0.8*f.size, f.measure()-0.8*f.size)
			}
		}
		f.gap(0.5*f.size, at)
	}
}
