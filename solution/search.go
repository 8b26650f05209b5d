package solution

import (
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/question"
	"steelyard/statics"
)

// Search: every point that has a name, and every crossing of two unknown lines of action, is a pivot that
// moments could be taken about; forces can be balanced up and across. An equation with one unknown left gives
// it. The cheapest way to each unknown is found first, then the ways to the one that is wanted.

// A plan is a list of equations, each giving one new unknown.
type plan struct {
	moves []move
	cost  float64
}

// A move takes an unknown from an equation.
type move struct {
	equation *Equation
	gives    int
}

// candidates lists the equations worth considering, each with its cost.
func (s *scene) candidates() []*Equation {
	if s.equations != nil {
		return s.equations
	}
	list := make([]*Equation, 0, 16)
	for i := range s.relations {
		list = append(list, &Equation{Kind: Limiting, relation: &s.relations[i]})
	}
	for _, bodies := range s.groups() {
		for _, p := range s.pivots(bodies) {
			if e := s.moments(bodies, p); len(e.Terms) > 0 {
				list = append(list, e)
			}
		}
		for _, d := range s.directions(bodies) {
			if e := s.balance(bodies, d); len(e.Terms) > 0 {
				list = append(list, e)
			}
		}
	}
	s.equations = list
	return list
}

// groups are the bodies one by one, and all that are joined taken together.
func (s *scene) groups() [][]int {
	var list [][]int
	var all []int
	for i := range s.l.Bodies {
		list = append(list, []int{i})
		all = append(all, i)
	}
	if len(all) > 1 {
		list = append(list, all)
	}
	if n := len(all); n > 2 && n <= 4 {
		for i := range all {
			for j := i + 1; j < n; j++ {
				list = append(list, []int{i, j})
			}
		}
	}
	return list
}

// directions are up and across, and along and square to a slope.
func (s *scene) directions(bodies []int) []Direction {
	list := []Direction{vertically}
	across := false
	for i := range s.forces {
		f := &s.forces[i]
		if s.acts(f, bodies) != 0 && math.Abs(f.Way.X) > 1e-12 {
			across = true
		}
	}
	if !across {
		return list
	}
	for i := range s.l.Supports {
		p := &s.l.Supports[i]
		if p.Kind == question.Slope && has(bodies, p.On) && s.angleOf(p.On) < 0 {
			down := statics.Vec{X: p.Normal.Y, Y: -p.Normal.X}
			if down.Y > 0 {
				down = statics.Vec{X: -down.X, Y: -down.Y}
			}
			up := statics.Vec{X: -down.X, Y: -down.Y}
			list = append([]Direction{
				{Along: p.Normal, Name: "At right angles to the slope", Plus: "away from the slope", Minus: "into the slope"},
				{Along: up, Name: "Along the slope", Plus: "up the slope", Minus: "down the slope"},
			}, list...)
			break
		}
	}
	return append(list, horizontally)
}

// pivots are the points that moments about them are worth trying for these bodies.
func (s *scene) pivots(bodies []int) []Pivot {
	list := make([]Pivot, 0, len(s.l.Supports)+len(s.l.Loads)+4)
	add := func(p Pivot) {
		if math.IsNaN(p.At.X) || math.IsNaN(p.At.Y) {
			return
		}
		for _, q := range list {
			if math.Hypot(p.At.X-q.At.X, p.At.Y-q.At.Y) < 1e-9 {
				return
			}
		}
		list = append(list, p)
	}
	for i := range s.l.Supports {
		p := &s.l.Supports[i]
		if !has(bodies, p.On) && !(p.By >= 0 && has(bodies, p.By)) || p.Support.On.At.Status == question.Unknown {
			continue
		}
		body := p.On
		if !has(bodies, body) {
			body = p.By
		}
		if b := &s.l.Bodies[p.On]; p.HasFar && answer.IsFace(p.Support, b) && body == p.On {
			add(s.pivotAt("the lower left corner", body, b.At(0), 0))
			add(s.pivotAt("the lower right corner", body, b.At(b.Length), 0))
			continue
		}
		add(s.pivotAt(p.Name, body, p.At, 0))
	}
	for _, i := range bodies {
		b := &s.l.Bodies[i]
		if b.Length > 0 && b.Shape == question.Bar && s.angleOf(i) < 0 {
			left, right := ends(b)
			add(s.pivotAt(left+" of "+s.body(i), i, b.At(0), 0.35))
			add(s.pivotAt(right+" of "+s.body(i), i, b.At(b.Length), 0.4))
		}
		if b.Weight != 0 && b.Body.Centre.At.Status != question.Unknown {
			add(s.pivotAt("the centre of mass of "+s.body(i), i, b.Centre, 0.45))
		}
	}
	for i := range s.l.Loads {
		d := &s.l.Loads[i]
		if has(bodies, d.On) && d.Kind != question.Couple && d.Load.On.At.Status != question.Unknown && s.forceNamed(d.Name).Place < 0 {
			add(s.pivotAt("the line of "+d.Name, d.On, d.At, 0.5))
		}
	}
	for _, p := range s.crossings(bodies) {
		add(p)
	}
	return list
}

// ends names the first and the last point of a body's axis.
func ends(b *answer.Body) (string, string) {
	switch {
	case b.Level():
		return "the left end", "the right end"
	case b.Axis.Y < 0:
		return "the upper end", "the lower end"
	}
	return "the lower end", "the upper end"
}

func (s *scene) forceNamed(name string) *Force {
	for i := range s.forces {
		if s.forces[i].Name == name {
			return &s.forces[i]
		}
	}
	return &Force{Place: -1, Size: -1}
}

// pivotAt is a pivot on a body.
func (s *scene) pivotAt(name string, body int, at statics.Vec, labour float64) Pivot {
	p := Pivot{Name: name, Body: body, At: at, Labour: labour}
	b := &s.l.Bodies[body]
	p.Mark = s.markAt(b, at)
	return p
}

// markAt finds the mark that the question gives for a point, or computes one.
func (s *scene) markAt(b *answer.Body, at statics.Vec) Spot {
	along := b.Distance(at)
	for i := range s.forces {
		f := &s.forces[i]
		if f.Place < 0 && &s.l.Bodies[f.On] == b && f.Mark.OnAxis && math.Abs(f.Mark.Along-along) < 1e-12 && math.Hypot(f.At.X-at.X, f.At.Y-at.Y) < 1e-9 {
			return f.Mark
		}
	}
	m := s.computedMark(b, along)
	m.OnAxis = onAxis(b, at)
	return m
}

// crossings are the points where the lines of action of two unknown forces meet.
func (s *scene) crossings(bodies []int) []Pivot {
	var list []Pivot
	for i := range s.forces {
		f := &s.forces[i]
		if f.known() || f.Kind == Turn || f.Place >= 0 || s.acts(f, bodies) == 0 {
			continue
		}
		for j := i + 1; j < len(s.forces); j++ {
			g := &s.forces[j]
			if g.known() || g.Kind == Turn || g.Place >= 0 || s.acts(g, bodies) == 0 {
				continue
			}
			c := cross(f.Way, g.Way)
			if math.Abs(c) < 1e-9 || f.Name == g.Name {
				continue
			}
			k := cross(sub(g.At, f.At), g.Way) / c
			at := statics.Vec{X: f.At.X + k*f.Way.X, Y: f.At.Y + k*f.Way.Y}
			p := s.pivotAt("that crossing", f.On, at, 1.3)
			p.Full = "the point where the lines of action of " + f.Words + " and " + g.Words + " cross"
			list = append(list, p)
		}
	}
	return list
}

// cost says how much work an equation is to a person.
func (s *scene) cost(e *Equation) float64 {
	switch e.Kind {
	case Limiting:
		return 0.3
	case Balance:
		c := 0.7 + 0.1*float64(len(e.Terms)) + 0.25*float64(len(e.Bodies)-1)
		for i := range e.Terms {
			if e.Terms[i].Share != nil {
				c += 0.1
			}
		}
		return c
	}
	c := 1 + 0.15*float64(len(e.Terms)) + e.Pivot.Labour + 0.25*float64(len(e.Bodies)-1)
	for i := range e.Terms {
		d := e.Terms[i].Arm
		if d.Trig != nil {
			c += 0.1
		}
		if d.From == nil && d.Slant != 0 {
			c += 0.2
		}
	}
	return c
}

// best finds the cheapest plan for every unknown that can be had one equation at a time, without using an
// equation that holds the unknown without (−1 for none).
func (s *scene) best(known []bool, without int) []*plan {
	plans := make([]*plan, len(s.unknowns))
	for again := true; again; {
		again = false
		for _, e := range s.candidates() {
			open := s.unknownsIn(e, known)
			if without >= 0 && has(open, without) {
				continue
			}
			for _, u := range open {
				if p := s.through(e, u, open, plans); p != nil && (plans[u] == nil || p.cost < plans[u].cost-1e-9) {
					plans[u] = p
					again = true
				}
			}
		}
	}
	return plans
}

// through is the plan that takes u from e after all else in e has been found; nil if that can't be done.
func (s *scene) through(e *Equation, u int, open []int, plans []*plan) *plan {
	if !s.gives(e, u) {
		return nil
	}
	p := &plan{cost: s.cost(e)}
	if s.unknowns[u].Kind == OfAngle && subtractsWeights(e) {
		p.cost += 1.5
	}
	for _, v := range open {
		if v == u {
			continue
		}
		if plans[v] == nil {
			return nil
		}
		for _, m := range plans[v].moves {
			if m.gives == u {
				return nil
			}
			if !p.has(m.gives) {
				p.moves = append(p.moves, m)
				p.cost += s.cost(m.equation)
			}
		}
	}
	for _, m := range p.moves { // each equation is used once
		if m.equation == e {
			return nil
		}
	}
	p.moves = append(p.moves, move{e, u})
	return p
}

// subtractsWeights reports whether upright forces turn both ways about the pivot.
func subtractsWeights(e *Equation) bool {
	side := 0
	for i := range e.Terms {
		t := &e.Terms[i]
		if t.Arm.Trig == nil || t.Arm.Trig.Func != "cos" {
			continue
		}
		if side == -t.Sense {
			return true
		}
		side = t.Sense
	}
	return false
}

func (p *plan) has(u int) bool {
	for _, m := range p.moves {
		if m.gives == u {
			return true
		}
	}
	return false
}

// gives reports whether e can be solved for u once the rest is known.
func (s *scene) gives(e *Equation, u int) bool {
	if e.Kind == Limiting {
		return true
	}
	switch s.unknowns[u].Kind {
	case OfAngle:
		return !math.IsNaN(s.solveAngle(e, u, s.truth()))
	case OfPlace:
		if e.Kind != Moments {
			return false
		}
		for i := range e.Terms {
			t := &e.Terms[i]
			if t.Force.Place == u && t.Arm.From == nil {
				return false
			}
		}
		return true
	}
	if e.Kind == Moments { // a force whose own place is sought too has no arm yet
		factor := 0.0
		for i := range e.Terms {
			if e.Terms[i].Force.Size == u {
				factor += math.Abs(e.coefficient(&e.Terms[i]))
			}
		}
		return factor > 1e-12
	}
	return true
}

// truth lists the values of all unknowns.
func (s *scene) truth() []float64 {
	if s.values == nil {
		s.values = make([]float64, len(s.unknowns))
		for i := range s.unknowns {
			s.values[i] = s.unknowns[i].Value
		}
	}
	return s.values
}

// plans lists the ways to unknown u, the best first, at most n.
func (s *scene) plans(u int, known []bool, n int) []*plan {
	if known[u] {
		return []*plan{{}}
	}
	before := s.best(known, u)
	var list []*plan
	for _, e := range s.candidates() {
		open := s.unknownsIn(e, known)
		if !has(open, u) {
			continue
		}
		if p := s.through(e, u, open, before); p != nil {
			list = append(list, p)
		}
	}
	slices.SortStableFunc(list, func(a, b *plan) int {
		switch {
		case a.cost < b.cost-1e-9:
			return -1
		case a.cost > b.cost+1e-9:
			return 1
		}
		return 0
	})
	return different(list, n)
}

// different keeps plans that a person would call different: another kind of last equation or another pivot
// among the supports; of the odd pivots only the cheapest.
func different(list []*plan, n int) []*plan {
	var kept []*plan
	odd := 0
	for _, p := range list {
		last := p.moves[len(p.moves)-1].equation
		if last.Kind == Moments && last.Pivot.Labour > 0 {
			if odd++; odd > 1 || len(kept) > 0 && p.cost > 2.2*kept[0].cost {
				continue
			}
		}
		if len(kept) > 0 && p.cost > 3.5*kept[0].cost+1 {
			continue
		}
		kept = append(kept, p)
		if len(kept) == n {
			break
		}
	}
	return kept
}
