package slides

import (
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
		for _, r := range lines {
			var runs []formula.Run
			if r.fresh {
				runs = append(runs, formula.Run{Text: newSign})
			}
			for _, f := range formula.Runs(r.formula) {
				f.Text = tied.Replace(f.Text)
				runs = append(runs, f)
			}
			if t := r.tail(); t != "" {
				runs = append(runs, formula.Run{Text: t})
			}
			list = append(list, paragraph{runs, r.fresh})
		}
		if v.words != "" {
			list = append(list, paragraph{[]formula.Run{{Text: v.words}}, true})
		}
		all := 0.0
		for _, p := range list {
			all += float64(p.height(size))*1.2*size + 0.4*size
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

// height is how many lines a paragraph takes, counted a little too wide.
func (p paragraph) height(size float64) int {
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
