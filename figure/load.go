package figure

import (
	"math"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/question"
	"steelyard/statics"
)

// A pile is room taken on or under a body: from lo to hi along it, up to top from its axis.
type pile struct {
	body        int
	under       bool
	lo, hi, top float64
}

// pileUp finds the height at which something from lo to hi along a body can be drawn clear of what
// is there already, and takes the room up to height more.
func (s *scene) pileUp(body int, under bool, lo, hi, skin, height float64) float64 {
	base := skin
	for _, p := range s.piles {
		if p.body == body && p.under == under && p.lo < hi && lo < p.hi {
			base = max(base, p.top)
		}
	}
	s.piles = append(s.piles, pile{body, under, lo, hi, base + height})
	return base
}

// load paints a load.
func (s *scene) load(i int) {
	d := &s.l.Loads[i]
	if d.Load == nil || d.On < 0 {
		return
	}
	s.begin(carried, "load-"+slug(d.Name), "load", called(d.Label, d.Name))
	switch d.Kind {
	case question.Weight:
		s.weight(d)
	case question.Force:
		s.givenForce(d)
	case question.Spread:
		s.spread(d)
	case question.Couple:
		c := s.on(d.On, d.At)
		r := 1.35*s.size + s.half(d.On)*0.5
		s.turning(draw.Deep, s.force*0.85, heavy, c, r, d.Anticlockwise, math.Pi/2, s.head)
		s.dotAt(draw.Deep, c, 0.9*s.force)
		s.label("name-"+slug(d.Name), "name", draw.Black, s.loadWords(d), spot{c, pt{X: 0.5, Y: -1}, r + 0.5*s.size}, spot{c, pt{X: 0.5, Y: 1}, r + 0.5*s.size})
	}
	s.end()
}

// loadWords is a load's name and what is known of its size.
func (s *scene) loadWords(d *answer.Load) [][]draw.Run {
	name := shorten(d.Name)
	size := firstOf(shown(d.Load.Size), shown(d.Load.Weight), shown(d.Load.Mass))
	var text [][]draw.Run
	if one := name + "\u00a0 " + size; size != "" && len(name) <= 3 {
		text = [][]draw.Run{plain(one)}
	} else {
		text = [][]draw.Run{plain(name), plain(size)}
	}
	if d.Kind == question.Spread {
		return text
	}
	if b := &s.l.Bodies[d.On]; isRule(b) && shown(d.Load.On.At) != "" {
		text = append(text, plain("at "+shown(d.Load.On.At)))
	}
	return text
}

// weight paints a block that stands on the body or hangs from it.
func (s *scene) weight(d *answer.Load) {
	b := &s.l.Bodies[d.On]
	a, n := axes(b)
	p := s.on(d.On, d.At)
	if !sane(p) {
		return
	}
	skin := s.half(d.On)
	u := dot(sub(p, s.on(d.On, b.Origin)), a)
	id := "name-" + slug(d.Name)
	w, h := 1.5*s.size+3, 1.15*s.size+3
	steep := math.Abs(a.Y) > 0.45 || n.Y > 0
	if length := b.Length * s.scale; b.Shape == question.Bar && steep && !d.Hung && (a.Y < 0 && u > 0.97*length || a.Y > 0 && u < 0.03*length) {
		steep, a, n = false, pt{X: 1}, pt{Y: -1} // on the very top
	}
	if steep && !d.Hung && b.Shape == question.Bar {
		s.onRung(d, p, n, skin, 0.8*w, 0.8*h)
		return
	}
	if d.Hung || b.Shape == question.Frame && !onTop(b, d.At) {
		reach := (w/2 + 2) * max(math.Abs(a.X), 0.3)
		base := s.pileUp(d.On, true, u-reach, u+reach, skin, h+0.9*s.size+3)
		top := pt{X: p.X, Y: p.Y + base + 0.9*s.size}
		s.line(draw.Black, s.thin, heavy, p, top)
		s.shape(draw.Black, s.outline, draw.Shade, pt{X: top.X - w/2, Y: top.Y}, pt{X: top.X + w/2, Y: top.Y}, pt{X: top.X + w/2, Y: top.Y + h}, pt{X: top.X - w/2, Y: top.Y + h})
		s.dotAt(draw.Black, p, 1+0.6*s.thin)
		c := pt{X: top.X, Y: top.Y + h/2}
		s.label(id, "name", draw.Black, s.loadWords(d), spot{c, pt{X: 1}, w/2 + 0.3*s.size}, spot{c, pt{X: -1}, w/2 + 0.3*s.size}, spot{pt{X: c.X, Y: c.Y + h/2}, pt{Y: 1}, 0.3 * s.size})
		return
	}
	if b.Shape == question.Block && (d.Load.On.XY == nil || d.Load.On.XY.Y.SI() == 0) {
		skin = b.Height * s.scale
	}
	base := s.pileUp(d.On, false, u-w/2, u+w/2, skin, h)
	foot := along(p, n, base)
	if base > skin {
		s.line(draw.Black, s.thin, heavy, along(p, n, skin), foot)
	}
	l, r := along(foot, a, -w/2), along(foot, a, w/2)
	s.shape(draw.Black, s.outline, draw.Mist, l, r, along(r, n, h), along(l, n, h))
	c := along(foot, n, h/2)
	s.label(id, "name", draw.Black, s.loadWords(d), spot{along(c, n, h/2), pt{Y: -1}, 0.3 * s.size}, spot{c, a, w/2 + 0.35*s.size}, spot{c, mul(-1, a), w/2 + 0.35*s.size})
}

// onRung paints a block that stands on a steep bar, on its upper side, a lower corner at its place.
func (s *scene) onRung(d *answer.Load, p, n pt, skin, w, h float64) {
	if n.Y > 0 {
		n = mul(-1, n)
	}
	foot := along(p, n, skin)
	left, side := foot.X, pt{X: 1}
	if n.X < 0 {
		left, side = foot.X-w, pt{X: -1}
	}
	s.shape(draw.Black, s.outline, draw.Mist, pt{X: left, Y: foot.Y}, pt{X: left + w, Y: foot.Y}, pt{X: left + w, Y: foot.Y - h}, pt{X: left, Y: foot.Y - h})
	c := pt{X: left + w/2, Y: foot.Y - h/2}
	s.label("name-"+slug(d.Name), "name", draw.Black, s.loadWords(d),
		spot{c, side, w/2 + 0.35*s.size}, spot{along(c, pt{Y: -1}, h/2), pt{Y: -1}, 0.3 * s.size}, spot{c, mul(-1, side), w/2 + 0.35*s.size})
}

// onTop reports whether a place on a frame is at the frame's very top, so that a load can stand there.
func onTop(b *answer.Body, at statics.Vec) bool {
	for _, c := range corners(b) {
		if c.Y > at.Y+1e-9 {
			return false
		}
	}
	return true
}

// givenForce paints a push or pull: its tip at the skin where it goes into the body, its tail there
// where it comes out.
func (s *scene) givenForce(d *answer.Load) {
	b := &s.l.Bodies[d.On]
	v := unit(page(d.Force))
	if !sane(page(d.Force)) || norm(page(d.Force)) == 0 {
		v = unit(page(d.Unit))
		if norm(page(d.Unit)) == 0 {
			v = pt{Y: 1}
		}
	}
	p := s.on(d.On, d.At)
	if !sane(p) {
		return
	}
	id := slug(d.Name)
	length := 2.6*s.size + 14
	a, n := axes(b)
	var tail, tip pt
	push := s.pushes(d.On, p, v)
	reach := 0.0
	if h := s.half(d.On); h > 0 && math.Abs(dot(v, n)) > 0.2 {
		reach = min(h/math.Abs(dot(v, n)), 3*h)
	}
	if push {
		u := dot(sub(p, s.on(d.On, b.Origin)), a)
		if b.Shape == question.Bar && dot(v, n) < -0.7 {
			reach = s.pileUp(d.On, false, u-3, u+3, reach, length)
		}
		tip = along(p, v, -reach)
		tail = along(tip, v, -length)
	} else {
		tail = along(p, v, reach)
		tip = along(tail, v, length)
		s.dotAt(draw.Deep, p, 0.9*s.force)
	}
	s.arrow(draw.Deep, tail, tip)
	end, out := tip, v
	if push {
		end, out = tail, mul(-1, v)
	}
	mid := mul(0.5, add(tail, tip))
	s.label("name-"+id, "name", draw.Black, s.loadWords(d), spot{end, out, 0.35 * s.size}, spot{mid, left(v), 0.45 * s.size}, spot{mid, mul(-1, left(v)), 0.45 * s.size})
	if d.Direction != nil {
		side := 1.0
		if push {
			side = -1
		}
		s.directionAngle("angle-"+id, p, d.Direction, v, side, d.On)
	}
}

// pushes reports whether a force at p goes into the body, so that its arrow comes from outside. A
// pull up on a level bar goes out of it; a push down goes in.
func (s *scene) pushes(body int, p, v pt) bool {
	b := &s.l.Bodies[body]
	a, n := axes(b)
	switch b.Shape {
	case question.Bar:
		if math.Abs(dot(v, n)) > 0.25 {
			if n.Y > 0 {
				n = mul(-1, n)
			}
			return dot(v, n) < 0
		}
		u := dot(sub(p, s.on(body, b.Origin)), a)
		if u < b.Length*s.scale/2 {
			return dot(v, a) > 0
		}
		return dot(v, a) < 0
	}
	low, high := s.bodyBox(body)
	return dot(v, sub(mul(0.5, add(low, high)), p)) > 0.05*norm(sub(high, low))
}

// spread paints a row of equal short arrows joined by a line.
func (s *scene) spread(d *answer.Load) {
	b := &s.l.Bodies[d.On]
	from, to := s.on(d.On, d.From), s.on(d.On, d.To)
	if !sane(from) || !sane(to) {
		return
	}
	if from.X > to.X {
		from, to = to, from
	}
	a, n := axes(b)
	o := s.on(d.On, b.Origin)
	u1, u2 := dot(sub(from, o), a), dot(sub(to, o), a)
	skin := s.half(d.On)
	if b.Shape == question.Block {
		skin = b.Height * s.scale
	}
	height := 1.5*s.size + 6
	if s.besideGreater(d) {
		height *= 0.65
	}
	base := s.pileUp(d.On, false, min(u1, u2)+0.5, max(u1, u2)-0.5, skin/max(math.Abs(n.Y), 0.3), height)
	down := pt{Y: 1}
	lift := func(k, up float64) pt {
		return along(along(from, sub(to, from), k), down, -base-up)
	}
	n1 := max(int(norm(sub(to, from))/(1.3*s.size+2)), 2)
	head := 0.62 * s.head
	for i := range n1 + 1 {
		k := float64(i) / float64(n1)
		tip := lift(k, 0)
		s.line(draw.Deep, s.thin, 0, lift(k, height), lift(k, 0.7*head))
		s.path(draw.Style{Fill: draw.Deep}, true, 0, tip, add(tip, pt{X: 0.19 * head, Y: -head}), add(tip, pt{X: -0.19 * head, Y: -head}))
	}
	s.line(draw.Deep, s.outline, heavy, lift(0, height), lift(1, height))
	s.keepOff(heavy, true, lift(0, 0), lift(0, height), lift(1, height), lift(1, 0))
	s.keepOff(heavy, false, lift(0, height/2), lift(1, height/2))
	s.label("name-"+slug(d.Name), "name", draw.Black, s.loadWords(d), spot{lift(0.5, height), pt{Y: -1}, 0.35 * s.size},
		spot{lift(0.25, height), pt{Y: -1}, 0.35 * s.size}, spot{lift(0.75, height), pt{Y: -1}, 0.35 * s.size}, spot{lift(1, height/2), pt{X: 1}, 0.4 * s.size})
}

// besideGreater reports whether a spread load begins or ends where another does that is greater: they are then of two heights.
func (s *scene) besideGreater(d *answer.Load) bool {
	for i := range s.l.Loads {
		e := &s.l.Loads[i]
		if e.Load == nil || e.Name == d.Name || e.Kind != question.Spread || e.On != d.On {
			continue
		}
		meet := norm(sub(s.at(e.To), s.at(d.From))) < 2 || norm(sub(s.at(e.From), s.at(d.To))) < 2
		if meet && (e.PerMetre > d.PerMetre || e.PerMetre == d.PerMetre && e.From.X < d.From.X) {
			return true
		}
	}
	return false
}
