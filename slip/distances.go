package slip

import (
	"math"

	"steelyard/solution"
)

// Slips about distances: each changes the arm of one term or more, and its sense only where the changed place
// lies on the other side of the pivot.

// changes tells a change from none.
func changes(old, new float64) bool { return math.Abs(old-new) > 1e-9*(1+math.Abs(old)) }

// set gives a term another arm along the body.
func (t *term) set(slant float64) bool {
	old := t.slant
	t.slant = slant
	return !t.out && changes(old, slant)
}

// put counts a term from another place of the body, its sense with it.
func (x *sum) put(t *term, along float64) bool {
	old, sense := t.slant, t.sense
	x.about(t, along, x.along)
	t.extra = t.extra && t.slant < 1e-9
	return !t.out && (changes(old, t.slant) || sense != t.sense && t.slant > 1e-9)
}

// about gives a term the arm and the sense of a force at along about a pivot at o.
func (x *sum) about(t *term, along, o float64) {
	b := x.bodyOf(x.onBody)
	w := x.r.numbers[x.scene][t.f].way
	t.slant = math.Abs(along - o)
	if t.trig = math.Abs(b.axis.X*w.Y - b.axis.Y*w.X); t.trig > 1-1e-15 {
		t.trig = 1
	}
	t.sense = t.side
	if (along-o)*(b.axis.X*w.Y-b.axis.Y*w.X) < 0 {
		t.sense = -t.side
	}
}

// bar reports whether the line is one of moments with arms along a body.
func (x *sum) bar() bool {
	return x.kind == solution.Moments && x.onBody >= 0 && x.bodyOf(x.onBody).length > 0
}

// level reports whether that body is level and every force on it upright.
func (x *sum) level() bool { return x.bar() && x.bodyOf(x.onBody).level }

// zero is the place of the scale's zero along the body.
func (x *sum) zero() float64 { return x.bodyOf(x.onBody).scale(0) }

func (x *sum) isWeight(t *term) bool { return x.s.forces[t.f].Kind == solution.Weight }

func (x *sum) isSupport(t *term) bool { return isSupport(x.s.forces[t.f].Kind) }

// sought reports whether a term holds what the line is to give.
func (x *sum) sought(t *term) bool { return x.gives >= 0 && (t.u == x.gives || t.place == x.gives) }

func measuredFromEnd(x *sum, _ int) bool {
	if !x.bar() {
		return false
	}
	done := false
	for i := range x.terms {
		t := &x.terms[i]
		switch {
		case t.turn || !t.on || t.extra || t.out:
		case t.place == x.gives && x.gives >= 0:
			if changes(x.origin, x.zero()) {
				x.origin, done = x.zero(), true
			}
		default:
			if u := x.unknown(); u == nil || !x.isSupport(u) || !x.level() {
				done = t.set(math.Abs(t.along-x.zero())) || done
				continue
			}
			// Seen from the end, all weights turn the same way.
			old, sense := t.slant, t.sense
			x.about(t, t.along, x.zero())
			done = done || changes(old, t.slant) || sense != t.sense
		}
	}
	return done
}

func oneArmFromEnd(x *sum, of int) bool {
	t := x.term(of)
	if !x.bar() || t == nil || !t.on || t.extra || x.sought(t) {
		return false
	}
	return t.set(math.Abs(t.along - x.zero()))
}

func spanFromEnd(x *sum, _ int) bool {
	t := x.unknown()
	if t == nil || !t.on || t.extra || !x.isSupport(t) {
		return false
	}
	return t.set(math.Abs(t.along - x.zero()))
}

// unknown is the term of the force that the line is to give, or nil.
func (x *sum) unknown() *term {
	if !x.bar() || x.gives < 0 {
		return nil
	}
	for i := range x.terms {
		if x.terms[i].u == x.gives && x.terms[i].place != x.gives {
			return &x.terms[i]
		}
	}
	return nil
}

// supports are the places of the two supports along the body.
func (x *sum) supports() (p, q float64, ok bool) {
	w := x.r.p.two
	if w == nil || !x.level() {
		return 0, 0, false
	}
	return x.r.numbers[0][w.p].along, x.r.numbers[0][w.q].along, true
}

func midwayBetweenSupports(x *sum, of int) bool {
	p, q, ok := x.supports()
	t := x.term(of)
	if !ok || t == nil || t.place >= 0 {
		return false
	}
	return x.put(t, (p+q)/2)
}

// other is the place of the support that the pivot isn't at.
func (x *sum) other() (float64, bool) {
	p, q, ok := x.supports()
	switch {
	case !ok:
	case !changes(p, x.along):
		return q, true
	case !changes(q, x.along):
		return p, true
	}
	return 0, false
}

func armToOtherSupport(x *sum, of int) bool {
	o, ok := x.other()
	t := x.term(of)
	if !ok || t == nil || t.extra || t.place >= 0 || x.isSupport(t) {
		return false
	}
	return t.set(math.Abs(t.along - o))
}

func twoPivots(x *sum, of int) bool {
	o, ok := x.other()
	t := x.term(of)
	if !ok || t == nil || t.extra || t.place >= 0 || x.isSupport(t) {
		return false
	}
	old, sense := t.slant, t.sense
	x.about(t, t.along, o)
	return changes(old, t.slant) || sense != t.sense
}

// gapToNeighbour takes the shortest gap to another force that the pivot isn't under.
func gapToNeighbour(x *sum, of int) bool {
	t := x.term(of)
	if !x.level() || t == nil || !t.on || t.extra || t.place >= 0 || x.sought(t) {
		return false
	}
	least := math.Inf(1)
	for i := range x.terms {
		y := &x.terms[i]
		if y.f == of || !y.on || y.place >= 0 || y.turn || y.slant < 1e-9 {
			continue
		}
		if gap := math.Abs(y.along - t.along); gap > 1e-9 {
			least = min(least, gap)
		}
	}
	if math.IsInf(least, 1) {
		return false
	}
	return t.set(least)
}

func wholeLength(x *sum, _ int) bool {
	t := x.unknown()
	if t == nil || !t.on || t.extra || !x.isSupport(t) {
		return false
	}
	return t.set(x.bodyOf(x.onBody).length)
}

// ownWeight is the term of the weight of the body that the distances are counted on, or nil.
func (x *sum) ownWeight() *term {
	if !x.bar() {
		return nil
	}
	for i := range x.terms {
		if t := &x.terms[i]; x.isWeight(t) && x.s.forces[t.f].On == x.onBody && t.place < 0 {
			return t
		}
	}
	return nil
}

func weightAtFarEnd(x *sum, _ int) bool {
	t := x.ownWeight()
	if t == nil {
		return false
	}
	far := x.bodyOf(x.onBody).length
	if x.along > far/2 {
		far = 0
	}
	return x.put(t, far)
}

func uniformAfterAll(x *sum, _ int) bool {
	t := x.ownWeight()
	if t == nil || x.bodyOf(x.onBody).uniform {
		return false
	}
	return x.put(t, x.bodyOf(x.onBody).length/2)
}

func fromOtherEnd(x *sum, of int) bool {
	t := x.term(of)
	if !x.bar() || t == nil || !t.on || t.turn || t.place >= 0 || x.isSupport(t) || x.isWeight(t) {
		return false
	}
	return x.put(t, x.bodyOf(x.onBody).length-t.along)
}

func halfEachSide(x *sum, _ int) bool {
	t := x.ownWeight()
	if t == nil || !x.bodyOf(x.onBody).uniform || x.along < 1e-9 || x.along > x.bodyOf(x.onBody).length-1e-9 {
		return false
	}
	return t.set(t.slant / 2)
}

func longSideCarries(x *sum, _ int) bool {
	t := x.ownWeight()
	l := 0.0
	if t != nil {
		l = x.bodyOf(x.onBody).length
	}
	if t == nil || x.along < 1e-9 || x.along > l-1e-9 {
		return false
	}
	if x.along < l/2 {
		return x.put(t, (x.along+l)/2)
	}
	return x.put(t, x.along/2)
}

// diameterForRadius doubles an arm that reaches from the middle to an end.
func diameterForRadius(x *sum, _ int) bool {
	if !x.bar() {
		return false
	}
	done := false
	for i := range x.terms {
		t := &x.terms[i]
		if l := x.bodyOf(x.onBody).length; t.on && !t.extra && !changes(2*t.slant, l) && !changes(x.along, l/2) {
			done = t.set(2*t.slant) || done
		}
	}
	return done
}

// slanting reports whether a term's arm is a length along the body times the sine or cosine of a known angle.
func (x *sum) slanting(t *term) bool {
	return t.on && !t.turn && !t.extra && !t.out && t.trig < 1 && t.slant > 0 && x.angleOf(t.f) < 0
}

func slantAsArm(x *sum, _ int) bool {
	if !x.bar() {
		return false
	}
	done := false
	for i := range x.terms {
		t := &x.terms[i]
		if x.slanting(t) {
			done, t.trig = true, 1
		}
	}
	return done
}

func slantAsOneArm(x *sum, of int) bool {
	t := x.term(of)
	if !x.bar() || t == nil || !x.slanting(t) || !x.heavy(t) {
		return false
	}
	t.trig = 1
	return true
}

// heavy reports whether a term is a weight of some kind.
func (x *sum) heavy(t *term) bool {
	k := x.s.forces[t.f].Kind
	return k == solution.Weight || k == solution.Carried || k == solution.Spread
}

func wholeForceTurns(x *sum, of int) bool {
	t := x.term(of)
	if !x.bar() || t == nil || !x.slanting(t) || x.heavy(t) {
		return false
	}
	t.trig = 1
	return true
}

func radians(x *sum, _ int) bool {
	return x.eachAngle(func(fn string, degrees float64) float64 {
		if fn == "sin" {
			return math.Sin(degrees)
		}
		return math.Cos(degrees)
	})
}

func sineForCosine(x *sum, _ int) bool {
	return x.eachAngle(func(fn string, degrees float64) float64 {
		a := degrees * math.Pi / 180
		if fn == "sin" {
			return math.Cos(a)
		}
		return math.Sin(a)
	})
}

func roundedSine(x *sum, _ int) bool {
	return x.kind == solution.Moments && x.eachAngle(func(fn string, degrees float64) float64 {
		a := degrees * math.Pi / 180
		v := math.Cos(a)
		if fn == "sin" {
			v = math.Sin(a)
		}
		return math.Round(v*10) / 10
	})
}

// eachAngle changes every sine and cosine of a known angle in the line.
func (x *sum) eachAngle(change func(fn string, degrees float64) float64) bool {
	done := false
	for i := range x.terms {
		t := &x.terms[i]
		if t.fn == "" || t.turn || t.extra || t.trig >= 1 || t.trig <= 0 || x.angleOf(t.f) >= 0 {
			continue
		}
		a := math.Asin(t.trig)
		if t.fn == "cos" {
			a = math.Acos(t.trig)
		}
		old := t.trig
		t.trig = change(t.fn, a*180/math.Pi)
		done = done || changes(old, t.trig)
	}
	return done
}

func lengthNotConverted(x *sum, of int) bool {
	t := x.term(of)
	u := x.r.p.lengthPower
	if u == 0 || x.kind != solution.Moments || t == nil || t.turn || t.extra || x.sought(t) || t.slant == 0 {
		return false
	}
	return t.set(t.slant * math.Pow10(-u))
}
