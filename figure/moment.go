package figure

import (
	"math"
	"slices"

	"steelyard/draw"
	"steelyard/statics"
)

// arm is the perpendicular distance of a force's line of action from the pivot, in metres, positive
// where it turns anticlockwise.
func (s *scene) arm(f *force) float64 {
	r := statics.Vec{X: f.at.X - s.o.Pivot.X, Y: f.at.Y - s.o.Pivot.Y}
	return r.X*-f.dir.Y - r.Y*f.dir.X
}

// throughPivot reports whether a force has no moment about the pivot.
func (s *scene) throughPivot(f *force) bool {
	if s.o.View != Moment || f.couple != 0 {
		return false
	}
	b := &s.l.Bodies[bodyNumber(s.l, s.o)]
	return math.Abs(s.arm(f)) < 1e-6*(b.Length+math.Hypot(f.at.X-s.o.Pivot.X, f.at.Y-s.o.Pivot.Y)+1e-9)
}

// sense is 1 where a force turns anticlockwise about the pivot, -1 where clockwise.
func (s *scene) sense(f *force) int {
	if f.couple != 0 {
		return f.couple
	}
	return int(math.Copysign(1, s.arm(f)))
}

// pivot paints the pivot, and each force's line of action and perpendicular distance. Distances of
// parallel forces lie in one line; there they stand side by side, nearest first.
func (s *scene) pivot(body int, forces []force) {
	c := s.on(body, s.o.Pivot)
	if !sane(c) {
		return
	}
	s.begin(arrows, "pivot", "pivot", "pivot "+s.o.PivotName)
	s.veil = s.pivotVeil()
	r := 2 + 0.26*s.size
	s.circle(draw.Black, s.outline, draw.Paper, c, r)
	s.dotAt(draw.Black, c, 0.42*r)
	s.end()
	s.addLabel(label{id: "name-pivot", class: "name", ink: draw.Black, text: [][]draw.Run{{{Text: shorten(s.o.PivotName), Bold: true}}}, veil: s.pivotVeil(), spots: []spot{
		{c, pt{X: -0.8, Y: -0.7}, r + 0.3*s.size}, {c, pt{X: 0.8, Y: -0.7}, r + 0.3*s.size}, {c, pt{X: -0.8, Y: 0.7}, r + 0.3*s.size}, {c, pt{X: 0.8, Y: 0.7}, r + 0.3*s.size}}})

	var turning []*force
	for k := range forces {
		if f := &forces[k]; f.couple == 0 && !s.throughPivot(f) {
			turning = append(turning, f)
		}
	}
	done := make([]bool, len(turning))
	for k, f := range turning {
		if done[k] {
			continue
		}
		var same []*force
		for j := k; j < len(turning); j++ {
			if !done[j] && math.Abs(cross(turning[j].dir, f.dir)) < 1e-3 {
				same, done[j] = append(same, turning[j]), true
			}
		}
		if len(same) == 1 && !s.alongBody(body, f) {
			s.singleArm(c, f)
		} else {
			s.parallelArms(c, same)
		}
	}
}

// alongBody reports whether the perpendicular to a force runs along a straight body, which would hide it.
func (s *scene) alongBody(body int, f *force) bool {
	a, _ := axes(&s.l.Bodies[body])
	return math.Abs(dot(a, f.dir)) < 0.12
}

// armText writes a perpendicular distance.
func (s *scene) armText(f *force) [][]draw.Run {
	return [][]draw.Run{plain(s.key(length(s.l, s.arm(f))))}
}

// singleArm paints the perpendicular from the pivot to a force's line of action.
func (s *scene) singleArm(c pt, f *force) {
	foot := along(f.tail, f.dir, dot(sub(c, f.tail), f.dir))
	s.begin(lines, "arm-"+f.id, "arm", "")
	s.veil = s.armVeil(f)
	over := 0.9 * s.size
	// The line of action goes on from the arrow to the foot of the perpendicular and a little beyond.
	at := dot(sub(foot, f.tail), f.dir)
	length := norm(sub(f.tip, f.tail))
	if lo := min(at-over, -over); lo < 0 {
		s.dashed(draw.Grey, s.fine, light, f.tail, along(f.tail, f.dir, lo))
	}
	s.dashed(draw.Grey, s.fine, light, f.tip, along(f.tail, f.dir, max(at, length)+over))
	s.dashed(draw.Black, s.thin, heavy, c, foot)
	s.rightAngle(foot, unit(sub(c, foot)), f.dir)
	s.end()
	mid := mul(0.5, add(c, foot))
	n := left(unit(sub(foot, c)))
	s.addLabel(label{id: "size-" + f.id, class: "size", ink: draw.Black, text: s.armText(f), short: s.armNow(f, nil), veil: s.armVeil(f), spots: []spot{{mid, n, 0.4 * s.size}, {mid, mul(-1, n), 0.4 * s.size}}})
}

func (s *scene) rightAngle(corner, d1, d2 pt) {
	k := 0.55*s.size + 1
	s.line(draw.Grey, s.fine, light, along(corner, d1, k), along(along(corner, d1, k), d2, k), along(corner, d2, k))
}

// parallelArms paints the perpendicular distances of parallel forces clear of the body: each from
// the line through the pivot to the force's line of action, the shortest nearest.
func (s *scene) parallelArms(c pt, forces []*force) {
	d := forces[0].dir // along the forces; choose the way that points down, or right
	if d.Y < -0.01 || math.Abs(d.Y) <= 0.01 && d.X < 0 {
		d = mul(-1, d)
	}
	a := left(d) // across them, to the right for forces that point down
	slices.SortStableFunc(forces, func(f, g *force) int {
		switch p, q := math.Abs(s.arm(f)), math.Abs(s.arm(g)); {
		case p < q-1e-9:
			return -1
		case p > q+1e-9:
			return 1
		}
		return 0
	})
	lo, hi := 0.0, 0.0
	for _, f := range forces {
		u := dot(sub(f.tail, c), a)
		lo, hi = min(lo, u), max(hi, u)
	}
	out := s.clear(c, a, d, lo, hi)
	rise, pad := 0.0, 0.2*s.size+0.6
	for _, f := range forces {
		w, h := s.measure(s.armText(f))
		rise = max(rise, math.Abs(d.X)*w+math.Abs(d.Y)*h)
	}
	pitch := rise + 3.2*pad + s.thin
	first := out + 1.9*s.size // room for the names below the arrows
	// Two arms on opposite sides of the pivot may share a line.
	tier := make([]int, len(forces))
	for k, f := range forces {
		u := dot(sub(f.tail, c), a)
		for j := range k {
			v := dot(sub(forces[j].tail, c), a)
			if u*v > 0 || min(math.Abs(u), math.Abs(v)) < 3*rise+2*s.size {
				tier[k] = max(tier[k], tier[j]+1)
			}
		}
	}
	last := slices.Max(tier)
	var ends []float64
	outer := map[float64]float64{}
	for k, f := range forces {
		u := dot(sub(f.tail, c), a)
		ends = append(ends, u)
		outer[u] = max(outer[u], first+pitch*float64(tier[k]+1))
	}
	ends = append(ends, 0)
	outer[0] = first + pitch*float64(last+1)
	s.begin(lines, "arms", "arm", "")
	s.veil = s.baseVeil(forces)
	s.dashed(draw.Grey, s.fine, light, c, along(c, d, outer[0]+0.4*s.size))
	for k, f := range forces {
		if s.o.Stage != nil {
			s.begin(lines, "arm-"+f.id, "arm", "")
			s.veil = s.armVeil(f)
		}
		u := dot(sub(f.tail, c), a)
		v := first + pitch*float64(tier[k]+1)
		at := along(c, a, u)
		low := f.tail // where the arrow ends on the way out
		if dot(sub(f.tip, f.tail), d) > 0 {
			low = f.tip
		}
		s.dashed(draw.Grey, s.fine, light, along(at, d, dot(sub(low, c), d)), along(at, d, v+0.4*s.size))
		p, q := along(c, d, v), along(at, d, v)
		s.dashed(draw.Black, s.thin, heavy, p, q)
		in := unit(sub(p, q))
		text := s.armText(f)
		w, h := s.measure(text)
		run := math.Abs(a.X)*w + math.Abs(a.Y)*h
		if math.Abs(u) > run+1.6*s.size+4 || math.Abs(u) < run {
			s.rightAngle(q, in, mul(-1, d))
		}
		mid := s.textPlace(span{min(0, u), max(0, u), ""}, run, v, u, ends, outer) // beside a short one, away from the pivot
		b := boxAt(along(along(along(c, a, mid), d, v), d, -pad-(math.Abs(d.X)*w+math.Abs(d.Y)*h)/2), w, h)
		for s.boxed(b) { // further out it is free
			b = box{along(b.low, d, 0.2*s.size), along(b.high, d, 0.2*s.size)}
		}
		anchor := draw.Centre
		if beside := mid < min(0, u) || mid > max(0, u); beside && a.X > 0.9 { // a letter for now stays near its arm
			anchor = draw.Start
			if mid < u {
				anchor = draw.Finish
			}
		}
		s.write(b, s.armNow(f, text), draw.Black, anchor, false)
	}
	s.end()
}
