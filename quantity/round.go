package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Snap returns v to 12 significant figures, so that 0.1 + 0.2 is 0.3.
func Snap(v float64) float64 {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return v + 0
	}
	s, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 11, 64), 64)
	return s
}

// RoundFigures writes v to so many significant figures, half away from zero, from the snapped
// value: 9.996 to 3 is "10.0". Zero is "0", and there is no "-0". Very large and small numbers
// are written with a power of ten ("1.20e-9").
func RoundFigures(v float64, figures int) string {
	d, ok := decimalOf(v)
	if !ok {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	figures = min(max(figures, 1), 12)
	if d.zero() {
		return "0"
	}
	d.roundTo(figures)
	if d.point < -7 || d.point > 15 {
		p := d.point - 1
		d.point = 1
		return d.text(figures-1) + "e" + strconv.Itoa(p)
	}
	return d.text(max(0, figures-d.point))
}

// RoundDecimals writes v with so many digits after the decimal point, half away from zero, from
// the snapped value; there is no "-0".
func RoundDecimals(v float64, decimals int) string {
	d, ok := decimalOf(v)
	if !ok {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	decimals = min(max(decimals, 0), 30)
	d.roundTo(d.point + decimals)
	return d.text(decimals)
}

// A decimal is 0.d₁d₂d₃… × 10^point.
type decimal struct {
	minus  bool
	digits []byte
	point  int
}

func decimalOf(v float64) (decimal, bool) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return decimal{}, false
	}
	s := strconv.FormatFloat(math.Abs(v), 'e', 11, 64) // d.ddddddddddde±dd
	e, _ := strconv.Atoi(s[strings.IndexByte(s, 'e')+1:])
	digits := append([]byte{s[0]}, s[2:13]...)
	return decimal{v < 0, digits, e + 1}, true
}

func (d decimal) zero() bool {
	for _, c := range d.digits {
		if c != '0' {
			return false
		}
	}
	return true
}

// roundTo keeps n digits.
func (d *decimal) roundTo(n int) {
	if n >= len(d.digits) {
		return
	}
	if n < 0 {
		d.digits, d.point = []byte{'0'}, 1
		return
	}
	up := d.digits[n] >= '5'
	d.digits = d.digits[:n]
	if !up {
		if n == 0 {
			d.digits, d.point = []byte{'0'}, 1
		}
		return
	}
	for i := n - 1; i >= 0; i-- {
		if d.digits[i] < '9' {
			d.digits[i]++
			return
		}
		d.digits[i] = '0'
	}
	d.digits = append([]byte{'1'}, d.digits...)
	d.point++
}

// text writes d with so many decimals, which must not be fewer than it has significant ones.
func (d decimal) text(decimals int) string {
	b := make([]byte, 0, 32)
	if d.minus && !d.zero() {
		b = append(b, '-')
	}
	at := func(i int) byte { // i-th digit before (i ≤ 0) or after the point
		if k := d.point - 1 + i; k >= 0 && k < len(d.digits) {
			return d.digits[k]
		}
		return '0'
	}
	for i := min(1-d.point, 0); i <= 0; i++ {
		b = append(b, at(i))
	}
	if decimals > 0 {
		b = append(b, '.')
		for i := 1; i <= decimals; i++ {
			b = append(b, at(i))
		}
	}
	return string(b)
}
