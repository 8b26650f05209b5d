package storetest

import (
	"testing"

	"steelyard/homework"
	"steelyard/store"
)

var moderation = []promise{
	{"a decision taken back counts no more, and the one before it counts again", func(t *testing.T, s *school) {
		ctx := t.Context()
		a := got[homework.HandIn](t)(s.HandIn(ctx, s.pupilBy(0), s.handIn(0, "k")))
		d := homework.Decision{ID: "d1", Set: s.set.ID, Pupil: a.Pupil, HandIn: a.ID, Part: "a", Mark: 2, Reason: "method seen", By: s.teacher.ID, At: now}
		e := d
		e.ID, e.Mark = "d2", 3
		must(t, s.Decide(ctx, s.by, []homework.Decision{d, e}))
		before := got[int64](t)(s.Changes(ctx, s.set.ID))
		must(t, s.TakeBack(ctx, s.by, s.set.ID, []string{"d2"}))
		is(t, got[[]homework.Decision](t)(s.DecisionsOf(ctx, s.set.ID)), []homework.Decision{d})
		is(t, got[[]store.Event](t)(s.History(ctx, a.Pupil, 1))[0].What, "decision taken back")
		if n := got[int64](t)(s.Changes(ctx, s.set.ID)); n <= before {
			t.Errorf("the changes are %d, as they were before", n)
		}
	}},
	{"what is taken back twice, or is another set's, is not found, and nothing is taken back", func(t *testing.T, s *school) {
		ctx := t.Context()
		a := got[homework.HandIn](t)(s.HandIn(ctx, s.pupilBy(0), s.handIn(0, "k")))
		d := homework.Decision{ID: "d1", Set: s.set.ID, Pupil: a.Pupil, HandIn: a.ID, Part: "a", Mark: 2, Reason: "method seen", By: s.teacher.ID, At: now}
		e := d
		e.ID, e.Part = "d2", "b"
		must(t, s.Decide(ctx, s.by, []homework.Decision{d, e}))
		fails(t, s.TakeBack(ctx, s.by, "another", []string{"d1"}), store.ErrNotFound)
		must(t, s.TakeBack(ctx, s.by, s.set.ID, []string{"d1"}))
		fails(t, s.TakeBack(ctx, s.by, s.set.ID, []string{"d2", "d1"}), store.ErrNotFound)
		is(t, got[[]homework.Decision](t)(s.DecisionsOf(ctx, s.set.ID)), []homework.Decision{e})
	}},
	{"second marks come back in order, all or none", func(t *testing.T, s *school) {
		ctx := t.Context()
		a := got[homework.HandIn](t)(s.HandIn(ctx, s.pupilBy(0), s.handIn(0, "k")))
		m := store.SecondMark{Set: s.set.ID, Pupil: a.Pupil, HandIn: a.ID, Item: 1, Part: "a", Mark: 2, By: s.teacher.ID, At: now}
		n := m
		n.Mark = 3
		must(t, s.SaveSecondMarks(ctx, s.by, s.set.ID, []store.SecondMark{m}))
		must(t, s.SaveSecondMarks(ctx, s.by, s.set.ID, []store.SecondMark{n}))
		is(t, got[[]store.SecondMark](t)(s.SecondMarks(ctx, s.set.ID)), []store.SecondMark{m, n})
		bad := m
		bad.HandIn = "none"
		if s.SaveSecondMarks(ctx, s.by, s.set.ID, []store.SecondMark{m, bad}) == nil {
			t.Error("a mark for no hand-in was kept")
		}
		is(t, len(got[[]store.SecondMark](t)(s.SecondMarks(ctx, s.set.ID))), 2)
	}},
}
