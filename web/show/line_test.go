package show

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"steelyard/formula"
)

// A long fraction has the terms of its sums one under the other, a short one is as the formula room writes it; both are
// well formed.
func TestLongFractionsAreStacked(t *testing.T) {
	kg := func(v string) formula.Node { return formula.Times(formula.Given(v, "kg"), formula.Given("0.40", "m")) }
	x := formula.Symbol("x", "", "the distance", 1)
	short := formula.Equal(x, formula.Frac(formula.Add(kg("2.4"), formula.Given("1", "kg m")), formula.Given("6.0", "kg")))
	wide := formula.Equal(x, formula.Frac(formula.Add(kg("2.4"), formula.Minus(kg("3.6")), kg("0.50")), formula.Add(formula.Given("2.4", "kg"), formula.Given("3.6", "kg"))), formula.Given("0.21", "m"))
	if long(short) || !long(wide) {
		t.Errorf("long: %v and %v", long(short), long(wide))
	}
	for name, n := range map[string]formula.Node{"short": short, "wide": wide} {
		all := strings.Join(mathematics(n), "")
		rows := strings.Count(all, "<mtr>")
		if want := map[string]int{"short": 0, "wide": 3}[name]; rows != want {
			t.Errorf("%s: %d rows, not %d: %s", name, rows, want, all)
		}
		for _, p := range mathematics(n) {
			d := xml.NewDecoder(strings.NewReader(p))
			for {
				if _, err := d.Token(); err == io.EOF {
					break
				} else if err != nil {
					t.Fatalf("%s: %v in %s", name, err, p)
				}
			}
		}
	}
	if all := strings.Join(mathematics(wide), ""); strings.Count(all, ">=</mo>") != 2 || !strings.Contains(all, "−") {
		t.Errorf("a relation or a sign is lost: %s", all)
	}
}
