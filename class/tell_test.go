package class

import (
	"math"
	"slices"
	"testing"
)

// A part is said to go against the others only where that is clear.
func TestWhatAPartTells(t *testing.T) {
	for _, c := range []struct {
		facility, discrimination float64
		want                     []string
	}{
		{0.6, 0.5, nil},
		{0.6, math.NaN(), nil},
		{0.6, -0.05, []string{"goes little with the rest"}},
		{0.9, -0.4, []string{"nearly everybody had it", "those who did well elsewhere did worse here: look at its wording and its marks"}},
	} {
		r := PartRow{Facility: c.facility, Discrimination: c.discrimination}
		if got := r.Tells(); !slices.Equal(got, c.want) {
			t.Errorf("facility %v, discrimination %v: %q, want %q", c.facility, c.discrimination, got, c.want)
		}
	}
}
