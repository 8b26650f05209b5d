package solution

import (
	"math"
	"strings"

	"steelyard/answer"
	"steelyard/formula"
)

// A style says how the moment of a force at a slant is worked out.
type style uint8

const (
	natural       style = iota // weights by perpendicular distance, other slanting forces by components
	perpendicular              // every moment by the perpendicular distance to the line of action
	components                 // every moment by the component at right angles to the body
)

// A worker writes one route.
type worker struct {
	s      *scene
	values []float64 // what has been found, in SI units
	style  style
	steps  []Step
	earn   []earner     // lines that could earn marks
	codes  int          // 1 where all marks stand by themselves
	target int          // the unknown that is asked for, or −1
	told   map[int]bool // bodies whose forces have been listed before
	moves  []Move       // the equations used
	seen   [][]int      // bodies whose forces this route has listed
	way    answer.Way
	on     *Equation // the equation at hand, and what it is solved for
	gives  int
}

func (s *scene) worker(known []bool) *worker {
	w := &worker{s: s, target: -1, values: make([]float64, len(s.unknowns)), steps: make([]Step, 0, 12), earn: make([]earner, 0, 8)}
	for i := range w.values {
		w.values[i] = math.NaN()
		if known != nil && known[i] {
			w.values[i] = s.unknowns[i].Value
		}
	}
	return w
}

func (w *worker) step(k StepKind, pieces []Piece, lines ...Line) *Step {
	w.steps = append(w.steps, Step{Kind: k, Say: pieces, Lines: lines, Equation: w.on, Gives: w.gives})
	return &w.steps[len(w.steps)-1]
}

// plan writes a whole plan; it reports whether the values agree with those that statics found.
func (w *worker) plan(p *plan) bool {
	for _, m := range p.moves {
		if m.equation.Kind != Limiting && !sawBodies(w.seen, m.equation.Bodies) {
			w.seen = append(w.seen, m.equation.Bodies)
			w.on, w.gives = m.equation, m.gives
			w.setting(m.equation)
		}
		w.on, w.gives = m.equation, m.gives
		w.move(m)
		w.on = nil
	}
	return w.agrees()
}

func sawBodies(seen [][]int, bodies []int) bool {
	for _, b := range seen {
		if len(b) == len(bodies) && (len(b) == 0 || b[0] == bodies[0]) {
			same := true
			for i := range b {
				same = same && b[i] == bodies[i]
			}
			if same {
				return true
			}
		}
	}
	return false
}

// agrees compares what was found with what statics found.
func (w *worker) agrees() bool {
	scale := 0.0
	for i := range w.s.unknowns {
		if v := math.Abs(w.s.unknowns[i].Value); v > scale && !math.IsInf(v, 0) {
			scale = v
		}
	}
	tolerance := 1e-9
	for i := range w.s.unknowns {
		if w.s.unknowns[i].Kind == OfAngle {
			tolerance = 1e-6 // found by halving an interval
		}
	}
	for i, v := range w.values {
		t := w.s.unknowns[i].Value
		if math.IsNaN(v) {
			continue
		}
		if math.IsNaN(t) || math.Abs(v-t) > tolerance*math.Max(math.Abs(t), scale*1e-3)+1e-12 {
			return false
		}
	}
	return true
}

func (w *worker) setting(e *Equation) {
	view := &View{Layout: w.s.l, Body: w.s.l.Bodies[e.Bodies[0]].Name}
	if len(e.Bodies) > 1 {
		view.Body = ""
	}
	words := w.s.theForces(e.Bodies, w.values)
	if len(e.Bodies) == 1 && w.told[e.Bodies[0]] {
		words = w.s.sameForces(e.Bodies[0], w.values)
	}
	w.step(Setting, words).View = view
	w.ties(e)
	w.zeros(e)
	if len(e.Bodies) != 1 || !w.told[e.Bodies[0]] {
		w.lines(e)
	}
}

// move writes one equation and what it gives.
func (w *worker) move(m move) {
	e, u := m.equation, m.gives
	v := w.s.solve(e, u, w.values)
	w.choosing(e, u)
	w.s.extra = w.lost(e, u)
	defer func() { w.s.extra = 0 }()
	switch {
	case e.Kind == Limiting:
		w.limiting(e, u, v)
	case w.s.unknowns[u].Kind == OfAngle:
		w.angleLines(e, u, v)
	case e.Kind == Balance:
		w.balanceLines(e, u, v)
	default:
		w.momentLines(e, u, v)
	}
	w.values[u] = v
	w.moves = append(w.moves, Move{Equation: e, Gives: u})
	w.reading(u, v)
}

// choosing says which point or direction is taken, and why.
func (w *worker) choosing(e *Equation, u int) {
	s := w.s
	name := s.bodies(e.Bodies)
	does := "does"
	if len(e.Bodies) > 1 {
		does = "do"
	}
	switch e.Kind {
	case Balance:
		w.step(Choosing, say("Balance the forces on "+name+" "+strings.ToLower(e.Direction.Name)+"."))
		verb := " not move " + e.axis()
		w.step(Stating, say(capital(name)+" "+does+verb+", so the total force "+e.plus()+" equals the total force "+e.minus()+"."))
		if e.Direction.Name == "Horizontally" || e.Direction.Name == "Vertically" {
			w.shares(e)
		}
	case Moments:
		words := []any{"Take moments about " + e.Pivot.full() + ". ", w.why(e, u)}
		st := w.step(Choosing, say(words...))
		if len(e.Bodies) == 1 {
			st.View = &View{Layout: s.l, Body: s.l.Bodies[e.Bodies[0]].Name, Pivot: e.Pivot.At, PivotName: e.Pivot.Name}
		}
		w.step(Stating, say(capital(name)+" "+does+" not turn, so the total clockwise moment about "+e.Pivot.Name+
			" equals the total anticlockwise moment about "+e.Pivot.Name+"."))
		w.base(e)
		terms := make([]*Term, len(e.Terms))
		for i := range e.Terms {
			terms[i] = &e.Terms[i]
		}
		w.slants(e, terms)
	}
}

// base says where the normal forces on a flat base act as one, while that is not known.
func (w *worker) base(e *Equation) {
	for i := range e.Terms {
		t := &e.Terms[i]
		if u := t.Arm.Unknown; u >= 0 && !w.has(u) && w.s.unknowns[u].Name == t.Force.Name && t.Force.Kind == Normal && t.Arm.Letter == w.s.unknowns[u].Letter {
			w.step(Choosing, say("The normal forces on the base act as one. How far from the lower left corner is not known yet: call it ", w.s.unknowns[u].symbol(), "."))
		}
	}
}

func (e *Equation) axis() string {
	switch e.Direction.Name {
	case "Vertically":
		return "up or down"
	case "Horizontally":
		return "to the left or to the right"
	case "Along the slope":
		return "along the slope"
	}
	return "into or away from the slope"
}

func (e *Equation) plus() string {
	if e.Direction.Name == "Vertically" {
		return "upwards"
	}
	return e.Direction.Plus
}

func (e *Equation) minus() string {
	if e.Direction.Name == "Vertically" {
		return "downwards"
	}
	return e.Direction.Minus
}

// why gives the reason for a pivot.
func (w *worker) why(e *Equation, u int) []Piece {
	s := w.s
	var unwanted, other []formula.Node
	zero := ""
	for _, f := range e.Passing {
		switch {
		case f.Zero != "":
			zero = f.Name
		case !f.known() && math.IsNaN(w.values[f.Size]):
			unwanted = append(unwanted, s.symbol(f))
		case f.Kind != Weight:
			other = append(other, s.symbol(f))
		}
	}
	_ = zero
	list := func(nodes []formula.Node) []Piece {
		parts := make([][]Piece, len(nodes))
		for i, n := range nodes {
			parts[i] = say(n)
		}
		return join(parts)
	}
	switch {
	case len(unwanted) == 1:
		return say("We do not want ", unwanted[0], ", and its line of action passes through "+e.Pivot.Name+", so it has no moment there.")
	case len(unwanted) > 1:
		return say("We do not want ", list(unwanted), ", and their lines of action pass through "+e.Pivot.Name+", so they have no moment there.")
	case e.Pivot.Labour > 0 && e.Pivot.Mark.Zero:
		return say("Distances are then the places on the scale, with nothing to subtract; every force with an arm there comes in.")
	case len(other) > 0 && e.Pivot.Labour == 0:
		return say("The force at " + e.Pivot.Name + " has no moment there, so an error in it would not be carried on.")
	}
	return say("Any point will do when only one force is left to find.")
}

// slants says how the moments of slanting forces are worked out.
func (w *worker) slants(e *Equation, terms []*Term) {
	s := w.s
	var level, upright [][]Piece
	body := ""
	for _, t := range terms {
		d := t.Arm
		if d.Trig == nil || d.From == nil || d.Trig.Unknown >= 0 || d.Unknown >= 0 {
			continue
		}
		f := t.Force
		body = s.body(f.On)
		if w.byComponent(t) {
			w.step(Choosing, say(capital(f.Words)+" is not at right angles to "+body+". Only its component at right angles to it, ",
				formula.Times(s.node(f, w.values), d.Trig.node()), ", has a moment about "+e.Pivot.Name+"; the line of the component along "+body+" passes through "+e.Pivot.Name+"."))
			continue
		}
		if plainForce(f) {
			p := say(formula.Times(s.slant(d), d.Trig.node()), " for "+f.Words)
			if math.Abs(f.Way.X) > 0.5 {
				upright = append(upright, p)
			} else {
				level = append(level, p)
			}
			continue
		}
		w.step(Choosing, say("The perpendicular from "+e.Pivot.Name+" to the line of action of "+f.Words+" is not the length along "+body+"; it is shorter:"),
			Line{Formula: formula.Equal(formula.Times(s.slant(d), d.Trig.node()), s.metres(d.Metres())), Note: "perpendicular distance"})
	}
	for _, t := range terms {
		if d := t.Arm; d.Plan != nil && d.subtracted() {
			w.step(Choosing, say("Perpendicular distances here are differences of places across (for upright forces) or up (for level ones), counted from "+s.origin()+"."))
			break
		}
	}
	for _, t := range terms {
		if t.Arm.From == nil && t.Arm.Plan == nil && t.Arm.Slant != 0 && t.Arm.Trig == nil && t.Arm.Unknown < 0 {
			w.planDistance(e, t)
		}
	}
	if len(level)+len(upright) == 0 {
		return
	}
	words := []any{"The perpendicular distances from " + e.Pivot.Name + " are not lengths along " + body + ": an upright line of action is a horizontal distance away"}
	switch {
	case len(level) > 0 && len(upright) > 0:
		words = append(words, " (", joinSemi(level), "), a level one a vertical distance (", joinSemi(upright), ").")
	case len(level) > 0:
		words = append(words, " (", joinSemi(level), ").")
	default:
		words = []any{"The perpendicular distances from " + e.Pivot.Name + " are not lengths along " + body + ": a level line of action is a vertical distance away (", joinSemi(upright), ")."}
	}
	w.step(Choosing, say(words...))
}

// planDistance works out the perpendicular distance of a slanting force from a pivot off the body's line.
func (w *worker) planDistance(e *Equation, t *Term) {
	s, f := w.s, t.Force
	r := sub(f.At, e.Pivot.At)
	x, y := r.X*f.Way.Y, -r.Y*f.Way.X
	sin, cos := s.slope(f.Way.Y, f), s.slope(f.Way.X, f)
	if x+y < 0 {
		x, y = -x, -y
	}
	part := func(v, length float64, trig *Trig) formula.Node {
		n := formula.Times(s.metres(math.Abs(length)), trig.node())
		if v < 0 {
			n = formula.Minus(n)
		}
		return n
	}
	var parts []formula.Node
	if math.Abs(x) > 1e-12 {
		parts = append(parts, part(x, r.X, sin))
	}
	if math.Abs(y) > 1e-12 {
		parts = append(parts, part(y, r.Y, cos))
	}
	if x < 0 && len(parts) == 2 {
		parts[0], parts[1] = parts[1], parts[0]
	}
	w.step(Choosing, say("The perpendicular from "+e.Pivot.Name+" to the line of action of "+f.Words+", from the distances across and up between "+e.Pivot.Name+" and a point of that line:"),
		Line{Formula: formula.Equal(formula.Add(parts...), s.metres(t.Arm.Slant)), Note: "perpendicular distance"})
}

// slope names the sine or cosine of a force's angle to the horizontal whose value is |c|.
func (s *scene) slope(c float64, f *Force) *Trig {
	c = math.Abs(c)
	for _, a := range f.Angles {
		if t := fits(a, c); t != nil {
			return t
		}
	}
	return &Trig{Func: "sin", Angle: decimal(math.Asin(c)*180/math.Pi, "°", 3), Value: c, Unknown: -1}
}

// plainForce reports whether a force is upright or level.
func plainForce(f *Force) bool { return math.Abs(f.Way.X) < 1e-12 || math.Abs(f.Way.Y) < 1e-12 }

func (w *worker) byComponent(t *Term) bool {
	switch w.style {
	case perpendicular:
		return false
	case components:
		return true
	}
	return !plainForce(t.Force)
}

// shares says which part of a slanting force counts in a direction.
func (w *worker) shares(e *Equation) {
	for i := range e.Terms {
		t := &e.Terms[i]
		if t.Share != nil && t.Share.Unknown < 0 {
			way := "vertical"
			if e.Direction.Name == "Horizontally" {
				way = "horizontal"
			}
			w.step(Choosing, say("The "+way+" component of "+t.Force.Words+" is ", formula.Times(w.s.symbol(t.Force), t.Share.node()), "."))
		}
	}
}

// reading says what a negative value means.
func (w *worker) reading(u int, v float64) {
	un := &w.s.unknowns[u]
	if v >= 0 || math.Abs(v) < 1e-9 || un.Kind == OfPlace {
		return
	}
	for i := range w.s.forces {
		f := &w.s.forces[i]
		if f.Size != u || f.Kind == Turn {
			continue
		}
		s := w.s.l.SupportNamed(f.Name)
		words := "The minus sign says that the force acts the other way: " + way(opposite(f.Way), 3) + "."
		switch {
		case f.Letter == "S":
			words = "The minus sign says that " + f.Name + " pulls: it is in tension, not a thrust."
		case s != nil && f.Letter == "T":
			words = "The minus sign says that " + f.Name + " pushes: it is a thrust, not a tension."
		case math.Abs(f.Way.X) < 1e-12 && f.Way.Y > 0:
			words = "The minus sign says that the force acts downwards: " + f.Name + " holds " + w.s.body(f.On) + " down."
		}
		w.step(Reading, say(words))
		return
	}
}

// lost is how many figures a sum loses because its terms nearly cancel: with so many more, a person who keys the
// line in gets the printed result.
func (w *worker) lost(e *Equation, u int) int {
	if e.Kind == Limiting || w.s.unknowns[u].Kind == OfAngle {
		return 0
	}
	most, left := 0.0, 0.0
	for i := range e.Terms {
		t := &e.Terms[i]
		if t.Force.Size == u || t.Force.Place == u {
			continue
		}
		v := e.coefficient(t) * t.Force.size(w.values)
		most, left = max(most, math.Abs(v)), left+v
	}
	if ratio := most / math.Abs(left); ratio > 3 && ratio < 1e6 {
		return int(math.Ceil(math.Log10(ratio)))
	}
	return 0
}

// result writes the value of u: rounded if it is what was asked for, with more figures otherwise.
func (w *worker) result(u int, v float64) formula.Node {
	defer func(extra int) { w.s.extra = extra }(w.s.extra)
	w.s.extra = 0
	if u == w.target {
		return w.s.final(v, w.s.unknowns[u].Unit, w.way)
	}
	if w.s.unknowns[u].Kind == OfPlace {
		return w.s.length(v)
	}
	return w.s.number(v, w.s.unknowns[u].Unit)
}

// lines works out the angles of cables, struts and links from where they go.
func (w *worker) lines(e *Equation) {
	s := w.s
	for i := range s.l.Supports {
		p := &s.l.Supports[i]
		f := s.forceOf(p.Name, Reaction)
		if f == nil || len(f.Angles) == 0 || p.To == nil || plainForce(f) || p.Direction != nil || s.acts(f, e.Bodies) == 0 {
			continue
		}
		up, across := math.Abs(p.Far.Y-p.At.Y), math.Abs(p.Far.X-p.At.X)
		sym := formula.Symbol("θ", p.Name, "the angle of "+p.Name+" to the horizontal", f.Angles[0].Value)
		w.step(Setting, say("The angle of "+p.Name+" to the horizontal comes from where it goes: ", s.metres(up), " up or down for ", s.metres(across), " across."),
			Line{Formula: formula.Equal(formula.Of("tan", sym), formula.Frac(s.metres(up), s.metres(across)))},
			Line{Formula: formula.Equal(sym, f.Angles[0])})
	}
}

// zeros says which forces are zero because contact has just been lost, as the question says.
func (w *worker) zeros(e *Equation) {
	for i := range w.s.forces {
		f := &w.s.forces[i]
		if f.Zero != "given" || f.Kind == Friction || w.s.acts(f, e.Bodies) == 0 {
			continue
		}
		w.mayEarn(zeroing, 0, nil)
		w.step(Setting, say("Contact at "+f.Name+" is about to be lost, so the force there has just become zero."),
			Line{Formula: formula.Equal(f.own(), f.Given)})
	}
}

// ties says which forces are written as multiples of others, and why.
func (w *worker) ties(e *Equation) {
	s := w.s
	for i := range s.forces {
		f := &s.forces[i]
		if f.Tied == "" || s.acts(f, e.Bodies) == 0 || w.has(f.Size) {
			continue
		}
		chain := []formula.Node{f.own()}
		if f.Kind == Friction {
			w.mayEarn(limitingMark, 0, &Equation{Kind: Limiting})
			chain = append(chain, formula.Times(formula.Symbol("μ", "", "the coefficient of friction", f.Factor), s.unknowns[f.Size].symbol()))
		}
		w.step(Setting, say(capital(f.Words)+" is written as a multiple of another force from the start, since "+f.Tied+"."),
			Line{Formula: formula.Equal(append(chain, s.symbol(f))...)})
	}
}
