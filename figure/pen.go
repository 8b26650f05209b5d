package figure

import (
	"math"

	"steelyard/draw"
)

// begin opens a group on a layer, and closes the one before: groups don't nest.
func (s *scene) begin(on layer, id, class, title string) {
	s.end()
	s.open, s.openOn, s.veil = draw.Group{ID: id, Class: class, Title: title}, on, bare
}

// end closes the group, and leaves out an empty one.
func (s *scene) end() {
	s.open.Marks = veiled(s.open.Marks, s.veil)
	if len(s.open.Marks) > 0 {
		s.painted[s.openOn] = append(s.painted[s.openOn], s.open)
	}
	s.open = draw.Group{}
}

// reach notes that the picture reaches to p.
func (s *scene) reach(p pt, by float64) {
	s.low = pt{X: min(s.low.X, p.X-by), Y: min(s.low.Y, p.Y-by)}
	s.high = pt{X: max(s.high.X, p.X+by), Y: max(s.high.Y, p.Y+by)}
}

// keepOff makes labels keep off a line.
func (s *scene) keepOff(weight float64, closed bool, points ...pt) {
	if weight == 0 {
		return
	}
	for i := 1; i < len(points); i++ {
		s.strokes = append(s.strokes, stroke{points[i-1], points[i], weight})
	}
	if n := len(points); closed && n > 2 {
		s.strokes = append(s.strokes, stroke{points[n-1], points[0], weight})
	}
}

// path paints a line through points, or a polygon; a place that isn't known paints nothing.
func (s *scene) path(style draw.Style, closed bool, weight float64, points ...pt) {
	for _, p := range points {
		if !sane(p) || math.Abs(p.X)+math.Abs(p.Y) > 1e7 {
			return
		}
	}
	for _, p := range points {
		s.reach(p, style.Width/2)
	}
	s.open.Marks = append(s.open.Marks, draw.Line{Points: append([]pt(nil), points...), Closed: closed, Style: style})
	s.keepOff(weight, closed, points...)
}

func (s *scene) line(ink draw.Ink, width, weight float64, points ...pt) {
	s.path(draw.Style{Stroke: ink, Width: width}, false, weight, points...)
}

func (s *scene) dashed(ink draw.Ink, width float64, weight float64, a, b pt) {
	s.path(draw.Style{Stroke: ink, Width: width, Dash: []float64{4 * math.Sqrt(width/0.55), 3 * math.Sqrt(width/0.55)}}, false, weight, a, b)
}

func (s *scene) shape(ink draw.Ink, width float64, fill draw.Ink, points ...pt) {
	s.path(draw.Style{Stroke: ink, Width: width, Fill: fill}, true, heavy, points...)
}

// curve paints an arc, angles clockwise on the page.
func (s *scene) curve(style draw.Style, weight float64, centre pt, r, from, to float64) {
	if !sane(centre) || !finite(r) || !finite(from) || !finite(to) || math.Abs(centre.X)+math.Abs(centre.Y) > 1e7 {
		return
	}
	a := draw.Arc{Centre: centre, Radius: r, From: from, To: to, Style: style}
	s.open.Marks = append(s.open.Marks, a)
	points := a.Flatten(0.15 * r)
	for _, p := range points {
		s.reach(p, style.Width/2+0.05*r)
	}
	s.keepOff(weight, false, points...)
}

func (s *scene) circle(ink draw.Ink, width float64, fill draw.Ink, centre pt, r float64) {
	s.curve(draw.Style{Stroke: ink, Width: width, Fill: fill}, heavy, centre, r, 0, 2*math.Pi)
}

func (s *scene) dotAt(ink draw.Ink, centre pt, r float64) { s.circle(draw.None, 0, ink, centre, r) }

// arrow paints a force: a shaft and a slender filled head, its tip at tip.
func (s *scene) arrow(ink draw.Ink, tail, tip pt) {
	d := unit(sub(tip, tail))
	head := min(s.head, 0.8*norm(sub(tip, tail)))
	neck := along(tip, d, -head)
	s.path(draw.Style{Stroke: ink, Width: s.force}, false, 0, tail, along(neck, d, 0.3*head))
	s.headAt(ink, tip, d, head, head*0.36)
	s.keepOff(heavy, false, tail, tip)
}

// headAt paints a filled arrowhead.
func (s *scene) headAt(ink draw.Ink, tip, d pt, length, width float64) {
	neck, n := along(tip, d, -length), left(d)
	s.path(draw.Style{Fill: ink}, true, heavy, tip, along(neck, n, width/2), along(neck, n, -width/2))
}

// turning paints an open arc of 270° with a head at its end: a couple, or a sense of turning. Its
// gap is towards gap.
func (s *scene) turning(ink draw.Ink, width, weight float64, centre pt, r float64, anticlockwise bool, gap, head float64) {
	from, to := gap+math.Pi/4, gap+math.Pi*7/4 // clockwise on the page
	if anticlockwise {
		from, to = to, from
	}
	turn := math.Copysign(1, to-from)
	bite := min(head/r, 1) // the head takes the end of the arc
	s.curve(draw.Style{Stroke: ink, Width: width}, weight, centre, r, from, to-turn*bite*0.7)
	end := draw.Arc{Centre: centre, Radius: r}.At(to)
	base := draw.Arc{Centre: centre, Radius: r}.At(to - turn*bite)
	d := unit(sub(end, base))
	s.path(draw.Style{Fill: ink}, true, weight, end, along(base, left(d), head*0.26), along(base, left(d), -head*0.26))
}

// hatch paints a surface: a line from a to b with short 45° strokes on the solid side.
func (s *scene) hatch(a, b, solid pt) {
	s.line(draw.Black, s.outline, heavy, a, b)
	d, deep, pitch := unit(sub(b, a)), 0.55*s.size+0.8, 0.5*s.size+1
	length := norm(sub(b, a))
	n := max(int(length/pitch), 2)
	pitch = length / float64(n)
	slant := mul(deep, sub(solid, d))
	for i := range n {
		p := along(a, d, (float64(i)+0.9)*pitch)
		q := add(p, slant)
		if back := dot(sub(q, a), d); back < 0 { // cut at the end
			q = add(p, mul((deep+back)/deep, slant))
		}
		s.line(draw.Grey, s.fine, 0, p, q)
	}
	s.keepOff(heavy, false, along(a, solid, deep), along(b, solid, deep))
}

// write paints lines of text in a box measured by measure.
func (s *scene) write(b box, text [][]draw.Run, ink draw.Ink, anchor draw.Anchor, halo bool) {
	x := b.low.X
	switch anchor {
	case draw.Centre:
		x = (b.low.X + b.high.X) / 2
	case draw.Finish:
		x = b.high.X
	}
	for i, runs := range text {
		at := pt{X: x, Y: b.low.Y + s.size*(0.76+1.2*float64(i))}
		s.open.Marks = append(s.open.Marks, draw.Text{At: at, Anchor: anchor, Size: s.size, Ink: ink, Runs: runs, Halo: halo})
	}
	s.reach(b.low, 0)
	s.reach(b.high, 0)
	s.boxes = append(s.boxes, b)
}

// measure is the size of lines of text set by write.
func (s *scene) measure(text [][]draw.Run) (w, h float64) {
	low := 0.22
	for _, runs := range text {
		w = max(w, draw.RunsWidth(runs, s.size))
		for _, r := range runs {
			if r.Sub {
				low = 0.38
			}
		}
	}
	return w, s.size * (0.76 + low + 1.2*float64(len(text)-1))
}
