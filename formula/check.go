package formula

import (
	"fmt"
	"math"
	"strings"
)

// Eval computes n from its printed numbers, in SI units; symbols count with their values. A chain of
// equalities has the value of its last side. It is NaN where something has no value.
func Eval(n Node) float64 {
	switch n.Op {
	case Sym, Num:
		return n.Value
	case Sum:
		total := 0.0
		for _, a := range n.Args {
			total += Eval(a)
		}
		return total
	case Product:
		product := 1.0
		for _, a := range n.Args {
			product *= Eval(a)
		}
		return product
	case Over:
		return Eval(n.Args[0]) / Eval(n.Args[1])
	case Neg:
		return -Eval(n.Args[0])
	case Power:
		return math.Pow(Eval(n.Args[0]), Eval(n.Args[1]))
	case Root:
		return math.Sqrt(Eval(n.Args[0]))
	case Func:
		return apply(n.Text, Eval(n.Args[0]))
	case Group:
		return Eval(n.Args[0])
	case Equals:
		return Eval(n.Args[len(n.Args)-1])
	}
	return math.NaN()
}

func apply(function string, x float64) float64 {
	switch function {
	case "sin":
		return math.Sin(x)
	case "cos":
		return math.Cos(x)
	case "tan":
		return math.Tan(x)
	case "sin⁻¹":
		return math.Asin(x)
	case "cos⁻¹":
		return math.Acos(x)
	case "tan⁻¹":
		return math.Atan(x)
	}
	return math.NaN()
}

// Check returns an error where a printed relation in n is false at the digits that are printed: each
// rounded number may be half a unit of its last digit out, data are exact. A relation with a side
// that has no value (words, a gap, a symbol that isn't known) can't be false.
func Check(n Node) error {
	for _, a := range n.Args {
		if err := Check(a); err != nil {
			return err
		}
	}
	if n.Op != Equals {
		return nil
	}
	for i := 1; i < len(n.Args); i++ {
		left, right := bounds(n.Args[i-1]), bounds(n.Args[i])
		if left.unknown() || right.unknown() {
			continue
		}
		size := max(magnitude(n.Args[i-1]), magnitude(n.Args[i]))
		if !holds(n.Text, left, right, size) {
			return fmt.Errorf("%s %s %s is not true at the digits printed: %g to %g against %g to %g",
				Text(n.Args[i-1]), n.Text, Text(n.Args[i]), left.low, left.high, right.low, right.high)
		}
	}
	return nil
}

// an interval holds every value that a printed expression could have been rounded from.
type interval struct{ low, high float64 }

func (v interval) unknown() bool { return math.IsNaN(v.low) || math.IsNaN(v.high) }

func holds(sign string, left, right interval, size float64) bool {
	slack := 1e-8 * size
	switch sign {
	case "≤", "<":
		return left.low <= right.high+slack
	case "≥", ">":
		return left.high >= right.low-slack
	case "≈":
		slack += 0.01 * max(math.Abs(left.high), math.Abs(right.high))
	case "≠":
		return left.high < right.low || right.high < left.low || left != right
	}
	return left.low <= right.high+slack && right.low <= left.high+slack
}

// magnitude is the size of the terms that make up n: what the dust of its sum is to be compared with.
func magnitude(n Node) float64 {
	switch n.Op {
	case Sum:
		total := 0.0
		for _, a := range n.Args {
			total += magnitude(a)
		}
		return total
	case Product:
		product := 1.0
		for _, a := range n.Args {
			product *= magnitude(a)
		}
		return product
	case Neg, Group:
		return magnitude(n.Args[0])
	case Over:
		return magnitude(n.Args[0]) / math.Abs(Eval(n.Args[1]))
	}
	return math.Abs(Eval(n))
}

func bounds(n Node) interval {
	switch n.Op {
	case Sym:
		return interval{n.Value, n.Value}
	case Num:
		if n.Exact {
			return interval{n.Value, n.Value}
		}
		half := halfUnit(n.Text) * scale(n.Unit)
		return interval{n.Value - half, n.Value + half}
	case Sum:
		var total interval
		for _, a := range n.Args {
			b := bounds(a)
			total.low += b.low
			total.high += b.high
		}
		return total
	case Product:
		product := interval{1, 1}
		for _, a := range n.Args {
			product = times(product, bounds(a))
		}
		return product
	case Over:
		below := bounds(n.Args[1])
		if below.low <= 0 && below.high >= 0 {
			return interval{math.NaN(), math.NaN()}
		}
		return times(bounds(n.Args[0]), interval{1 / below.high, 1 / below.low})
	case Neg:
		b := bounds(n.Args[0])
		return interval{-b.high, -b.low}
	case Power:
		if Eval(n.Args[1]) == 2 {
			b := bounds(n.Args[0])
			square := times(b, b)
			if b.low <= 0 && b.high >= 0 {
				square.low = 0
			}
			return square
		}
		v := Eval(n)
		return interval{v, v}
	case Root:
		b := bounds(n.Args[0])
		return interval{math.Sqrt(max(0, b.low)), math.Sqrt(b.high)}
	case Func:
		b := bounds(n.Args[0])
		low, high := apply(n.Text, b.low), apply(n.Text, b.high)
		out := interval{min(low, high), max(low, high)}
		// A turning point of sin or cos inside the interval is its greatest value.
		if n.Text == "sin" && b.low < math.Pi/2 && b.high > math.Pi/2 || n.Text == "cos" && b.low < 0 && b.high > 0 {
			out.high = 1
		}
		return out
	case Group:
		return bounds(n.Args[0])
	case Equals: // inside another relation: its sides are equal, so the first that is known will do
		for _, a := range n.Args {
			if b := bounds(a); !b.unknown() {
				return b
			}
		}
	}
	return interval{math.NaN(), math.NaN()}
}

func times(a, b interval) interval {
	w, x, y, z := a.low*b.low, a.low*b.high, a.high*b.low, a.high*b.high
	return interval{min(w, x, y, z), max(w, x, y, z)}
}

// halfUnit is half a unit of the last digit printed.
func halfUnit(digits string) float64 {
	digits = plain(digits)
	power := 0
	if mantissa, exponent, ok := strings.Cut(digits, "e"); ok {
		digits = mantissa
		for _, c := range strings.TrimLeft(exponent, "+-") {
			power = 10*power + int(c-'0')
		}
		if strings.HasPrefix(exponent, "-") {
			power = -power
		}
	}
	if _, decimals, ok := strings.Cut(digits, "."); ok {
		power -= len(decimals)
	} else if whole := strings.TrimRight(digits, "0"); power == 0 && whole != "" && whole != "-" {
		// A whole number may have been rounded to its last digit that isn't 0, so 1200 stands for 1150 to 1250.
		power = len(digits) - len(whole)
	}
	return 0.5 * math.Pow10(power)
}
