package slides

import (
	"slices"
	"strings"

	"steelyard/font"
	"steelyard/formula"
	"steelyard/sheet"
)

// newSign stands before a line that is new.
const newSign = "▸ "

// tied ties factors together and signs to what follows them, so that lines break before = and + and −.
var tied = strings.NewReplacer("= ", "=\u00a0", "≤ ", "≤\u00a0", "≥ ", "≥\u00a0", "+ ", "+\u00a0", "− ", "−\u00a0", " × ", "\u00a0×\u00a0", " / ", "\u00a0/\u00a0")

// A paragraph is a line of a presentation's working, or words on it.
type paragraph struct {
	runs  []formula.Run
	fresh bool
	built *formula.Node // a formula of two levels: it stands by itself, and runs is what stands for it where it can't
	tail  string        // what stands after it
}

// paragraphs are the words beside the picture of a slide, at the largest size at which they fit. Where none is small
// enough, the first lines of the working are left out.
func (v *slide) paragraphs() (list []paragraph, size float64) {
	lines, cut := v.lines, false
	for size = 22; ; {
		list = list[:0]
		if cut {
			list = append(list, paragraph{runs: []formula.Run{{Text: "… (the first lines are left out)"}}})
		}
		for i := range lines {
			list = append(list, lines[i].paragraph(size))
		}
		if v.words != "" {
			list = append(list, paragraph{runs: []formula.Run{{Text: v.words}}, fresh: true})
		}
		all := 0.0
		for i := range list {
			all += list[i].height(size)
		}
		switch {
		case all <= room || len(lines) <= 1 && size <= 12:
			return list, size
		case size > least || len(lines) <= 1:
			size--
		default:
			lines, cut = lines[1:], true
		}
	}
}

// paragraph is a row in words, or as a formula of two levels if it has a fraction.
func (r *row) paragraph(size float64) paragraph {
	p := paragraph{fresh: r.fresh}
	for _, f := range formula.Runs(r.formula) {
		f.Text = tied.Replace(f.Text)
		p.runs = append(p.runs, f)
	}
	if hasFraction(r.formula) {
		p.built, p.tail = &r.formula, strings.TrimSpace(r.tail())
		if _, smaller := p.built2D(size); smaller*size >= least2D {
			return p
		}
		p.built, p.tail = nil, ""
	}
	if r.fresh {
		p.runs = append([]formula.Run{{Text: newSign}}, p.runs...)
	}
	if t := r.tail(); t != "" {
		p.runs = append(p.runs, formula.Run{Text: t})
	}
	return p
}

const (
	least2D = 13.0 // size of a fraction that is scaled to its place; a longer one is written in a line
	signs   = 0.95 // width of the sign of what is new, in sizes of text
	between = 8.0  // after a paragraph
)

func hasFraction(n formula.Node) bool {
	return n.Op == formula.Over || slices.ContainsFunc(n.Args, hasFraction)
}

// built2D is the formula set in one line, and how much smaller it has to be to fit into its place.
func (p *paragraph) built2D(size float64) (set sheet.Typeset, smaller float64) {
	set = sheet.TypesetFormula(*p.built, size, 100*wide)
	return set, min(1, (workingWidth-p.indent(size))/set.Width)
}

// indent is the room for the sign of what is new.
func (p *paragraph) indent(size float64) float64 {
	if p.fresh {
		return signs * size
	}
	return 0
}

// A block is what stands in a place of its own beside the picture: paragraphs that follow each other, or a formula.
type block struct {
	box
	list []paragraph
}

// built is the formula of a block that is one.
func (b *block) built() *formula.Node { return b.list[0].built }

// blocks lays paragraphs out, one below the other. Without formulas of two levels there is one block.
func blocks(list []paragraph, size float64) (out []block) {
	y := top
	text := func(words string, fresh bool, left, right, at float64) {
		out = append(out, block{box{left, at, right, at + 1.2*size}, []paragraph{{runs: plainRuns(words), fresh: fresh}}})
	}
	for i := range list {
		p := &list[i]
		below := y + p.height(size)
		switch last := len(out) - 1; {
		case p.built != nil:
			set, k := p.built2D(size)
			at := box{workingLeft + p.indent(size), y, workingLeft + p.indent(size) + k*set.Width, y + k*set.Height}
			middle := (at.top+at.bottom)/2 - 0.6*size
			if p.fresh {
				text(strings.TrimSpace(newSign), true, workingLeft, at.left, middle)
			}
			out = append(out, block{at, list[i : i+1 : i+1]})
			switch {
			case p.tail == "":
			case p.beside(size):
				text(p.tail, p.fresh, at.right+0.4*size, wide-margin+8, middle)
			default:
				text(p.tail, p.fresh, at.left, wide-margin+8, at.bottom)
			}
		case last >= 0 && i > 0 && list[i-1].built == nil:
			out[last].list, out[last].bottom = append(out[last].list, *p), below
		default:
			out = append(out, block{box{workingLeft, y, wide - margin + 8, below}, []paragraph{*p}})
		}
		y = below
	}
	if len(out) == 1 && out[0].built() == nil {
		out[0].bottom = top + room
	}
	return out
}

// beside reports whether there is room for the tail beside the formula.
func (p *paragraph) beside(size float64) bool {
	set, k := p.built2D(size)
	return p.indent(size)+k*set.Width+0.4*size+1.02*font.Sans.Width(p.tail, size) < workingWidth
}

// height is how much room a paragraph takes with what is free below it.
func (p *paragraph) height(size float64) float64 {
	if p.built == nil {
		high := float64(p.lines(size))*1.18*size + between
		if slices.ContainsFunc(p.runs, func(r formula.Run) bool { return r.Sub }) {
			high += 0.19 * size // some programs make room for it
		}
		return high
	}
	set, k := p.built2D(size)
	high := k*set.Height + between
	if p.tail != "" && !p.beside(size) {
		high += 1.2 * size
	}
	return high
}

// lines is how many lines a paragraph takes, counted a little too wide.
func (p *paragraph) lines(size float64) int {
	var text strings.Builder
	for _, r := range p.runs {
		text.WriteString(r.Text)
	}
	lines, x := 1, 0.0
	for word := range strings.SplitSeq(text.String(), " ") {
		w := 1.02 * font.Sans.Width(word+" ", size)
		if x > 0 && x+w > workingWidth {
			lines, x = lines+1, 0
		}
		x += w
	}
	return lines
}

// titleFit is the size at which a title fits into its place.
func (v *slide) titleFit() float64 {
	size := titleSize
	for size > 16 && sheet.TypesetWords(v.title, true, size, wide-2*margin-8).Height > titleHeight {
		size -= 2
	}
	return size
}
