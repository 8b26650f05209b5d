package storetest

import (
	"testing"
	"time"

	"steelyard/account"
	"steelyard/store"
)

var accounts = []promise{
	{"an account comes back as it was kept, with its passkeys", func(t *testing.T, s *school) {
		ctx := t.Context()
		k := account.Passkey{ID: "Y3JlZA", Record: `{"n":1}`, Label: "blue laptop", Made: now}
		must(t, s.AddPasskey(ctx, s.by, s.teacher.ID, k))
		s.teacher.Keys = []account.Passkey{k}
		is(t, got[account.Person](t)(s.Person(ctx, s.teacher.ID)), s.teacher)
		is(t, got[account.Person](t)(s.PersonByLogin(ctx, "ferrow")), s.teacher)
		is(t, got[[]account.Person](t)(s.People(ctx)), []account.Person{s.teacher})

		k.Record, k.Label = `{"n":2}`, "red laptop"
		must(t, s.SavePasskey(ctx, s.teacher.ID, k))
		is(t, got[account.Person](t)(s.Person(ctx, s.teacher.ID)).Keys, []account.Passkey{k})
		fails(t, s.RemovePasskey(ctx, s.by, "somebody else", k.ID), store.ErrNotFound)
		must(t, s.RemovePasskey(ctx, s.by, s.teacher.ID, k.ID))
		is(t, len(got[account.Person](t)(s.Person(ctx, s.teacher.ID)).Keys), 0)
	}},
	{"an account never kept is not found", func(t *testing.T, s *school) {
		_, err := s.Person(t.Context(), "nobody")
		fails(t, err, store.ErrNotFound)
		_, err = s.PersonByLogin(t.Context(), "nobody")
		fails(t, err, store.ErrNotFound)
		fails(t, s.SavePerson(t.Context(), s.by, account.Person{ID: "nobody", Role: account.Teacher}, ""), store.ErrNotFound)
	}},
	{"a login is taken once", func(t *testing.T, s *school) {
		fails(t, s.AddPerson(t.Context(), s.by, account.Person{ID: store.NewID(), Login: "ferrow", Role: account.Teacher}), store.ErrExists)
	}},
	{"a new password ends the sessions, but for the one in use; a new name ends none", func(t *testing.T, s *school) {
		ctx := t.Context()
		for i, hash := range []string{"h1", "h2", "h3"} {
			must(t, s.StartSession(ctx, s.by, account.Session{Hash: hash, Role: account.Teacher, Who: s.teacher.ID, Label: "a browser", Made: now,
				Seen: now.Add(time.Duration(i) * time.Minute), Ends: now.Add(time.Hour)}))
		}
		p := s.teacher
		p.Name = "Dr Ferrow"
		must(t, s.SavePerson(ctx, s.by, p, "h2"))
		sessions := got[[]account.Session](t)(s.SessionsOf(ctx, p.ID))
		is(t, []string{sessions[0].Hash, sessions[1].Hash, sessions[2].Hash}, []string{"h3", "h2", "h1"})
		p.Hash = "another"
		must(t, s.SavePerson(ctx, s.by, p, "h2"))
		sessions = got[[]account.Session](t)(s.SessionsOf(ctx, p.ID))
		is(t, len(sessions), 1)
		is(t, sessions[0].Hash, "h2")
		is(t, got[account.Person](t)(s.Person(ctx, p.ID)), p)
		p.Ended = now.Add(time.Hour)
		must(t, s.SavePerson(ctx, s.by, p, ""))
		is(t, len(got[[]account.Session](t)(s.SessionsOf(ctx, p.ID))), 0)
	}},
	{"no hash of a password is in the history", func(t *testing.T, s *school) {
		p := s.teacher
		p.Hash = "a-new-hash"
		must(t, s.SavePerson(t.Context(), s.by, p, ""))
		nowhere(t, s, "a-new-hash", s.teacher.Hash)
	}},
	{"a session comes back, is touched and ends", func(t *testing.T, s *school) {
		ctx := t.Context()
		a := account.Session{Hash: "h1", Role: account.PupilOf, Who: s.pupils[0].ID, Label: "a phone", Made: now, Seen: now, Ends: now.Add(time.Hour)}
		must(t, s.StartSession(ctx, s.pupilBy(0), a))
		is(t, got[account.Session](t)(s.Session(ctx, "h1")), a)
		a.Seen = now.Add(time.Minute)
		must(t, s.TouchSession(ctx, "h1", a.Seen))
		is(t, got[account.Session](t)(s.Session(ctx, "h1")), a)
		must(t, s.EndSession(ctx, s.pupilBy(0), "h1"))
		_, err := s.Session(ctx, "h1")
		fails(t, err, store.ErrNotFound)
		fails(t, s.TouchSession(ctx, "h1", now), store.ErrNotFound)
		fails(t, s.EndSession(ctx, s.pupilBy(0), "h1"), store.ErrNotFound)

		must(t, s.StartSession(ctx, s.pupilBy(0), a))
		must(t, s.EndSessions(ctx, s.by, s.pupils[0].ID, ""))
		is(t, len(got[[]account.Session](t)(s.SessionsOf(ctx, s.pupils[0].ID))), 0)
	}},
	{"an invitation is used once, by whoever comes first", func(t *testing.T, s *school) {
		ctx := t.Context()
		i := account.Invitation{Hash: "inv", Role: account.Head, Ends: now.Add(time.Hour), By: s.teacher.ID}
		must(t, s.Invite(ctx, s.by, i))
		is(t, got[account.Invitation](t)(s.Invitation(ctx, "inv")), i)
		counts := atOnce(8, func(n int) error {
			return s.UseInvitation(ctx, s.by, "inv", account.Person{ID: store.NewID(), Login: "new" + string(rune('a'+n)), Role: account.Head, Made: now})
		})
		is(t, counts, map[error]int{nil: 1, store.ErrNotFound: 7})
		is(t, len(got[[]account.Person](t)(s.People(ctx))), 2)
	}},
	{"an invitation stays where the login is taken", func(t *testing.T, s *school) {
		must(t, s.Invite(t.Context(), s.by, account.Invitation{Hash: "inv", Role: account.Teacher, Ends: now}))
		fails(t, s.UseInvitation(t.Context(), s.by, "inv", account.Person{ID: store.NewID(), Login: "ferrow", Role: account.Teacher}), store.ErrExists)
		_, err := s.Invitation(t.Context(), "inv")
		must(t, err)
	}},
}
