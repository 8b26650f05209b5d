package sheet

import (
	"fmt"
	"slices"

	"steelyard/pdf"
)

// A Key is everyone's answers, where each pupil has numbers of their own.
type Key struct {
	Note    string   // what stands above the table, such as whose numbers the scheme after it has
	Columns []string // what is answered: "(a) N", "(b) m"
	Rows    []KeyRow
}

// A KeyRow is one pupil's line of a key.
type KeyRow struct {
	Name    string
	Answers []string // one for each column
}

// SchemeWithKey sets a table of everyone's answers, on one page as long as the text can still be read
// (6 points), and after it the mark scheme of a set.
func SchemeWithKey(set Set, key Key, o Options) ([]byte, error) {
	for _, r := range key.Rows {
		if len(r.Answers) != len(key.Columns) {
			return nil, fmt.Errorf("the key has %d columns, but %s has %d answers", len(key.Columns), r.Name, len(r.Answers))
		}
	}
	sets := []Set{set, set}
	d, err := compose(set.Title, "Mark scheme", sets, o, func(f *flow, s *Set, o Options) {
		if s == &sets[0] {
			at := len(f.blocks)
			f.text(f.root.Child(pdf.P), plain(key.Note), f.size, f.left, f.measure())
			f.gap(0.4*f.size, at)
			f.keyTable(key)
			return
		}
		scheme(f, s, o)
	})
	if err != nil {
		return nil, err
	}
	return d.Bytes()
}

// smallestKey is the smallest text of a key, in points.
const smallestKey = 6

// keyTable adds the table, its text as large as fits on the page.
func (f *flow) keyTable(key Key) {
	heads := append([]string{"Pupil"}, key.Columns...)
	size, widths := f.keySize(heads, key.Rows)
	row := 1.55 * size
	x := make([]float64, len(heads)) // left edge of the first column, right edges of the others
	at := f.left
	for i, w := range widths {
		x[i] = at
		if i > 0 {
			x[i] = at + w - 1.2*size
		}
		at += w
	}
	table := f.root.Child(pdf.Table)
	cells := func(tr *pdf.Element, texts []string, bold bool) func(p *pdf.Page, y float64) {
		elements := make([]*pdf.Element, len(texts))
		for i := range texts {
			switch {
			case bold:
				elements[i] = tr.Child(pdf.TH)
				elements[i].Scope = "Column"
			case i == 0:
				elements[i] = tr.Child(pdf.TH)
				elements[i].Scope = "Row"
			default:
				elements[i] = tr.Child(pdf.TD)
			}
		}
		return func(p *pdf.Page, y float64) {
			face := f.roman
			if bold {
				face = f.bold
			}
			for i, text := range texts {
				left := x[i]
				if i > 0 {
					left -= face.Width(text, size)
				}
				p.Begin(elements[i])
				p.Fill(pdf.Colour{})
				p.Text(face, size, left, y+1.12*size, text)
				p.End()
			}
		}
	}
	head := cells(table.Child(pdf.THead).Child(pdf.TR), heads, true)
	f.add(block{height: row + 2, keep: true, paint: func(p *pdf.Page, y float64) {
		head(p, y)
		f.tableRule(p, y+row, 2*f.hair())
	}})
	body := table.Child(pdf.TBody)
	for i, r := range key.Rows {
		paint := cells(body.Child(pdf.TR), append([]string{r.Name}, r.Answers...), false)
		f.add(block{height: row, paint: func(p *pdf.Page, y float64) {
			paint(p, y)
			if i%5 == 4 { // the eye keeps to its line
				f.tableRule(p, y+row, f.hair())
			}
		}})
	}
}

// keySize finds the largest text, up to the sheet's own, with which the table keeps to the page, and
// the widths of its columns.
func (f *flow) keySize(heads []string, rows []KeyRow) (size float64, widths []float64) {
	widest := make([]float64, len(heads)) // at 1 point
	for i, h := range heads {
		widest[i] = f.bold.Width(h, 1)
		for _, r := range rows {
			text := r.Name
			if i > 0 {
				text = r.Answers[i-1]
			}
			widest[i] = max(widest[i], f.roman.Width(text, 1))
		}
	}
	total := 1.2 * float64(len(heads))
	for _, w := range widest {
		total += w
	}
	used := 7 * f.size // the title and the note
	room := f.pageHeight - f.top - f.bottom - f.footHeight - used
	size = min(f.size, f.measure()/total, room/(1.55*float64(len(rows)+1)))
	size = max(size, smallestKey)
	widths = slices.Clone(widest)
	for i := range widths {
		widths[i] = (widths[i] + 1.2) * size
	}
	return size, widths
}
