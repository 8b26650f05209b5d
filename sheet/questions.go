package sheet

import (
	"fmt"

	"steelyard/font"
	"steelyard/formula"
	"steelyard/pdf"
)

// Questions sets a question sheet: each question with its drawing, its parts with their marks, and
// room to answer. A question that fits on a page is never broken over two; else its stem stays with
// its drawing and each part with its first lines.
func Questions(set Set, o Options) ([]byte, error) {
	return Booklet(set.Title, []Set{set}, o)
}

// Booklet sets many question sheets in one file, such as one for each pupil with numbers of their own.
// Each starts on a new page and counts its own pages.
func Booklet(title string, sets []Set, o Options) ([]byte, error) {
	d, err := compose(title, "", sets, o, questions)
	if err != nil {
		return nil, err
	}
	return d.Bytes()
}

func questions(f *flow, set *Set, o Options) {
	total := 0
	for i := range set.Items {
		total += set.Items[i].Marks()
	}
	if !o.HideNames {
		f.names(total, set.Pupil)
	}
	for i := range set.Items {
		f.question(i+1, &set.Items[i])
	}
}

// names adds the lines for name, class, date and the marks.
func (f *flow) names(total int, pupil string) {
	at := len(f.blocks)
	e := f.root.Child(pdf.P)
	wide, outOf := f.measure(), fmt.Sprintf("/ %d", total)
	if f.large {
		f.fillIn(e, []blank{{"Name", wide, pupil}})
		f.fillIn(e, []blank{{"Class", 0.5 * wide, ""}, {"Date", 0.5 * wide, ""}})
		f.fillIn(e, []blank{{"Marks", 0.5 * wide, ""}}, outOf)
	} else {
		f.fillIn(e, []blank{{"Name", 0.46 * wide, pupil}, {"Class", 0.17 * wide, ""}, {"Date", 0.2 * wide, ""}, {"Marks", 0.17 * wide, ""}}, outOf)
	}
	f.gap(0.5*f.size, at)
	f.keepFrom(at)
}

// A blank is a label with a line to write on, so wide together.
type blank struct {
	label string
	width float64
	text  string // what stands on the line already
}

// fillIn adds blanks side by side; after stands at the end of the last one.
func (f *flow) fillIn(e *pdf.Element, blanks []blank, after ...string) {
	f.add(block{height: f.pitch, paint: func(p *pdf.Page, y float64) {
		base := y + 0.75*f.pitch
		x := f.left
		for i, b := range blanks {
			p.Begin(e)
			w := p.Text(f.roman, f.size, x, base, b.label+" ")
			end := x + b.width
			if i < len(blanks)-1 {
				end -= 0.8 * f.size
			} else if len(after) > 0 {
				end -= f.roman.Width(after[0], f.size) + 0.3*f.size
				p.Text(f.roman, f.size, end+0.3*f.size, base, after[0])
			}
			if b.text != "" {
				p.Text(f.bold, f.size, x+w, base, f.shortened(b.text, end-x-w))
			}
			p.End()
			f.rule(p, x+w+0.1*f.size, end, base+0.15*f.size)
			x += b.width
		}
	}})
}

// shortened is a text cut to a width, with an ellipsis where letters had to go.
func (f *flow) shortened(text string, width float64) string {
	if f.bold.Width(text, f.size) <= width {
		return text
	}
	letters := []rune(text)
	for len(letters) > 0 && f.bold.Width(string(letters)+"…", f.size) > width {
		letters = letters[:len(letters)-1]
	}
	return string(letters) + "…"
}

// rule paints a line to write on.
func (f *flow) rule(p *pdf.Page, from, to, y float64) {
	p.Artifact("Layout")
	p.Stroke(pdf.Grey(0.35))
	p.LineWidth(f.hair())
	p.Dash()
	p.Line(from, y, to, y)
	p.End()
}

// question adds one question.
func (f *flow) question(number int, it *Item) {
	sect := f.root.Child(pdf.Sect)
	at := len(f.blocks)
	f.resume = nil
	f.questionHead(sect, number, it)
	f.resume = func() block { return f.continued(number) }
	for i, text := range it.Wording {
		from := len(f.blocks)
		f.text(sect.Child(pdf.P), marked(text), f.size, f.left, f.measure())
		if i > 0 {
			f.gap(0.45*f.size, from)
		}
	}
	f.given(sect, it, at, f.drawing(f.measure()))
	if it.Safety != "" {
		f.caution(sect, it.Safety)
	}
	f.parts(sect, it)
	f.blocks[at].starts, f.blocks[at].first = true, number == 1
	f.blocks[at].before = 1.7 * f.size
	f.resume = nil
}

// questionHead adds the number and the title of a question, and its marks at the right.
func (f *flow) questionHead(sect *pdf.Element, number int, it *Item) {
	e := sect.Child(pdf.H2)
	marks := ""
	if n := it.Marks(); n == 1 {
		marks = "1 mark"
	} else if n > 1 {
		marks = fmt.Sprintf("%d marks", n)
	}
	roman := f.roman
	body := f.roman
	f.roman = f.head
	size := 1.1 * f.size
	if f.large {
		size = f.size
	}
	room := f.roman.Width(marks, f.size) + f.size
	at := len(f.blocks)
	f.textBeside(e, plain(fmt.Sprintf("%d%s%s%s", number, nobreak, nobreak, it.Title)), size, f.left, f.measure()-room, func(p *pdf.Page, base float64) {
		p.Begin(e)
		f.atMargin(p, body, base, marks)
		p.End()
	})
	f.roman = roman
	f.keepFrom(at)
	f.keepNext()
	f.add(block{height: 0.35 * f.size, keep: true, paint: func(*pdf.Page, float64) {}})
}

// continued stands at the top of a page on which a question goes on.
func (f *flow) continued(number int) block {
	text := fmt.Sprintf("Question %d goes on", number)
	return block{height: f.lead + 0.7*f.size, paint: func(p *pdf.Page, y float64) {
		p.Artifact("Pagination")
		p.Fill(pdf.Colour{})
		p.Text(f.roman, f.small, f.left, y+0.76*f.lead, text)
		p.End()
	}}
}

// parts adds the parts as a list.
func (f *flow) parts(sect *pdf.Element, it *Item) {
	if len(it.Parts) == 0 {
		return
	}
	list := sect.Child(pdf.L)
	list.Numbered = "LowerAlpha"
	indent := f.roman.Width("(m)", f.size) + 0.6*f.size
	for i := range it.Parts {
		part := &it.Parts[i]
		at := len(f.blocks)
		item := list.Child(pdf.LI)
		body := f.partText(item, part, indent)
		f.gap(0.85*f.size, at)
		f.room(body, part, at, indent)
	}
}

// partText adds the label, the text and the marks of a part, and returns the list item's body.
func (f *flow) partText(item *pdf.Element, part *Part, indent float64) *pdf.Element {
	label, body := item.Child(pdf.Lbl), item.Child(pdf.LBody)
	e := body.Child(pdf.P)
	marks := ""
	if part.Marks > 0 {
		marks = fmt.Sprintf("[%d]", part.Marks)
	}
	at := len(f.blocks)
	f.textMarks(e, marked(part.Text), marks, f.left+indent)
	if at == len(f.blocks) { // no text at all
		f.add(block{height: f.lead, paint: func(*pdf.Page, float64) {}})
	}
	f.label(label, at, "("+part.Name+")", f.left)
	f.keepFrom(at)
	return body
}

// textMarks adds text with marks in bold at the right margin, beside its last line. In large print
// the text takes the whole width, and marks that find no room go below.
func (f *flow) textMarks(e *pdf.Element, spans []span, marks string, x float64) {
	width := f.pageWidth - f.right - x
	if !f.large {
		width -= f.marksWidth()
	}
	at := f.pageWidth - f.right - f.bold.Width(marks, f.size)
	put := func(p *pdf.Page, base float64) {
		if marks == "" {
			return
		}
		p.Begin(e)
		p.Fill(pdf.Colour{})
		f.atMargin(p, f.bold, base, marks)
		p.End()
	}
	lines := f.setText(spans, f.size, width)
	if len(lines) > 0 && x+lines[len(lines)-1].width+0.5*f.size <= at {
		f.textBeside(e, spans, f.size, x, width, put)
		return
	}
	f.text(e, spans, f.size, x, width)
	f.keepNext()
	f.add(block{height: f.lead, paint: func(p *pdf.Page, y float64) { put(p, y+0.76*f.lead) }})
}

// atMargin paints text that ends at the right margin, a space before it to keep it apart when read out.
func (f *flow) atMargin(p *pdf.Page, face *font.Face, base float64, text string) {
	if text != "" {
		p.Text(face, f.size, f.pageWidth-f.right-face.Width(" "+text, f.size), base, " "+text)
	}
}

// label paints text at the height of the first line of block at, before it.
func (f *flow) label(e *pdf.Element, at int, text string, x float64) {
	paint := f.blocks[at].paint
	base := max(0.76*f.lead, f.blocks[at].base)
	f.blocks[at].paint = func(p *pdf.Page, y float64) {
		p.Begin(e)
		p.Fill(pdf.Colour{})
		p.Text(f.roman, f.size, x, y+base, text)
		p.End()
		paint(p, y)
	}
}

// workLines is how many lines a part gets to work on: two for each mark, the line of the answer
// counted. Common practice, no source: eight to ten lines for four marks.
func workLines(part *Part) int {
	n := 2 * part.Marks
	if !part.Prose {
		n--
	}
	if part.Lines > 0 {
		n = part.Lines
	}
	return min(max(1, n), 24)
}

// room adds the lines to work on and the line for the answer. The part that starts at block at stays
// with its first three lines, or with all of them where they are few, and the answer with the last two.
func (f *flow) room(body *pdf.Element, part *Part, at int, indent float64) {
	n := workLines(part)
	first := len(f.blocks)
	for range n {
		f.add(block{height: f.pitch, give: f.pitch, paint: func(p *pdf.Page, y float64) {
			f.rule(p, f.left+indent, f.pageWidth-f.right, y+(1-f.spare)*f.pitch)
		}})
	}
	if !part.Prose {
		f.answerLine(body, part)
	}
	for i := at; i < len(f.blocks)-1; i++ {
		line := i - first + 1 // the number of the line, from 1; beyond n it is the answer's
		f.blocks[i].keep = n <= 5 || line < 3 || line > n-2
	}
}

// answerLine adds the line for the answer at the right, with its label before and its unit after.
func (f *flow) answerLine(body *pdf.Element, part *Part) {
	e := body.Child(pdf.P)
	label := part.Label
	if label == "" {
		label = "Answer"
	}
	rule := 9 * f.size
	unit := setter{look: f.look, size: f.size}.unit(part.Unit)
	end := f.pageWidth - f.right - unit.width
	if unit.width > 0 {
		end -= 0.2 * f.size
	}
	lines := f.setText(marked(label), f.size, f.measure())
	x := end - rule - 0.5*f.size - lines[0].width
	if len(lines) > 1 || x < f.left {
		// No room for both in one line: the words go above.
		at := len(f.blocks)
		f.text(e, marked(label), f.size, f.left, f.measure())
		f.gap(0.6*f.size, at)
		f.keepNext()
		lines = nil
	}
	f.add(block{before: 0.3 * f.size, height: f.pitch, give: f.pitch, paint: func(p *pdf.Page, y float64) {
		base := y + (0.75-f.spare)*f.pitch
		p.Fill(pdf.Colour{})
		if lines != nil {
			lines[0].paint(p, e, x, base, map[*formula.Node]*pdf.Element{})
		}
		f.rule(p, end-rule, end, base+0.15*f.size)
		if part.Unit != "" {
			p.Begin(e)
			unit.paint(p, end+0.2*f.size, base)
			p.End()
		}
	}})
}

// caution adds a caution, set off by a rule at its left.
func (f *flow) caution(sect *pdf.Element, text string) {
	at := len(f.blocks)
	e := sect.Child(pdf.P)
	spans := append([]span{{text: "Caution: ", bold: true}}, plain(text)...)
	f.text(e, spans, f.size, f.left+f.size, f.measure()-f.size)
	for i := at; i < len(f.blocks); i++ {
		paint, height := f.blocks[i].paint, f.blocks[i].height
		f.blocks[i].paint = func(p *pdf.Page, y float64) {
			p.Artifact("Layout")
			p.Stroke(pdf.Colour{})
			p.LineWidth(0.16 * f.size)
			p.Line(f.left+0.2*f.size, y, f.left+0.2*f.size, y+height)
			p.End()
			paint(p, y)
		}
	}
	f.gap(0.7*f.size, at)
	f.keepFrom(at)
}
