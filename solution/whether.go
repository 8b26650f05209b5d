package solution

import (
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// whether says whether the bodies stay at rest, and why.
func (w *solver) whether(r *answer.Result) []Route {
	if w.a.State == statics.NoEquilibrium {
		return w.moves(r)
	}
	if routes := w.frictions(r); routes != nil {
		return routes
	}
	return w.pushes(r)
}

// frictions compares the friction that is needed with the greatest there can be.
func (w *solver) frictions(r *answer.Result) []Route {
	s := w.s
	for i := range s.l.Supports {
		p := &s.l.Supports[i]
		f, n := s.forceOf(p.Name, Friction), s.forceOf(p.Name, Normal)
		if f == nil || n == nil || f.Size < 0 || n.Size < 0 || !p.Support.Mu.Known() || w.a.Solution.Spans != nil {
			continue
		}
		return w.several(r, []int{n.Size, f.Size}, "comparing the friction needed with the greatest there can be", func(k *worker) { w.compare(k, r, p, f, n) })
	}
	return nil
}

func (w *solver) compare(k *worker, r *answer.Result, p *answer.Support, f, n *Force) {
	s := k.s
	needed, normal := f.size(k.values), n.size(k.values)
	most := p.Mu * normal
	k.step(Stating, say("The friction that is needed is ", formula.Equal(s.symbol(f), s.number(needed, "N")), ". The greatest there can be is the coefficient of friction times the normal force."))
	k.mayEarn(limitingMark, 0, nil)
	k.mayEarn(answering, 1, nil)
	sign, verdict := "<", "Needed is less than available, so "+s.body(f.On)+" stays at rest; friction is then what is needed, not its greatest value."
	switch {
	case math.Abs(needed-most) < 1e-9*most:
		sign, verdict = "=", "Needed is just what is available: "+s.body(f.On)+" is about to slip."
	case needed > most:
		sign, verdict = ">", "More is needed than there can be, so "+s.body(f.On)+" slips."
	}
	k.step(Result, nil,
		Line{Formula: formula.Equal(formula.Times(formula.Symbol("μ", "", "the coefficient of friction", p.Mu), s.symbol(n)), formula.Times(given(p.Support.Mu), s.number(normal, "N")), s.number(most, "N"))},
		Line{Formula: formula.Relate(sign, s.number(needed, "N"), s.number(most, "N")), Note: "needed against available"})
	k.step(Reading, say(verdict))
	if b := &s.l.Bodies[p.On]; p.HasFar && answer.IsFace(p.Support, b) && n.Place >= 0 {
		if x := s.unknowns[n.Place].Value; x > 1e-9*b.Length && x < b.Length*(1-1e-9) {
			k.step(Reading, say("It does not topple either: the line of action of the normal force that is needed crosses the base ", s.metres(x), " from its left corner, inside the base of ", s.metres(b.Length), "."))
		}
	}
}

// pushes finds every force that can only push or pull, and sees that none would have to do the opposite.
func (w *solver) pushes(r *answer.Result) []Route {
	var us []int
	for i := range w.s.forces {
		f := &w.s.forces[i]
		if p := w.s.l.SupportNamed(f.Name); p != nil && f.Size >= 0 && canLift(p) && f.Kind != Friction {
			us = append(us, f.Size)
		}
	}
	if len(us) == 0 || w.a.Solution.Spans != nil {
		return []Route{w.sentence(r, "Forces can be found that balance and that every support is able to exert, so it stays at rest.")}
	}
	return w.several(r, us, "seeing whether each support can do what is needed", func(k *worker) {
		w.sayAnswer(k, r, "None of the supports would have to pull where it can only push, so it stays at rest.")
	})
}

// moves explains that there is no equilibrium: taking it to be at rest asks a support for what it cannot do.
func (w *solver) moves(r *answer.Result) []Route {
	k := w.s.worker(nil)
	l := w.a.Layout
	moves := answer.Moves(l, w.a.Solution.Motion)
	if w.moved != "" {
		w.sayAnswer(k, r, "As part ("+w.moved+") says, it does not stay at rest, so the forces of equilibrium that are asked for do not exist.")
		return []Route{w.finish(k, r, "finding the way it would move", []string{w.moved})}
	}
	w.moved = r.Part.Name
	for _, m := range moves {
		if m.Turns && m.About != "" {
			w.unbalanced(k, m)
			break
		}
	}
	if len(k.steps) == 0 {
		if routes := w.tooMuchFriction(r); routes != nil {
			return routes
		}
	}
	words := "So it does not stay at rest: " + answer.MotionInWords(l, w.a.Solution.Motion) + "."
	if r.Part.Ask != question.AskWhether {
		words += " The forces of equilibrium that are asked for do not exist."
	}
	w.sayAnswer(k, r, words)
	return []Route{w.finish(k, r, "finding the way it would move", nil)}
}

// tooMuchFriction supposes that nothing slips, finds the friction that this asks for, and compares it with the
// greatest there can be; nil where that does not settle it.
func (w *solver) tooMuchFriction(r *answer.Result) []Route {
	l := w.a.Layout
	sys := l.System
	sys.Joints = slices.Clone(sys.Joints)
	for i := range sys.Joints {
		if j := &sys.Joints[i]; j.Mu > 0 {
			j.Mu = math.Inf(1)
		}
	}
	sol, err := statics.Solve(&sys)
	if err != nil || sol.State != statics.Unique {
		return nil
	}
	still := w.in(newScene(w.a, l, sol.Reactions, r.Part, limit{}))
	for i := range l.Supports {
		p := &l.Supports[i]
		f, n := still.s.forceOf(p.Name, Friction), still.s.forceOf(p.Name, Normal)
		if f == nil || n == nil || f.Size < 0 || n.Size < 0 || math.Abs(f.Value) <= p.Mu*n.Value {
			continue
		}
		return still.several(r, []int{n.Size, f.Size}, "comparing the friction needed with the greatest there can be", func(k *worker) {
			still.compare(k, r, p, f, n)
			k.step(Reading, say("So it does not stay at rest: "+quantity.Typeset(answer.MotionInWords(l, w.a.Solution.Motion))+"."))
		})
	}
	return nil
}

// in is a solver of the same question in another scene, where nothing has been found yet.
func (w *solver) in(s *scene) *solver {
	other := *w
	other.s, other.known, other.by = s, make([]bool, len(s.unknowns)), make([]string, len(s.unknowns))
	other.told, other.via = map[int]bool{}, map[int][]int{}
	return &other
}

// unbalanced compares the moments of the given forces about the point that a body turns about.
func (w *solver) unbalanced(k *worker, m answer.Move) {
	s := w.s
	i := -1
	for j := range s.l.Bodies {
		if s.l.Bodies[j].Name == m.Body {
			i = j
		}
	}
	if i < 0 {
		return
	}
	e := s.moments([]int{i}, s.pivotAt(m.About, i, m.Pivot, 0))
	var turning, against []*Term
	want := 1
	if m.Sense == "clockwise" {
		want = -1
	}
	var idle []*Force
	a, b := 0.0, 0.0
	for j := range e.Terms {
		t := &e.Terms[j]
		if !t.Force.known() {
			idle = append(idle, t.Force)
			continue
		}
		if t.Sense == want {
			turning, a = append(turning, t), a+e.size(t, k.values)
		} else {
			against, b = append(against, t), b+e.size(t, k.values)
		}
	}
	if len(turning) == 0 || a <= b {
		return
	}
	w.weigh(k)
	w.weighs = true
	k.step(Choosing, say("Look at the moments of the given forces about "+m.About+". ", w.cannot(idle)))
	k.mayEarn(moments, 0, e)
	line := func(name string, list []*Term, total float64) Line {
		if len(list) == 0 {
			return Line{Formula: formula.Equal(formula.Upright(name), formula.Given("0", "N m"))}
		}
		return Line{Formula: formula.Equal(formula.Upright(name), k.products(list, asLengths), s.number(total, "N m"))}
	}
	k.step(Writing, nil, line("total "+m.Sense+" moment", turning, a), line("total moment the other way", against, b))
	k.mayEarn(arms, 0, e)
	k.step(Reading, say("The two are not equal:"), Line{Formula: formula.Relate(">", s.number(a, "N m"), s.number(b, "N m"))})
}

func (w *solver) cannot(idle []*Force) string {
	switch len(idle) {
	case 0:
		return "No other force has a moment there."
	case 1:
		does := "push where it can only pull"
		if p := w.s.l.SupportNamed(idle[0].Name); p != nil && p.Kind != question.Cable && p.Kind != question.Meter {
			does = "pull where it can only push"
		}
		if w.s.l.SupportNamed(idle[0].Name) == nil {
			does = "act the other way"
		}
		return capital(idle[0].Words) + " is no help: to balance them it would have to " + does + "."
	}
	names := make([]string, len(idle))
	for i, f := range idle {
		names[i] = f.Words
	}
	return capital(and(dedupe(names))) + " are no help: they would have to act the other way."
}

// leastAndGreatest names the route to a force that equilibrium leaves open.
const leastAndGreatest = "finding the least and the greatest that it could be"

// notFixed explains that equilibrium leaves a force open, and gives its least and greatest.
func (w *solver) notFixed(r *answer.Result) []Route {
	s := w.s
	k := s.worker(nil)
	bodies, equations := len(s.l.Bodies), 3
	across := s.sideways
	if !across {
		equations = 2
	}
	open := 0
	for i := range s.unknowns {
		if s.unknowns[i].Kind == OfForce || s.unknowns[i].Kind == OfCouple {
			open++
		}
	}
	if w.unfixed != "" {
		k.step(Choosing, say("As in part ("+w.unfixed+"), equilibrium leaves this force open, but not altogether: "+w.onlyPush()+"."))
		if routes, ok := w.ends(k, r); ok {
			return routes
		}
		k = s.worker(nil)
	}
	w.unfixed = r.Part.Name
	k.setting(&Equation{Bodies: []int{s.bodyAsked(r.Part.Thing)}})
	which := "the balance of forces upwards and the moments about one point"
	if equations == 3 {
		which = "two balances of forces and the moments about one point"
	}
	k.step(Choosing, say("Equilibrium gives "+count(equations*bodies, "equation")+" ("+which+"; moments about another point follow from them), but "+
		count(open, "force")+" "+are(open)+" unknown. More than one set of forces balances, and which one acts depends on how the supports and the body give way, so equilibrium alone cannot tell."))
	k.step(Reading, say("It can tell the least and the greatest that "+r.Part.Thing+" could be: "+w.onlyPush()+"."))
	if routes, ok := w.ends(k, r); ok {
		return routes
	}
	for _, e := range s.candidates() {
		if e.Kind == Limiting || len(e.Bodies) > 1 || e.Kind == Moments && e.Pivot.Labour > 0 {
			continue
		}
		all := s.unknownsIn(e, make([]bool, len(s.unknowns)))
		if len(all) < 2 {
			continue
		}
		left, right := e.sides(all[0])
		if e.Kind == Balance {
			k.mayEarn(balancing, 0, e)
			k.step(Writing, say(e.Direction.Name+":"), Line{Formula: formula.Equal(k.parts(left, false), k.parts(right, false))})
		} else {
			k.mayEarn(moments, 0, e)
			k.step(Writing, say("About "+e.Pivot.Name+":"), Line{Formula: formula.Equal(k.products(left, asLengths), k.products(right, asLengths))})
		}
	}
	w.sayAnswer(k, r, "All of these must hold where "+w.onlyPush()+":")
	return []Route{w.finish(k, r, leastAndGreatest, nil)}
}

// onlyPush says what limits forces that equilibrium leaves open.
func (w *solver) onlyPush() string {
	for i := range w.s.l.Supports {
		if p := &w.s.l.Supports[i]; p.Mu != 0 && canLift(p) {
			return "bodies in contact can only push, so no normal force can be less than zero; friction can act either way"
		}
	}
	if !slices.ContainsFunc(w.s.l.Supports, func(p answer.Support) bool { return canLift(&p) && !pulls(&p) }) {
		return "a cable can only pull, so no tension can be less than zero"
	}
	return "a rest can only push, so no force can be less than zero"
}

// pulls reports whether a support can pull but not push.
func pulls(p *answer.Support) bool {
	return p.Kind == question.Cable || p.Kind == question.Meter
}

// lost says of a support that its force has just become zero.
func (s *scene) lost(name string) string {
	if p := s.l.SupportNamed(name); p != nil && p.Kind == question.Cable {
		return name + " has just gone slack"
	}
	return name + " has just lost contact"
}

// ends works out the least and the greatest of a force, each with another contact that has just lost its force.
func (w *solver) ends(k *worker, r *answer.Result) ([]Route, bool) {
	for i, want := range []float64{r.Low, r.High} {
		name := []string{"least", "greatest"}[i]
		p := w.s.l.SupportNamed(r.Part.Thing)
		if math.IsInf(want, 0) {
			k.step(Reading, say(capital(name)+": there is none. The more of it there is, the more the others take up, and nothing sets an end to that."))
			continue
		}
		if math.Abs(want) < 1e-9 && p != nil {
			cannot := "a rest cannot pull"
			if pulls(p) {
				cannot = "a cable cannot push"
			}
			letter, sub := answer.Symbol(p.Support)
			k.step(Reading, say(capital(name)+": the others can hold "+w.s.body(w.bodyOf(r.Part.Thing))+" without "+r.Part.Thing+", so the force there can be zero, and "+cannot+"."),
				Line{Formula: formula.Equal(formula.Symbol(letter, sub, "the force at "+r.Part.Thing, 0), formula.Given("0", "N"))})
			k.earn = append(k.earn, earner{len(k.steps) - 1, 0, zeroing, nil})
			continue
		}
		end, ok := w.extreme(r, want)
		if !ok {
			return nil, false
		}
		k.step(Choosing, say(capital(name)+": when "+w.s.lost(end.Name)+", so that the force there is zero."))
		at := len(k.steps)
		k.steps = append(k.steps, end.Steps...)
		for j := at; j < len(k.steps); j++ {
			if st := k.steps[j]; st.Kind == Writing && len(st.Lines) > 0 {
				k.earn = append(k.earn, earner{j, 0, moments, end.Working.Moves[0].Equation})
			}
			if st := k.steps[j]; st.Kind == Solving && j == len(k.steps)-1 {
				k.earn = append(k.earn, earner{j, len(st.Lines) - 1, answering, nil})
			}
		}
	}
	k.step(Result, say("So "+r.Part.Thing+" is "+r.Shown+"."))
	return []Route{w.finish(k, r, leastAndGreatest, nil)}, true
}

func are(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

func (s *scene) bodyAsked(name string) int {
	if p := s.l.SupportNamed(name); p != nil {
		return p.On
	}
	if d := s.l.LoadNamed(name); d != nil {
		return d.On
	}
	return 0
}

// plainly states the answer where no route of one new unknown an equation was found: the conditions that
// were solved together, and what they give.
func (w *solver) plainly(r *answer.Result) Route {
	s := w.s
	if r.Layout != nil && r.Layout != s.l {
		if reactions, ok := held(&r.Layout.System, r.GivingAt); ok {
			s = newScene(w.a, r.Layout, reactions, r.Part, limit{}) // the equations are those at the limit
		}
	}
	k := s.worker(nil)
	if math.IsNaN(r.Value) {
		w.sayAnswer(k, r, "Equilibrium does not settle this:")
		return w.finish(k, r, "all conditions of equilibrium together", nil)
	}
	k.step(Choosing, say("No single equation here has only one unknown in it. Write down all the conditions of equilibrium and solve them together."))
	for i := range s.l.Bodies {
		k.setting(&Equation{Bodies: []int{i}})
		for _, d := range s.directions([]int{i}) {
			if e := s.balance([]int{i}, d); len(e.Terms) > 1 {
				left, right := e.sides(-2)
				k.mayEarn(balancing, 0, e)
				k.step(Writing, say(d.Name+":"), Line{Formula: formula.Equal(k.parts(left, false), k.parts(right, false))})
			}
		}
		if pivots := s.pivots([]int{i}); len(pivots) > 0 {
			k.step(Stating, say("About "+pivots[0].Name+", the total clockwise moment equals the total anticlockwise moment."))
		}
	}
	w.sayAnswer(k, r, "Together they give:")
	return w.finish(k, r, "all conditions of equilibrium together", nil)
}
