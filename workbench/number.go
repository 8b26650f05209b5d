package workbench

import (
	"math"
	"strings"

	"steelyard/quantity"
	"steelyard/question"
)

// unitOf is the unit of a number as it is typed, with the space before it; "" if it has none.
func unitOf(typed string) string {
	for i := range typed {
		if u := strings.TrimSpace(typed[i:]); u != "" {
			if _, ok := quantity.UnitNamed(u); ok {
				return typed[i:]
			}
		}
	}
	return ""
}

// renumber writes an SI value in place of a number as it was typed: in its unit, with its decimals or the few more
// that the value needs, and with its decimal comma.
func renumber(old string, was quantity.Quantity, si float64) string {
	v := quantity.Snap(quantity.Of(si, was.Unit).Value)
	d := was.Decimals
	for d < 6 && math.Abs(v-quantityOf(v, d)) > 1e-9*math.Max(1, math.Abs(v)) {
		d++
	}
	number := quantity.RoundDecimals(v, d)
	if d != 3 && was.Decimals > 0 && strings.Contains(old, ",") && !strings.Contains(old, ".") {
		number = strings.Replace(number, ".", ",", 1)
	}
	return number + unitOf(old)
}

// quantityOf is v rounded to so many decimals.
func quantityOf(v float64, decimals int) float64 {
	k := math.Pow(10, float64(decimals))
	return math.Round(v*k) / k
}

// lengthUnit is the unit of the lengths of a question, and the decimals that they are written with.
func lengthUnit(q *question.Question, body string) (quantity.Unit, int) {
	b := q.Body(body)
	if b == nil && len(q.Bodies) > 0 {
		b = &q.Bodies[0]
	}
	if b != nil && b.Length.Known() {
		return b.Length.Unit, b.Length.Decimals
	}
	for _, n := range q.Numbers() {
		if v := q.Value(n.Thing, n.Attribute); v != nil && v.Known() && v.Unit.Dimension == quantity.Length {
			return v.Unit, v.Decimals
		}
	}
	return quantity.SIUnit(quantity.Length), 2
}

// stepFor is a step of 1, 2 or 5 of a unit's decimals, about a hundredth of a span, no finer than the writer's own
// decimals unless these are too coarse to choose with. All are in SI units.
func stepFor(span float64, u quantity.Unit, decimals int) float64 {
	one := quantity.Quantity{Value: 1, Unit: u, Digits: "1"}.SI()
	in := span / one
	if !(in > 0) || math.IsInf(in, 0) {
		return one * math.Pow(10, -float64(decimals))
	}
	ten := math.Pow(10, math.Floor(math.Log10(in/100)))
	step := ten
	for _, k := range []float64{1, 2, 5, 10} {
		if step = k * ten; step >= in/100*(1-1e-9) {
			break
		}
	}
	if own := math.Pow(10, -float64(decimals)); own > step && own <= in/20 {
		step = own
	}
	return quantity.Snap(step * one)
}

// fineFor is the step for fine placing.
func fineFor(step float64) float64 {
	f := math.Pow(10, math.Floor(math.Log10(step)+1e-9))
	if f > step*0.99 {
		f = step / 10
	}
	return quantity.Snap(f)
}

// snap puts a value on the grid of a step.
func snap(v, step float64) float64 {
	if !(step > 0) {
		return v
	}
	return quantity.Snap(math.Round(v/step) * step)
}
