package mark

import (
	"os"
	"strings"
	"testing"

	"steelyard/question"
)

// F could be the normal force or the friction at F: where marks are lost, the reasons say how it was taken.
func TestHowAmbiguousNamesWereTakenIsSaid(t *testing.T) {
	text, err := os.ReadFile("../bank/painters-ladder.moments")
	if err != nil {
		t.Fatal(err)
	}
	q, err := question.Parse("painters-ladder.moments", string(text))
	if err != nil {
		t.Fatal(err)
	}
	k, err := NewKey(q, Policy{})
	if err != nil {
		t.Fatal(err)
	}
	for working, want := range map[string]bool{
		"F = 790":                        true,
		"W x 5 sin68 = 140 x 2.5 cos 68": false, // one thing can be meant
	} {
		p := k.Mark([]Hand{{Pupil: "h1", Part: "a", Answer: "70 N", Working: working}})[0]
		said := strings.Contains(strings.Join(p.Why, "\n"), "it could also be")
		if said != want {
			t.Errorf("%q: said %t, want %t: %q", working, said, want, p.Why)
		}
	}
}
