package pupil

import (
	"cmp"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"time"

	"steelyard/homework"
	"steelyard/store"
	"steelyard/web/page"
)

// A task is a set as it stands in a pupil's list.
type task struct {
	homework.Set
	Closes   time.Time // for this pupil
	Extra    bool      // it closes later for them
	HandedIn bool
	At       time.Time // when it was handed in
	Drafts   int       // parts with something typed that isn't handed in
	Marks    bool      // marks or feedback can be seen
}

// The list has four kinds of set, in this order.
type tasks struct {
	Now                          time.Time
	Open, ToCome, Marked, Closed []task
}

// list shows the pupil's sets and what is left to do.
func (r room) list(w http.ResponseWriter, req *http.Request, v *page.Viewer) error {
	sets, err := r.Store.SetsOf(req.Context(), v.Class)
	if err != nil {
		return fmt.Errorf("listing sets: %w", err)
	}
	p, all := viewed(v), tasks{Now: r.Now()}
	for _, s := range sets {
		if s.Given.IsZero() || !s.IsFor(p) {
			continue
		}
		t, err := r.task(req, s, p, all.Now)
		if err != nil {
			return err
		}
		all.add(t, p)
	}
	// What closes first stands first; what never closes, last.
	slices.SortStableFunc(all.Open, func(a, b task) int { return cmp.Compare(last(a.Closes), last(b.Closes)) })
	slices.SortStableFunc(all.ToCome, func(a, b task) int { return a.Opens.Compare(b.Opens) })
	return page.Write(w, req, v, http.StatusOK, page.Page{Title: "My work", Here: "work", Styles: []string{"pupil.css"}, Scripts: []string{"pupil.js"}, Body: listOf(v, &all)})
}

func last(t time.Time) int64 {
	if t.IsZero() {
		return 1 << 62
	}
	return t.Unix()
}

func (r room) task(req *http.Request, s homework.Set, p homework.Pupil, now time.Time) (task, error) {
	t := task{Set: s, Closes: s.ClosesFor(p)}
	t.Extra = !t.Closes.Equal(s.Closes)
	if !s.Opened(now) {
		return t, nil
	}
	h, err := r.Store.HandInOf(req.Context(), s.ID, p.ID)
	if err != nil && !errors.Is(err, store.ErrNotFound) {
		return t, fmt.Errorf("finding a hand-in: %w", err)
	}
	t.HandedIn, t.At = err == nil, h.At
	drafts, err := r.Store.Drafts(req.Context(), s.ID, p.ID)
	if err != nil {
		return t, fmt.Errorf("finding drafts: %w", err)
	}
	t.Drafts = len(drafts)
	t.Marks = t.HandedIn && (s.Shows(s.Show.Marks, p, now, true) || s.Shows(s.Show.Feedback, p, now, true))
	return t, nil
}

// add puts a set where it belongs.
func (all *tasks) add(t task, p homework.Pupil) {
	switch {
	case !t.Opened(all.Now):
		all.ToCome = append(all.ToCome, t)
	case t.Open(p, all.Now) && !solved(&t.Set, p, all.Now, t.HandedIn):
		all.Open = append(all.Open, t)
	case t.Marks:
		all.Marked = append(all.Marked, t)
	default:
		all.Closed = append(all.Closed, t)
	}
}

// Left counts the open sets that are not handed in.
func (all *tasks) Left() (n int) {
	for i := range all.Open {
		if !all.Open[i].HandedIn && !all.Open[i].Practice {
			n++
		}
	}
	return n
}

// State says how far a set is, in a word or two, with the class of its sign.
func (t *task) State() (words, class string) {
	switch {
	case t.HandedIn && t.Drafts > 0:
		return "handed in, then changed", "doubt"
	case t.HandedIn:
		return "handed in", "right"
	case t.Drafts > 0:
		return "begun", "carried"
	}
	return "not begun", "off"
}

// InWords says how large an open set is and until when there is time.
func (t *task) InWords(now time.Time) string {
	words := count(len(t.Items), "question", "questions") + "."
	if t.Practice {
		words += " Practice: nothing counts."
	}
	switch {
	case t.Closes.IsZero():
	case t.Extra:
		words += " Closes for you " + when(t.Closes, now) + ", with your extra time."
	default:
		words += " Closes " + when(t.Closes, now) + "."
	}
	return words
}

// LeftInWords says what is left to do.
func (all *tasks) LeftInWords() string {
	switch n := all.Left(); {
	case n > 0:
		return count(n, "set is", "sets are") + " left to hand in."
	case len(all.Open) > 0:
		return "Nothing is left to hand in."
	}
	return "There is nothing to do just now."
}
