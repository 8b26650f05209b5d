package slip

import (
	"math"

	"steelyard/question"
	"steelyard/solution"
)

// Slips that share loads out without moments, and slips about angles, hinges, friction and limits.

// shared reports whether the line's unknown is the force of one of two supports, and whether that is the right-hand one.
func (x *sum) shared() (right, ok bool) {
	w := x.r.p.two
	if w == nil || x.gives < 0 || x.scene != 0 {
		return false, false
	}
	switch x.gives {
	case x.s.forces[w.p].Size:
		return false, true
	case x.s.forces[w.q].Size:
		return true, true
	}
	return false, false
}

func equalShares(x *sum, _ int) bool {
	if _, ok := x.shared(); !ok {
		return false
	}
	old := x.value
	x.value = x.down() / 2
	if x.r.record != nil {
		x.how = func(x *sum) wrongLine { return x.shareLine(func(int) float64 { return 0.5 }) }
	}
	return changes(old, x.value)
}

// share adds up what part of each weight and load goes to the unknown support.
func (x *sum) share(part func(f int) float64) float64 {
	sum := 0.0
	for i := range x.s.forces {
		if f := &x.s.forces[i]; !isSupport(f.Kind) && f.Kind != solution.Turn {
			if p := part(i); p != 0 {
				sum -= p * x.size(i) * x.r.numbers[x.scene][i].way.Y
			}
		}
	}
	return sum
}

func (x *sum) byShare(part func(f int) float64) bool {
	old := x.value
	x.value = x.share(part)
	if x.r.record != nil {
		x.how = func(x *sum) wrongLine { return x.shareLine(part) }
	}
	return changes(old, x.value)
}

func nearestTakesAll(x *sum, _ int) bool {
	right, ok := x.shared()
	if !ok || !x.r.p.loaded {
		return false
	}
	w := x.r.p.two
	p, q := x.r.numbers[0][w.p].along, x.r.numbers[0][w.q].along
	return x.byShare(func(f int) float64 {
		if x.s.forces[f].Kind == solution.Weight {
			return 0.5
		}
		at := x.r.numbers[x.scene][f].along
		near, far := math.Abs(at-p), math.Abs(at-q)
		if right {
			near, far = far, near
		}
		switch {
		case !changes(near, far):
			return 0.5
		case near < far:
			return 1
		}
		return 0
	})
}

// ofMoments is the part of a force at its place that goes to the unknown support.
func (x *sum) ofMoments(f int, right bool) float64 {
	w := x.r.p.two
	p, q := x.r.numbers[0][w.p].along, x.r.numbers[0][w.q].along
	at := x.r.numbers[x.scene][f].along
	if right {
		return (at - p) / (q - p)
	}
	return (q - at) / (q - p)
}

func halvesForLoads(x *sum, _ int) bool {
	right, ok := x.shared()
	return ok && x.r.p.loaded && x.byShare(func(f int) float64 {
		if x.s.forces[f].Kind == solution.Weight {
			return x.ofMoments(f, right)
		}
		return 0.5
	})
}

func halfForWeight(x *sum, _ int) bool {
	right, ok := x.shared()
	return ok && x.r.p.loaded && x.byShare(func(f int) float64 {
		if x.s.forces[f].Kind == solution.Weight {
			return 0.5
		}
		return x.ofMoments(f, right)
	})
}

// pulls reports whether a term is the tension of a cable, link or strut at a slant.
func (x *sum) pulls(t *term) bool {
	f := &x.s.forces[t.f]
	if f.Kind != solution.Reaction || f.from != support {
		return false
	}
	switch x.r.layouts[x.scene].Supports[f.i].Kind {
	case question.Cable, question.Link, question.Strut:
		return true
	}
	return false
}

func (x *sum) upright() bool {
	return x.kind == solution.Balance && math.Abs(x.m.dir.X) < 1e-12
}

func cableOutOfBalance(x *sum, _ int) bool {
	if !x.upright() {
		return false
	}
	for i := range x.terms {
		if t := &x.terms[i]; x.pulls(t) && !x.sought(t) && t.trig < 1 {
			return leave(t)
		}
	}
	return false
}

func wholeTensionInBalance(x *sum, _ int) bool {
	if x.kind != solution.Balance {
		return false
	}
	done := false
	for i := range x.terms {
		if t := &x.terms[i]; x.pulls(t) && !x.sought(t) && t.trig < 1 {
			t.trig, done = 1, true
		}
	}
	return done
}

func hingeOnlyUp(z *reply, _ int) bool {
	if z.x.finish != resultant || len(z.x.forces) != 2 || z.r.p.scenes[0].forces[z.x.forces[0]].Kind != solution.Across {
		return false
	}
	old := z.v
	z.v = math.Abs(z.fy)
	return changes(old, z.v)
}

func componentsAdded(z *reply, _ int) bool {
	if z.x.finish != resultant || len(z.x.forces) != 2 {
		return false
	}
	old := z.v
	z.v = math.Abs(z.parts[0]) + math.Abs(z.parts[1])
	return changes(old, z.v)
}

// contact finds the normal force and the coefficient that belong to the friction u.
func (x *sum) contact(u int) (normal int, mu float64, ok bool) {
	for i := range x.s.forces {
		f := &x.s.forces[i]
		if f.Kind != solution.Friction || f.Size != u || f.Tied != "" || f.from != support {
			continue
		}
		for j := range x.s.forces {
			if n := &x.s.forces[j]; n.Name == f.Name && n.Kind == solution.Normal && n.Size >= 0 {
				mu := x.r.mu[f.i]
				return n.Size, mu, mu > 0 && !math.IsInf(mu, 0) && !math.IsNaN(mu)
			}
		}
	}
	return 0, 0, false
}

func frictionAtLimit(x *sum, _ int) bool {
	if x.gives < 0 || x.kind == solution.Limiting || x.scene != 0 {
		return false
	}
	n, mu, ok := x.contact(x.gives)
	if !ok {
		return false
	}
	normal := x.r.values[n]
	if math.IsNaN(normal) {
		normal = x.r.local[0][n]
	}
	if math.IsNaN(normal) {
		normal = x.r.truth[n]
	}
	old := x.value
	x.value = mu * normal
	if x.r.record != nil {
		x.how = func(x *sum) wrongLine { return x.productLine(mu, normal) }
	}
	return changes(old, x.value)
}

func normalIsWeight(x *sum, _ int) bool {
	if !x.upright() {
		return false
	}
	done := false
	for i := range x.terms {
		if t := &x.terms[i]; x.sought(t) && x.s.forces[t.f].Kind == solution.Normal {
			for j := range x.terms {
				if y := &x.terms[j]; y.f != t.f && !x.isWeight(y) && !y.out && y.slant*y.trig > 0 {
					y.out, done = true, true
				}
			}
		}
	}
	return done
}

func upsideDown(z *reply, _ int) bool {
	old := z.v
	switch z.x.Ask {
	case question.AskCoefficient, question.AskLeastCoefficient:
		z.v = 1 / z.v
	case question.AskAngle:
		z.v = math.Pi/2 - z.v
	case question.AskDirection:
		if len(z.x.forces) == 2 && z.fx != 0 && z.fy != 0 {
			z.v = math.Atan2(math.Copysign(math.Abs(z.fx), z.fy), math.Copysign(math.Abs(z.fy), z.fx))
		}
	case question.AskGreatest, question.AskLeast:
		if !z.x.OfAngle {
			return false
		}
		z.v = math.Pi/2 - z.v
	default:
		return false
	}
	return changes(old, z.v)
}

// bothStillPush keeps the force that the lifting support had before.
func bothStillPush(x *sum, _ int) bool {
	if x.kind != solution.Moments || x.scene == 0 {
		return false
	}
	done := false
	for i := range x.terms {
		t := &x.terms[i]
		if !t.out || i < x.m.gone {
			continue
		}
		for j, k := range x.s.fromMain {
			if k != t.f || x.r.p.scenes[0].forces[j].Size < 0 {
				continue
			}
			v := x.r.truth[x.r.p.scenes[0].forces[j].Size]
			if math.IsNaN(v) {
				v = x.r.before(j)
			}
			if !math.IsNaN(v) && v != 0 {
				t.out, t.extra, t.size, t.u, done = false, false, v, -1, true
			}
		}
	}
	return done
}

// before is the force of one of two supports with the loads where the question puts them, by moments about the
// other; NaN where that can't be said.
func (r *Reckoner) before(f int) float64 {
	w, s := r.p.two, r.p.scenes[0]
	if w == nil || f != w.p && f != w.q {
		return math.NaN()
	}
	p, q := r.numbers[0][w.p].along, r.numbers[0][w.q].along
	if f == w.q {
		p, q = q, p
	}
	sum := 0.0
	for i := range s.forces {
		n := &r.numbers[0][i]
		switch {
		case isSupport(s.forces[i].Kind):
		case s.forces[i].Kind == solution.Turn:
			return math.NaN()
		default:
			sum -= n.way.Y * n.value * (q - n.along) / (q - p)
		}
	}
	return sum
}

// wrongEdge takes moments about the support that lifts and forgets the one that stays.
func wrongEdge(x *sum, _ int) bool {
	if !x.level() || x.scene == 0 {
		return false
	}
	o := math.NaN()
	for i := x.m.gone; i < len(x.terms); i++ {
		o = x.terms[i].along
	}
	if math.IsNaN(o) || !changes(o, x.along) {
		return false
	}
	for i := range x.terms {
		t := &x.terms[i]
		switch {
		case x.isSupport(t):
			t.out = true
		case t.turn:
		case t.place >= 0:
		default:
			x.about(t, t.along, o)
			t.extra = t.slant < 1e-9
		}
	}
	x.origin = o
	return true
}

// fromPivot gives a place from the pivot where the question counts from elsewhere.
func fromPivot(z *reply, _ int) bool {
	if z.last == nil || z.last.kind != solution.Moments || z.x.result.Unit != "m" || z.last.pivot.on < 0 {
		return false
	}
	x := &z.r.spare
	z.r.write(x, z.scene, z.last, z.r.local[z.scene])
	if x.onBody < 0 || z.last.gives < 0 || z.r.p.scenes[z.scene].unknowns[z.last.gives].Kind != solution.OfPlace {
		return false
	}
	old := z.v
	z.v = math.Abs(z.v - x.bodyOf(x.onBody).scale(x.along))
	return changes(old, z.v)
}

// middleAnyway answers with the middle where the centre of mass is asked.
func middleAnyway(z *reply, _ int) bool {
	if z.x.Ask != question.AskCentre || z.x.finish != unknown {
		return false
	}
	b := z.r.p.Answers.Layout.BodyNamed(z.x.Thing)
	old := z.v
	if z.v = z.r.layouts[0].Bodies[0].Length / 2; b != nil {
		z.v = z.r.layouts[0].BodyNamed(z.x.Thing).Length / 2
	}
	return changes(old, z.v)
}

func addedNotSubtracted(x *sum, _ int) bool {
	if x.kind != solution.Balance {
		return false
	}
	side := 0.0
	for i := range x.terms {
		if t := &x.terms[i]; x.sought(t) {
			side = t.sense
		}
	}
	done := false
	for i := range x.terms {
		if t := &x.terms[i]; !x.sought(t) && x.isSupport(t) && t.sense == side && !t.out {
			t.sense, done = -t.sense, true
		}
	}
	return done && side != 0
}

func missingFromBalance(x *sum, of int) bool {
	t := x.term(of)
	return t != nil && x.kind == solution.Balance && !x.sought(t) && !x.isSupport(t) && leave(t)
}

// otherSupports gives the other support's force.
func otherSupports(z *reply, _ int) bool {
	w := z.r.p.two
	if w == nil || z.x.finish != size {
		return false
	}
	other := w.q
	if z.x.forces[0] == w.q {
		other = w.p
	} else if z.x.forces[0] != w.p {
		return false
	}
	total := 0.0
	s := z.r.p.scenes[0]
	for i := range s.forces {
		if i == w.p || i == w.q {
			continue
		}
		f := &s.forces[i]
		if f.Kind == solution.Turn {
			continue
		}
		total -= z.r.sizeOf(i) * z.r.numbers[0][i].way.Y
	}
	own := z.r.numbers[0][z.x.forces[0]].way.Y * z.r.sizeOf(z.x.forces[0])
	old := z.v
	z.v = (total - own) * z.r.numbers[0][other].way.Y
	if n := z.r.normals[z.r.supportOf(other)]; n.X == 0 && n.Y == 0 || z.x.Ask == question.AskForceOn {
		z.v = math.Abs(z.v)
	}
	return changes(old, z.v) && !math.IsNaN(z.v)
}

func stoppedAtMoment(x *sum, _ int) bool {
	return x.scaled(x.factor)
}

func multipliedNotDivided(x *sum, _ int) bool {
	return x.scaled(x.factor * x.factor)
}

func (x *sum) scaled(k float64) bool {
	if x.kind != solution.Moments || x.gives < 0 || x.factor == 0 || x.second {
		return false
	}
	switch x.s.unknowns[x.gives].Kind {
	case solution.OfForce:
	default:
		return false
	}
	old := x.value
	x.value *= k
	if x.r.record != nil {
		x.how = func(x *sum) wrongLine { return x.valueLine() }
	}
	return changes(old, x.value)
}

// signSwept makes a pull into a push of the same size.
func signSwept(x *sum, _ int) bool {
	if x.gives < 0 || !(x.value < -1e-9) || x.s.unknowns[x.gives].Kind != solution.OfForce {
		return false
	}
	for i := range x.s.forces {
		if f := &x.s.forces[i]; f.Size == x.gives && isSupport(f.Kind) {
			x.value = -x.value
			if x.r.record != nil {
				x.how = func(x *sum) wrongLine { return x.valueLine() }
			}
			return true
		}
	}
	return false
}

// Shares are the forces of the two supports of a level body, left and right, by moments about each other, in
// newtons upwards; false where that is not the arrangement or something is unknown.
func (r *Reckoner) Shares() (left, right float64, ok bool) {
	if r.p.two == nil {
		return 0, 0, false
	}
	left, right = r.before(r.p.two.p), r.before(r.p.two.q)
	return left, right, !math.IsNaN(left) && !math.IsNaN(right)
}

// Places lists how far along its body each weight, load and support's force acts, in metres from the left end, and
// the body's number; NaN where the place is unknown or the thing is a couple.
func (r *Reckoner) Places() (along []float64, on []int) {
	for i := range r.p.scenes[0].forces {
		f := &r.p.scenes[0].forces[i]
		v := r.numbers[0][i].along
		if f.Place >= 0 || f.Kind == solution.Turn {
			v = math.NaN()
		}
		along, on = append(along, v), append(on, f.On)
	}
	return along, on
}
