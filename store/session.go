package store

import (
	"context"
	"time"

	"steelyard/account"
)

const sessionColumns = "hash, role, who, label, made, seen, ends"

func scanSession(r row) (a account.Session, err error) {
	err = r.Scan(&a.Hash, &a.Role, &a.Who, &a.Label, at{&a.Made}, at{&a.Seen}, at{&a.Ends})
	return a, err
}

// StartSession keeps a session, and lets go of those that have ended by then.
func (s *Store) StartSession(ctx context.Context, by By, a account.Session) error {
	return s.change(ctx, "session", func(t tx) error {
		if _, err := t.exec("DELETE FROM sessions WHERE ends < $1 AND ends > 0", by.At); err != nil {
			return err
		}
		if _, err := t.exec("INSERT INTO sessions ("+sessionColumns+") VALUES ($1, $2, $3, $4, $5, $6, $7)",
			a.Hash, string(a.Role), a.Who, a.Label, a.Made, a.Seen, a.Ends); err != nil {
			return err
		}
		return t.line(by, Event{What: "sign-in", About: a.Who, Pupil: pupilOnly(t, a.Who)}, nil, nil)
	})
}

// Session finds a session; TouchSession says when it was last used.
func (s *Store) Session(ctx context.Context, hash string) (a account.Session, err error) {
	err = s.read(ctx, "session", func(t tx) (err error) {
		a, err = one(t, scanSession, "SELECT "+sessionColumns+" FROM sessions WHERE hash = $1", hash)
		return err
	})
	return a, err
}

func (s *Store) TouchSession(ctx context.Context, hash string, at time.Time) error {
	return s.often(ctx, "session", func(t tx) error {
		return t.must("UPDATE sessions SET seen = $1 WHERE hash = $2", at, hash)
	})
}

// EndSession ends one session; EndSessions all of somebody, but for the one named keep.
func (s *Store) EndSession(ctx context.Context, by By, hash string) error {
	return s.change(ctx, "session", func(t tx) error {
		a, err := one(t, scanSession, "SELECT "+sessionColumns+" FROM sessions WHERE hash = $1", hash)
		if err != nil {
			return err
		}
		if err := t.must("DELETE FROM sessions WHERE hash = $1", hash); err != nil {
			return err
		}
		return t.line(by, Event{What: "sign-out", About: a.Who, Pupil: pupilOnly(t, a.Who)}, nil, nil)
	})
}

func (s *Store) EndSessions(ctx context.Context, by By, who, keep string) error {
	return s.change(ctx, "sessions", func(t tx) error {
		if err := endSessions(t, who, keep); err != nil {
			return err
		}
		return t.line(by, Event{What: "signed out everywhere", About: who, Pupil: pupilOnly(t, who)}, nil, nil)
	})
}

func endSessions(t tx, who, keep string) error {
	_, err := t.exec("DELETE FROM sessions WHERE who = $1 AND hash <> $2", who, keep)
	return err
}

// SessionsOf lists somebody's sessions, the last used first.
func (s *Store) SessionsOf(ctx context.Context, who string) (list []account.Session, err error) {
	err = s.read(ctx, "sessions", func(t tx) (err error) {
		list, err = all(t, scanSession, "SELECT "+sessionColumns+" FROM sessions WHERE who = $1 ORDER BY seen DESC, hash", who)
		return err
	})
	return list, err
}
