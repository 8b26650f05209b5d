package trial

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
)

// A Number is a number of an arrangement that can be changed little by little.
type Number struct {
	Thing, Attribute string
	Words            string  // "the place of K"
	Now, Low, High   float64 // SI, and how far it can sensibly be changed
	Unit             quantity.Unit
}

// Numbers lists what can be changed: places and sizes of loads first, then places of supports, angles, weights.
func Numbers(a *answer.Answers) []Number {
	q := Settled(a)
	var list []Number
	for _, attribute := range []string{"at", "weight", "mass", "size", "angle", "coefficient"} {
		for _, loads := range []bool{true, false} {
			for _, n := range q.Numbers() {
				if n.Attribute != attribute || (q.Load(n.Thing) != nil) != loads || q.Point(n.Thing) != nil {
					continue
				}
				if x, ok := number(q, n.Thing, n.Attribute); ok {
					list = append(list, x)
				}
			}
		}
	}
	return list
}

// NumberOf finds a number of an arrangement. The error says that there is no such number.
func NumberOf(a *answer.Answers, thing, attribute string) (Number, error) {
	for _, n := range Numbers(a) {
		if n.Thing == thing && n.Attribute == attribute {
			return n, nil
		}
	}
	return Number{}, fmt.Errorf("there is no %s of %s that could be changed", attribute, thing)
}

func number(q *question.Question, thing, attribute string) (Number, bool) {
	v := q.Value(thing, attribute)
	if v == nil || !v.Known() || q.Piece(thing) != nil {
		return Number{}, false
	}
	x := Number{Thing: thing, Attribute: attribute, Words: Words(q, thing, attribute), Now: v.SI(), Unit: v.Unit}
	switch attribute {
	case "at":
		on := ""
		if s := q.Support(thing); s != nil {
			on = s.On.Body
		} else if d := q.Load(thing); d != nil {
			on = d.On.Body
		}
		b := q.Body(on)
		if b == nil || !b.Length.Known() {
			return x, false
		}
		x.High = b.Length.SI()
	case "angle":
		const quarter, edge = math.Pi / 2, 5 * math.Pi / 180 // it keeps to its quarter turn, where the drawing stays of a kind
		start := quarter * math.Floor(x.Now/quarter)
		x.Low, x.High = start+edge, start+quarter-edge
	case "coefficient":
		x.High = max(1, 1.5*x.Now)
	default:
		x.High = nice(2.5 * math.Abs(x.Now))
	}
	x.Low, x.High = min(x.Low, x.Now), max(x.High, x.Now)
	return x, x.High > x.Low
}

// nice is a round number not below v.
func nice(v float64) float64 {
	if !(v > 0) {
		return 1
	}
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, k := range []float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10} {
		if k*p >= v*(1-1e-9) {
			return k * p
		}
	}
	return v
}

// Put writes another value, SI, for a number of a question. The error says that there is no such number.
func Put(q *question.Question, thing, attribute string, to float64) error {
	v := q.Value(thing, attribute)
	if v == nil || math.IsNaN(to) || math.IsInf(to, 0) {
		return fmt.Errorf("there is no %s of %s that could be changed", attribute, thing)
	}
	unit := v.Unit
	if !v.Known() {
		return fmt.Errorf("the %s of %s is not given", attribute, thing)
	}
	v.Quantity = computed(to, unit)
	return nil
}

// computed is a quantity that was worked out, SI: exact, and written to four figures where it has more.
func computed(si float64, unit quantity.Unit) quantity.Quantity {
	q := quantity.Of(si, unit)
	q.Value = quantity.Snap(q.Value) // degrees come out of radians with dust
	if digits := strings.Trim(strconv.FormatFloat(math.Abs(q.Value), 'e', -1, 64), "0"); strings.IndexByte(digits, 'e') > len("1.234") {
		q.Figures = 4
	}
	return q
}

// Words says what a number is: "the place of K".
func Words(q *question.Question, thing, attribute string) string {
	noun := attribute
	switch attribute {
	case "at":
		noun = "place"
	case "coefficient":
		noun = "coefficient of friction"
	}
	return "the " + noun + " of " + thing
}

// written is a value in the unit that the question writes it in.
func written(q *question.Question, thing, attribute string, si float64) string {
	unit := quantity.Unit{}
	if v := q.Value(thing, attribute); v != nil {
		unit = v.Unit
	}
	return Written(si, unit)
}

// Written is a value in a unit, to three figures.
func Written(si float64, unit quantity.Unit) string {
	return quantity.Typeset(quantity.Format(si, unit, 3))
}
