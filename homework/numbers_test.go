package homework

import (
	"slices"
	"testing"

	"steelyard/bank/banktest"
)

func TestOwnNumbersStayWhenAPupilJoins(t *testing.T) {
	s := spring(Item{Text: banktest.Text(t, "lock-footbridge"), Own: true}, Item{Text: footbridge}, Item{Text: banktest.Text(t, "mooring-plank"), Own: true})
	list := pupils(8)
	first, _, err := Choose(s, list[:7], nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(first) != 14 {
		t.Fatalf("%d numbers for 7 pupils and 2 questions", len(first))
	}
	again, _, err := Choose(s, list[:7], nil)
	if err != nil || !slices.Equal(first, again) {
		t.Errorf("the same set and class have other numbers (%v)", err)
	}
	for name, class := range map[string][]Pupil{"last": list, "in the middle": slices.Concat(list[:3], list[7:], list[3:7])} {
		more, _, err := Choose(s, class, first)
		if err != nil {
			t.Fatal(err)
		}
		if len(more) != 2 || more[0].Pupil != "p008" || more[1].Pupil != "p008" || more[0].Item != 0 || more[1].Item != 2 {
			t.Errorf("a pupil who joins %s gets %v", name, more)
		}
		for _, n := range more {
			if slices.ContainsFunc(first, func(o Numbers) bool { return o.Item == n.Item && o.Text == n.Text }) {
				t.Errorf("a pupil who joins %s has somebody's numbers", name)
			}
		}
	}
	// All together get what they got one after another.
	all, _, err := Choose(s, list, nil)
	if err != nil {
		t.Fatal(err)
	}
	later, _, err := Choose(s, list, first)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range slices.Concat(first, later) {
		if !slices.Contains(all, n) {
			t.Errorf("%s, question %d: other numbers than if all had been there from the start", n.Pupil, n.Item+1)
		}
	}
	if none, _, err := Choose(s, list, all); err != nil || len(none) != 0 {
		t.Errorf("nobody joins, and %d numbers are new (%v)", len(none), err)
	}
}

func TestWhoHasLeftGetsNoNumbers(t *testing.T) {
	s := spring(Item{Text: banktest.Text(t, "mooring-plank"), Own: true})
	list := pupils(4)
	list[1].Left = at(1, 8)
	got, _, err := Choose(s, list, nil)
	if err != nil || len(got) != 3 || slices.ContainsFunc(got, func(n Numbers) bool { return n.Pupil == "p002" }) {
		t.Errorf("%v, %v", got, err)
	}
	s.For = []string{"p003"}
	if got, _, err = Choose(s, list, nil); err != nil || len(got) != 1 || got[0].Pupil != "p003" {
		t.Errorf("a set for one gives numbers to %v, %v", got, err)
	}
	if text := s.TextFor(0, "p003", got); text != got[0].Text {
		t.Error("a pupil with numbers of their own is shown others")
	}
	if text := s.TextFor(0, "p001", got); text != s.Items[0].Text {
		t.Error("a pupil without numbers is not shown the question itself")
	}
}
