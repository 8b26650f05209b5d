package statics

import (
	"math"
	"math/big"
)

// A grip looks for the least coefficient of friction of some joints. Their limits get a common
// allowance, |F| ≤ Mu ΣN + allowance, and are kept by as much as can be when it is least.
type grip struct {
	e         *exact
	joints    []int
	allowance int // its column
}

func newGrip(s *System, joints []int) (*grip, error) {
	t := *s
	// An unknown that adds no force: the allowance.
	t.Unknowns = append(t.Unknowns[:len(t.Unknowns):len(t.Unknowns)], Unknown{On: Ground, Greatest: math.Inf(1)})
	l, err := lower(&t)
	if err != nil {
		return nil, err
	}
	g := &grip{e: newExact(l), joints: joints, allowance: len(l.cols) - 1}
	// Forces that can grow without end would keep the limits by as much as one likes.
	l.limits[len(l.limits)-1].bound = -math.Ldexp(1, l.loadExp)
	g.e.pinned[g.allowance] = false
	g.e.allowance = g.allowance
	g.e.allowed = make([]bool, len(l.Joints))
	for _, i := range joints {
		g.e.allowed[i] = true
	}
	return g, nil
}

// least returns the least coefficient, or nil if none will do.
func (g *grip) least() *big.Rat {
	mu := big.NewRat(1, 1)
	most := big.NewRat(roughest, 1)
	for range 200 {
		for _, i := range g.joints {
			g.e.mu[i] = mu
		}
		d, y := g.e.settle()
		if y != nil {
			return nil
		}
		d.greatest(weight{g.allowance, big.NewRat(-1, 1)})
		needed := g.needed(d)
		switch {
		case needed == nil || needed.Cmp(most) > 0: // friction where nothing presses
			if mu = new(big.Rat).Mul(mu, big.NewRat(64, 1)); mu.Cmp(most) > 0 {
				return nil
			}
			continue
		case d.value(g.allowance).Sign() == 0 || g.same(needed, mu) || needed.Sign() == 0:
			return needed
		}
		mu = needed
		if mu.Denom().BitLen() > 400 {
			f, _ := mu.Float64()
			mu = new(big.Rat).SetFloat64(f)
		}
	}
	return mu
}

// same reports whether two coefficients are the same float64.
func (g *grip) same(a, b *big.Rat) bool {
	x, _ := a.Float64()
	y, _ := b.Float64()
	return x == y
}

// needed returns the coefficient that the present forces need; nil if none will do.
func (g *grip) needed(d *dictionary) *big.Rat {
	l := g.e.l
	high := new(big.Rat)
	for _, i := range g.joints {
		presses := l.Joints[i].presses()
		c := l.first[i]
		press := new(big.Rat)
		for k := range presses {
			press.Add(press, scaled(d.value(c+k), l.colExp[c+k]))
		}
		f := new(big.Rat).Abs(scaled(d.value(c+presses), l.colExp[c+presses]))
		if f.Sign() == 0 {
			continue
		}
		if press.Sign() == 0 {
			return nil
		}
		if f.Quo(f, press).Cmp(high) > 0 {
			high = f
		}
	}
	return high
}
