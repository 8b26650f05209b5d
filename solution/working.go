package solution

import (
	"math"
	"slices"

	"steelyard/formula"
)

// A Working is the chain of equations behind a route, as data: a slip is a change to one of them.
type Working struct {
	Moves  []Move
	scene  *scene
	start  []float64 // what was known before, SI
	target int
}

// A Move takes one unknown from an equation, or two from a pair of equations.
type Move struct {
	Equation *Equation
	Gives    int       // number of the unknown
	With     *Equation // the second of a pair, or nil
	Also     int       // the other unknown of a pair
}

func (w *worker) working() *Working {
	if len(w.moves) == 0 {
		return nil
	}
	start := slices.Clone(w.values)
	for _, m := range w.moves {
		start[m.Gives] = math.NaN()
		if m.With != nil {
			start[m.Also] = math.NaN()
		}
	}
	target := w.target
	if target < 0 {
		target = w.moves[len(w.moves)-1].Gives
	}
	return &Working{Moves: w.moves, scene: w.s, start: start, target: target}
}

// Unknowns lists what the arrangement leaves to find; moves give them by number.
func (w *Working) Unknowns() []Unknown { return w.scene.unknowns }

// Target is the number of the unknown that the route ends with.
func (w *Working) Target() int { return w.target }

// Copy is a copy of an equation whose terms and forces can be changed without changing the first.
func (e *Equation) Copy() *Equation {
	c := *e
	c.Terms = make([]Term, len(e.Terms))
	pivot := c.Pivot
	for i, t := range e.Terms {
		f := *t.Force
		t.Force = &f
		if t.Arm.From != nil {
			to := &f.Mark
			if t.Arm.To == &e.Terms[i].Force.ByMark {
				to = &f.ByMark
			}
			t.Arm.From, t.Arm.To = &pivot.Mark, to
		}
		if t.Arm.Trig != nil {
			trig := *t.Arm.Trig
			t.Arm.Trig = &trig
		}
		if t.Share != nil {
			share := *t.Share
			t.Share = &share
		}
		c.Terms[i] = t
	}
	return &c
}

// Values works the chain out, in SI units, with each equation as change leaves it (nil changes nothing).
// It returns the value of every unknown; NaN where the chain no longer gives one.
func (w *Working) Values(change func(move int, e *Equation)) []float64 {
	values := slices.Clone(w.start)
	for i, m := range w.Moves {
		e := m.Equation
		if change != nil {
			e = e.Copy()
			change(i, e)
		}
		if m.With != nil {
			values[m.Gives], values[m.Also] = w.scene.solvePair(e, m.With, m.Gives, m.Also, values)
			continue
		}
		values[m.Gives] = w.scene.solve(e, m.Gives, values)
	}
	return values
}

// Line writes an equation of the chain with its numbers, those found before it included; found holds the
// values of the unknowns, NaN for those to be written as symbols.
func (w *Working) Line(e *Equation, gives int, found []float64) formula.Node {
	k := w.scene.worker(nil)
	copy(k.values, found)
	return k.line(e, gives, asLengths)
}

// line writes an equation with its numbers, all on one line.
func (w *worker) line(e *Equation, u int, f form) formula.Node {
	if e.Kind == Limiting {
		r := e.relation
		return formula.Equal(w.s.unknowns[r.friction].symbol(), formula.Times(formula.Symbol("μ", "", "the coefficient of friction", w.s.muOf(r)), w.s.unknowns[r.normal].symbol()))
	}
	left, right := e.sides(u)
	if e.Kind == Balance {
		return formula.Equal(w.parts(left, false), w.parts(right, false))
	}
	return formula.Equal(w.products(left, f), w.products(right, f))
}

// symbols writes an equation in symbols.
func (w *worker) symbols(e *Equation, u int) formula.Node {
	if e.Kind == Limiting {
		return w.line(e, u, asFound)
	}
	left, right := e.sides(u)
	if e.Kind == Balance {
		return formula.Equal(w.parts(left, true), w.parts(right, true))
	}
	arms := map[string]int{} // the friction and the normal force of one contact have arms of their own
	for i := range e.Terms {
		arms[e.Terms[i].Force.Name]++
	}
	side := func(terms []*Term) formula.Node {
		var nodes []formula.Node
		for _, t := range terms {
			force := w.s.symbol(t.Force)
			if t.Force.Kind == Turn {
				nodes = append(nodes, force)
				continue
			}
			sub := t.Force.Name
			if arms[sub] > 1 {
				sub = t.Force.Letter + sub
			}
			nodes = append(nodes, formula.Times(force, formula.Symbol("d", sub, "the perpendicular distance of "+t.Force.Words, t.Arm.Metres())))
		}
		return formula.Add(nodes...)
	}
	return formula.Equal(side(left), side(right))
}

// solvePair solves two equations for two forces.
func (s *scene) solvePair(a, b *Equation, u, v int, values []float64) (float64, float64) {
	rest := func(e *Equation) float64 {
		sum := 0.0
		if e.Kind == Limiting {
			return 0
		}
		for i := range e.Terms {
			if t := &e.Terms[i]; t.Force.Size != u && t.Force.Size != v {
				sum -= e.coefficient(t) * t.Force.size(values)
			}
		}
		return sum
	}
	p, q, c := s.factor(a, u), s.factor(a, v), rest(a)
	x, y, d := s.factor(b, u), s.factor(b, v), rest(b)
	det := p*y - q*x
	if det == 0 {
		return math.NaN(), math.NaN()
	}
	return (c*y - q*d) / det, (p*d - c*x) / det
}
