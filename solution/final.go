package solution

import (
	"math"
	"strings"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/quantity"
	"steelyard/question"
)

// asked says what a part asks for.
func (w *solver) asked(p *question.Part) string {
	thing := p.Thing
	if b := w.a.Layout.BodyNamed(thing); b != nil {
		thing = w.s.thing(b.Label, b.Name)
	}
	about := p.Other
	if p.Place.At.Known() {
		about = "the point at " + formula.Text(given(p.Place.At))
	}
	switch p.Ask {
	case question.AskForce:
		if fs := w.components(p.Thing); len(fs) == 1 {
			return fs[0].Words
		}
		return "the force at " + thing
	case question.AskAcross:
		return "the horizontal force at " + thing
	case question.AskUpright:
		return "the vertical force at " + thing
	case question.AskDirection:
		return "the direction of the force at " + thing
	case question.AskNormal:
		return "the normal force at " + thing
	case question.AskFriction:
		return "the friction at " + thing
	case question.AskForceOn:
		if b := w.a.Layout.BodyNamed(p.Other); b != nil {
			about = w.s.thing(b.Label, b.Name)
		}
		return "the force of " + about + " on " + thing
	case question.AskCouple:
		return "the couple " + thing
	case question.AskWeight:
		return "the weight of " + thing
	case question.AskMass:
		return "the mass of " + thing
	case question.AskSize:
		return "the size of " + thing
	case question.AskPosition:
		return "the position of " + thing
	case question.AskCentre:
		return "the centre of mass of " + thing
	case question.AskAngle:
		return "the angle of " + thing
	case question.AskCoefficient:
		return "the coefficient of friction at " + thing
	case question.AskFurthest:
		if p.Towards == question.ToLeft {
			return "how far to the left " + thing + " can go"
		}
		return "how far to the right " + thing + " can go"
	case question.AskRange:
		return "between which positions " + thing + " can stand"
	case question.AskGreatest:
		return "the greatest " + w.quality(p) + " of " + thing
	case question.AskLeast:
		return "the least " + w.quality(p) + " of " + thing
	case question.AskLeastCoefficient:
		return "the least coefficient of friction at " + thing
	case question.AskMoment:
		return "the moment of " + thing + " about " + about
	case question.AskTotalMoment:
		return "the total moment of the loads and weights about " + about
	case question.AskResultant:
		return "the resultant of the loads and weights on " + thing + ", and where it acts"
	}
	return "whether it stays at rest"
}

func (w *solver) quality(p *question.Part) string {
	if p.OfAngle {
		return "angle"
	}
	if d := w.a.Layout.LoadNamed(p.Thing); d != nil {
		switch {
		case d.Kind == question.Force || d.Kind == question.Couple:
			return "size"
		case d.Load.Mass.Status != question.Absent:
			return "mass"
		}
	}
	return "weight"
}

// answer is the last line of a part.
func (w *solver) answer(r *answer.Result) Answer {
	out := Answer{Words: quantity.Typeset(r.Shown), Value: r.Value, Unit: r.Unit}
	p := r.Part
	if p.Ask == question.AskForce || p.Ask == question.AskForceOn {
		on := w.s.body(w.bodyOf(p.Thing))
		if p.Ask == question.AskForceOn {
			on = w.supportWords(p.Thing)
		}
		if r.Low == r.High && !math.IsNaN(r.Value) {
			out.Words += ", on " + on
		}
	}
	unit := r.Unit
	switch unit {
	case "rad":
		unit = "°"
	case "1":
		unit = ""
	}
	if math.IsNaN(r.Value) || p.Ask == question.AskWhether || p.Ask == question.AskRange || p.Ask == question.AskCentre && !math.IsNaN(r.Second) || p.Ask == question.AskDirection {
		out.Formula = formula.Upright(quantity.Typeset(r.Shown))
		return out
	}
	value := w.s.final(math.Abs(r.Value), unit, rounding(r))
	if r.Value < 0 && p.Ask != question.AskMoment && p.Ask != question.AskTotalMoment && math.IsNaN(r.Direction) {
		value = w.s.final(r.Value, unit, rounding(r))
	}
	letter, sub := w.answerSymbol(p)
	out.Formula = formula.Equal(formula.Symbol(letter, sub, w.asked(p), r.Value), value)
	out.Formula.Args[0].Value = math.NaN() // rounded to the safe side or without its sign: not the value itself
	return out
}

func (w *solver) answerSymbol(p *question.Part) (string, string) {
	switch p.Ask {
	case question.AskForce, question.AskNormal, question.AskFriction, question.AskAcross, question.AskUpright:
		fs := w.components(p.Thing)
		switch {
		case p.Ask == question.AskAcross:
			return "X", p.Thing
		case p.Ask == question.AskUpright:
			return "Y", p.Thing
		case p.Ask == question.AskNormal:
			return "N", p.Thing
		case p.Ask == question.AskFriction:
			return "F", p.Thing
		case len(fs) == 1:
			return fs[0].Letter, fs[0].Sub
		}
		return "R", p.Thing
	case question.AskForceOn:
		return "F", p.Thing
	case question.AskCouple:
		return "C", p.Thing
	case question.AskMass:
		return "m", p.Thing
	case question.AskWeight, question.AskGreatest, question.AskLeast:
		if p.OfAngle {
			return "θ", ""
		}
		if w.quality(p) == "mass" {
			return "m", p.Thing
		}
		if d := w.a.Layout.LoadNamed(p.Thing); d != nil {
			return answer.LoadSymbol(d.Load)
		}
		return "W", p.Thing
	case question.AskSize:
		return "F", p.Thing
	case question.AskAngle:
		return "θ", ""
	case question.AskCoefficient, question.AskLeastCoefficient:
		return "μ", ""
	case question.AskMoment, question.AskTotalMoment:
		return "M", ""
	case question.AskResultant:
		return "R", ""
	}
	return "x", ""
}

// safety is the caution that goes with the question.
func safety(q *question.Question) string {
	words := "Results are for teaching, never for building."
	people, hung := false, false
	for i := range q.Loads {
		d := &q.Loads[i]
		hung = hung || d.Hung
		label := strings.ToLower(d.Label)
		if d.Kind != question.Weight {
			continue
		}
		for _, who := range []string{"person", "child", "pupil", "keeper", "painter", "walker", "man", "woman", "girl", "boy", "gardener", "climber", "singer", "rower"} {
			people = people || strings.Contains(label, who)
		}
	}
	if people {
		words += " Don't try this with a person: not above 200 mm, one at a time, with an adult beside; never a tipping test."
	}
	if hung {
		words += " Keep feet and hands from under hanging masses, and put a tray below them."
	}
	if people || hung {
		words += " The rules of your school or employer come first."
	}
	return words
}
