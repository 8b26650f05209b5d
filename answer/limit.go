package answer

import (
	"math"
	"strings"

	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// askRange answers how far a load may be moved: the furthest place towards one side, or both.
func (a *Answers) askRange(r *Result) error {
	p, l := r.Part, a.Layout
	d := l.LoadNamed(p.Thing)
	if d == nil {
		return fault(p.Span, p.Thing+" is no load that can be moved", "name a load")
	}
	b := &l.Bodies[d.On]
	free, s, err := l.freed(d, seekPlace)
	if err != nil || s == nil {
		return err
	}
	e, err := statics.Range(ptr(bounded(free.System, s.index, 0, b.Length)), s.index)
	if err != nil {
		return err
	}
	if !e.Possible {
		return nil
	}
	at := func(x float64) *Layout {
		f := free.found
		f.at = with(f.at, d.Name, x)
		if out, err := lay(free.Question, f, l.slipSign); err == nil {
			return out
		}
		return l
	}
	place := func(x float64, giving []statics.Giving) string {
		words := a.place(r, b, x)
		switch {
		case len(giving) > 0:
		case single(e.Span): // a balance, and no limit
			words = "only " + words
		case p.Ask == question.AskRange:
			words += " (an end of " + bodyName(b) + ")"
		default:
			words += ", the end of " + bodyName(b)
		}
		return words
	}
	if p.Ask == question.AskRange {
		r.set(b.FromZero(e.Span.Least), quantity.Length, a)
		r.Low, r.High = b.FromZero(e.Span.Least), b.FromZero(e.Span.Greatest)
		lowWords, highWords := place(e.Span.Least, e.LeastGiving), place(e.Span.Greatest, e.GreatestGiving)
		if r.Low > r.High {
			r.Low, r.High, lowWords, highWords = r.High, r.Low, highWords, lowWords
		}
		r.Value, r.At = r.Low, r.Low
		r.Shown = "from " + lowWords + " to " + highWords
		if single(e.Span) {
			r.Shown = lowWords
		}
		r.giving(l, append(append([]statics.Giving(nil), e.LeastGiving...), e.GreatestGiving...))
		r.Layout, r.Other = at(e.Span.Least), at(e.Span.Greatest)
		return nil
	}
	x, giving := e.Span.Greatest, e.GreatestGiving
	if towardsLeft(p, b) {
		x, giving = e.Span.Least, e.LeastGiving
	}
	r.set(b.FromZero(x), quantity.Length, a)
	r.At = r.Value
	r.Shown = place(x, giving)
	r.giving(l, giving)
	r.Layout = at(x)
	return nil
}

func ptr[T any](v T) *T { return &v }

// towardsLeft reports whether a part asks for a place towards the start of the body's axis.
func towardsLeft(p *question.Part, b *Body) bool {
	left := p.Towards == question.ToLeft
	if b.Axis.X < 0 {
		left = !left
	}
	return left
}

func with(m map[string]float64, name string, v float64) map[string]float64 {
	out := map[string]float64{name: v}
	for k, x := range m {
		if k != name {
			out[k] = x
		}
	}
	return out
}

// place writes a distance along a body, saying from where it counts.
func (a *Answers) place(r *Result, b *Body, x float64) string {
	return a.show(r, b.FromZero(x), quantity.Length) + " from the " + b.ZeroName()
}

// ZeroName is what distances along the body are counted from, in words: "left end".
func (b *Body) ZeroName() string {
	switch {
	case b.Rule.Known():
		return "zero of the scale"
	case math.Abs(b.Axis.Y) > 0.5 && b.ZeroRight == (b.Axis.Y > 0):
		return "top"
	case math.Abs(b.Axis.Y) > 0.5:
		return "foot"
	case !b.Level() && b.ZeroRight == (b.Axis.Y > 0):
		return "upper end"
	case !b.Level():
		return "lower end"
	case b.ZeroRight:
		return "right-hand end"
	}
	return "left-hand end"
}

// bodyName is how the wording calls a body.
func bodyName(b *Body) string {
	switch {
	case len(b.Name) == 1 && (b.Label == b.Name || b.Label == ""):
		return "the body " + b.Name
	case b.Label == "":
		return "the " + b.Name
	}
	return "the " + strings.TrimPrefix(strings.TrimPrefix(b.Label, "the "), "a ")
}

// freed lays the question out with the place or the weight of a load left open, whether or not the
// question gives it, and without further conditions, which hold at the limit only by what it finds.
func (l *Layout) freed(d *Load, open what) (*Layout, *sought, error) {
	q := *l.Question
	q.Loads = append([]question.Load(nil), q.Loads...)
	q.Conditions = nil
	f := l.found
	for i := range q.Loads {
		load := &q.Loads[i]
		if load.Name != d.Name {
			continue
		}
		switch open {
		case seekPlace:
			load.On = question.Place{Body: load.On.Body, At: question.Value{Status: question.Unknown}}
			f.at = without(f.at, d.Name)
		default:
			load.Weight.Status, load.Mass.Status = question.Unknown, question.Absent
			if load.Kind != question.Weight {
				load.Size.Status = question.Unknown
			}
			f.weight, f.size = without(f.weight, d.Name), without(f.size, d.Name)
		}
	}
	free, err := lay(&q, f, l.slipSign)
	if err != nil {
		return nil, nil, err
	}
	for i := range free.sought {
		if s := &free.sought[i]; s.name == d.Name && (s.what == seekPlace) == (open == seekPlace) {
			return free, s, nil
		}
	}
	return free, nil, nil
}

func without(m map[string]float64, name string) map[string]float64 {
	out := map[string]float64{}
	for k, v := range m {
		if k != name {
			out[k] = v
		}
	}
	return out
}

// giving says in words what is about to give at a limit.
func (r *Result) giving(l *Layout, gs []statics.Giving) {
	r.GivingAt = gs
	r.Giving = GivingInWords(l, gs)
}

func (l *Layout) jointName(joint int) string {
	for i := range l.Supports {
		if l.Supports[i].Joint == joint {
			return l.Supports[i].Name
		}
	}
	return "a support"
}

// askExtreme answers the greatest or least weight (or size) of a load, or angle of a body.
func (a *Answers) askExtreme(r *Result) error {
	p, l := r.Part, a.Layout
	if p.OfAngle {
		return a.askExtremeAngle(r)
	}
	d := l.LoadNamed(p.Thing)
	if d == nil {
		return fault(p.Span, p.Thing+" is no load", "name a load whose greatest or least size is meant")
	}
	free, s, err := l.freed(d, seekWeight)
	if err != nil || s == nil {
		return err
	}
	sys := bounded(free.System, s.index, 0, math.Inf(1))
	e, err := statics.Range(&sys, s.index)
	if err != nil || !e.Possible {
		return err
	}
	v, giving, way := e.Span.Greatest, e.GreatestGiving, Down
	if p.Ask == question.AskLeast {
		v, giving, way = e.Span.Least, e.LeastGiving, Up
	}
	dim := quantity.Force
	switch {
	case d.Kind == question.Couple:
		dim = quantity.Moment
	case d.Load.Mass.Status != question.Absent:
		dim = quantity.Mass
	}
	if math.IsInf(v, 0) {
		r.Unit, r.Low, r.High = siSymbol(dim), e.Span.Least, e.Span.Greatest
		r.Shown = "there is no greatest: it stays at rest however large " + p.Thing + " is"
		return nil
	}
	f := free.found
	if d.Kind == question.Weight {
		f.weight = with(f.weight, d.Name, v)
	} else {
		f.size = with(f.size, d.Name, v)
	}
	if at, err := lay(free.Question, f, l.slipSign); err == nil {
		r.Layout = at
	}
	if dim == quantity.Mass {
		v /= l.Field
	}
	if single(e.Span) && len(giving) == 0 { // a balance, and no limit
		r.set(v, dim, a)
		r.Shown = "only " + r.Shown
		return nil
	}
	r.round(v, dim, a, way)
	r.giving(l, giving)
	return nil
}

// single reports whether a span holds one value: nothing gives there, for nothing else balances.
func single(s statics.Span) bool {
	width := s.Greatest - s.Least
	return !math.IsInf(width, 0) && width <= 1e-9*math.Max(math.Abs(s.Least), math.Abs(s.Greatest))
}

func (a *Answers) askExtremeAngle(r *Result) error {
	p, l := r.Part, a.Layout
	turn, ok := turner(l.Question, p.Thing)
	if !ok {
		return fault(p.Span, p.Thing+" is nothing whose angle can change", "name a body, or the slope that it stands on")
	}
	e, err := angleExtent(l.Question, turn, l.found)
	if err != nil || !e.Possible {
		return err
	}
	v, giving := e.Span.Greatest, e.GreatestGiving
	if p.Ask == question.AskLeast {
		v, giving = e.Span.Least, e.LeastGiving
	}
	if len(giving) == 0 {
		// Nothing gives before the body lies flat or stands upright.
		r.Unit, r.Low, r.High = siSymbol(quantity.Angle), e.Span.Least, e.Span.Greatest
		r.Shown = "there is no greatest: it stays at rest however steep it is"
		if p.Ask == question.AskLeast {
			r.Shown = "there is no least: it stays at rest however nearly level it is"
		}
		return nil
	}
	r.set(v, quantity.Angle, a)
	r.giving(l, giving)
	if at, err := withAngle(turning(l.Question, turn), turn, l.found, v, l.slipSign); err == nil {
		r.Layout = at
	}
	return nil
}

// askAngle answers with the angle of a body's axis above the horizontal.
func (a *Answers) askAngle(r *Result) {
	b := a.Layout.BodyNamed(r.Part.Thing)
	if b == nil {
		return
	}
	angle := math.Atan2(b.Axis.Y, b.Axis.X)
	r.set(angle, quantity.Angle, a)
	if b.Shape != question.Frame || math.IsNaN(angle) {
		return
	}
	// The axes of a frame have turned with it: say where its x axis points, and how far from upright.
	r.Shown = strings.TrimPrefix(Direction(b.Axis.X, b.Axis.Y, Figures(a.Layout.Question, r.Part)), "at ")
	upright := math.Abs(math.Abs(angle) - math.Pi/2)
	r.Shown += ", " + a.show(r, upright, quantity.Angle) + " from the vertical"
}

// askLeastCoefficient answers the least coefficient of friction at a support with which the bodies stay at rest.
func (a *Answers) askLeastCoefficient(r *Result) error {
	l := a.Layout
	s := l.SupportNamed(r.Part.Thing)
	if s == nil {
		return fault(r.Part.Span, r.Part.Thing+" is no support", "name the support whose friction is meant")
	}
	mu, giving, ok, err := leastFriction(l, s.Joint)
	if err != nil {
		return err
	}
	if !ok {
		r.Shown = "no coefficient is great enough: friction at " + s.Name + " cannot keep it at rest"
		return nil
	}
	r.round(mu, quantity.Number, a, Up)
	r.giving(l, giving)
	return nil
}

// leastFriction is the least coefficient at a joint with which equilibrium is possible.
func leastFriction(l *Layout, joint int) (mu float64, giving []statics.Giving, ok bool, err error) {
	loose := *l.Question
	loose.Conditions = nil
	for _, c := range l.Question.Conditions {
		if c.Kind == question.Ratio {
			loose.Conditions = append(loose.Conditions, c)
		}
	}
	free, err := lay(&loose, l.found, l.slipSign)
	if err != nil {
		return 0, nil, false, err
	}
	f, err := statics.LeastFriction(&free.System, []int{joint})
	return f.Mu, f.At.Giving, f.Possible, err
}

// isMassPerMetre reports whether a spread load is written in kilograms for each metre.
func isMassPerMetre(d *question.Load) bool { return d.Size.Unit.Dimension == quantity.LineDensity }
