package mark

import (
	"math"
	"unicode"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// A columnKind says what a column of the equations stands for.
type columnKind uint8

const (
	weightOf    columnKind = iota // of a body or of a load
	pushOf                        // a given push or pull, or a spread load as one force
	turnOf                        // a couple
	reactionOf                    // the one force of a support
	normalOf                      // of a rough contact
	frictionOf                    // of a rough contact
	acrossOf                      // horizontal part of a hinge's force
	uprightOf                     // vertical part of a hinge's force
	placeOf                       // how far along its body something is that the question leaves open
	angleOf                       // of a body, in degrees
	coefficient                   // of friction
)

// A column is a number that stands in the equations of equilibrium: a force, or a place, an angle, a coefficient.
type column struct {
	kind  columnKind
	name  string // of the support, load or body
	words string // "the weight of the plank", "the force at P"
	value float64
	known bool
	mass  float64 // kg, where it was given as a mass; else 0
	on    int
	by    int // the body that exerts it, or −1
	at    statics.Vec
	way   statics.Vec // of its force when positive
	turn  float64     // couple for each unit of it, anticlockwise
	along statics.Vec // of a place: the body's axis
	force int         // of a place: the column of the force there
}

// isForce reports whether the equations are linear in the column.
func (c *column) isForce() bool { return c.kind < placeOf }

// A natural equation is one that a person would write: a balance, or moments about a point that stands out.
type natural struct {
	means string
	row   []float64 // by column; it adds up to nothing at the true values
	at    statics.Vec
	turns bool
	along statics.Vec // of a balance
	body  int         // −1: all bodies together
}

// A scene is one arrangement with all its forces known.
type scene struct {
	l       *answer.Layout
	cols    []column
	rows    [][]float64 // three for each body, then friction and given ratios, by column
	natural []natural
	fixed   bool // equilibrium fixes every force
	lengths []float64
	trigs   []float64
	points  []point
	unit    [8]quantity.Unit // by dimension, as the question uses them
	limit   bool
	degrees []float64 // the angles of the arrangement
	largest float64   // of the forces
	given   []float64 // numbers of the question that may stand in working as they are
}

// A point stands out in the arrangement.
type point struct {
	name string
	at   statics.Vec
	body int
	key  string // name of the support, load or point; "" for an end
}

// newScene lays the columns out. reactions may be nil where nothing is in equilibrium.
func newScene(l *answer.Layout, reactions []statics.Reaction) *scene {
	s := &scene{l: l, fixed: reactions != nil}
	for i := range l.Bodies {
		b := &l.Bodies[i]
		if b.Weight == 0 {
			continue
		}
		c := column{kind: weightOf, name: b.Name, words: "the weight of " + called(plainName(b.Label, b.Name)), value: b.Weight, on: i, by: -1, at: b.Centre, way: statics.Vec{Y: -1}}
		c.known = b.Body.Weight.Known() || b.Body.Mass.Known() || len(b.Pieces) > 0 && b.Body.Weight.Status != question.Unknown && b.Body.Mass.Status != question.Unknown
		if b.Body.Mass.Known() || len(b.Pieces) > 0 {
			c.mass = b.Weight / l.Field
		}
		s.force(c)
		if b.Body.Centre.At.Status == question.Unknown {
			s.place(len(s.cols)-1, b)
		}
		if b.Body.Angle.Status == question.Unknown && !math.IsNaN(b.Axis.X) {
			s.cols = append(s.cols, column{kind: angleOf, name: b.Name, words: "the angle of " + called(plainName(b.Label, b.Name)), value: math.Atan2(b.Axis.Y, b.Axis.X) * 180 / math.Pi, on: i, by: -1})
		}
	}
	for i := range l.Loads {
		s.load(&l.Loads[i])
	}
	for i := range l.Supports {
		var r statics.Reaction
		if p := &l.Supports[i]; reactions != nil && p.Joint >= 0 && p.Joint < len(reactions) {
			r = reactions[p.Joint]
		}
		p := &l.Supports[i]
		at := p.At
		if p.HasFar && p.Joint >= 0 && l.System.Joints[p.Joint].Kind == statics.Face && r.N != 0 {
			// The pushes all along the face come to one force, where the couple about the corner is made up.
			d := r.Couple / r.N / math.Hypot(p.Far.X-at.X, p.Far.Y-at.Y)
			at = statics.Vec{X: at.X + d*(p.Far.X-at.X), Y: at.Y + d*(p.Far.Y-at.Y)}
		}
		s.support(p, r, at)
	}
	for i := range s.cols {
		if math.IsNaN(s.cols[i].value) || math.IsInf(s.cols[i].value, 0) {
			s.fixed = false
		}
	}
	for i := range s.cols {
		if c := &s.cols[i]; c.isForce() && c.kind != turnOf && !math.IsNaN(c.value) {
			s.largest = max(s.largest, math.Abs(c.value))
		}
	}
	for _, d := range []quantity.Dimension{quantity.Length, quantity.Mass, quantity.Force, quantity.Moment} {
		s.unit[d] = answer.UnitFor(l.Question, d)
	}
	s.findPoints()
	s.equations()
	s.findLengths()
	return s
}

func plainName(label, name string) string {
	if label != "" {
		return label
	}
	return name
}

// called puts "the" before a noun: the plank, but K, and A1.
func called(label string) string {
	if r := []rune(label); unicode.IsUpper(r[0]) && len(r) <= 2 {
		return label
	}
	return "the " + label
}

func (s *scene) force(c column) { s.cols = append(s.cols, c) }

// place adds the place of the force in column f along its body.
func (s *scene) place(f int, b *answer.Body) {
	c := &s.cols[f]
	what := "the place of " + c.name
	s.cols = append(s.cols, column{kind: placeOf, name: c.name, words: what, value: b.Distance(c.at), on: c.on, by: -1, along: b.Axis, force: f})
}

func (s *scene) load(d *answer.Load) {
	c := column{name: d.Name, on: d.On, by: -1, at: d.At}
	label := plainName(d.Label, d.Name)
	switch d.Kind {
	case question.Weight:
		c.kind, c.words, c.value, c.way = weightOf, "the weight of "+called(label), -d.Force.Y, statics.Vec{Y: -1}
		c.known = d.Load.Weight.Known() || d.Mass.Known()
		if d.Mass.Known() {
			c.mass = d.Mass.SI()
		}
	case question.Spread:
		c.kind, c.words, c.value, c.way = pushOf, "the spread load "+d.Name, -d.Force.Y, statics.Vec{Y: -1}
		c.known = d.Size.Known()
	case question.Force:
		c.kind, c.words, c.way = pushOf, "the force "+d.Name, d.Unit
		c.value = d.Force.X*d.Unit.X + d.Force.Y*d.Unit.Y
		c.known = d.Size.Known()
	case question.Couple:
		c.kind, c.words = turnOf, "the couple "+d.Name
		c.turn, c.value, c.known = -1, -d.Couple, d.Size.Known()
		if d.Anticlockwise {
			c.turn, c.value = 1, d.Couple
		}
	}
	s.force(c)
	if d.Load.On.At.Status == question.Unknown || s.moves(d.Name) {
		s.place(len(s.cols)-1, &s.l.Bodies[d.On])
	}
}

// moves reports whether some part asks how far a load could be moved.
func (s *scene) moves(name string) bool {
	q := s.l.Question
	for i := range q.Parts {
		if p := &q.Parts[i]; p.Thing == name && (p.Ask == question.AskFurthest || p.Ask == question.AskRange || p.Ask == question.AskPosition) {
			return true
		}
	}
	return false
}

func (s *scene) support(p *answer.Support, r statics.Reaction, at statics.Vec) {
	if p.Joint < 0 || p.Joint >= len(s.l.System.Joints) {
		return
	}
	c := column{name: p.Name, on: p.On, by: p.By, at: at, known: p.Reading.Known()}
	add := func(kind columnKind, words string, value float64, way statics.Vec, turn float64) {
		x := c
		x.kind, x.words, x.value, x.way, x.turn = kind, words, value, way, turn
		if kind != reactionOf && kind != normalOf && value < 0 { // counted the way it points
			x.value, x.way, x.turn = -value, statics.Vec{X: -way.X, Y: -way.Y}, -turn
		}
		s.force(x)
	}
	switch j := &s.l.System.Joints[p.Joint]; j.Kind {
	case statics.Contact, statics.Face:
		if p.Mu == 0 {
			add(reactionOf, "the force at "+p.Name, r.N, p.Normal, 0)
			break
		}
		add(normalOf, "the normal force at "+p.Name, r.N, p.Normal, 0)
		add(frictionOf, "the friction at "+p.Name, r.F, statics.Vec{X: p.Normal.Y, Y: -p.Normal.X}, 0)
		if mu := p.Mu; !math.IsNaN(mu) && !math.IsInf(mu, 0) {
			known := p.Support.Mu.Known()
			s.cols = append(s.cols, column{kind: coefficient, name: p.Name, words: "the coefficient of friction at " + p.Name, value: mu, known: known, on: p.On, by: -1})
		} else if r.N != 0 {
			s.cols = append(s.cols, column{kind: coefficient, name: p.Name, words: "the coefficient of friction at " + p.Name, value: math.Abs(r.F / r.N), on: p.On, by: -1})
		}
	case statics.Pull, statics.Rod:
		words := "the tension in " + p.Name
		switch p.Kind {
		case question.Strut:
			words = "the thrust in " + p.Name
		case question.Strap, question.Meter, question.Spring:
			words = "the force at " + p.Name
		}
		add(reactionOf, words, r.N, p.Normal, 0)
	case statics.Hinge, statics.Clamp:
		add(acrossOf, "the horizontal force at "+p.Name, r.X, statics.Vec{X: 1}, 0)
		add(uprightOf, "the vertical force at "+p.Name, r.Y, statics.Vec{Y: 1}, 0)
		if j.Kind == statics.Clamp {
			add(turnOf, "the couple at "+p.Name, r.Couple, statics.Vec{}, 1)
		}
	}
	if p.Support.On.At.Status == question.Unknown {
		s.place(len(s.cols)-1, &s.l.Bodies[p.On])
	}
}

// side is +1 if the force acts on the body from outside, −1 if the body exerts it, 0 otherwise. Body −1 is all
// bodies together.
func (c *column) side(body int) float64 {
	switch {
	case body < 0:
		if c.by >= 0 {
			return 0
		}
		return 1
	case c.on == body:
		return 1
	case c.by == body:
		return -1
	}
	return 0
}

// balanceRow is the balance of forces along a direction.
func (s *scene) balanceRow(body int, d statics.Vec) []float64 {
	row := make([]float64, len(s.cols))
	for i := range s.cols {
		if c := &s.cols[i]; c.isForce() {
			row[i] = c.side(body) * dust(c.way.X*d.X+c.way.Y*d.Y)
		}
	}
	return row
}

// momentRow is the moments about p, anticlockwise positive.
func (s *scene) momentRow(body int, p statics.Vec) []float64 {
	row := make([]float64, len(s.cols))
	for i := range s.cols {
		c := &s.cols[i]
		switch {
		case c.isForce():
			row[i] = c.side(body) * dust((c.at.X-p.X)*c.way.Y-(c.at.Y-p.Y)*c.way.X+c.turn)
		case c.kind == placeOf:
			f := &s.cols[c.force]
			row[i] = f.side(body) * f.value * (c.along.X*f.way.Y - c.along.Y*f.way.X)
		}
	}
	return row
}

func dust(v float64) float64 {
	if math.Abs(v) < 1e-10 {
		return 0
	}
	return v
}

// equations lists the true equations.
func (s *scene) equations() {
	bodies := len(s.l.Bodies)
	groups := []int{}
	for i := range bodies {
		groups = append(groups, i)
	}
	if bodies > 1 {
		groups = append(groups, -1)
	}
	for _, b := range groups {
		of := ""
		if bodies > 1 {
			of = " for the bodies taken together"
			if b >= 0 {
				of = " for the " + plainName(s.l.Bodies[b].Label, s.l.Bodies[b].Name)
			}
		}
		directions := []struct {
			name string
			d    statics.Vec
		}{{"vertical balance", statics.Vec{Y: 1}}, {"horizontal balance", statics.Vec{X: 1}}}
		if b >= 0 {
			if a := s.l.Bodies[b].Axis; a.X != 0 && a.Y != 0 && !math.IsNaN(a.X) {
				directions = append(directions, struct {
					name string
					d    statics.Vec
				}{"balance along the " + plainName(s.l.Bodies[b].Label, s.l.Bodies[b].Name), a},
					struct {
						name string
						d    statics.Vec
					}{"balance at right angles to the " + plainName(s.l.Bodies[b].Label, s.l.Bodies[b].Name), statics.Vec{X: -a.Y, Y: a.X}})
			}
		}
		for _, d := range directions {
			row := s.balanceRow(b, d.d)
			if !zero(row) {
				s.natural = append(s.natural, natural{means: d.name + of, row: row, along: d.d, body: b})
			}
		}
		if b >= 0 {
			s.rows = append(s.rows, s.balanceRow(b, statics.Vec{X: 1}), s.balanceRow(b, statics.Vec{Y: 1}), s.momentRow(b, statics.Vec{}))
		}
		for _, p := range s.points {
			if b >= 0 && p.body >= 0 && p.body != b && bodies > 1 && p.key == "" {
				continue
			}
			row := s.momentRow(b, p.at)
			if !zero(row) {
				s.natural = append(s.natural, natural{means: "moments about " + p.name + of, row: row, at: p.at, turns: true, body: b})
			}
		}
	}
	s.relations()
}

// relations adds friction that is at its limit, and given ratios.
func (s *scene) relations() {
	for i := range s.cols {
		f := &s.cols[i]
		if f.kind != frictionOf {
			continue
		}
		n := s.column(normalOf, f.name)
		m := s.column(coefficient, f.name)
		if n < 0 || m < 0 || math.Abs(f.value-s.cols[m].value*s.cols[n].value) > 1e-6*(1+math.Abs(f.value)) {
			continue
		}
		row := make([]float64, len(s.cols))
		row[i], row[n] = 1, -s.cols[m].value
		row[m] = -s.cols[n].value
		s.rows = append(s.rows, row)
		s.natural = append(s.natural, natural{means: "friction at its limit", row: row, body: f.on})
	}
	q := s.l.Question
	for i := range q.Conditions {
		c := &q.Conditions[i]
		if c.Kind != question.Ratio {
			continue
		}
		a, b := s.main(c.Name), s.main(c.Other)
		if a < 0 || b < 0 {
			continue
		}
		k := 1.0
		if c.Factor.Known() {
			k = c.Factor.SI()
		}
		row := make([]float64, len(s.cols))
		row[a], row[b] = 1, -k
		s.rows = append(s.rows, row)
		s.natural = append(s.natural, natural{means: "the given ratio of the forces", row: row, body: s.cols[a].on})
	}
}

// column finds a column by its kind and name; −1 if there is none.
func (s *scene) column(kind columnKind, name string) int {
	for i := range s.cols {
		if s.cols[i].kind == kind && s.cols[i].name == name {
			return i
		}
	}
	return -1
}

// main is the column that "the force at …" means for a support of one force, or the upright part of a hinge's.
func (s *scene) main(name string) int {
	for _, k := range []columnKind{reactionOf, normalOf, uprightOf, weightOf, pushOf, turnOf} {
		if i := s.column(k, name); i >= 0 {
			return i
		}
	}
	return -1
}

func zero(row []float64) bool {
	for _, v := range row {
		if v != 0 {
			return false
		}
	}
	return true
}
