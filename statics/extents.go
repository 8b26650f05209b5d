package statics

import "math"

// samples is how many values of a parameter are tried before ends are looked for.
const samples = 180

// extentBits is the dust threshold while an end is looked for, about 7e-15.
const extentBits = 47

// Extents returns the intervals of t from lo to hi in which the system that build makes can be in
// equilibrium, in order, for numbers that don't enter linearly: an angle, the place of a support,
// a distance. Ends are found to about 1e-12 of the greater of |lo| and |hi|; AtLeast, AtGreatest
// and what is giving there are those of the system at the end. An interval that is a single value (a body hung
// from a hinge hangs only one way) has equal ends.
//
// The systems are tried at 181 values evenly spaced. Between two where none is possible, one is
// still found if the bodies start to move opposite ways at the two; other intervals narrower than the spacing
// can be missed. Build must always give the same number of bodies. The errors are those of
// [Solve], from build's system, and none is possible where lo > hi or one is not finite.
func Extents(build func(t float64) System, lo, hi float64) ([]Extent, error) {
	if !finite(lo, hi) || lo > hi {
		return nil, nil
	}
	x := extents{build: build, fine: max(math.Abs(lo), math.Abs(hi)) * 1e-15}
	prev := x.try(lo)
	start := lo
	open := prev.possible
	for k := 1; k <= samples && x.err == nil && lo < hi; k++ {
		now := x.try(lo + (hi-lo)*float64(k)/samples)
		if k == samples {
			now = x.try(hi)
		}
		switch {
		case !prev.possible && now.possible:
			_, start = x.end(prev.t, now.t)
			open = true
		case prev.possible && !now.possible:
			_, t := x.end(now.t, prev.t)
			x.add(start, t)
			open = false
		case !prev.possible && opposite(prev.motion, now.motion):
			x.between(prev, now)
		}
		prev = now
	}
	if open {
		x.add(start, hi)
	}
	if x.err != nil {
		return nil, x.err
	}
	return x.found, nil
}

// extents looks for intervals of a parameter.
type extents struct {
	build func(t float64) System
	fine  float64 // values this near are the same
	found []Extent
	err   error
}

// A trial is what became of one value.
type trial struct {
	t        float64
	possible bool
	motion   *Motion
}

func (x *extents) lower(t float64) *lowered {
	s := x.build(t)
	l, err := lower(&s)
	if err != nil && x.err == nil {
		x.err = err
	}
	return l
}

// try tells whether equilibrium is possible at t, and how the bodies move if not.
func (x *extents) try(t float64) trial {
	l := x.lower(t)
	if x.err != nil {
		return trial{t: t}
	}
	l.strict = true
	if state, ok := l.quick(make([]float64, len(l.cols))); ok && state != NoEquilibrium {
		return trial{t: t, possible: true}
	}
	e := newExact(l)
	e.bits = extentBits
	if _, y := e.settle(); y != nil {
		return trial{t: t, motion: e.motion(y)}
	}
	return trial{t: t, possible: true}
}

// end narrows down to two neighbouring values the place between out, where equilibrium is not
// possible, and in, where it is.
func (x *extents) end(out, in float64) (float64, float64) {
	for x.err == nil && math.Abs(in-out) > x.fine {
		mid := out + (in-out)/2
		if mid == out || mid == in {
			break
		}
		if x.try(mid).possible {
			in = mid
		} else {
			out = mid
		}
	}
	return out, in
}

// between looks between two values where the bodies move opposite ways for one where they don't.
func (x *extents) between(a, b trial) {
	left, right := a.t, b.t
	for x.err == nil && b.t-a.t > x.fine {
		mid := x.try(a.t + (b.t-a.t)/2)
		if mid.t == a.t || mid.t == b.t {
			break
		}
		if mid.possible {
			_, least := x.end(left, mid.t)
			_, greatest := x.end(right, mid.t)
			x.add(least, greatest)
			return
		}
		if along(mid.motion, a.motion) >= along(mid.motion, b.motion) {
			a = mid
		} else {
			b = mid
		}
	}
	if x.err != nil {
		return
	}
	if sol, _ := x.stand(a.t); sol.State != NoEquilibrium {
		x.add(a.t, a.t)
	}
}

// add notes an interval with what is giving at its ends.
func (x *extents) add(least, greatest float64) {
	if x.err != nil {
		return
	}
	if greatest-least <= x.fine*1e4 { // a single value, to the fineness of the search
		least += (greatest - least) / 2
		greatest = least
	}
	e := Extent{Possible: true, Span: Span{least, greatest}}
	e.AtLeast, e.LeastGiving = x.stand(least)
	e.AtGreatest, e.GreatestGiving = x.stand(greatest)
	x.found = append(x.found, e)
}

func (x *extents) stand(t float64) (Solution, []Giving) {
	l := x.lower(t)
	if x.err != nil {
		return Solution{}, nil
	}
	e := newExact(l)
	e.bits = dustBits // t is a rounding
	return e.stand()
}

// opposite reports whether two motions are opposed.
func opposite(a, b *Motion) bool { return a != nil && b != nil && along(a, b) < 0 }

// along returns how far two motions agree.
func along(a, b *Motion) float64 {
	if a == nil || b == nil {
		return 0
	}
	sum := 0.0
	for i := range min(len(a.Velocity), len(b.Velocity)) {
		v, w := a.Velocity[i], b.Velocity[i]
		sum += v.X*w.X + v.Y*w.Y + v.Turn*w.Turn
	}
	return sum
}
