package mark

import (
	"strings"
	"testing"
)

func TestParsePolicy(t *testing.T) {
	p, err := ParsePolicy("# our department\nUnit needed: no\nfigures needed: YES # as in the mock\n\nbare answer: default\ntolerance: 2 %\n")
	if err != nil || p != (Policy{UnitNeeded: No, FiguresNeeded: Yes, Tolerance: 0.02}) {
		t.Errorf("%+v, %v", p, err)
	}
	again, err := ParsePolicy(p.String())
	if err != nil || again != p {
		t.Errorf("what is written is not what is read: %q, %v", p.String(), err)
	}
	for text, says := range map[string]string{
		"units: no":       `line 1: there is no rule "units"`,
		"unit needed":     "has no colon",
		"unit needed: 3":  "neither yes, no nor default",
		"tolerance: lots": "no percentage",
		"tolerance: NaN":  "no percentage",
	} {
		if _, err := ParsePolicy(text); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v", text, err)
		}
	}
	if n := len(Policy{}.InWords()); n != 5 {
		t.Errorf("%d sentences", n)
	}
}
