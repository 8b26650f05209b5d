package pupil

import (
	"math"
	"strings"

	"steelyard/homework"
	"steelyard/question"
)

// examples show what an answer with a unit looks like; the second is used where the first would be the answer.
var examples = map[string][2]string{
	"N": {"120 N", "135 N"}, "kN": {"1.20 kN", "1.35 kN"}, "m": {"1.40 m", "1.65 m"}, "cm": {"14.0 cm", "16.5 cm"}, "mm": {"140 mm", "165 mm"},
	"kg": {"12.0 kg", "13.5 kg"}, "g": {"120 g", "135 g"}, "N m": {"150 N m", "165 N m"}, "kN m": {"1.50 kN m", "1.65 kN m"},
	"°": {"25.0°", "28.0°"}, "": {"0.35", "0.45"},
}

// example says what belongs in the answer box of a part: what kind of thing, and what one looks like.
func example(a *homework.Asked, p *part) string {
	r := &a.Answers.Results[0]
	for i := range a.Answers.Results {
		if a.Answers.Results[i].Part.Name == p.Name {
			r = &a.Answers.Results[i]
		}
	}
	one := func(unit string) string {
		pair := looks(unit)
		if strings.Contains(r.Shown, strings.SplitN(pair[0], " ", 2)[0]) {
			return pair[1]
		}
		return pair[0]
	}
	both := strings.Contains(strings.ToLower(p.Text), "direction")
	var words string
	switch r.Part.Ask {
	case question.AskWhether:
		return "In words: does it stay, and if not, what does it do?"
	case question.AskForceOn:
		words = "Size, unit and direction, for example " + one("N") + " to the left"
	case question.AskDirection:
		words = "Angle and direction, for example 25° above the horizontal"
	case question.AskRange:
		words = "From and to, with the unit, for example from " + looks(p.Unit)[0] + " to " + looks(p.Unit)[1]
	case question.AskCentre:
		words = "Number and unit, for example " + one(p.Unit)
		if !math.IsNaN(r.Second) {
			words = "Both distances with their units, for example " + looks(p.Unit)[0] + " and " + looks(p.Unit)[1]
		}
	case question.AskResultant:
		words = "Size, unit and where it acts, for example " + one(p.Unit) + " at 1.40 m"
	case question.AskMoment, question.AskTotalMoment, question.AskCouple:
		words = "Number, unit and sense, for example " + one(p.Unit) + " clockwise"
	default:
		switch {
		case p.Unit == "":
			words = "A number, for example " + one("")
		case r.Part.Ask == question.AskForce && (both && slants(r.Direction) || strings.Contains(strings.ToLower(p.Text), "angle")):
			words = "Size, unit and angle, for example " + one(p.Unit) + " at 25° above the horizontal"
		case both:
			words = "Size, unit and direction, for example " + one(p.Unit) + " to the left"
		default:
			words = "Number and unit, for example " + one(p.Unit)
		}
	}
	if n := r.Part.Figures; n > 0 {
		words += ", to " + count(n, "significant figure", "significant figures")
	}
	return words
}

func looks(unit string) [2]string {
	if pair, ok := examples[unit]; ok {
		return pair
	}
	return [2]string{"12.0 " + unit, "13.5 " + unit}
}

// slants says whether a direction, in radians, is neither level nor upright.
func slants(direction float64) bool {
	return math.Abs(math.Sin(2*direction)) > 1e-6
}
