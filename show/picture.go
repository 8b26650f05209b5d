package show

import (
	"math"
	"strings"

	"steelyard/draw"
	"steelyard/figure"
	"steelyard/statics"
)

// A plan is where the scenes of a talk stand, so that bodies keep their place and their size from step to step.
type plan struct {
	scale         float64 // points for a metre
	origin        draw.Point
	width, height float64
}

// A size is what pictures are planned for.
type size struct {
	width, text float64
	upright     bool
}

// Picture is the picture of a step, counted from 0. Of the options, Width, TextSize, Upright and ID count. All
// pictures of a talk have one size, which is no wider than asked for except where the labels need it.
func (t *Talk) Picture(step int, o figure.Options) *draw.Picture {
	if step < 0 || step >= len(t.Steps) {
		return &draw.Picture{ID: o.ID, Width: 1, Height: 1, Title: "Nothing to draw"}
	}
	p := t.plan(o)
	s := &t.Steps[step]
	pic := t.draw(s.scene, s.stage, o, p.scale)
	by := pic.At(statics.Ground, statics.Vec{})
	move(pic.Marks, draw.Point{X: p.origin.X - by.X, Y: p.origin.Y - by.Y})
	out := pic.Picture
	out.Width, out.Height = p.width, p.height
	out.Title, out.Description = s.Title, s.Say
	return out
}

// draw draws a scene at a stage.
func (t *Talk) draw(i int, stage *figure.Stage, o figure.Options, scale float64) figure.Placed {
	s := &t.scenes[i]
	all := s.o
	all.Width, all.TextSize, all.Upright, all.ID, all.Scale = o.Width, o.TextSize, o.Upright, o.ID, scale
	if all.View != figure.Sketch {
		all.Stage = stage
	}
	p := figure.Place(s.layout, all)
	if all.View == figure.Sketch && stage == plain {
		p.Marks = withoutLengths(p.Marks)
	}
	return p
}

// withoutLengths leaves out what says how long things are.
func withoutLengths(marks []draw.Mark) []draw.Mark {
	out := make([]draw.Mark, 0, len(marks))
	for _, m := range marks {
		if g, ok := m.(draw.Group); ok && (g.Class == "dimension" || g.Class == "size" || g.Class == "angle" || g.Class == "level" || strings.HasPrefix(g.ID, "key")) {
			continue
		}
		out = append(out, m)
	}
	return out
}

// plan finds one scale for all scenes, and one size that they all fit in.
func (t *Talk) plan(o figure.Options) *plan {
	if !(o.Width > 0) {
		o.Width = 400
	}
	k := size{o.Width, o.TextSize, o.Upright}
	if p, ok := t.plans.Load(k); ok {
		return p.(*plan)
	}
	p := &plan{scale: math.Inf(1)}
	for i := range t.scenes {
		p.scale = min(p.scale, t.draw(i, nil, o, 0).Scale)
	}
	for range 3 {
		if t.extend(p, o); p.width <= 1.04*o.Width {
			break
		}
		p.scale *= max(0.6, 1-1.1*(p.width-o.Width)/p.width)
	}
	t.plans.Store(k, p)
	return p
}

// extend finds the size that all scenes fit in at the plan's scale, and where the plane's origin is.
func (t *Talk) extend(p *plan, o figure.Options) {
	left, right, up, down := 0.0, 0.0, 0.0, 0.0
	for i := range t.scenes {
		s := t.draw(i, nil, o, p.scale)
		low, high := reach(s.Marks)
		by := s.At(statics.Ground, statics.Vec{})
		if i == 0 {
			left, right, up, down = by.X-low.X, high.X-by.X, by.Y-low.Y, high.Y-by.Y
			continue
		}
		left, right = max(left, by.X-low.X), max(right, high.X-by.X)
		up, down = max(up, by.Y-low.Y), max(down, high.Y-by.Y)
	}
	const margin = 6
	p.width, p.height = left+right+2*margin, up+down+2*margin
	p.origin = draw.Point{X: left + margin, Y: up + margin}
	if spare := o.Width - p.width; spare > 0 {
		p.origin.X += spare / 2
		p.width = o.Width
	}
}

// reach is the rectangle that marks lie in.
func reach(marks []draw.Mark) (low, high draw.Point) {
	low, high = draw.Point{X: math.Inf(1), Y: math.Inf(1)}, draw.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	add := func(x, y float64) {
		low = draw.Point{X: min(low.X, x), Y: min(low.Y, y)}
		high = draw.Point{X: max(high.X, x), Y: max(high.Y, y)}
	}
	for _, m := range marks {
		switch m := m.(type) {
		case draw.Line:
			for _, p := range m.Points {
				add(p.X, p.Y)
			}
		case draw.Arc:
			for _, p := range m.Flatten(0.1 * m.Radius) {
				add(p.X, p.Y)
			}
		case draw.Text:
			w := m.Width()
			x := m.At.X - map[draw.Anchor]float64{draw.Centre: w / 2, draw.Finish: w}[m.Anchor]
			add(x, m.At.Y-0.8*m.Size)
			add(x+w, m.At.Y+0.4*m.Size)
		case draw.Group:
			l, h := reach(m.Marks)
			add(l.X, l.Y)
			add(h.X, h.Y)
		}
	}
	return low, high
}

// move moves marks.
func move(marks []draw.Mark, by draw.Point) {
	for i, m := range marks {
		switch m := m.(type) {
		case draw.Line:
			for k := range m.Points {
				m.Points[k] = draw.Point{X: m.Points[k].X + by.X, Y: m.Points[k].Y + by.Y}
			}
		case draw.Arc:
			m.Centre = draw.Point{X: m.Centre.X + by.X, Y: m.Centre.Y + by.Y}
			marks[i] = m
		case draw.Text:
			m.At = draw.Point{X: m.At.X + by.X, Y: m.At.Y + by.Y}
			marks[i] = m
		case draw.Group:
			move(m.Marks, by)
		}
	}
}
