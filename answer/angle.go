package answer

import (
	"math"

	"steelyard/question"
	"steelyard/statics"
)

// turner is the name whose angle can change: a body, or the slope that a body stands on.
func turner(q *question.Question, name string) (string, bool) {
	if q.Body(name) != nil {
		return name, true
	}
	if s := q.Support(name); s != nil && s.Kind == question.Slope {
		return name, true
	}
	return "", false
}

// findAngles finds the angle of a body that is "angle unknown": the least or greatest that a part
// asks for, or else the one at which the body is in equilibrium with what else is known.
func findAngles(q *question.Question, f found, slip *float64) error {
	for i := range q.Bodies {
		b := &q.Bodies[i]
		if b.Angle.Status != question.Unknown {
			continue
		}
		if err := askedAngle(q, b.Name, f); err != nil {
			return err
		}
		if _, ok := f.angle[b.Name]; ok {
			continue
		}
		angle, s, ok := balanceAngle(q, b, f)
		if !ok {
			return fault(b.Angle.Span, "no angle of "+b.Name+" is fixed by equilibrium",
				"say what fixes it, such as: given about to slip at F; or ask for the least angle")
		}
		f.angle[b.Name], *slip = angle, s
	}
	return nil
}

// findSlopes finds the angle of a slope that is unknown: the greatest or least that a part asks for.
func findSlopes(q *question.Question, f found) error {
	for i := range q.Supports {
		s := &q.Supports[i]
		if s.Kind != question.Slope || s.Angle.Known() {
			continue
		}
		if err := askedAngle(q, s.Name, f); err != nil {
			return err
		}
		if _, ok := f.angle[s.Name]; !ok {
			return fault(s.Span, "the angle of the slope "+s.Name+" is not given",
				"give it, such as: slope 20 deg; or ask for the greatest angle "+s.Name)
		}
	}
	return nil
}

// askedAngle puts the least or greatest angle that a part asks for into f.
func askedAngle(q *question.Question, name string, f found) error {
	for j := range q.Parts {
		p := &q.Parts[j]
		if p.Thing != name || !p.OfAngle || (p.Ask != question.AskLeast && p.Ask != question.AskGreatest) {
			continue
		}
		e, err := angleExtent(q, name, f)
		if err != nil {
			return err
		}
		if e.Possible {
			f.angle[name] = e.Span.Least
			if p.Ask == question.AskGreatest {
				f.angle[name] = e.Span.Greatest
			}
		}
	}
	return nil
}

// withAngle lays the question out with a body, or the slope that it stands on, at an angle in radians.
func withAngle(q *question.Question, name string, f found, angle, slip float64) (*Layout, error) {
	g := f
	g.angle = with(f.angle, name, angle)
	return lay(q, g, slip)
}

// turning is the question with a body, or the slope that it stands on, free to turn, whether or not its angle
// is given, and without conditions, which hold at the limit only by what it finds.
func turning(q *question.Question, name string) *question.Question {
	loose := *q
	loose.Bodies = append([]question.Body(nil), q.Bodies...)
	loose.Supports = append([]question.Support(nil), q.Supports...)
	loose.Conditions = nil
	for i := range loose.Bodies {
		if loose.Bodies[i].Name == name {
			loose.Bodies[i].Angle.Status = question.Unknown
		}
	}
	for i := range loose.Supports {
		if loose.Supports[i].Name == name {
			loose.Supports[i].Angle.Status = question.Unknown
		}
	}
	return &loose
}

// angleExtent is the first range of angles between level and upright in which the body can rest.
func angleExtent(q *question.Question, name string, f found) (statics.Extent, error) {
	loose := turning(q, name)
	if _, err := withAngle(loose, name, f, math.Pi/4, 1); err != nil {
		return statics.Extent{}, err
	}
	build := func(t float64) statics.System {
		l, err := withAngle(loose, name, f, t, 1)
		if err != nil {
			return statics.System{}
		}
		return l.System
	}
	const edge = 1e-3 // a body that lies flat or stands upright rests in another way
	extents, err := statics.Extents(build, edge, math.Pi/2-edge)
	if err != nil || len(extents) == 0 {
		return statics.Extent{}, err
	}
	return extents[0], nil
}

// balanceAngle finds the angle at which no hand is needed to hold the body: the couple that a hand
// would have to give is zero there. Of several, it prefers a stable one, to which the body returns.
func balanceAngle(q *question.Question, b *question.Body, f found) (angle, slip float64, ok bool) {
	// A bar leans up to the right unless it can only rest the other way.
	const edge = 1e-3
	spans := [][2]float64{{edge, math.Pi/2 - edge}, {math.Pi/2 + edge, math.Pi - edge}}
	if b.Shape == question.Frame {
		spans = [][2]float64{{-math.Pi + edge, math.Pi + edge}}
	}
	for _, span := range spans {
		for _, slip = range []float64{1, -1} {
			if angle, ok = balanceWithin(span, func(t float64) float64 { return handCouple(q, b, f, t, slip) }); ok {
				return angle, slip, true
			}
		}
	}
	return 0, 1, false
}

// balanceWithin finds a zero of the hand's couple in a span of angles, a stable one if it can.
func balanceWithin(span [2]float64, hand func(float64) float64) (float64, bool) {
	const steps = 360
	lo, hi := span[0], span[1]
	best, stable := math.NaN(), false
	t0, c0 := lo, hand(lo)
	for i := 1; i <= steps; i++ {
		t1 := lo + (hi-lo)*float64(i)/steps
		c1 := hand(t1)
		if c0 == 0 || c0*c1 < 0 {
			root := bisect(hand, t0, t1, c0)
			if rises := c1 > c0; !math.IsNaN(root) && (math.IsNaN(best) || rises && !stable) {
				best, stable = root, rises
			}
		}
		t0, c0 = t1, c1
	}
	return best, !math.IsNaN(best)
}

// handCouple is the couple, anticlockwise, that would hold the body still at angle t; NaN if none would.
func handCouple(q *question.Question, b *question.Body, f found, t, slip float64) float64 {
	l, err := withAngle(q, b.Name, f, t, slip)
	if err != nil {
		return math.NaN()
	}
	s := l.System
	n := len(s.Unknowns)
	s.Unknowns = append(s.Unknowns[:n:n], statics.Unknown{On: l.BodyIndex(b.Name), Couple: 1, Least: math.Inf(-1), Greatest: math.Inf(1)})
	sol, err := statics.Solve(&s)
	if err != nil || sol.State == statics.NoEquilibrium {
		return math.NaN()
	}
	if sol.Ranges != nil && !fixed(sol.Ranges[n]) {
		return math.NaN()
	}
	return sol.Unknowns[n]
}

// bisect halves [a, b] until it is as narrow as float64 allows; f changes sign in it. It returns
// NaN if what it closes in on is a jump and no zero.
func bisect(f func(float64) float64, a, b, fa float64) float64 {
	if fa == 0 {
		return a
	}
	first := math.Abs(fa)
	for range 100 {
		m := a + (b-a)/2
		if m == a || m == b {
			break
		}
		fm := f(m)
		switch {
		case math.IsNaN(fm):
			return math.NaN()
		case fm == 0:
			return m
		case (fm > 0) == (fa > 0):
			a, fa = m, fm
		default:
			b = m
		}
	}
	if math.Abs(fa) > 1e-6*first && math.Abs(fa) > 1e-6 {
		return math.NaN()
	}
	return a + (b-a)/2
}
