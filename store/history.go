package store

import (
	"context"
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
	Was   string // JSON of what it was before; may be empty
	Now   string
}

// Note adds a line of history for what is no change in itself, such as signing in or looking at a pupil's work.
func (s *Store) Note(ctx context.Context, by By, what, about string) error { return errNotYet }

// History lists what happened to something, or by somebody, the newest first; "" is everything.
func (s *Store) History(ctx context.Context, about string, most int) ([]Event, error) {
	return nil, errNotYet
}
