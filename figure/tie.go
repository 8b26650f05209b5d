package figure

import (
	"math"
	"strings"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/question"
)

// tie paints a cable, or a strut or link with its pins.
func (s *scene) tie(u *answer.Support, k contact) {
	from := k.p
	var to pt
	switch {
	case u.HasFar && u.By >= 0:
		to = s.on(u.By, u.Far)
	case u.HasFar:
		to = add(s.at(u.Far), s.lift[u.On])
	case u.Kind == question.Strut:
		to = s.farEnd(u, contact{p: k.p, n: mul(-1, k.n)})
	default:
		to = s.farEnd(u, k)
	}
	d := unit(sub(to, from))
	fixed := u.By < 0
	if fixed {
		s.anchorage(u, to, d)
	}
	if u.Kind == question.Cable {
		s.line(draw.Black, s.thin, heavy, from, to)
		s.end()
		s.begin(carried, "knot-"+k.id, "support", "")
		s.dotAt(draw.Black, from, 1+0.9*s.thin)
		if !fixed {
			s.dotAt(draw.Black, to, 1+0.9*s.thin)
		}
	} else {
		h, n := 0.14*s.symbol, left(d)
		s.shape(draw.Black, s.outline, draw.Mist, along(from, n, h), along(to, n, h), along(to, n, -h), along(from, n, -h))
		s.keepOff(heavy, false, from, to)
		s.end()
		s.begin(carried, "pins-"+k.id, "support", "")
		s.circle(draw.Black, s.outline, draw.Paper, from, 0.18*s.symbol)
		s.circle(draw.Black, s.outline, draw.Paper, to, 0.18*s.symbol)
	}
	n := left(d)
	if n.Y > 0 {
		n = mul(-1, n)
	}
	length := norm(sub(to, from))
	var spots []spot
	for _, at := range []float64{0.55, 0.7, 0.4, 0.85} {
		for _, side := range []float64{1, -1} {
			spots = append(spots, spot{along(from, d, at*length), mul(side, n), 0.35 * s.size})
		}
	}
	s.label("name-"+k.id, "name", draw.Black, k.label, spots...)
	if u.Direction != nil {
		v, side := d, 1.0
		if u.Kind == question.Strut { // it pushes away from its own side
			v, side = mul(-1, d), -1
		}
		s.directionAngle("angle-"+k.id, from, u.Direction, v, side, u.On)
	}
}

// anchorage fixes the far end of a cable, strut or link to a hatched wall or ceiling: to the wall of
// a hinge that is above or below it by a plate, as the hinge itself is.
func (s *scene) anchorage(u *answer.Support, to, d pt) {
	for i := range s.l.Supports {
		v := &s.l.Supports[i]
		if v.Support == nil || v.By >= 0 {
			continue
		}
		if n := unit(page(v.Normal)); v.Kind == question.Wall && math.Abs(s.on(v.On, v.At).X-to.X) < 1.5 && d.X*n.X < 0 {
			s.surface(surface{upright: true, at: to.X, lo: to.Y - 0.8*s.symbol, hi: to.Y + 0.8*s.symbol, solid: -math.Copysign(1, n.X)})
			return
		}
		if v.Kind != question.Hinge {
			continue
		}
		side := s.wallSide(v)
		if p := s.on(v.On, v.At); side != 0 && math.Abs(p.X-to.X) < 1.5 && d.X*side > 0 {
			foot := pt{X: to.X + side*s.plate(), Y: to.Y}
			s.shape(draw.Black, s.thin, draw.Paper, to, pt{X: foot.X, Y: foot.Y - 0.25*s.symbol}, pt{X: foot.X, Y: foot.Y + 0.25*s.symbol})
			s.surface(surface{upright: true, at: foot.X, lo: foot.Y - 0.8*s.symbol, hi: foot.Y + 0.8*s.symbol, solid: side})
			return
		}
	}
	s.ceiling(to, d)
}

// angle paints an arc between two directions at a corner, with its size beside it.
func (s *scene) angle(id string, corner, d1, d2 pt, text string) {
	from, to := math.Atan2(d1.Y, d1.X), math.Atan2(d2.Y, d2.X)
	turn := math.Remainder(to-from, 2*math.Pi)
	if math.Abs(turn) < 0.01 || !sane(corner) {
		return
	}
	if math.Abs(math.Abs(turn)-math.Pi/2) < 1e-9 { // a right angle has its own mark
		s.begin(measures, id, "angle", "")
		k := 0.9 * s.size
		s.line(draw.Grey, s.fine, light, along(corner, d1, k), along(along(corner, d1, k), d2, k), along(corner, d2, k))
		s.end()
		return
	}
	text = strings.TrimPrefix(text, "\u2212") // its side shows
	r := 2.2 * s.size
	if math.Abs(turn) < 0.5 {
		r *= 1.7
	}
	s.begin(measures, id, "angle", "")
	s.curve(draw.Style{Stroke: draw.Grey, Width: s.fine}, light, corner, r, from, from+turn)
	s.end()
	if text == "" {
		return
	}
	mid := from + turn/2
	away := pt{X: math.Cos(mid), Y: math.Sin(mid)}
	s.addLabel(label{id: id + "-size", class: "size", ink: draw.Black, text: [][]draw.Run{plain(text)}, strict: true,
		spots: []spot{{corner, away, r + 0.25*s.size}, {along(corner, away, r), away, 0.25 * s.size}}})
}

// directionAngle paints the angle of a direction as it was written: from one of the four plain
// directions, whose line is drawn dashed, or from a body's axis. side -1 draws it at the other end
// of the line, for a push whose arrow ends at the point. Right angles to a body have their own mark.
func (s *scene) directionAngle(id string, at pt, d *question.Direction, v pt, side float64, body int) {
	text := shown(d.Angle)
	if text == "" && !d.Across || !sane(at) {
		return
	}
	var base pt
	if b := s.bodyOf(d.Along); b >= 0 {
		a, _ := axes(&s.l.Bodies[b])
		base = mul(-1, a)
		if d.Across && s.l.Bodies[b].Shape == question.Bar && dot(sub(at, s.on(b, s.l.Bodies[b].Origin)), a) < 2*s.size {
			base = a // at the left end there is no body on that side
		}
		if d.Across {
			base = mul(side, base)
		}
	} else {
		base = page(answer.Compass(d.Base))
	}
	base, v = mul(side, base), mul(side, v)
	covered := false
	if body >= 0 && s.l.Bodies[body].Shape == question.Bar {
		// No dashed line is needed along the body itself.
		b := &s.l.Bodies[body]
		a, _ := axes(b)
		where := dot(sub(at, s.on(body, b.Origin)), a) + 2*s.size*dot(base, a)
		covered = math.Abs(dot(base, a)) > 0.999 && where > -1 && where < b.Length*s.scale+1
	}
	if !covered {
		s.begin(measures, "", "level", "")
		s.dashed(draw.Grey, s.fine, light, at, along(at, base, 3.4*s.size))
		s.end()
	}
	s.angle(id, at, base, v, text)
}
