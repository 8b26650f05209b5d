package storetest

import (
	"testing"
	"time"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/store"
)

var classes = []promise{
	{"a class comes back as it was kept, by ID, by code and in its teacher's list", func(t *testing.T, s *school) {
		ctx := t.Context()
		is(t, got[homework.Class](t)(s.Class(ctx, s.class.ID)), s.class)
		is(t, got[homework.Class](t)(s.ClassByCode(ctx, "plover")), s.class)
		is(t, got[[]homework.Class](t)(s.ClassesOf(ctx, s.teacher.ID)), []homework.Class{s.class})
		_, err := s.Class(ctx, "none")
		fails(t, err, store.ErrNotFound)
		_, err = s.ClassByCode(ctx, "none")
		fails(t, err, store.ErrNotFound)
	}},
	{"a class code is taken once", func(t *testing.T, s *school) {
		fails(t, s.AddClass(t.Context(), s.by, homework.Class{ID: store.NewID(), Code: "plover"}), store.ErrExists)
	}},
	{"two teachers cannot overwrite each other's change of a class", func(t *testing.T, s *school) {
		ctx := t.Context()
		counts := atOnce(6, func(i int) error {
			c := s.class
			c.Name = "renamed"
			return s.SaveClass(ctx, s.by, c)
		})
		is(t, counts, map[error]int{nil: 1, store.ErrChanged: 5})
		c := got[homework.Class](t)(s.Class(ctx, s.class.ID))
		is(t, c.Name, "renamed")
		c.Locked, c.Plain, c.KeepTill = now.Add(time.Minute), true, now.AddDate(2, 0, 0)
		must(t, s.SaveClass(ctx, s.by, c))
		c.Version++
		is(t, got[homework.Class](t)(s.Class(ctx, c.ID)), c)
		fails(t, s.SaveClass(ctx, s.by, homework.Class{ID: "none"}), store.ErrNotFound)
	}},
	{"a class is shared, and the last teacher stays", func(t *testing.T, s *school) {
		ctx := t.Context()
		other := account.Person{ID: store.NewID(), Login: "ashgrove", Role: account.Teacher, Made: now}
		must(t, s.AddPerson(ctx, s.by, other))
		is(t, got[bool](t)(s.Teaches(ctx, other.ID, s.class.ID)), false)
		must(t, s.Share(ctx, s.by, s.class.ID, other.ID))
		must(t, s.Share(ctx, s.by, s.class.ID, other.ID))
		is(t, got[bool](t)(s.Teaches(ctx, other.ID, s.class.ID)), true)
		is(t, len(got[[]string](t)(s.TeachersOf(ctx, s.class.ID))), 2)
		counts := atOnce(2, func(i int) error { return s.Unshare(ctx, s.by, s.class.ID, []string{other.ID, s.teacher.ID}[i]) })
		is(t, counts, map[error]int{nil: 1, store.ErrLast: 1})
		is(t, len(got[[]string](t)(s.TeachersOf(ctx, s.class.ID))), 1)
		fails(t, s.Share(ctx, s.by, s.class.ID, "nobody"), store.ErrNotFound)
		fails(t, s.Unshare(ctx, s.by, s.class.ID, "nobody"), store.ErrNotFound)
	}},
	{"pupils come back in the order in which they were added, with their access", func(t *testing.T, s *school) {
		is(t, got[[]homework.Pupil](t)(s.Pupils(t.Context(), s.class.ID)), s.pupils)
		is(t, got[homework.Pupil](t)(s.Pupil(t.Context(), s.pupils[1].ID)), s.pupils[1])
		_, err := s.Pupil(t.Context(), "nobody")
		fails(t, err, store.ErrNotFound)
	}},
	{"pupils are added all or none", func(t *testing.T, s *school) {
		fails(t, s.AddPupils(t.Context(), s.by, s.class.ID, []homework.Pupil{{ID: "new"}, {ID: s.pupils[0].ID}}), store.ErrExists)
		is(t, len(got[[]homework.Pupil](t)(s.Pupils(t.Context(), s.class.ID))), 3)
		fails(t, s.AddPupils(t.Context(), s.by, "none", []homework.Pupil{{ID: "new"}}), store.ErrNotFound)
	}},
	{"a new code, or having left, ends a pupil's sessions", func(t *testing.T, s *school) {
		ctx := t.Context()
		p := s.pupils[0]
		start := func() {
			must(t, s.StartSession(ctx, s.pupilBy(0), account.Session{Hash: store.NewID(), Role: account.PupilOf, Who: p.ID, Made: now, Seen: now, Ends: now.Add(time.Hour)}))
		}
		count := func() int { return len(got[[]account.Session](t)(s.SessionsOf(ctx, p.ID))) }
		start()
		p.Name, p.Access.ExtraTime = "Tam", 10
		must(t, s.SavePupil(ctx, s.by, p))
		is(t, got[homework.Pupil](t)(s.Pupil(ctx, p.ID)), p)
		is(t, count(), 1)
		p.Code = "another"
		must(t, s.SavePupil(ctx, s.by, p))
		is(t, count(), 0)
		start()
		p.Left = now
		must(t, s.SavePupil(ctx, s.by, p))
		is(t, count(), 0)
		fails(t, s.SavePupil(ctx, s.by, homework.Pupil{ID: "nobody"}), store.ErrNotFound)
		nowhere(t, s, "another", s.pupils[0].Code)
	}},
	{"who was added by hand gets a source once", func(t *testing.T, s *school) {
		ctx := t.Context()
		c := homework.Class{ID: store.NewID(), Name: "11C", Code: "dunlin", KeepTill: now.AddDate(1, 0, 0)}
		p := homework.Pupil{ID: store.NewID(), Class: c.ID, Name: "Nia Holt"}
		must(t, s.AddClass(ctx, s.by, c))
		must(t, s.AddPupils(ctx, s.by, c.ID, []homework.Pupil{p}))
		c.Version = 1
		for _, source := range []string{"first", "second", ""} {
			p.Source, c.Source = source, source
			must(t, s.SavePupil(ctx, s.by, p))
			must(t, s.SaveClass(ctx, s.by, c))
			is(t, got[homework.Pupil](t)(s.Pupil(ctx, p.ID)).Source, "first")
			is(t, got[homework.Class](t)(s.Class(ctx, c.ID)).Source, "first")
			c.Version++
		}
	}},
	{"text that no database takes as it is comes back readable", func(t *testing.T, s *school) {
		p := s.pupils[0]
		p.Name = "Ta\x00m\xffsel 🙂 <em>"
		must(t, s.SavePupil(t.Context(), s.by, p))
		is(t, got[homework.Pupil](t)(s.Pupil(t.Context(), p.ID)).Name, "Ta\uFFFDm\uFFFDsel 🙂 <em>")
	}},
}
