package solution

import (
	"math"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/question"
	"steelyard/statics"
)

// slope compares the angle at which a block begins to slide with that at which it begins to topple.
func (w *solver) slope(r *answer.Result, p *answer.Support) []Route {
	s := w.s
	b := &s.l.Bodies[p.On]
	if p.Kind != question.Slope || len(s.l.Loads) > 0 || len(s.l.Supports) > 1 || r.Part.Ask != question.AskGreatest {
		return nil
	}
	d := sub(b.Centre, b.Origin)
	along, high := dot(d, b.Axis), cross(b.Axis, d)
	if b.Axis.Y < 0 {
		along = b.Length - along
	}
	k := s.worker(nil)
	k.way = answer.Down
	theta := formula.Symbol("θ", "", "the angle of the slope", math.NaN())
	body := s.body(p.On)
	slides := math.Inf(1)
	if !math.IsInf(p.Mu, 0) && p.Support.Mu.Known() {
		slides = math.Atan(p.Mu)
		weight, normal := s.symbol(s.forceOf(b.Name, Weight)), formula.Symbol("N", p.Name, "the normal force at "+p.Name, math.NaN())
		weight.Value = math.NaN()
		k.step(Choosing, say("It slides when the friction that is needed reaches its greatest value. Balance the forces along the slope and at right angles to it:"))
		k.mayEarn(limitingMark, 2, nil)
		k.mayEarn(passing, 3, nil)
		k.step(Writing, nil,
			Line{Formula: formula.Equal(formula.Symbol("F", p.Name, "the friction at "+p.Name, math.NaN()), formula.Times(weight, formula.Of("sin", theta)))},
			Line{Formula: formula.Equal(normal, formula.Times(weight, formula.Of("cos", theta)))},
			Line{Formula: formula.Equal(formula.Of("tan", theta), formula.Symbol("μ", "", "the coefficient of friction", p.Mu), given(p.Support.Mu))},
			Line{Formula: formula.Equal(theta, formula.Of("tan⁻¹", given(p.Support.Mu)), s.number(slides, "°")), Note: "it would slide"})
	}
	topples := math.Atan2(along, high)
	k.step(Choosing, say("It topples when the normal force has moved to the lower corner: the line of action of the weight then passes through that corner, which is ", s.length(along),
		" along the base from below the centre of mass, ", s.length(high), " under it."))
	k.mayEarn(moments, 0, &Equation{Kind: Moments, Pivot: Pivot{Name: "the lower corner"}})
	k.mayEarn(passing, 1, nil)
	k.step(Writing, nil, Line{Formula: formula.Equal(formula.Of("tan", theta), formula.Frac(s.length(along), s.length(high)))},
		Line{Formula: formula.Equal(theta, formula.Of("tan⁻¹", formula.Frac(s.length(along), s.length(high))), s.number(topples, "°")), Note: "it would topple"})
	least, how := slides, "slides"
	if topples < slides {
		least, how = topples, "topples"
	}
	if math.Abs(least-r.Value) > 1e-6 {
		return nil
	}
	k.mayEarn(answering, 0, nil)
	k.step(Result, say("The smaller angle comes first: "+body+" "+how+"."), Line{Formula: formula.Equal(theta, s.final(least, "°", answer.Nearest))})
	return []Route{w.finish(k, r, "comparing sliding and toppling", nil)}
}

// other finds the least and the greatest that a force could be, where equilibrium does not fix it: one more
// contact has then just lost its force.
func (w *solver) extreme(r *answer.Result, want float64) (Route, bool) {
	l := w.a.Layout
	u := l.SupportNamed(r.Part.Thing)
	if u == nil {
		return Route{}, false
	}
	for i := range l.Supports {
		p := &l.Supports[i]
		if p.Name == u.Name || !canLift(p) || p.On != u.On {
			continue
		}
		sys := l.System
		sys.Ties = append(append([]statics.Tie(nil), sys.Ties...), statics.Tie{Terms: []statics.Term{{Joint: p.Joint, Part: statics.N, Factor: 1}}})
		sol, err := statics.Solve(&sys)
		if err != nil || sol.State != statics.Unique && sol.State != statics.Limit || math.Abs(sol.Reactions[u.Joint].N-want) > 1e-9*(1+math.Abs(want)) {
			continue
		}
		s := newScene(w.a, l, sol.Reactions, r.Part, limit{lifting: []string{p.Name}})
		f := s.upright(u.Name)
		if f == nil || f.Size < 0 {
			continue
		}
		plans := s.plans(f.Size, make([]bool, len(s.unknowns)), 1)
		if len(plans) == 0 {
			continue
		}
		k := s.worker(nil)
		k.told = map[int]bool{}
		k.target = f.Size
		k.seen = [][]int{{f.On}}
		if !k.plan(plans[0]) {
			continue
		}
		return Route{Name: p.Name, Steps: k.steps, Working: k.working()}, true
	}
	return Route{}, false
}

// muOf is the coefficient of friction of a limiting contact, given or found.
func (s *scene) muOf(r *relation) float64 {
	if r.mu >= 0 {
		return s.unknowns[r.mu].Value
	}
	return r.value
}
