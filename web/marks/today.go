package marks

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"time"

	"steelyard/homework"
	"steelyard/question"
	"steelyard/store"
	"steelyard/web/page"
)

// soon is how long before its end a set is named on the first page.
const soon = 48 * time.Hour

// A doing is a set as the first page tells it.
type doing struct {
	Set   homework.Set
	Class string
	Asks  int // parts that want a person
	In    int // pupils who have handed in
	Of    int // pupils whom it is for
	Today int // hand-ins since midnight
	Begun int // pupils who have begun and not handed in
}

// A day is what the first page tells a teacher.
type day struct {
	Now       time.Time
	Name      string
	Decide    []doing // wants decisions
	Release   []doing // closed, nothing in doubt, not released
	Closing   []doing // closes soon
	Came      []doing // something was handed in today
	Drafts    []doing // not given out yet
	Questions []store.Question
	Classes   int
}

// today is the teacher's first page: what wants a decision, and what is about to happen.
func (m room) today(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	d := day{Now: m.Now(), Name: v.Name}
	classes, err := m.Store.ClassesOf(r.Context(), v.ID)
	if err != nil {
		return err
	}
	d.Classes = len(classes)
	for _, c := range classes {
		sets, err := m.Store.SetsOf(r.Context(), c.ID)
		if err != nil {
			return err
		}
		for i := range sets {
			if err := m.place(r.Context(), &d, &c, &sets[i]); err != nil {
				return err
			}
		}
	}
	if d.Questions, err = m.Store.QuestionsOf(r.Context(), v.ID); err != nil {
		return err
	}
	d.Questions = slices.DeleteFunc(d.Questions, func(q store.Question) bool {
		return !q.Gone.IsZero() || d.Now.Sub(q.Changed) > 14*24*time.Hour
	})
	d.Questions = d.Questions[:min(3, len(d.Questions))]
	slices.SortStableFunc(d.Closing, func(x, y doing) int { return x.Set.Closes.Compare(y.Set.Closes) })
	return page.Write(w, r, v, http.StatusOK, page.Page{Title: "Today", Here: "today", Styles: []string{"marks.css"}, Body: todayPage(&d)})
}

// place puts a set where the first page tells of it, if it does.
func (m room) place(ctx context.Context, d *day, c *homework.Class, h *homework.Set) error {
	if h.Given.IsZero() {
		d.Drafts = append(d.Drafts, doing{Set: *h, Class: c.Name})
		return nil
	}
	closed := !h.Closes.IsZero() && d.Now.After(h.Closes)
	if over := !h.Released.IsZero() || h.Practice; over && closed && d.Now.Sub(h.Closes) > soon {
		return nil
	}
	b, err := m.open(ctx, h.ID, false)
	if faults := (question.Faults)(nil); errors.As(err, &faults) {
		m.Log.ErrorContext(ctx, "a set is left out of today: a question in it can't be read any more", "set", h.ID, "line", faults[0].Span.Line)
		return nil
	}
	if err != nil {
		return err
	}
	x := doingOf(b, d.Now)
	switch {
	case h.Practice:
	case x.Asks > 0:
		d.Decide = append(d.Decide, x)
	case closed && h.Released.IsZero() && x.In > 0:
		d.Release = append(d.Release, x)
	}
	if !h.Closes.IsZero() && !closed && h.Closes.Sub(d.Now) <= soon {
		d.Closing = append(d.Closing, x)
	}
	if x.Today > 0 {
		d.Came = append(d.Came, x)
	}
	return nil
}

func doingOf(b *book, now time.Time) doing {
	x := doing{Set: b.Set, Class: b.Class.Name, Asks: b.asks(), In: b.in(), Of: b.pupils()}
	midnight := time.Date(now.Year(), now.Month(), now.Day(), 0, 0, 0, 0, now.Location())
	for i := range b.Rows {
		switch r := &b.Rows[i]; {
		case r.Apart:
		case r.HandIn != nil && !r.HandIn.At.Before(midnight):
			x.Today++
		case r.HandIn == nil && r.Drafts:
			x.Begun++
		}
	}
	return x
}

// nothing says that there is nothing to tell.
func (d *day) nothing() bool {
	return len(d.Decide)+len(d.Release)+len(d.Closing)+len(d.Came)+len(d.Drafts)+len(d.Questions) == 0
}

// closing says how a set stands that closes soon.
func closing(x *doing, d *day) string {
	s := fmt.Sprintf("closes %s; %d of %d handed in", when(x.Set.Closes, d.Now), x.In, x.Of)
	if x.Begun > 0 {
		s += fmt.Sprintf(", %d more begun", x.Begun)
	}
	return s
}
