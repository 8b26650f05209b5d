package slip

import (
	"math"

	"steelyard/solution"
	"steelyard/statics"
)

// A sum is one line of a pupil's working in numbers: terms that add up to nothing, or a limiting friction.
type sum struct {
	r       *Reckoner
	scene   int
	s       *scene
	m       *move
	kind    solution.EquationKind
	terms   []term
	pivot   statics.Vec
	onBody  int     // along which distances are counted; −1 for none
	along   float64 // of the pivot, from the body's left end
	origin  float64 // that an unknown place is counted from: the pivot's place
	gives   int
	part    int
	index   int
	second  bool
	value   float64
	factor  float64 // by which the last division was
	mu      float64
	replace bool // the value doesn't come from the line: see value
	how     func(x *sum) wrongLine
}

// A term is one force in a sum, with its arm (or share) taken apart.
type term struct {
	f      int     // of the scene
	slant  float64 // metres along the body, or 1 in a balance
	trig   float64 // what takes it to the perpendicular distance, or the force to its share
	sense  float64 // +1 anticlockwise or along the direction, −1 the other way
	size   float64 // N; NaN while it is unknown
	u      int     // number of the unknown that its size is, or −1
	factor float64 // its size over that unknown
	along  float64 // metres from the body's left end
	on     bool    // its arm is counted along the pivot's body
	side   float64
	fn     string
	place  int
	out    bool // left out
	extra  bool // it is no term of the right line
	turn   bool // a couple: its moment is its size
}

// write fills x with the right line of a move.
func (r *Reckoner) write(x *sum, scene int, m *move, values []float64) {
	terms := x.terms[:0]
	if c := &r.lines[m.id]; c.s != nil {
		terms = append(terms, c.terms...)
		*x = *c
		x.terms = terms
		for i := range terms {
			if t := &terms[i]; t.u >= 0 {
				t.size = t.factor * values[t.u]
			}
		}
		return
	}
	defer func() {
		if c := &r.lines[m.id]; m.still {
			old := c.terms[:0]
			*c = *x
			c.terms = append(old, x.terms...)
		}
	}()
	*x = sum{r: r, scene: scene, s: r.p.scenes[scene], m: m, kind: m.kind, gives: m.gives, onBody: -1}
	switch m.kind {
	case solution.Limiting:
		x.mu = math.NaN()
		if m.contact >= 0 {
			x.mu = r.mu[m.contact]
		}
		x.terms = terms
		return
	case solution.Balance:
		d := r.direction(m)
		for i := 0; i < m.own; i++ {
			t := r.term(x, &m.terms[i], values)
			n := &r.numbers[scene][t.f]
			part := n.way.X*d.X + n.way.Y*d.Y
			t.slant, t.trig, t.sense = 1, math.Abs(part), t.side
			if part < 0 {
				t.sense = -t.side
			}
			if k := x.angleOf(t.f); k >= 0 && !math.IsNaN(values[k]) && t.fn != "" {
				t.trig = trigOf(t.fn, values[k])
			}
			terms = append(terms, t)
		}
		x.terms = terms
		return
	}
	r.place(x, values)
	for i := range m.terms {
		t := r.term(x, &m.terms[i], values)
		r.arm(x, &t, &m.terms[i], values)
		t.extra = i >= m.own && math.Abs(t.slant*t.trig) < 1e-9 || i >= m.gone
		t.out = i >= m.gone
		terms = append(terms, t)
	}
	x.terms = terms
}

// place finds where the pivot is.
func (r *Reckoner) place(x *sum, values []float64) {
	m := x.m
	l := r.layouts[x.scene]
	v := m.pivot.at
	switch m.pivot.from {
	case support:
		v = l.Supports[m.pivot.i].At
	case leftEnd:
		v = l.Bodies[m.pivot.i].At(0)
	case rightEnd:
		v = l.Bodies[m.pivot.i].At(l.Bodies[m.pivot.i].Length)
	case body:
		v = l.Bodies[m.pivot.i].Centre
	case load:
		v = l.Loads[m.pivot.i].At
	case crossing:
		a, b := &r.numbers[x.scene][m.pivot.i], &r.numbers[x.scene][m.pivot.j]
		v, _ = meet(a.at, a.way, b.at, b.way)
	}
	x.pivot, x.onBody = v, m.pivot.on
	if x.onBody >= 0 {
		b := x.bodyOf(x.onBody)
		x.along = b.distance(v)
		if at := b.at(x.along); math.Hypot(at.X-v.X, at.Y-v.Y) > 1e-9*(1+b.length) {
			x.onBody = -1 // beside the body's axis
		}
	}
	x.origin = x.along
}

// bodyOf is a body of the sum's scene.
func (x *sum) bodyOf(i int) *extent { return &x.r.bodies[x.scene][i] }

func (r *Reckoner) direction(m *move) statics.Vec {
	if m.dirOf < 0 {
		return m.dir
	}
	n := r.normals[m.dirOf]
	if m.across {
		return statics.Vec{X: m.flip * n.Y, Y: -m.flip * n.X}
	}
	return n
}

// term copies a force into a term.
func (r *Reckoner) term(x *sum, e *entry, values []float64) term {
	f, n := &x.s.forces[e.f], &r.numbers[x.scene][e.f]
	t := term{f: e.f, side: e.side, fn: e.fn, u: f.Size, factor: n.factor, size: n.value, along: n.along, place: f.Place, turn: f.Kind == solution.Turn}
	if f.Size >= 0 {
		t.size = n.factor * values[f.Size]
	}
	return t
}

// arm finds a term's distance from the pivot and its sense.
func (r *Reckoner) arm(x *sum, t *term, e *entry, values []float64) {
	f, n := &x.s.forces[t.f], &r.numbers[x.scene][t.f]
	if t.turn {
		t.slant, t.trig, t.sense = 1, 1, f.Turn*t.side
		return
	}
	b := x.bodyOf(f.On)
	at := n.at
	if t.place >= 0 {
		z := values[t.place]
		t.along = b.scale(z)
		at = b.at(t.along)
		t.on = x.onBody == f.On
		if math.IsNaN(z) {
			t.slant, t.trig, t.sense = math.NaN(), math.Abs(b.axis.X*n.way.Y-b.axis.Y*n.way.X), e.base
			return
		}
	}
	turn := (at.X-x.pivot.X)*n.way.Y - (at.Y-x.pivot.Y)*n.way.X
	t.sense = t.side
	if turn < 0 {
		t.sense = -t.side
	}
	axis := b.axis
	along := t.along
	if x.onBody >= 0 && x.onBody == f.By {
		axis, along = x.bodyOf(f.By).axis, n.byMark
		t.along = along
	}
	switch {
	case x.onBody >= 0 && (x.onBody == f.On || x.onBody == f.By) && x.onAxis(f, at):
		t.on = true
		t.slant = math.Abs(along - x.along)
		t.trig = math.Abs(axis.X*n.way.Y - axis.Y*n.way.X)
		if k := x.angleOf(t.f); k >= 0 && !math.IsNaN(values[k]) && t.fn != "" {
			t.trig = trigOf(t.fn, values[k])
		}
		if t.trig < 1e-12 {
			t.slant = 0
		}
		if t.trig > 1-1e-15 {
			t.trig = 1
		}
	default:
		t.slant, t.trig, t.on = math.Abs(turn), 1, false
	}
	if t.slant < 1e-10 {
		t.slant = 0
	}
}

func trigOf(fn string, angle float64) float64 {
	if fn == "sin" {
		return math.Abs(math.Sin(angle))
	}
	return math.Abs(math.Cos(angle))
}

// angleOf is the number of the unknown angle of the body that a force acts on; −1 if it is known.
func (x *sum) angleOf(f int) int {
	for k := range x.s.unknowns {
		if u := &x.s.unknowns[k]; u.Kind == solution.OfAngle && u.Body == x.s.forces[f].On {
			return k
		}
	}
	return -1
}

func (x *sum) onAxis(f *force, at statics.Vec) bool {
	b := x.bodyOf(x.onBody)
	off := (at.Y-b.origin.Y)*b.axis.X - (at.X-b.origin.X)*b.axis.Y
	return math.Abs(off) < 1e-9*(1+b.length)
}

// coefficient is what a term's force is multiplied by.
func (t *term) coefficient() float64 {
	if t.out {
		return 0
	}
	return t.sense * t.slant * t.trig
}

// solve finds the unknown that the line gives.
func (x *sum) solve(values []float64) float64 {
	switch {
	case x.replace:
		return x.value
	case x.kind == solution.Limiting:
		return x.limiting(values)
	case x.s.unknowns[x.gives].Kind == solution.OfPlace:
		return x.findPlace()
	case x.s.unknowns[x.gives].Kind == solution.OfAngle:
		return x.findAngle()
	}
	rest, factor := x.split(x.gives)
	x.factor = math.Abs(factor)
	if x.factor < 1e-12 {
		return math.NaN()
	}
	return -rest / factor
}

// split adds up what is known, and what unknown u is multiplied by.
func (x *sum) split(u int) (rest, factor float64) {
	for i := range x.terms {
		t := &x.terms[i]
		c := t.coefficient()
		switch {
		case c == 0:
		case t.u == u:
			factor += c * t.factor
		default:
			rest += c * t.size
		}
	}
	return rest, factor
}

// total is the moment of all terms.
func (x *sum) total(values []float64) float64 {
	m := 0.0
	for i := range x.terms {
		if c := x.terms[i].coefficient(); c != 0 {
			m += c * x.terms[i].size
		}
	}
	return m
}

func (x *sum) limiting(values []float64) float64 {
	m, mu := x.m, x.mu
	if m.mu >= 0 {
		mu = values[m.mu]
	}
	switch x.gives {
	case m.friction:
		return mu * values[m.normal]
	case m.normal:
		return values[m.friction] / mu
	}
	return values[m.friction] / values[m.normal]
}

func (x *sum) findPlace() float64 {
	rest := 0.0
	var t *term
	for i := range x.terms {
		y := &x.terms[i]
		if y.place == x.gives {
			t = y
			continue
		}
		if c := y.coefficient(); c != 0 {
			rest += c * y.size
		}
	}
	if t == nil {
		return math.NaN()
	}
	b := x.bodyOf(x.s.forces[t.f].On)
	way := x.r.numbers[x.scene][t.f].way
	per := (b.axis.X*way.Y - b.axis.Y*way.X) * t.size * t.side
	if math.Abs(per) < 1e-12 {
		return math.NaN()
	}
	origin := x.origin
	if x.onBody != x.s.forces[t.f].On && x.origin == x.along {
		origin = b.distance(x.pivot)
	}
	x.factor = math.Abs(t.size)
	return b.scale(origin - rest/per)
}

func (x *sum) findAngle() float64 {
	sin, cos := 0.0, 0.0
	for i := range x.terms {
		t := &x.terms[i]
		if t.out || t.extra && t.slant == 0 {
			continue
		}
		if t.turn || !t.on || t.fn == "" {
			return math.NaN()
		}
		if t.fn == "sin" {
			sin += t.sense * t.slant * t.size
		} else {
			cos += t.sense * t.slant * t.size
		}
	}
	if math.Abs(sin) <= 1e-9*math.Abs(cos) { // nothing across, or only dust
		return math.NaN()
	}
	return math.Atan2(math.Abs(cos), math.Abs(sin))
}

// pair solves two lines for two unknowns.
func pair(a, b *sum, u, v int, values []float64) (float64, float64) {
	of := func(x *sum, u int) float64 {
		if x.kind == solution.Limiting {
			switch u {
			case x.m.friction:
				return 1
			case x.m.normal:
				return -x.mu
			}
			return 0
		}
		_, f := x.split(u)
		return f
	}
	rest := func(x *sum) float64 {
		if x.kind == solution.Limiting {
			return 0
		}
		sum := 0.0
		for i := range x.terms {
			if t := &x.terms[i]; t.u != u && t.u != v {
				if c := t.coefficient(); c != 0 {
					sum -= c * t.size
				}
			}
		}
		return sum
	}
	p, q, c := of(a, u), of(a, v), rest(a)
	x, y, d := of(b, u), of(b, v), rest(b)
	det := p*y - q*x
	if det == 0 {
		return math.NaN(), math.NaN()
	}
	return (c*y - q*d) / det, (p*d - c*x) / det
}

// target is the force of the sum's scene that a slip falls on; −1 if it falls on none or that isn't there.
func (x *sum) target(of int) int {
	if of < 0 || x.s.fromMain == nil {
		return of
	}
	return x.s.fromMain[of]
}

// term is the term of a force, or nil.
func (x *sum) term(f int) *term {
	if f < 0 {
		return nil
	}
	for i := range x.terms {
		if x.terms[i].f == f {
			return &x.terms[i]
		}
	}
	return nil
}
