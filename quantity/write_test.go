package quantity

import (
	"math"
	"strings"
	"testing"
)

// The forms of the SI Brochure, 9th edition (v3.01, 2024), chapter 5: 5.4.3 a space before the
// unit but none before °, 5.4.4 thin spaces between thousands, 5.2 a space in N m, N m and never J.
func TestFormat(t *testing.T) {
	tests := []struct {
		v       float64
		unit    string
		figures int
		plain   string
		typeset string
	}{
		{480, "N", 3, "480 N", "480\u00a0N"},
		{0.6, "cm", 2, "60 cm", "60\u00a0cm"},
		{62 * math.Pi / 180, "°", 3, "62.0°", "62.0°"},
		{24.95 * math.Pi / 180, "°", 3, "25.0°", "25.0°"},
		{12500, "N", 3, "12500 N", "12\u202f500\u00a0N"},
		{1250, "N", 3, "1250 N", "1250\u00a0N"},
		{1250, "kN", 3, "1.25 kN", "1.25\u00a0kN"},
		{-4, "N m", 2, "-4.0 N m", "−4.0\u00a0N\u00a0m"},
		{1e-9, "N", 2, "1.0e-9 N", "1.0\u00a0×\u00a010⁻⁹\u00a0N"},
		{9.81, "N/kg", 3, "9.81 N/kg", "9.81\u00a0N/kg"},
		{0.005, "mN", 1, "5 mN", "5\u00a0mN"},
		{-1e-13, "N", 3, "-1.00e-13 N", "−1.00\u00a0×\u00a010⁻¹³\u00a0N"},
		{math.Copysign(0, -1), "N", 3, "0 N", "0\u00a0N"},
	}
	for _, c := range tests {
		got := Format(c.v, unit(t, c.unit), c.figures)
		if got != c.plain || Typeset(got) != c.typeset {
			t.Errorf("%v is %q, in print %q; want %q, %q", c.v, got, Typeset(got), c.plain, c.typeset)
		}
		if strings.ContainsAny(got, "J") {
			t.Errorf("%q: a moment is never in joules", got)
		}
	}
	if got := FormatDecimals(0.99, unit(t, "m"), 2); got != "0.99 m" {
		t.Errorf("0.99 m is %q", got)
	}
}

func TestTypesetLeavesWordsAlone(t *testing.T) {
	tests := []struct{ plain, want string }{
		{"A plank 4.80 m long rests on P2 and Q.", "A plank 4.80\u00a0m long rests on P2 and Q."},
		{"level 14-16", "level 14-16"},
		{"It weighs 310 N. Next", "It weighs 310\u00a0N. Next"},
		{"3 men stand", "3 men stand"},
		{"a couple of 8 N m acts", "a couple of 8\u00a0N\u00a0m acts"},
		{"8 N moves", "8\u00a0N moves"},
		{"from 8 N to 12 N", "from 8\u00a0N to 12\u00a0N"},
		{"80 N/m", "80\u00a0N/m"},
		{"12 kg/m²,", "12\u00a0kg/m²,"},
	}
	for _, c := range tests {
		if got := Typeset(c.plain); got != c.want {
			t.Errorf("%q became %q, want %q", c.plain, got, c.want)
		}
		if got := Plain(Typeset(c.plain)); got != c.plain {
			t.Errorf("%q came back as %q", c.plain, got)
		}
	}
}

func TestWords(t *testing.T) {
	tests := []struct {
		text string
		want Dimension
		says string
	}{
		{"480 N", Force, "480 newtons"}, {"1 N", Force, "1 newton"}, {"1.4 m", Length, "1.4 metres"},
		{"8 N m", Moment, "8 newton metres"}, {"9.81 N/kg", Field, "9.81 newtons per kilogram"},
		{"-4 N", Force, "minus 4 newtons"}, {"62°", Angle, "62 degrees"}, {"0.40", Number, "0.40"},
	}
	for _, c := range tests {
		q, err := Parse(c.text, c.want, Unit{})
		if err != nil || q.Words() != c.says {
			t.Errorf("%s is said as %q, want %q (%v)", c.text, q.Words(), c.says, err)
		}
	}
}

// A computed quantity is written as short as it can be, or to its figures.
func TestOf(t *testing.T) {
	q := Of(0.1+0.2, unit(t, "cm"))
	if q.String() != "30 cm" {
		t.Errorf("0.3 m is %s", q)
	}
	q.Figures = 3
	if q.String() != "30.0 cm" {
		t.Errorf("0.3 m to 3 figures is %s", q)
	}
}
