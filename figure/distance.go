package figure

import (
	"math"
	"slices"
	"strings"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// A span is a length to be given: from and to in points along its body, and what it is.
type span struct {
	from, to float64
	text     string
}

// like writes a length in metres in the unit and with the decimals of one that was typed.
func like(v question.Value, metres float64) string {
	return quantity.Typeset(quantity.FormatDecimals(math.Abs(metres), v.Unit, v.Decimals))
}

// offset writes a coordinate's distance in metres: with the decimals that it was typed with, or, where it
// is another number because the body is placed elsewhere, with those of the question's lengths.
func offset(l *answer.Layout, v question.Value, metres float64) string {
	if math.Abs(math.Abs(v.SI())-math.Abs(metres)) > 1e-9 {
		v.Decimals = max(v.Decimals, answer.Decimals(l.Question, v.Unit))
	}
	return like(v, metres)
}

// bodyDistances gives a body's length and the place of everything on it, all from the zero of its scale.
func (s *scene) bodyDistances(i int) {
	b := &s.l.Bodies[i]
	if isRule(b) {
		return // its own marks tell
	}
	a, n := axes(b)
	o := s.on(i, b.Origin)
	switch b.Shape {
	case question.Frame:
		s.frameDistances(i)
		return
	case question.Block:
		var across []span
		if b.Body.Height.Known() {
			across = append(across, span{0, b.Height * s.scale, shown(b.Body.Height)})
		}
		s.placesOf(i, func(p question.Place, at statics.Vec) {
			if p.XY != nil && p.XY.Y.Known() && p.XY.Y.SI() > 0 && math.Abs(p.XY.Y.SI()-b.Height) > 1e-9 {
				across = append(across, span{0, p.XY.Y.SI() * s.scale, shown(p.XY.Y)})
			}
		})
		s.bothSides(o, n, a, b.Length*s.scale, across)
	case question.Bar:
		var across []span
		s.placesOf(i, func(p question.Place, at statics.Vec) {
			if p.XY != nil && p.XY.Y.Known() && p.XY.Y.SI() != 0 {
				y := p.XY.Y.SI() * s.scale
				across = append(across, span{min(0, y), max(0, y), strings.TrimPrefix(shown(p.XY.Y), "\u2212")})
			}
		})
		s.bothSides(o, n, a, b.Length*s.scale, across)
	}
	s.bothSides(o, a, n, s.acrossFor(i), s.alongSpans(i))
}

// acrossFor is how thick a body is above the line of its places.
func (s *scene) acrossFor(i int) float64 {
	if b := &s.l.Bodies[i]; b.Shape == question.Block {
		return b.Height * s.scale
	}
	return 0
}

// placesOf calls f with each place on a body that a support, a load or a point has.
func (s *scene) placesOf(i int, f func(p question.Place, at statics.Vec)) {
	for k := range s.l.Supports {
		u := &s.l.Supports[k]
		if u.Support == nil {
			continue
		}
		if u.On == i {
			f(u.Support.On, u.At)
		}
		if u.By == i && u.Support.By.Set() {
			f(u.Support.By, s.l.Point(u.Support.By))
		}
	}
	for k := range s.l.Loads {
		d := &s.l.Loads[k]
		if d.Load == nil || d.On != i {
			continue
		}
		switch {
		case d.Kind == question.Spread:
			f(d.Load.On, d.From)
			f(d.Load.To, d.To)
		case d.Kind == question.Couple && !d.Load.On.Set():
		default:
			f(d.Load.On, d.At)
		}
	}
	for k := range s.l.Question.Points {
		if p := &s.l.Question.Points[k]; p.Place.Body == s.l.Bodies[i].Name {
			f(p.Place, s.l.Point(p.Place))
		}
	}
	if b := &s.l.Bodies[i]; b.Body.Centre.Set() {
		f(b.Body.Centre, b.Centre)
	}
}

// alongSpans are the lengths along a straight body.
func (s *scene) alongSpans(i int) []span {
	b := &s.l.Bodies[i]
	L := b.Length * s.scale
	zero := 0.0
	if b.ZeroRight {
		zero = L
	}
	var spans []span
	give := func(u float64, text string) {
		if text != "" && finite(u) && math.Abs(u-zero) > 1e-6 {
			spans = append(spans, span{min(u, zero), max(u, zero), text})
		}
	}
	if b.Body.Length.Known() {
		give(L-zero, shown(b.Body.Length))
	}
	s.placesOf(i, func(p question.Place, at statics.Vec) {
		switch {
		case p.Point != "": // given with the point itself
		case p.At.Known():
			u := p.At.SI() * s.scale
			if b.ZeroRight {
				u = L - u
			}
			give(u, shown(p.At))
		case p.XY != nil && p.XY.X.Known() && math.Abs(p.XY.X.SI()-b.Length) > 1e-9:
			u := p.XY.X.SI() * s.scale
			if u > 0 {
				spans = append(spans, span{0, u, shown(p.XY.X)})
			}
		case p.End == question.Middle && b.Body.Length.Known():
			half := b.Body.Length
			half.Decimals++
			give(L/2, trimmed(half, b.Length/2))
		}
	})
	return spans
}

// trimmed writes a length like one that was typed, with one digit more only if that isn't a zero.
func trimmed(v question.Value, metres float64) string {
	v.Decimals--
	if short := quantity.FormatDecimals(metres, v.Unit, v.Decimals); sameLength(short, metres, v) {
		return quantity.Typeset(short)
	}
	v.Decimals++
	return like(v, metres)
}

// sameLength reports whether a written length is exactly so many metres.
func sameLength(text string, metres float64, v question.Value) bool {
	q, err := quantity.Parse(text, quantity.Length, v.Unit)
	return err == nil && math.Abs(q.SI()-metres) < 1e-12*(1+metres)
}

// frameDistances gives the sizes of a frame's pieces and the places on it, across and upright.
func (s *scene) frameDistances(i int) {
	b := &s.l.Bodies[i]
	a, n := axes(b)
	o := s.on(i, b.Origin)
	var level, up []span
	wide := func(to *[]span, from, till float64, text string) {
		text = strings.TrimPrefix(text, "\u2212") // a length has no sign; its side shows
		if text != "" && math.Abs(till-from) > 1e-9 {
			*to = append(*to, span{min(from, till) * s.scale, max(from, till) * s.scale, text})
		}
	}
	for k := range b.Pieces {
		p := &b.Pieces[k]
		c := pieceCorners(p)
		switch p.Kind {
		case question.Rectangle:
			wide(&level, c[0].X, c[1].X, shown(p.Width))
			wide(&up, c[0].Y, c[3].Y, shown(p.Height))
			wide(&level, 0, c[0].X, shown(p.From.X))
			wide(&up, 0, c[0].Y, shown(p.From.Y))
		case question.RodPiece, question.Triangle:
			for m, v := range []question.XY{p.From, p.To, p.Third}[:len(c)] {
				wide(&level, 0, c[m].X, shown(v.X))
				wide(&up, 0, c[m].Y, shown(v.Y))
			}
		case question.Disc:
			wide(&level, 0, p.From.X.SI(), shown(p.From.X))
			wide(&up, 0, p.From.Y.SI(), shown(p.From.Y))
			at := s.on(i, statics.Vec{X: b.Origin.X + p.From.X.SI()*b.Axis.X - p.From.Y.SI()*b.Axis.Y, Y: b.Origin.Y + p.From.X.SI()*b.Axis.Y + p.From.Y.SI()*b.Axis.X})
			s.radius(at, p.Width.SI()*s.scale, shown(p.Width), slug(p.Name))
		case question.PointMass:
			wide(&level, 0, p.From.X.SI(), shown(p.From.X))
			wide(&up, 0, p.From.Y.SI(), shown(p.From.Y))
		}
	}
	s.placesOf(i, func(p question.Place, at statics.Vec) {
		if p.XY != nil {
			wide(&level, 0, p.XY.X.SI(), shown(p.XY.X))
			wide(&up, 0, p.XY.Y.SI(), shown(p.XY.Y))
		}
	})
	var low, high statics.Vec
	for _, c := range corners(b) {
		d := statics.Vec{X: c.X - b.Origin.X, Y: c.Y - b.Origin.Y}
		u := statics.Vec{X: d.X*b.Axis.X + d.Y*b.Axis.Y, Y: -d.X*b.Axis.Y + d.Y*b.Axis.X}
		low, high = statics.Vec{X: min(low.X, u.X), Y: min(low.Y, u.Y)}, statics.Vec{X: max(high.X, u.X), Y: max(high.Y, u.Y)}
	}
	s.nearer(along(o, n, low.Y*s.scale), along(o, n, high.Y*s.scale), a, mul(-1, n), level)
	s.nearer(along(o, a, low.X*s.scale), along(o, a, high.X*s.scale), n, mul(-1, a), up)
}

// nearer puts dimension lines on that side of a frame, beyond p along n or beyond q against it, on which the
// points that they measure lie nearer to them.
func (s *scene) nearer(p, q, a, n pt, spans []span) {
	far := func(o, n pt) float64 {
		sum := 0.0
		for _, d := range spans {
			for _, u := range []float64{d.from, d.to} {
				sum -= s.clear(along(o, n, -1e5), a, n, u-2, u+2) // 0 at least: where nothing stands, the extension line is long
			}
		}
		return sum
	}
	if far(q, mul(-1, n)) < far(p, n)-2*s.size*float64(len(spans)) {
		p, n = q, mul(-1, n)
	}
	s.distances(p, a, n, spans)
}

// radius gives the radius of a disc by a slanting line from its centre.
func (s *scene) radius(c pt, r float64, text, id string) {
	if text == "" {
		return
	}
	d := pt{X: math.Sqrt2 / 2, Y: -math.Sqrt2 / 2}
	s.begin(measures, "", "dimension", "")
	tip := along(c, d, r)
	s.line(draw.Grey, s.fine, light, c, tip)
	s.headAt(draw.Grey, tip, d, s.tick(), s.tick()/3)
	s.end()
	s.label("radius-"+id, "size", draw.Black, [][]draw.Run{s.radiusRuns(text)},
		spot{along(c, d, r), d, 0.3 * s.size}, spot{along(c, d, r/2), left(d), 0.3 * s.size})
}

func (s *scene) radiusRuns(text string) []draw.Run {
	if k := s.key(text); k != text {
		return plain(k)
	}
	return append(s.symbolRuns("r", ""), after(text))
}

// tick is the length of a dimension line's arrowhead.
func (s *scene) tick() float64 { return 3.5*s.fine + 3.2 }

// bothSides puts dimension lines on the side of a body that is freer: below, or to the right, where it doesn't matter.
func (s *scene) bothSides(o, a, n pt, thick float64, spans []span) {
	if len(spans) == 0 {
		return
	}
	if s.above(o, a, n, thick, spans) {
		s.distances(along(o, n, thick), a, n, spans)
	} else {
		s.distances(o, a, mul(-1, n), spans)
	}
}

// above reports whether the side of a body towards n is freer for dimension lines than the other.
func (s *scene) above(o, a, n pt, thick float64, spans []span) bool {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range spans {
		lo, hi = min(lo, p.from), max(hi, p.to)
	}
	over := s.clear(along(o, n, thick), a, n, lo, hi)
	under := s.clear(o, a, mul(-1, n), lo, hi)
	switch { // prefer below and to the right; of a slanting body, the upper side, away from what holds it
	case math.Abs(n.Y) < 0.95 && math.Abs(n.Y) > 0.05 && n.Y < 0:
		under += 5 * s.size
	case math.Abs(n.Y) < 0.95 && math.Abs(n.Y) > 0.05:
		over += 5 * s.size
	case n.Y > 0 || n.Y == 0 && n.X > 0:
		under += 4 * s.size
	default:
		over += 4 * s.size
	}
	return over < under
}

// clear is how far from o, along n, the last thing is that stands between lo and hi along a.
func (s *scene) clear(o, a, n pt, lo, hi float64) float64 {
	most := 0.0
	for i := range s.strokes {
		if v, ok := s.strokes[i].reach(o, a, n, lo-2, hi+2); ok {
			most = max(most, v)
		}
	}
	for i := range s.boxes {
		b := s.boxes[i]
		diagonal := stroke{a: b.low, b: b.high}
		other := stroke{a: pt{X: b.low.X, Y: b.high.Y}, b: pt{X: b.high.X, Y: b.low.Y}}
		if v, ok := diagonal.reach(o, a, n, lo-2, hi+2); ok {
			most = max(most, v)
		}
		if v, ok := other.reach(o, a, n, lo-2, hi+2); ok {
			most = max(most, v)
		}
	}
	return most
}

// reach is how far along n, from o, the part of a stroke goes that lies between lo and hi along a.
func (k *stroke) reach(o, a, n pt, lo, hi float64) (float64, bool) {
	p, q := sub(k.a, o), sub(k.b, o)
	u1, v1, u2, v2 := dot(p, a), dot(p, n), dot(q, a), dot(q, n)
	if max(u1, u2) < lo || min(u1, u2) > hi {
		return 0, false
	}
	at := func(u float64) float64 {
		if u1 == u2 {
			return max(v1, v2)
		}
		return v1 + (v2-v1)*min(max((u-u1)/(u2-u1), 0), 1)
	}
	if u1 == u2 {
		return max(v1, v2), true
	}
	return max(at(lo), at(hi), at(min(max(u1, lo), hi)), at(min(max(u2, lo), hi))), true
}

// distances paints dimension lines along a, stacked away from the body along n: the shortest
// nearest to it. Lengths that don't overlap share a line. Extension lines start clear of what is drawn.
func (s *scene) distances(o, a, n pt, spans []span) {
	spans = once(spans)
	if len(spans) == 0 || !sane(o) {
		return
	}
	for i := range spans {
		spans[i].text = s.key(spans[i].text)
	}
	slices.SortStableFunc(spans, func(p, q span) int {
		switch d := (p.to - p.from) - (q.to - q.from); {
		case d < -1e-6:
			return -1
		case d > 1e-6:
			return 1
		}
		return 0
	})
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range spans {
		from, to := s.room(p, a)
		lo, hi = min(lo, p.from, from), max(hi, p.to, min(to, p.to+2*s.size))
	}
	tiers := s.tiers(spans, a)
	// The text's box reaches across the stack by rise and along it by run.
	rise, run := 0.0, make([]float64, len(spans))
	boxes := make([]pt, len(spans))
	for i, p := range spans {
		w, h := s.measure([][]draw.Run{plain(p.text)})
		boxes[i] = pt{X: w, Y: h}
		rise = max(rise, math.Abs(n.X)*w+math.Abs(n.Y)*h)
		run[i] = math.Abs(a.X)*w + math.Abs(a.Y)*h
	}
	pad := 0.18*s.size + 0.6
	pitch := rise + 3.2*pad + s.fine // nearer to its own line than to the one before
	first := max(s.clear(o, a, n, lo, hi)+0.5*s.size, 0.5*s.size)
	offset := func(tier int) float64 { return first + pitch*float64(tier+1) }
	outer := map[float64]float64{} // how far out the extension line at each end goes
	for i, p := range spans {
		for _, u := range []float64{p.from, p.to} {
			k := math.Round(u*4) / 4
			outer[k] = max(outer[k], offset(tiers[i]))
		}
	}
	ends := make([]float64, 0, len(outer))
	for u := range outer {
		ends = append(ends, u)
	}
	slices.Sort(ends)
	starts := make([]float64, len(ends))
	for k, u := range ends {
		starts[k] = s.clear(o, a, n, u-1, u+1) + 2.5
	}
	s.begin(measures, "", "dimension", "")
	for k, u := range ends {
		p := along(o, a, u)
		s.line(draw.Grey, s.fine, light, along(p, n, starts[k]), along(p, n, outer[u]+0.35*s.size))
	}
	for i, p := range spans {
		v := offset(tiers[i])
		s.dimensionLine(along(along(o, a, p.from), n, v), along(along(o, a, p.to), n, v))
		at := s.textPlace(spans[i], run[i], v, -1, ends, outer)
		mid := along(along(o, a, at), n, v-pad-(math.Abs(n.X)*boxes[i].X+math.Abs(n.Y)*boxes[i].Y)/2)
		b := boxAt(mid, boxes[i].X, boxes[i].Y)
		for s.boxed(b) { // never on another text
			b = box{along(b.low, n, 0.2*s.size), along(b.high, n, 0.2*s.size)}
		}
		s.write(b, [][]draw.Run{plain(p.text)}, draw.Black, draw.Centre, false)
	}
	s.end()
}

// boxed reports whether a box lies on another text.
func (s *scene) boxed(b box) bool {
	for i := range s.boxes {
		if b.overlaps(s.boxes[i]) {
			return true
		}
	}
	return false
}

// once leaves out what is given twice.
func once(spans []span) []span {
	var out []span
	for _, p := range spans {
		if !finite(p.from) || !finite(p.to) || p.to-p.from < 1e-6 || p.text == "" {
			continue
		}
		if !slices.ContainsFunc(out, func(q span) bool { return math.Abs(p.from-q.from) < 0.01 && math.Abs(p.to-q.to) < 0.01 }) {
			out = append(out, p)
		}
	}
	return out
}

// tiers gives each span, shortest first, the first line on which it overlaps no other and that is
// not nearer to the body than a span inside it.
func (s *scene) tiers(spans []span, a pt) []int {
	tiers := make([]int, len(spans))
	for i := range spans {
		lo, hi := s.room(spans[i], a)
		for j := range i {
			if l, h := s.room(spans[j], a); l < hi && lo < h {
				tiers[i] = max(tiers[i], tiers[j]+1)
			}
		}
	}
	return tiers
}

// room is what a length takes up along its line: where it is too short, its figure stands beside it.
func (s *scene) room(p span, a pt) (lo, hi float64) {
	w, h := s.measure([][]draw.Run{plain(p.text)})
	need := math.Abs(a.X)*w + math.Abs(a.Y)*h + 0.9*s.size
	if p.to-p.from >= need {
		return p.from + 0.5, p.to - 0.5
	}
	return p.from - need - 2*s.tick(), p.to + need + 2*s.tick()
}

// textPlace is where along its line a length's figure stands: near the middle, beside its own line
// where that is too short, first at the end where out points, and never across an extension line that passes.
func (s *scene) textPlace(p span, run, v, out float64, ends []float64, outer map[float64]float64) float64 {
	half := run/2 + 1
	mid := (p.from + p.to) / 2
	crossed := func(at float64) int {
		n := 0
		for _, u := range ends {
			if outer[u] > v-0.5 && math.Abs(u-at) < half {
				n++
			}
		}
		return n
	}
	best, least := mid, math.MaxInt
	span := (p.to - p.from) / 2
	beside := [2]float64{p.from - half - s.tick() - 2, p.to + half + s.tick() + 2}
	if out > 0 {
		beside[0], beside[1] = beside[1], beside[0]
	}
	for _, at := range []float64{mid, mid - 0.2*span, mid + 0.2*span, mid - 0.4*span, mid + 0.4*span, mid - 0.6*span, mid + 0.6*span, beside[0], beside[1]} {
		if c := crossed(at); c < least {
			best, least = at, c
		}
	}
	return best
}

// dimensionLine paints a thin line with arrowheads; on a short one they point in from outside.
func (s *scene) dimensionLine(p, q pt) {
	d, head := unit(sub(q, p)), s.tick()
	if norm(sub(q, p)) < 3*head {
		out := 2 * head
		s.line(draw.Grey, s.fine, light, along(p, d, -out), along(q, d, out))
		s.headAt(draw.Grey, p, d, head, head/3)
		s.headAt(draw.Grey, q, mul(-1, d), head, head/3)
		return
	}
	s.line(draw.Grey, s.fine, light, along(p, d, 0.5*head), along(q, d, -0.5*head))
	s.headAt(draw.Grey, p, mul(-1, d), head, head/3)
	s.headAt(draw.Grey, q, d, head, head/3)
}
