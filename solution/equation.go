package solution

import (
	"math"

	"steelyard/formula"
	"steelyard/question"
	"steelyard/statics"
)

// An EquationKind says what an equation balances.
type EquationKind uint8

const (
	Moments  EquationKind = iota // about Pivot: clockwise against anticlockwise
	Balance                      // of forces along Direction
	Limiting                     // F = μN at a contact that is about to slip
)

// A Term is one force in an equation. Force, distance and sense stay apart, so that a slip can change one of them.
type Term struct {
	Force *Force
	Arm   Distance // in moments
	// Share is the part of the force that the term takes: along the direction of a balance; in moments the level
	// or the upright part of a force at a slant on a body whose angle is unknown. Nil for all of it.
	Share *Trig
	Sense int  // +1 anticlockwise or along the direction, −1 the other way
	Other bool // the force that the body exerts, opposite to the one that Force describes
}

// A Direction is one that forces are balanced in.
type Direction struct {
	Along       statics.Vec
	Name        string // "Vertically"
	Plus, Minus string // "up", "down"
}

// An Equation is a condition of equilibrium as data.
type Equation struct {
	Kind      EquationKind
	Bodies    []int // taken together
	Pivot     Pivot
	Direction Direction
	Terms     []Term
	Passing   []*Force // forces whose line of action passes through the pivot
	Gone      []Term   // of supports whose force has just become zero: left out, but a pupil may put them in
	relation  *relation
}

// moments is the equation of moments about p for the bodies taken together.
func (s *scene) moments(bodies []int, p Pivot) *Equation {
	e := &Equation{Kind: Moments, Bodies: bodies, Pivot: p, Terms: make([]Term, 0, len(s.forces))}
	for i := range s.forces {
		f := &s.forces[i]
		side := s.acts(f, bodies)
		if side == 0 {
			continue
		}
		if f.Kind == Turn {
			e.Terms = append(e.Terms, Term{Force: f, Arm: Distance{Unknown: -1}, Sense: int(f.Turn) * side, Other: side < 0})
			continue
		}
		if s.slantsOn(f) {
			e.Terms = append(e.Terms, s.levelAndUpright(f, &e.Pivot, side)...)
			continue
		}
		d, sense := s.arm(f, &e.Pivot)
		if sense == 0 {
			e.Passing = append(e.Passing, f)
			continue
		}
		if f.Zero != "" {
			e.Gone = append(e.Gone, Term{Force: f, Arm: d, Sense: sense * side, Other: side < 0})
			continue
		}
		e.Terms = append(e.Terms, Term{Force: f, Arm: d, Sense: sense * side, Other: side < 0})
	}
	return e
}

// slantsOn reports whether a force has a fixed direction, at a slant, on a body whose angle is unknown: then only
// its level and its upright part have arms that go by the sine and the cosine of that angle.
func (s *scene) slantsOn(f *Force) bool {
	if plainForce(f) || f.Kind == Turn || f.Zero != "" || f.Place >= 0 || s.angleOf(f.On) < 0 {
		return false
	}
	if p := s.l.SupportNamed(f.Name); p != nil {
		return p.Kind == question.Slope || p.Direction != nil && p.Direction.Along == ""
	}
	d := s.l.LoadNamed(f.Name)
	return d != nil && d.Direction != nil && d.Direction.Along == ""
}

// levelAndUpright are the moments of the two parts of a force; none where it acts at the pivot.
func (s *scene) levelAndUpright(f *Force, p *Pivot, side int) []Term {
	var list []Term
	for _, axis := range []statics.Vec{{X: 1}, {Y: 1}} {
		c := dot(f.Way, axis)
		part := *f
		part.Way = statics.Vec{X: axis.X * float64(signOf(c)), Y: axis.Y * float64(signOf(c))}
		if d, sense := s.arm(&part, p); sense != 0 {
			list = append(list, Term{Force: &part, Arm: d, Share: s.slope(c, f), Sense: sense * side, Other: side < 0})
		}
	}
	return list
}

// balance is the balance of forces along one direction.
func (s *scene) balance(bodies []int, d Direction) *Equation {
	e := &Equation{Kind: Balance, Bodies: bodies, Direction: d, Terms: make([]Term, 0, len(s.forces))}
	for i := range s.forces {
		f := &s.forces[i]
		side := s.acts(f, bodies)
		part := dot(f.Way, d.Along)
		if side == 0 || f.Kind == Turn || math.Abs(part) < 1e-12 {
			continue
		}
		sense := side
		if part < 0 {
			sense = -side
		}
		t := Term{Force: f, Share: s.trig(part, f.On, f), Sense: sense, Other: side < 0}
		if s.slantsOn(f) {
			t.Share = s.slope(part, f)
		}
		if f.Zero != "" {
			e.Gone = append(e.Gone, t)
			continue
		}
		e.Terms = append(e.Terms, t)
	}
	return e
}

// acts is +1 if f acts on the bodies from outside, −1 if the bodies exert it on another, 0 if it is inside or elsewhere.
func (s *scene) acts(f *Force, bodies []int) int {
	on, by := has(bodies, f.On), f.By >= 0 && has(bodies, f.By)
	switch {
	case on == by:
		return 0
	case on:
		return 1
	}
	return -1
}

func has(list []int, x int) bool {
	for _, y := range list {
		if x == y {
			return true
		}
	}
	return false
}

// unknownsIn lists the numbers of what is unknown in e and not in known.
func (s *scene) unknownsIn(e *Equation, known []bool) []int {
	var list []int
	add := func(u int) {
		if u >= 0 && !known[u] && !has(list, u) {
			list = append(list, u)
		}
	}
	if e.Kind == Limiting {
		add(e.relation.friction)
		add(e.relation.normal)
		add(e.relation.mu)
		return list
	}
	for i := range e.Terms {
		t := &e.Terms[i]
		add(t.Force.Size)
		if e.Kind == Moments {
			add(t.Force.Place)
			if t.Arm.Trig != nil {
				add(t.Arm.Trig.Unknown)
			}
		} else if t.Share != nil {
			add(t.Share.Unknown)
		}
	}
	return list
}

// coefficient is what the force of a term is multiplied by: its arm or its share, with its sense.
func (e *Equation) coefficient(t *Term) float64 {
	switch {
	case e.Kind == Balance:
		return float64(t.Sense) * t.Share.value()
	case t.Force.Kind == Turn:
		return float64(t.Sense)
	}
	return float64(t.Sense) * t.Arm.Metres() * t.Share.value()
}

// size is the force of a term in newtons, with what has been found so far; NaN if it isn't known.
func (f *Force) size(values []float64) float64 {
	if f.known() {
		return f.Value
	}
	return f.Factor * values[f.Size]
}

// solve finds unknown u from e, everything else being known. NaN says that e does not give it.
func (s *scene) solve(e *Equation, u int, values []float64) float64 {
	switch {
	case e.Kind == Limiting:
		return s.solveLimiting(e.relation, u, values)
	case s.unknowns[u].Kind == OfPlace:
		return s.solvePlace(e, u, values)
	case s.unknowns[u].Kind == OfAngle:
		return s.solveAngle(e, u, values)
	}
	rest, factor := 0.0, 0.0
	for i := range e.Terms {
		t := &e.Terms[i]
		c := e.coefficient(t)
		if t.Force.Size == u {
			factor += c * t.Force.Factor
			continue
		}
		rest += c * t.Force.size(values)
	}
	if math.Abs(factor) < 1e-12 {
		return math.NaN()
	}
	return -rest / factor
}

func (s *scene) solveLimiting(r *relation, u int, values []float64) float64 {
	mu := r.value
	if r.mu >= 0 {
		mu = values[r.mu]
	}
	switch u {
	case r.friction:
		return mu * values[r.normal]
	case r.normal:
		return values[r.friction] / mu
	}
	return values[r.friction] / values[r.normal]
}

// solvePlace finds how far from the scale's zero a force acts.
func (s *scene) solvePlace(e *Equation, u int, values []float64) float64 {
	rest := 0.0
	var t *Term
	for i := range e.Terms {
		if e.Terms[i].Force.Place == u {
			t = &e.Terms[i]
			continue
		}
		rest += e.coefficient(&e.Terms[i]) * e.Terms[i].Force.size(values)
	}
	if t == nil {
		return math.NaN()
	}
	b := &s.l.Bodies[t.Force.On]
	per := cross(b.Axis, t.Force.Way) * t.Force.size(values) // moment for each metre to the right
	if t.Other {
		per = -per
	}
	if math.Abs(per) < 1e-12 {
		return math.NaN()
	}
	along := e.Pivot.Mark.Along
	if e.Pivot.Body != t.Force.On {
		along = b.Distance(e.Pivot.At)
	}
	return b.FromZero(along - rest/per)
}

// solveAngle finds the angle of a leaning body: forces across give a sine, weights a cosine.
func (s *scene) solveAngle(e *Equation, u int, values []float64) float64 {
	if e.Kind != Moments {
		return math.NaN()
	}
	sin, cos := 0.0, 0.0
	for i := range e.Terms {
		t := &e.Terms[i]
		if t.Force.Kind == Turn || t.Arm.Trig == nil || t.Arm.From == nil || t.Arm.Trig.Angle.Op != formula.Sym {
			return math.NaN()
		}
		m := float64(t.Sense) * t.Arm.Slant * t.Share.value() * t.Force.size(values)
		if t.Arm.Trig.Func == "sin" {
			sin += m
		} else {
			cos += m
		}
	}
	if sin == 0 {
		return math.NaN()
	}
	return math.Atan2(math.Abs(cos), math.Abs(sin)) // tan θ = cos terms over sin terms
}

// A look at the forces decides which directions are worth balancing.
var (
	vertically   = Direction{Along: statics.Vec{Y: 1}, Name: "Vertically", Plus: "upward", Minus: "downward"}
	horizontally = Direction{Along: statics.Vec{X: 1}, Name: "Horizontally", Plus: "to the right", Minus: "to the left"}
)

// node writes the force of a term: as given, as found, or its symbol.
func (s *scene) node(f *Force, values []float64) formula.Node {
	if f.known() {
		if s.extra > 0 && !f.Given.Exact && f.Zero == "" && f.Kind != Turn {
			return s.number(f.Value, "N")
		}
		return f.Given
	}
	if v := values[f.Size]; !math.IsNaN(v) {
		return s.number(f.Factor*v, s.unknowns[f.Size].Unit)
	}
	return s.symbol(f)
}

// own is the symbol of a force itself, where symbol would write it as a multiple of another.
func (f *Force) own() formula.Node { return formula.Symbol(f.Letter, f.Sub, f.Words, f.Value) }

// symbol writes a force as a symbol, times its factor where a ratio is given.
func (s *scene) symbol(f *Force) formula.Node {
	n := formula.Symbol(f.Letter, f.Sub, f.Words, f.Value)
	if f.Size >= 0 {
		u := &s.unknowns[f.Size]
		n = u.symbol()
	}
	if f.Factor != 1 {
		return formula.Times(f.Times, n)
	}
	return n
}
