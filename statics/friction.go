package statics

import (
	"math"
	"math/big"
)

// leastMu is the coefficient below which any friction at all is taken to do.
const leastMu = 1e-12

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
	if g.e.bits > 0 {
		g.e.bits = extentBits
	}
	g.e.allowance = g.allowance
	g.e.allowed = make([]bool, len(l.Joints))
	for _, i := range joints {
		g.e.allowed[i] = true
	}
	return g, nil
}

// least returns the least coefficient, or nil if none will do.
func (g *grip) least() *big.Rat {
	low := new(big.Rat) // too little
	if _, does := g.try(low); does {
		return low
	}
	var high *big.Rat // enough
	for mu := big.NewRat(1, 1); high == nil; mu.Mul(mu, big.NewRat(64, 1)) {
		if mu.Cmp(big.NewRat(roughest, 1)) > 0 {
			return nil
		}
		if high, _ = g.try(mu); high != nil && high.Cmp(big.NewRat(roughest, 1)) > 0 {
			high = nil
		}
	}
	// Down by what the forces need, and at least by half; done when any less is too little.
	hair := new(big.Rat).SetFloat64(1 - 0x1p-50)
	for range 100 {
		needed, does := g.try(new(big.Rat).Mul(high, hair))
		if !does {
			return high
		}
		if needed != nil && needed.Cmp(high) < 0 {
			high = g.short(needed)
		}
		mid := new(big.Rat).Add(low, high)
		mid = g.short(mid.Quo(mid, big.NewRat(2, 1)))
		if needed, does = g.try(mid); !does {
			low = mid
			continue
		}
		high = mid
		if needed != nil && needed.Cmp(high) < 0 {
			high = g.short(needed)
		}
		if f, _ := high.Float64(); f < leastMu {
			break
		}
	}
	return high
}

// short returns v, or the float64 next to it where it has too many digits to go on with.
func (g *grip) short(v *big.Rat) *big.Rat {
	if v.Denom().BitLen() < 200 {
		return v
	}
	f, _ := v.Float64()
	return new(big.Rat).SetFloat64(f)
}

// try gives the joints a coefficient, as a trial. It returns the coefficient that the forces which need
// the least allowance ask for (nil if none will do), and whether no allowance was needed.
func (g *grip) try(mu *big.Rat) (needed *big.Rat, does bool) {
	for _, i := range g.joints {
		g.e.mu[i] = new(big.Rat).Set(mu)
	}
	d, y := g.e.settle()
	if y != nil {
		return nil, false
	}
	d.greatest(weight{g.allowance, big.NewRat(-1, 1)})
	return g.needed(d), d.value(g.allowance).Sign() <= 0
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
