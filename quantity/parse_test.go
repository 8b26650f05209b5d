package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
)

func unit(t testing.TB, symbol string) Unit {
	t.Helper()
	u, ok := UnitNamed(symbol)
	if !ok {
		t.Fatalf("no unit %q", symbol)
	}
	return u
}

// What people type, and what it means.
func TestParse(t *testing.T) {
	tests := []struct {
		text    string
		want    Dimension
		bare    string
		string  string
		si      float64
		figures int
		decs    int
	}{
		{"0.60 m", Length, "", "0.60 m", 0.6, 2, 2},
		{"60cm", Length, "", "60 cm", 0.6, 2, 0},
		{"35 cm", Length, "", "35 cm", 0.35, 2, 0},
		{"1 500 N", Force, "", "1500 N", 1500, 4, 0},
		{"1,500 N", Force, "", "1500 N", 1500, 4, 0},
		{"1\u2009500 N", Force, "", "1500 N", 1500, 4, 0},
		{"1\u202f500\u00a0N", Force, "", "1500 N", 1500, 4, 0},
		{"12 345 678 N", Force, "", "12345678 N", 12345678, 8, 0},
		{"1.5 kN", Force, "", "1.5 kN", 1500, 2, 1},
		{"1.5e3 N", Force, "", "1.5e3 N", 1500, 2, 1},
		{"1.5E+3 N", Force, "", "1.5e3 N", 1500, 2, 1},
		{"1.5x10^3 N", Force, "", "1.5e3 N", 1500, 2, 1},
		{"1.5 × 10^3 N", Force, "", "1.5e3 N", 1500, 2, 1},
		{"1.5 × 10³ N", Force, "", "1.5e3 N", 1500, 2, 1},
		{"1.5*10^-3 kN", Force, "", "1.5e-3 kN", 1.5, 2, 1},
		{"8 N m", Moment, "", "8 N m", 8, 1, 0},
		{"8 Nm", Moment, "", "8 N m", 8, 1, 0},
		{"8 N·m", Moment, "", "8 N m", 8, 1, 0},
		{"8 N*m", Moment, "", "8 N m", 8, 1, 0},
		{"8 N.m", Moment, "", "8 N m", 8, 1, 0},
		{"8 m N", Moment, "", "8 N m", 8, 1, 0},
		{"8 newton metres", Moment, "", "8 N m", 8, 1, 0},
		{"250 N cm", Moment, "", "250 N cm", 2.5, 3, 0},
		{"250 Nmm", Moment, "", "250 N mm", 0.25, 3, 0},
		{"2.5 kNm", Moment, "", "2.5 kN m", 2500, 2, 1},
		{"5 mN", Force, "", "5 mN", 0.005, 1, 0},
		{"3 MN", Force, "", "3 MN", 3e6, 1, 0},
		{"12N", Force, "", "12 N", 12, 2, 0},
		{"12 n", Force, "", "12 N", 12, 2, 0},
		{"9.81 N/kg", Field, "", "9.81 N/kg", 9.81, 3, 2},
		{"9.81 N kg^-1", Field, "", "9.81 N/kg", 9.81, 3, 2},
		{"1.5 x 10⁻³ N", Force, "", "1.5e-3 N", 0.0015, 2, 1},
		{"9.81 N kg⁻¹", Field, "", "9.81 N/kg", 9.81, 3, 2},
		{"9.81 m/s^2", Field, "", "9.81 m/s²", 9.81, 3, 2},
		{"9.81 m/s2", Field, "", "9.81 m/s²", 9.81, 3, 2},
		{"62°", Angle, "", "62°", 62 * math.Pi / 180, 2, 0},
		{"62 deg", Angle, "", "62°", 62 * math.Pi / 180, 2, 0},
		{"1.2 rad", Angle, "", "1.2 rad", 1.2, 2, 1},
		{"3/4 m", Length, "", "3/4 m", 0.75, 0, 0},
		{"3/4 cm", Length, "", "3/4 cm", 0.0075, 0, 0},
		{"1/3 m", Length, "", "1/3 m", 1.0 / 3, 0, 0},
		{"12,5 N", Force, "", "12.5 N", 12.5, 3, 1},
		{"1,250 N", Force, "", "1250 N", 1250, 4, 0},
		{"0,125 N", Force, "", "0.125 N", 0.125, 3, 3},
		{"1,500.5 N", Force, "", "1500.5 N", 1500.5, 5, 1},
		{"1.500,5 N", Force, "", "1500.5 N", 1500.5, 5, 1},
		{"1,234,567 N", Force, "", "1234567 N", 1234567, 7, 0},
		{"−4.0 N", Force, "", "-4.0 N", -4, 2, 1},
		{"-4 N", Force, "", "-4 N", -4, 1, 0},
		{"+4 N", Force, "", "4 N", 4, 1, 0},
		{".5 m", Length, "", "0.5 m", 0.5, 1, 1},
		{"007 N", Force, "", "7 N", 7, 1, 0},
		{"0 m", Length, "", "0 m", 0, 0, 0},
		{"-0.00 m", Length, "", "0.00 m", 0, 0, 2},
		{"540", Force, "N", "540 N", 540, 3, 0},
		{"54", Length, "cm", "54 cm", 0.54, 2, 0},
		{"0.40", Number, "", "0.40", 0.4, 2, 2},
		{"120 N/m", LineLoad, "", "120 N/m", 120, 3, 0},
		{"2.5 N/cm", LineLoad, "", "2.5 N/cm", 250, 2, 1},
		{"12 g/cm", LineDensity, "", "12 g/cm", 1.2, 2, 0},
		{"12 kg/m^2", AreaDensity, "", "12 kg/m²", 12, 2, 0},
		{"0.7 g/cm²", AreaDensity, "", "0.7 g/cm²", 7, 1, 1},
		{"2 t", Mass, "", "2 t", 2000, 1, 0},
		{"250 g", Mass, "", "250 g", 0.25, 3, 0},
		{"  7 kg. ", Mass, "", "7 kg", 7, 1, 0},
	}
	for _, c := range tests {
		t.Run(c.text, func(t *testing.T) {
			var bare Unit
			if c.bare != "" {
				bare = unit(t, c.bare)
			}
			q, err := Parse(c.text, c.want, bare)
			if err != nil {
				t.Fatal(err)
			}
			if q.String() != c.string || q.SI() != c.si || q.Figures != c.figures || q.Decimals != c.decs {
				t.Errorf("read as %s, %v in SI, %d figures, %d decimals; want %s, %v, %d, %d", q, q.SI(), q.Figures, q.Decimals, c.string, c.si, c.figures, c.decs)
			}
		})
	}
}

// What is refused, and the sentence that says why.
func TestRefusals(t *testing.T) {
	tests := []struct {
		text string
		want Dimension
		says string
	}{
		{"0.60 m", Force, "0.60 m is a length; expected a force, such as 540 N"},
		{"8 N m", Force, "8 N m is a moment; expected a force, such as 540 N"},
		{"8 J", Moment, "J measures energy; write a moment in N m, such as 8 N m"},
		{"55", Length, "55 has no unit; expected a length, such as 0.60 m"},
		{"540 lbs", Force, `"lbs" is no unit of force; expected N, kN, mN, MN, such as 540 N`},
		{"8 nm", Moment, `"nm" is no unit of moment; expected N m, N cm, N mm, kN m, MN m, mN m, such as 8 N m`},
		{"0.40 N", Number, "0.40 N is a force; expected a plain number, such as 0.40"},
		{"0.40 foo", Number, `"foo" after a plain number; expected a number without a unit, such as 0.40`},
		{"", Force, "a quantity is missing; expected a force, such as 540 N"},
		{"N", Force, `"N" is no number; expected a force, such as 540 N`},
		{"NaN N", Force, `"NaN" is no number; expected a force, such as 540 N`},
		{"Inf N", Force, `"Inf" is no number; expected a force, such as 540 N`},
		{"1e400 N", Force, "this power of ten is too large; expected a force, such as 540 N"},
		{"1e1000000 N", Force, "this power of ten is too large; expected a force, such as 540 N"},
		{"1x10^99999999999 N", Force, "this power of ten is too large; expected a force, such as 540 N"},
		{strings.Repeat("9", 70) + " N", Force, "this number has too many digits; expected a force, such as 540 N"},
		{strings.Repeat("9", 700) + " N", Force, "this is too long for a quantity; expected a force, such as 540 N"},
		{"1.2.3 N", Force, "a number has one decimal point; expected a force, such as 540 N"},
		{"1 50 N", Force, "digits are grouped in threes (1 500); expected a force, such as 540 N"},
		{"12,34,567 N", Force, "digits are grouped in threes (1 500); expected a force, such as 540 N"},
		{"3/0 m", Length, "a fraction over 0 has no value; expected a length, such as 0.60 m"},
		{"\xff N", Force, "this holds bytes that are no text; expected a force, such as 540 N"},
	}
	for _, c := range tests {
		_, err := Parse(c.text, c.want, Unit{})
		if err == nil || err.Error() != c.says {
			t.Errorf("%.20q: %v\nwant %s", c.text, err, c.says)
		}
	}
}

// Moving the decimal point gives the float64 nearest to the decimal number, which multiplying by
// 0.01 does not: 35 × 0.01 is 0.35000000000000003.
func TestSIIsTheNearestFloat(t *testing.T) {
	for n := 0; n < 100_000; n += 7 {
		q, err := Parse(fmt.Sprintf("%d.%d cm", n/10, n%10), Length, Unit{})
		if err != nil {
			t.Fatal(err)
		}
		want, err := strconv.ParseFloat(fmt.Sprintf("%d.%03d", n/1000, n%1000), 64)
		if err != nil {
			t.Fatal(err)
		}
		if q.SI() != want {
			t.Fatalf("%v is %v in SI, want %v", q, q.SI(), want)
		}
	}
}

func TestIn(t *testing.T) {
	tests := []struct{ text, unit, want string }{
		{"0.60 m", "cm", "60 cm"},
		{"60 cm", "m", "0.60 m"},
		{"1500 N", "kN", "1.500 kN"},
		{"1.5 kN", "N", "1500 N"},
		{"-2.5e-3 kN", "N", "-2.5 N"},
		{"5 mm", "km", "0.000005 km"},
		{"0 m", "cm", "0 cm"},
	}
	for _, c := range tests {
		u := unit(t, c.unit)
		q, err := Parse(c.text, u.Dimension, Unit{})
		if err != nil {
			t.Fatal(err)
		}
		got := q.In(u)
		if got.String() != c.want || got.SI() != q.SI() || got.Figures != q.Figures {
			t.Errorf("%s in %s is %s (%v, %d figures), want %s", c.text, c.unit, got, got.SI(), got.Figures, c.want)
		}
	}
}

// Each unit is found by its symbol, closed up and in words.
func TestUnitsAreFound(t *testing.T) {
	for _, r := range unitTable {
		for _, s := range append([]string{r.Symbol, strings.ReplaceAll(r.Symbol, " ", ""), strings.ReplaceAll(r.Symbol, " ", "·")}, r.typed...) {
			if u, ok := UnitNamed(s); !ok || u != r.Unit {
				t.Errorf("%q is read as %v", s, u)
			}
		}
		if r.one == "" || r.many == "" {
			t.Errorf("%s cannot be said", r.Symbol)
		}
	}
	for _, s := range []string{"", "J", "nm", "µkg", "N/kg/m", "Newt"} {
		if u, ok := UnitNamed(s); ok {
			t.Errorf("%q was read as %v", s, u)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"0.60 m", "12,5 Nm", "1.2e3 N m", "−4N", "1 500 N", "3/4 m", "1.5x10^3 N", "62°", "9.81 m/s²", "1,234.5 kg", "0,1", "-", "1e", "1/", "١ N"} {
		f.Add(s, uint8(Force))
		f.Add(s, uint8(Length))
	}
	f.Fuzz(func(t *testing.T, s string, d uint8) {
		want := Dimension(d % 10)
		q, err := Parse(s, want, SIUnit(want))
		if err != nil {
			return
		}
		if math.IsNaN(q.SI()) || math.IsInf(q.SI(), 0) {
			t.Fatalf("%q is %v", s, q.SI())
		}
		again, err := Parse(q.String(), want, Unit{})
		if err != nil || again != q {
			t.Fatalf("%q was read as %+v, written as %q and read as %+v (%v)", s, q, q, again, err)
		}
		_ = Typeset(q.String())
	})
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, err := Parse("0.60 m", Length, Unit{}); err != nil {
			b.Fatal(err)
		}
	}
}

func ExampleParse() {
	q, _ := Parse("1,5 kN", Force, Unit{})
	fmt.Println(q, q.SI(), q.Figures)
	_, err := Parse("0.60 m", Force, Unit{})
	fmt.Println(err)
	// Output:
	// 1.5 kN 1500 2
	// 0.60 m is a length; expected a force, such as 540 N
}
