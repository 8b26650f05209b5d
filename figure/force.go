package figure

import (
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// A force is an arrow of a force diagram, or a couple.
type force struct {
	thing    string      // the name of what exerts it, or of the load or body
	id, kind string      // kind in words: "weight of the plank", "reaction of P"
	letter   string      // its symbol, with what stands below it
	sub      string      //
	at       statics.Vec // of the plane, metres
	dir      pt          // on the page, length 1
	size     float64     // N or N m; NaN if unknown
	couple   int         // 1 anticlockwise, -1 clockwise; 0 for a force
	text     string      // its size in print; "" if unknown
	ink      draw.Ink
	from, to statics.Vec // ends of a spread load
	spread   bool

	tail, tip pt // as drawn
}

// forcesDrawn lists the forces of a diagram: on one body, or on all taken together, where those between them drop out.
func forcesDrawn(l *answer.Layout, o Options) []force {
	if !o.Together {
		return forcesOn(l, o, bodyNumber(l, o))
	}
	var out []force
	outer := *l
	outer.Supports = slices.DeleteFunc(slices.Clone(l.Supports), func(u answer.Support) bool { return u.On >= 0 && u.By >= 0 })
	for i := range l.Bodies {
		out = append(out, forcesOn(&outer, o, i)...)
	}
	return out
}

// forcesOn lists every force on a body: its weight, the loads, then what each support exerts.
func forcesOn(l *answer.Layout, o Options, body int) []force {
	b := &l.Bodies[body]
	var out []force
	if b.Weight != 0 && !b.Light {
		w := force{thing: b.Name, id: "weight-" + slug(b.Name), kind: "weight of " + bodyCalled(b.Body), letter: "W", at: b.Centre, dir: pt{Y: 1}, size: b.Weight, ink: draw.Deep}
		if len(l.Bodies) > 1 || len(l.Loads) > 0 {
			w.sub = b.Name
		}
		if w.text = shown(b.Body.Weight); w.text == "" {
			w.text = computed(l, b.Weight, quantity.Force)
		}
		if finite(b.Centre.X) && finite(b.Centre.Y) {
			out = append(out, w)
		}
	}
	for i := range l.Loads {
		if d := &l.Loads[i]; d.Load != nil && d.On == body {
			out = append(out, loadForce(l, d))
		}
	}
	for i := range l.Supports {
		if u := &l.Supports[i]; u.Support != nil && (u.On == body || u.By == body) {
			out = append(out, reactions(l, o, u, body)...)
		}
	}
	for i := range out {
		out[i].take(o.Stage)
	}
	return slices.DeleteFunc(out, func(f force) bool { return !finite(f.at.X) || !finite(f.at.Y) || f.size == 0 })
}

func loadForce(l *answer.Layout, d *answer.Load) force {
	f := force{thing: d.Name, id: "load-" + slug(d.Name), kind: "load " + who(d.Name, d.Label), at: d.At, ink: draw.Deep}
	f.letter, f.sub = answer.LoadSymbol(d.Load)
	switch d.Kind {
	case question.Couple:
		f.size, f.couple = math.Abs(d.Couple), -1
		if d.Anticlockwise {
			f.couple = 1
		}
		if d.Couple != 0 && finite(d.Couple) {
			f.couple = int(math.Copysign(1, d.Couple))
		}
		f.text = shown(d.Load.Size)
		return f
	case question.Spread:
		f.spread, f.from, f.to = true, d.From, d.To
	}
	f.dir, f.size = unit(page(d.Force)), math.Hypot(d.Force.X, d.Force.Y)
	if !finite(f.size) {
		f.dir, f.size = pt{Y: 1}, math.NaN()
		if v := page(d.Unit); norm(v) > 0 {
			f.dir = unit(v)
		}
	}
	if f.text = firstOf(shown(d.Load.Weight)); d.Kind == question.Force {
		f.text = shown(d.Load.Size)
	}
	if f.text == "" {
		f.text = limitOr(l, d.Name, f.size)
	}
	return f
}

// limitOr writes a load that was found: one that is asked for as a least or greatest is rounded to the safe
// side, as its answer is.
func limitOr(l *answer.Layout, name string, size float64) string {
	if !finite(size) {
		return ""
	}
	for i := range l.Question.Parts {
		p := &l.Question.Parts[i]
		if p.Thing != name || p.OfAngle || p.Ask != question.AskLeast && p.Ask != question.AskGreatest {
			continue
		}
		way := answer.Up
		if p.Ask == question.AskGreatest {
			way = answer.Down
		}
		return quantity.Typeset(answer.Round(size, answer.UnitFor(l.Question, quantity.Force), answer.Figures(l.Question, p), way))
	}
	return computed(l, size, quantity.Force)
}

// reactions are the arrows of one support on a body: along its line, or level and upright
// components, and friction apart from the normal force. Without forces found, they point as the
// support pushes or pulls, and carry no size.
func reactions(l *answer.Layout, o Options, u *answer.Support, body int) []force {
	sign := 1.0
	if u.On != body {
		sign = -1
	}
	found := found(l, o, u.Name)
	at := u.At
	switch {
	case sign < 0 && u.HasFar && (u.Kind == question.Cable || u.Kind == question.Strut || u.Kind == question.Link):
		at = u.Far // a cable pulls the other body at its other end
	case found != nil && u.HasFar && finite(found.At.X) && finite(found.At.Y):
		at = found.At // the normal force of a flat contact acts where equilibrium puts it
	}
	id := "force-" + slug(u.Name)
	by := who(u.Name, u.Label)
	var out []force
	give := func(letter, kind string, v pt, size float64, known bool) {
		if known && math.Abs(size) < 1e-9*(1+scaleOf(o)) {
			return
		}
		if size < 0 {
			v, size = mul(-1, v), -size
		}
		f := force{thing: u.Name, id: id, kind: kind + by, letter: letter, sub: u.Name, at: at, dir: unit(mul(sign, v)), size: math.NaN(), ink: draw.Second}
		if letter == "" {
			f.letter, f.sub = answer.Symbol(u.Support)
		}
		if known {
			f.size, f.text = size, computed(l, size, quantity.Force)
			if r := u.Reading; letter == "" && r.Known() && math.Abs(r.Quantity.SI()-size) < 1e-9*size { // as it is given
				f.text = shown(r)
			}
		}
		if len(out) > 0 {
			f.id += "-" + string(rune('a'+len(out)))
		}
		out = append(out, f)
	}
	known := found != nil
	var x, y, c, n, t float64
	if known {
		x, y, c, n, t = found.X, found.Y, found.Couple, found.N, found.F
	}
	normal := page(u.Normal)
	if !sane(normal) || norm(normal) == 0 {
		normal = pt{Y: -1}
	}
	switch u.Kind {
	case question.Hinge, question.Pivot, question.Clamp:
		if !known {
			x, y, c = 1, 1, 1
		}
		if sideways := math.Abs(x) > 1e-9*(1+scaleOf(o)); known && !sideways || !known && !anySideways(l) {
			give("", "force of ", pt{Y: -1}, y, known)
		} else {
			give("X", "horizontal force of ", pt{X: 1}, x, known)
			give("Y", "vertical force of ", pt{Y: -1}, y, known)
		}
		if u.Kind == question.Clamp && (!known || math.Abs(c) > 1e-9*(1+scaleOf(o))) {
			f := force{thing: u.Name, id: id + "-couple", kind: "couple of " + by, letter: "C", sub: u.Name, at: at, size: math.NaN(), couple: int(math.Copysign(1, sign*c)), ink: draw.Second}
			if known {
				f.size = math.Abs(c)
				f.text = computed(l, c, quantity.Moment)
			}
			out = append(out, f)
		}
	case question.Cable, question.Link, question.Meter, question.Spring, question.Strut:
		kind := "tension of "
		switch u.Kind {
		case question.Strut:
			kind = "thrust of "
		case question.Meter, question.Spring:
			kind = "pull of "
		}
		if !known {
			n = 1
		} else if n == 0 {
			n = dot(pt{X: x, Y: -y}, normal)
		}
		give("", kind, normal, n, known)
	default:
		rough := u.Rough || u.Mu > 0 || math.IsNaN(u.Mu)
		if !known {
			n, t = 1, 1
		} else if n == 0 && t == 0 {
			n = dot(pt{X: x, Y: -y}, normal)
			t = dot(pt{X: x, Y: -y}, mul(-1, left(normal)))
		}
		if !rough || known && math.Abs(t) <= 1e-9*(1+scaleOf(o)) {
			give("", "force of ", normal, n, known)
		} else {
			give("N", "normal force of ", normal, n, known)
			give("F", "friction of ", mul(-1, left(normal)), t, known)
		}
	}
	return out
}

// who is a thing's name with what the wording calls it.
func who(name, label string) string {
	if label == "" || label == name {
		return name
	}
	return name + " (" + called(label, name) + ")"
}

// anySideways reports whether anything may push or pull other than straight up or down: leaning bodies on a common pin
// thrust each other sideways under upright loads alone.
func anySideways(l *answer.Layout) bool {
	leans := false
	for i := range l.Bodies {
		leans = leans || math.Abs(l.Bodies[i].Axis.Y) > 1e-9
	}
	for i := range l.Loads {
		if v := l.Loads[i].Unit; math.Abs(v.X) > 1e-9 {
			return true
		}
	}
	for i := range l.Supports {
		u := &l.Supports[i]
		pin := u.By >= 0 && (u.Kind == question.Hinge || u.Kind == question.Pivot)
		if math.Abs(u.Normal.X) > 1e-9 || u.Rough || u.Mu > 0 || pin && leans {
			return true
		}
	}
	return false
}

// scaleOf is the size of the largest force found.
func scaleOf(o Options) float64 {
	most := 0.0
	for _, f := range o.Forces {
		most = max(most, math.Hypot(f.X, f.Y))
	}
	if !finite(most) {
		return 0
	}
	return most
}

// found is the force found for a support, as it acts on the support's own body; nil if there is none.
func found(l *answer.Layout, o Options, name string) *answer.Force {
	for i := range o.Forces {
		if f := &o.Forces[i]; f.Name == name && finite(f.X) && finite(f.Y) {
			return f
		}
	}
	return nil
}

// lengths sets how long each arrow is, as the options say.
func (s *scene) lengths(forces []force) []float64 {
	longest, shortest := 3*s.size+34, 1.7*s.head+0.4*s.size
	out := make([]float64, len(forces))
	var sizes []float64
	for _, f := range forces {
		if f.couple == 0 && finite(f.size) && !slices.ContainsFunc(sizes, func(v float64) bool { return math.Abs(v-f.size) <= 1e-6*v }) {
			sizes = append(sizes, f.size)
		}
	}
	slices.Sort(sizes)
	for i, f := range forces {
		out[i] = (longest + shortest) / 2
		if !finite(f.size) || len(sizes) < 2 || s.o.Lengths == Equal {
			continue
		}
		switch s.o.Lengths {
		case Scaled:
			out[i] = max(longest*f.size/sizes[len(sizes)-1], shortest)
		case Ordered:
			rank, _ := slices.BinarySearchFunc(sizes, f.size, func(a, b float64) int {
				if math.Abs(a-b) <= 1e-6*a {
					return 0
				}
				if a < b {
					return -1
				}
				return 1
			})
			low := max(shortest, 0.5*longest)
			out[i] = low + (longest-low)*float64(rank)/float64(len(sizes)-1)
		}
	}
	return out
}

// forceDiagram paints one body alone with every force on it.
func (s *scene) forceDiagram() {
	if len(s.l.Bodies) == 0 {
		return
	}
	i := bodyNumber(s.l, s.o)
	forces := forcesDrawn(s.l, s.o)
	if s.o.Together {
		for k := range s.l.Bodies {
			if k != i {
				s.body(k)
			}
		}
	}
	s.body(i)
	s.layForces(i, forces)
	for k := range forces {
		s.forceArrow(i, &forces[k])
	}
	s.points()
	if s.o.View == Moment {
		s.pivot(i, forces)
	} else {
		s.bodyAngle(i)
		if !s.o.HideDistances && s.crowding < byLetters { // the sketch gives them; forces come first here
			s.bodyDistances(i)
		}
	}
	s.forceNames(forces)
}

// layForces finds where each arrow goes: tail at its point, parallel ones at one point a little apart.
func (s *scene) layForces(body int, forces []force) {
	lengths := s.lengths(forces)
	for k := range forces {
		f := &forces[k]
		p := s.on(body, f.at)
		if f.couple == 0 {
			n := 0
			for j := range k {
				if g := &forces[j]; g.couple == 0 && dot(g.dir, f.dir) > 0.99 && math.Abs(cross(sub(p, s.on(body, g.at)), f.dir)) < 0.5*s.head && norm(sub(p, s.on(body, g.at))) < 0.7*lengths[j] {
					n++
				}
			}
			if n > 0 { // 1 to the right, 2 to the left, ...
				side := float64((n+1)/2) * 0.75 * s.head
				if n%2 == 0 {
					side = -side
				}
				across := left(f.dir)
				if across.X < 0 {
					across = mul(-1, across)
				}
				p = along(p, across, side)
			}
		}
		f.tail, f.tip = p, along(p, f.dir, lengths[k])
	}
}

func (s *scene) forceArrow(body int, f *force) {
	ink := f.ink
	if s.setBack(f) {
		ink = draw.Faint
	}
	title := f.words()
	if s.unsized(f) {
		title = f.kind
	}
	s.begin(arrows, f.id, "force", title)
	s.veil = s.arrowVeil(f)
	defer s.end()
	if f.couple != 0 {
		r := 1.35*s.size + s.half(body)*0.5
		s.turning(ink, s.force*0.85, heavy, f.tail, r, f.couple > 0, math.Pi/2, s.head)
		return
	}
	if f.spread {
		a, b := s.on(body, f.from), s.on(body, f.to)
		h := pt{Y: -s.half(body) - 0.5*s.size - 2}
		s.line(ink, s.thin, light, add(a, pt{Y: -s.half(body)}), add(a, h), add(b, h), add(b, pt{Y: -s.half(body)}))
	}
	s.arrow(ink, f.tail, f.tip)
	s.dotAt(ink, f.tail, 0.85*s.force)
}

// words names a force for a screen reader.
func (f *force) words() string {
	w := f.kind
	if f.text != "" {
		w += ", " + f.text
	}
	return w
}

// forceNames asks for each arrow's symbol and size.
func (s *scene) forceNames(forces []force) {
	for k := range forces {
		f := &forces[k]
		runs := s.symbolRuns(f.letter, f.sub)
		short := runs
		if f.text != "" && !s.o.HideValues {
			runs = append(runs, draw.Run{Text: " = " + f.text})
		}
		ink := draw.Black
		if s.setBack(f) {
			ink = draw.Grey
		}
		l := label{id: "name-" + f.id, class: "name", ink: ink, text: [][]draw.Run{runs}, veil: s.arrowVeil(f), still: s.armVeil(f) == hidden}
		if s.unsized(f) {
			l.short = [][]draw.Run{short}
		}
		if s.o.View == Moment && !s.throughPivot(f) {
			l.turn = s.sense(f)
		}
		if f.couple != 0 {
			r := 1.35*s.size + 6
			l.spots = []spot{{f.tail, pt{X: 0.7, Y: -0.7}, r + 0.3*s.size}, {f.tail, pt{X: -0.7, Y: -0.7}, r + 0.3*s.size}, {f.tail, pt{X: 0.5, Y: 1}, r + 0.3*s.size}}
		} else {
			mid := mul(0.5, add(f.tail, f.tip))
			side := left(f.dir)
			if side.X < 0 {
				side = mul(-1, side)
			}
			l.spots = []spot{{f.tip, f.dir, 0.35 * s.size}, {mid, side, 0.5 * s.size}, {mid, mul(-1, side), 0.5 * s.size}}
		}
		s.addLabel(l)
	}
}
