package answer

import (
	"fmt"
	"math"

	"steelyard/question"
	"steelyard/statics"
)

// Solve finds the forces and the answer to every part.
//
// Physics is no error: a question whose bodies move, or whose forces are not fixed, has Answers
// that say so. An error is a question.Faults: something that the question's writer can mend.
func Solve(q *question.Question) (*Answers, error) {
	a, err := settle(q)
	if err != nil {
		return nil, named(q, err)
	}
	a.forces()
	for i := range q.Parts {
		r, err := a.part(&q.Parts[i])
		if err != nil {
			return nil, named(q, err)
		}
		a.Results = append(a.Results, r)
	}
	return a, nil
}

// settle lays the question out with every number found that equilibrium, or a limit that is asked
// for, gives.
func settle(q *question.Question) (*Answers, error) {
	if err := idleConditions(q); err != nil {
		return nil, err
	}
	f := newFound()
	slip := 1.0
	if err := findSlopes(q, f); err != nil {
		return nil, err
	}
	if err := findAngles(q, f, &slip); err != nil {
		return nil, err
	}
	l, err := lay(q, f, slip)
	if err != nil {
		return nil, err
	}
	sol, err := l.solve()
	if err != nil {
		return nil, err
	}
	if sol.State == statics.NoEquilibrium && l.slipping() {
		other, err := lay(q, f, -slip)
		if err != nil {
			return nil, err
		}
		if s, err := other.solve(); err == nil && s.State != statics.NoEquilibrium {
			l, sol, slip = other, s, -slip
		}
	}
	if sol.State == statics.NoEquilibrium && len(l.System.Ties) > 0 {
		// Is it the bodies that cannot rest, or what the question says of the forces that cannot be?
		untied := l.System
		untied.Ties = nil
		free, err := statics.Solve(&untied)
		if err != nil || free.State != statics.NoEquilibrium {
			return nil, l.contradiction()
		}
		sol = free
	}
	if sol.State == statics.NoEquilibrium && sol.Motion == nil {
		return nil, l.contradiction()
	}
	if sol.State == statics.NoEquilibrium || (len(l.sought) == 0 && !l.seeksFriction()) {
		return &Answers{Layout: l, State: sol.State, Solution: sol}, nil
	}
	l.take(&sol, f)
	if err := l.takeLimits(f); err != nil {
		return nil, err
	}
	for i := range l.Supports {
		if p := &l.Supports[i]; math.IsNaN(p.Mu) {
			if mu, ok := ratio(&sol, p.Joint); ok {
				f.mu[p.Name] = mu
			}
		}
	}
	if len(l.sought) == 0 {
		l.found = f
		l.fillFriction()
		return &Answers{Layout: l, State: sol.State, Solution: sol}, nil
	}
	full, err := lay(q, f, slip)
	if err != nil {
		return nil, err
	}
	again, err := full.solve()
	if err != nil {
		return nil, err
	}
	if again.State == statics.NoEquilibrium {
		// What was found satisfies the equations; only the dust of its last digits does not.
		again = sol
		again.Unknowns = nil
	}
	a := &Answers{Layout: full, State: again.State, Solution: again}
	a.warnPlaces()
	return a, nil
}

func (l *Layout) solve() (statics.Solution, error) {
	sol, err := statics.Solve(&l.System)
	if err != nil {
		return sol, fmt.Errorf("finding the forces of %q: %w", l.Question.Title, err)
	}
	return sol, nil
}

// contradiction is the fault where the bodies could rest, but not with all that the question says of the forces.
func (l *Layout) contradiction() error {
	var at question.Span
	for i := range l.Question.Supports {
		if s := &l.Question.Supports[i]; s.Reading.Known() {
			at = s.Reading.Span
		}
	}
	for i := range l.Question.Conditions {
		at = l.Question.Conditions[i].Span
	}
	return fault(at, "no forces in equilibrium agree with what is given here",
		"leave it out, or make the weight or place of something unknown so that it can be found")
}

func (l *Layout) slipping() bool {
	for _, c := range l.Question.Conditions {
		if c.Kind == question.AboutToSlip {
			return true
		}
	}
	return false
}

func (l *Layout) seeksFriction() bool {
	for i := range l.Supports {
		if math.IsNaN(l.Supports[i].Mu) {
			return true
		}
	}
	return false
}

// fillFriction puts the coefficients that were found into the supports. The system keeps friction
// unbounded there: at the coefficient that is just enough, the contact is about to slip by definition.
func (l *Layout) fillFriction() {
	for i := range l.Supports {
		if mu, ok := l.found.mu[l.Supports[i].Name]; ok {
			l.Supports[i].Mu = mu
		}
	}
}

// ratio is friction over normal force at a joint, where equilibrium fixes both.
func ratio(sol *statics.Solution, joint int) (float64, bool) {
	if sol.Spans != nil {
		s := sol.Spans[joint]
		if !fixed(s.N) || !fixed(s.F) {
			return 0, false
		}
	}
	r := sol.Reactions[joint]
	if r.N == 0 {
		return 0, false
	}
	return math.Abs(r.F) / math.Abs(r.N), true
}

func fixed(s statics.Span) bool { return s.Least == s.Greatest }

// take reads what statics found into f.
func (l *Layout) take(sol *statics.Solution, f found) {
	get := func(i int) (float64, bool) {
		if i < 0 || (sol.Ranges != nil && !fixed(sol.Ranges[i])) {
			return 0, false
		}
		return sol.Unknowns[i], true
	}
	for _, s := range l.sought {
		v, ok := get(s.index)
		if !ok {
			continue
		}
		switch s.what {
		case seekWeight, seekBodyWeight:
			f.weight[s.name] = v
		case seekSize:
			f.size[s.name] = v
		case seekPlace:
			if x, ok := l.perForce(s, v, get); ok {
				f.at[s.name] = x
			}
		case seekCentre:
			if x, ok := l.perForce(s, v, get); ok {
				f.centre[s.name] = x
			}
		case seekSupportPlace:
			r := sol.Reactions[s.joint]
			if turn := cross(l.Bodies[s.body].Axis, statics.Vec{X: r.X, Y: r.Y}); turn != 0 {
				f.at[s.name] = v / turn
			}
		}
	}
}

// perForce turns force × place into a place where the force was unknown too.
func (l *Layout) perForce(s sought, v float64, get func(int) (float64, bool)) (float64, bool) {
	if s.force < 0 {
		return v, true
	}
	w, ok := get(s.force)
	if !ok || w == 0 {
		return 0, false
	}
	return v / w, true
}

// takeLimits fills in what equilibrium does not fix but a part asks the limit of: the greatest
// weight of K, the furthest place of K.
func (l *Layout) takeLimits(f found) error {
	for _, s := range l.sought {
		if l.has(s, f) {
			continue
		}
		for i := range l.Question.Parts {
			p := &l.Question.Parts[i]
			if p.Thing != s.name {
				continue
			}
			e, err := l.limitOf(s, p)
			if err != nil {
				return err
			}
			if !e.Possible {
				continue
			}
			v := e.Span.Greatest
			if p.Ask == question.AskLeast || (p.Ask == question.AskFurthest && p.Towards == question.ToLeft) {
				v = e.Span.Least
			}
			if math.IsInf(v, 0) {
				continue
			}
			l.put(s, v, f)
			break
		}
	}
	return nil
}

func (l *Layout) limitOf(s sought, p *question.Part) (statics.Extent, error) {
	switch p.Ask {
	case question.AskGreatest, question.AskLeast, question.AskFurthest, question.AskRange:
	default:
		return statics.Extent{}, nil
	}
	sys := l.System
	if s.what == seekPlace {
		sys = bounded(sys, s.index, 0, l.Bodies[s.body].Length)
	}
	return statics.Range(&sys, s.index)
}

// bounded is the system with bounds on one unknown.
func bounded(sys statics.System, i int, least, greatest float64) statics.System {
	sys.Unknowns = append([]statics.Unknown(nil), sys.Unknowns...)
	sys.Unknowns[i].Least, sys.Unknowns[i].Greatest = least, greatest
	return sys
}

func (l *Layout) has(s sought, f found) bool {
	_, ok := l.store(s, f)[s.name]
	return ok
}

func (l *Layout) put(s sought, v float64, f found) { l.store(s, f)[s.name] = v }

func (l *Layout) store(s sought, f found) map[string]float64 {
	switch s.what {
	case seekWeight, seekBodyWeight:
		return f.weight
	case seekSize:
		return f.size
	case seekCentre:
		return f.centre
	}
	return f.at
}

// warnPlaces warns where a place that was found lies beyond the body.
func (a *Answers) warnPlaces() {
	l := a.Layout
	beyond := func(name string, b *Body, s float64) {
		if b.Shape == question.Bar && (s < -1e-9 || s > b.Length*(1+1e-9)) {
			a.Warnings = append(a.Warnings, fmt.Sprintf("%s would have to be %s from the left end of %s, beyond its end (it is %s long)",
				name, plain(s, "m"), b.Name, plain(b.Length, "m")))
		}
	}
	for i := range l.Loads {
		if s, ok := l.found.at[l.Loads[i].Name]; ok {
			beyond(l.Loads[i].Name, &l.Bodies[l.Loads[i].On], s)
		}
	}
	for i := range l.Supports {
		if s, ok := l.found.at[l.Supports[i].Name]; ok {
			beyond(l.Supports[i].Name, &l.Bodies[l.Supports[i].On], s)
		}
	}
	for i := range l.Bodies {
		if s, ok := l.found.centre[l.Bodies[i].Name]; ok {
			beyond("the centre of mass of "+l.Bodies[i].Name, &l.Bodies[i], s)
		}
	}
}

// forces lists what each support exerts.
func (a *Answers) forces() {
	if a.Solution.Reactions == nil {
		return
	}
	l := a.Layout
	for i := range l.Supports {
		p := &l.Supports[i]
		r := a.Solution.Reactions[p.Joint]
		f := Force{Name: p.Name, On: l.Bodies[p.On].Name, At: p.At, X: r.X, Y: r.Y, Couple: r.Couple, N: r.N, F: r.F}
		if p.HasFar && l.System.Joints[p.Joint].Kind == statics.Face && r.N != 0 {
			// The pushes all along the face come to one force, where the couple about the corner is made up.
			d := r.Couple / r.N / math.Hypot(p.Far.X-p.At.X, p.Far.Y-p.At.Y)
			f.At = statics.Vec{X: p.At.X + d*(p.Far.X-p.At.X), Y: p.At.Y + d*(p.Far.Y-p.At.Y)}
			f.Couple = 0
		}
		if p.By >= 0 {
			f.By = l.Bodies[p.By].Name
		}
		if a.Solution.Spans != nil {
			if s := a.Solution.Spans[p.Joint]; !fixed(s.X) || !fixed(s.Y) || !fixed(s.Couple) {
				f.Spans = &s
			}
		}
		a.Forces = append(a.Forces, f)
	}
}

// ForceNamed returns what the support called name exerts, or nil.
func (a *Answers) ForceNamed(name string) *Force {
	for i := range a.Forces {
		if a.Forces[i].Name == name {
			return &a.Forces[i]
		}
	}
	return nil
}
