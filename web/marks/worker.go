package marks

import (
	"context"
	"time"

	"steelyard/homework"
	"steelyard/web/page"
)

// atOnce is how many hand-ins are taken to be marked at a time.
const atOnce = 50

// Work marks what is handed in, until the context ends. It looks when it is told of a hand-in, and every two seconds
// for what another program on the same database has taken in. A hand-in that can't be marked is logged and tried again
// later; the others are marked meanwhile. Two programs may mark the same hand-in: both come to the same marks.
func Work(ctx context.Context, d *page.Desk) {
	w := worker{Desk: d, later: map[string]time.Time{}}
	for ctx.Err() == nil {
		more := w.round(ctx)
		if more {
			continue
		}
		select {
		case <-ctx.Done():
		case <-d.HandedIn:
		case <-time.After(2 * time.Second):
		}
	}
}

type worker struct {
	*page.Desk
	later map[string]time.Time // hand-ins that could not be marked, with when to try again
}

// round marks what waits; more says that it should be called again at once.
func (w *worker) round(ctx context.Context) (more bool) {
	list, err := w.Store.Unmarked(ctx, atOnce+len(w.later))
	if err != nil {
		if ctx.Err() == nil {
			w.Log.ErrorContext(ctx, "looking for hand-ins to mark", "err", err)
		}
		return false
	}
	for i := range list {
		if ctx.Err() != nil {
			return false
		}
		if w.Now().Before(w.later[list[i].ID]) {
			continue
		}
		if err := w.one(ctx, &list[i]); err != nil {
			w.later[list[i].ID] = w.Now().Add(time.Minute)
			w.Log.ErrorContext(ctx, "marking", "hand-in", list[i].ID, "set", list[i].Set, "err", err)
			continue
		}
		delete(w.later, list[i].ID)
		more = true
	}
	return more
}

// one marks a hand-in and keeps what came of it.
func (w *worker) one(ctx context.Context, h *homework.HandIn) (err error) {
	set, err := w.Store.Set(ctx, h.Set)
	if err != nil {
		return err
	}
	numbers, err := w.Store.NumbersFor(ctx, h.Set, h.Pupil)
	if err != nil {
		return err
	}
	parts, err := w.Marker.Mark(&set, numbers, *h, nil)
	if err != nil {
		return err
	}
	list, err := homework.Markings(*h, parts)
	if err != nil {
		return err
	}
	return w.Store.SaveMarkings(ctx, h.ID, list)
}
