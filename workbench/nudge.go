package workbench

import (
	"math"

	"steelyard/quantity"
	"steelyard/question"
)

// nudge makes a number that is no place larger or smaller by so many steps: of 1, 2 or 5 of its decimals, about a
// twentieth of it or less. Sizes stay above nothing.
func (d *draft) nudge(thing, what string, steps int, fine bool) (Change, error) {
	v := d.q.Value(thing, what)
	if v == nil || !v.Known() {
		return Change{}, refuse(thing+" has no number of that kind", "give it one first")
	}
	own := math.Pow(10, -float64(v.Decimals))
	step := own
	for ten := own; ; ten *= 10 {
		for _, k := range []float64{1, 2, 5} {
			if k*ten <= math.Abs(v.Value)/20*(1+1e-9) {
				step = k * ten
			}
		}
		if ten > math.Abs(v.Value) {
			break
		}
	}
	if fine {
		step = math.Max(own, step/10)
	}
	x := quantity.Snap(v.Value + float64(steps)*step)
	if x <= 0 && what != "angle" {
		return Change{}, refuse("less than that is nothing", "take it away, or type another number")
	}
	si := quantity.Quantity{Value: x, Unit: v.Unit, Digits: quantity.RoundDecimals(x, v.Decimals)}.SI()
	d.put(v.Span, renumber(d.at(v.Span), v.Quantity, si))
	c, err := d.done("")
	if err != nil {
		return c, err
	}
	q, err := question.Parse("", c.Text)
	if err != nil {
		return Change{}, unread(err, "")
	}
	c.Said = thingName(q, thing) + ": " + fieldName(what) + " " + q.Value(thing, what).Quantity.Words()
	return c, nil
}
