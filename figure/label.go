package figure

import (
	"math"
	"slices"

	"steelyard/draw"
)

// A spot is a place that a label may stand at: beside the point at, on the side that away points
// to. The side is a preference only.
type spot struct {
	at, away pt
	gap      float64
}

// A label is text that names something, to be placed where it fits.
type label struct {
	id, class string
	text      [][]draw.Run
	ink       draw.Ink
	spots     []spot
	of        *box // a piece that it should stand in: outside of it, a line ties it to the middle
	turn      int  // 1 or -1: a small arc before the text, turning anticlockwise or clockwise
	strict    bool // it belongs on the side that away points to
	placed    bool
	veil      veil
	short     [][]draw.Run // what is written for now, in the room of text
	still     bool         // the arc isn't drawn yet
	w, h      float64
	box       box
	cost      float64
	used      int
	at        int // its box among the scene's
}

// label asks for a label; spots are in order of preference.
func (s *scene) label(id, class string, ink draw.Ink, text [][]draw.Run, spots ...spot) {
	s.addLabel(label{id: id, class: class, ink: ink, text: text, spots: spots})
}

func (s *scene) addLabel(l label) {
	l.spots = slices.DeleteFunc(l.spots, func(p spot) bool { return !sane(p.at) || !sane(p.away) })
	l.text = slices.DeleteFunc(l.text, func(runs []draw.Run) bool { return len(runs) == 0 })
	if len(l.spots) == 0 || len(l.text) == 0 {
		return
	}
	l.text = s.wrap(l.text)
	l.w, l.h = s.measure(l.text)
	l.w += s.turnWidth(l.turn)
	s.labels = append(s.labels, l)
}

// turnWidth is the room for the arc before a label.
func (s *scene) turnWidth(turn int) float64 {
	if turn == 0 {
		return 0
	}
	return 1.35 * s.size
}

// placeLabels puts each label at the cheapest of its places: those with few places first come as
// they were asked for; then those that cross something try again, now that the others stand.
func (s *scene) placeLabels() {
	for i := range s.labels { // the strict ones have the least choice
		if s.labels[i].strict {
			s.placeFirst(&s.labels[i])
		}
	}
	for i := range s.labels {
		s.placeFirst(&s.labels[i])
	}
	for i := range s.labels {
		l := &s.labels[i]
		if l.cost < light {
			continue
		}
		was := *l
		s.boxes[was.at] = box{pt{X: math.Inf(1), Y: math.Inf(1)}, pt{X: math.Inf(1), Y: math.Inf(1)}}
		if s.place(l); l.cost >= was.cost {
			*l = was
		}
		s.boxes[was.at] = l.box
	}
	for i := range s.labels {
		s.writeLabel(&s.labels[i])
	}
}

// placeFirst puts a label where it fits best so far.
func (s *scene) placeFirst(l *label) {
	if l.placed {
		return
	}
	l.placed = true
	s.place(l)
	l.at = len(s.boxes)
	s.boxes = append(s.boxes, l.box)
}

// Rings of places round a spot: how much further than its gap, as parts of the text size.
var (
	near = [...]float64{0, 0.35, 0.8, 1.4, 2.2}
	far  = [...]float64{3, 4, 5, 6.5, 8, 10, 12, 15, 18}
)

// place finds a place for a label that overlaps no other label.
func (s *scene) place(l *label) {
	l.cost = math.Inf(1)
	s.try(l, near[:])
	if l.cost >= light {
		s.narrower(l)
	}
	if l.cost >= light {
		s.try(l, far[:])
	}
	if !math.IsInf(l.cost, 1) {
		return
	}
	// Nothing is free nearby: a row above everything is.
	l.used = 0
	y := s.low.Y
	for _, b := range s.boxes {
		if sane(b.low) {
			y = min(y, b.low.Y)
		}
	}
	l.box = boxAt(pt{X: l.spots[0].at.X, Y: y - l.h/2 - 3}, l.w, l.h)
	l.cost = heavy / 2
}

// narrower tries a one-line label in two lines, and keeps it so if it fits better.
func (s *scene) narrower(l *label) {
	if len(l.text) != 1 || len(l.text[0]) != 1 || l.turn != 0 {
		return
	}
	two := s.wrapTo(l.text, 0.7*l.w)
	if len(two) < 2 || len(two) > 3 {
		return
	}
	other := *l
	other.text = two
	other.w, other.h = s.measure(two)
	other.cost = math.Inf(1)
	if s.try(&other, near[:]); other.cost < l.cost-1 {
		*l = other
	}
}

func (s *scene) try(l *label, rings []float64) {
	const places = 16
	swerve := 5.0
	if l.strict {
		swerve = 60
	}
	for k, sp := range l.spots {
		away := math.Atan2(sp.away.Y, sp.away.X)
		for _, ring := range rings {
			beyond := ring * s.size
			base := 1.2*float64(k) + 0.45*beyond
			if base >= l.cost {
				break
			}
			for step := range places {
				turn := float64((step+1)/2) * 2 * math.Pi / places
				cost := base + swerve*(1-math.Cos(turn))
				if cost >= l.cost {
					break
				}
				if step%2 == 1 {
					turn = -turn
				}
				sin, cos := math.Sincos(away + turn)
				reach := sp.gap + beyond + min(l.w/2/math.Max(math.Abs(cos), 1e-9), l.h/2/math.Max(math.Abs(sin), 1e-9))
				b := boxAt(pt{X: sp.at.X + reach*cos, Y: sp.at.Y + reach*sin}, l.w, l.h)
				cost += s.clash(b, l.cost-cost)
				if cost < l.cost && ring > 0.5 {
					cost += s.between(b, along(sp.at, pt{X: cos, Y: sin}, sp.gap+0.2*s.size))
				}
				if cost < l.cost {
					l.box, l.cost, l.used = b, cost, k
				}
			}
		}
	}
}

// between is the cost of what stands between a label and what it names.
func (s *scene) between(b box, from pt) float64 {
	way := stroke{a: from, b: b.nearest(from)}
	cost := 0.0
	for i := range s.strokes {
		if k := &s.strokes[i]; k.weight >= heavy && k.crosses(&way) {
			cost += light
			if cost > heavy {
				break
			}
		}
	}
	for i := range s.boxes {
		if way.meets(s.boxes[i]) {
			cost += light
		}
	}
	return cost
}

// clash is the cost of what a box would lie on; infinite for another label. It stops at enough.
func (s *scene) clash(b box, enough float64) float64 {
	apart := box{pt{X: b.low.X - 0.7*s.size, Y: b.low.Y - 0.12*s.size}, pt{X: b.high.X + 0.7*s.size, Y: b.high.Y + 0.12*s.size}}
	for i := range s.boxes {
		if apart.overlaps(s.boxes[i]) {
			return math.Inf(1)
		}
	}
	b = box{pt{X: b.low.X - 0.26*s.size, Y: b.low.Y - 0.12*s.size}, pt{X: b.high.X + 0.26*s.size, Y: b.high.Y + 0.12*s.size}}
	cost := 0.0
	for i := range s.strokes {
		if s.strokes[i].meets(b) {
			if cost += s.strokes[i].weight; cost >= enough {
				break
			}
		}
	}
	return cost
}

// heaviest is the weight of the heaviest line that runs through a box; 0 if none does.
func (s *scene) heaviest(b box) float64 {
	weight := 0.0
	for i := range s.strokes {
		if k := &s.strokes[i]; k.weight > weight && k.meets(b) {
			weight = k.weight
		}
	}
	return weight
}

// patch leaves a box free of the thin lines that run through it; a dash between two words would read as a sign.
func (s *scene) patch(b box) {
	s.path(draw.Style{Fill: draw.Paper}, true, 0, b.low, pt{X: b.high.X, Y: b.low.Y}, b.high, pt{X: b.low.X, Y: b.high.Y})
}

// writeLabel paints a label, with a thin line to what it names where that is not near.
func (s *scene) writeLabel(l *label) {
	sp := l.spots[l.used]
	s.begin(words, l.id, l.class, "")
	s.veil = l.veil
	to := l.box.grown(1).nearest(sp.at)
	if r := l.of; r != nil {
		if l.box.low.X < r.low.X || l.box.low.Y < r.low.Y || l.box.high.X > r.high.X || l.box.high.Y > r.high.Y {
			c := r.centre()
			s.line(draw.Grey, s.fine, 0, l.box.grown(1).nearest(c), c)
			s.dotAt(draw.Grey, c, 2*s.fine)
		}
	} else if gap := norm(sub(to, sp.at)); gap > sp.gap+1.8*s.size {
		start := min(sp.gap, 2)
		if l.strict { // an angle's size: from its arc, not from its corner
			start = sp.gap
		}
		s.line(draw.Grey, s.fine, 0, to, along(sp.at, unit(sub(to, sp.at)), start))
	}
	text, under := l.box, s.heaviest(l.box)
	if under > 0 && under <= light {
		s.patch(l.box)
	}
	if l.turn != 0 {
		r := 0.44 * s.size
		ink := l.ink
		if l.still {
			ink = draw.None
		}
		s.turning(ink, s.thin, 0, pt{X: text.low.X + r + 0.5, Y: text.low.Y + 0.45*s.size}, r, l.turn > 0, math.Pi/2, 0.5*s.size)
		text.low.X += s.turnWidth(l.turn)
	}
	anchor := draw.Start
	if len(l.text) > 1 && l.turn == 0 {
		anchor = draw.Centre
		if c := text.centre().X - sp.at.X; c > l.w/2 {
			anchor = draw.Start
		} else if c < -l.w/2 {
			anchor = draw.Finish
		}
	}
	if l.short != nil {
		l.text = l.short
	}
	s.write(text, l.text, l.ink, anchor, under > 0)
	s.boxes = s.boxes[:len(s.boxes)-1] // it has one already
	s.reach(l.box.low, 0)
	s.end()
}
