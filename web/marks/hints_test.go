package marks_test

import (
	"testing"

	"steelyard/account"
	"steelyard/hint"
	"steelyard/store"
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
}
