package quantity

import (
	"math"
	"math/big"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

// Half away from zero, from the snapped decimal. The published rows are roundings that books
// print; the others are the edges.
func TestRoundFigures(t *testing.T) {
	tests := []struct {
		v       float64
		figures int
		want    string
		source  string
	}{
		{46.75, 3, "46.8", "OpenStax College Physics 2e, chapter 9: 46.75 printed as 46.8"},
		{2205, 3, "2210", "OpenStax University Physics vol. 1, chapter 12: 2205 N printed as 2.21e3 N"},
		{710.5, 3, "711", "OpenStax University Physics vol. 1, chapter 12: 710.5 N printed as 711 N"},
		{2.675, 3, "2.68", "common practice, no source: school books round halves away from zero"},
		{0.125, 2, "0.13", "common practice, no source"},
		{-2.675, 3, "-2.68", ""},
		{9.996, 3, "10.0", ""},
		{99.96, 3, "100", ""},
		{0.09996, 3, "0.100", ""},
		{0.1 + 0.2, 3, "0.300", ""},
		{1.005, 3, "1.01", "the float64 is 1.00499999999999989"},
		{480, 3, "480", ""},
		{480, 2, "480", ""},
		{12345, 3, "12300", ""},
		{999999, 3, "1000000", ""},
		{1, 3, "1.00", ""},
		{0.5, 1, "0.5", ""},
		{0.05, 1, "0.05", ""},
		{0, 3, "0", ""},
		{math.Copysign(0, -1), 3, "0", ""},
		{1e-9, 3, "1.00e-9", ""},
		{1.5e20, 2, "1.5e20", ""},
		{9.999e15, 2, "1.0e16", ""},
		{539.5500000000001, 4, "539.6", ""},
	}
	for _, c := range tests {
		if got := RoundFigures(c.v, c.figures); got != c.want {
			t.Errorf("%v to %d figures is %s, want %s (%s)", c.v, c.figures, got, c.want, c.source)
		}
	}
}

func TestRoundDecimals(t *testing.T) {
	tests := []struct {
		v        float64
		decimals int
		want     string
	}{
		{2.675, 2, "2.68"}, {0.125, 2, "0.13"}, {-0.125, 2, "-0.13"}, {0.004, 2, "0.00"}, {-0.004, 2, "0.00"},
		{0.005, 2, "0.01"}, {0.0049999, 2, "0.00"}, {0.5, 0, "1"}, {0.49, 0, "0"}, {-0.5, 0, "-1"}, {-0.49, 0, "0"},
		{99.995, 2, "100.00"}, {1e-20, 3, "0.000"}, {123456.789, 1, "123456.8"}, {0, 2, "0.00"}, {9.5, 0, "10"}, {1234, 0, "1234"},
	}
	for _, c := range tests {
		if got := RoundDecimals(c.v, c.decimals); got != c.want {
			t.Errorf("%v to %d decimals is %s, want %s", c.v, c.decimals, got, c.want)
		}
	}
}

// Exact rational arithmetic (math/big, which rounds halves away from zero) agrees.
func TestRoundDecimalsAgainstRationals(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 20_000 {
		digits := 1 + r.IntN(9)
		n := r.Int64N(int64(math.Pow10(digits))) - int64(math.Pow10(digits))/2
		places, decimals := r.IntN(7), r.IntN(5)
		exact := big.NewRat(n, int64(math.Pow10(places)))
		v, _ := exact.Float64()
		want := exact.FloatString(decimals)
		if strings.Trim(want, "-0.") == "" {
			want = strings.TrimPrefix(want, "-")
		}
		if got := RoundDecimals(v, decimals); got != want {
			t.Fatalf("%s to %d decimals is %s, want %s", exact.FloatString(8), decimals, got, want)
		}
	}
}

// Figures and decimals are two ways to the same rounding.
func TestFiguresAgreeWithDecimals(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 20_000 {
		v := (r.Float64() - 0.5) * math.Pow10(r.IntN(12)-5)
		figures := 1 + r.IntN(8)
		s := RoundFigures(v, figures)
		back, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(back-v) > 0.5000001*math.Pow10(int(math.Floor(math.Log10(math.Abs(v))))+1-figures) {
			t.Fatalf("%v to %d figures is %s, which is too far off", v, figures, s)
		}
		if again := RoundFigures(back, figures); again != s {
			t.Fatalf("%s rounds again to %s", s, again)
		}
		if strings.HasPrefix(s, "-") != (back < 0) {
			t.Fatalf("%v gives %s", v, s)
		}
	}
}

func TestSnap(t *testing.T) {
	if Snap(0.1+0.2) != 0.3 || Snap(1.005) != 1.005 || Snap(0) != 0 || math.Signbit(Snap(math.Copysign(0, -1))) {
		t.Error("snapping moves decimals")
	}
	if !math.IsNaN(Snap(math.NaN())) || !math.IsInf(Snap(math.Inf(1)), 1) {
		t.Error("NaN and Inf stay what they are")
	}
}

func FuzzRound(f *testing.F) {
	f.Add(2.675, 3)
	f.Add(9.996, 3)
	f.Add(5e-324, 12)
	f.Add(math.MaxFloat64, 1)
	f.Fuzz(func(t *testing.T, v float64, n int) {
		s := RoundFigures(v, n)
		if s == "-0" || !math.IsNaN(v) && !math.IsInf(v, 0) && strings.Contains(s, "N") {
			t.Fatalf("%v to %d figures is %s", v, n, s)
		}
		if d := RoundDecimals(v, n); strings.HasPrefix(d, "-") && strings.Trim(d, "-0.") == "" {
			t.Fatalf("%v to %d decimals is %s", v, n, d)
		}
	})
}

func BenchmarkRoundFigures(b *testing.B) {
	for b.Loop() {
		RoundFigures(539.55, 3)
	}
}
