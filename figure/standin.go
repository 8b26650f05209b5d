package figure

import (
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// standIn returns a layout in which places and angles that are unknown are somewhere plausible, and
// whether it differs from l: the sketch must not show the answer, and what is nowhere can't be drawn.
func standIn(l *answer.Layout) (*answer.Layout, bool) {
	q := l.Question
	if q == nil || !unknownPlaces(q) {
		return l, false
	}
	c := *q
	c.Bodies, c.Supports, c.Loads = slices.Clone(q.Bodies), slices.Clone(q.Supports), slices.Clone(q.Loads)
	for i := range c.Bodies {
		if b := &c.Bodies[i]; b.Angle.Status == question.Unknown {
			b.Angle = guess(lean(l.Bodies[i].Axis), quantity.Angle)
			if b.Shape == question.Frame {
				b.Angle = guess(-12*math.Pi/180, quantity.Angle)
			}
		}
		if b := &c.Bodies[i]; b.Centre.At.Status == question.Unknown {
			b.Centre = question.Place{}
		}
	}
	for i := range c.Supports {
		if p := &c.Supports[i].On; p.At.Status == question.Unknown {
			p.At = freePlace(&c, p.Body, onScale(l, p.Body, l.Supports[i].At))
		}
		if p := &c.Supports[i].By; p.At.Status == question.Unknown {
			p.At = freePlace(&c, p.Body, onScale(l, p.Body, l.Supports[i].At))
		}
		if a := &c.Supports[i].Angle; a.Status == question.Unknown {
			*a = guess(25*math.Pi/180, quantity.Angle)
		}
	}
	for i := range c.Loads {
		if p := &c.Loads[i].On; p.At.Status == question.Unknown {
			p.At = freePlace(&c, p.Body, onScale(l, p.Body, l.Loads[i].At))
		}
	}
	laid, err := answer.Lay(&c)
	if err != nil {
		return l, true
	}
	// Words come from the question itself, in which the unknown stays unknown.
	for i := range laid.Bodies {
		laid.Bodies[i].Body = &q.Bodies[i]
	}
	for i := range laid.Supports {
		laid.Supports[i].Support = &q.Supports[i]
	}
	for i := range laid.Loads {
		laid.Loads[i].Load = &q.Loads[i]
	}
	return laid, true
}

// lean is an angle for a bar whose own is unknown: on the same side of upright and of level as the answer, if there
// is one, but not near it.
func lean(answer statics.Vec) float64 {
	x, y := answer.X, answer.Y
	if !finite(x) || !finite(y) {
		x, y = 1, 1
	}
	a := 55 * math.Pi / 180
	if math.Abs(math.Atan2(math.Abs(y), math.Abs(x))-a) < 0.1 {
		a = 44 * math.Pi / 180
	}
	if x < 0 {
		a = math.Pi - a
	}
	return math.Copysign(a, y)
}

func unknownPlaces(q *question.Question) bool {
	u := question.Unknown
	for i := range q.Bodies {
		if q.Bodies[i].Angle.Status == u {
			return true
		}
	}
	for i := range q.Supports {
		if s := &q.Supports[i]; s.On.At.Status == u || s.By.At.Status == u || s.Angle.Status == u {
			return true
		}
	}
	for i := range q.Loads {
		if q.Loads[i].On.At.Status == u {
			return true
		}
	}
	return false
}

func guess(si float64, d quantity.Dimension) question.Value {
	return question.Value{Quantity: quantity.Of(si, quantity.SIUnit(d)), Status: question.Given}
}

// onScale is where a point is on the scale of a body; NaN where that is not known.
func onScale(l *answer.Layout, body string, at statics.Vec) float64 {
	b := l.BodyNamed(body)
	if b == nil || b.Length == 0 {
		return math.NaN()
	}
	return b.FromZero(b.Distance(at))
}

// freePlace is in the gap between known places of a body that the answer is in, so that no side is wrong, but away
// from the answer; where there is no answer, in the widest gap.
func freePlace(q *question.Question, body string, answer float64) question.Value {
	var length float64
	for i := range q.Bodies {
		if b := &q.Bodies[i]; b.Name == body && b.Length.Known() {
			length = b.Length.SI()
		}
	}
	taken := []float64{0, length}
	note := func(p question.Place) {
		if p.Body == body && p.At.Known() {
			taken = append(taken, p.At.SI())
		}
	}
	for i := range q.Supports {
		note(q.Supports[i].On)
	}
	for i := range q.Loads {
		note(q.Loads[i].On)
	}
	slices.Sort(taken)
	at, widest := 0.6*length, 0.0
	for i := 1; i < len(taken); i++ {
		low, gap := taken[i-1], taken[i]-taken[i-1]
		if low+1e-9 < answer && answer < low+gap-1e-9 {
			if at = low + 0.56*gap; math.Abs(at-answer) < 0.1*gap {
				at = low + 0.36*gap
			}
			break
		}
		if gap > widest+1e-9 {
			at, widest = low+0.56*gap, gap
		}
	}
	return guess(at, quantity.Length)
}
