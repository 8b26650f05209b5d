package trial

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// A Deed is what can be done to a thing.
type Deed string

const (
	Away   Deed = "away"   // a support or load is taken away, a cable is cut
	Smooth Deed = "smooth" // a surface loses its friction
	Moved  Deed = "moved"  // a number is changed
)

// A Change is something that is done to an arrangement.
type Change struct {
	Deed      Deed
	Thing     string
	Attribute string  // of Moved: "at", "weight"
	To        float64 // of Moved: SI
	Words     string  // "Take away Q", as on a button
}

// Changes lists what can be taken away from an arrangement or made smooth.
func Changes(a *answer.Answers) []Change {
	var list []Change
	for i := range a.Layout.Supports {
		s := &a.Layout.Supports[i]
		words := "Take away " + s.Name
		if s.Kind == question.Cable {
			words = "Cut " + s.Name
		}
		list = append(list, Change{Deed: Away, Thing: s.Name, Words: words})
		if s.Mu > 0 {
			list = append(list, Change{Deed: Smooth, Thing: s.Name, Words: "Make " + s.Name + " smooth"})
		}
	}
	for i := range a.Layout.Loads {
		d := &a.Layout.Loads[i]
		list = append(list, Change{Deed: Away, Thing: d.Name, Words: "Take away " + d.Name})
	}
	return list
}

// An Outcome is what happens after a change.
type Outcome struct {
	Change  Change
	Before  *answer.Answers
	After   *answer.Answers
	Rests   bool
	Already string          // how it moves without the change; "" where it is at rest
	Does    string          // how it moves, or that it rests, a sentence
	Open    []string        // what of that statics does not settle, a sentence each
	Motion  *statics.Motion // the engine's, refined by what else is known; nil where it rests
	Say     []string        // what happens, a sentence each; Does is among them
	Needed  string          // which force had prevented it, and the direction that is needed; "" where it rests
	start   *start
}

// A Force is a force that a change has taken away.
type Force struct {
	Name   string
	At     statics.Vec
	Vec    statics.Vec // N, on the body
	Couple float64     // N m, anticlockwise positive
}

// Without makes a change and says what then happens. An error says that there is nothing that could be changed so, or
// that what is left can't be worked out.
func Without(a *answer.Answers, c Change) (*Outcome, error) {
	q := Settled(a)
	if c.Deed == Away {
		stay(q, a.Layout)
	}
	if err := change(q, c); err != nil {
		return nil, err
	}
	after, err := answer.Solve(q)
	if err != nil {
		return nil, fmt.Errorf("after this nothing can be worked out: %w", err)
	}
	o := &Outcome{Change: c, Before: a, After: after, Rests: after.State != statics.NoEquilibrium}
	o.Already = Already(a)
	if o.Already != "" && c.Deed != Moved {
		o.Say = append(o.Say, "As it was, it did not stay at rest either: "+uncapital(o.Already))
	}
	o.Say = append(o.Say, done(a, c))
	if o.Rests {
		o.resting()
		return o, nil
	}
	o.start = begin(after.Layout, after.Solution.Motion)
	o.Motion, o.Does, o.Open = o.start.Motion, o.start.words(after.Layout), o.start.open
	o.Say = append(o.Say, o.Does)
	if o.Motion == nil { // it could be held, and only a condition forbids it
		return o, nil
	}
	if c.Deed == Moved {
		o.Needed = o.holding()
	} else if lost, ok := o.lost(); ok {
		o.Needed = o.needed(lost)
	}
	return o, nil
}

// Already says how an arrangement moves as it is; "" where it stays at rest.
func Already(a *answer.Answers) string {
	if a.State != statics.NoEquilibrium {
		return ""
	}
	return begin(a.Layout, a.Solution.Motion).words(a.Layout)
}

func uncapital(s string) string {
	r := []rune(s)
	return strings.ToLower(string(r[:1])) + string(r[1:])
}

// stay writes down where bodies are that are placed by what joins them to others, since that may be taken away.
func stay(q *question.Question, l *answer.Layout) {
	metre := quantity.SIUnit(quantity.Length)
	given := func(v float64) question.Value {
		return question.Value{Quantity: quantity.Of(v, metre), Status: question.Given}
	}
	for i := range q.Bodies {
		if q.Bodies[i].At == nil && len(q.Bodies) > 1 {
			q.Bodies[i].At = &question.XY{X: given(l.Bodies[i].Origin.X), Y: given(l.Bodies[i].Origin.Y)}
		}
	}
}

func change(q *question.Question, c Change) error {
	switch c.Deed {
	case Away:
		n := len(q.Supports) + len(q.Loads)
		q.Supports = slices.DeleteFunc(q.Supports, func(s question.Support) bool { return s.Name == c.Thing })
		q.Loads = slices.DeleteFunc(q.Loads, func(d question.Load) bool { return d.Name == c.Thing })
		if len(q.Supports)+len(q.Loads) == n {
			return fmt.Errorf("there is no support and no load called %q that could be taken away", c.Thing)
		}
	case Smooth:
		s := q.Support(c.Thing)
		if s == nil {
			return fmt.Errorf("there is no surface called %q that could be made smooth", c.Thing)
		}
		s.Rough, s.Smooth, s.Mu = false, true, question.Value{}
	case Moved:
		return Put(q, c.Thing, c.Attribute, c.To)
	default:
		return fmt.Errorf("%q can't be done to anything; it is away, smooth or moved", c.Deed)
	}
	return nil
}

func done(a *answer.Answers, c Change) string {
	switch {
	case c.Deed == Smooth:
		return c.Thing + " is made smooth."
	case c.Deed == Moved:
		return fmt.Sprintf("%s is now %s.", capital(Words(a.Layout.Question, c.Thing, c.Attribute)), written(a.Layout.Question, c.Thing, c.Attribute, c.To))
	case a.Layout.SupportNamed(c.Thing) != nil && a.Layout.SupportNamed(c.Thing).Kind == question.Cable:
		return c.Thing + " is cut."
	}
	return c.Thing + " is taken away."
}

// resting says what holds after a change that nothing moves after.
func (o *Outcome) resting() {
	a := o.After
	still := "It still stays at rest"
	if o.Already != "" {
		still = "Now it stays at rest"
	}
	switch a.State {
	case statics.NotFixed:
		o.Does = still + ", but equilibrium does not fix every force: each lies between two values."
	case statics.Limit:
		o.Does = still + ", but only just: " + strings.Join(answer.GivingInWords(a.Layout, a.Solution.Giving), ", ") + "."
	default:
		o.Does = still + ", with these forces:"
	}
	o.Say = append(o.Say, o.Does)
	for _, f := range a.Forces {
		o.Say = append(o.Say, answer.ForceInWords(a, f))
	}
}

// lost is the force that the change took from the bodies.
func (o *Outcome) lost() (Force, bool) {
	if o.Before.State == statics.NoEquilibrium || o.Change.Deed == Moved {
		return Force{}, false
	}
	if d := o.Before.Layout.LoadNamed(o.Change.Thing); d != nil {
		return Force{Name: d.Name, At: d.At, Vec: d.Force, Couple: d.Couple}, !math.IsNaN(d.Force.X + d.Force.Y + d.Couple)
	}
	f := o.Before.ForceNamed(o.Change.Thing)
	if f == nil {
		return Force{}, false
	}
	lost := Force{Name: f.Name, At: f.At, Vec: statics.Vec{X: f.X, Y: f.Y}, Couple: f.Couple}
	if o.Change.Deed == Smooth { // only friction is gone
		if s := o.Before.Layout.SupportNamed(f.Name); s != nil {
			lost.Vec = statics.Vec{X: f.F * s.Normal.Y, Y: -f.F * s.Normal.X}
			lost.Couple = 0
		}
	}
	return lost, true
}

// needed says which force had prevented the motion. Its work in the motion is negative: it is against how its point
// begins to move.
func (o *Outcome) needed(lost Force) string {
	l, m := o.Before.Layout, o.Motion
	s := l.SupportNamed(lost.Name)
	fixed, on, name := o.Before.State != statics.NotFixed, 0, lost.Name
	switch {
	case s == nil:
		on, fixed = l.LoadNamed(lost.Name).On, true
	case o.Change.Deed == Smooth:
		on, name = s.On, "friction at "+lost.Name
	default:
		on, name = s.On, "the force at "+lost.Name
	}
	text := capital(name) + " had prevented it"
	var had []string
	if f := math.Hypot(lost.Vec.X, lost.Vec.Y); f > 0 && fixed {
		had = append(had, quantity.Typeset(answer.Round(f, answer.UnitFor(l.Question, quantity.Force), 3, answer.Nearest))+" "+
			answer.Direction(lost.Vec.X, lost.Vec.Y, 3))
	}
	if lost.Couple != 0 && fixed {
		had = append(had, "a couple of "+quantity.Typeset(answer.Round(math.Abs(lost.Couple), answer.UnitFor(l.Question, quantity.Moment), 3, answer.Nearest))+" "+answer.Sense(lost.Couple))
	}
	if len(had) > 0 {
		text += ": " + strings.Join(had, " and ") + " on " + called(l, on)
	}
	text += "."
	for _, mv := range answer.Moves(o.After.Layout, m) {
		if mv.Body != l.Bodies[on].Name || !mv.Turns || o.start.loose[on] {
			continue
		}
		about := mv.About
		if about == "" {
			about = "the point that it turns about"
			if words := pointWords(o.After.Layout, on, mv.Pivot); !strings.HasPrefix(words, "the point ") {
				about = words
			}
		}
		if k := lost.Couple + statics.Moment(mv.Pivot, lost.At, lost.Vec); math.Abs(k) > 1e-9 && fixed {
			text += " Its moment about " + about + " is " + answer.Sense(k) + ", against the turning."
		}
	}
	if s == nil {
		return text
	}
	if two := s.Kind == question.Hinge || s.Kind == question.Pivot || s.Kind == question.Clamp || s.Mu > 0; two && o.Change.Deed != Smooth {
		if fixed {
			text += " To hold it again, it takes that same force."
		}
		return text
	}
	if way, ok := against(m, s, o.Change.Deed == Smooth); ok {
		text += " To hold it again, a force on " + called(l, on) + " at " + lost.Name + " has to act " + answer.Direction(way.X, way.Y, 3) + "."
	}
	return text
}

// holding says which forces could hold a body that has been moved beyond its limit: where contacts part and cables go
// slack, the other way than they can act.
func (o *Outcome) holding() string {
	l, m := o.After.Layout, o.Motion
	var list []string
	for i := range l.Supports {
		s := &l.Supports[i]
		if s.HasFar && answer.IsFace(s.Support, &l.Bodies[s.On]) || !slices.Contains(m.Opens, s.Joint) {
			continue
		}
		if way, ok := against(m, s, false); ok {
			list = append(list, fmt.Sprintf("To hold it, a force on %s at %s would have to act %s, and %s can't do that.", called(l, s.On), s.Name, answer.Direction(way.X, way.Y, 3), s.Name))
		}
	}
	return strings.Join(list, " ")
}

// against is the direction in which a force at a support would hold the body: its own line where it has one, on the
// side that is against the motion.
func against(m *statics.Motion, s *answer.Support, smooth bool) (statics.Vec, bool) {
	v := m.Velocity[s.On].At(s.At)
	if s.By >= 0 {
		u := m.Velocity[s.By].At(s.At)
		v = statics.Vec{X: v.X - u.X, Y: v.Y - u.Y}
	}
	size := math.Hypot(v.X, v.Y)
	if size < 1e-9 {
		return v, false
	}
	n := s.Normal
	if smooth { // what is gone acts along the surface
		n = statics.Vec{X: n.Y, Y: -n.X}
	}
	if along := v.X*n.X + v.Y*n.Y; math.Hypot(n.X, n.Y) > 0.5 && math.Abs(along) > 1e-6*size {
		k := -math.Copysign(1, along)
		return statics.Vec{X: k*n.X + 0, Y: k*n.Y + 0}, true
	}
	return statics.Vec{X: -v.X / size, Y: -v.Y / size}, true
}

// called is what the text calls a body.
func called(l *answer.Layout, i int) string {
	b := l.Bodies[i].Body
	switch {
	case b.Label == "" && len(b.Name) == 1:
		return "the body " + b.Name
	case b.Label == "":
		return "the " + b.Name
	}
	return "the " + strings.TrimPrefix(strings.TrimPrefix(b.Label, "the "), "a ")
}
