package pdf

import (
	"math/rand/v2"
	"strconv"
	"testing"
)

// A number written and read back is the number, to half of the last place; there are no idle zeros.
func TestNumbersComeBack(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 20000 {
		v := (r.Float64() - 0.5) * 2000
		if r.IntN(3) == 0 {
			v = float64(int(v))
		}
		for decimals := range 6 {
			s := string(appendNumber(nil, v, decimals))
			back, err := strconv.ParseFloat(s, 64)
			half := 0.5
			for range decimals {
				half /= 10
			}
			if err != nil || back-v > half+1e-9 || v-back > half+1e-9 {
				t.Fatalf("%g with %d decimals is written %q", v, decimals, s)
			}
		}
	}
	for v, want := range map[float64]string{0: "0", -0.001: "0", 0.5: ".5", -12.5: "-12.5", 3: "3", 7.999: "8", 1.05: "1.05", 841.89: "841.89"} {
		if got := string(appendNumber(nil, v, 2)); got != want {
			t.Errorf("%g is written %q, want %q", v, got, want)
		}
	}
}

func TestStrings(t *testing.T) {
	for text, want := range map[string]string{"plain (a)": `(plain \(a\))`, `\`: `(\\)`, "½": "<FEFF00BD>", "": "()"} {
		if got := string(appendString(nil, text)); got != want {
			t.Errorf("%q is written %s, want %s", text, got, want)
		}
	}
}
