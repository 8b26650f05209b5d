package slip

import (
	"math"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/solution"
	"steelyard/statics"
)

// A Reckoner works a plan out with one set of numbers after another. It is for one goroutine.
type Reckoner struct {
	p       *Plan
	numbers [][]number // by scene and force
	bodies  [][]extent // by scene
	mu      []float64  // by support
	normals []statics.Vec
	supAt   []float64 // by support: metres along its body
	loadAt  []float64
	spreads []spread // by load
	field   float64
	right   []float64 // by slot
	truth   []float64 // of the main arrangement's unknowns, everything being right
	values  []float64 // of the main arrangement's unknowns
	local   [][]float64
	buf     sum
	with    sum
	spare   sum
	last    reply
	lines   []sum // right lines whose arms don't hang on what is found, by number
	touched []bool
	record  *[]Line
	layouts []*answer.Layout
	own     []float64 // by slot: a pupil's own answers, to go on from; nil: none
}

// A number is what a force's numbers are in one candidate.
type number struct {
	at, way       statics.Vec
	along, byMark float64 // metres along the bodies that it acts on and that exert it
	value         float64 // N; NaN if unknown
	factor        float64
	mass          bool // it was given as a mass
	kilo          bool // it was given in kN, or as a mass in g
}

type extent struct {
	origin, axis   statics.Vec
	length, centre float64
	zeroRight      bool
	level, uniform bool
}

func (b *extent) at(along float64) statics.Vec {
	return statics.Vec{X: b.origin.X + along*b.axis.X, Y: b.origin.Y + along*b.axis.Y}
}

func (b *extent) distance(v statics.Vec) float64 {
	return (v.X-b.origin.X)*b.axis.X + (v.Y-b.origin.Y)*b.axis.Y
}

// scale turns metres from the left end into a place on the body's scale, and back.
func (b *extent) scale(along float64) float64 {
	if b.zeroRight {
		return b.length - along
	}
	return along
}

type spread struct{ from, to, per float64 }

// Reckoner makes a reckoner for the plan.
func (p *Plan) Reckoner() *Reckoner {
	r := &Reckoner{p: p, right: make([]float64, len(p.Slots))}
	l := p.Answers.Layout
	r.mu, r.normals = make([]float64, len(l.Supports)), make([]statics.Vec, len(l.Supports))
	r.supAt, r.loadAt, r.spreads = make([]float64, len(l.Supports)), make([]float64, len(l.Loads)), make([]spread, len(l.Loads))
	for _, s := range p.scenes {
		r.numbers = append(r.numbers, make([]number, len(s.forces)))
		r.bodies = append(r.bodies, make([]extent, len(l.Bodies)))
		r.local = append(r.local, make([]float64, len(s.unknowns)))
	}
	r.values, r.truth = make([]float64, len(p.scenes[0].unknowns)), make([]float64, len(p.scenes[0].unknowns))
	r.layouts, r.lines = make([]*answer.Layout, len(p.scenes)), make([]sum, p.lines)
	return r
}

// Take takes the numbers of a question of the same kind as the plan's. Where an angle is unknown, the angle of
// the plan's own question stands in for it: lengths along the body are what counts.
func (r *Reckoner) Take(q *question.Question) error {
	l, err := lay(q, r.p.scenes[0].angles)
	if err != nil {
		return err
	}
	for i, s := range r.p.scenes {
		r.layouts[i] = l
		if i > 0 && !sameAngles(s.angles, r.p.scenes[0].angles) {
			if r.layouts[i], err = lay(q, s.angles); err != nil {
				return err
			}
		}
	}
	r.take()
	return nil
}

func lay(q *question.Question, angles []angle) (*answer.Layout, error) {
	if len(angles) > 0 {
		q = q.Clone()
		u, _ := quantity.UnitNamed("deg")
		for _, a := range angles {
			q.Bodies[a.body].Angle = question.Value{Quantity: quantity.Of(a.at, u), Status: question.Given}
		}
	}
	return answer.Lay(q)
}

func sameAngles(a, b []angle) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

func (r *Reckoner) take() {
	for i := range r.lines {
		r.lines[i].s = nil
	}
	l := r.layouts[0]
	r.field = l.Field
	for n := range r.layouts {
		for i := range r.layouts[n].Bodies {
			b := &r.layouts[n].Bodies[i]
			r.bodies[n][i] = extent{b.Origin, b.Axis, b.Length, b.Along, b.ZeroRight, b.Level(), b.Uniform}
		}
	}
	for i := range l.Supports {
		s := &l.Supports[i]
		r.mu[i], r.normals[i] = s.Mu, s.Normal
		r.supAt[i] = r.bodies[0][s.On].distance(s.At)
	}
	for i := range l.Loads {
		d := &l.Loads[i]
		b := &r.bodies[0][d.On]
		r.loadAt[i] = b.distance(d.At)
		if d.Kind == question.Spread {
			r.spreads[i] = spread{b.distance(d.From), b.distance(d.To), d.PerMetre}
		}
	}
	for i := range r.p.scenes {
		r.takeScene(i, r.layouts[i])
	}
}

func (r *Reckoner) takeScene(n int, l *answer.Layout) {
	s := r.p.scenes[n]
	for i := range s.forces {
		f := &s.forces[i]
		x := number{way: f.Way, factor: f.Factor, value: math.NaN()}
		switch f.from {
		case body:
			b := &l.Bodies[f.i]
			x.at, x.value, x.mass = b.Centre, b.Weight, b.Body.Mass.Known() || len(b.Pieces) > 0
			x.kilo = b.Body.Weight.Known() && b.Body.Weight.Unit.Power == 3 || b.Body.Mass.Known() && b.Body.Mass.Unit.Power == -3
		case load:
			d := &l.Loads[f.i]
			x.at = d.At
			switch d.Kind {
			case question.Force:
				x.way, x.value = d.Unit, d.Force.X*d.Unit.X+d.Force.Y*d.Unit.Y
			case question.Couple:
				x.value = d.Couple * f.Turn
			default:
				x.value, x.mass = -d.Force.Y, d.Mass.Known() || d.Kind == question.Spread && d.Size.Unit.Symbol == "kg/m"
				x.kilo = d.Weight.Known() && d.Weight.Unit.Power == 3 || d.Mass.Known() && d.Mass.Unit.Power == -3
			}
		case support:
			p := &l.Supports[f.i]
			x.at = p.At
			switch {
			case f.Kind == solution.Friction:
				x.way = statics.Vec{X: f.sign * p.Normal.Y, Y: -f.sign * p.Normal.X}
			case f.Kind == solution.Normal, f.Kind == solution.Reaction && p.Normal != (statics.Vec{}):
				x.way = p.Normal
			}
			if p.Reading.Known() {
				x.value = p.Reading.SI()
			}
			if f.Kind == solution.Friction && f.Tied != "" {
				x.factor = p.Mu
			}
		case leftEnd:
			x.at = l.Bodies[f.i].At(0)
		case rightEnd:
			x.at = l.Bodies[f.i].At(l.Bodies[f.i].Length)
		}
		if f.Zero != "" {
			x.value = 0
		}
		if f.Size >= 0 {
			x.value = math.NaN()
		}
		b := &l.Bodies[f.On]
		x.along = (x.at.X-b.Origin.X)*b.Axis.X + (x.at.Y-b.Origin.Y)*b.Axis.Y
		if f.By >= 0 {
			c := &l.Bodies[f.By]
			x.byMark = (x.at.X-c.Origin.X)*c.Axis.X + (x.at.Y-c.Origin.Y)*c.Axis.Y
		}
		r.numbers[n][i] = x
	}
}

// Right works out the right answers, by slot. The list is overwritten by the next call.
func (r *Reckoner) Right() []float64 {
	r.run(nil, r.right)
	copy(r.truth, r.values)
	return r.right
}

// Wrong works out what one slip, or several at once, lead to, by slot. Right has to be called first.
// NaN says that the slip leaves no number.
func (r *Reckoner) Wrong(out []float64, cases ...*Case) { r.run(cases, out) }

// run works all parts out in order.
func (r *Reckoner) run(cases []*Case, out []float64) {
	for i := range r.values {
		r.values[i] = math.NaN()
	}
	for i := range r.p.parts {
		x := &r.p.parts[i]
		if len(x.slots) == 0 {
			continue
		}
		for k := range x.chains {
			v := r.chain(i, &x.chains[k], cases)
			if x.finish == target {
				z := &r.last
				*z = reply{r: r, x: x, v: v, scene: x.chains[k].scene, last: &x.chains[k].moves[len(x.chains[k].moves)-1], number: -1}
				z.end = x.chains[k].end
				out[x.slots[k]] = r.reply(z, x.slots[k], cases)
			}
		}
		if len(x.slots) == 2 && x.finish == target { // a range is told from its lower end
			if low, high := x.slots[0], x.slots[1]; out[low] > out[high] {
				out[low], out[high] = out[high], out[low]
			}
		}
		if x.finish != target {
			z := &r.last
			*z = reply{r: r, x: x, number: -1}
			r.finish(i, z, cases)
			if n := len(x.chains); n > 0 && len(x.chains[n-1].moves) > 0 {
				c := &x.chains[n-1]
				z.scene, z.last = c.scene, &c.moves[len(c.moves)-1]
			}
			for _, s := range x.slots {
				if x.finish == given {
					z.v = math.NaN()
				}
				out[s] = r.reply(z, s, cases)
			}
			if r.own != nil {
				r.goOn(x, z.number, z.v)
			}
		}
	}
	if len(r.p.Slots) > 0 && cases == nil && r.own == nil && &out[0] == &r.right[0] {
		copy(r.truth, r.values)
	}
}

// chain works one chain out and puts what it finds among the values.
func (r *Reckoner) chain(part int, c *chain, cases []*Case) float64 {
	s := r.p.scenes[c.scene]
	values := r.local[c.scene]
	for i := range values {
		values[i] = math.NaN()
		if c.carry[i] {
			if m := s.main[i]; m >= 0 {
				values[i] = r.values[m]
			}
		}
	}
	for i := range c.moves {
		m := &c.moves[i]
		x := &r.buf
		r.write(x, c.scene, m, values)
		x.part, x.index = part, i
		for _, k := range cases {
			if k.Slip.line != nil && k.Slip.line(x, x.target(k.of)) {
				r.touch(part, x, k)
			}
		}
		if m.with != nil {
			y := &r.with
			r.write(y, c.scene, m.with, values)
			y.part, y.index, y.second = part, i, true
			for _, k := range cases {
				if k.Slip.line != nil && k.Slip.line(y, y.target(k.of)) {
					r.touch(part, y, k)
				}
			}
			values[m.gives], values[m.also] = pair(x, y, m.gives, m.also, values)
			continue
		}
		x.value = x.solve(values)
		for _, k := range cases {
			if k.Slip.found != nil && k.Slip.found(x, x.target(k.of)) {
				r.touch(part, x, k)
			}
		}
		values[m.gives] = x.value
	}
	for i, v := range values {
		if m := s.main[i]; m >= 0 && c.scene == 0 {
			if !math.IsNaN(v) {
				r.values[m] = v
			}
		}
	}
	if c.end < 0 {
		return math.NaN()
	}
	return values[c.end]
}

// touch notes that a slip has changed something in a part.
func (r *Reckoner) touch(part int, x *sum, k *Case) {
	if r.touched != nil {
		for _, s := range r.p.parts[part].slots {
			r.touched[s] = true
		}
	}
	if r.record != nil {
		r.note(part, x, k)
	}
}

// finish puts the part's answer together.
func (r *Reckoner) finish(part int, z *reply, cases []*Case) {
	x := z.x
	switch x.finish {
	case unknown:
		z.v, z.number = r.values[x.number], x.number
		if x.Ask == question.AskMass {
			z.v /= r.field
		}
	case size:
		f := x.forces[0]
		z.number = r.p.scenes[0].forces[f].Size
		z.v = r.sizeOf(f)
		if n := r.normals[r.supportOf(f)]; n == (statics.Vec{}) || x.Ask == question.AskForceOn {
			z.v = math.Abs(z.v)
		}
	case resultant, heading:
		for k, f := range x.forces {
			v, n := r.sizeOf(f), &r.numbers[0][f]
			if k < 2 {
				z.parts[k] = v
			}
			z.fx, z.fy = z.fx+v*n.way.X, z.fy+v*n.way.Y
			z.number = r.p.scenes[0].forces[f].Size
		}
		z.v = math.Hypot(z.fx, z.fy)
		if x.finish == heading {
			z.v = math.Atan2(z.fy, z.fx)
		}
	case along:
		d := x.dir
		switch n := r.normals[r.supportOf(x.forces[0])]; x.Ask {
		case question.AskNormal:
			d = n
		case question.AskFriction:
			d = statics.Vec{X: n.Y, Y: -n.X}
		}
		for _, f := range x.forces {
			n := &r.numbers[0][f]
			if c := n.way.X*d.X + n.way.Y*d.Y; math.Abs(c) > 1e-12 {
				z.v += c * r.sizeOf(f)
				z.number = r.p.scenes[0].forces[f].Size
			}
		}
	case moments:
		y := &r.buf
		r.write(y, 0, x.moment, r.values)
		y.part = part
		for _, k := range cases {
			if k.Slip.line != nil && k.Slip.line(y, y.target(k.of)) {
				r.touch(part, y, k)
			}
		}
		z.v = y.total(r.values)
	}
	z.v *= x.sign
}

func (r *Reckoner) supportOf(f int) int { return r.p.scenes[0].forces[f].i }

// sizeOf is the size of a force of the main arrangement, as found.
func (r *Reckoner) sizeOf(f int) float64 {
	x := &r.p.scenes[0].forces[f]
	if x.Size < 0 {
		return r.numbers[0][f].value
	}
	return r.numbers[0][f].factor * r.values[x.Size]
}

// A reply is a part's answer before it is written down.
type reply struct {
	r      *Reckoner
	x      *part
	v      float64
	fx, fy float64 // a support's force, put together
	parts  [2]float64
	scene  int
	last   *move
	end    int
	number int // the unknown of the main arrangement that it is, or −1
}

func (r *Reckoner) reply(z *reply, slot int, cases []*Case) float64 {
	if z.x.finish == target && z.x.result.Unit == "kg" {
		z.v /= r.field
	}
	for _, k := range cases {
		if k.Slip.answer != nil && k.Slip.answer(z, k.of) {
			if r.touched != nil {
				r.touched[slot] = true
			}
			if r.record != nil {
				r.noteAnswer(z, k)
			}
		}
	}
	return z.v
}

// SameSlants reports whether the numbers in hand leave upright and level forces upright and level: where a link
// hangs straight because two places agree, other numbers would make another picture.
func (r *Reckoner) SameSlants() bool {
	for i := range r.p.scenes[0].forces {
		base, now := r.p.scenes[0].forces[i].Way, r.numbers[0][i].way
		if math.Abs(base.X) < 1e-12 && math.Abs(now.X) > 1e-9 || math.Abs(base.Y) < 1e-12 && math.Abs(now.Y) > 1e-9 {
			return false
		}
	}
	return true
}
