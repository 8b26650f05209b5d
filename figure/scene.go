package figure

import (
	"math"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/question"
	"steelyard/statics"
)

// A layer is painted before those that follow.
type layer uint8

const (
	ground layer = iota
	holding
	bodies
	carried
	measures
	lines // of action
	arrows
	words
	layers
)

// Weights of what labels keep off.
const (
	heavy = 40 // outlines, arrows, text
	light = 16 // extension lines, dashed lines
)

// A scene is a picture being composed. Its page has no edges yet: points may be negative, and the
// picture is cut out round everything at the end.
type scene struct {
	o       Options
	l       *answer.Layout
	scale   float64 // points for a metre
	size    float64 // of text
	guessed bool    // something is not where the answer puts it

	crowding int      // see crowdings
	keys     []string // what letters stand for, in order; see key

	// Pen widths and sizes of symbols, in points.
	fine, thin, outline, force float64
	symbol                     float64 // height of a support
	head                       float64 // length of a force's arrowhead

	painted  [layers][]draw.Mark
	open     draw.Group // being painted
	openOn   layer
	veil     veil // of the group being painted
	strokes  []stroke
	boxes    []box // of placed labels
	labels   []label
	surfaces []surface
	piles    []pile
	low      pt // of everything painted
	high     pt

	by    pt        // how far everything was moved onto the picture
	depth []float64 // of each bar
	lift  []pt      // how far each body is drawn from its place, so that bodies on each other don't overlap
}

func newScene(l *answer.Layout, o Options, scale float64) *scene {
	s := &scene{o: o, l: l, scale: scale, size: o.TextSize}
	s.fine, s.thin, s.outline, s.force = 0.55, 0.8, 1.2, 1.7
	if o.TextSize >= largePrint {
		s.fine, s.thin, s.outline, s.force = 1.5, 1.6, 2.2, 3
	}
	s.symbol = 6 + 0.85*s.size
	s.head = max(9.5, 4.5*s.force)
	s.low, s.high = pt{X: math.Inf(1), Y: math.Inf(1)}, pt{X: math.Inf(-1), Y: math.Inf(-1)}
	s.strokes = make([]stroke, 0, 128)
	s.labels = make([]label, 0, 16)
	s.boxes = make([]box, 0, 24)
	s.depth = make([]float64, len(l.Bodies))
	s.lift = make([]pt, len(l.Bodies))
	for i := range l.Bodies {
		b := &l.Bodies[i]
		s.depth[i] = min(max(0.03*b.Length*scale, 5+0.2*s.size), 7+0.6*s.size)
		if isRule(b) {
			s.depth[i] = 1.75*s.size + 3
		}
	}
	s.liftBodies()
	return s
}

// liftBodies moves bodies that rest on others clear of them, by the thickness that a bar has on
// the page but not in the plane.
func (s *scene) liftBodies() {
	if s.o.View != Sketch {
		return
	}
	for range s.l.Bodies {
		moved := false
		for i := range s.l.Supports {
			p := &s.l.Supports[i]
			if p.Support == nil || p.By < 0 || p.By >= len(s.lift) || p.On < 0 || p.Kind != question.Rest && p.Kind != question.Roller {
				continue
			}
			n := page(p.Normal)
			if !sane(n) || p.By == p.On {
				continue
			}
			below := s.l.Point(p.Support.By)
			have := 0.0
			if finite(below.X) && finite(below.Y) {
				have = dot(n, mul(s.scale, page(statics.Vec{X: p.At.X - below.X, Y: p.At.Y - below.Y})))
			}
			need := s.half(p.On) + s.half(p.By) + 0.55*s.symbol - have
			want := along(s.lift[p.By], n, max(need, 0))
			if norm(sub(want, s.lift[p.On])) > 0.01 {
				s.lift[p.On], moved = want, true
			}
		}
		if !moved {
			return
		}
	}
}

// half is how far a body's skin is from the line that its contacts are given on.
func (s *scene) half(body int) float64 {
	if body < 0 || body >= len(s.l.Bodies) || s.l.Bodies[body].Body == nil {
		return 0
	}
	switch b := &s.l.Bodies[body]; b.Shape {
	case question.Bar:
		return s.depth[body] / 2
	case question.Frame:
		for i := range b.Pieces {
			if b.Pieces[i].Kind == question.RodPiece {
				return s.rod() / 2
			}
		}
	}
	return 0
}

// rod is the thickness of a rod of a frame.
func (s *scene) rod() float64 { return 3 + 0.2*s.size }

// at is a point of the plane on the page.
func (s *scene) at(v statics.Vec) pt { return pt{X: v.X * s.scale, Y: -v.Y * s.scale} }

// on is a point of a body on the page.
func (s *scene) on(body int, v statics.Vec) pt {
	if body < 0 || body >= len(s.lift) {
		return s.at(v)
	}
	return add(s.at(v), s.lift[body])
}

// paint draws everything.
func (s *scene) paint() {
	if s.o.View == Sketch {
		s.sketch()
	} else {
		s.forceDiagram()
	}
	s.placeLabels()
	s.small()
}

// small writes under the figure what its letters stand for, and what it doesn't keep to.
func (s *scene) small() {
	if !sane(s.low) || !sane(s.high) {
		return
	}
	s.writeKeys()
	if !s.guessed {
		return
	}
	w := draw.RunsWidth(plain("Not to scale."), s.size)
	c := pt{X: (s.low.X + s.high.X) / 2, Y: s.high.Y + 1.1*s.size}
	s.begin(words, "", "note", "")
	s.write(boxAt(c, w, 0.96*s.size), [][]draw.Run{plain("Not to scale.")}, draw.Grey, draw.Centre, false)
	s.end()
}

// picture cuts the picture out.
func (s *scene) picture() *draw.Picture {
	if !sane(s.low) || !sane(s.high) {
		s.low, s.high = pt{}, pt{X: 1, Y: 1}
	}
	w, h := s.high.X-s.low.X+2*margin, s.high.Y-s.low.Y+2*margin
	by := pt{X: margin - s.low.X, Y: margin - s.low.Y}
	if w < s.o.Width {
		by.X += (s.o.Width - w) / 2
		w = s.o.Width
	}
	p := &draw.Picture{Width: w, Height: h}
	for _, marks := range s.painted {
		p.Marks = append(p.Marks, marks...)
	}
	shift(p.Marks, by)
	s.by = by
	for i := range s.boxes {
		s.boxes[i] = box{add(s.boxes[i].low, by), add(s.boxes[i].high, by)}
	}
	return p
}

// shift moves marks; their points are the scene's own, so that nothing else is moved.
func shift(marks []draw.Mark, by pt) {
	for i, m := range marks {
		switch m := m.(type) {
		case draw.Line:
			for k := range m.Points {
				m.Points[k] = add(m.Points[k], by)
			}
		case draw.Arc:
			m.Centre = add(m.Centre, by)
			marks[i] = m
		case draw.Text:
			m.At = add(m.At, by)
			marks[i] = m
		case draw.Group:
			shift(m.Marks, by)
		}
	}
}
