package storetest

import (
	"testing"
	"time"

	"steelyard/homework"
	"steelyard/store"
)

// draftSet adds one more set that has not been given out.
func (f *school) draftSet(t *testing.T) homework.Set {
	h := f.set
	h.ID, h.Given, h.Version, h.Opens = store.NewID(), time.Time{}, 1, now.Add(time.Hour)
	must(t, f.AddSet(t.Context(), f.by, h))
	return h
}

var sets = []promise{
	{"a set comes back as it was kept", func(t *testing.T, s *school) {
		is(t, got[homework.Set](t)(s.Set(t.Context(), s.set.ID)), s.set)
		_, err := s.Set(t.Context(), "none")
		fails(t, err, store.ErrNotFound)
		second := s.draftSet(t)
		is(t, got[[]homework.Set](t)(s.SetsOf(t.Context(), s.class.ID)), []homework.Set{second, s.set})
	}},
	{"a set is changed by one teacher at a time", func(t *testing.T, s *school) {
		ctx, h := t.Context(), s.draftSet(t)
		h.Title, h.For, h.Practice, h.Released = "Again", []string{s.pupils[0].ID}, true, now
		h.Items = h.Items[:1]
		counts := atOnce(5, func(int) error { return s.SaveSet(ctx, s.by, h) })
		is(t, counts, map[error]int{nil: 1, store.ErrChanged: 4})
		h.Version++
		is(t, got[homework.Set](t)(s.Set(ctx, h.ID)), h)
		fails(t, s.SaveSet(ctx, s.by, homework.Set{ID: "none"}), store.ErrNotFound)
	}},
	{"items and seed of a set that was given out can't change; the rest can", func(t *testing.T, s *school) {
		ctx, h := t.Context(), s.set
		h.Items = h.Items[:1]
		fails(t, s.SaveSet(ctx, s.by, h), store.ErrGiven)
		h = s.set
		h.Seed = "b2"
		fails(t, s.SaveSet(ctx, s.by, h), store.ErrGiven)
		h = s.set
		h.Closes, h.Given = now.Add(time.Hour), time.Time{}
		must(t, s.SaveSet(ctx, s.by, h))
		is(t, got[homework.Set](t)(s.Set(ctx, h.ID)).Given, now)
	}},
	{"a draft is removed, a set that was given out is not", func(t *testing.T, s *school) {
		ctx, h := t.Context(), s.draftSet(t)
		must(t, s.RemoveSet(ctx, s.by, h.ID))
		fails(t, s.RemoveSet(ctx, s.by, h.ID), store.ErrNotFound)
		fails(t, s.RemoveSet(ctx, s.by, s.set.ID), store.ErrGiven)
	}},
	{"numbers that were given stay, and those of a pupil who joins later are added", func(t *testing.T, s *school) {
		ctx := t.Context()
		is(t, got[[]homework.Numbers](t)(s.NumbersFor(ctx, s.set.ID, s.pupils[0].ID)), s.numbers()[:1])
		joined := homework.Pupil{ID: store.NewID(), Name: "Late Comer"}
		must(t, s.AddPupils(ctx, s.by, s.class.ID, []homework.Pupil{joined}))
		more := s.numbers()
		for i := range more {
			more[i].Text = "other numbers"
		}
		more = append(more, homework.Numbers{Set: s.set.ID, Pupil: joined.ID, Text: "late numbers"})
		must(t, s.Give(ctx, s.by, s.set.ID, more))
		is(t, got[[]homework.Numbers](t)(s.NumbersFor(ctx, s.set.ID, s.pupils[0].ID)), s.numbers()[:1])
		is(t, got[[]homework.Numbers](t)(s.NumbersFor(ctx, s.set.ID, joined.ID))[0].Text, "late numbers")
		is(t, len(got[[]homework.Numbers](t)(s.NumbersOf(ctx, s.set.ID))), 4)
		is(t, got[homework.Set](t)(s.Set(ctx, s.set.ID)).Version, s.set.Version)
	}},
	{"giving out is all or nothing", func(t *testing.T, s *school) {
		ctx, h := t.Context(), s.draftSet(t)
		fails(t, s.Give(ctx, s.by, h.ID, []homework.Numbers{{Pupil: s.pupils[0].ID, Text: "x"}, {Pupil: "nobody", Text: "x"}}), store.ErrNotFound)
		is(t, len(got[[]homework.Numbers](t)(s.NumbersOf(ctx, h.ID))), 0)
		is(t, got[homework.Set](t)(s.Set(ctx, h.ID)).Given.IsZero(), true)
		fails(t, s.Give(ctx, s.by, "none", nil), store.ErrNotFound)
	}},
	{"changes of a set are counted, others' are not", func(t *testing.T, s *school) {
		ctx, h := t.Context(), s.draftSet(t)
		last := got[int64](t)(s.Changes(ctx, s.set.ID))
		other := got[int64](t)(s.Changes(ctx, h.ID))
		grown := func(what string) {
			t.Helper()
			n := got[int64](t)(s.Changes(ctx, s.set.ID))
			if n <= last {
				t.Errorf("after a %s changes stand at %d, before at %d", what, n, last)
			}
			last = n
		}
		in := got[homework.HandIn](t)(s.HandIn(ctx, s.pupilBy(0), s.handIn(0, "k")))
		grown("hand-in")
		must(t, s.SaveMarkings(ctx, in.ID, nil))
		grown("marking")
		must(t, s.Decide(ctx, s.by, []homework.Decision{{Set: s.set.ID, Pupil: in.Pupil, Part: "a", By: s.teacher.ID, At: now}}))
		grown("decision")
		must(t, s.SaveSet(ctx, s.by, s.set))
		grown("change")
		is(t, got[int64](t)(s.Changes(ctx, h.ID)), other)
		_, err := s.Changes(ctx, "none")
		fails(t, err, store.ErrNotFound)
	}},
}
