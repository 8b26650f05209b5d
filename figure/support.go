package figure

import (
	"math"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/question"
)

// A contact is where a support touches the body on the page: c on its skin, n the direction of its push.
type contact struct {
	p, c, n pt
	i       int // the support
	id      string
	label   [][]draw.Run
}

// support paints a support as the trade draws it.
func (s *scene) support(i int) {
	u := &s.l.Supports[i]
	k := contact{i: i, p: s.on(u.On, u.At), n: unit(page(u.Normal)), id: slug(u.Name)}
	if !sane(page(u.Normal)) || norm(page(u.Normal)) == 0 {
		k.n = pt{Y: -1}
	}
	k.c = along(k.p, k.n, -s.skin(u.On, k.n))
	k.label = s.supportWords(u)
	s.begin(holding, "support-"+k.id, "support", called(u.Label, u.Name))
	switch u.Kind {
	case question.Rest:
		s.rest(u, k)
	case question.Roller:
		s.roller(u, k)
	case question.Pivot:
		s.pivotSupport(u, k)
	case question.Hinge:
		s.hinge(u, k)
	case question.Clamp:
		s.clamp(u, k)
	case question.Strap:
		s.strap(u, k)
	case question.Meter, question.Spring:
		s.hanger(u, k)
	case question.Floor, question.Wall, question.Slope:
		s.flat(u, k)
	case question.Cable, question.Strut, question.Link:
		s.tie(u, k)
	}
	s.end()
	if !u.HasFar && u.Direction != nil {
		s.pushAngle(u, k)
	}
}

// pushAngle paints the angle of a contact's push, where one is given: ahead of it, along a dashed line
// through the body, or for a hanger along itself.
func (s *scene) pushAngle(u *answer.Support, k contact) {
	switch u.Kind {
	case question.Cable, question.Strut, question.Link:
		return // painted with the line itself
	case question.Meter, question.Spring:
	default:
		if shown(u.Support.Direction.Angle) != "" {
			s.begin(measures, "", "level", "")
			s.dashed(draw.Grey, s.fine, light, k.p, along(k.p, k.n, 3.4*s.size))
			s.end()
		}
	}
	s.directionAngle("angle-"+k.id, k.p, u.Direction, k.n, 1, u.On)
}

// skin is how far the body's outline is from the place of a contact, against the push n.
func (s *scene) skin(body int, n pt) float64 {
	h := s.half(body)
	if h > 0 && s.l.Bodies[body].Shape == question.Bar {
		_, across := axes(&s.l.Bodies[body])
		return h * math.Abs(dot(across, n))
	}
	return h
}

// supportWords is a support's name and what is known of it.
func (s *scene) supportWords(u *answer.Support) [][]draw.Run {
	text := [][]draw.Run{plain(shorten(u.Name))}
	if v := shown(u.Reading); v != "" {
		text = append(text, plain(v))
	}
	switch {
	case u.Support.Mu.Known():
		text = append(text, append(s.symbolRuns("μ", ""), after(shown(u.Support.Mu))))
	case u.Rough || u.Support.Mu.Status == question.Unknown:
		text = append(text, plain("rough"))
	case u.Kind == question.Floor || u.Kind == question.Wall || u.Kind == question.Slope:
		text = append(text, plain("smooth"))
	}
	if b := &s.l.Bodies[u.On]; isRule(b) && shown(u.Support.On.At) != "" {
		text = append(text, plain("at "+shown(u.Support.On.At)))
	}
	return text
}

// beside asks for a support's label at its symbol's sides, then below.
func (s *scene) beside(k contact, middle pt, half float64) {
	side := left(k.n)
	if side.X < 0 {
		side = mul(-1, side)
	}
	s.label("name-"+k.id, "name", draw.Black, k.label,
		spot{middle, add(side, mul(-0.3, k.n)), half + 0.34*s.size}, spot{middle, add(mul(-1, side), mul(-0.3, k.n)), half + 0.34*s.size})
}

// other is the skin of the body that a support belongs to, and whether there is one.
func (s *scene) other(u *answer.Support, n pt) (pt, bool) {
	if u.By < 0 || u.By >= len(s.l.Bodies) {
		return pt{}, false
	}
	at := u.At
	if u.Support.By.Set() {
		at = s.l.Point(u.Support.By)
	}
	p := s.on(u.By, at)
	return along(p, n, s.half(u.By)), sane(p)
}

// upright reports whether n is nearly straight up or down the page.
func upright(n pt) bool { return math.Abs(n.X) < 0.15 }

// groundUnder puts a short hatched line under a symbol that pushes along n; what slants gets its own.
func (s *scene) groundUnder(base pt, n pt, half float64) {
	switch {
	case upright(n):
		s.surface(surface{at: base.Y, lo: base.X - half, hi: base.X + half, solid: -math.Copysign(1, n.Y)})
	case math.Abs(n.Y) < 0.15:
		s.surface(surface{upright: true, at: base.X, lo: base.Y - half, hi: base.Y + half, solid: -math.Copysign(1, n.X)})
	default:
		d := left(n)
		s.hatch(along(base, d, -half), along(base, d, half), mul(-1, n))
	}
}

// rest paints a triangle whose apex touches the body; on a slanting body a peg.
func (s *scene) rest(u *answer.Support, k contact) {
	h, n := s.symbol, k.n
	if !upright(n) {
		r := 0.32 * h
		c := along(k.c, n, -r)
		s.circle(draw.Black, s.outline, draw.Mist, c, r)
		s.dotAt(draw.Black, c, s.thin)
		s.beside(k, c, r)
		return
	}
	if skin, ok := s.other(u, n); ok {
		if gap := dot(sub(k.c, skin), n); gap > 2 {
			h = min(gap, 1.2*h)
		}
		s.triangle(k.c, n, h, 0.55*h, draw.Paper)
		s.beside(k, along(k.c, n, -h/2), 0.5*h)
		return
	}
	if gap := s.gapBelow(u.On, k.c, n); gap < 1.5*h {
		h = max(0.6*gap, 4) // a ledge between two bodies
		s.triangle(k.c, n, h, 0.56*h, draw.Paper)
		s.line(draw.Black, s.outline, heavy, along(along(k.c, n, -h), left(n), 0.9*h), along(along(k.c, n, -h), left(n), -0.9*h))
		s.beside(k, along(k.c, n, -0.45*h), 0.5*h)
		return
	}
	s.triangle(k.c, n, h, 0.56*h, draw.Paper)
	s.groundUnder(along(k.c, n, -h), n, 0.85*h)
	s.beside(k, along(k.c, n, -0.45*h), 0.5*h)
}

// gapBelow is how far another bar is below a contact, against its push n.
func (s *scene) gapBelow(on int, c, n pt) float64 {
	gap := math.Inf(1)
	for i := range s.l.Bodies {
		b := &s.l.Bodies[i]
		if i == on || b.Shape != question.Bar {
			continue
		}
		a, _ := axes(b)
		o := s.on(i, b.Origin)
		if u := dot(sub(c, o), a); u < 0 || u > b.Length*s.scale || math.Abs(dot(a, n)) > 0.3 {
			continue
		}
		if g := dot(sub(c, along(o, a, dot(sub(c, o), a))), n) - s.half(i); g > 0 {
			gap = min(gap, g)
		}
	}
	return gap
}

func (s *scene) triangle(apex, n pt, h, half float64, fill draw.Ink) {
	base, d := along(apex, n, -h), left(n)
	s.shape(draw.Black, s.outline, fill, apex, along(base, d, half), along(base, d, -half))
}

// roller paints a triangle on two small wheels.
func (s *scene) roller(u *answer.Support, k contact) {
	h, n, d := s.symbol, k.n, left(k.n)
	if skin, ok := s.other(u, n); ok {
		r := max(min(dot(sub(k.c, skin), n), h)/2, 2)
		s.circle(draw.Black, s.outline, draw.Paper, along(k.c, n, -r), r)
		s.beside(k, along(k.c, n, -r), r)
		return
	}
	r := 0.15 * h
	s.triangle(k.c, n, h-2*r, 0.5*h, draw.Paper)
	for _, side := range []float64{-0.3, 0.3} {
		s.circle(draw.Black, s.thin, draw.Paper, along(along(k.c, n, r-h), d, side*h), r)
	}
	s.groundUnder(along(k.c, n, -h), n, 0.85*h)
	s.beside(k, along(k.c, n, -0.45*h), 0.5*h)
}

// pivotSupport paints a knife edge under a level bar, or the nail or axle that another body turns on.
func (s *scene) pivotSupport(u *answer.Support, k contact) {
	h := s.symbol
	b := &s.l.Bodies[u.On]
	if a, _ := axes(b); u.By < 0 && b.Shape == question.Bar && math.Abs(a.Y) < 0.2 {
		k.n = pt{Y: -1}
		k.c = along(k.p, k.n, -s.skin(u.On, k.n))
		s.triangle(k.c, k.n, h, 0.5*h, draw.Shade)
		s.groundUnder(along(k.c, k.n, -h), k.n, 0.85*h)
		s.beside(k, along(k.c, k.n, -0.45*h), 0.5*h)
		return
	}
	r := 0.26 * h
	s.end()
	s.begin(carried, "pivot-"+k.id, "support", "")
	s.circle(draw.Black, s.outline, draw.Paper, k.p, r)
	s.dotAt(draw.Black, k.p, 0.4*r)
	s.beside(k, k.p, r)
}

// hinge paints a pin: a small open circle, with a plate to a wall at a body's end, else a triangle below.
func (s *scene) hinge(u *answer.Support, k contact) {
	r, reach := 0.2*s.symbol, s.plate()
	if u.By < 0 {
		if side := s.wallSide(u); side != 0 {
			foot := pt{X: k.p.X + side*reach, Y: k.p.Y}
			s.shape(draw.Black, s.thin, draw.Paper, k.p, pt{X: foot.X, Y: foot.Y - 0.36*s.symbol}, pt{X: foot.X, Y: foot.Y + 0.36*s.symbol})
			s.surface(surface{upright: true, at: foot.X, lo: foot.Y - 1.1*s.symbol, hi: foot.Y + 1.1*s.symbol, solid: side})
			k.n = pt{X: -side}
			s.label("name-"+k.id, "name", draw.Black, k.label,
				spot{k.p, pt{X: -0.4 * side, Y: 1}, s.half(u.On) + 0.5*s.size}, spot{k.p, pt{X: -0.4 * side, Y: -1}, s.half(u.On) + 0.5*s.size}, spot{foot, pt{X: side}, 0.9 * s.size})
		} else {
			h := s.symbol
			n := pt{Y: -1}
			s.triangle(k.p, n, h, 0.5*h, draw.Paper)
			s.groundUnder(along(k.p, n, -h), n, 0.8*h)
			k.n = n
			s.beside(k, along(k.p, n, -0.6*h), 0.45*h)
		}
	} else {
		s.beside(contact{n: pt{Y: -1}, id: k.id, label: k.label}, k.p, r+s.half(u.On)/2)
	}
	s.end()
	s.begin(carried, "pin-"+k.id, "support", "")
	s.circle(draw.Black, s.outline, draw.Paper, k.p, r)
}

// plate is how far a wall is from the pin that is fixed to it.
func (s *scene) plate() float64 { return 0.55 * s.symbol }

// wallSide says on which side of a hinge its wall is: -1 left, 1 right, 0 none.
func (s *scene) wallSide(u *answer.Support) float64 {
	b := &s.l.Bodies[u.On]
	if b.Shape == question.Bar {
		if math.Abs(b.Axis.X) < 0.3 || s.standsOn(u) {
			return 0
		}
		where := (u.At.X-b.Origin.X)*b.Axis.X + (u.At.Y-b.Origin.Y)*b.Axis.Y
		switch {
		case math.Abs(where) < 0.02*b.Length:
			return -math.Copysign(1, b.Axis.X)
		case math.Abs(where-b.Length) < 0.02*b.Length:
			return math.Copysign(1, b.Axis.X)
		}
		return 0
	}
	low, high := s.bodyBox(u.On)
	p := s.on(u.On, u.At)
	switch near := 0.06*(high.X-low.X) + s.half(u.On); {
	case p.X-low.X < near && high.X-low.X > 4:
		return -1
	case high.X-p.X < near && high.X-low.X > 4:
		return 1
	}
	return 0
}

// standsOn reports whether a hinge is the foot of a steep bar that no cable, strut or wall holds from
// the side of its wall: it then stands on the ground.
func (s *scene) standsOn(u *answer.Support) bool {
	b := &s.l.Bodies[u.On]
	top := math.Abs((u.At.X-b.Origin.X)*b.Axis.X+(u.At.Y-b.Origin.Y)*b.Axis.Y) > 0.02*b.Length
	if math.Abs(b.Axis.Y) < 0.7 || top != (b.Axis.Y < 0) {
		return false
	}
	for i := range s.l.Supports {
		v := &s.l.Supports[i]
		if v.Support == nil || v.On != u.On || v.Name == u.Name {
			continue
		}
		switch v.Kind {
		case question.Cable, question.Strut, question.Link, question.Wall:
			if v.By < 0 {
				return false
			}
		}
	}
	return true
}

// clamp paints the wall that a body's end is built into, or jaws about its middle.
func (s *scene) clamp(u *answer.Support, k contact) {
	b := &s.l.Bodies[u.On]
	a, n := axes(b)
	h := s.half(u.On)
	where := dot(sub(k.p, s.on(u.On, b.Origin)), a)
	length := b.Length * s.scale
	out := pt{}
	switch {
	case u.By >= 0 || b.Shape != question.Bar:
	case where < 0.03*length:
		out = mul(-1, a)
	case where > 0.97*length:
		out = a
	}
	if out == (pt{}) {
		w, t := 0.55*s.symbol, 0.3*s.symbol
		for _, side := range []float64{1, -1} {
			c := along(k.p, n, side*h)
			s.shape(draw.Black, s.outline, draw.Mist, along(c, a, -w), along(c, a, w), along(along(c, a, w), n, side*t), along(along(c, a, -w), n, side*t))
		}
		if u.By < 0 {
			s.groundUnder(along(k.p, n, -h-t), n, 0.8*s.symbol)
		}
		k.n = n
		s.beside(k, along(k.p, n, -h-t/2), w)
		return
	}
	reach := h + 1.1*s.symbol
	switch {
	case math.Abs(out.Y) < 0.2:
		s.surface(surface{upright: true, at: k.p.X, lo: k.p.Y - reach, hi: k.p.Y + reach, solid: math.Copysign(1, out.X)})
	case math.Abs(out.X) < 0.2:
		s.surface(surface{at: k.p.Y, lo: k.p.X - reach, hi: k.p.X + reach, solid: math.Copysign(1, out.Y)})
	default:
		s.hatch(along(k.p, n, -reach), along(k.p, n, reach), out)
	}
	c := along(k.p, out, 0.6*s.size)
	s.label("name-"+k.id, "name", draw.Black, k.label, spot{c, add(out, mul(-0.3, n)), 0.9 * s.size}, spot{along(k.p, n, -reach), mul(-1, n), 0.3 * s.size},
		spot{along(k.p, n, -h), add(mul(-1, out), mul(-1, n)), 0.5 * s.size})
}

// strap paints a stirrup round the body, on a stem.
func (s *scene) strap(u *answer.Support, k contact) {
	d, h := left(k.n), s.skin(u.On, k.n)
	w, t := 0.28*s.symbol, 0.16*s.symbol+1
	top, low := along(k.p, k.n, h+t), along(k.p, k.n, -h-t)
	foot := along(k.p, k.n, -h-s.symbol)
	s.line(draw.Black, s.outline, heavy, low, foot)
	s.end()
	s.begin(carried, "strap-"+k.id, "support", "")
	s.path(draw.Style{Stroke: draw.Black, Width: s.outline, Round: true}, true, heavy, along(top, d, w), along(top, d, -w), along(low, d, -w), along(low, d, w))
	if u.By < 0 {
		s.groundUnder(foot, k.n, 0.6*s.symbol)
	}
	s.beside(k, along(k.p, k.n, -h-0.65*s.symbol), 0.25*s.symbol)
}

// hanger paints a force meter or a spring between the body and a ceiling.
func (s *scene) hanger(u *answer.Support, k contact) {
	n, d := k.n, left(k.n)
	start := along(k.p, n, s.skin(u.On, n))
	top := s.farEnd(u, k)
	length := norm(sub(top, k.p))
	r := 0.17 * s.symbol
	if u.Kind == question.Spring {
		from, to := along(start, n, 0.15*length), along(start, n, 0.75*length)
		points := []pt{start, from}
		coils, w := 7, 0.3*s.symbol
		for c := range 2 * coils {
			side := w
			if c%2 == 1 {
				side = -w
			}
			points = append(points, along(along(from, n, norm(sub(to, from))*(float64(c)+0.5)/float64(2*coils)), d, side))
		}
		points = append(points, to, top)
		s.path(draw.Style{Stroke: draw.Black, Width: s.thin, Round: true}, false, 0, points...)
		s.keepOff(heavy, false, along(from, d, w), along(to, d, w))
		s.keepOff(heavy, false, along(from, d, -w), along(to, d, -w))
		s.keepOff(heavy, false, start, top)
		s.ceiling(top, n)
		s.beside(k, along(start, n, 0.45*length), w+0.2*s.size)
		return
	}
	// Hook, case with a scale and its pointer, and the ring that it hangs by.
	w, case0, case1 := 0.36*s.symbol, 0.3*length, 0.82*length
	hook := along(start, n, r)
	base := math.Atan2(n.Y, n.X)
	s.curve(draw.Style{Stroke: draw.Black, Width: s.outline}, heavy, hook, r, base+math.Pi, base+math.Pi*2.02)
	s.line(draw.Black, s.outline, heavy, along(hook, n, r), along(start, n, case0))
	s.line(draw.Black, s.outline, heavy, along(start, n, case1), top)
	p, q := along(start, n, case0), along(start, n, case1)
	s.shape(draw.Black, s.outline, draw.Mist, along(p, d, -w), along(q, d, -w), along(q, d, w), along(p, d, w))
	for i := range 7 {
		c := along(p, n, (case1-case0)*(0.14+0.12*float64(i)))
		s.line(draw.Black, s.fine, 0, along(c, d, -w), along(c, d, -0.25*w))
	}
	c := along(p, n, (case1-case0)*0.5)
	s.line(draw.Black, s.outline, 0, along(c, d, -0.3*w), along(c, d, 0.8*w))
	s.ceiling(top, n)
	s.beside(k, c, w+0.4*s.size)
}

// ceiling hatches what something hangs from, or the wall that it goes to.
func (s *scene) ceiling(end, d pt) {
	half := 0.8 * s.symbol
	if math.Abs(d.Y) >= 0.55 {
		s.surface(surface{at: end.Y, lo: end.X - half, hi: end.X + half, solid: math.Copysign(1, d.Y)})
		return
	}
	s.surface(surface{upright: true, at: end.X, lo: end.Y - half, hi: end.Y + half, solid: math.Copysign(1, d.X)})
}

// farEnd is where a cable or hanger ends that is only known by its direction: at the wall of the
// same body's hinge, if it leads there, or a fixed length away; upright ones end at one ceiling.
func (s *scene) farEnd(u *answer.Support, k contact) pt {
	length := 3.6*s.symbol + 12
	if s.size >= largePrint { // whose symbols are large enough
		length = 2.4*s.symbol + 12
	}
	if upright(k.n) && k.n.Y < 0 {
		top := k.p.Y
		for i := range s.l.Supports {
			v := &s.l.Supports[i]
			if n := page(v.Normal); !v.HasFar && upright(n) && n.Y < 0 && (v.Kind == question.Cable || v.Kind == question.Meter || v.Kind == question.Spring) {
				if p := s.on(v.On, v.At); sane(p) {
					top = min(top, p.Y)
				}
			}
		}
		return along(k.p, k.n, (k.p.Y-top+length)/-k.n.Y)
	}
	for i := range s.l.Supports {
		v := &s.l.Supports[i]
		if v.Kind != question.Hinge || v.On != u.On || v.By >= 0 {
			continue
		}
		side := s.wallSide(v)
		wall := s.on(v.On, v.At).X
		if t := (wall - k.p.X) / k.n.X; side != 0 && side*k.n.X > 0 && t > 0.5*length && t < 1.3*s.o.Width && math.Abs(k.n.Y) < 0.9 {
			return along(k.p, k.n, t)
		}
	}
	if s.crowding == 0 {
		length *= 1.4
	}
	return along(k.p, k.n, length)
}

// flat paints a floor, a wall or a slope.
func (s *scene) flat(u *answer.Support, k contact) {
	switch {
	case u.Kind == question.Floor:
		lo, hi := k.c.X-2.2*s.symbol, k.c.X+2.2*s.symbol
		if u.HasFar {
			far := s.on(u.On, u.Far)
			lo, hi = min(k.c.X, far.X)-1.4*s.symbol, max(k.c.X, far.X)+1.4*s.symbol
		}
		if u.By < 0 {
			s.surface(surface{id: "surface-" + k.id, at: k.c.Y, lo: lo, hi: hi, solid: 1, meets: true})
		}
		s.label("name-"+k.id, "name", draw.Black, k.label, spot{pt{X: k.c.X, Y: k.c.Y + 0.7*s.size}, pt{X: -0.5, Y: 1}, 0.5 * s.size},
			spot{pt{X: lo, Y: k.c.Y}, pt{X: -1, Y: -0.3}, 0.4 * s.size}, spot{pt{X: hi, Y: k.c.Y}, pt{X: 1}, 0.4 * s.size})
	case u.Kind == question.Wall:
		if u.By < 0 {
			s.surface(surface{id: "surface-" + k.id, upright: true, at: k.c.X, lo: k.c.Y - 1.8*s.symbol, hi: k.c.Y + 1.8*s.symbol, solid: -math.Copysign(1, k.n.X), meets: true})
		}
		side := mul(-1, k.n)
		s.label("name-"+k.id, "name", draw.Black, k.label, spot{along(k.c, side, 0.7*s.size), side, 0.5 * s.size},
			spot{pt{X: k.c.X, Y: k.c.Y - 1.8*s.symbol}, pt{Y: -1}, 0.4 * s.size})
	default:
		s.slope(u, k)
	}
}

// slope paints a surface at an angle, with the level line that its angle is measured from.
func (s *scene) slope(u *answer.Support, k contact) {
	up := left(k.n) // along the surface
	if up.Y > 0 || up.Y == 0 && up.X < 0 {
		up = mul(-1, up)
	}
	from, to := k.c, k.c
	if u.HasFar {
		far := s.on(u.On, u.Far)
		if from = far; dot(sub(far, k.c), up) > 0 {
			from, to = k.c, far
		}
	}
	foot, top := along(from, up, -3*s.symbol), along(to, up, 1.8*s.symbol)
	s.hatch(foot, top, mul(-1, k.n))
	side := pt{X: math.Copysign(1, up.X)}
	if math.Abs(up.Y) > 1e-6 {
		angle := math.Atan2(-up.Y, math.Abs(up.X))
		base := min(max(norm(sub(top, foot))*0.5, 4.2*s.symbol), norm(sub(top, foot))*math.Cos(angle))
		s.line(draw.Grey, s.thin, light, foot, along(foot, side, base))
		text := shown(u.Support.Angle)
		s.angle("angle-"+k.id, foot, side, up, text)
	}
	s.label("name-"+k.id, "name", draw.Black, k.label, spot{along(mul(0.5, add(from, to)), k.n, -0.8*s.size), mul(-1, k.n), 0.5 * s.size},
		spot{along(top, k.n, -0.7*s.size), mul(-1, k.n), 0.4 * s.size}, spot{top, up, 0.5 * s.size})
}
