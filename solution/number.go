package solution

import (
	"math"
	"strconv"
	"strings"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/quantity"
	"steelyard/question"
)

// given is a number as the question writes it.
func given(v question.Value) formula.Node {
	digits := v.Digits
	if digits == "" {
		digits = strconv.FormatFloat(quantity.Snap(v.Value), 'f', -1, 64)
	}
	n := formula.Given(minusSign(digits), v.Unit.Symbol)
	n.Value = v.SI()
	return n
}

// minusSign gives a plain number the sign and the thousands of print.
func minusSign(digits string) string {
	if whole, _, _ := strings.Cut(digits, "."); len(strings.TrimLeft(whole, "-")) > 4 && !strings.Contains(digits, "e") {
		return quantity.Typeset(digits)
	}
	if rest, ok := strings.CutPrefix(digits, "-"); ok {
		return "−" + rest
	}
	return digits
}

// number is a value on its way, in SI units, with one figure more than the answer will have, and four at least;
// fewer where they hold it exactly.
func (s *scene) number(v float64, unit string) formula.Node {
	unit, factor := s.inUnit(unit)
	return decimal(v/factor, unit, s.digits())
}

// digits is how many figures a number on its way has, less one: three at least, and more where terms nearly cancel.
func (s *scene) digits() int { return max(s.figures, 3) + s.extra }

// inUnit is the unit that the question uses for newtons and newton metres, and its size in SI.
func (s *scene) inUnit(unit string) (string, float64) {
	switch unit {
	case "°":
		return "°", math.Pi / 180
	case "N", "N m":
		if s.forceUnit.Symbol == "kN" {
			return "k" + unit, 1000
		}
	}
	return unit, 1
}

// decimal writes v with as few figures as hold it exactly, or else rounded to one more than figures, four at least.
func decimal(v float64, unit string, figures int) formula.Node {
	v = quantity.Snap(v)
	if math.Abs(v) < 1e-12 {
		return formula.Given("0", unit)
	}
	text := quantity.RoundFigures(v, max(figures+1, 4))
	if w, err := strconv.ParseFloat(text, 64); err == nil && math.Abs(w-v) <= 1e-11*math.Abs(v) {
		if strings.Contains(text, ".") && !strings.Contains(text, "e") {
			text = strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
		}
		return formula.Given(minusSign(text), unit)
	}
	return formula.Rounded(minusSign(text), unit)
}

// length writes a length given in metres in the question's unit, with as many decimals as its lengths have.
func (s *scene) length(v float64) formula.Node {
	u := s.lengthUnit
	return s.lengthIn(v, u.Symbol, s.lengthDecimals(u), math.Pow10(u.Power))
}

// metres writes a length in metres, as a product of newtons and metres needs it.
func (s *scene) metres(v float64) formula.Node {
	u := s.lengthUnit
	return s.lengthIn(v, "m", max(0, s.lengthDecimals(u)-u.Power), 1)
}

func (s *scene) lengthIn(v float64, unit string, decimals int, size float64) formula.Node {
	v = quantity.Snap(v / size)
	if math.Abs(v) < 1e-12 {
		return formula.Given("0", unit)
	}
	for d := decimals; d <= decimals+2; d++ {
		text := quantity.RoundDecimals(v, d)
		if w, err := strconv.ParseFloat(text, 64); err == nil && math.Abs(w-v) <= 1e-11*math.Abs(v) {
			return formula.Given(minusSign(text), unit)
		}
	}
	return formula.Rounded(minusSign(quantity.RoundFigures(v, s.digits()+1)), unit)
}

// lengthDecimals is the most decimals that a length of the question has, in unit u.
func (s *scene) lengthDecimals(u quantity.Unit) int {
	if s.decimals > 0 {
		return s.decimals - 1
	}
	most := answer.Decimals(s.q, u)
	s.decimals = most + 1
	return most
}

// final is an answer, rounded once from the unrounded value, in the question's unit.
func (s *scene) final(v float64, unit string, way answer.Way) formula.Node {
	d := answer.Dimension(unit)
	u := answer.UnitFor(s.q, d)
	if d == quantity.Mass {
		u = massUnit(s.q)
	}
	figures := s.figures
	if d == quantity.Number && (s.part == nil || s.part.Figures == 0) {
		figures = 2 // a coefficient of friction is never known better
	}
	text := answer.Round(v, u, figures, way)
	digits := strings.TrimSpace(strings.TrimSuffix(text, u.Symbol))
	return formula.Rounded(minusSign(digits), u.Symbol)
}

func massUnit(q *question.Question) quantity.Unit { return answer.UnitFor(q, quantity.Mass) }
