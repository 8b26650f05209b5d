package answer

import (
	"fmt"
	"math"
	"strings"

	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// part works out one part.
func (a *Answers) part(p *question.Part) (Result, error) {
	r := Result{Part: p, Value: math.NaN(), Low: math.NaN(), High: math.NaN(), Direction: math.NaN(), At: math.NaN(), Second: math.NaN(), Layout: a.Layout}
	var err error
	switch p.Ask {
	case question.AskForce, question.AskAcross, question.AskUpright, question.AskDirection,
		question.AskNormal, question.AskFriction, question.AskForceOn, question.AskCouple:
		err = a.askForce(&r)
	case question.AskWeight, question.AskMass, question.AskSize:
		err = a.askSize(&r)
	case question.AskPosition:
		err = a.askPlace(&r)
	case question.AskCentre:
		err = a.askCentre(&r)
	case question.AskAngle:
		a.askAngle(&r)
	case question.AskCoefficient:
		s := a.Layout.SupportNamed(p.Thing)
		r.set(s.Mu, quantity.Number, a)
	case question.AskFurthest, question.AskRange:
		err = a.askRange(&r)
	case question.AskGreatest, question.AskLeast:
		err = a.askExtreme(&r)
	case question.AskLeastCoefficient:
		err = a.askLeastCoefficient(&r)
	case question.AskMoment:
		err = a.askMoment(&r)
	case question.AskTotalMoment:
		err = a.askTotalMoment(&r)
	case question.AskResultant:
		a.askResultant(&r)
	case question.AskWhether:
		a.askWhether(&r)
	}
	if err == nil && r.Shown == "" {
		r.Shown = "this cannot be found: " + a.why()
	}
	return r, err
}

// why says in words why the forces cannot be given.
func (a *Answers) why() string {
	switch a.State {
	case statics.NoEquilibrium:
		return "nothing holds it in equilibrium"
	case statics.NotFixed:
		return "equilibrium does not fix it"
	}
	return "the question does not give enough"
}

// set writes a value rounded to nearest.
func (r *Result) set(v float64, d quantity.Dimension, a *Answers) { r.round(v, d, a, Nearest) }

func (r *Result) round(v float64, d quantity.Dimension, a *Answers, way Way) {
	q := a.Layout.Question
	r.Value, r.Low, r.High, r.Unit = v, v, v, siSymbol(d)
	if math.IsNaN(v) {
		r.Shown = ""
		return
	}
	figures := Figures(q, r.Part)
	if d == quantity.Number && r.Part.Figures == 0 {
		figures = 2 // a coefficient of friction is never known better
	}
	r.Shown = Round(v, UnitFor(q, d), figures, way)
}

// siSymbol is the symbol of the SI unit, "1" for a plain number.
func siSymbol(d quantity.Dimension) string {
	if d == quantity.Angle {
		return "rad"
	}
	if s := quantity.SIUnit(d).Symbol; s != "" {
		return s
	}
	return "1"
}

// show writes one more value of a part, to the same figures.
func (a *Answers) show(r *Result, v float64, d quantity.Dimension) string {
	q := a.Layout.Question
	return Round(v, UnitFor(q, d), Figures(q, r.Part), Nearest)
}

// Direction says where a force points, in words: "up", "to the left", "16.1° above the horizontal, to the right".
func Direction(x, y float64, figures int) string {
	size := math.Hypot(x, y)
	const dust = 1e-9
	switch {
	case size == 0:
		return ""
	case math.Abs(x) <= dust*size && y > 0:
		return "up"
	case math.Abs(x) <= dust*size:
		return "down"
	case math.Abs(y) <= dust*size && x > 0:
		return "to the right"
	case math.Abs(y) <= dust*size:
		return "to the left"
	}
	side, above := "right", "above"
	if x < 0 {
		side = "left"
	}
	if y < 0 {
		above = "below"
	}
	degree, _ := quantity.UnitNamed("deg")
	return fmt.Sprintf("at %s %s the horizontal, to the %s",
		quantity.Format(math.Atan2(math.Abs(y), math.Abs(x)), degree, figures), above, side)
}

// Sense says which way a moment turns.
func Sense(moment float64) string {
	switch {
	case moment > 0:
		return "anticlockwise"
	case moment < 0:
		return "clockwise"
	}
	return ""
}

func (a *Answers) askForce(r *Result) error {
	p := r.Part
	f := a.ForceNamed(p.Thing)
	if f == nil {
		if p.Ask == question.AskCouple && a.Layout.LoadNamed(p.Thing) != nil {
			return a.askSize(r) // an unknown couple among the loads
		}
		return nil // nothing holds it
	}
	s := a.Layout.SupportNamed(p.Thing)
	r.By, r.On = bodyOr(f.By, s.Name), f.On
	x, y := f.X, f.Y
	if p.Ask == question.AskForceOn {
		// What the body does to the support is equal and opposite.
		r.By, r.On = p.Other, s.Name
		if f.By == p.Other {
			r.By, r.On = f.By, f.On
		} else {
			x, y = -x, -y
		}
	}
	if f.Spans != nil {
		if done := a.askUnfixed(r, f, s); done {
			return nil
		}
	}
	figures := Figures(a.Layout.Question, p)
	switch p.Ask {
	case question.AskCouple:
		r.set(f.Couple, quantity.Moment, a)
		r.Shown = a.show(r, math.Abs(f.Couple), quantity.Moment)
		r.add(Sense(f.Couple))
	case question.AskAcross:
		r.component(x, statics.Vec{X: 1}, a)
	case question.AskUpright:
		r.component(y, statics.Vec{Y: 1}, a)
	case question.AskNormal:
		r.component(f.N, s.Normal, a)
	case question.AskFriction:
		r.component(f.F, statics.Vec{X: s.Normal.Y, Y: -s.Normal.X}, a)
	case question.AskDirection:
		r.set(math.Atan2(y, x), quantity.Angle, a)
		r.Direction = r.Value
		r.Shown = strings.TrimPrefix(Direction(x, y, figures), "at ")
	default:
		r.set(math.Hypot(x, y), quantity.Force, a)
		if s.Normal != (statics.Vec{}) && oneLine(s) {
			// Along one line, a value has a sign: a thrust, a tension, a push.
			r.Value = f.N
			r.Low, r.High = f.N, f.N
			r.Shown = a.show(r, math.Abs(f.N), quantity.Force)
		}
		r.direct(x, y, figures)
	}
	return nil
}

// oneLine reports whether a support's force has one line of action, whatever its size.
func oneLine(s *Support) bool {
	switch jointKind[s.Kind] {
	case statics.Contact:
		return s.Mu == 0
	case statics.Pull, statics.Rod:
		return true
	}
	return false
}

// component answers with the part of a force along unit.
func (r *Result) component(v float64, unit statics.Vec, a *Answers) {
	r.set(v, quantity.Force, a)
	r.Shown = a.show(r, math.Abs(v), quantity.Force)
	r.direct(v*unit.X, v*unit.Y, Figures(a.Layout.Question, r.Part))
}

// direct adds the direction of a force to what is shown.
func (r *Result) direct(x, y float64, figures int) {
	if d := Direction(x, y, figures); d != "" {
		r.Direction = math.Atan2(y, x)
		r.add(d)
	}
}

func (r *Result) add(words string) {
	if words != "" {
		r.Shown += " " + words
	}
}

func bodyOr(body, support string) string {
	if body != "" {
		return body
	}
	return support
}

// askUnfixed answers with the least and greatest where equilibrium does not fix what is asked.
func (a *Answers) askUnfixed(r *Result, f *Force, s *Support) bool {
	d := quantity.Force
	var span statics.Span
	way := statics.Vec{X: 1} // of a positive value
	switch r.Part.Ask {
	case question.AskCouple:
		span, d = f.Spans.Couple, quantity.Moment
	case question.AskAcross:
		span = f.Spans.X
	case question.AskUpright:
		span, way = f.Spans.Y, statics.Vec{Y: 1}
	case question.AskFriction:
		span, way = f.Spans.F, statics.Vec{X: s.Normal.Y, Y: -s.Normal.X}
	case question.AskNormal:
		span, way = f.Spans.N, s.Normal
	default:
		if oneLine(s) {
			span, way = f.Spans.N, s.Normal
		} else if fixed(f.Spans.X) {
			span, way = f.Spans.Y, statics.Vec{Y: 1}
		} else {
			span = f.Spans.X
		}
	}
	if fixed(span) {
		return false
	}
	r.Low, r.High, r.Unit = span.Least, span.Greatest, siSymbol(d)
	figures := Figures(a.Layout.Question, r.Part)
	ahead, back := Direction(way.X, way.Y, figures), Direction(-way.X, -way.Y, figures)
	if d == quantity.Moment {
		ahead, back = Sense(1), Sense(-1)
	}
	r.Shown = "not fixed by equilibrium: " + a.between(r, span, d, ahead, back)
	return true
}

// between says what a span allows; ahead and back are the directions of positive and negative values, in words.
func (a *Answers) between(r *Result, s statics.Span, d quantity.Dimension, ahead, back string) string {
	size := func(v float64) string { return a.show(r, math.Abs(v), d) }
	to := func(words, way string) string { return strings.TrimSpace(words + " " + way) }
	low, high := math.IsInf(s.Least, 0), math.IsInf(s.Greatest, 0)
	switch {
	case low && high:
		return "it could be anything"
	case fixed(s):
		if s.Least < 0 {
			ahead = back
		}
		return to(size(s.Least), ahead)
	case s.Greatest <= 0:
		flipped := statics.Span{Least: -s.Greatest, Greatest: -s.Least}
		return a.between(r, flipped, d, back, ahead)
	case s.Least >= 0 && high:
		return to("at least "+size(s.Least), ahead)
	case s.Least >= 0:
		return to("from "+size(s.Least)+" to "+size(s.Greatest), ahead)
	case high:
		return to("at most "+size(s.Least), back) + to(", or any size", ahead)
	case low:
		return to("at most "+size(s.Greatest), ahead) + to(", or any size", back)
	}
	return to("from "+size(s.Least), back) + " " + to("to "+size(s.Greatest), ahead)
}
