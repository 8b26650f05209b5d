package slip

import (
	"fmt"
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/solution"
	"steelyard/statics"
)

// A Plan is a question made ready for trying slips on it with many different numbers: its routes are fixed,
// so that only arithmetic is left. It is not changed by use.
type Plan struct {
	Question    *question.Question
	Answers     *answer.Answers
	Slots       []Slot   // the numbers that are asked for
	Cases       []Case   // the slips that can be made, each for every force that it can fall on
	Words       []Slip   // slips that show only in words or in how the answer is written
	Without     []string // parts whose answers no slip here touches, since they are not worked out by equations
	scenes      []*scene
	parts       []part
	near        []*question.Question // with its own numbers, and with others near by
	two         *two
	lines       int
	loaded      bool // something is carried besides the body's own weight
	lengthPower int  // of ten, of the question's unit of length
}

// A Slot is a number that is asked for.
type Slot struct {
	Part  string  // its name
	End   string  // "low" or "high" of a range, else ""
	Unit  string  // SI
	Right float64 // with the question's own numbers
	Floor float64 // a difference below this is none, whatever the size: 0.5° of an angle, half a centimetre of a place
	part  int
}

// A Case is a slip that can be made in a question.
type Case struct {
	Slip    Slip
	Of      string // what it falls on, in words; "" if nothing in particular
	Touches []bool // by slot: whether it changes what is worked out there
	of      int
}

// Name is the slip's name with what it falls on.
func (c *Case) Name() string {
	if c.Of == "" {
		return c.Slip.Name
	}
	return c.Slip.Name + " (" + c.Of + ")"
}

// two describes a level body on two supports that push or pull straight up or down.
type two struct {
	p, q int // forces of the main arrangement, from left to right
}

// A part is what a plan knows of one part.
type part struct {
	*question.Part
	result *answer.Result
	slots  []int
	chains []chain
	finish finish
	forces []int       // of the main arrangement, for finishes that put components together
	dir    statics.Vec // that they are taken along
	number int         // of an unknown of the main arrangement, for the finish called unknown
	moment *move       // of the finish called moments
	sign   float64
}

// A chain is a list of moves in one scene.
type chain struct {
	scene int
	moves []move
	carry []bool // unknowns that an earlier part has found
	end   int    // the unknown that it ends with, in its scene
}

// A finish is how a part's answer comes from what has been found.
type finish uint8

const (
	inWords   finish = iota // no number
	given                   // no equations: the answer as package answer finds it
	target                  // the last unknown of each chain
	unknown                 // an unknown of the main arrangement
	size                    // the one force of a support
	resultant               // of the components of a support's force
	along                   // the part of a support's force along dir
	heading                 // the angle of a support's force
	moments                 // of given forces about a point
)

// NewPlan makes a question ready. The solution must belong to the answers.
func NewPlan(a *answer.Answers, s *solution.Solution) (p *Plan, err error) {
	defer caught(&err)
	if a == nil || a.Layout == nil || s == nil {
		return nil, fmt.Errorf("looking for slips: the question has no answers yet; solve it first")
	}
	w, err := solution.Arrangement(a)
	if err != nil {
		return nil, err
	}
	p = &Plan{Question: a.Layout.Question, Answers: a}
	p.scenes = append(p.scenes, newScene(w, a.Layout))
	p.two, p.loaded = p.findTwo(), len(onLoads(p)) > 0
	p.lengthPower = answer.UnitFor(p.Question, quantity.Length).Power
	for i := range a.Results {
		p.addPart(i, s)
	}
	p.check()
	for i := range catalogue {
		p.addSlip(&catalogue[i])
	}
	return p, nil
}

// Make solves a question and makes it ready.
func Make(q *question.Question) (*Plan, *solution.Solution, error) {
	a, err := answer.Solve(q)
	if err != nil {
		return nil, nil, err
	}
	s, err := solution.Solve(a)
	if err != nil {
		return nil, nil, err
	}
	p, err := NewPlan(a, s)
	return p, s, err
}

// caught turns a fault of the program itself into an error, so that no panic reaches a user.
func caught(err *error) {
	if fault := recover(); fault != nil {
		*err = fmt.Errorf("looking for slips: the program has a fault (%v); please report this question", fault)
	}
}

func (p *Plan) addPart(i int, s *solution.Solution) {
	r := &p.Answers.Results[i]
	out := part{Part: r.Part, result: r, sign: 1, number: -1}
	p.addSlots(&out, i)
	if len(out.slots) > 0 && i < len(s.Parts) && len(s.Parts[i].Routes) > 0 {
		route := &s.Parts[i].Routes[0]
		works := route.Ends
		if route.Working != nil {
			works = []*solution.Working{route.Working}
		}
		for _, w := range works {
			if w != nil {
				out.chains = append(out.chains, p.chain(w, i))
			}
		}
	}
	p.addFinish(&out)
	p.parts = append(p.parts, out)
}

func (p *Plan) addSlots(out *part, i int) {
	r := out.result
	add := func(end string, v float64) {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return
		}
		s := Slot{Part: out.Name, End: end, Unit: r.Unit, Right: v, part: i}
		switch u := answer.UnitFor(p.Question, quantity.Length); {
		case r.Unit == "rad":
			s.Floor = 0.5 * math.Pi / 180
		case r.Unit == "m" && u.Power == 0:
			s.Floor = 0.005
		case r.Unit == "m":
			s.Floor = 0.0005
		}
		p.Slots = append(p.Slots, s)
		out.slots = append(out.slots, len(p.Slots)-1)
	}
	switch {
	case out.Ask == question.AskWhether:
	case out.Ask == question.AskRange:
		add("low", r.Low)
		add("high", r.High)
	case out.Ask == question.AskCentre && !math.IsNaN(r.Second), r.Low < r.High:
	default:
		add("", r.Value)
	}
}

// addFinish finds out how the part's answer comes from the forces.
func (p *Plan) addFinish(out *part) {
	if len(out.slots) == 0 {
		return
	}
	out.finish = given
	fs := p.components(out.Thing)
	switch out.Ask {
	case question.AskForce, question.AskForceOn:
		out.forces, out.finish = fs, resultant
		if len(fs) == 1 {
			out.finish = size
		}
	case question.AskDirection:
		out.forces, out.finish = fs, heading
	case question.AskAcross:
		out.forces, out.finish, out.dir = fs, along, statics.Vec{X: 1}
	case question.AskUpright:
		out.forces, out.finish, out.dir = fs, along, statics.Vec{Y: 1}
	case question.AskNormal, question.AskFriction:
		s := p.Answers.Layout.SupportNamed(out.Thing)
		out.forces, out.finish, out.dir = fs, along, s.Normal
		if out.Ask == question.AskFriction {
			out.dir = statics.Vec{X: s.Normal.Y, Y: -s.Normal.X}
		}
	case question.AskMoment, question.AskTotalMoment:
		if m := p.momentOf(out); m != nil {
			out.moment, out.finish = m, moments
		}
	case question.AskFurthest, question.AskRange, question.AskGreatest, question.AskLeast, question.AskLeastCoefficient:
		if len(out.chains) == len(out.slots) {
			out.finish = target
		}
	default:
		for u := range p.scenes[0].unknowns {
			if x := &p.scenes[0].unknowns[u]; x.Name == out.Thing && kindOf[out.Ask][x.Kind] {
				out.number, out.finish = u, unknown
			}
		}
	}
	if len(out.forces) == 0 && (out.finish == size || out.finish == resultant || out.finish == along || out.finish == heading) {
		out.finish = given
	}
}

// kindOf is the kind of unknown that a part asks for.
var kindOf = map[question.Ask]map[solution.UnknownKind]bool{
	question.AskCouple:      {solution.OfCouple: true},
	question.AskWeight:      {solution.OfForce: true},
	question.AskSize:        {solution.OfForce: true, solution.OfCouple: true},
	question.AskMass:        {solution.OfForce: true},
	question.AskPosition:    {solution.OfPlace: true},
	question.AskCentre:      {solution.OfPlace: true},
	question.AskAngle:       {solution.OfAngle: true},
	question.AskCoefficient: {solution.OfCoefficient: true},
}

// components are the numbers of the forces of a support.
func (p *Plan) components(name string) []int {
	var list []int
	for i := range p.scenes[0].forces {
		if f := &p.scenes[0].forces[i]; f.Name == name && isSupport(f.Kind) {
			list = append(list, i)
		}
	}
	return list
}

func isSupport(k solution.ForceKind) bool { return k >= solution.Reaction }

// findTwo looks for one level body on two supports; nil if that is not the arrangement.
func (p *Plan) findTwo() *two {
	s := p.scenes[0]
	l := p.Answers.Layout
	if len(l.Bodies) != 1 || !l.Bodies[0].Level() {
		return nil
	}
	t := two{p: -1, q: -1}
	for i := range s.forces {
		f := &s.forces[i]
		if !isSupport(f.Kind) {
			continue
		}
		if f.Kind != solution.Reaction || math.Abs(f.Way.X) > 1e-12 || f.Place >= 0 || !f.Mark.OnAxis || t.q >= 0 {
			return nil
		}
		if t.p < 0 {
			t.p = i
		} else {
			t.q = i
		}
	}
	if t.q < 0 {
		return nil
	}
	if s.forces[t.p].Mark.Along > s.forces[t.q].Mark.Along {
		t.p, t.q = t.q, t.p
	}
	return &t
}

// check keeps equations only for parts whose right answer they give: the slips are changes to them.
func (p *Plan) check() {
	for i := range p.parts {
		for _, s := range p.parts[i].slots {
			p.Slots[s].Floor = max(p.Slots[s].Floor, p.smallest(p.Slots[s].Unit))
		}
	}
	for range p.parts { // dropping one part may leave a later one without what it needs
		r := p.Reckoner()
		if r.Take(p.Question) != nil {
			return
		}
		r.run(nil, r.right)
		bad := false
		for i := range p.parts {
			x := &p.parts[i]
			for k, s := range x.slots {
				v, want := r.right[s], p.Slots[s].Right
				if x.finish == given || math.Abs(v-want) <= 1e-6*math.Abs(want)+1e-9 {
					continue
				}
				if k == 0 && math.Abs(v+want) <= 1e-9*math.Abs(want) && x.sign == 1 && x.finish != resultant {
					x.sign, bad = -1, true
					break
				}
				x.finish, x.chains, bad = given, nil, true
				break
			}
		}
		if !bad {
			break
		}
	}
	for i := range p.parts {
		if x := &p.parts[i]; x.finish == given || x.finish == inWords {
			p.Without = append(p.Without, x.Name)
		}
	}
}

// smallest is what counts as no difference beside the right answers of a unit.
func (p *Plan) smallest(unit string) float64 {
	most := 0.0
	for _, s := range p.Slots {
		if s.Unit == unit {
			most = max(most, math.Abs(s.Right))
		}
	}
	return 1e-3 * most
}

// addSlip adds a case for every force that the slip can fall on and changes something.
func (p *Plan) addSlip(s *Slip) {
	if s.InWords() {
		if s.on != nil && len(s.on(p)) == 0 {
			return
		}
		p.Words = append(p.Words, *s)
		return
	}
	ofs := []int{-1}
	if s.on != nil {
		ofs = s.on(p)
	}
	cases := make([]Case, len(ofs))
	for i, of := range ofs {
		cases[i] = Case{Slip: *s, of: of, Touches: make([]bool, len(p.Slots))}
		if of >= 0 {
			cases[i].Of = p.words(of)
		}
	}
	// With the question's own numbers a slip may change nothing, as equal shares do where everything
	// stands midway: it can be made all the same. So it is tried with numbers near by too.
	for _, q := range p.nearby() {
		p.try(cases, q)
	}
	for i := range cases {
		if slices.Contains(cases[i].Touches, true) && p.leavesNumber(&cases[i]) {
			p.Cases = append(p.Cases, cases[i])
		}
	}
}

// words says which force a slip falls on, with its name where two are called the same.
func (p *Plan) words(of int) string {
	s := p.scenes[0]
	f := &s.forces[of]
	for i := range s.forces {
		if i != of && s.forces[i].Words == f.Words {
			return f.Words + " " + f.Name
		}
	}
	return f.Words
}

// leavesNumber reports whether a slip leads to a wrong number anywhere: one that has to divide by nothing leads
// nowhere, and the pupil notices.
func (p *Plan) leavesNumber(c *Case) bool {
	r := p.Reckoner()
	out := make([]float64, len(p.Slots))
	for _, q := range p.nearby() {
		if r.Take(q) != nil || !r.SameSlants() {
			continue
		}
		r.Right()
		r.run([]*Case{c}, out)
		for k, v := range out {
			if !math.IsNaN(v) && !math.IsInf(v, 0) && !same(v, r.right[k]) {
				return true
			}
		}
	}
	return false
}

// try notes which slots the cases change with the numbers of q.
func (p *Plan) try(cases []Case, q *question.Question) {
	r := p.Reckoner()
	if r.Take(q) != nil || !r.SameSlants() {
		return
	}
	r.run(nil, r.right)
	out := make([]float64, len(p.Slots))
	for i := range cases {
		c := &cases[i]
		r.touched = c.Touches
		r.run([]*Case{c}, out)
		r.touched = nil
		for k, v := range out {
			c.Touches[k] = c.Touches[k] || !same(v, r.right[k])
		}
	}
}

// FreeNumbers lists the numbers of the question that can change by themselves without making another picture: moving
// one end of a link that hangs straight would.
func (p *Plan) FreeNumbers() []question.Number {
	var list []question.Number
	r := p.Reckoner()
	for _, n := range p.Question.Numbers() {
		q := p.Question.Clone()
		v := q.Value(n.Thing, n.Attribute)
		v.Quantity = quantity.Of(v.SI()*1.03, v.Unit)
		if r.Take(q) == nil && r.SameSlants() {
			list = append(list, n)
		}
	}
	return list
}

// nearby lists the question and two of the same kind whose numbers differ by a few per cent, each its own way.
func (p *Plan) nearby() []*question.Question {
	if p.near != nil {
		return p.near
	}
	p.near = []*question.Question{p.Question}
	for probe := range 2 {
		q := p.Question.Clone()
		for i, n := range p.FreeNumbers() {
			v := q.Value(n.Thing, n.Attribute)
			v.Quantity = quantity.Of(v.SI()*(1+0.01*float64((7*i+11*probe)%9-4)), v.Unit)
		}
		p.near = append(p.near, q)
	}
	return p.near
}

func same(a, b float64) bool {
	return math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) <= 1e-9*max(math.Abs(a), math.Abs(b))
}
