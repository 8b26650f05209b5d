package sheet

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"steelyard/draw"
	"steelyard/formula"
	"steelyard/pdf"
	"steelyard/solution"
)

// Solutions sets worked solutions: for each question the arrangement, then for each part the steps
// in words with their lines of working, the pictures that belong to them, the answer, and at the end
// the check about another point and the caution. The first route of a part is shown.
func Solutions(set Set, o Options) ([]byte, error) {
	d, err := compose(set.Title, "Worked solutions", []Set{set}, o, solutions)
	if err != nil {
		return nil, err
	}
	return d.Bytes()
}

func solutions(f *flow, set *Set, _ Options) {
	for i := range set.Items {
		f.solved(i+1, &set.Items[i])
	}
}

// solved adds the solution of one question.
func (f *flow) solved(number int, it *Item) {
	sect := f.root.Child(pdf.Sect)
	at := len(f.blocks)
	f.resume = nil
	f.questionHead(sect, number, it)
	f.blocks[at].before = 1.8 * f.size
	f.resume = func() block { return f.continued(number) }
	for i, text := range it.Wording {
		from := len(f.blocks)
		f.text(sect.Child(pdf.P), marked(text), f.size, f.left, f.measure())
		if i > 0 {
			f.gap(0.45*f.size, from)
		}
	}
	f.given(sect, it, at, f.within(35*f.size))
	var seen pictures
	for i := range it.Parts {
		f.solvedPart(sect, it, &it.Parts[i], &seen)
	}
	if it.Solution != nil && len(it.Solution.Check) > 0 {
		f.partHead(sect, []span{{text: "Check"}}, "")
		for _, step := range it.Solution.Check {
			f.step(sect, it, step)
		}
	}
	if text := it.safety(); text != "" {
		f.caution(sect, text)
	}
	f.resume = nil
}

// partHead adds the heading of a part.
func (f *flow) partHead(sect *pdf.Element, spans []span, marks string) {
	at := len(f.blocks)
	f.textMarks(sect.Child(pdf.H3), bold(spans), marks, f.left)
	f.keepFrom(at)
	f.keepNext()
	f.gap(1.1*f.size, at)
}

func (f *flow) solvedPart(sect *pdf.Element, it *Item, part *Part, seen *pictures) {
	marks := ""
	if part.Marks > 0 {
		marks = fmt.Sprintf("[%d]", part.Marks)
	}
	f.partHead(sect, marked("("+part.Name+")"+nobreak+" "+part.Text), marks)
	w := it.worked(part.Name)
	if w == nil || len(w.Routes) == 0 {
		f.answer(sect, part, w)
		return
	}
	route := w.Routes[0]
	if route.Name != "" {
		at := len(f.blocks)
		f.text(sect.Child(pdf.P), marked(upperFirst(route.Name)+"."), f.size, f.left, f.measure())
		f.gap(0.3*f.size, at)
		f.keepFrom(at)
		f.keepNext()
	}
	for i, step := range route.Steps {
		if step.View != nil && (again(route.Steps[i:]) || seen.shown(*step.View)) {
			step.View = nil
		}
		f.step(sect, it, step)
	}
	if route.Poor != "" {
		at := len(f.blocks)
		f.text(sect.Child(pdf.P), marked(route.Poor), f.size, f.left, f.measure())
		f.gap(0.4*f.size, at)
	}
	f.answer(sect, part, w)
}

// again reports whether the picture of the first step's forces comes again in the next picture, about a pivot.
func again(steps []solution.Step) bool {
	v := steps[0].View
	if v == nil || v.PivotName != "" {
		return false
	}
	for _, s := range steps[1:] {
		if w := s.View; w != nil {
			return w.PivotName != "" && w.Body == v.Body && w.Layout == v.Layout
		}
	}
	return false
}

// pictures are those that a question's solution has shown so far.
type pictures []solution.View

// shown reports whether a picture has nothing new: the same pivot again, or forces that an earlier
// picture of the body shows too. What has, it adds.
func (seen *pictures) shown(v solution.View) bool {
	for _, w := range *seen {
		if w.Layout == v.Layout && w.Body == v.Body && (v.PivotName == "" || v.PivotName == w.PivotName && v.Pivot == w.Pivot) {
			return true
		}
	}
	*seen = append(*seen, v)
	return false
}

// step adds a step: its sentences, its picture, its lines.
func (f *flow) step(sect *pdf.Element, it *Item, step solution.Step) {
	at := len(f.blocks)
	if len(step.Say) > 0 {
		f.text(sect.Child(pdf.P), f.sentence(step.Say), f.size, f.left, f.measure())
		f.gap(0.4*f.size, at)
		if len(step.Lines) > 0 || step.View != nil {
			f.keepNext()
		}
	}
	if step.View != nil && it.View != nil {
		view := func(d Drawing) *draw.Picture { return it.View(*step.View, d) }
		if pic := f.viewed(view); pic != nil {
			f.picture(sect, pic, f.left, f.measure())
			if len(step.Lines) > 0 {
				f.keepNext()
			}
		}
	}
	for _, line := range step.Lines {
		f.working(sect, line)
	}
}

// viewed draws a picture of a step, on half a page if it can be, else on one page.
func (f *flow) viewed(view func(Drawing) *draw.Picture) *draw.Picture {
	pic := narrowed(view, f.viewing(), 0.5*f.pageHeight, 0.5)
	if pic != nil && pic.Height > f.tallest() {
		pic = narrowed(view, f.viewing(), f.tallest(), 0.4)
	}
	return pic
}

// sentence turns pieces into spans.
func (f *flow) sentence(pieces []solution.Piece) []span {
	var spans []span
	for _, p := range pieces {
		if p.Math != nil {
			spans = append(spans, span{math: p.Math})
			continue
		}
		spans = append(spans, marked(p.Text)...)
	}
	return spans
}

// working adds one line of working, indented, with its note after it and its marks at the margin.
func (f *flow) working(sect *pdf.Element, line solution.Line) {
	indent := 1.6 * f.size
	if f.large {
		indent = 0.8 * f.size
	}
	var codes []string
	for _, m := range line.Marks {
		codes = append(codes, m.Code)
	}
	marks := strings.Join(codes, " ")
	room := 0.0
	if marks != "" {
		room = f.roman.Width(marks, f.size) + f.size
	}
	at := len(f.blocks)
	width := f.measure() - indent - room
	last := f.display(sect, line.Formula, f.left+indent, width)
	if line.Note != "" {
		note := sect.Child(pdf.P)
		spans := marked("(" + line.Note + ")")
		lines := f.setText(spans, f.size, width)
		if x := indent + last.width + f.size; len(lines) == 1 && x+lines[0].width <= f.measure()-room {
			f.beside(func(p *pdf.Page, base float64) {
				lines[0].paint(p, note, f.left+x, base, map[*formula.Node]*pdf.Element{})
			}, last.base)
		} else {
			f.keepNext()
			f.text(note, spans, f.size, f.left+indent, width)
		}
	}
	if marks != "" {
		e := sect.Child(pdf.P)
		base := last.base
		if len(f.blocks)-1 > last.block {
			base = 0.76 * f.lead
		}
		f.beside(func(p *pdf.Page, base float64) {
			p.Begin(e)
			p.Fill(pdf.Colour{})
			p.Text(f.roman, f.size, f.pageWidth-f.right-f.roman.Width(marks, f.size), base, marks)
			p.End()
		}, base)
	}
	f.gap(0.3*f.size, at)
	f.keepFrom(at)
}

// beside paints something more with the last block, at its baseline.
func (f *flow) beside(more func(p *pdf.Page, base float64), base float64) {
	b := &f.blocks[len(f.blocks)-1]
	paint := b.paint
	b.paint = func(p *pdf.Page, y float64) {
		paint(p, y)
		more(p, y+base)
	}
}

// A displayed formula's last line.
type displayed struct {
	width float64
	base  float64 // of its baseline below the top of its block
	block int
}

// display adds a formula in lines of its own.
func (f *flow) display(parent *pdf.Element, n formula.Node, x, width float64) displayed {
	e := newFormula(parent, n)
	var last displayed
	for _, line := range (setter{look: f.look, size: f.size}).lines(n, width) {
		height, base := f.heights(textLine{up: line.up, down: line.down}, f.size)
		f.add(block{height: height, base: base, paint: func(p *pdf.Page, y float64) {
			p.Begin(e)
			p.Fill(pdf.Colour{})
			p.Stroke(pdf.Colour{})
			p.Dash()
			line.paint(p, x, y+base)
			p.End()
		}})
		last = displayed{line.width, base, len(f.blocks) - 1}
	}
	return last
}

// answer adds the last line of a part, in bold.
func (f *flow) answer(sect *pdf.Element, part *Part, w *solution.Worked) {
	text := part.Answer
	if w != nil && w.Answer.Words != "" {
		text = w.Answer.Words
	}
	if text == "" {
		return
	}
	f.keepNext()
	at := len(f.blocks)
	f.text(sect.Child(pdf.P), bold(marked("Answer: "+text)), f.size, f.left, f.measure())
	f.gap(0.5*f.size, at)
}

func upperFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}
