package solution

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// A solver works out the parts of one question in order; what one part found, later ones may use.
type solver struct {
	a       *answer.Answers
	s       *scene
	known   []bool            // unknowns of s that earlier parts found
	by      []string          // the part that found each
	end     string            // "one" or "the other" end of a range
	moved   string            // the first part that says how it moves
	unfixed string            // the first part that equilibrium leaves open
	weighs  bool              // the weights have been worked out from masses
	used    []statics.Vec     // pivots of the routes that are shown first
	centred map[string]string // bodies whose centre of mass a part has worked out from pieces
	told    map[int]bool      // bodies whose forces an earlier part has listed
	via     map[int][]int     // what was found on the way to each unknown that earlier parts found
}

// Solve works out every part of a question that has been answered. Where nothing can be in equilibrium, or
// equilibrium does not fix what is asked, the parts say so and why. An error says that there are no answers.
func Solve(a *answer.Answers) (s *Solution, err error) {
	defer caught(&err)
	if a == nil || a.Layout == nil {
		return nil, fmt.Errorf("working out the parts: the question has no answers yet; solve it first")
	}
	w := &solver{a: a, s: newScene(a, a.Layout, a.Solution.Reactions, nil, limit{})}
	w.known = make([]bool, len(w.s.unknowns))
	w.told, w.centred, w.via = map[int]bool{}, map[string]string{}, map[int][]int{}
	w.by = make([]string, len(w.s.unknowns))
	out := &Solution{Question: a.Layout.Question.Title}
	for i := range a.Results {
		out.Parts = append(out.Parts, w.part(&a.Results[i]))
	}
	out.Check = w.check()
	out.Safety = safety(a.Layout.Question)
	return out, nil
}

// caught turns a fault of the program itself into an error, so that no panic reaches a user.
func caught(err *error) {
	if fault := recover(); fault != nil {
		*err = fmt.Errorf("working out the parts: the program has a fault (%v); please report this question", fault)
	}
}

// part works one part out.
func (w *solver) part(r *answer.Result) Worked {
	p := r.Part
	w.s.part, w.s.figures = p, answer.Figures(w.s.q, p)
	out := Worked{Name: p.Name, Asked: question.PartWording(w.s.q, *p), Marks: p.Marks}
	out.Answer = w.answer(r)
	switch {
	case needsForces(p.Ask) && w.a.State == statics.NoEquilibrium:
		out.Routes = w.moves(r)
	case needsForces(p.Ask) && r.Low != r.High && p.Ask != question.AskRange:
		out.Routes = w.notFixed(r)
	default:
		out.Routes = w.routes(r)
	}
	if len(out.Routes) == 0 {
		out.Routes = []Route{w.plainly(r)}
	}
	w.tell(&out.Routes[0])
	return out
}

func needsForces(a question.Ask) bool {
	switch a {
	case question.AskMoment, question.AskTotalMoment, question.AskResultant, question.AskWhether, question.AskCentre,
		question.AskFurthest, question.AskRange, question.AskGreatest, question.AskLeast, question.AskLeastCoefficient:
		return false
	}
	return true
}

func (w *solver) routes(r *answer.Result) []Route {
	p := r.Part
	switch p.Ask {
	case question.AskForce, question.AskAcross, question.AskUpright, question.AskDirection, question.AskNormal, question.AskFriction:
		return w.force(r)
	case question.AskForceOn:
		return w.pair(r)
	case question.AskCouple:
		return w.seek(r, func(u *Unknown) bool { return u.Name == p.Thing && u.Kind == OfCouple })
	case question.AskWeight, question.AskSize:
		return w.seek(r, func(u *Unknown) bool { return u.Name == p.Thing && (u.Kind == OfForce || u.Kind == OfCouple) })
	case question.AskMass:
		return w.mass(r)
	case question.AskPosition:
		return w.seek(r, func(u *Unknown) bool { return u.Name == p.Thing && u.Kind == OfPlace })
	case question.AskCentre:
		return w.centre(r)
	case question.AskAngle:
		return w.angle(r)
	case question.AskCoefficient:
		return w.seek(r, func(u *Unknown) bool { return u.Name == p.Thing && u.Kind == OfCoefficient })
	case question.AskFurthest, question.AskRange, question.AskGreatest, question.AskLeast, question.AskLeastCoefficient:
		return w.limits(r)
	case question.AskMoment, question.AskTotalMoment:
		return w.momentOf(r)
	case question.AskResultant:
		return w.resultant(r)
	case question.AskWhether:
		return w.whether(r)
	}
	return nil
}

// seek works out one unknown of the main arrangement.
func (w *solver) seek(r *answer.Result, is func(*Unknown) bool) []Route {
	for u := range w.s.unknowns {
		if is(&w.s.unknowns[u]) {
			routes := w.find(r, w.s, u, w.known, w.by, nil)
			if len(routes) > 0 {
				w.passed(u, &routes[0])
				w.found(u, r.Part.Name)
			}
			return routes
		}
	}
	return nil
}

// free tells what is known without having been worked out by way of u, so that no reasoning goes in a circle.
func (w *solver) free(us ...int) []bool {
	known := slices.Clone(w.known)
	for v, via := range w.via {
		for _, u := range us {
			if slices.Contains(via, u) && !slices.Contains(us, v) {
				known[v] = false
			}
		}
	}
	return known
}

// passed notes what the first route to u found on the way, and what it took over rests on.
func (w *solver) passed(u int, route *Route) {
	if route.Working == nil || route.Working.scene != w.s || w.via[u] != nil {
		return
	}
	none := make([]bool, len(w.s.unknowns))
	for _, m := range route.Working.Moves {
		w.via[u] = append(w.via[u], m.Gives)
		if m.With != nil {
			w.via[u] = append(w.via[u], m.Also)
		}
		for _, v := range w.s.unknownsIn(m.Equation, none) { // and what these were found by in their turn
			if v != u && w.known[v] {
				w.via[u] = append(w.via[u], w.via[v]...)
			}
		}
	}
}

func (w *solver) found(u int, part string) {
	if !w.known[u] {
		w.known[u], w.by[u] = true, part
	}
}

// find writes the routes to unknown u of a scene; begin adds what comes first in each.
func (w *solver) find(r *answer.Result, s *scene, u int, known []bool, by []string, begin func(*worker)) []Route {
	if known[u] {
		return []Route{w.already(r, s, u, by)}
	}
	if s == w.s {
		known = w.free(u)
	}
	var routes []Route
	plans := s.plans(u, known, 3)
	for _, p := range plans {
		styles := []style{natural}
		if len(routes) == 0 {
			styles = append(styles, s.otherStyle(p)...)
		}
		for _, st := range styles {
			k := w.begin(s, known, u, r, st, begin)
			if !k.plan(p) || math.IsNaN(k.values[u]) {
				continue
			}
			routes = append(routes, w.finish(k, r, s.routeName(p, st), uses(s, p, known, by)))
		}
	}
	if len(routes) == 0 {
		routes = w.together(r, s, u, known, by, begin)
	}
	if len(routes) == 0 && !s.limit.multiples && len(s.relations) > 0 {
		return w.multiples(r, s, u, begin)
	}
	if poor, ok := w.poor(s, u, known, routes); ok {
		routes = append(routes, poor)
	}
	return routes
}

func (w *solver) begin(s *scene, known []bool, u int, r *answer.Result, st style, begin func(*worker)) *worker {
	k := s.worker(known)
	k.target, k.style, k.way = u, st, rounding(r)
	if s == w.s {
		k.told = w.told
	}
	w.weigh(k)
	if begin != nil {
		begin(k)
	}
	return k
}

func (w *solver) finish(k *worker, r *answer.Result, name string, used []string) Route {
	k.concludes(r)
	k.award(r.Part.Marks, used, k.s.methodName)
	return Route{Name: name, Uses: used, Steps: k.steps, Working: k.working()}
}

// concludes says of a value that was to be shown whether it has been.
func (k *worker) concludes(r *answer.Result) {
	show := r.Part.Show
	if !show.Known() || math.IsNaN(r.Value) {
		return
	}
	last := -1
	for i := range k.earn {
		if k.earn[i].kind == answering {
			last = i
		}
	}
	if last < 0 || k.earn[last].step >= len(k.steps) {
		return
	}
	e := k.earn[last]
	line := &k.steps[e.step].Lines[e.line]
	note := "which is not the " + formula.Text(given(show)) + " that was to be shown"
	if r.Shows() {
		note = "that is " + formula.Text(given(show)) + ", as was to be shown"
	}
	if line.Note != "" {
		note = line.Note + "; " + note
	}
	line.Note = note
}

// methodName names an equation for the mark scheme.
func (s *scene) methodName(e *Equation) string {
	switch {
	case e == nil:
		return ""
	case e.Kind == Balance:
		return "balance of forces " + strings.ToLower(e.Direction.Name)
	}
	return e.Pivot.Name
}

// rounding is to the safe side where a part asks for a limit; an angle is rounded to the nearest, and so is a
// value that is the only one.
func rounding(r *answer.Result) answer.Way {
	if r.Part.OfAngle || only(r) {
		return answer.Nearest
	}
	switch r.Part.Ask {
	case question.AskLeast, question.AskLeastCoefficient:
		return answer.Up
	case question.AskGreatest:
		return answer.Down
	}
	return answer.Nearest
}

// otherStyle offers the other way to work out slanting forces, where there are any.
func (s *scene) otherStyle(p *plan) []style {
	slant, lean := false, false
	for _, m := range p.moves {
		if m.equation.Kind != Moments {
			continue
		}
		for i := range m.equation.Terms {
			t := &m.equation.Terms[i]
			if t.Arm.Trig != nil && t.Arm.Trig.Unknown < 0 && t.Arm.Unknown < 0 {
				slant = slant || !plainForce(t.Force)
				lean = lean || plainForce(t.Force)
			}
		}
	}
	switch {
	case slant:
		return []style{perpendicular}
	case lean:
		return []style{components}
	}
	return nil
}

// routeName says in a line what a route does.
func (s *scene) routeName(p *plan, st style) string {
	var names []string
	for _, m := range p.moves {
		switch m.equation.Kind {
		case Moments:
			names = append(names, "moments about "+m.equation.Pivot.full()+s.forWhom(m.equation))
		case Balance:
			names = append(names, "the balance of forces "+strings.ToLower(m.equation.Direction.Name)+s.forWhom(m.equation))
		default:
			names = append(names, "limiting friction at "+m.equation.relation.support)
		}
	}
	name := strings.Join(names, ", then ")
	switch st {
	case perpendicular:
		name += ", by the perpendicular distance to the line of action"
	case components:
		name += ", by components at right angles to the body"
	}
	return name
}

// uses lists the parts whose answers a plan takes over.
func uses(s *scene, p *plan, known []bool, by []string) []string {
	var list []string
	for _, m := range p.moves {
		all := s.unknownsIn(m.equation, make([]bool, len(known)))
		for _, u := range all {
			if u < len(by) && known[u] && by[u] != "" && !slices.Contains(list, by[u]) {
				list = append(list, by[u])
			}
		}
	}
	return list
}

// foundEarlier names the route to what an earlier part has found.
const foundEarlier = "what was found before"

// already answers with what an earlier part found.
func (w *solver) already(r *answer.Result, s *scene, u int, by []string) Route {
	k := s.worker(w.known)
	k.target = u
	k.mayEarn(answering, 0, nil)
	words := "This was found before."
	if u < len(by) && by[u] != "" {
		words = "Part (" + by[u] + ") has found it."
	}
	k.step(Result, say(words), Line{Formula: formula.Equal(s.unknowns[u].symbol(), s.final(s.unknowns[u].Value, s.unknowns[u].Unit, answer.Nearest))})
	var list []string
	if u < len(by) && by[u] != "" {
		list = []string{by[u]}
	}
	return w.finish(k, r, foundEarlier, list)
}

// weigh works weights out from masses, and spread loads into one force, the first time that they are needed.
func (w *solver) weigh(k *worker) {
	s := k.s
	var lines []Line
	g := fieldNode(s)
	for i := range s.l.Bodies {
		b := &s.l.Bodies[i]
		if f := s.forceOf(b.Name, Weight); f != nil && f.known() && b.Body.Mass.Known() && len(b.Pieces) == 0 {
			lines = append(lines, Line{Formula: formula.Equal(s.symbol(f), formula.Times(given(b.Body.Mass), g), f.Given), Note: "weight of " + s.body(i)})
		}
	}
	for i := range s.l.Loads {
		d := &s.l.Loads[i]
		f := s.forceOf(d.Name, Carried)
		if f != nil && f.known() && d.Load.Mass.Known() {
			lines = append(lines, Line{Formula: formula.Equal(s.symbol(f), formula.Times(given(d.Load.Mass), g), f.Given), Note: strings.TrimPrefix(f.Words, "the ")})
		}
	}
	if len(lines) > 0 && !w.weighs {
		k.step(Setting, say("Weight is mass times the gravitational field strength."), lines...)
		for i := range lines {
			k.earn = append(k.earn, earner{len(k.steps) - 1, i, weighing, nil})
		}
	}
	for i := range s.l.Loads {
		if d := &s.l.Loads[i]; d.Kind == question.Spread && !w.weighs {
			w.spread(k, d)
		}
	}
}

func (w *solver) spread(k *worker, d *answer.Load) {
	s := k.s
	f := s.forceOf(d.Name, Spread)
	length := s.l.Bodies[d.On].Distance(d.To) - s.l.Bodies[d.On].Distance(d.From)
	per := given(d.Load.Size)
	if d.Load.Size.Unit.Dimension == quantity.LineDensity {
		per = formula.Times(per, fieldNode(s))
	}
	b := &s.l.Bodies[d.On]
	from, to := s.metres(b.FromZero(b.Distance(d.From))), s.metres(b.FromZero(b.Distance(d.To)))
	middle := formula.Equal(formula.Symbol("x", d.Name, "the middle of "+s.thing(d.Load.Label, d.Name), math.NaN()),
		formula.Frac(formula.Add(from, to), formula.Count(2)), s.metres(b.FromZero(b.Distance(d.At))))
	k.step(Setting, say("A spread load acts as one force at the middle of its length."),
		Line{Formula: formula.Equal(s.symbol(f), flat(per, s.metres(length)), f.Given)}, Line{Formula: middle})
	k.earn = append(k.earn, earner{len(k.steps) - 1, 0, weighing, nil}, earner{len(k.steps) - 1, 1, weighing, nil})
}

func fieldNode(s *scene) formula.Node {
	if s.q.Field.Known() {
		return given(s.q.Field)
	}
	return formula.Given("9.81", "N/kg")
}

// tell notes what the first route of a part has shown.
func (w *solver) tell(r *Route) {
	if r.Working == nil {
		return
	}
	if r.Working.scene == w.s {
		w.weighs = true
	}
	for _, m := range r.Working.Moves {
		e := m.Equation
		if e.Kind == Moments {
			w.used = append(w.used, e.Pivot.At)
		}
		if r.Working.scene == w.s && len(e.Bodies) == 1 {
			w.told[e.Bodies[0]] = true
		}
	}
}

// multiples tries again with limiting friction written as a multiple of the normal force from the start.
func (w *solver) multiples(r *answer.Result, s *scene, u int, begin func(*worker)) []Route {
	lim := s.limit
	lim.multiples = true
	other := newScene(w.a, s.l, s.reactions, r.Part, lim)
	for v := range other.unknowns {
		a, b := &other.unknowns[v], &s.unknowns[u]
		if a.Name == b.Name && a.Letter == b.Letter && a.Kind == b.Kind {
			return w.find(r, other, v, make([]bool, len(other.unknowns)), make([]string, len(other.unknowns)), begin)
		}
	}
	return nil
}

// forWhom names the body of an equation, where there are several.
func (s *scene) forWhom(e *Equation) string {
	if len(s.l.Bodies) == 1 {
		return ""
	}
	return " for " + s.bodies(e.Bodies)
}
