package answer

import (
	"fmt"
	"math"
	"strings"

	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// askMoment answers the moment of one force about a point.
func (a *Answers) askMoment(r *Result) error {
	l := a.Layout
	about, err := a.about(r.Part)
	if err != nil {
		return err
	}
	m := math.NaN()
	turn := func(at, f statics.Vec) float64 { return cross(minus(at, about), f) }
	if d := l.LoadNamed(r.Part.Thing); d != nil {
		m = turn(d.At, d.Force) + d.Couple
	} else if f := a.ForceNamed(r.Part.Thing); f != nil {
		m = turn(f.At, statics.Vec{X: f.X, Y: f.Y}) + f.Couple
	} else if b := l.BodyNamed(r.Part.Thing); b != nil {
		m = turn(b.Centre, statics.Vec{Y: -b.Weight})
	}
	a.moment(r, m)
	return nil
}

func (a *Answers) moment(r *Result, m float64) {
	r.set(clean(m, a.momentScale()), quantity.Moment, a)
	if !math.IsNaN(m) {
		r.Shown = a.show(r, math.Abs(r.Value), quantity.Moment)
		r.add(Sense(r.Value))
	}
}

// momentScale is the size of the moments at hand, to tell dust from a moment.
func (a *Answers) momentScale() float64 {
	scale := 0.0
	for _, f := range a.given() {
		scale = max(scale, math.Hypot(f.Force.X, f.Force.Y)*(1+math.Hypot(f.At.X, f.At.Y)))
	}
	return scale
}

// clean is v, or 0 where it is dust beside scale.
func clean(v, scale float64) float64 {
	if math.Abs(v) < 1e-11*scale {
		return 0
	}
	return v
}

// about is the point that a part takes moments about.
func (a *Answers) about(p *question.Part) (statics.Vec, error) {
	l := a.Layout
	if p.Place.Set() {
		return l.Point(p.Place), nil
	}
	if at, ok := l.Named(p.Other); ok {
		return at, nil
	}
	return statics.Vec{}, fault(p.Span, "no point is called "+p.Other, "name a support, a load or a point")
}

// Named finds a named point of the question: a point, a support, a load, or a body (its centre of mass).
func (l *Layout) Named(name string) (statics.Vec, bool) {
	for i := range l.Question.Points {
		if l.Question.Points[i].Name == name {
			return l.Point(l.Question.Points[i].Place), true
		}
	}
	if s := l.SupportNamed(name); s != nil {
		return s.At, true
	}
	if d := l.LoadNamed(name); d != nil {
		return d.At, true
	}
	if b := l.BodyNamed(name); b != nil {
		return b.Centre, true
	}
	return statics.Vec{}, false
}

// given lists the loads and weights on all bodies.
func (a *Answers) given() []statics.Load { return a.Layout.Given(statics.Ground) }

// Given lists the loads and the weight on body i, or on all bodies for statics.Ground. What is
// unknown is left out.
func (l *Layout) Given(i int) []statics.Load {
	var out []statics.Load
	for j := range l.Bodies {
		if b := &l.Bodies[j]; (i < 0 || i == j) && b.Weight > 0 && !nan(b.Centre) {
			out = append(out, statics.Load{On: j, At: b.Centre, Force: statics.Vec{Y: -b.Weight}})
		}
	}
	for j := range l.Loads {
		if d := &l.Loads[j]; (i < 0 || i == d.On) && !nan(d.Force) && !math.IsNaN(d.Couple) {
			out = append(out, statics.Load{On: d.On, At: d.At, Force: d.Force, Couple: d.Couple})
		}
	}
	return out
}

func (a *Answers) askTotalMoment(r *Result) error {
	about, err := a.about(r.Part)
	if err != nil {
		return err
	}
	m := 0.0
	for _, f := range a.given() {
		m += cross(minus(f.At, about), f.Force) + f.Couple
	}
	a.moment(r, m)
	return nil
}

// askResultant answers with the resultant of the loads and weight on a body, and where its line of
// action crosses the body's axis.
func (a *Answers) askResultant(r *Result) {
	l := a.Layout
	i := l.BodyIndex(r.Part.Thing)
	if i < 0 {
		return
	}
	b := &l.Bodies[i]
	var sum statics.Vec
	m, scale := 0.0, 0.0
	for _, f := range l.Given(i) {
		sum.X += f.Force.X
		sum.Y += f.Force.Y
		m += cross(minus(f.At, b.Origin), f.Force) + f.Couple
		scale += math.Hypot(f.Force.X, f.Force.Y)
	}
	sum = statics.Vec{X: clean(sum.X, scale), Y: clean(sum.Y, scale)}
	if sum == (statics.Vec{}) {
		r.set(0, quantity.Force, a)
		if clean(m, scale*l.extent()) == 0 {
			r.Shown = "no resultant: neither a force nor a couple"
			return
		}
		r.Shown = "no resultant force; a couple of " + a.show(r, math.Abs(m), quantity.Moment)
		r.add(Sense(m))
		return
	}
	r.set(math.Hypot(sum.X, sum.Y), quantity.Force, a)
	r.direct(sum.X, sum.Y, Figures(l.Question, r.Part))
	if turn := cross(b.Axis, sum); math.Abs(turn) > 1e-12*scale {
		r.At = b.FromZero(m / turn)
		if b.Level() {
			r.At = tidy(r.At)
		}
		r.Shown += ", acting " + a.show(r, r.At, quantity.Length) + " from the " + b.ZeroName()
	}
}

// askSize answers with an unknown weight, mass, force or couple.
func (a *Answers) askSize(r *Result) error {
	p, l := r.Part, a.Layout
	var w float64
	dim := quantity.Force
	if d := l.LoadNamed(p.Thing); d != nil {
		switch d.Kind {
		case question.Couple:
			w, dim = l.size(d.Name), quantity.Moment
			if d.Load.Size.Known() {
				w = d.Load.Size.SI()
			}
		case question.Force:
			w = l.size(d.Name)
			if d.Load.Size.Known() {
				w = d.Load.Size.SI()
			}
		default:
			w = -d.Force.Y
		}
		if d.Kind == question.Couple && !math.IsNaN(w) {
			r.set(w, dim, a)
			r.Shown = a.show(r, math.Abs(w), dim)
			if d.Anticlockwise {
				r.add(Sense(w))
			} else {
				r.add(Sense(-w))
			}
			return nil
		}
		if d.Kind == question.Force && !math.IsNaN(w) {
			r.set(w, dim, a)
			r.Shown = a.show(r, math.Abs(w), dim)
			r.direct(w*d.Unit.X, w*d.Unit.Y, Figures(l.Question, p))
			return nil
		}
	} else if b := l.BodyNamed(p.Thing); b != nil {
		w = b.Weight
	} else {
		return fault(p.Span, p.Thing+" has no weight", "name a load or a body")
	}
	if p.Ask == question.AskMass {
		w, dim = w/l.Field, quantity.Mass
	}
	r.set(w, dim, a)
	return nil
}

func (l *Layout) size(name string) float64 {
	if v, ok := l.found.size[name]; ok {
		return v
	}
	return math.NaN()
}

// askPlace answers where an unknown load or support is.
func (a *Answers) askPlace(r *Result) error {
	l, name := a.Layout, r.Part.Thing
	i, at := -1, statics.Vec{}
	if d := l.LoadNamed(name); d != nil {
		i, at = d.On, d.At
	} else if s := l.SupportNamed(name); s != nil {
		i, at = s.On, s.At
	} else {
		return fault(r.Part.Span, name+" has no place of its own", "name a load or a support")
	}
	b := &l.Bodies[i]
	if _, ok := l.found.at[name]; !ok && isUnknownPlace(l.Question, name) {
		return nil
	}
	x := b.Distance(at)
	if f, ok := l.found.at[name]; ok {
		x = tidy(f)
	}
	r.set(b.FromZero(x), quantity.Length, a)
	r.At = r.Value
	r.Shown = a.place(r, b, x)
	return nil
}

func isUnknownPlace(q *question.Question, name string) bool {
	for i := range q.Loads {
		if q.Loads[i].Name == name {
			return q.Loads[i].On.At.Status == question.Unknown
		}
	}
	for i := range q.Supports {
		if q.Supports[i].Name == name {
			return q.Supports[i].On.At.Status == question.Unknown
		}
	}
	return false
}

// askCentre answers where a body's centre of mass is.
func (a *Answers) askCentre(r *Result) error {
	b := a.Layout.BodyNamed(r.Part.Thing)
	if b == nil {
		return fault(r.Part.Span, r.Part.Thing+" is no body", "name a body")
	}
	if b.Shape == question.Bar {
		r.set(b.FromZero(b.Along), quantity.Length, a)
		if !math.IsNaN(b.Along) {
			r.At = r.Value
			r.Shown = a.place(r, b, b.Along)
		}
		return nil
	}
	r.set(b.Along, quantity.Length, a)
	r.Second = b.above
	if !math.IsNaN(b.Along) {
		r.Shown = fmt.Sprintf("(%s, %s)", a.show(r, b.Along, quantity.Length), a.show(r, b.above, quantity.Length))
	}
	return nil
}

// askWhether answers whether the bodies stay at rest, and how they move if not.
func (a *Answers) askWhether(r *Result) {
	l := a.Layout
	r.Unit = "1"
	switch a.State {
	case statics.NoEquilibrium:
		r.Value = 0
		r.Shown = "it does not stay at rest: " + MotionInWords(l, a.Solution.Motion)
	case statics.Limit:
		r.Value = 1
		r.giving(l, a.Solution.Giving)
		r.Shown = "it just stays at rest: " + strings.Join(r.Giving, ", ")
	default:
		r.Value = 1
		r.Shown = "it stays at rest"
	}
	r.Low, r.High = r.Value, r.Value
}
