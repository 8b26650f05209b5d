package sheet

import (
	"strings"

	"steelyard/font"
	"steelyard/pdf"
)

// A box is something set in a line: a word or a formula. Its pieces are placed from the left end
// of its baseline, y down.
type box struct {
	width, up, down float64 // above and below the baseline
	runs            []run
	rules           []rule
	curves          []curve
}

// A run is text in one face and size.
type run struct {
	face *font.Face
	size float64
	x, y float64
	text string
}

// A rule is a straight stroke.
type rule struct{ x1, y1, x2, y2, thick float64 }

// A curve is a cubic one.
type curve struct {
	at    [8]float64
	thick float64
}

// textBox is text on the baseline.
func textBox(face *font.Face, size float64, text string) box {
	if text == "" {
		return box{}
	}
	return box{
		width: face.Width(text, size), up: 0.72 * size, down: 0.22 * size,
		runs: []run{{face, size, 0, 0, text}},
	}
}

// space is an empty box.
func space(width float64) box { return box{width: width} }

// add puts b at (x, y) in a; the width of a stays.
func (a *box) add(b box, x, y float64) {
	for _, r := range b.runs {
		r.x, r.y = r.x+x, r.y+y
		a.runs = append(a.runs, r)
	}
	for _, r := range b.rules {
		a.rules = append(a.rules, rule{r.x1 + x, r.y1 + y, r.x2 + x, r.y2 + y, r.thick})
	}
	for _, c := range b.curves {
		for i := range c.at {
			c.at[i] += [2]float64{x, y}[i%2]
		}
		a.curves = append(a.curves, c)
	}
	if b.up+b.down > 0 {
		a.up, a.down = max(a.up, b.up-y), max(a.down, b.down+y)
	}
}

// beside sets boxes side by side on one baseline.
func beside(boxes ...box) box {
	var all box
	for _, b := range boxes {
		all.add(b, all.width, 0)
		all.width += b.width
	}
	return all
}

// paint paints the box with its baseline starting at (x, y). Runs that follow each other on a line
// in the same face are painted as one, so that they read as one.
func (a *box) paint(p *pdf.Page, x, y float64) {
	for i := 0; i < len(a.runs); {
		r := a.runs[i]
		text := r.text
		end := r.x + r.face.Width(r.text, r.size)
		for i++; i < len(a.runs); i++ {
			next := a.runs[i]
			if next.face != r.face || next.size != r.size || next.y != r.y {
				break
			}
			// After a space the pieces may stand a little apart from where kerning would put them.
			slack := 0.05
			if strings.HasSuffix(text, " ") {
				slack = 0.1 * r.size
			}
			if gap := next.x - end; gap < -slack || gap > slack {
				break
			}
			text += next.text
			end = next.x + next.face.Width(next.text, next.size)
		}
		p.Text(r.face, r.size, x+r.x, y+r.y, text)
	}
	for _, r := range a.rules {
		p.LineWidth(r.thick)
		p.Line(x+r.x1, y+r.y1, x+r.x2, y+r.y2)
	}
	for _, c := range a.curves {
		p.LineWidth(c.thick)
		v := c.at
		p.Curve(x+v[0], y+v[1], x+v[2], y+v[3], x+v[4], y+v[5], x+v[6], y+v[7], pdf.Stroked)
	}
}
