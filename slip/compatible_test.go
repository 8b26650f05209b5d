package slip

import "testing"

// Two slips go together if one pupil could make both: two loads misread, but not one load twice; not with a slip that takes
// the place of the whole method, nor with another that changes every distance.
func TestCompatible(t *testing.T) {
	named := func(name string, of int) *Case {
		s := Named(name)
		if s == nil {
			t.Fatalf("no slip is called %s", name)
		}
		return &Case{Slip: *s, of: of}
	}
	for _, test := range []struct {
		a, b *Case
		want bool
	}{
		{named("turned-the-wrong-way", 1), named("one-from-the-end", 2), true},
		{named("turned-the-wrong-way", 1), named("stopped-at-the-moment", -1), true},
		{named("turned-the-wrong-way", 1), named("one-from-the-end", 1), false},
		{named("turned-the-wrong-way", 1), named("turned-the-wrong-way", 2), false},
		{named("equal-shares", -1), named("turned-the-wrong-way", 1), false},
		{named("all-from-the-end", -1), named("one-from-the-end", 1), false},
	} {
		if got := Compatible(test.a, test.b); got != test.want || got != Compatible(test.b, test.a) {
			t.Errorf("%s (%d) and %s (%d): got %t", test.a.Slip.Name, test.a.of, test.b.Slip.Name, test.b.of, got)
		}
	}
}
