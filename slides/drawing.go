package slides

import (
	"math"

	"steelyard/draw"
	"steelyard/font"
)

// A drawer draws a picture as shapes that can be moved and changed.
type drawer interface {
	begin(name, words string, at box) // a group
	end()
	path(points []draw.Point, closed bool, s draw.Style)
	arrow(tail, tip draw.Point, s draw.Style, head float64) // a line with a head of a length at its tip
	circle(centre draw.Point, radius float64, s draw.Style)
	label(t draw.Text, at box)
}

// A box is a rectangle.
type box struct{ left, top, right, bottom float64 }

func (b box) width() float64  { return b.right - b.left }
func (b box) height() float64 { return b.bottom - b.top }

// around is the smallest box around some boxes.
func around(boxes ...box) box {
	all := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, b := range boxes {
		all = box{min(all.left, b.left), min(all.top, b.top), max(all.right, b.right), max(all.bottom, b.bottom)}
	}
	return all
}

func aroundPoints(points []draw.Point) box {
	all := around()
	for _, p := range points {
		all = around(all, box{p.X, p.Y, p.X, p.Y})
	}
	return all
}

// placed is a picture's marks, k times as large and moved, their labels without an edge.
func placed(marks []draw.Mark, k, x, y float64) []draw.Mark {
	at := func(p draw.Point) draw.Point { return draw.Point{X: x + k*p.X, Y: y + k*p.Y} }
	style := func(s draw.Style) draw.Style {
		dash := make([]float64, len(s.Dash))
		for i, v := range s.Dash {
			dash[i] = k * v
		}
		s.Width, s.Dash = k*s.Width, dash
		return s
	}
	out := make([]draw.Mark, 0, len(marks))
	for _, m := range marks {
		switch m := m.(type) {
		case draw.Line:
			points := make([]draw.Point, len(m.Points))
			for i, p := range m.Points {
				points[i] = at(p)
			}
			m.Points, m.Style = points, style(m.Style)
			out = append(out, m)
		case draw.Arc:
			m.Centre, m.Radius, m.Style = at(m.Centre), k*m.Radius, style(m.Style)
			out = append(out, m)
		case draw.Text:
			m.At, m.Size, m.Halo = at(m.At), k*m.Size, false
			out = append(out, m)
		case draw.Group:
			m.Marks = placed(m.Marks, k, x, y)
			out = append(out, m)
		}
	}
	return out
}

// extent is the box around marks; an empty one for none.
func extent(marks []draw.Mark) box {
	all := around()
	for _, m := range marks {
		switch m := m.(type) {
		case draw.Line:
			all = around(all, aroundPoints(m.Points))
		case draw.Arc:
			all = around(all, aroundPoints(bent(m)))
		case draw.Text:
			all = around(all, textBox(m))
		case draw.Group:
			all = around(all, extent(m.Marks))
		}
	}
	return all
}

// bent is an arc as a line through points.
func bent(a draw.Arc) []draw.Point { return a.Flatten(0.2) }

// textBox is where a label stands, as office programs set a line: from the face's ascent to its descent.
func textBox(t draw.Text) box {
	w := t.Width()
	left := t.At.X - map[draw.Anchor]float64{draw.Centre: w / 2, draw.Finish: w}[t.Anchor]
	return box{left, t.At.Y - font.Sans.Ascent(t.Size), left + w, t.At.Y + font.Sans.Descent(t.Size)}
}

// render draws marks; a line that ends in a filled head becomes one arrow.
func render(d drawer, marks []draw.Mark) {
	for i := 0; i < len(marks); i++ {
		switch m := marks[i].(type) {
		case draw.Line:
			if tip, head, yes := arrowhead(m, marks[i+1:]); yes {
				d.arrow(m.Points[0], tip, m.Style, head)
				i++
				continue
			}
			if len(m.Points) > 1 && seen(m.Style) {
				d.path(m.Points, m.Closed, m.Style)
			}
		case draw.Arc:
			switch {
			case !seen(m.Style):
			case math.Abs(m.To-m.From) > 2*math.Pi-1e-9:
				d.circle(m.Centre, m.Radius, m.Style)
			default:
				d.path(bent(m), false, m.Style)
			}
		case draw.Text:
			if m.String() != "" {
				d.label(m, textBox(m))
			}
		case draw.Group:
			at := extent(m.Marks)
			if at.width() < 0 {
				continue
			}
			name := m.ID
			if name == "" {
				name = m.Class
			}
			d.begin(name, m.Title, at)
			render(d, m.Marks)
			d.end()
		}
	}
}

// behind reports whether an area is the paper that keeps lines out of a label; it stands in the label's group.
func behind(s draw.Style) bool {
	return s.Fill == draw.Paper && (s.Stroke == draw.None || s.Width <= 0)
}

func seen(s draw.Style) bool { return s.Fill != draw.None || s.Stroke != draw.None && s.Width > 0 }

// arrowhead says whether a line is the shaft of an arrow: a filled triangle in its ink follows, whose tip lies ahead.
func arrowhead(shaft draw.Line, rest []draw.Mark) (tip draw.Point, length float64, yes bool) {
	if len(rest) == 0 || len(shaft.Points) != 2 || shaft.Closed || shaft.Style.Stroke == draw.None {
		return
	}
	h, is := rest[0].(draw.Line)
	if !is || !h.Closed || len(h.Points) != 3 || h.Style.Fill != shaft.Style.Stroke || h.Style.Width > 0 {
		return
	}
	tip = h.Points[0]
	neck := draw.Point{X: (h.Points[1].X + h.Points[2].X) / 2, Y: (h.Points[1].Y + h.Points[2].Y) / 2}
	length = math.Hypot(tip.X-neck.X, tip.Y-neck.Y)
	end := shaft.Points[1]
	// The shaft ends inside the head, on its middle line.
	off := math.Abs((end.X-tip.X)*(neck.Y-tip.Y)-(end.Y-tip.Y)*(neck.X-tip.X)) / max(length, 1e-9)
	return tip, length, off < 0.1 && math.Hypot(end.X-tip.X, end.Y-tip.Y) < 1.1*length
}
