package sheet

import (
	"fmt"
	"slices"
	"strings"

	"steelyard/formula"
	"steelyard/pdf"
	"steelyard/solution"
)

// Scheme sets a mark scheme: for each question a table of parts with what is expected, one mark to a
// row, and the guidance; the total of each part and of the whole. In large print the guidance stands
// under what is expected. A part whose solution has no lines with marks shows its answer.
func Scheme(set Set, o Options) ([]byte, error) {
	d, err := compose(set.Title, "Mark scheme", []Set{set}, o, scheme)
	if err != nil {
		return nil, err
	}
	return d.Bytes()
}

func scheme(f *flow, set *Set, _ Options) {
	f.terms(set)
	total := 0
	for i := range set.Items {
		it := &set.Items[i]
		total += it.Marks()
		sect := f.root.Child(pdf.Sect)
		at := len(f.blocks)
		f.questionHead(sect, i+1, it)
		f.blocks[at].before = 1.5 * f.size
		f.schemeTable(sect, it)
		f.resume = nil
		if text := it.safety(); text != "" {
			f.caution(sect, text)
		}
	}
	f.keepNext()
	at := len(f.blocks)
	f.textMarks(f.root.Child(pdf.P), bold(plain("Total for the sheet")), fmt.Sprint(total), f.left)
	f.gap(1.2*f.size, at)
}

// codes says what the first letters of mark codes mean, in the order in which they are explained.
var codes = []struct{ letter, name, meaning string }{
	{"M", "M", "a method mark, for knowing a method and applying it"},
	{"A", "A", "an answer mark, given only if its method mark was earned"},
	{"B", "B", "an independent mark, which stands by itself"},
}

// terms explains the codes that the scheme uses.
func (f *flow) terms(set *Set) {
	used := ""
	for i := range set.Items {
		if set.Items[i].Solution == nil {
			continue
		}
		for _, w := range set.Items[i].Solution.Parts {
			for _, line := range markedLines(w) {
				for _, m := range line.Marks {
					used += m.Code + " "
				}
			}
		}
	}
	var spans []span
	for _, c := range codes {
		if strings.Contains(used, c.letter) {
			if len(spans) > 0 {
				spans = append(spans, span{text: "; "})
			}
			spans = append(spans, span{text: c.name, bold: true}, span{text: nobreak + c.meaning})
		}
	}
	if len(spans) == 0 {
		return
	}
	spans = append(spans, span{text: ". Follow-through: an earlier wrong value, used rightly, earns the later marks unless the guidance says otherwise. Other right methods earn the same marks."})
	at := len(f.blocks)
	f.text(f.root.Child(pdf.P), spans, f.size, f.left, f.measure())
	f.gap(0.6*f.size, at)
}

// markedLines are the lines that earn marks on the first route of a part.
func markedLines(w solution.Worked) []solution.Line {
	if len(w.Routes) == 0 {
		return nil
	}
	return routeLines(w.Routes[0])
}

func routeLines(r solution.Route) []solution.Line {
	var out []solution.Line
	for _, step := range r.Steps {
		for _, line := range step.Lines {
			if len(line.Marks) > 0 {
				out = append(out, line)
			}
		}
	}
	return out
}

// schemeColumns are the columns of the table.
func (f *flow) schemeColumns() []column {
	part := f.bold.Width("Part", f.size) + 0.9*f.size
	mark := f.bold.Width("Mark", f.size) + 0.9*f.size
	wide := f.measure() - part - mark
	if f.large {
		return []column{
			{"Part", f.left, part - 0.5*f.size},
			{"Expected", f.left + part, wide - 0.5*f.size},
			{"Mark", f.left + part + wide, mark},
		}
	}
	expected := 0.62 * wide
	return []column{
		{"Part", f.left, part - 0.5*f.size},
		{"Expected", f.left + part, expected - 0.9*f.size},
		{"Mark", f.left + part + expected, mark - 0.5*f.size},
		{"Guidance", f.left + part + expected + mark, wide - expected},
	}
}

// A schemeRow is one row: one mark.
type schemeRow struct {
	part     string
	formula  *formula.Node
	words    string
	mark     string
	guidance string
	strong   bool // in bold: a total
	keep     bool // stays with the next row
}

// rowsOf lists the rows of a part.
func rowsOf(part *Part, worked *solution.Worked) []schemeRow {
	var rows []schemeRow
	if worked != nil && len(worked.Routes) > 0 {
		rows = markRows(routeLines(worked.Routes[0]))
		for _, other := range worked.Routes[1:] {
			if lines := routeLines(other); len(lines) > 0 && len(rows) > 0 {
				rows = append(rows, schemeRow{words: "or, by " + other.Name + ":", keep: true})
				rows = append(rows, markRows(lines)...)
				break // one other way in full; the rest earn the same
			}
		}
	}
	if len(rows) == 0 {
		answer := part.Answer
		if answer == "" && worked != nil {
			answer = worked.Answer.Words
		}
		if answer == "" {
			answer = "for the teacher to judge"
		}
		rows = []schemeRow{{words: answer, mark: fmt.Sprint(part.Marks)}}
	}
	rows[0].part = "(" + part.Name + ")"
	total := schemeRow{words: "Total for part (" + part.Name + ")", mark: fmt.Sprint(part.Marks), strong: true}
	if carried := carriedMarks(worked); carried > 0 && carried != part.Marks {
		total.words += fmt.Sprintf("; the lines above carry %d, so share the marks out yourself", carried)
	}
	return append(rows, total)
}

// carriedMarks adds up the marks on the lines of a part's first route.
func carriedMarks(w *solution.Worked) int {
	if w == nil {
		return 0
	}
	sum := 0
	for _, line := range markedLines(*w) {
		for _, m := range line.Marks {
			n, digits := 0, false
			for _, r := range m.Code {
				if r >= '0' && r <= '9' {
					n, digits = 10*n+int(r-'0'), true
				} else if digits {
					break
				}
			}
			sum += n
		}
	}
	return sum
}

// markRows gives each mark its row; a line's formula stands in its first one.
func markRows(lines []solution.Line) []schemeRow {
	var rows []schemeRow
	for _, line := range lines {
		for i, m := range line.Marks {
			row := schemeRow{words: m.For, mark: m.Code, guidance: m.Guidance}
			if i == 0 {
				row.formula = &line.Formula
			}
			rows = append(rows, row)
		}
	}
	return rows
}

// schemeTable adds the table of a question.
func (f *flow) schemeTable(sect *pdf.Element, it *Item) {
	table := sect.Child(pdf.Table)
	columns := f.schemeColumns()
	f.tableHead(table, columns)
	body := table.Child(pdf.TBody)
	for i := range it.Parts {
		part := &it.Parts[i]
		rows := rowsOf(part, it.worked(part.Name))
		from := len(f.blocks)
		for j, row := range rows {
			f.schemeRow(body, columns, row, j == 0)
		}
		f.blocks[from].keep = true                       // a part's first row is never alone at the foot of a page
		f.blocks[max(from, len(f.blocks)-2)].keep = true // and its total never alone at the top
	}
	last := f.blocks[len(f.blocks)-1].paint
	height := f.blocks[len(f.blocks)-1].height
	f.blocks[len(f.blocks)-1].paint = func(p *pdf.Page, y float64) {
		last(p, y)
		f.tableRule(p, y+height, 2*f.hair())
	}
}

// worked finds the solution of a part.
func (it *Item) worked(name string) *solution.Worked {
	if it.Solution == nil {
		return nil
	}
	i := slices.IndexFunc(it.Solution.Parts, func(w solution.Worked) bool { return w.Name == name })
	if i < 0 {
		return nil
	}
	return &it.Solution.Parts[i]
}

// schemeRow adds one row.
func (f *flow) schemeRow(body *pdf.Element, columns []column, row schemeRow, first bool) {
	tr := body.Child(pdf.TR)
	words := marked(row.words)
	mark := []span{{text: row.mark}}
	if row.strong {
		words, mark = bold(words), bold(mark)
	}
	head := tr.Child(pdf.TD)
	if row.part != "" { // the part's name is for its row; the rows below have none
		head.Role, head.Scope = pdf.TH, "Row"
	}
	cells := []cell{f.inCell(func() {
		f.text(head, []span{{text: row.part}}, f.size, columns[0].x, columns[0].width)
	})}
	td := tr.Child(pdf.TD)
	cells = append(cells, f.inCell(func() {
		if row.formula != nil {
			f.display(td, *row.formula, columns[1].x, columns[1].width)
		}
		f.text(td.Child(pdf.P), words, f.size, columns[1].x, columns[1].width)
		if f.large && row.guidance != "" {
			f.text(td.Child(pdf.P), marked("Guidance: "+row.guidance), f.size, columns[1].x, columns[1].width)
		}
	}))
	code := tr.Child(pdf.TD)
	cells = append(cells, f.inCell(func() { f.text(code, mark, f.size, columns[2].x, columns[2].width) }))
	if !f.large {
		guidance := tr.Child(pdf.TD)
		cells = append(cells, f.inCell(func() { f.text(guidance, marked(row.guidance), f.size, columns[3].x, columns[3].width) }))
	}
	f.row(cells, first, row.keep)
}
