package statics

import (
	"fmt"
	"math"
	"math/big"
	"slices"
)

// An Extent is how far a number can go while equilibrium is possible.
type Extent struct {
	Possible                    bool     // false: for no value at all; the rest is then empty
	Span                        Span     // of the number; infinite where nothing stops it
	AtLeast, AtGreatest         Solution // with the number at that end; empty (no Reactions) at an infinite end
	LeastGiving, GreatestGiving []Giving // what is about to give at that end; empty where nothing is, as where its own bound stops it
}

// Range returns the least and the greatest value of System.Unknowns[unknown], within its own
// bounds, for which equilibrium is possible, and what is about to give at each end. With the
// unknown as a load's size this is the least and greatest load; as a place along a body, how far
// the load can be moved. Both ends are exact but for the rounding to float64.
// The errors are those of [Solve], and that there is no such unknown.
func Range(s *System, unknown int) (Extent, error) {
	if unknown < 0 || unknown >= len(s.Unknowns) {
		return Extent{}, fmt.Errorf("there is no unknown %d; the system has %d, numbered from 0", unknown, len(s.Unknowns))
	}
	l, err := lower(s)
	if err != nil {
		return Extent{}, err
	}
	e := newExact(l)
	d, y := e.settle()
	if y != nil {
		return Extent{}, nil
	}
	c := l.first[len(l.Joints)] + unknown
	if e.pinned[c] { // it adds nothing: its own bounds are all there is
		u := s.Unknowns[unknown]
		at := e.describe(d)
		return Extent{true, Span{u.Least, u.Greatest}, at, at, at.Giving, at.Giving}, nil
	}
	x := Extent{Possible: true}
	x.Span.Least, x.AtLeast, x.LeastGiving = e.end(d, c, -1)
	x.Span.Greatest, x.AtGreatest, x.GreatestGiving = e.end(d, c, 1)
	return x, nil
}

// end returns the value of component c at one end, the solution there and what gives.
func (e *exact) end(d *dictionary, c int, sign int64) (float64, Solution, []Giving) {
	high := d.greatest(weight{c, big.NewRat(sign, 1)})
	if high == nil {
		return math.Inf(int(sign)), Solution{}, nil
	}
	v := new(big.Rat).Mul(high, big.NewRat(sign, 1))
	f, _ := scaled(v, e.l.colExp[c]+e.l.loadExp).Float64()
	there := newExact(e.l)
	there.mu = e.mu
	there.fixed[c] = v
	there.loosen()
	sol, giving := there.stand()
	return clean(f), sol, giving
}

// loosen makes room for the rounding of irrational numbers where a system is put exactly on a
// limit that was worked out from them.
func (e *exact) loosen() {
	if e.bits > 0 {
		e.bits -= 4
	}
}

// stand returns the solution, and what is about to give, also where not all forces are fixed.
func (e *exact) stand() (Solution, []Giving) {
	d, y := e.settle()
	if y != nil {
		return Solution{State: NoEquilibrium, Motion: e.start(y)}, nil
	}
	giving := e.giving(d)
	return e.describe(d), giving
}

// A Friction is an answer to how rough surfaces must be.
type Friction struct {
	Possible bool     // false: however rough they are, equilibrium is not possible
	Mu       float64  // least coefficient that the joints must all have, to full precision; 0 if they may be smooth
	At       Solution // with that coefficient; State NoEquilibrium and no more where only forces without end would do with exactly Mu, as where something jams, and finite ones with any more
}

// roughest is the coefficient of friction from which on a surface counts as rough without end.
const roughest = 1e9

// LeastFriction returns the least coefficient of friction, the same for all joints named (each a
// Contact or a Face), for which equilibrium is possible. Their own Mu is left out of account.
// The errors are those of [Solve], and that a joint named can't have friction.
//
// Method: for a trial coefficient, the forces that keep farthest within the cones give a smaller
// coefficient that does as well (Dinkelbach, 1967, from memory), and halving sees to it that it
// ends; where equilibrium fixes the forces the first step is exact. Where any friction would do, however
// small, Mu is about 1e-12; where more than 1e9 is needed it counts as not possible.
func LeastFriction(s *System, joints []int) (Friction, error) {
	t := *s
	t.Joints = slices.Clone(s.Joints)
	for _, i := range joints {
		if i < 0 || i >= len(t.Joints) || t.Joints[i].Kind != Contact && t.Joints[i].Kind != Face {
			return Friction{}, fmt.Errorf("joint %d is no contact or face of the system; name joints that can have friction", i)
		}
		t.Joints[i].Mu = 1
	}
	if len(joints) == 0 {
		return Friction{}, fmt.Errorf("no joint is named; name at least one contact or face")
	}
	g, err := newGrip(&t, joints)
	if err != nil {
		return Friction{}, err
	}
	mu := g.least()
	if mu == nil {
		return Friction{}, nil
	}
	out := Friction{Possible: true}
	out.Mu, _ = mu.Float64()
	if mu.Sign() == 0 {
		for _, i := range joints {
			t.Joints[i].Mu = 0
		}
		out.At, err = Solve(&t)
		return out, err
	}
	for _, i := range joints {
		t.Joints[i].Mu = out.Mu
	}
	l, err := lower(&t)
	if err != nil {
		return Friction{}, err
	}
	e := newExact(l)
	for _, i := range joints {
		e.mu[i] = mu
	}
	e.loosen()
	if out.At, _ = e.stand(); out.At.State == NoEquilibrium {
		out.At = Solution{State: NoEquilibrium}
	}
	return out, nil
}
