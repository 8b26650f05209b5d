// Package quantity reads and writes numbers with units as the trade does.
//
// A Quantity remembers how it was typed: its unit and its significant figures, trailing zeros
// included. Values are converted to SI by moving the decimal point of the text, never by
// multiplying floats, so 35 cm is exactly the float64 nearest to 0.35.
//
// Rounding is half away from zero, from the value snapped to 12 significant figures, as school
// books do (2.675 to three figures is 2.68). Writing follows the SI Brochure, 9th edition,
// chapter 5: a space before the unit (none before °), N m and never J for a moment, upright
// units, a zero before the decimal point. Strings are plain, with ordinary spaces, fit for files
// and tests; [Typeset] gives them the spaces and signs of print: a no-break space before the
// unit, a thin one between thousands of five digits or more, a true minus.
package quantity

import (
	"math"
	"strconv"
	"strings"
)

// A Dimension is what a unit measures. Moment and energy stay apart: there is no joule here.
type Dimension uint8

const (
	Number      Dimension = iota // a plain number, such as a coefficient of friction
	Length                       // SI: m
	Mass                         // SI: kg
	Force                        // SI: N
	Moment                       // SI: N m
	Angle                        // SI: rad; typed in degrees
	LineLoad                     // SI: N/m
	LineDensity                  // SI: kg/m
	AreaDensity                  // SI: kg/m²
	Field                        // SI: N/kg
)

// A Unit is a unit that people type for a dimension. The zero Unit is that of a plain number.
type Unit struct {
	Symbol    string    // as the SI Brochure writes it: "N m", "cm", "°"
	Dimension Dimension // what it measures
	Power     int       // the SI value is the typed one × 10^Power; angles convert by π/180 instead
}

// A Quantity is a number as a person wrote it.
type Quantity struct {
	Value    float64 // in Unit, not in SI
	Unit     Unit
	Figures  int    // significant figures as written, all digits from the first that is not 0 (310: 3); 0 if exact, as 0 and fractions are
	Decimals int    // digits after the decimal marker as written
	Digits   string // the number in plain decimal form ("0.60", "1500", "-4e-3"), a fraction as "3/4"; "" if it was computed
}

// Of returns the computed quantity of value v, in SI units, to be written in unit u.
func Of(v float64, u Unit) Quantity {
	return Quantity{Value: fromSI(v, u), Unit: u}
}

// SI returns the value in SI units, radians for an angle. It is the float64 nearest to what was
// typed.
func (q Quantity) SI() float64 {
	if q.Unit.Symbol == "°" {
		return q.Value * math.Pi / 180
	}
	if q.Unit.Power == 0 {
		return q.Value
	}
	if top, bottom, ok := strings.Cut(q.Digits, "/"); ok {
		a, _ := strconv.ParseFloat(top, 64)
		b, _ := strconv.ParseFloat(bottom, 64)
		return shift(a, q.Unit.Power) / b
	}
	if q.Digits == "" {
		return shift(q.Value, q.Unit.Power)
	}
	return shiftText(q.Digits, q.Unit.Power)
}

// In returns q in unit u of the same dimension, its decimal point moved and its figures kept.
// A change between degrees and radians computes a new number.
func (q Quantity) In(u Unit) Quantity {
	if q.Unit == u {
		return q
	}
	if q.Unit.Dimension == Angle || q.Digits == "" || strings.Contains(q.Digits, "/") {
		r := Of(q.SI(), u)
		r.Figures = q.Figures
		return r
	}
	d := moved(q.Digits, q.Unit.Power-u.Power)
	v, _ := strconv.ParseFloat(d, 64)
	return Quantity{Value: v, Unit: u, Figures: q.Figures, Decimals: decimals(d), Digits: d}
}

// fromSI returns the SI value v in unit u.
func fromSI(v float64, u Unit) float64 {
	if u.Symbol == "°" {
		return v * 180 / math.Pi
	}
	return shift(v, -u.Power)
}

// shift returns v × 10^power, by moving the decimal point of the shortest decimal form of v.
func shift(v float64, power int) float64 {
	if power == 0 || v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return v
	}
	return shiftText(strconv.FormatFloat(v, 'e', -1, 64), power)
}

func shiftText(digits string, power int) float64 {
	if i := strings.IndexByte(digits, 'e'); i >= 0 {
		e, _ := strconv.Atoi(digits[i+1:])
		digits, power = digits[:i], power+e
	}
	var b [48]byte
	t := append(append(b[:0], digits...), 'e')
	t = strconv.AppendInt(t, int64(power), 10)
	v, _ := strconv.ParseFloat(string(t), 64)
	return v
}

// moved returns the plain decimal text with its point moved by power places to the right.
func moved(digits string, power int) string {
	if i := strings.IndexByte(digits, 'e'); i >= 0 {
		e, _ := strconv.Atoi(digits[i+1:])
		digits, power = digits[:i], power+e
	}
	minus := ""
	if rest, ok := strings.CutPrefix(digits, "-"); ok {
		minus, digits = "-", rest
	}
	whole, part, _ := strings.Cut(digits, ".")
	all, point := whole+part, len(whole)+power
	if point > 40 || point < -40 {
		return minus + digits + "e" + strconv.Itoa(power)
	}
	if point <= 0 {
		all, point = strings.Repeat("0", 1-point)+all, 1
	}
	if point > len(all) {
		all += strings.Repeat("0", point-len(all))
	}
	whole, part = all[:point], all[point:]
	for len(whole) > 1 && whole[0] == '0' {
		whole = whole[1:]
	}
	if part == "" {
		return minus + whole
	}
	return minus + whole + "." + part
}

func decimals(digits string) int {
	digits, _, _ = strings.Cut(digits, "e")
	_, part, _ := strings.Cut(digits, ".")
	return len(part)
}
