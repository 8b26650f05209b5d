package slip

import (
	"math"

	"steelyard/solution"
)

// Slips about which forces come in, how large they are and which way they turn.

func leave(t *term) bool {
	if t == nil || t.out || t.slant*t.trig < 1e-12 || t.extra {
		return false
	}
	t.out = true
	return true
}

func weightOutOfMoments(x *sum, of int) bool {
	return x.kind == solution.Moments && leave(x.term(of))
}

func weightOut(x *sum, of int) bool {
	t := x.term(of)
	return t != nil && t.u < 0 && !x.sought(t) && leave(t)
}

func loadOutOfMoments(x *sum, of int) bool {
	t := x.term(of)
	return t != nil && t.u < 0 && !x.sought(t) && x.kind == solution.Moments && leave(t)
}

// pivotTurns gives the force at the pivot the arm that the scale shows, and then has to use the balance of
// forces for it.
func pivotTurns(x *sum, _ int) bool {
	u := x.unknown()
	if !x.level() || u == nil || u.extra || !x.isSupport(u) || x.r.p.two == nil {
		return false
	}
	for i := range x.terms {
		t := &x.terms[i]
		arm := math.Abs(t.along - x.zero())
		if !t.extra || t.slant != 0 || !x.isSupport(t) || t.u < 0 || arm < 1e-9 {
			continue
		}
		total := x.down()
		if math.IsNaN(total) {
			return false
		}
		// t = total − u, with the arm from the end: solved here, since the line holds both.
		t.slant, t.trig, t.sense, t.extra = arm, 1, u.sense, false
		rest, factor := 0.0, 0.0
		for j := range x.terms {
			y := &x.terms[j]
			switch c := y.coefficient(); {
			case c == 0:
			case y.f == t.f:
				rest += c * total
				factor -= c
			case y.f == u.f:
				factor += c
			default:
				rest += c * y.size
			}
		}
		x.replace, x.value = true, -rest/factor
		if math.Abs(factor) < 1e-9 {
			x.value = math.NaN()
		}
		return true
	}
	return false
}

// down is the total of all weights and loads of the arrangement, less what is pulled up, in newtons.
func (x *sum) down() float64 {
	sum := 0.0
	for i := range x.s.forces {
		if f := &x.s.forces[i]; !isSupport(f.Kind) && f.Kind != solution.Turn {
			sum -= x.size(i) * x.r.numbers[x.scene][i].way.Y
		}
	}
	return sum
}

// size is the size of a force that isn't a support's, NaN while it is unknown.
func (x *sum) size(f int) float64 {
	for i := range x.terms {
		if x.terms[i].f == f {
			return x.terms[i].size
		}
	}
	return x.r.numbers[x.scene][f].value
}

// otherPushForgotten takes moments about an end or the middle, where both supports turn the body, but leaves
// out the one that stands at the pivot of the right line.
func otherPushForgottenAtEnd(x *sum, _ int) bool {
	if !x.level() {
		return false
	}
	return x.turnAbout(x.zero())
}

func otherPushForgottenAtMiddle(x *sum, _ int) bool {
	if !x.level() {
		return false
	}
	return x.turnAbout(x.bodyOf(x.onBody).length / 2)
}

func (x *sum) turnAbout(o float64) bool {
	u := x.unknown()
	if u == nil || u.extra || !x.isSupport(u) || x.r.p.two == nil || !changes(o, x.along) {
		return false
	}
	if _, ok := x.other(); !ok {
		return false
	}
	for i := range x.terms {
		t := &x.terms[i]
		if t.turn || !t.on || t.out {
			continue
		}
		if x.isSupport(t) && t.f != u.f {
			t.out = true
			continue
		}
		x.about(t, t.along, o)
		t.extra = t.extra && t.slant < 1e-9
	}
	return true
}

func spreadAtFarEdge(x *sum, of int) bool {
	t, s := x.term(of), x.spreadOf(of)
	if t == nil || !x.bar() || s == nil {
		return false
	}
	edge := s.to
	if math.Abs(s.from-x.along) > math.Abs(s.to-x.along) {
		edge = s.from
	}
	return x.put(t, edge)
}

// spreadOf are the numbers of a spread load, or nil.
func (x *sum) spreadOf(f int) *spread {
	if f < 0 || x.s.forces[f].Kind != solution.Spread {
		return nil
	}
	return &x.r.spreads[x.s.forces[f].i]
}

func perMetreAsForce(x *sum, of int) bool {
	t, s := x.term(of), x.spreadOf(of)
	if t == nil || s == nil || t.out {
		return false
	}
	old := t.size
	t.size = s.per
	return changes(old, t.size)
}

func spreadFromPivot(x *sum, of int) bool {
	t, s := x.term(of), x.spreadOf(of)
	if t == nil || !x.bar() || s == nil || t.out {
		return false
	}
	edge := s.to
	if math.Abs(s.from-x.along) > math.Abs(s.to-x.along) {
		edge = s.from
	}
	old := t.size
	t.size = s.per * math.Abs(edge-x.along)
	return x.put(t, (edge+x.along)/2) || changes(old, t.size)
}

// opposite finds the other force of two that make a couple, or nil.
func (x *sum) opposite(t *term) *term {
	for i := range x.terms {
		y := &x.terms[i]
		if y.f != t.f && !y.turn && !x.isSupport(y) && y.u < 0 && y.sense == t.sense && !changes(y.slant, t.slant) && !changes(y.size, t.size) &&
			x.r.numbers[x.scene][y.f].way.Y*x.r.numbers[x.scene][t.f].way.Y < 0 {
			return y
		}
	}
	return nil
}

func coupleOfOneForce(x *sum, _ int) bool {
	if x.kind != solution.Moments {
		return false
	}
	for i := range x.terms {
		if t := &x.terms[i]; !t.turn && !t.extra {
			if y := x.opposite(t); y != nil {
				y.out = true
				return true
			}
		}
	}
	return false
}

func coupleDoubled(x *sum, of int) bool {
	t := x.term(of)
	if t == nil || !t.turn || t.u >= 0 || x.kind != solution.Moments {
		return false
	}
	t.size *= 2
	return t.size != 0
}

func coupleHalved(x *sum, of int) bool {
	t := x.term(of)
	if t == nil || !t.turn || t.u >= 0 || x.kind != solution.Moments {
		return false
	}
	t.size /= 2
	return t.size != 0
}

func coupleGivenArm(x *sum, of int) bool {
	t := x.term(of)
	if t == nil || !t.turn || t.u >= 0 || !x.bar() || x.s.forces[of].from != load {
		return false
	}
	arm := math.Abs(x.r.loadAt[x.s.forces[of].i] - x.along)
	if arm < 1e-9 || !changes(arm, 1) {
		return false
	}
	t.size *= arm
	return true
}

func turnedWrongWay(x *sum, of int) bool {
	t := x.term(of)
	if t == nil || x.kind != solution.Moments || t.out || t.extra || x.sought(t) || t.slant == 0 {
		return false
	}
	t.sense = -t.sense
	return true
}

// allOneWay has every known load turn against the unknown.
func allOneWay(x *sum, _ int) bool {
	u := x.unknown()
	if u == nil {
		return false
	}
	done := false
	for i := range x.terms {
		t := &x.terms[i]
		if t.f == u.f || t.out || t.extra || t.slant == 0 {
			continue
		}
		if t.sense == u.sense {
			t.sense, done = -t.sense, true
		}
	}
	return done
}

func massAsForce(x *sum, _ int) bool {
	done := false
	for i := range x.terms {
		t := &x.terms[i]
		if x.r.numbers[x.scene][t.f].mass && t.u < 0 && !t.out && !t.extra && t.size != 0 {
			t.size /= x.r.field
			done = true
		}
	}
	return done
}

// massAsForceLast doesn't divide by g at the end, having never multiplied.
func massAsForceLast(z *reply, _ int) bool {
	if z.x.result.Unit != "kg" {
		return false
	}
	z.v *= z.r.field
	return true
}

func massAsForceOnce(x *sum, of int) bool {
	t := x.term(of)
	if t == nil || t.u >= 0 || t.out || t.extra || !x.r.numbers[x.scene][t.f].mass || t.size == 0 {
		return false
	}
	t.size /= x.r.field
	return true
}

func timesFieldAgain(x *sum, of int) bool {
	t := x.term(of)
	if t == nil || t.u >= 0 || t.out || t.extra || x.r.numbers[x.scene][t.f].mass || t.size == 0 || !x.heavy(t) {
		return false
	}
	t.size *= x.r.field
	return true
}

func anotherField(x *sum, _ int) bool {
	done := false
	for i := range x.terms {
		t := &x.terms[i]
		if x.r.numbers[x.scene][t.f].mass && t.u < 0 && !t.out && !t.extra && t.size != 0 {
			t.size *= 10 / x.r.field
			done = done || changes(10, x.r.field)
		}
	}
	return done
}

func anotherFieldLast(z *reply, _ int) bool {
	if z.x.result.Unit != "kg" || !changes(10, z.r.field) {
		return false
	}
	z.v *= z.r.field / 10
	return true
}

func kiloLost(x *sum, of int) bool {
	t := x.term(of)
	if t == nil || t.u >= 0 || t.out || t.extra || !x.r.numbers[x.scene][t.f].kilo || t.size == 0 {
		return false
	}
	if x.r.numbers[x.scene][t.f].mass { // grams taken for kilograms
		t.size *= 1000
		return true
	}
	t.size /= 1000
	return true
}

func panMatchesPan(x *sum, _ int) bool {
	return x.onOnePivot(func(t *term) bool { return t.set(1) })
}

func directProportion(x *sum, _ int) bool {
	if x.count() != 2 {
		return false
	}
	return x.onOnePivot(func(t *term) bool { return t.set(1 / t.slant) })
}

// onOnePivot changes every term of a line in which a load is balanced on one support.
func (x *sum) onOnePivot(change func(t *term) bool) bool {
	u := x.unknown()
	if !x.level() || u == nil || x.isSupport(u) || u.turn {
		return false
	}
	for i := range x.terms {
		if t := &x.terms[i]; !t.extra && !t.out && t.slant > 0 && (t.turn || x.isSupport(t)) {
			return false
		}
	}
	done := false
	for i := range x.terms {
		if t := &x.terms[i]; !t.extra && !t.out && t.slant > 0 {
			done = change(t) || done
		}
	}
	return done
}

func (x *sum) count() int {
	n := 0
	for i := range x.terms {
		if t := &x.terms[i]; !t.extra && !t.out && t.slant > 0 {
			n++
		}
	}
	return n
}

// forcePlusDistance balances force plus distance, in the units of the question.
func forcePlusDistance(x *sum, _ int) bool {
	u := x.unknown()
	if !x.level() || u == nil || x.isSupport(u) || u.turn || x.count() != 2 {
		return false
	}
	for i := range x.terms {
		t := &x.terms[i]
		if t.f == u.f || t.extra || t.out || t.slant == 0 || t.turn || x.isSupport(t) {
			continue
		}
		unit := 1.0
		if x.r.numbers[x.scene][t.f].mass {
			unit = x.r.field
			if x.r.numbers[x.scene][t.f].kilo {
				unit /= 1000
			}
		}
		size, length := t.size/unit, math.Pow10(-x.r.p.lengthPower)
		x.replace, x.value = true, (size+(t.slant-u.slant)*length)*unit
		if x.r.record != nil {
			x.how = func(x *sum) wrongLine { return x.sumLine(u, t, unit, length) }
		}
		return true
	}
	return false
}
