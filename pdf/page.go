package pdf

import (
	"fmt"
	"math"
	"strconv"

	"steelyard/font"
)

// A Page is one sheet side. Its methods paint in the order in which they are called.
type Page struct {
	doc           *Document
	width, height float64
	content       []byte
	marked        []*Element // by mark number
	open          *Element   // whose marked content is open
	artifact      bool       // an artifact is open
	ended         bool       // the open content has ended, but may be taken up again
	state         state
	saved         []state
	number        int // of its object
	index         int // from 0
}

// A state is what the page's pen is set to, so that settings are written only when they change.
type state struct {
	fill, stroke Colour
	width        float64
	dash         string
	round        bool
}

// A Colour is red, green and blue from 0 to 1. The zero Colour is black.
type Colour struct{ R, G, B float64 }

// Grey is a grey from 0, black, to 1, white.
func Grey(v float64) Colour { return Colour{v, v, v} }

// Width and Height are the size of the page in points.
func (p *Page) Width() float64  { return p.width }
func (p *Page) Height() float64 { return p.height }

// Number is the page's number, from 1.
func (p *Page) Number() int { return p.index + 1 }

// Begin opens a piece of content that belongs to e; End closes it.
func (p *Page) Begin(e *Element) {
	if p.busy() {
		p.doc.fault(fmt.Errorf("page %d: %s begins inside another tag", p.index+1, e.Role))
		return
	}
	if p.ended && p.open == e {
		p.ended = false // the same element goes on
		return
	}
	p.close()
	mark := len(p.marked)
	p.marked = append(p.marked, e)
	e.kids = append(e.kids, kid{page: p, mark: mark})
	if e.page == nil {
		e.page = p
	}
	p.open = e
	p.content = append(p.content, '/')
	p.content = append(p.content, e.Role...)
	p.content = append(p.content, "<</MCID "...)
	p.content = strconv.AppendInt(p.content, int64(mark), 10)
	p.content = append(p.content, ">>BDC\n"...)
}

// Artifact opens content that a screen reader passes over: rules, answer lines, page numbers. The
// kind is "Pagination", "Layout", "Page" or "". End closes it.
func (p *Page) Artifact(kind string) {
	if p.busy() {
		p.doc.fault(fmt.Errorf("page %d: an artifact begins inside another tag", p.index+1))
		return
	}
	p.close()
	p.artifact = true
	if kind == "" {
		p.content = append(p.content, "/Artifact BMC\n"...)
		return
	}
	p.content = append(p.content, "/Artifact<</Type/"...)
	p.content = append(p.content, kind...)
	p.content = append(p.content, ">>BDC\n"...)
}

// End closes what Begin or Artifact opened.
func (p *Page) End() {
	if !p.busy() {
		p.doc.fault(fmt.Errorf("page %d: a tag ends that never began", p.index+1))
		return
	}
	p.ended = true
	if p.artifact {
		p.close()
	}
}

func (p *Page) busy() bool { return (p.open != nil || p.artifact) && !p.ended }

// close writes the end of content that End has ended.
func (p *Page) close() {
	if p.open != nil || p.artifact {
		p.content = append(p.content, "EMC\n"...)
	}
	p.open, p.artifact, p.ended = nil, false, false
}

// mark notes that something is painted with these numbers.
func (p *Page) mark(numbers ...float64) {
	if !p.busy() {
		p.doc.fault(fmt.Errorf("page %d: a mark is made outside any tag", p.index+1))
	}
	for _, v := range numbers {
		if math.IsNaN(v) || math.Abs(v) > 1e6 {
			p.doc.fault(fmt.Errorf("page %d: %g is no place on a page", p.index+1, v))
		}
	}
}

func (p *Page) put(v float64) {
	p.content = append(appendNumber(p.content, v, 2), ' ')
}

func (p *Page) putPoint(x, y float64) { p.put(x); p.put(p.height - y) }

func (p *Page) op(name string) {
	p.content = append(p.content, name...)
	p.content = append(p.content, '\n')
}

// Save keeps the pen's settings and the axes until Restore.
func (p *Page) Save() {
	p.saved = append(p.saved, p.state)
	p.op("q")
}

// Restore brings back what Save kept.
func (p *Page) Restore() {
	if len(p.saved) == 0 {
		p.doc.fault(fmt.Errorf("page %d: a restore without its save", p.index+1))
		return
	}
	p.state = p.saved[len(p.saved)-1]
	p.saved = p.saved[:len(p.saved)-1]
	p.op("Q")
}

// Shift moves the origin by dx to the right and dy down. Put it between Save and Restore.
func (p *Page) Shift(dx, dy float64) { p.axes(1, 0, 0, 1, dx, -dy) }

// Scale makes everything s times as large, about the point (x, y).
func (p *Page) Scale(s, x, y float64) {
	p.axes(s, 0, 0, s, x*(1-s), (p.height-y)*(1-s))
}

func (p *Page) axes(m ...float64) {
	for _, v := range m {
		if math.IsNaN(v) || math.Abs(v) > 1e6 {
			p.doc.fault(fmt.Errorf("page %d: axes of %v", p.index+1, m))
		}
		p.content = append(appendNumber(p.content, v, 5), ' ')
	}
	p.op("cm")
}

// Fill sets the colour of areas and text.
func (p *Page) Fill(c Colour) {
	if p.state.fill != c {
		p.state.fill = c
		p.colour(c, "g", "rg")
	}
}

// Stroke sets the colour of lines.
func (p *Page) Stroke(c Colour) {
	if p.state.stroke != c {
		p.state.stroke = c
		p.colour(c, "G", "RG")
	}
}

func (p *Page) colour(c Colour, grey, rgb string) {
	p.content = append(appendNumber(p.content, c.R, 3), ' ')
	if c.R == c.G && c.G == c.B {
		p.op(grey)
		return
	}
	p.content = append(appendNumber(p.content, c.G, 3), ' ')
	p.content = append(appendNumber(p.content, c.B, 3), ' ')
	p.op(rgb)
}

// LineWidth sets the width of lines in points.
func (p *Page) LineWidth(w float64) {
	if p.state.width != w {
		p.state.width = w
		p.put(w)
		p.op("w")
	}
}

// Dash sets the lengths of dashes and gaps in points; none draws a full line.
func (p *Page) Dash(lengths ...float64) {
	var b []byte
	for _, v := range lengths {
		b = append(appendNumber(b, v, 2), ' ')
	}
	if p.state.dash != string(b) {
		p.state.dash = string(b)
		p.content = append(p.content, '[')
		p.content = append(p.content, b...)
		p.op("]0 d")
	}
}

// Round sets round ends and corners of lines, or square-cut ends and mitred corners.
func (p *Page) Round(round bool) {
	if p.state.round == round {
		return
	}
	p.state.round = round
	if round {
		p.op("1 J 1 j")
	} else {
		p.op("0 J 0 j")
	}
}

// A Paint is what is done with a path.
type Paint string

const (
	Stroked Paint = "S"
	Filled  Paint = "f"
	Both    Paint = "B"
)

// Line paints a line between two points.
func (p *Page) Line(x1, y1, x2, y2 float64) {
	p.Path([][2]float64{{x1, y1}, {x2, y2}}, false, Stroked)
}

// Path paints a line through points, closed to a polygon if asked.
func (p *Page) Path(points [][2]float64, closed bool, paint Paint) {
	if len(points) < 2 {
		return
	}
	for i, v := range points {
		p.mark(v[0], v[1])
		p.putPoint(v[0], v[1])
		if i == 0 {
			p.op("m")
		} else {
			p.op("l")
		}
	}
	if closed {
		p.op("h")
	}
	p.op(string(paint))
}

// Rectangle paints a rectangle from its top left corner.
func (p *Page) Rectangle(x, y, width, height float64, paint Paint) {
	p.mark(x, y, width, height)
	p.putPoint(x, y+height)
	p.put(width)
	p.put(height)
	p.op("re")
	p.op(string(paint))
}

// Arc paints part of a circle from one angle to another, in radians from the right, clockwise on
// the page. A whole turn is closed.
//
// Each eighth of a turn is one cubic curve, true to less than a hundred-thousandth of the radius
// (the usual 4/3 tan(a/4) construction).
func (p *Page) Arc(x, y, radius, from, to float64, paint Paint) {
	p.mark(x, y, radius, from, to)
	span := to - from
	pieces := max(1, int(math.Ceil(math.Abs(span)/(math.Pi/4)-1e-9)))
	step := span / float64(pieces)
	k := 4.0 / 3 * math.Tan(step/4) * radius
	sin, cos := math.Sincos(from)
	p.putPoint(x+radius*cos, y+radius*sin)
	p.op("m")
	for i := range pieces {
		sin2, cos2 := math.Sincos(from + step*float64(i+1))
		p.putPoint(x+radius*cos-k*sin, y+radius*sin+k*cos)
		p.putPoint(x+radius*cos2+k*sin2, y+radius*sin2-k*cos2)
		p.putPoint(x+radius*cos2, y+radius*sin2)
		p.op("c")
		sin, cos = sin2, cos2
	}
	if math.Abs(span) >= 2*math.Pi-1e-9 {
		p.op("h")
	}
	p.op(string(paint))
}

// Curve paints a cubic curve from (x0, y0) to (x3, y3) with its two control points.
func (p *Page) Curve(x0, y0, x1, y1, x2, y2, x3, y3 float64, paint Paint) {
	p.mark(x0, y0, x1, y1, x2, y2, x3, y3)
	p.putPoint(x0, y0)
	p.op("m")
	p.putPoint(x1, y1)
	p.putPoint(x2, y2)
	p.putPoint(x3, y3)
	p.op("c")
	p.op(string(paint))
}

// Text sets a line of text with its baseline starting at (x, y), and returns its width in points.
// Signs that the face lacks are taken from font.Signs.
func (p *Page) Text(face *font.Face, size, x, y float64, text string) float64 {
	return p.text(face, size, x, y, text, "")
}

// Halo sets text with a rim of the stroke colour, rim points wide, under it.
func (p *Page) Halo(face *font.Face, size, x, y, rim float64, text string) float64 {
	p.LineWidth(2 * rim)
	p.op("1 J 1 j")
	p.text(face, size, x, y, text, "1 Tr ")
	if !p.state.round {
		p.op("0 J 0 j")
	}
	return p.Text(face, size, x, y, text)
}

func (p *Page) text(face *font.Face, size, x, y float64, text, mode string) float64 {
	if text == "" {
		return 0
	}
	p.mark(size, x, y)
	if p.doc.OnText != nil {
		p.doc.OnText(p.index+1, x, y, size, face, text)
	}
	start := x
	for _, run := range face.Runs(text) {
		in := p.doc.embed(run.Face)
		p.content = append(p.content, "BT/F"...)
		p.content = strconv.AppendInt(p.content, int64(in.order), 10)
		p.content = append(p.content, ' ')
		p.put(size)
		p.content = append(p.content, "Tf "...)
		p.content = append(p.content, mode...)
		p.putPoint(x, y)
		p.content = append(p.content, "Td"...)
		var units float64
		p.content, units = in.show(p.content, run.Text)
		if mode != "" {
			p.content = append(p.content, "0 Tr "...)
		}
		p.op("ET")
		x += units / 1000 * size
	}
	return x - start
}
