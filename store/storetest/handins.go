package storetest

import (
	"fmt"
	"testing"
	"time"

	"steelyard/homework"
	"steelyard/store"
)

// last is the last hand-in of each pupil, by pupil.
func last(t *testing.T, s *school) map[string]homework.HandIn {
	m := map[string]homework.HandIn{}
	for h, err := range s.HandInsOf(t.Context(), s.set.ID) {
		must(t, err)
		m[h.Pupil] = h
	}
	return m
}

func (f *school) draft(pupil int, part string, rev int64, text string) homework.Draft {
	return homework.Draft{Set: f.set.ID, Pupil: f.pupils[pupil].ID, Answer: homework.Answer{Part: part, Answer: text, Working: "so far: " + text}, Rev: rev, At: now}
}

var handIns = []promise{
	{"a hand-in comes back as it was kept", func(t *testing.T, s *school) {
		ctx, h := t.Context(), s.handIn(0, "k")
		is(t, got[homework.HandIn](t)(s.HandIn(ctx, s.pupilBy(0), h)), h)
		is(t, got[homework.HandIn](t)(s.HandInOf(ctx, s.set.ID, h.Pupil)), h)
		is(t, got[[]homework.HandIn](t)(s.HandInsBy(ctx, s.set.ID, h.Pupil)), []homework.HandIn{h})
		_, err := s.HandInOf(ctx, s.set.ID, s.pupils[1].ID)
		fails(t, err, store.ErrNotFound)
	}},
	{"the same key twice is the same hand-in, also at once", func(t *testing.T, s *school) {
		ctx := t.Context()
		ids := make([]string, 12)
		counts := atOnce(len(ids), func(i int) error {
			h := s.handIn(0, "k")
			h.Receipt = fmt.Sprint(i)
			in, err := s.HandIn(ctx, s.pupilBy(0), h)
			ids[i] = in.ID + in.Receipt
			return err
		})
		is(t, counts, map[error]int{nil: len(ids)})
		for _, id := range ids {
			is(t, id, ids[0])
		}
		is(t, len(got[[]homework.HandIn](t)(s.HandInsBy(ctx, s.set.ID, s.pupils[0].ID))), 1)
		events := 0
		for _, e := range got[[]store.Event](t)(s.History(ctx, s.set.ID, 100)) {
			if e.What == "hand-in" {
				events++
			}
		}
		is(t, events, 1)
	}},
	{"a later hand-in counts and the earlier is kept, whatever the clock says", func(t *testing.T, s *school) {
		ctx := t.Context()
		first, second := s.handIn(0, "k1"), s.handIn(0, "k2")
		second.At = now.Add(-24 * time.Hour)
		got[homework.HandIn](t)(s.HandIn(ctx, s.pupilBy(0), first))
		got[homework.HandIn](t)(s.HandIn(ctx, s.pupilBy(0), second))
		got[homework.HandIn](t)(s.HandIn(ctx, s.pupilBy(1), s.handIn(1, "k1")))
		is(t, got[homework.HandIn](t)(s.HandInOf(ctx, s.set.ID, first.Pupil)), second)
		is(t, got[[]homework.HandIn](t)(s.HandInsBy(ctx, s.set.ID, first.Pupil)), []homework.HandIn{second, first})
		counting := last(t, s)
		is(t, len(counting), 2)
		is(t, counting[first.Pupil], second)
	}},
	{"a set that isn't there, isn't given out or is another class's takes nothing", func(t *testing.T, s *school) {
		ctx, h := t.Context(), s.handIn(0, "k")
		h.Set = "none"
		_, err := s.HandIn(ctx, s.pupilBy(0), h)
		fails(t, err, store.ErrNotFound)
		h.Set = s.draftSet(t).ID
		_, err = s.HandIn(ctx, s.pupilBy(0), h)
		fails(t, err, store.ErrClosed)
		must(t, s.AddClass(ctx, s.by, homework.Class{ID: "c2", Code: "dunlin"}))
		must(t, s.AddPupils(ctx, s.by, "c2", []homework.Pupil{{ID: "p2"}}))
		h.Set, h.Pupil = s.set.ID, "p2"
		_, err = s.HandIn(ctx, s.pupilBy(0), h)
		fails(t, err, store.ErrNotFound)
	}},
	{"one that fails among many does not touch its neighbours", func(t *testing.T, s *school) {
		ctx := t.Context()
		counts := atOnce(90, func(i int) error {
			h := s.handIn(i%3, fmt.Sprint("k", i))
			if i%10 == 0 {
				h.Set = "none"
			}
			_, err := s.HandIn(ctx, s.pupilBy(0), h)
			return err
		})
		is(t, counts, map[error]int{nil: 81, store.ErrNotFound: 9})
		n := 0
		for i := range 3 {
			n += len(got[[]homework.HandIn](t)(s.HandInsBy(ctx, s.set.ID, s.pupils[i].ID)))
		}
		is(t, n, 81)
	}},
	{"a newer draft stays when an older one arrives late, and no clock decides", func(t *testing.T, s *school) {
		ctx := t.Context()
		newer, older := s.draft(0, "a", 7, "412 N"), s.draft(0, "a", 6, "41")
		newer.At, older.At = now.Add(-time.Hour), now
		must(t, s.SaveDrafts(ctx, []homework.Draft{newer, s.draft(0, "b", 1, "2 m")}))
		must(t, s.SaveDrafts(ctx, []homework.Draft{older}))
		is(t, got[[]homework.Draft](t)(s.Drafts(ctx, s.set.ID, s.pupils[0].ID)), []homework.Draft{newer, s.draft(0, "b", 1, "2 m")})
		newest := s.draft(0, "a", 8, "413 N")
		must(t, s.SaveDrafts(ctx, []homework.Draft{newest}))
		is(t, got[[]homework.Draft](t)(s.Drafts(ctx, s.set.ID, s.pupils[0].ID))[0], newest)
	}},
	{"drafts of the parts that are handed in go, others stay", func(t *testing.T, s *school) {
		ctx := t.Context()
		must(t, s.SaveDrafts(ctx, []homework.Draft{s.draft(0, "a", 1, "x"), s.draft(0, "b", 1, "y"), s.draft(1, "a", 1, "z")}))
		got[homework.HandIn](t)(s.HandIn(ctx, s.pupilBy(0), s.handIn(0, "k")))
		is(t, got[[]homework.Draft](t)(s.Drafts(ctx, s.set.ID, s.pupils[0].ID)), []homework.Draft{s.draft(0, "b", 1, "y")})
		is(t, len(got[[]homework.Draft](t)(s.Drafts(ctx, s.set.ID, s.pupils[1].ID))), 1)
	}},
	{"what has no markings is found, the oldest first, until it has", func(t *testing.T, s *school) {
		ctx := t.Context()
		a := got[homework.HandIn](t)(s.HandIn(ctx, s.pupilBy(0), s.handIn(0, "k")))
		b := got[homework.HandIn](t)(s.HandIn(ctx, s.pupilBy(1), s.handIn(1, "k")))
		is(t, got[[]homework.HandIn](t)(s.Unmarked(ctx, 10)), []homework.HandIn{a, b})
		is(t, got[[]homework.HandIn](t)(s.Unmarked(ctx, 1)), []homework.HandIn{a})
		must(t, s.SaveMarkings(ctx, a.ID, nil))
		is(t, got[[]homework.HandIn](t)(s.Unmarked(ctx, 10)), []homework.HandIn{b})
		fails(t, s.SaveMarkings(ctx, "none", nil), store.ErrNotFound)
	}},
	{"markings come back, are replaced as a whole, and those of earlier hand-ins don't count", func(t *testing.T, s *school) {
		ctx := t.Context()
		a := got[homework.HandIn](t)(s.HandIn(ctx, s.pupilBy(0), s.handIn(0, "k")))
		m := homework.Marking{HandIn: a.ID, Set: s.set.ID, Pupil: a.Pupil, Item: 0, Part: "a", Marks: 2, Of: 3, Asks: true, Record: `{"a":1}`}
		n := m
		n.Item, n.Marks = 1, 0
		must(t, s.SaveMarkings(ctx, a.ID, []homework.Marking{m, n}))
		is(t, got[[]homework.Marking](t)(s.MarkingsOf(ctx, s.set.ID, "")), []homework.Marking{m, n})
		is(t, len(got[[]homework.Marking](t)(s.MarkingsOf(ctx, s.set.ID, s.pupils[1].ID))), 0)
		m.Marks, m.Asks = 3, false
		must(t, s.SaveMarkings(ctx, a.ID, []homework.Marking{m}))
		is(t, got[[]homework.Marking](t)(s.MarkingsOf(ctx, s.set.ID, a.Pupil)), []homework.Marking{m})
		is(t, got[[]store.Event](t)(s.History(ctx, a.Pupil, 1))[0].What, "marked again")
		bare := m
		bare.Record = ""
		is(t, got[[]homework.Marking](t)(s.MarksOf(ctx, s.set.ID)), []homework.Marking{bare})
		got[homework.HandIn](t)(s.HandIn(ctx, s.pupilBy(0), s.handIn(0, "k2")))
		is(t, len(got[[]homework.Marking](t)(s.MarkingsOf(ctx, s.set.ID, ""))), 0)
	}},
	{"more marks than there are is refused", func(t *testing.T, s *school) {
		ctx := t.Context()
		a := got[homework.HandIn](t)(s.HandIn(ctx, s.pupilBy(0), s.handIn(0, "k")))
		if s.SaveMarkings(ctx, a.ID, []homework.Marking{{Part: "a", Marks: 4, Of: 3}}) == nil {
			t.Error("4 marks of 3 were kept")
		}
	}},
	{"all decisions are kept, in order, all or none", func(t *testing.T, s *school) {
		ctx := t.Context()
		a := got[homework.HandIn](t)(s.HandIn(ctx, s.pupilBy(0), s.handIn(0, "k")))
		d := homework.Decision{ID: "d1", Set: s.set.ID, Pupil: a.Pupil, HandIn: a.ID, Part: "a", Mark: 2, Reason: "method seen", By: s.teacher.ID, At: now}
		e := d
		e.ID, e.Mark, e.HandIn, e.At = "d2", 3, "", now.Add(-time.Hour)
		must(t, s.Decide(ctx, s.by, []homework.Decision{d, e}))
		is(t, got[[]homework.Decision](t)(s.DecisionsOf(ctx, s.set.ID)), []homework.Decision{d, e})
		f := d
		f.ID = "d3"
		fails(t, s.Decide(ctx, s.by, []homework.Decision{f, d}), store.ErrExists)
		is(t, len(got[[]homework.Decision](t)(s.DecisionsOf(ctx, s.set.ID))), 2)
		f.Pupil = "nobody"
		fails(t, s.Decide(ctx, s.by, []homework.Decision{f}), store.ErrNotFound)
	}},
	{"a caller who gives up waits no longer, and the rest goes on", func(t *testing.T, s *school) {
		ctx, cancel := contextWithCancel(t)
		cancel()
		_, err := s.HandIn(ctx, s.pupilBy(0), s.handIn(0, "k"))
		if err == nil {
			t.Error("a hand-in was acknowledged to a caller who had given up")
		}
		got[homework.HandIn](t)(s.HandIn(t.Context(), s.pupilBy(0), s.handIn(0, "k2")))
	}},
}
