package trial

import (
	"math"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
)

// Settled is the arrangement of a question that has been answered, with every number in it that was to be found, and
// without parts, conditions and readings: those hold for the arrangement as it was, and not once it is changed.
func Settled(a *answer.Answers) *question.Question {
	l := a.Layout
	q := l.Question.Clone()
	q.Parts, q.Conditions, q.Vary = nil, nil, nil
	for i := range q.Bodies {
		settleBody(&q.Bodies[i], &l.Bodies[i])
	}
	for i := range q.Supports {
		settleSupport(&q.Supports[i], &l.Supports[i], l)
	}
	for i := range q.Loads {
		settleLoad(&q.Loads[i], &l.Loads[i], l)
	}
	return q
}

// Open counts the numbers that a question leaves to be found and that its answers have not: it takes the parts to say
// which of the values that they may have is meant.
func Open(a *answer.Answers) (n int) {
	q := Settled(a)
	count := func(list ...question.Value) {
		for _, v := range list {
			if v.Status == question.Unknown {
				n++
			}
		}
	}
	for i := range q.Bodies {
		count(q.Bodies[i].Weight, q.Bodies[i].Centre.At, q.Bodies[i].Angle)
	}
	for i := range q.Supports {
		count(q.Supports[i].On.At, q.Supports[i].Mu, q.Supports[i].Angle)
	}
	for i := range q.Loads {
		count(q.Loads[i].On.At, q.Loads[i].Weight, q.Loads[i].Size)
	}
	return n
}

// put gives a value that was unknown the one that was found.
func put(v *question.Value, found float64, d quantity.Dimension) {
	if v.Status == question.Unknown && !math.IsNaN(found) {
		q := quantity.Of(found, quantity.SIUnit(d))
		q.Figures = computed(found, q.Unit).Figures
		v.Quantity, v.Status = q, question.Given
	}
}

func settleBody(b *question.Body, at *answer.Body) {
	if b.Mass.Status == question.Unknown {
		b.Mass, b.Weight = question.Value{}, question.Value{Status: question.Unknown}
	}
	put(&b.Weight, at.Weight, quantity.Force)
	put(&b.Centre.At, at.FromZero(at.Along), quantity.Length)
	put(&b.Angle, math.Atan2(at.Axis.Y, at.Axis.X), quantity.Angle)
}

func settleSupport(s *question.Support, at *answer.Support, l *answer.Layout) {
	b := &l.Bodies[at.On]
	put(&s.On.At, b.FromZero(b.Distance(at.At)), quantity.Length)
	put(&s.Mu, at.Mu, quantity.Number)
	put(&s.Angle, math.Abs(math.Atan2(at.Normal.X, at.Normal.Y)), quantity.Angle)
	s.Reading = question.Value{}
}

func settleLoad(d *question.Load, at *answer.Load, l *answer.Layout) {
	if d.Mass.Status == question.Unknown {
		d.Mass, d.Weight = question.Value{}, question.Value{Status: question.Unknown}
	}
	b := &l.Bodies[at.On]
	put(&d.On.At, b.FromZero(b.Distance(at.At)), quantity.Length)
	put(&d.Weight, math.Hypot(at.Force.X, at.Force.Y), quantity.Force)
	switch d.Kind {
	case question.Force:
		put(&d.Size, at.Force.X*at.Unit.X+at.Force.Y*at.Unit.Y, quantity.Force)
	case question.Spread:
		put(&d.Size, at.PerMetre, quantity.LineLoad)
	case question.Couple:
		turn := -1.0
		if d.Anticlockwise {
			turn = 1
		}
		put(&d.Size, turn*at.Couple, quantity.Moment)
	}
}
