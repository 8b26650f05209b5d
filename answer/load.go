package answer

import (
	"math"

	"steelyard/question"
	"steelyard/statics"
)

// load lays one load out. A load whose place is unknown is put at the body's left end: package
// statics then finds the couple that moving it along the body would add.
func (l *Layout) load(d *question.Load, f found) (Load, error) {
	out := Load{Load: d, On: l.BodyIndex(d.On.Body)}
	if out.On < 0 {
		return out, fault(d.Span, d.Name+" is on no body", "say which body it acts on, such as: on plank at 1.50 m")
	}
	b := &l.Bodies[out.On]
	out.At = l.point(d.On, f.at, d.Name)
	if d.Kind == question.Couple && !d.On.Set() {
		out.At = b.at(b.Length/2, 0)
	}
	if d.On.At.Status == question.Unknown && nan(out.At) {
		out.At = b.Origin
	}
	switch d.Kind {
	case question.Weight:
		out.Force = statics.Vec{Y: -l.weightOf(d, f)}
	case question.Force:
		u := statics.Vec{Y: -1}
		if d.Direction != nil {
			var err error
			if u, err = l.Direction(d.Direction); err != nil {
				return out, err
			}
		}
		out.Unit = u
		out.Force = scaled(value(d.Size, f.size, d.Name), u)
	case question.Spread:
		return out, l.spread(&out, d, b)
	case question.Couple:
		out.Couple = value(d.Size, f.size, d.Name)
		if !d.Anticlockwise {
			out.Couple = -out.Couple
		}
	}
	return out, nil
}

// scaled is k u, but keeps an exact zero where u has one.
func scaled(k float64, u statics.Vec) statics.Vec {
	v := times(k, u)
	if u.X == 0 {
		v.X = 0
	}
	if u.Y == 0 {
		v.Y = 0
	}
	return v
}

// weightOf is the weight of a load in newtons.
func (l *Layout) weightOf(d *question.Load, f found) float64 {
	if d.Mass.Known() {
		return tidy(d.Mass.SI() * l.Field)
	}
	return value(d.Weight, f.weight, d.Name)
}

// spread replaces a spread load by one force at the middle of its length.
func (l *Layout) spread(out *Load, d *question.Load, b *Body) error {
	from, _ := along(l.Question, b.Body, d.On, nil, "")
	to, _ := along(l.Question, b.Body, d.To, nil, "")
	if !d.To.Set() {
		to = b.Length
	}
	if from > to {
		from, to = to, from
	}
	out.PerMetre = d.Size.SI()
	if isMassPerMetre(d) {
		out.PerMetre = tidy(out.PerMetre * l.Field)
	}
	out.From, out.To = b.at(from, 0), b.at(to, 0)
	out.At = b.at(tidy((from+to)/2), 0)
	out.Force = statics.Vec{Y: -tidy(out.PerMetre * (to - from))}
	if math.IsNaN(out.Force.Y) {
		return fault(d.Span, d.Name+" has no size", "give it, such as: 120 N/m")
	}
	return nil
}
