package sheet

import (
	"fmt"

	"steelyard/pdf"
	"steelyard/solution"
)

// A Ladder is the hints for one part, to be cut into cards.
type Ladder struct {
	Part  string // "a"
	Asked string
	Hints []solution.Hint
}

// Cards sets ladders of hints as cards to cut out along dashed lines, two beside each other, one in large print. A card
// says whose it is, so that a pack that was dropped can be put in order again.
func Cards(title string, ladders []Ladder, o Options) ([]byte, error) {
	n := 0
	for i := range ladders {
		n += len(ladders[i].Hints)
	}
	if n == 0 {
		return nil, fmt.Errorf("%q has no hints to print", title)
	}
	d, err := compose(title, "Hint cards", []Set{{Title: title, Items: []Item{{}}}}, o, func(f *flow, _ *Set, _ Options) {
		for i := range ladders {
			f.cards(&ladders[i])
		}
	})
	if err != nil {
		return nil, err
	}
	return d.Bytes()
}

// cards adds a part's cards.
func (f *flow) cards(l *Ladder) {
	sect := f.root.Child(pdf.Sect)
	at := len(f.blocks)
	f.text(sect.Child(pdf.H2), bold(plain("("+l.Part+") "+l.Asked)), f.size, f.left, f.measure())
	f.gap(f.lead, at)
	f.keepNext()
	across := 2
	if f.large {
		across = 1
	}
	for i := 0; i < len(l.Hints); i += across {
		var cells []cell
		for k := i; k < min(i+across, len(l.Hints)); k++ {
			cells = append(cells, f.card(sect, l, &l.Hints[k], k-i, across))
		}
		f.cut(cells, across)
	}
}

// card is one card, in its column.
func (f *flow) card(sect *pdf.Element, l *Ladder, h *solution.Hint, column, across int) cell {
	pad := f.size
	wide := f.measure() / float64(across)
	x, width := f.left+float64(column)*wide+pad, wide-2*pad
	return f.inCell(func() {
		f.text(sect.Child(pdf.P), bold(plain(fmt.Sprintf("(%s) hint %d", l.Part, h.Rung))), f.small, x, width)
		f.text(sect.Child(pdf.P), f.sentence(h.Say), f.size, x, width)
		if h.Line != nil {
			f.display(sect, h.Line.Formula, x, width)
		}
	})
}

// cut adds a row of cards with the lines to cut along around it. Cards in a row are of one height.
func (f *flow) cut(cells []cell, across int) {
	pad, height := f.size, 4*f.lead
	for _, c := range cells {
		height = max(height, c.height)
	}
	whole := height + 2*pad
	f.add(block{height: whole, paint: func(p *pdf.Page, y float64) {
		p.Artifact("Layout")
		p.Stroke(pdf.Grey(0.35))
		p.LineWidth(f.hair())
		p.Dash(4, 3)
		right := f.pageWidth - f.right
		p.Line(f.left, y, right, y)
		p.Line(f.left, y+whole, right, y+whole)
		for k := range across + 1 {
			x := f.left + float64(k)*f.measure()/float64(across)
			p.Line(x, y, x, y+whole)
		}
		p.Dash()
		p.End()
		for i := range cells {
			cells[i].paint(p, y+pad)
		}
	}})
}
