package figure

import (
	"math"
	"strings"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

func isRule(b *answer.Body) bool {
	return b.Body != nil && b.Shape == question.Bar && b.Rule.Known() && b.Rule.SI() > 0
}

func isLadder(b *answer.Body) bool {
	return b.Shape == question.Bar && (strings.Contains(strings.ToLower(b.Name), "ladder") || strings.Contains(strings.ToLower(b.Label), "ladder"))
}

// axes are a body's own directions on the page: along it, and to its left (above a level body).
func axes(b *answer.Body) (a, n pt) {
	a = unit(page(b.Axis))
	return a, left(a)
}

// body paints a body's outline.
func (s *scene) body(i int) {
	b := &s.l.Bodies[i]
	s.begin(bodies, "body-"+slug(b.Name), "body", called(b.Label, b.Name))
	switch b.Shape {
	case question.Bar:
		s.bar(i)
	case question.Block:
		a, n := axes(b)
		o := s.on(i, b.Origin)
		w, h := b.Length*s.scale, max(b.Height*s.scale, 4)
		s.shape(draw.Black, s.outline, draw.Shade, o, along(o, a, w), along(along(o, a, w), n, h), along(o, n, h))
	case question.Frame:
		for k := range b.Pieces {
			if !b.Pieces[k].Hole {
				s.piece(i, &b.Pieces[k])
			}
		}
		for k := range b.Pieces {
			if b.Pieces[k].Hole {
				s.piece(i, &b.Pieces[k])
			}
		}
	}
	s.end()
}

// bar paints a straight body: an outline of constant depth, with what tells a rule or a ladder.
func (s *scene) bar(i int) {
	b := &s.l.Bodies[i]
	a, n := axes(b)
	h := s.depth[i] / 2
	o := s.on(i, b.Origin)
	from, to := 0.0, max(b.Length*s.scale, 6)
	shown := to
	if s.o.View == Sketch {
		for k := range s.l.Supports { // built in: it runs into the wall
			if p := &s.l.Supports[k]; p.On == i && p.Kind == question.Clamp && p.By < 0 {
				switch u := dot(sub(s.on(i, p.At), o), a); {
				case u < 0.03*shown:
					from = -0.5 * s.symbol
				case u > 0.97*shown:
					to = shown + 0.5*s.symbol
				}
			}
		}
	}
	p, q := along(o, a, from), along(o, a, to)
	s.shape(draw.Black, s.outline, draw.Shade, along(p, n, -h), along(q, n, -h), along(q, n, h), along(p, n, h))
	s.keepOff(heavy, false, p, q)
	s.placesOf(i, func(place question.Place, at statics.Vec) { // what is beside the axis is joined to it
		if place.XY == nil {
			return
		}
		end := s.on(i, at)
		foot := along(o, a, dot(sub(end, o), a))
		if off := norm(sub(end, foot)); off > h+1 && sane(end) {
			d := unit(sub(end, foot))
			w := s.rod() / 2
			s.shape(draw.Black, s.outline, draw.Shade, along(along(foot, d, h), a, -w), along(end, a, -w), along(end, a, w), along(along(foot, d, h), a, w))
		}
	})
	if isLadder(b) {
		rungs := max(int(shown/(0.9*s.size+2)), 2)
		for k := 1; k < rungs; k++ {
			c := along(o, a, shown*float64(k)/float64(rungs))
			s.line(draw.Black, s.fine, 0, along(c, n, -h), along(c, n, h))
		}
	}
	if isRule(b) {
		s.marksOfRule(i, o, a, n)
	}
}

// marksOfRule paints a rule's divisions, a longer mark each tenth with its number, and the unit once.
func (s *scene) marksOfRule(i int, o, a, n pt) {
	b := &s.l.Bodies[i]
	h := s.depth[i] / 2
	each := b.Rule.SI()
	pitch := each * s.scale
	last := int(math.Floor(b.Length/each + 1e-6))
	step := 1
	for _, k := range []int{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 10000, 100000} {
		if step = k; pitch*float64(k) >= 2.2*s.fine+0.9 {
			break
		}
	}
	u := b.Rule.Unit
	numberAt := func(k int) string {
		return quantity.Typeset(strings.Fields(quantity.Format(float64(k)*each, u, 6) + " ")[0])
	}
	wide := draw.RunsWidth(plain(trimZeros(numberAt(last))), s.size) + 0.7*s.size
	numbered := max(10, step)
	for _, k := range []int{10, 20, 50, 100, 200, 500, 1000, 10000, 100000} {
		if numbered = k; pitch*float64(k) >= wide {
			break
		}
	}
	if last <= 12 && pitch >= wide {
		numbered = 1
	}
	for k := 0; k <= last; k += step {
		at := float64(k) * pitch
		if b.ZeroRight {
			at = b.Length*s.scale - at
		}
		top := along(along(o, a, at), n, h)
		length := 0.26 * s.size
		if k%numbered == 0 {
			length = 0.5 * s.size
		} else if k%(5*step) == 0 && step < 5 {
			length = 0.38 * s.size
		}
		if at > 0.1 && at < b.Length*s.scale-0.1 {
			s.line(draw.Black, s.fine, 0, top, along(top, n, -length))
		}
	}
	text := 0.86 * s.size
	unitWidth := draw.RunsWidth(plain(u.Symbol), text)
	ks := []int{0, last / numbered * numbered} // the ends first: others give way
	for k := numbered; k < last/numbered*numbered; k += numbered {
		ks = append(ks, k)
	}
	for _, k := range ks {
		at := float64(k) * pitch
		if b.ZeroRight {
			at = b.Length*s.scale - at
		}
		runs := plain(trimZeros(numberAt(k)))
		w := draw.RunsWidth(runs, text)
		at = min(max(at, w/2+2), b.Length*s.scale-w/2-2)
		if math.Abs(a.Y) > 0.1 { // a slanting rule's numbers would stick out
			continue
		}
		c := along(along(o, a, at), n, -h+0.62*s.size)
		s.number(runs, text, c)
		if k == 0 && unitWidth > 0 && float64(numbered)*pitch > wide+unitWidth+0.7*s.size {
			d := w/2 + unitWidth/2 + 0.3*text
			if b.ZeroRight {
				d = -d - 0.1*text
			}
			s.number(plain(u.Symbol), text, along(c, a, d))
		}
	}
}

// number sets a short text about c and keeps labels off it.
func (s *scene) number(runs []draw.Run, size float64, c pt) {
	w := draw.RunsWidth(runs, size)
	b := boxAt(c, w, 0.76*size)
	if s.boxed(b.grown(0.2 * size)) {
		return
	}
	s.open.Marks = append(s.open.Marks, draw.Text{At: pt{X: c.X, Y: c.Y + 0.36*size}, Anchor: draw.Centre, Size: size, Ink: draw.Black, Runs: runs})
	s.reach(b.low, 0)
	s.reach(b.high, 0)
	s.boxes = append(s.boxes, b)
}

// trimZeros takes the zeros off the end of a whole number's decimals.
func trimZeros(n string) string {
	if strings.Contains(n, ".") {
		n = strings.TrimRight(strings.TrimRight(n, "0"), ".")
	}
	return n
}

// piece paints a piece of a frame.
func (s *scene) piece(i int, p *question.Piece) {
	b := &s.l.Bodies[i]
	at := func(v statics.Vec) pt {
		return s.on(i, statics.Vec{
			X: b.Origin.X + v.X*b.Axis.X - v.Y*b.Axis.Y,
			Y: b.Origin.Y + v.X*b.Axis.Y + v.Y*b.Axis.X,
		})
	}
	fill := draw.Shade
	if p.Hole {
		fill = draw.Paper
	}
	from := at(statics.Vec{X: p.From.X.SI(), Y: p.From.Y.SI()})
	c := pieceCorners(p)
	switch p.Kind {
	case question.RodPiece:
		to := at(c[1])
		d := unit(sub(to, from))
		n, h := left(d), s.rod()/2
		from, to = along(from, d, -h), along(to, d, h)
		s.shape(draw.Black, s.outline, fill, along(from, n, -h), along(to, n, -h), along(to, n, h), along(from, n, h))
	case question.Rectangle:
		s.shape(draw.Black, s.outline, fill, at(c[0]), at(c[1]), at(c[2]), at(c[3]))
	case question.Triangle:
		s.shape(draw.Black, s.outline, fill, at(c[0]), at(c[1]), at(c[2]))
	case question.Disc:
		s.circle(draw.Black, s.outline, fill, from, max(p.Width.SI()*s.scale, 3))
	case question.PointMass:
		s.circle(draw.Black, s.outline, draw.Black, from, 2+0.2*s.size)
	}
}

// bodyLabels asks for the words beside a body: what it is, how heavy, and its named points.
func (s *scene) bodyLabels(i int) {
	b := &s.l.Bodies[i]
	text := [][]draw.Run{plain(bodyWords(b.Body))}
	if v := firstOf(shown(b.Body.Weight), shown(b.Body.Mass)); s.crowding >= weightsOnly {
		if text = [][]draw.Run{plain(v)}; v == "" && len(s.l.Bodies) > 1 {
			text = [][]draw.Run{plain(shorten(bodyCalled(b.Body)))}
		}
	}
	one := s.onePiece(i)
	if one != "" {
		text = [][]draw.Run{plain(bodyWords(b.Body) + ", " + one)}
	}
	a, n := axes(b)
	o := s.on(i, b.Origin)
	L := b.Length * s.scale
	id := "name-" + slug(b.Name)
	switch b.Shape {
	case question.Bar:
		if math.Abs(a.Y) > 0.3 && s.crowding < weightsOnly {
			if name, weight, ok := strings.Cut(bodyWords(b.Body), ", "); ok {
				text = [][]draw.Run{plain(name), plain(weight)}
			}
		}
		var spots []spot
		for _, side := range []float64{1, -1} {
			for _, k := range []float64{0.5, 0.3, 0.7, 0.15, 0.85, 0.4, 0.6, 0.23, 0.77} {
				spots = append(spots, spot{along(o, a, k*L), mul(side, n), s.depth[i]/2 + 0.3*s.size})
			}
		}
		if math.Abs(a.Y) < 0.3 {
			spots = append(spots, spot{along(o, a, L), a, 0.5 * s.size}, spot{o, mul(-1, a), 0.5 * s.size})
		}
		s.label(id, "name", draw.Black, text, spots...)
	case question.Block:
		h := b.Height * s.scale
		c := along(along(o, a, L/2), n, h/2)
		top := along(along(o, a, L/2), n, h)
		if fit := s.wrapTo(text, min(L, h+L/2)-1.2*s.size); s.inside(fit, L, h, a) { // inside, if there is room
			_, th := s.measure(fit)
			s.label(id, "name", draw.Black, fit, spot{along(c, pt{Y: -1}, th/2), pt{Y: 1}, 0})
			return
		}
		s.label(id, "name", draw.Black, text, spot{top, n, 0.4 * s.size}, spot{along(c, a, L/2), a, 0.4 * s.size}, spot{along(c, a, -L/2), mul(-1, a), 0.4 * s.size})
	case question.Frame:
		low, high := s.bodyBox(i)
		m := mul(0.5, add(low, high))
		s.label(id, "name", draw.Black, text,
			spot{pt{X: m.X, Y: low.Y}, pt{Y: -1}, 0.6 * s.size}, spot{pt{X: high.X, Y: m.Y}, pt{X: 1}, 0.6 * s.size}, spot{pt{X: high.X, Y: low.Y}, pt{X: 1, Y: -1}, 0.5 * s.size})
		if one == "" {
			s.pieceLabels(i)
		}
	}
}

// onePiece is what is known of the one piece of a body that has no other, and no weight of its own.
func (s *scene) onePiece(i int) string {
	b := &s.l.Bodies[i]
	if len(b.Pieces) != 1 || b.Pieces[0].Label != "" || shown(b.Body.Weight) != "" || shown(b.Body.Mass) != "" {
		return ""
	}
	return firstOf(shown(b.Pieces[0].Weight), shown(b.Pieces[0].Mass))
}

// inside reports whether text fits in the middle of a rectangle L by h along a.
func (s *scene) inside(text [][]draw.Run, L, h float64, a pt) bool {
	w, th := s.measure(text)
	pad := 0.8 * s.size
	return math.Abs(a.X)*w+math.Abs(a.Y)*th+pad < L && math.Abs(a.Y)*w+math.Abs(a.X)*th+pad < h
}

// bodyBox is the upright rectangle round a body on the page.
func (s *scene) bodyBox(i int) (low, high pt) {
	low, high = pt{X: math.Inf(1), Y: math.Inf(1)}, pt{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, c := range corners(&s.l.Bodies[i]) {
		p := s.on(i, c)
		low, high = pt{X: min(low.X, p.X), Y: min(low.Y, p.Y)}, pt{X: max(high.X, p.X), Y: max(high.Y, p.Y)}
	}
	h := s.half(i)
	return pt{X: low.X - h, Y: low.Y - h}, pt{X: high.X + h, Y: high.Y + h}
}

// pieceLabels names the pieces that have a mass, weight or name of their own.
func (s *scene) pieceLabels(i int) {
	b := &s.l.Bodies[i]
	for k := range b.Pieces {
		p := &b.Pieces[k]
		var text [][]draw.Run
		density := shown(p.Density)
		if p.Hole {
			density = "" // that of what was cut out is the sheet's
		}
		if v := firstOf(shown(p.Mass), shown(p.Weight), density); v != "" {
			text = [][]draw.Run{plain(v)}
		}
		if p.Label != "" {
			text = append([][]draw.Run{plain(shorten(p.Label))}, text...)
		}
		var c statics.Vec
		all := pieceCorners(p)
		for _, v := range all {
			c = statics.Vec{X: c.X + v.X/float64(len(all)), Y: c.Y + v.Y/float64(len(all))}
		}
		at := s.on(i, statics.Vec{X: b.Origin.X + c.X*b.Axis.X - c.Y*b.Axis.Y, Y: b.Origin.Y + c.X*b.Axis.Y + c.Y*b.Axis.X})
		_, h := s.measure([][]draw.Run{nil})
		switch p.Kind {
		case question.RodPiece, question.PointMass:
			s.label("piece-"+slug(p.Name), "name", draw.Black, text, spot{at, pt{X: 0.7, Y: -0.7}, s.rod()/2 + 0.3*s.size})
		default:
			low, high := at, at
			for _, v := range all {
				q := s.on(i, statics.Vec{X: b.Origin.X + v.X*b.Axis.X - v.Y*b.Axis.Y, Y: b.Origin.Y + v.X*b.Axis.Y + v.Y*b.Axis.X})
				low, high = pt{X: min(low.X, q.X), Y: min(low.Y, q.Y)}, pt{X: max(high.X, q.X), Y: max(high.Y, q.Y)}
			}
			s.addLabel(label{id: "piece-" + slug(p.Name), class: "name", ink: draw.Black, text: text, of: &box{low, high}, spots: []spot{{along(at, pt{Y: -1}, h/2), pt{Y: 1}, 0}}})
		}
	}
}

// centreOfMass marks G where the question gives it.
func (s *scene) centreOfMass(i int) {
	b := &s.l.Bodies[i]
	if !b.Body.Centre.Set() || b.Body.Centre.At.Status == question.Unknown {
		return
	}
	s.markG(s.on(i, b.Centre), b.Name)
}

// markG paints a circle with opposite quarters filled, and G beside it.
func (s *scene) markG(c pt, name string) {
	r := 2 + 0.2*s.size
	s.begin(carried, "centre-"+slug(name), "centre", "")
	s.circle(draw.Black, s.thin, draw.Paper, c, r)
	for _, from := range []float64{0, math.Pi} {
		points := append(draw.Arc{Centre: c, Radius: r, From: from, To: from + math.Pi/2}.Flatten(0.02*r), c)
		s.path(draw.Style{Fill: draw.Black}, true, 0, points...)
	}
	s.end()
	s.label("G-"+slug(name), "name", draw.Black, [][]draw.Run{plain("G")}, spot{c, pt{X: 0.3, Y: -1}, r + 0.35*s.size}, spot{c, pt{X: 0.3, Y: 1}, r + 0.35*s.size})
}

// points marks the named points of a body.
func (s *scene) points() {
	for i := range s.l.Question.Points {
		p := &s.l.Question.Points[i]
		at := s.l.Point(p.Place)
		body := s.bodyOf(p.Place.Body)
		if s.o.View != Sketch && !s.o.Together && body != bodyNumber(s.l, s.o) {
			continue
		}
		c := s.on(body, at)
		if !sane(c) {
			continue
		}
		s.begin(carried, "point-"+slug(p.Name), "point", "")
		s.dotAt(draw.Black, c, 1.2+0.08*s.size)
		s.end()
		s.label("name-"+slug(p.Name), "name", draw.Black, [][]draw.Run{plain(shorten(p.Name))},
			spot{c, pt{X: 0.3, Y: -1}, s.half(body) + 0.3*s.size}, spot{c, pt{X: 0.3, Y: 1}, s.half(body) + 0.3*s.size})
	}
}

func (s *scene) bodyOf(name string) int {
	for i := range s.l.Bodies {
		if s.l.Bodies[i].Name == name {
			return i
		}
	}
	return statics.Ground
}

// bodyWords is what is written beside a body.
func bodyWords(b *question.Body) string {
	name := shorten(bodyCalled(b))
	if b.Uniform {
		name = "uniform " + name
	} else if b.Light {
		name = "light " + name
	}
	if v := firstOf(shown(b.Weight), shown(b.Mass)); v != "" {
		name += ", " + v
	}
	return name
}

// bodyCalled is what the wording calls a body, without its article; a letter is no noun.
func bodyCalled(b *question.Body) string {
	name := called(b.Label, b.Name)
	if len(name) == 1 {
		return "body " + name
	}
	return name
}

// called is what the wording calls a thing, without its article.
func called(label, name string) string {
	if label == "" {
		return name
	}
	for _, article := range []string{"the ", "The ", "a ", "A ", "an ", "An "} {
		label = strings.TrimPrefix(label, article)
	}
	return label
}

func firstOf(all ...string) string {
	for _, s := range all {
		if s != "" {
			return s
		}
	}
	return ""
}

// slug makes a name fit for an id.
func slug(name string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case 'a' <= r && r <= 'z', 'A' <= r && r <= 'Z', '0' <= r && r <= '9', r == '-', r == '_', r == '.':
			return r
		case r > 0x7f:
			return r
		}
		return '-'
	}, name)
}
