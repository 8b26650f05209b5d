package draw

import (
	"math"
	"strconv"
)

// family is the list of typefaces of text in SVG: the one that it is measured in, then faces of the same widths.
const family = "Liberation Sans, Arimo, Arial, Helvetica, sans-serif"

// SVG writes the picture as an SVG 1.1 file: one element a line, numbers to a hundredth of a point,
// text as text, of the width that it is measured with here even where the reader's machine lacks the
// typeface. The same picture always gives the same bytes. Ids of the title and the description
// are p.ID with "title" and "desc", so give pictures on one page different IDs.
//
// Source: SVG 1.1 (second edition); role and labelling as the W3C's HTML Accessibility API Mappings ask.
func SVG(p *Picture) []byte {
	w := svg{b: make([]byte, 0, 8192)}
	if p.ID != "" {
		w.prefix = p.ID + "-"
	}
	w.s(`<svg xmlns="http://www.w3.org/2000/svg"`)
	w.number("width", p.Width).number("height", p.Height)
	w.s(` viewBox="0 0 `).n(p.Width).s(" ").n(p.Height).s(`" role="img" aria-labelledby="`).text(w.prefix).s(`title"`)
	if p.Description != "" {
		w.s(` aria-describedby="`).text(w.prefix).s(`desc"`)
	}
	w.s(` font-family="` + family + `" stroke-linejoin="miter">` + "\n")
	w.s(`<title id="`).text(w.prefix).s(`title">`).text(p.Title).s("</title>\n")
	if p.Description != "" {
		w.s(`<desc id="`).text(w.prefix).s(`desc">`).text(p.Description).s("</desc>\n")
	}
	w.marks(p.Marks)
	w.s("</svg>\n")
	return w.b
}

// An svg is a file being written.
type svg struct {
	b      []byte
	prefix string
}

func (w *svg) s(s string) *svg { w.b = append(w.b, s...); return w }

// n writes a number to a hundredth, without trailing zeros and never -0.
func (w *svg) n(v float64) *svg {
	h := int64(0)
	if !math.IsNaN(v) && math.Abs(v) < 1e9 {
		h = int64(math.Round(v * 100))
	}
	if h < 0 {
		w.b, h = append(w.b, '-'), -h
	}
	w.b = strconv.AppendInt(w.b, h/100, 10)
	if c := h % 100; c != 0 {
		w.b = append(w.b, '.', byte('0'+c/10))
		if c%10 != 0 {
			w.b = append(w.b, byte('0'+c%10))
		}
	}
	return w
}

func (w *svg) number(name string, v float64) *svg { return w.s(" ").s(name).s(`="`).n(v).s(`"`) }

// text writes words with what XML reserves escaped; characters that XML forbids are left out.
func (w *svg) text(s string) *svg {
	for _, r := range s {
		switch {
		case r == '&':
			w.s("&amp;")
		case r == '<':
			w.s("&lt;")
		case r == '>':
			w.s("&gt;")
		case r == '"':
			w.s("&quot;")
		case r < ' ' && r != '\n' && r != '\t', r == 0xFFFE, r == 0xFFFF:
		default:
			w.b = append(w.b, string(r)...)
		}
	}
	return w
}

// ink writes an attribute with a colour.
func (w *svg) ink(name string, i Ink) *svg {
	w.s(" ").s(name).s(`="`)
	if i == None {
		return w.s(`none"`)
	}
	const hex = "0123456789abcdef"
	r, g, b := i.RGB()
	w.b = append(w.b, '#', hex[r>>4], hex[r&15], hex[g>>4], hex[g&15], hex[b>>4], hex[b&15])
	return w.s(`"`)
}

func (w *svg) style(s Style) *svg {
	w.ink("fill", s.Fill)
	if s.Stroke == None || s.Width == 0 {
		return w
	}
	w.ink("stroke", s.Stroke).number("stroke-width", s.Width)
	if len(s.Dash) > 0 {
		w.s(` stroke-dasharray="`)
		for i, d := range s.Dash {
			if i > 0 {
				w.s(" ")
			}
			w.n(d)
		}
		w.s(`"`)
	}
	if s.Round {
		w.s(` stroke-linecap="round" stroke-linejoin="round"`)
	}
	return w
}

func (w *svg) marks(marks []Mark) {
	for _, m := range marks {
		switch m := m.(type) {
		case Line:
			w.line(m)
		case Arc:
			w.arc(m)
		case Text:
			w.words(m)
		case Group:
			w.group(m)
		}
	}
}

func (w *svg) group(g Group) {
	w.s("<g")
	if g.ID != "" {
		w.s(` id="`).text(w.prefix).text(g.ID).s(`"`)
	}
	if g.Class != "" {
		w.s(` class="`).text(g.Class).s(`"`)
	}
	w.s(">\n")
	if g.Title != "" {
		w.s("<title>").text(g.Title).s("</title>\n")
	}
	w.marks(g.Marks)
	w.s("</g>\n")
}

func (w *svg) line(l Line) {
	if len(l.Points) < 2 {
		return
	}
	w.s(`<path d="`)
	for i, p := range l.Points {
		if i == 0 {
			w.s("M")
		} else {
			w.s(" L")
		}
		w.n(p.X).s(" ").n(p.Y)
	}
	if l.Closed {
		w.s(" Z")
	}
	w.s(`"`).style(l.Style).s("/>\n")
}

func (w *svg) arc(a Arc) {
	turn := a.To - a.From
	if math.Abs(turn) >= 2*math.Pi-1e-9 {
		w.s("<circle").number("cx", a.Centre.X).number("cy", a.Centre.Y).number("r", a.Radius).style(a.Style).s("/>\n")
		return
	}
	from, to := a.Start(), a.Finish()
	w.s(`<path d="M`).n(from.X).s(" ").n(from.Y).s(" A").n(a.Radius).s(" ").n(a.Radius).s(" 0 ")
	w.s([2]string{"0 ", "1 "}[btoi(math.Abs(turn) > math.Pi)]).s([2]string{"0 ", "1 "}[btoi(turn > 0)])
	w.n(to.X).s(" ").n(to.Y).s(`"`).style(a.Style).s("/>\n")
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// words writes a text; each change of style is a tspan, and subscripts go down and come up again.
func (w *svg) words(t Text) {
	w.s("<text").number("x", t.At.X).number("y", t.At.Y).number("font-size", t.Size).ink("fill", t.Ink)
	switch t.Anchor {
	case Centre:
		w.s(` text-anchor="middle"`)
	case Finish:
		w.s(` text-anchor="end"`)
	}
	if width := t.Width(); width > 0 { // keeps to its place in any typeface
		w.number("textLength", width).s(` lengthAdjust="spacingAndGlyphs"`)
	}
	if t.Halo {
		w.s(` stroke="#ffffff" stroke-width="2.5" stroke-linejoin="round" paint-order="stroke"`)
	}
	w.s(">")
	drop := 0.0
	for _, r := range t.Runs {
		want := 0.0
		if r.Sub {
			want = SubDrop * t.Size
		}
		if !r.Italic && !r.Bold && want == drop && !r.Sub {
			w.text(r.Text)
			continue
		}
		w.s("<tspan")
		if want != drop {
			w.number("dy", want-drop)
		}
		if r.Sub {
			w.number("font-size", SubSize*t.Size)
		}
		if r.Italic {
			w.s(` font-style="italic"`)
		}
		if r.Bold {
			w.s(` font-weight="bold"`)
		}
		w.s(">").text(r.Text).s("</tspan>")
		drop = want
	}
	w.s("</text>\n")
}
