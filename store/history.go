package store

import (
	"context"
	"encoding/json"
	"time"
)

// An Event is a line of history. It is never changed, but for what erasing a pupil takes out of it.
type Event struct {
	N     int64
	At    time.Time
	Role  string
	Who   string
	What  string // "hand-in", "decision", "sign-in", "class changed", …
	About string // the ID of what was changed, or of the pupil
	Pupil string // the ID of the pupil whom it concerns; may be empty
	Was   string // JSON of what it was before; may be empty
	Now   string
}

const eventColumns = "n, at, role, who, what, about, pupil, was, now"

func scanEvent(r row) (e Event, err error) {
	err = r.Scan(&e.N, at{&e.At}, &e.Role, &e.Who, &e.What, &e.About, &e.Pupil, &e.Was, &e.Now)
	return e, err
}

// Note adds a line of history for what is no change in itself, such as signing in or looking at a pupil's work.
func (s *Store) Note(ctx context.Context, by By, what, about string) error {
	return s.change(ctx, "note of "+what, func(t tx) error {
		return t.line(by, Event{What: what, About: about, Pupil: pupilOnly(t, about)}, nil, nil)
	})
}

// pupilOnly is the ID, if it is a pupil's.
func pupilOnly(t tx, id string) string {
	p, _ := one(t, single[string], "SELECT id FROM pupils WHERE id = $1", id)
	return p
}

// History lists what happened to something or somebody, or was done by somebody, the newest first; "" is everything.
func (s *Store) History(ctx context.Context, about string, most int) (list []Event, err error) {
	err = s.read(ctx, "history", func(t tx) (err error) {
		if about == "" {
			list, err = all(t, scanEvent, "SELECT "+eventColumns+" FROM history ORDER BY n DESC LIMIT $1", most)
			return err
		}
		list, err = all(t, scanEvent, "SELECT "+eventColumns+" FROM history WHERE about = $1 OR who = $1 OR (pupil = $1 AND pupil <> '') ORDER BY n DESC LIMIT $2", about, most)
		return err
	})
	return list, err
}

// line adds a line of history; was and now are written as JSON unless they are nil.
func (t tx) line(by By, e Event, was, now any) error {
	_, err := t.exec("INSERT INTO history (at, role, who, what, about, pupil, was, now) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)",
		by.At, string(by.Role), by.Who, e.What, e.About, e.Pupil, detail(was), detail(now))
	return err
}

func detail(v any) string {
	if v == nil {
		return ""
	}
	return asJSON(v)
}

// differing are the fields in which two records differ, before and after. Of the fields named secret only the name is kept.
func differing(before, after any, secret ...string) (was, now map[string]any) {
	was, now = fieldsOf(before), fieldsOf(after)
	for name, v := range was {
		if asJSON(v) == asJSON(now[name]) {
			delete(was, name)
			delete(now, name)
		}
	}
	for _, name := range secret {
		if _, ok := now[name]; ok {
			was[name], now[name] = "…", "…"
		}
	}
	return was, now
}

func fieldsOf(v any) (fields map[string]any) {
	if err := json.Unmarshal([]byte(asJSON(v)), &fields); err != nil {
		panic(err) // our own structs are JSON objects
	}
	return fields
}
