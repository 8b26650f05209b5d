package slip

import (
	"math"

	"steelyard/answer"
	"steelyard/question"
	"steelyard/solution"
	"steelyard/statics"
)

// A scene is an arrangement with its forces: the main one, or that of a limit.
type scene struct {
	working  *solution.Working
	forces   []force
	unknowns []solution.Unknown
	main     []int   // number of each unknown in the main scene; −1 if it isn't there
	fromMain []int   // number here of each force of the main scene; −1 if it isn't here
	angles   []angle // of bodies whose angle is unknown: with the question's own numbers
}

// A force is one force of a scene and where its numbers come from.
type force struct {
	*solution.Force
	from source
	i    int     // which body, load or support of the layout
	sign float64 // of a friction: its direction against the one that the surface implies
}

// A source is where the numbers of a force or a pivot come from.
type source uint8

const (
	nowhere source = iota
	body
	load
	support
	leftEnd
	rightEnd
	crossing
)

// An angle is that of a body in a scene.
type angle struct {
	body int
	at   float64
}

func newScene(w *solution.Working, l *answer.Layout) *scene {
	s := &scene{working: w, unknowns: w.Unknowns()}
	for i := range s.unknowns {
		if u := &s.unknowns[i]; u.Kind == solution.OfAngle {
			s.angles = append(s.angles, angle{u.Body, math.Atan2(l.Bodies[u.Body].Axis.Y, l.Bodies[u.Body].Axis.X)})
		}
	}
	for _, f := range w.Forces() {
		x := force{Force: f, from: nowhere, i: -1, sign: 1}
		for i := range l.Supports {
			if l.Supports[i].Name == f.Name && (isSupport(f.Kind) || f.Kind == solution.Turn) {
				x.from, x.i = support, i
				n := l.Supports[i].Normal
				if f.Kind == solution.Friction && f.Way.X*n.Y-f.Way.Y*n.X < 0 {
					x.sign = -1
				}
				if b := &l.Bodies[f.On]; answer.IsFace(l.Supports[i].Support, b) && f.Place < 0 {
					x.from, x.i = rightEnd, f.On
					if f.Mark.Along == 0 {
						x.from = leftEnd
					}
				}
			}
		}
		for i := range l.Loads {
			if l.Loads[i].Name == f.Name && x.i < 0 {
				x.from, x.i = load, i
			}
		}
		for i := range l.Bodies {
			if l.Bodies[i].Name == f.Name && f.Kind == solution.Weight {
				x.from, x.i = body, i
			}
		}
		s.forces = append(s.forces, x)
	}
	return s
}

// link finds the unknowns and forces of a scene in the main one.
func (s *scene) link(m *scene) {
	s.main, s.fromMain = make([]int, len(s.unknowns)), make([]int, len(m.forces))
	for i := range s.unknowns {
		s.main[i] = -1
		for j := range m.unknowns {
			a, b := &s.unknowns[i], &m.unknowns[j]
			if a.Name == b.Name && a.Letter == b.Letter && a.Kind == b.Kind {
				s.main[i] = j
			}
		}
	}
	for i := range m.forces {
		s.fromMain[i] = -1
		for j := range s.forces {
			if s.forces[j].Name == m.forces[i].Name && s.forces[j].Kind == m.forces[i].Kind {
				s.fromMain[i] = j
			}
		}
	}
}

// A move is an equation and the unknown that it gives.
type move struct {
	eq     *solution.Equation
	id     int  // number of the line in the plan
	still  bool // its arms don't hang on what is found
	kind   solution.EquationKind
	terms  []entry // those of the equation first, then forces whose lines pass through the pivot, then those that are gone
	own    int     // how many of them are the equation's
	gone   int     // number of the first that is gone
	pivot  pivot
	dir    statics.Vec
	dirOf  int // the support whose normal gives dir, or −1
	across bool
	flip   float64
	gives  int
	with   *move
	also   int

	friction, normal, mu int // of a limiting contact
	contact              int // its support
}

// An entry is a force in an equation.
type entry struct {
	f    int
	side float64 // −1 for the force that the body exerts
	fn   string  // "sin" or "cos" of its slant, or ""
	base float64 // its sense with the question's own numbers
}

// A pivot is where moments are taken about.
type pivot struct {
	from source
	i, j int
	on   int // the body along which distances from it are counted
	at   statics.Vec
}

func (p *Plan) newMove(s *scene, e *solution.Equation, gives int) move {
	m := move{eq: e, id: p.lines, kind: e.Kind, gives: gives, dirOf: -1, friction: -1, normal: -1, mu: -1, contact: -1, also: -1}
	p.lines++
	if e.Kind == solution.Limiting {
		name := ""
		name, m.friction, m.normal, m.mu = e.Contact()
		for i := range p.Answers.Layout.Supports {
			if p.Answers.Layout.Supports[i].Name == name {
				m.contact = i
			}
		}
		return m
	}
	m.still = true
	number := func(f *solution.Force) int {
		for i := range s.forces {
			if s.forces[i].Force == f {
				return i
			}
		}
		return 0
	}
	side := func(other bool) float64 {
		if other {
			return -1
		}
		return 1
	}
	fn := func(t *solution.Term) string {
		switch {
		case e.Kind == solution.Balance && t.Share != nil:
			return t.Share.Func
		case e.Kind == solution.Moments && t.Arm.Trig != nil:
			return t.Arm.Trig.Func
		}
		return ""
	}
	add := func(list []solution.Term) {
		for i := range list {
			f := list[i].Force
			m.still = m.still && f.Place < 0 && !turning(s, f)
			m.terms = append(m.terms, entry{number(f), side(list[i].Other), fn(&list[i]), float64(list[i].Sense)})
		}
	}
	add(e.Terms)
	m.own = len(m.terms)
	for _, f := range e.Passing {
		inside := false
		for _, b := range e.Bodies {
			inside = inside || b == f.On
		}
		m.terms = append(m.terms, entry{number(f), side(!inside), "", 1})
	}
	m.gone = len(m.terms)
	add(e.Gone)
	if e.Kind == solution.Balance {
		p.aim(&m, e)
		return m
	}
	m.pivot = p.findPivot(s, &e.Pivot)
	return m
}

// turning reports whether a force acts on a body whose angle is unknown.
func turning(s *scene, f *solution.Force) bool {
	for i := range s.unknowns {
		if u := &s.unknowns[i]; u.Kind == solution.OfAngle && (u.Body == f.On || u.Body == f.By) {
			return true
		}
	}
	return false
}

// aim finds what gives the direction of a balance.
func (p *Plan) aim(m *move, e *solution.Equation) {
	m.dir, m.flip = e.Direction.Along, 1
	if m.dir.X == 0 || m.dir.Y == 0 {
		return
	}
	for i := range p.Answers.Layout.Supports {
		n := p.Answers.Layout.Supports[i].Normal
		switch {
		case math.Hypot(n.X-m.dir.X, n.Y-m.dir.Y) < 1e-9:
			m.dirOf = i
			return
		case math.Abs(n.X*m.dir.X+n.Y*m.dir.Y) < 1e-9 && n != (statics.Vec{}):
			m.dirOf, m.across = i, true
			if n.Y*m.dir.X-n.X*m.dir.Y < 0 {
				m.flip = -1
			}
			return
		}
	}
}

// findPivot finds the thing whose place a pivot has.
func (p *Plan) findPivot(s *scene, e *solution.Pivot) pivot {
	l := s.working.Layout()
	out := pivot{on: e.Body, at: e.At}
	here := func(v statics.Vec) bool { return math.Hypot(v.X-e.At.X, v.Y-e.At.Y) < 1e-9 }
	for i := range l.Supports {
		if l.Supports[i].Support.On.At.Status != question.Unknown && here(l.Supports[i].At) {
			out.from, out.i = support, i
			return out
		}
	}
	for i := range l.Bodies {
		b := &l.Bodies[i]
		switch {
		case here(b.At(0)):
			out.from, out.i = leftEnd, i
		case here(b.At(b.Length)):
			out.from, out.i = rightEnd, i
		case here(b.Centre):
			out.from, out.i = body, i
		default:
			continue
		}
		return out
	}
	for i := range l.Loads {
		if l.Loads[i].Kind != question.Couple && here(l.Loads[i].At) {
			out.from, out.i = load, i
			return out
		}
	}
	for i := range s.forces {
		for j := i + 1; j < len(s.forces); j++ {
			if at, ok := meet(s.forces[i].At, s.forces[i].Way, s.forces[j].At, s.forces[j].Way); ok && here(at) {
				out.from, out.i, out.j = crossing, i, j
				return out
			}
		}
	}
	return out
}

// meet is the point where two lines cross.
func meet(p, u, q, v statics.Vec) (statics.Vec, bool) {
	c := u.X*v.Y - u.Y*v.X
	if math.Abs(c) < 1e-9 {
		return statics.Vec{}, false
	}
	k := ((q.X-p.X)*v.Y - (q.Y-p.Y)*v.X) / c
	return statics.Vec{X: p.X + k*u.X, Y: p.Y + k*u.Y}, true
}

// chain copies the moves of a working.
func (p *Plan) chain(w *solution.Working, part int) chain {
	n := -1
	for i, s := range p.scenes {
		if s.working.SameAs(w) {
			n = i
		}
	}
	if n < 0 {
		s := newScene(w, w.Layout())
		n = len(p.scenes)
		switch p.Answers.Results[part].Part.Ask {
		case question.AskFurthest, question.AskRange, question.AskGreatest, question.AskLeast, question.AskLeastCoefficient:
			p.scenes = append(p.scenes, s)
			s.link(p.scenes[0])
		default: // the main arrangement again
			n = 0
			if len(s.unknowns) != len(p.scenes[0].unknowns) {
				p.scenes = append(p.scenes, s)
				s.link(p.scenes[0])
				n = len(p.scenes) - 1
			} else {
				p.scenes[0].working, p.scenes[0].forces = w, s.forces
			}
		}
	}
	s := p.scenes[n]
	if s.main == nil {
		s.link(p.scenes[0])
	}
	c := chain{scene: n, carry: make([]bool, len(s.unknowns)), end: w.Target()}
	for i, v := range w.Start() {
		c.carry[i] = !math.IsNaN(v)
	}
	for _, m := range w.Moves {
		x := p.newMove(s, m.Equation, m.Gives)
		if m.With != nil {
			y := p.newMove(s, m.With, m.Gives)
			x.with, x.also = &y, m.Also
		}
		c.moves = append(c.moves, x)
	}
	return c
}

// momentOf makes the line of a part that asks for a moment about a point.
func (p *Plan) momentOf(x *part) *move {
	s := p.scenes[0]
	l := p.Answers.Layout
	on := 0
	all := x.Ask == question.AskTotalMoment
	for i := range s.forces {
		if s.forces[i].Name == x.Thing {
			on = s.forces[i].On
		}
	}
	at, ok := l.Named(x.Other)
	if x.Place.Set() {
		at, ok = l.Point(x.Place), true
	}
	if !ok || all && len(l.Bodies) > 1 {
		return nil
	}
	e := s.working.Moments([]int{on}, s.working.PivotAt("that point", on, at))
	m := p.newMove(s, e, -1)
	keep := 0
	var terms []entry
	for i, t := range m.terms {
		f := &s.forces[t.f]
		if all && !(isSupport(f.Kind) || f.Kind == solution.Turn && l.SupportNamed(f.Name) != nil) || !all && f.Name == x.Thing {
			if terms = append(terms, t); i < m.own {
				keep++
			}
		}
	}
	m.terms, m.own, m.gone = terms, keep, len(terms)
	return &m
}
