package sheet

import (
	"fmt"
	"slices"

	"steelyard/formula"
	"steelyard/pdf"
	"steelyard/solution"
)

// A Ladder is the hints for one part, to be cut into cards.
type Ladder struct {
	Part  string // "a"
	Asked string
	Hints []solution.Hint
}

// A Pack is the cards of one question.
type Pack struct {
	Number  int // of the question in its set, from 1; 0 where it stands alone
	Title   string
	Note    string // stands on cards that hold numbers: whose they are; may be empty
	Ladders []Ladder
}

// Cards sets ladders of hints as cards to cut out along dashed lines, two beside each other, one in large print. A card
// says whose it is, so that a pack that was dropped can be put in order again.
func Cards(title string, packs []Pack, o Options) ([]byte, error) {
	n := 0
	for i := range packs {
		for k := range packs[i].Ladders {
			n += len(packs[i].Ladders[k].Hints)
		}
	}
	if n == 0 {
		return nil, fmt.Errorf("%q has no hints to print", title)
	}
	d, err := compose(title, "Hint cards", []Set{{Title: title, Items: []Item{{}}}}, o, func(f *flow, _ *Set, _ Options) {
		for i := range packs {
			p := &packs[i]
			if p.Number > 0 {
				at := len(f.blocks)
				f.text(f.root.Child(pdf.H2), bold(plain(fmt.Sprintf("Question %d: %s", p.Number, p.Title))), 1.15*f.size, f.left, f.measure())
				f.gap(f.lead, at)
				f.keepNext()
			}
			for k := range p.Ladders {
				f.cards(p, &p.Ladders[k])
			}
		}
	})
	if err != nil {
		return nil, err
	}
	return d.Bytes()
}

// cards adds a part's cards.
func (f *flow) cards(p *Pack, l *Ladder) {
	sect := f.root.Child(pdf.Sect)
	head := pdf.H2
	if p.Number > 0 {
		head = pdf.H3
	}
	at := len(f.blocks)
	f.text(sect.Child(head), bold(plain("("+l.Part+") "+l.Asked)), f.size, f.left, f.measure())
	f.gap(f.lead, at)
	f.keepNext()
	across := 2
	if f.large {
		across = 1
	}
	for i := 0; i < len(l.Hints); i += across {
		var cells []cell
		for k := i; k < min(i+across, len(l.Hints)); k++ {
			cells = append(cells, f.card(sect, p, l, &l.Hints[k], k-i, across))
		}
		row := len(f.blocks)
		f.cut(cells, across)
		if i == 0 {
			f.gap(0.4*f.lead, row)
		}
	}
}

// card is one card, in its column.
func (f *flow) card(sect *pdf.Element, p *Pack, l *Ladder, h *solution.Hint, column, across int) cell {
	pad := f.size
	wide := f.measure() / float64(across)
	x, width := f.left+float64(column)*wide+pad, wide-2*pad
	whose := "(" + l.Part + ")"
	if p.Number > 0 {
		whose = fmt.Sprint(p.Number, " ", whose)
	}
	return f.inCell(func() {
		f.text(sect.Child(pdf.P), bold(plain(fmt.Sprintf("%s hint %d", whose, h.Rung))), f.small, x, width)
		f.text(sect.Child(pdf.P), f.sentence(h.Say), f.size, x, width)
		if h.Line != nil {
			f.display(sect, h.Line.Formula, x, width)
			if p.Note != "" && hasNumber(h.Line.Formula) {
				f.text(sect.Child(pdf.P), plain(p.Note), f.small, x, width)
			}
		}
	})
}

func hasNumber(n formula.Node) bool {
	return n.Op == formula.Num || slices.ContainsFunc(n.Args, hasNumber)
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
