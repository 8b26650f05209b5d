package sheet

import (
	"fmt"
	"strings"

	"steelyard/pdf"
)

// A filler adds the contents of one set to a flow.
type filler func(f *flow, set *Set, o Options)

// compose makes a document of sets, each with pages and page numbers of its own. The kind says what
// it is, such as "Mark scheme"; "" is a question sheet.
func compose(title, kind string, sets []Set, o Options, fill filler) (*pdf.Document, error) {
	o, err := o.withDefaults()
	if err != nil {
		return nil, err
	}
	if len(sets) == 0 {
		return nil, fmt.Errorf("%q has no sheet in it", title)
	}
	for i := range sets {
		if err := sets[i].check(); err != nil {
			return nil, err
		}
	}
	if kind != "" {
		title += ": " + strings.ToLower(kind[:1]) + kind[1:]
	}
	doc := pdf.New(pdf.Info{Title: title, Language: o.Language, Author: o.Author, Created: o.Created})
	doc.OnText = o.onText
	for i := range sets {
		o := o
		if sets[i].Size != 0 {
			o.Size = sets[i].Size
			if o, err = o.withDefaults(); err != nil {
				return nil, err
			}
		}
		f := &flow{look: newLook(o), doc: doc, root: doc.Root()}
		if len(sets) > 1 {
			f.root = doc.Root().Child(pdf.Part)
			if o.TwoSided && len(doc.Pages())%2 == 1 {
				f.emptySide()
			}
		}
		f.footHeight = f.newFoot(&sets[i], o).height
		f.heading(&sets[i], kind)
		fill(f, &sets[i], o)
		if err := f.finish(&sets[i], o); err != nil {
			return nil, err
		}
	}
	return doc, nil
}

// emptySide adds a page so that the next set starts on a sheet of its own.
func (f *flow) emptySide() {
	p := f.doc.AddPage(f.pageWidth, f.pageHeight)
	p.Artifact("Pagination")
	p.Text(f.roman, f.small, f.left, f.top+0.76*f.lead, "This side is left empty.")
	p.End()
}

// heading adds the sheet's title, and its kind below it.
func (f *flow) heading(set *Set, kind string) {
	title, below := 1.5*f.size, 1.15*f.size
	if f.large { // large enough; a page of large print is small
		title, below = 1.25*f.size, f.size
	}
	f.styled(f.root.Child(pdf.H1), set.Title, title)
	if kind != "" {
		f.styled(f.root.Child(pdf.P), kind, below)
	}
}

// styled adds text in the face of headings, which stays with what follows.
func (f *flow) styled(e *pdf.Element, text string, size float64) {
	at := len(f.blocks)
	roman := f.roman
	f.roman = f.head
	f.text(e, plain(text), size, f.left, f.measure())
	f.roman = roman
	f.keepFrom(at)
	f.keepNext()
}

// finish fills the pages and paints them with their feet.
func (f *flow) finish(set *Set, o Options) error {
	foot := f.newFoot(set, o)
	height := f.pageHeight - f.top - f.bottom - foot.height
	pages := f.fill(height)
	for i, blocks := range pages {
		p := f.doc.AddPage(f.pageWidth, f.pageHeight)
		for _, b := range blocks {
			if b.y+b.height > f.top+height+1 {
				return fmt.Errorf("sheet %q: something on page %d needs %.0f mm more than the page has; take smaller text or a smaller drawing",
					set.Title, i+1, (b.y+b.height-f.top-height)/72*25.4)
			}
			b.paint(p, b.y)
		}
		foot.paint(f, p, i+1, len(pages))
	}
	return nil
}

// A foot stands at the bottom of each page, out of the reading order.
type foot struct {
	lines  []textLine
	height float64
}

func (f *flow) newFoot(set *Set, o Options) foot {
	text := o.Notice
	if set.Code != "" {
		text = set.Code + ". " + text
	}
	number := f.roman.Width("page 88 of 88", f.small) + 1.5*f.small
	lines := f.setText(plain(text), f.small, f.measure()-number)
	lead := f.lead / f.size * f.small
	return foot{lines, float64(len(lines))*lead + 1.5*f.size}
}

func (t foot) paint(f *flow, p *pdf.Page, page, pages int) {
	lead := f.lead / f.size * f.small
	bottom := f.pageHeight - f.bottom
	first := bottom - float64(len(t.lines)-1)*lead - 0.24*lead
	p.Artifact("Pagination")
	p.Stroke(pdf.Grey(0.35))
	p.LineWidth(f.hair())
	rule := first - 0.95*f.small - 0.2*f.size
	p.Line(f.left, rule, f.pageWidth-f.right, rule)
	p.Fill(pdf.Colour{})
	for i, line := range t.lines {
		all := line.whole()
		all.paint(p, f.left, first+float64(i)*lead)
	}
	number := fmt.Sprintf("page %d of %d", page, pages)
	p.Text(f.roman, f.small, f.pageWidth-f.right-f.roman.Width(number, f.small), bottom-0.24*lead, number)
	p.End()
}

// hair is the thickness of thin rules.
func (l *look) hair() float64 {
	if l.large {
		return 1.5
	}
	return 0.5
}
