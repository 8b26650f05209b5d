package statics

import (
	"math"
	"math/rand/v2"
)

// arrangement returns a random system of one of many kinds, with a word for the kind. Some have
// short decimals, so that limits are met exactly, and some have sines.
func arrangement(r *rand.Rand) (System, string) {
	kinds := []struct {
		name string
		make func(*rand.Rand) System
	}{
		{"beam", randomBeam}, {"beam", randomBeam}, {"ladder", randomLadder}, {"block", randomBlock},
		{"pair", randomPair}, {"arch", randomArch}, {"tied", randomTied}, {"any", randomAny}, {"any", randomAny}, {"edge", randomEdge},
	}
	k := kinds[r.IntN(len(kinds))]
	return k.make(r), k.name
}

// pick returns a number from lo to hi in steps.
func pick(r *rand.Rand, lo, hi, step float64) float64 {
	n := int(math.Round((hi - lo) / step))
	return math.Round((lo+step*float64(r.IntN(n+1)))*1e6) / 1e6
}

func down(on int, x, y, w float64) Load { return Load{On: on, At: Vec{x, y}, Force: Vec{0, -w}} }

func rest(on, by int, x, y, mu float64) Joint {
	return Joint{Kind: Contact, On: on, By: by, At: Vec{x, y}, Normal: Vec{0, 1}, Mu: mu}
}

// slant returns a direction: along an axis, a 3-4-5 or an irrational one.
func slant(r *rand.Rand) Vec {
	switch r.IntN(4) {
	case 0:
		a := r.Float64() * 2 * math.Pi
		return Vec{math.Cos(a), math.Sin(a)}
	case 1:
		return []Vec{{0.6, 0.8}, {-0.6, 0.8}, {0.8, 0.6}, {-0.28, 0.96}}[r.IntN(4)]
	}
	return []Vec{{1, 0}, {0, 1}, {-1, 0}, {0, -1}, {0, 1}}[r.IntN(5)]
}

func randomBeam(r *rand.Rand) System {
	s := System{Bodies: 1}
	length := pick(r, 1, 8, 0.1)
	for range 1 + r.IntN(3) {
		s.Loads = append(s.Loads, down(0, pick(r, 0, length, 0.1), 0, pick(r, 10, 900, 10)))
	}
	if r.IntN(6) == 0 {
		s.Loads = append(s.Loads, Load{On: 0, Couple: pick(r, -50, 50, 10)})
	}
	for range 1 + r.IntN(3) {
		x := pick(r, 0, length, 0.2)
		j := rest(0, Ground, x, 0, 0)
		switch r.IntN(10) {
		case 0:
			j.Kind = Hinge
		case 1:
			j.Kind = Pull
		case 2:
			j.Kind = Rod
		case 3:
			j.Kind, j.Normal = Pull, slant(r)
		case 4:
			j.Mu = pick(r, 0, 1, 0.1)
		case 5:
			j.Kind = Clamp
		}
		s.Joints = append(s.Joints, j)
	}
	return s
}

func randomLadder(r *rand.Rand) System {
	length := pick(r, 2, 8, 0.5)
	n := Vec{0.6, 0.8}
	if r.IntN(2) == 0 {
		a := 0.3 + r.Float64()
		n = Vec{math.Cos(a), math.Sin(a)}
	}
	at := func(d float64) Vec { return Vec{d * n.X, d * n.Y} }
	s := System{Bodies: 1, Loads: []Load{
		{On: 0, At: at(length / 2), Force: Vec{0, -pick(r, 50, 300, 10)}},
		{On: 0, At: at(length * pick(r, 0, 1, 0.125)), Force: Vec{0, -pick(r, 0, 800, 50)}},
	}}
	foot := rest(0, Ground, 0, 0, pick(r, 0, 1, 0.125))
	wall := Joint{Kind: Contact, On: 0, By: Ground, At: at(length), Normal: Vec{-1, 0}}
	switch r.IntN(5) {
	case 0:
		wall.Mu = pick(r, 0.1, 0.5, 0.1)
	case 1:
		foot.Mu = math.Inf(1)
	case 2:
		wall.Normal = Vec{-n.Y, n.X} // on an edge, pushed at right angles to the ladder
	}
	s.Joints = []Joint{foot, wall}
	if r.IntN(5) == 0 {
		s.Joints = append(s.Joints, Joint{Kind: Pull, On: 0, By: Ground, At: at(length / 4), Normal: Vec{-1, 0}})
	}
	return s
}

func randomBlock(r *rand.Rand) System {
	w, h := pick(r, 0.2, 2, 0.1), pick(r, 0.2, 3, 0.1)
	t := Vec{1, 0}
	if r.IntN(2) == 0 {
		a := r.Float64() * 0.6
		t = Vec{math.Cos(a), math.Sin(a)}
	} else if r.IntN(2) == 0 {
		t = Vec{0.8, 0.6}
	}
	n := Vec{-t.Y, t.X}
	at := func(x, y float64) Vec { return Vec{x*t.X + y*n.X, x*t.Y + y*n.Y} }
	f := pick(r, -200, 200, 5)
	return System{Bodies: 1,
		Loads:  []Load{{On: 0, At: at(w/2, h/2), Force: Vec{0, -pick(r, 20, 500, 10)}}, {On: 0, At: at(0, pick(r, 0, h, 0.1)), Force: Vec{f * t.X, f * t.Y}}},
		Joints: []Joint{{Kind: Face, On: 0, By: Ground, At: at(0, 0), To: at(w, 0), Normal: n, Mu: pick(r, 0, 1, 0.1)}}}
}

// randomPair is one beam that rests on another.
func randomPair(r *rand.Rand) System {
	s := System{Bodies: 2, Loads: []Load{
		down(0, pick(r, 0, 6, 0.5), 0, pick(r, 10, 300, 10)), down(1, pick(r, 1, 5, 0.5), 1, pick(r, 10, 300, 10)), down(1, pick(r, 0, 6, 0.5), 1, pick(r, 0, 300, 10))}}
	s.Joints = []Joint{rest(0, Ground, pick(r, 0, 2, 0.5), 0, 0), rest(0, Ground, pick(r, 3, 6, 0.5), 0, 0),
		rest(1, 0, pick(r, 0, 2, 0.5), 1, 0), rest(1, 0, pick(r, 3, 6, 0.5), 1, pick(r, 0, 0.4, 0.4))}
	if r.IntN(4) == 0 {
		s.Joints = append(s.Joints, rest(0, Ground, pick(r, 0, 6, 0.5), 0, 0))
	}
	if r.IntN(4) == 0 {
		s.Joints[0].Kind = Hinge
	}
	return s
}

// randomArch is two bars that lean together in a hinge, on rough ground, hinges, or tied by a cable.
func randomArch(r *rand.Rand) System {
	h, a, b := pick(r, 1, 4, 0.5), pick(r, 1, 3, 0.5), pick(r, 1, 3, 0.5)
	s := System{Bodies: 2, Loads: []Load{down(0, -a/2, h/2, pick(r, 10, 100, 10)), down(1, b/2, h/2, pick(r, 10, 100, 10)),
		{On: r.IntN(2), At: Vec{0, h}, Force: Vec{pick(r, -50, 50, 10), -pick(r, 0, 100, 50)}}}}
	left, right := rest(0, Ground, -a, 0, 0.5), rest(1, Ground, b, 0, 0.5)
	switch r.IntN(3) {
	case 0:
		left.Kind, right.Kind = Hinge, Hinge
	case 1:
		left.Mu, right.Mu = 0, 0
		s.Joints = append(s.Joints, Joint{Kind: Pull, On: 0, By: 1, At: Vec{-a, 0}, Normal: Vec{1, 0}})
	}
	s.Joints = append(s.Joints, left, right, Joint{Kind: Hinge, On: 0, By: 1, At: Vec{0, h}})
	return s
}

// randomTied is a beam with an unknown weight or place, and sometimes a tie that fixes it.
func randomTied(r *rand.Rand) System {
	s := randomBeam(r)
	u := Unknown{On: 0, At: Vec{pick(r, 0, 6, 0.5), 0}, Force: Vec{0, -1}, Least: 0, Greatest: math.Inf(1)}
	if r.IntN(2) == 0 {
		s.Loads = append(s.Loads, down(0, 0, 0, 200))
		u = Unknown{On: 0, Couple: -200, Least: 0, Greatest: 5}
	}
	s.Unknowns = []Unknown{u}
	switch n := len(s.Joints); {
	case r.IntN(2) == 0:
		s.Ties = []Tie{{[]Term{{0, N, 1}}, pick(r, 0, 200, 10)}}
	case n > 1:
		s.Ties = []Tie{{[]Term{{0, N, 1}, {1, N, -1}}, 0}}
	}
	return s
}

// randomAny is anything at all.
func randomAny(r *rand.Rand) System {
	s := System{Bodies: 1 + r.IntN(3)}
	point := func() Vec { return Vec{pick(r, -3, 3, 0.5), pick(r, -3, 3, 0.5)} }
	for b := range s.Bodies {
		s.Loads = append(s.Loads, Load{On: b, At: point(), Force: Vec{pick(r, -20, 20, 10), -pick(r, 0, 100, 10)}})
	}
	for range s.Bodies + r.IntN(3*s.Bodies) {
		j := Joint{Kind: Kind(r.IntN(7)), On: r.IntN(s.Bodies), By: Ground, At: point(), To: point(), Normal: slant(r), Mu: pick(r, 0, 0.8, 0.4)}
		if by := r.IntN(s.Bodies); by != j.On && r.IntN(2) == 0 {
			j.By = by
		}
		if j.Kind == Contact && r.IntN(5) == 0 {
			j.Mu = math.Inf(1)
		}
		if j.Kind == Face {
			w := pick(r, 0.5, 2, 0.5)
			j.To = Vec{j.At.X + w*j.Normal.Y, j.At.Y - w*j.Normal.X}
		}
		s.Joints = append(s.Joints, j)
	}
	return s
}

// randomEdge is something exactly on the point of tipping or slipping, in short decimals or in sines.
func randomEdge(r *rand.Rand) System {
	switch r.IntN(4) {
	case 0: // the weights balance about the right-hand rest
		p, w, n := pick(r, 2, 4, 0.1), pick(r, 10, 300, 10), float64(1+r.IntN(4))
		d := pick(r, 0.1, 1, 0.1)
		s := System{Bodies: 1, Loads: []Load{down(0, p-n*d, 0, w), down(0, p+d, 0, n*w)}}
		for i := range s.Loads {
			s.Loads[i].At.X = math.Round(s.Loads[i].At.X*1e6) / 1e6
		}
		s.Joints = []Joint{rest(0, Ground, pick(r, 0, 1, 0.1), 0, 0), rest(0, Ground, p, 0, 0)}
		return s
	case 1: // a block on a slope of the limiting angle
		t, mu := Vec{0.8, 0.6}, 0.75
		if r.IntN(2) == 0 {
			a := 0.1 + 0.5*r.Float64()
			t, mu = Vec{math.Cos(a), math.Sin(a)}, math.Tan(a)
		}
		n := Vec{-t.Y, t.X}
		return System{Bodies: 1, Loads: []Load{{On: 0, At: Vec{n.X * 0.2, n.Y * 0.2}, Force: Vec{0, -pick(r, 10, 100, 10)}}},
			Joints: []Joint{{Kind: Face, On: 0, By: Ground, At: Vec{-t.X, -t.Y}, To: t, Normal: n, Mu: mu}}}
	case 2: // a uniform ladder at the angle that the foot only just holds
		a := 0.5 + 0.7*r.Float64()
		length := pick(r, 2, 6, 0.5)
		at := func(d float64) Vec { return Vec{d * math.Cos(a), d * math.Sin(a)} }
		return System{Bodies: 1, Loads: []Load{{On: 0, At: at(length / 2), Force: Vec{0, -pick(r, 50, 300, 10)}}},
			Joints: []Joint{rest(0, Ground, 0, 0, 1/(2*math.Tan(a))), {Kind: Contact, On: 0, By: Ground, At: at(length), Normal: Vec{-1, 0}}}}
	}
	// a tilted plank with its centre of mass exactly over its second rest
	a := 0.1 + 0.3*r.Float64()
	at := func(d float64) Vec { return Vec{d * math.Cos(a), d * math.Sin(a)} }
	low, high := rest(0, Ground, 0, 0, math.Inf(1)), rest(0, Ground, 0, 0, 0)
	high.At = at(pick(r, 1, 3, 0.1))
	return System{Bodies: 1, Loads: []Load{{On: 0, At: high.At, Force: Vec{0, -pick(r, 50, 300, 10)}}}, Joints: []Joint{low, high}}
}
