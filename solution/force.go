package solution

import (
	"math"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// A ForceKind says what the force is, for words and symbols.
type ForceKind uint8

const (
	Weight   ForceKind = iota // of a body
	Carried                   // a thing on a body
	Push                      // a given push or pull
	Spread                    // a spread load, as one force at its middle
	Turn                      // a couple, given or of a clamp
	Reaction                  // the one force of a support
	Normal                    // of a rough contact
	Friction                  // of a rough contact
	Across                    // horizontal part of a hinge's force
	Upright                   // vertical part of a hinge's force
)

// A Force is one force (or one component of a support's force) as the working sees it.
type Force struct {
	Kind   ForceKind
	Name   string      // of the support, load or body that it belongs to
	Words  string      // "the force at P"
	Label  string      // what the question calls a push or pull
	Letter string      // of its symbol
	Sub    string      // subscript of its symbol
	On, By int         // bodies; By is statics.Ground for what comes from outside
	At     statics.Vec // a point of its line of action
	Way    statics.Vec // its direction when its size is positive; zero for a couple
	Turn   float64     // of a couple: +1 anticlockwise, −1 clockwise when its size is positive
	Size   int         // number of its size among the scene's unknowns; −1 if it is known
	Factor float64     // its size is Factor × that unknown; 1 unless a ratio is given
	Value  float64     // N (N m for a couple), where it is known
	Given  formula.Node
	Times  formula.Node   // Factor as it is printed
	Tied   string         // why it is written as a multiple of another force; "" if it isn't
	ByMark Spot           // where it acts along By, for a force between two bodies
	Place  int            // number of its place along On among the unknowns; −1 if it is known
	Mark   Spot           // where it acts along On
	Angles []formula.Node // angles that the question gives for its direction
	Zero   string         // why it is known to be zero, at a limit
}

// A Spot is a place along a body, as the question writes it.
type Spot struct {
	Along  float64      // metres from the body's left end
	Scale  formula.Node // the number on the body's scale
	Zero   bool         // it is the zero of the scale
	OnAxis bool
}

func (f *Force) known() bool { return f.Size < 0 }

// A Quantity that the working finds: a force, a place, an angle, a coefficient.
type Unknown struct {
	Name   string
	Words  string // "the force at P"
	Letter string
	Sub    string
	Unit   string  // "N", "m", "N m", "°", ""
	Value  float64 // from the answers: it tells which way a force points and on which side a place lies
	Kind   UnknownKind
	Body   int // of a place or an angle
}

// An UnknownKind says what an unknown is.
type UnknownKind uint8

const (
	OfForce UnknownKind = iota
	OfPlace
	OfAngle
	OfCoefficient
	OfCouple
)

func (u *Unknown) symbol() formula.Node {
	return formula.Symbol(u.Letter, u.Sub, u.Words, u.Value)
}

// Symbol is the symbol of the unknown, with its value.
func (u *Unknown) Symbol() formula.Node { return u.symbol() }

// A scene is one arrangement with everything that acts in it.
type scene struct {
	a                     *answer.Answers
	l                     *answer.Layout
	q                     *question.Question
	part                  *question.Part // the part being worked out, for its figures; may be nil
	forces                []Force
	unknowns              []Unknown
	relations             []relation
	figures               int
	extra                 int           // more figures while an equation is written whose terms nearly cancel
	decimals              int           // of lengths, one more than there are; 0 until counted
	lengthUnit, forceUnit quantity.Unit // that the question uses
	limit                 limit
	reactions             []statics.Reaction
	sideways              bool        // some force that is not a reaction has a horizontal part
	equations             []*Equation // candidates, once they are made
	values                []float64   // of the unknowns, from the answers
}

// A relation is F = μN for a contact that is about to slip, or where μ is asked.
type relation struct {
	support              string
	friction, normal, mu int     // unknowns; mu is −1 if it is given
	value                float64 // of a given coefficient
	given                formula.Node
}

// limit says what is special in a scene at a limit.
type limit struct {
	weightOf string             // load or body whose weight is sought
	placeOf  string             // load whose place is sought
	angleOf  string             // body whose angle is sought
	muOf     string             // support whose coefficient is sought
	lifting  []string           // supports whose force has just become zero
	edges    map[string]float64 // flat contacts that only one corner still touches: metres along the body
	slipping []string           // supports where it is about to slip
	// multiples writes limiting friction as a multiple of the normal force from the start.
	multiples bool
}

func newScene(a *answer.Answers, l *answer.Layout, reactions []statics.Reaction, part *question.Part, lim limit) *scene {
	s := &scene{a: a, l: l, reactions: reactions, q: l.Question, part: part, figures: answer.Figures(l.Question, part),
		lengthUnit: answer.UnitFor(l.Question, quantity.Length), forceUnit: answer.UnitFor(l.Question, quantity.Force)}
	s.forces = make([]Force, 0, len(l.Bodies)+len(l.Loads)+2*len(l.Supports)+1)
	s.unknowns = make([]Unknown, 0, 2*len(l.Supports)+2)
	for i := range l.Bodies {
		s.addAngle(i, lim)
		s.addWeight(i, lim)
	}
	for i := range l.Loads {
		s.addLoad(i, lim)
	}
	for i := range s.forces {
		if math.Abs(s.forces[i].Way.X) > 1e-12 {
			s.sideways = true
		}
	}
	for i := range l.Supports {
		p := &l.Supports[i]
		if p.Normal.X != 0 && math.Abs(p.Normal.X) > 1e-12 {
			s.sideways = true
		}
	}
	s.sideways = s.sideways || spreads(reactions)
	for i := range l.Supports {
		var r statics.Reaction
		if p := &l.Supports[i]; p.Joint >= 0 && p.Joint < len(reactions) {
			r = reactions[p.Joint]
		}
		s.addSupport(i, r, lim)
	}
	if reactions == nil { // nothing holds the bodies: there are no values
		for i := range s.forces {
			if f := &s.forces[i]; f.Size >= 0 && s.l.SupportNamed(f.Name) != nil {
				f.Value, s.unknowns[f.Size].Value = math.NaN(), math.NaN()
			}
		}
	}
	s.addConditions(lim)
	return s
}

// spreads reports whether supports push sideways though nothing else does, as the feet of two legs that lean
// against each other.
func spreads(reactions []statics.Reaction) bool {
	across := 0.0
	for _, r := range reactions {
		across += math.Abs(r.X)
	}
	return across > 1e-9*total(reactions)
}

func (s *scene) unknown(u Unknown) int {
	s.unknowns = append(s.unknowns, u)
	return len(s.unknowns) - 1
}

func (s *scene) addAngle(i int, lim limit) {
	b := &s.l.Bodies[i]
	if b.Body.Angle.Status == question.Unknown || lim.angleOf == b.Name {
		angle := math.Atan2(b.Axis.Y, b.Axis.X)
		if leansLeft(b) {
			angle = math.Pi - angle // the acute one, that the arms go by
		}
		s.unknown(Unknown{Name: b.Name, Words: "the angle of " + s.body(i), Letter: "θ", Unit: "°", Value: angle, Kind: OfAngle, Body: i})
	}
}

// leansLeft reports whether a bar leans beyond upright, so that its angle counted from the right is obtuse.
func leansLeft(b *answer.Body) bool {
	return b.Shape == question.Bar && b.Axis.X < 0 && b.Axis.Y > 0
}

// angleOf returns the number of the angle of body i among the unknowns, or −1.
func (s *scene) angleOf(i int) int {
	for k := range s.unknowns {
		if s.unknowns[k].Kind == OfAngle && s.unknowns[k].Body == i {
			return k
		}
	}
	return -1
}

func (s *scene) addWeight(i int, lim limit) {
	b := &s.l.Bodies[i]
	if b.Weight == 0 || b.Light {
		return
	}
	f := Force{Kind: Weight, Name: b.Name, Words: "the weight of " + s.body(i), Letter: "W", On: i, By: statics.Ground,
		At: b.Centre, Way: statics.Vec{Y: -1}, Size: -1, Place: -1, Factor: 1, Value: b.Weight}
	if len(s.l.Bodies) > 1 || len(s.l.Loads) > 0 {
		f.Sub = b.Name
	}
	switch {
	case b.Body.Weight.Status == question.Unknown, b.Body.Mass.Status == question.Unknown, lim.weightOf == b.Name:
		f.Size = s.unknown(Unknown{Name: b.Name, Words: f.Words, Letter: f.Letter, Sub: f.Sub, Unit: "N", Value: b.Weight})
	case b.Body.Weight.Known():
		f.Given = given(b.Body.Weight)
	default:
		f.Given = s.number(b.Weight, "N")
	}
	f.Mark = s.centreMark(b)
	if b.Body.Centre.At.Status == question.Unknown {
		f.Place = s.unknown(Unknown{Name: b.Name, Words: "the distance of the centre of mass of " + s.body(i) + s.from(b), Letter: "x", Unit: "m", Value: b.FromZero(b.Along), Kind: OfPlace, Body: i})
	}
	s.forces = append(s.forces, f)
}

func (s *scene) addLoad(i int, lim limit) {
	d := &s.l.Loads[i]
	b := &s.l.Bodies[d.On]
	f := Force{Kind: Carried, Name: d.Name, On: d.On, By: statics.Ground, At: d.At, Size: -1, Place: -1, Factor: 1, Mark: s.mark(b, d.Load.On, d.At)}
	f.Letter, f.Sub = answer.LoadSymbol(d.Load)
	size := Unknown{Name: d.Name, Unit: "N"}
	asked := lim.weightOf == d.Name
	switch d.Kind {
	case question.Weight:
		f.Words, f.Way, f.Value = "the weight of "+s.thing(d.Load.Label, d.Name), statics.Vec{Y: -1}, -d.Force.Y
		switch {
		case d.Load.Weight.Status == question.Unknown, d.Load.Mass.Status == question.Unknown:
			asked = true
		case d.Load.Weight.Known():
			f.Given = given(d.Load.Weight)
		default:
			f.Given = s.number(f.Value, "N")
		}
	case question.Force:
		f.Kind, f.Words = Push, "the force "+d.Name
		f.Way, f.Value = d.Unit, d.Force.X*d.Unit.X+d.Force.Y*d.Unit.Y
		if d.Load.Label != d.Name {
			f.Label = d.Load.Label
		}
		if d.Direction != nil && d.Direction.Angle.Known() {
			f.Angles = append(f.Angles, given(d.Direction.Angle))
		}
		if d.Load.Size.Known() {
			f.Given = given(d.Load.Size)
		} else {
			asked = true
		}
	case question.Spread:
		f.Kind, f.Words, f.Way, f.Value = Spread, "the weight of "+s.thing(d.Load.Label, d.Name), statics.Vec{Y: -1}, -d.Force.Y
		f.Given = s.number(f.Value, "N")
		f.Mark = s.computedMark(b, b.Distance(d.At))
	case question.Couple:
		f.Kind, f.Words, f.Turn = Turn, "the couple "+d.Name, -1
		if d.Anticlockwise {
			f.Turn = 1
		}
		f.Value = d.Couple * f.Turn
		size.Unit, size.Kind = "N m", OfCouple
		if d.Load.Size.Known() {
			f.Given = given(d.Load.Size)
		} else {
			asked = true
		}
	}
	if asked {
		size.Words, size.Letter, size.Sub, size.Value = f.Words, f.Letter, f.Sub, f.Value
		f.Size = s.unknown(size)
	}
	if d.Load.On.At.Status == question.Unknown && d.Kind != question.Couple || lim.placeOf == d.Name {
		f.Place = s.unknown(Unknown{Name: d.Name, Words: "the distance of " + s.thing(d.Load.Label, d.Name) + s.from(b), Letter: "x", Sub: s.placeSub(d.Name),
			Unit: "m", Value: b.FromZero(b.Distance(d.At)), Kind: OfPlace, Body: d.On})
	}
	s.forces = append(s.forces, f)
}

// placeSub keeps two places apart.
func (s *scene) placeSub(name string) string {
	for i := range s.unknowns {
		if s.unknowns[i].Kind == OfPlace {
			return name
		}
	}
	return ""
}

func (s *scene) addConditions(lim limit) {
	slipping := lim.slipping
	s.limit = lim
	for i := range s.q.Conditions {
		c := &s.q.Conditions[i]
		switch c.Kind {
		case question.Ratio:
			s.tieRatio(c)
		case question.AboutToLift:
			s.lift(func(name string, on int) bool { return name == c.Name })
		case question.AboutToTip:
			if p := s.l.SupportNamed(c.Name); p != nil {
				s.lift(func(name string, on int) bool { return name != c.Name && on == p.On && canLift(s.l.SupportNamed(name)) })
			}
		case question.AboutToSlip:
			slipping = append(slipping[:len(slipping):len(slipping)], c.Name)
		}
	}
	twice := len(slipping) > 1
	for i := range s.l.Supports {
		p := &s.l.Supports[i]
		sought := p.Support.Mu.Status == question.Unknown || lim.muOf == p.Name
		limiting := false
		for _, name := range slipping {
			limiting = limiting || name == p.Name
		}
		n, f := s.forceOf(p.Name, Normal), s.forceOf(p.Name, Friction)
		if n == nil || f == nil || !sought && !limiting {
			continue
		}
		if (twice || lim.multiples) && !sought && n.Size >= 0 && p.Support.Mu.Known() {
			// With friction limiting in two places, write it as a multiple of the normal force from the start.
			f.Size, f.Factor, f.Times, f.Tied = n.Size, p.Mu, given(p.Support.Mu), "it is about to slip there"
			continue
		}
		r := relation{support: p.Name, friction: f.Size, normal: n.Size, mu: -1, value: p.Mu}
		if sought {
			r.mu = s.unknown(Unknown{Name: p.Name, Words: "the coefficient of friction at " + p.Name, Letter: "μ", Value: f.Value / n.Value, Kind: OfCoefficient})
		} else {
			r.given = given(p.Support.Mu)
		}
		s.relations = append(s.relations, r)
	}
}

func canLift(p *answer.Support) bool {
	switch p.Kind {
	case question.Rest, question.Floor, question.Wall, question.Slope, question.Roller, question.Meter, question.Cable:
		return true
	}
	return false
}

// lift makes the force of the supports that which names known to be zero.
func (s *scene) lift(which func(name string, on int) bool) {
	for i := range s.forces {
		f := &s.forces[i]
		if f.Size >= 0 && isSupport(f.Kind) && s.l.SupportNamed(f.Name) != nil && which(f.Name, f.On) {
			f.Size, f.Value, f.Given, f.Zero = -1, 0, formula.Given("0", "N"), "given"
		}
	}
}

func isSupport(k ForceKind) bool {
	return k == Reaction || k == Normal || k == Friction || k == Across || k == Upright
}

// tieRatio writes the force of one support as a multiple of another's.
func (s *scene) tieRatio(c *question.Condition) {
	p, o := s.upright(c.Name), s.upright(c.Other)
	if p == nil || o == nil || p.Size < 0 || o.Size < 0 {
		return
	}
	p.Factor = 1
	if c.Factor.Known() {
		p.Factor, p.Times = c.Factor.SI(), given(c.Factor)
	}
	p.Size, p.Tied = o.Size, "the question says so"
}

// upright is the one force of a support, or the vertical part of it.
func (s *scene) upright(name string) *Force {
	for _, k := range []ForceKind{Reaction, Upright, Normal} {
		if f := s.forceOf(name, k); f != nil {
			return f
		}
	}
	return nil
}

func (s *scene) forceOf(name string, kind ForceKind) *Force {
	for i := range s.forces {
		if f := &s.forces[i]; f.Name == name && f.Kind == kind {
			return f
		}
	}
	return nil
}
