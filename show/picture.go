package show

import (
	"math"
	"slices"
	"strings"
	"sync"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/figure"
	"steelyard/statics"
)

// A plan is where the scenes of a talk stand, so that bodies keep their place and their size from step to step.
type plan struct {
	of            [2]stand // of arrangements, and of diagrams of forces
	width, height float64
}

// A stand is the scale of scenes, in points for a metre, and where the plane's origin is.
type stand struct {
	scale  float64
	origin draw.Point
}

// kind is the number of a scene's stand.
func (t *Talk) kind(i int) int {
	if t.scenes[i].o.View == figure.Sketch {
		return 0
	}
	return 1
}

// A size is what pictures are planned for.
type size struct {
	width, text float64
	upright     bool
}

// Picture is the picture of a step, counted from 0; its description tells what is drawn at that step. Of the options, Width, TextSize, Upright and ID count. All
// pictures of a talk have one size, which is no wider than asked for except where the labels need it.
func (t *Talk) Picture(step int, o figure.Options) *draw.Picture {
	if step < 0 || step >= len(t.Steps) {
		return &draw.Picture{ID: o.ID, Width: 1, Height: 1, Title: "Nothing to draw"}
	}
	p := t.plan(o)
	s := &t.Steps[step]
	at := &p.of[t.kind(s.scene)]
	pic := t.draw(s.scene, s.stage, o, at.scale)
	by := pic.At(statics.Ground, statics.Vec{})
	move(pic.Marks, draw.Point{X: at.origin.X - by.X, Y: at.origin.Y - by.Y})
	out := pic.Picture
	out.Width, out.Height = p.width, p.height
	out.Title = s.Title
	if f := t.scenes[s.scene].force; f.letter != "" {
		out.Description += " The loads are left out: one arrow, R, stands for all of them."
	} else if t.scenes[s.scene].pair != "" {
		out.Description += " An arrow shows the force on " + t.scenes[s.scene].pair + ", " + f.points() + "."
	}
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
	if s.force.letter != "" {
		p.Marks = withoutLoads(p.Marks, s.layout) // which the one force does the work of
	}
	if s.pair != "" {
		p.Marks = append(p.Marks, s.force.arrow(p.At(s.force.body, s.force.at), s.pair, all))
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

// withoutLoads leaves out the loads of an arrangement, and their names.
func withoutLoads(marks []draw.Mark, l *answer.Layout) []draw.Mark {
	return slices.DeleteFunc(slices.Clone(marks), func(m draw.Mark) bool {
		g, ok := m.(draw.Group)
		return ok && (g.Class == "load" || slices.ContainsFunc(l.Loads, func(d answer.Load) bool {
			return strings.EqualFold(g.ID, "name-"+d.Name) || strings.EqualFold(g.ID, "size-"+d.Name)
		}))
	})
}

// plan finds one scale for all scenes, and one size that they all fit in. Diagrams have a scale of their own where
// the arrangement would make them much smaller.
func (t *Talk) plan(o figure.Options) *plan {
	if !(o.Width > 0) {
		o.Width = 400
	}
	k := size{o.Width, o.TextSize, o.Upright}
	if t.plans == nil { // a talk put together from steps of another
		t.plans = new(sync.Map)
	}
	if p, ok := t.plans.Load(k); ok {
		return p.(*plan)
	}
	p := &plan{of: [2]stand{{scale: math.Inf(1)}, {scale: math.Inf(1)}}}
	for i := range t.scenes {
		s := &p.of[t.kind(i)]
		s.scale = min(s.scale, t.draw(i, nil, o, 0).Scale)
		if taken := t.taken(i); taken != nil {
			s.scale = min(s.scale, t.draw(i, taken, o, 0).Scale)
		}
	}
	if a, b := p.of[0].scale, p.of[1].scale; min(a, b) > 0.7*max(a, b) {
		p.of[0].scale, p.of[1].scale = min(a, b), min(a, b)
	}
	p.width = o.Width
	var reaches [2]rect
	for kind := range p.of {
		if !math.IsInf(p.of[kind].scale, 1) {
			reaches[kind] = t.fit(&p.of[kind], kind, o)
		}
	}
	if p.of[0].scale == p.of[1].scale {
		both := reaches[0].with(reaches[1])
		reaches = [2]rect{both, both}
	}
	const margin = 6
	for _, r := range reaches {
		p.width = max(p.width, r.high.X-r.low.X+2*margin)
		p.height = max(p.height, r.high.Y-r.low.Y+2*margin)
	}
	for kind, r := range reaches {
		spare := p.width - (r.high.X - r.low.X) - 2*margin
		p.of[kind].origin = draw.Point{X: margin - r.low.X + spare/2, Y: margin - r.low.Y}
	}
	t.plans.Store(k, p)
	return p
}

// fit finds what scenes of a kind reach to, about the plane's origin; it makes them smaller where they are too wide.
func (t *Talk) fit(s *stand, kind int, o figure.Options) rect {
	var r rect
	for range 3 {
		r = t.reaches(kind, o, s.scale)
		w := r.high.X - r.low.X
		if w <= 1.03*o.Width {
			break
		}
		s.scale *= max(0.6, 1-1.1*(w-0.97*o.Width)/w)
	}
	return r
}

func (t *Talk) reaches(kind int, o figure.Options, scale float64) rect {
	var all rect
	for i := range t.scenes {
		if t.kind(i) != kind {
			continue
		}
		stages := []*figure.Stage{nil}
		if taken := t.taken(i); taken != nil {
			stages = append(stages, taken)
		}
		for _, stage := range stages {
			s := t.draw(i, stage, o, scale)
			r := reach(s.Marks)
			by := s.At(statics.Ground, statics.Vec{})
			r = rect{draw.Point{X: r.low.X - by.X, Y: r.low.Y - by.Y}, draw.Point{X: r.high.X - by.X, Y: r.high.Y - by.Y}}
			all = all.with(r)
		}
	}
	return all
}

// taken is a scene's stage with all there is while some forces are drawn against the way they are found to act in the
// end; nil if none is.
func (t *Talk) taken(i int) *figure.Stage {
	for k := range t.Steps {
		if s := &t.Steps[k]; s.scene == i && s.stage != nil && len(s.stage.Taken) > 0 {
			whole := *s.stage
			whole.Pivot, whole.Lit = true, nil
			return &whole
		}
	}
	return nil
}

// A rect is an upright rectangle; the zero rect is none.
type rect struct{ low, high draw.Point }

func (r rect) with(q rect) rect {
	if r == (rect{}) {
		return q
	}
	if q == (rect{}) {
		return r
	}
	return rect{draw.Point{X: min(r.low.X, q.low.X), Y: min(r.low.Y, q.low.Y)}, draw.Point{X: max(r.high.X, q.high.X), Y: max(r.high.Y, q.high.Y)}}
}

// reach is the rectangle that marks lie in.
func reach(marks []draw.Mark) rect {
	low, high := draw.Point{X: math.Inf(1), Y: math.Inf(1)}, draw.Point{X: math.Inf(-1), Y: math.Inf(-1)}
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
			r := reach(m.Marks)
			add(r.low.X, r.low.Y)
			add(r.high.X, r.high.Y)
		}
	}
	return rect{low, high}
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
