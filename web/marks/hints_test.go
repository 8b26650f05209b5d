package marks_test

import (
	"strings"
	"testing"

	"steelyard/account"
	"steelyard/hint"
	"steelyard/homework"
	"steelyard/store"
	"steelyard/web/browse"
)

// A teacher sees how many hints a pupil has opened for a part of this set, nobody else's and no other set's.
func TestTheTeacherSeesHowManyHintsWereOpened(t *testing.T) {
	s := open(t, "lock-footbridge")
	other := s.give(t, "Another set", "lock-footbridge")
	s.handIn(t, 0, doubtful("570 N"))
	s.marked(t)
	note := func(pupil, rung int, part, set string) {
		by := store.By{Role: account.PupilOf, Who: s.pupils[pupil].ID, At: s.Clock.Now()}
		must(t, s.Store.Note(t.Context(), by, hint.Note{Rung: rung, Part: part}.String(), set))
	}
	note(0, 1, "b", s.set.ID)
	note(0, 2, "b", s.set.ID)
	note(0, 1, "c", other.ID)
	note(1, 1, "b", s.set.ID)
	s.Teacher.Get("/sets/" + s.set.ID + "/marks/" + s.pupils[0].ID).Want(200).Has("2 hints opened.").Lacks("1 hint opened.")
	// For the class: one number a pupil and part, before they have handed in too.
	p := s.Teacher.Get(s.path("/hints")).Want(200).Has("Most wanted for question 1 (b): 2 of ")
	rows := strings.Split(p.Body, "<tr>")
	for _, r := range rows {
		if strings.Contains(r, s.pupils[0].ID) && !strings.Contains(r, `<td class="number">2</td>`) {
			t.Errorf("the first pupil's line: %s", r)
		}
		if strings.Contains(r, s.pupils[1].ID) && !strings.Contains(r, `<td class="number">1</td>`) {
			t.Errorf("the second pupil's line: %s", r)
		}
	}
	s.Pupils[0].Get(s.path("/hints")).Want(404)
}

// Where pupils have no hints, the pages of a set do not speak of any; where nobody has opened one, they say so.
func TestASetWithoutHints(t *testing.T) {
	s := open(t, "lock-footbridge")
	set := s.set
	set.Show.Hints = homework.Never
	save := func() {
		t.Helper()
		must(t, s.Store.SaveSet(t.Context(), s.by(), set))
		var err error
		set, err = s.Store.Set(t.Context(), set.ID)
		must(t, err)
	}
	save()
	s.Teacher.Get(s.path("/marks")).Want(200).Lacks("Hints Release")
	s.Teacher.Get(s.path("/hints")).Want(200).Has("This set has no hints")
	set.Practice, set.Show = true, homework.UsualShow(true)
	save()
	s.Teacher.Get(s.path("/marks")).Want(200).Has("Hints Release")
	s.Teacher.Get(s.path("/hints")).Want(200).Has("Nobody has opened a hint yet.")
}

// The table of hints in every window, light and dark.
func TestHintsInABrowser(t *testing.T) {
	browse.Hold(t)
	s := open(t, "lock-footbridge", "library-ladder")
	for i, p := range s.pupils {
		by := store.By{Role: account.PupilOf, Who: p.ID, At: s.Clock.Now()}
		for _, n := range []hint.Note{{Rung: i + 1, Part: "b"}, {Rung: 11, Part: "e"}, {Rung: 2*i + 1, Item: 1, Part: "e"}} {
			must(t, s.Store.Note(t.Context(), by, n.String(), s.set.ID))
		}
	}
	for _, w := range []browse.Window{browse.Phone, browse.Desk, browse.Phone.InDark(), browse.Desk.InDark()} {
		tab := s.tab(t, w, s.path("/hints"))
		tab.See("Hints take no marks.")
		tab.Shot("marks-hints")
		tab.Check()
		tab.Go(s.URL + s.path("/marks/"+s.pupils[0].ID))
		tab.Shot("marks-hints-work")
		tab.Check()
		tab.Close()
	}
}
