package answer

import (
	"math"

	"steelyard/question"
	"steelyard/statics"
)

// A sought is one number that the question does not give, and how it enters the equations.
type sought struct {
	what  what
	name  string
	index int // its number in System.Unknowns
	// Where both a force and its place are unknown, the unknown number is force × place, and force
	// is the number of the force in System.Unknowns; else -1.
	force int
	joint int // of a support whose place is unknown: the number is its moment about the body's left end
	body  int
}

type what uint8

const (
	seekWeight what = iota
	seekSize
	seekPlace
	seekCentre
	seekBodyWeight
	seekSupportPlace
)

// down is the direction in which weights act.
var down = statics.Vec{Y: -1}

// system lowers the layout to what package statics solves.
func (l *Layout) system() statics.System {
	s := statics.System{Bodies: len(l.Bodies)}
	l.sought = nil
	for i := range l.Bodies {
		l.addWeight(&s, i)
	}
	for i := range l.Loads {
		l.addLoad(&s, i)
	}
	for i := range l.Supports {
		l.addSupport(&s, i)
	}
	for i := range l.Question.Conditions {
		l.addCondition(&s, &l.Question.Conditions[i])
	}
	return s
}

func (l *Layout) addWeight(s *statics.System, i int) {
	b := &l.Bodies[i]
	c := b.Centre
	if nan(c) {
		c = b.Origin
	}
	s.Centres = append(s.Centres, c)
	if b.Weight == 0 {
		return
	}
	l.addForce(s, i, c, times(b.Weight, down), down, math.IsNaN(b.Weight), math.IsNaN(b.Along), 0, b.Name, seekBodyWeight, seekCentre)
}

// addForce adds a force on body i at a point, as a load where it is known. Where its size is
// unknown it is an unknown along unit, not less than least; where its place along the body is
// unknown, at is the body's left end and each metre along adds a couple.
func (l *Layout) addForce(s *statics.System, i int, at, force, unit statics.Vec, noSize, noPlace bool, least float64, name string, size, place what) {
	axis := l.Bodies[i].Axis
	forceIndex := -1
	if noSize {
		forceIndex = len(s.Unknowns)
		s.Unknowns = append(s.Unknowns, statics.Unknown{On: i, At: at, Force: unit, Least: least, Greatest: math.Inf(1)})
		l.sought = append(l.sought, sought{what: size, name: name, index: forceIndex, force: -1, body: i})
	} else {
		force = scaledBy(force, unit)
		s.Loads = append(s.Loads, statics.Load{On: i, At: at, Force: force})
	}
	if noPlace {
		per := force
		if noSize {
			per = unit
		}
		l.sought = append(l.sought, sought{what: place, name: name, index: len(s.Unknowns), force: forceIndex, body: i})
		s.Unknowns = append(s.Unknowns, statics.Unknown{On: i, At: at, Couple: cross(axis, per), Least: math.Inf(-1), Greatest: math.Inf(1)})
	}
}

// scaledBy keeps the exact zeros of unit in force (0 × NaN aside).
func scaledBy(force, unit statics.Vec) statics.Vec {
	if unit.X == 0 {
		force.X = 0
	}
	if unit.Y == 0 {
		force.Y = 0
	}
	return force
}

func (l *Layout) addLoad(s *statics.System, i int) {
	d := &l.Loads[i]
	noPlace := d.Load.On.At.Status == question.Unknown && !l.placed(d.Load)
	switch d.Kind {
	case question.Couple:
		if !math.IsNaN(d.Couple) {
			s.Loads = append(s.Loads, statics.Load{On: d.On, At: d.At, Couple: d.Couple})
			return
		}
		turn := -1.0
		if d.Anticlockwise {
			turn = 1
		}
		l.sought = append(l.sought, sought{what: seekSize, name: d.Name, index: len(s.Unknowns), force: -1, body: d.On})
		s.Unknowns = append(s.Unknowns, statics.Unknown{On: d.On, At: d.At, Couple: turn, Least: math.Inf(-1), Greatest: math.Inf(1)})
	case question.Force:
		l.addForce(s, d.On, d.At, d.Force, d.Unit, nan(d.Force), noPlace, math.Inf(-1), d.Name, seekSize, seekPlace)
	default:
		l.addForce(s, d.On, d.At, d.Force, down, nan(d.Force), noPlace, 0, d.Name, seekWeight, seekPlace)
	}
}

// placed reports whether the place of a load that was unknown has been found.
func (l *Layout) placed(d *question.Load) bool { _, ok := l.found.at[d.Name]; return ok }

func (l *Layout) addSupport(s *statics.System, i int) {
	p := &l.Supports[i]
	p.Joint = len(s.Joints)
	j := statics.Joint{Kind: jointKind[p.Kind], On: p.On, By: p.By, At: p.At, Normal: p.Normal, Mu: p.Mu}
	if math.IsNaN(j.Mu) {
		j.Mu = math.Inf(1) // its coefficient is found from the friction that is needed
	}
	if p.HasFar && j.Kind == statics.Contact {
		j.Kind, j.To = statics.Face, p.Far
	}
	s.Joints = append(s.Joints, j)
	if p.Reading.Known() {
		s.Ties = append(s.Ties, statics.Tie{Terms: []statics.Term{{Joint: p.Joint, Part: component(p), Factor: 1}}, Value: p.Reading.SI()})
	}
	if p.Support.On.At.Status == question.Unknown {
		if _, ok := l.found.at[p.Name]; !ok {
			l.sought = append(l.sought, sought{what: seekSupportPlace, name: p.Name, index: len(s.Unknowns), force: -1, joint: p.Joint, body: p.On})
			s.Unknowns = append(s.Unknowns, statics.Unknown{On: p.On, At: p.At, Couple: 1, Least: math.Inf(-1), Greatest: math.Inf(1)})
		}
	}
}

// component is the component that is meant by "the force" of a support in a condition or reading:
// along its normal, or upright for a hinge, pivot or clamp.
func component(p *Support) statics.Part {
	switch p.Kind {
	case question.Hinge, question.Pivot, question.Clamp:
		return statics.Y
	}
	return statics.N
}

func (l *Layout) addCondition(s *statics.System, c *question.Condition) {
	p := l.SupportNamed(c.Name)
	if p == nil {
		return
	}
	zero := func(p *Support) {
		s.Ties = append(s.Ties, statics.Tie{Terms: []statics.Term{{Joint: p.Joint, Part: component(p), Factor: 1}}})
	}
	switch c.Kind {
	case question.Ratio:
		k := 1.0
		if c.Factor.Known() {
			k = c.Factor.SI()
		}
		if o := l.SupportNamed(c.Other); o != nil {
			s.Ties = append(s.Ties, statics.Tie{Terms: []statics.Term{
				{Joint: p.Joint, Part: component(p), Factor: 1},
				{Joint: o.Joint, Part: component(o), Factor: -k},
			}})
		}
	case question.AboutToLift:
		zero(p)
	case question.AboutToTip:
		for i := range l.Supports {
			if o := &l.Supports[i]; o.On == p.On && o.Name != p.Name && canLift(o) {
				zero(o)
			}
		}
	case question.AboutToSlip:
		if !math.IsNaN(p.Mu) && !math.IsInf(p.Mu, 0) && p.Mu > 0 {
			s.Ties = append(s.Ties, statics.Tie{Terms: []statics.Term{
				{Joint: p.Joint, Part: statics.F, Factor: 1},
				{Joint: p.Joint, Part: statics.N, Factor: -l.slipSign * p.Mu},
			}})
		}
	}
}

// canLift reports whether a support can part from the body: it only pushes, or only pulls.
func canLift(p *Support) bool {
	switch jointKind[p.Kind] {
	case statics.Contact, statics.Pull:
		return true
	}
	return false
}
