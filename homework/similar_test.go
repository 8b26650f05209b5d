package homework

import (
	"fmt"
	"strings"
	"testing"

	"steelyard/bank/banktest"
)

// What waits for the teacher is bundled where it is the same, and never where it isn't.
func TestWhatIsDecidedTogether(t *testing.T) {
	s := spring(Item{Text: footbridge})
	own := spring(Item{Text: banktest.Text(t, "lock-footbridge"), Own: true})
	list := pupils(4)
	numbers, _, err := Choose(own, list, nil)
	if err != nil {
		t.Fatal(err)
	}
	spoilt := func(i int) Answer { // the right answer under a wrong line, with the pupil's own numbers
		a, err := Ask(own.TextFor(0, list[i].ID, numbers))
		if err != nil {
			t.Fatal(err)
		}
		q := a.Question
		return Answer{Part: "b", Answer: a.Answers.Results[1].Shown, Working: fmt.Sprintf("P x 2.8 = %g x 1.1", q.Load("K").Weight.SI())}
	}
	for _, c := range []struct {
		name  string
		set   *Set
		hands []Answer // of one pupil each
		want  string   // sizes of the bundles
	}{
		{"nothing that is sure waits", s, []Answer{{Part: "a", Answer: "550 N"}, {Part: "a", Answer: "550 N"}}, ""},
		{"the same that could not be read is one decision", s, []Answer{{Part: "a", Answer: "about Half"}, {Part: "a", Answer: "about  half"}, {Part: "a", Answer: "?!"}}, "2 1"},
		{"another part is another decision", s, []Answer{{Part: "a", Answer: "?!"}, {Part: "b", Answer: "?!"}}, "1 1"},
		{"the same lines but for their numbers are one decision", s, []Answer{{Part: "a", Answer: "550 N", Working: "P x 2.8 = 280 x 3"}, {Part: "a", Answer: "550 N", Working: "2.8 P = 280*3"}, {Part: "a", Answer: "550 N", Working: "P = 3 + 4"}}, "2 1"},
		{"own numbers don't keep the same work apart", own, []Answer{spoilt(0), spoilt(1), spoilt(2)}, "3"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := NewMarker()
			var parts []Part
			for i, a := range c.hands {
				p, err := m.Mark(c.set, numbers, handIn(fmt.Sprint("h", i), list[i].ID, a), nil)
				if err != nil {
					t.Fatal(err)
				}
				parts = append(parts, p...)
			}
			var sizes, why []string
			for _, b := range Similar(parts) {
				sizes = append(sizes, fmt.Sprint(len(b.Parts)))
				why = append(why, b.Why)
				if (len(b.Parts) > 1) != (b.Why != "") {
					t.Errorf("%d together, because %q", len(b.Parts), b.Why)
				}
			}
			if got := strings.Join(sizes, " "); got != c.want {
				t.Errorf("bundles of %s, want %s; %q", got, c.want, why)
				for _, p := range parts {
					t.Log(p.Part.Part, p.Marks, p.Answer.Verdict, p.Waits(), p.Why, likely(&p.Part))
				}
			}
		})
	}
}
