package solution

import (
	"math"

	"steelyard/answer"
	"steelyard/formula"
)

// tilted works out the angle at which a straight body slips along itself, where every support presses square to
// it and one is rough: the normal force goes with the cosine of the angle, the friction with its sine.
func (w *solver) tilted(r *answer.Result, s *scene, u int, begin func(*worker)) []Route {
	if len(s.relations) != 1 || len(s.l.Bodies) != 1 || s.relations[0].mu >= 0 {
		return nil
	}
	rel := &s.relations[0]
	e, normal, friction := s.squareTo(rel)
	if e == nil {
		return nil
	}
	k := w.begin(s, make([]bool, len(s.unknowns)), u, r, natural, begin)
	k.setting(e)
	k.choosing(e, rel.normal)
	left, right := e.sides(rel.normal)
	k.mayEarn(moments, 0, e)
	k.mayEarn(arms, 0, e)
	k.step(Writing, nil, Line{Formula: formula.Equal(k.products(left, asFound), k.products(right, asFound))})
	theta := s.unknowns[u].symbol()
	turning, along := 0.0, 0.0 // for a cosine, or a sine, of 1
	for _, t := range right {
		turning += float64(-t.Sense*left[0].Sense) * t.Force.size(k.values) * t.Arm.Slant
	}
	var pulling []formula.Node
	for i := range s.forces {
		if f := &s.forces[i]; f.known() && f.Zero == "" {
			along += f.Value
			pulling = append(pulling, formula.Times(f.Given, formula.Of("sin", theta)))
		}
	}
	per := turning / left[0].Arm.Slant // the normal force for a cosine of 1
	cos, sin := formula.Of("cos", theta), formula.Of("sin", theta)
	n := formula.Times(s.number(per, "N"), cos)
	k.step(Solving, nil, Line{Formula: formula.Equal(s.symbol(normal), n)})
	k.step(Choosing, say("Along "+s.body(0)+" only friction and a part of the weights act, and they balance."))
	k.mayEarn(balancing, 0, &Equation{Kind: Balance, Direction: Direction{Name: "Along the body"}})
	k.step(Writing, nil, Line{Formula: formula.Equal(s.symbol(friction), formula.Add(pulling...))})
	k.step(Stating, say("At "+rel.support+" it is about to slip, so friction is the coefficient of friction times the normal force."))
	k.mayEarn(limitingMark, 0, nil)
	k.step(Writing, nil, Line{Formula: formula.Equal(formula.Times(s.number(along, "N"), sin), flat(rel.given, n))})
	tan := math.Abs(rel.value * per / along)
	if math.Abs(math.Atan(tan)-s.unknowns[u].Value) > 1e-6 {
		return nil
	}
	k.step(Solving, say("Divide both sides by ", cos, "."),
		Line{Formula: formula.Equal(formula.Of("tan", theta), formula.Frac(formula.Times(rel.given, s.number(per, "N")), s.number(along, "N")), decimal(tan, "", s.figures))})
	k.step(Solving, nil, k.resultLine(u, math.Atan(tan), theta, formula.Of("tan⁻¹", decimal(tan, "", s.figures))))
	return []Route{w.finish(k, r, "moments about "+e.Pivot.full()+", then the balance of forces along "+s.body(0), nil)}
}

// squareTo is the equation of moments that holds no force of a support but the normal force of a contact, where
// all that acts is square to the one body, along it, or a weight on its axis; nil elsewhere.
func (s *scene) squareTo(rel *relation) (e *Equation, normal, friction *Force) {
	axis := s.l.Bodies[0].Axis
	for i := range s.forces {
		f := &s.forces[i]
		weight := f.known() && f.Way.X == 0 && f.Way.Y < 0 && f.Kind != Turn
		square := math.Abs(dot(axis, f.Way)) < 1e-9 && f.Kind != Turn
		switch {
		case f.Place >= 0 || !f.Mark.OnAxis:
			return nil, nil, nil
		case f.Size == rel.friction:
			friction = f
		case f.Size == rel.normal:
			normal = f
		case !weight && !square:
			return nil, nil, nil
		}
	}
	for _, e := range s.candidates() {
		if e.Kind != Moments || normal == nil || friction == nil {
			continue
		}
		holds := false
		others := false
		for i := range e.Terms {
			t := &e.Terms[i]
			holds = holds || t.Force == normal
			others = others || t.Force != normal && (!t.Force.known() || t.Arm.Trig == nil || t.Arm.From == nil)
		}
		if holds && !others {
			return e, normal, friction
		}
	}
	return nil, nil, nil
}
