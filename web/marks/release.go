package marks

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"time"

	"steelyard/homework"
	"steelyard/store"
	"steelyard/web/page"
)

// A releaseView is what a release would do.
type releaseView struct {
	Unmarked int    // parts that the marker has not come to yet
	Missing  []*row // pupils who have not handed in
	Open     int    // of them, for whom it is open still
	Fault    string
}

// releasing shows what each pupil will see.
func (m room) releasing(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	b, err := m.open(r.Context(), r.PathValue("set"), hidden(r))
	if err != nil {
		return err
	}
	return m.releaseAgain(w, r, v, b, http.StatusOK, "")
}

func (m room) releaseAgain(w http.ResponseWriter, r *http.Request, v *page.Viewer, b *book, status int, fault string) error {
	x := releaseView{Fault: fault}
	x.Missing, x.Open = b.missing()
	for i := range b.Rows {
		if row := &b.Rows[i]; row.HandIn != nil && !row.marked() {
			x.Unmarked++
		}
	}
	title := b.Set.Title + ": release"
	if fault != "" {
		title = "Not released yet: " + b.Set.Title
	}
	return page.Write(w, r, v, status, b.page(title, "Marks", releasePage(b, &x)))
}

// release lets pupils see what the set says they see once marks are released. While something waits, or somebody who has
// not handed in still can, it has to be said twice.
func (m room) release(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	b, err := m.open(r.Context(), r.PathValue("set"), hidden(r))
	if err != nil {
		return err
	}
	var faults []string
	if n := b.asks(); n > 0 && r.FormValue("although") != "yes" {
		faults = append(faults, fmt.Sprintf("%s. Decide first, or say below that you release all the same.", upper(waiting(n))))
	}
	if _, n := b.missing(); n > 0 && r.FormValue("missing") != "yes" {
		faults = append(faults, fmt.Sprintf("%s can still hand in. Wait until the set has closed, or say below that you release before that.", counted(n, "pupil", "pupils")))
	}
	if len(faults) > 0 {
		return m.releaseAgain(w, r, v, b, http.StatusUnprocessableEntity, strings.Join(faults, " "))
	}
	return m.setReleased(w, r, v, b.Set, m.Now())
}

// unrelease takes the release back: pupils see their marks no more.
func (m room) unrelease(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	h, err := m.Store.Set(r.Context(), r.PathValue("set"))
	if err != nil {
		return found(err)
	}
	return m.setReleased(w, r, v, h, time.Time{})
}

func (m room) setReleased(w http.ResponseWriter, r *http.Request, v *page.Viewer, h homework.Set, at time.Time) error {
	if h.Given.IsZero() {
		return &page.Refusal{Status: http.StatusConflict, What: "this set is still a draft", Mend: "give it out first"}
	}
	h.Released = at
	if err := m.save(r.Context(), m.By(v), h); err != nil {
		return err
	}
	return page.Go(w, r, "/sets/"+h.ID+"/release")
}

func (m room) save(ctx context.Context, by store.By, h homework.Set) error {
	err := m.Store.SaveSet(ctx, by, h)
	if errors.Is(err, store.ErrChanged) {
		return &page.Refusal{Status: http.StatusConflict, What: "a colleague has just changed this set", Mend: "open the page again and look before you release"}
	}
	return err
}

func waiting(n int) string {
	if n == 1 {
		return "1 part still waits for you"
	}
	return fmt.Sprintf("%d parts still wait for you", n)
}

// shown says in words what pupils see, and when.
func shown(h *homework.Set) (list []string) {
	for _, s := range []struct {
		what string
		when homework.When
	}{{"Marks", h.Show.Marks}, {"Feedback", h.Show.Feedback}, {"The worked solution", h.Show.Solution}} {
		list = append(list, s.what+": "+map[homework.When]string{
			homework.Never: "never", homework.Always: "at any time", homework.HandedIn: "once they have handed in",
			homework.Closed: "once the set has closed for them", homework.Released: "with the release"}[s.when])
	}
	return list
}

// seesNothing says whether a release would show pupils nothing new.
func seesNothing(h *homework.Set) bool {
	return h.Show.Marks != homework.Released && h.Show.Feedback != homework.Released && h.Show.Solution != homework.Released
}

// pupilSees is what one pupil sees after a release.
func pupilSees(b *book, r *row) string {
	switch {
	case r.Apart:
		return "nothing: has left"
	case r.HandIn == nil:
		return "nothing, since nothing is handed in"
	case !r.marked():
		return "nothing yet: the marker has not come to it"
	case r.asks() > 0:
		return fmt.Sprintf("%d of %d, with %s still to be looked at", r.total(), b.of(), counted(r.asks(), "part", "parts"))
	}
	return fmt.Sprintf("%d of %d", r.total(), b.of())
}

// missing are the pupils who have not handed in, and how many of them still can.
func (b *book) missing() (list []*row, open int) {
	for i := range b.Rows {
		r := &b.Rows[i]
		if r.HandIn != nil || r.Apart {
			continue
		}
		list = append(list, r)
		if b.Set.Open(r.Pupil, b.Now) {
			open++
		}
	}
	return list, open
}

// missingWords say who has not handed in.
func (x *releaseView) missingWords() string {
	return counted(len(x.Missing), "pupil has", "pupils have") + " not handed in"
}

// openWords say for whom a set is open still, and what a release would mean for them; "" where nobody can hand in.
func (x *releaseView) openWords(b *book) string {
	if x.Open == 0 {
		return ""
	}
	until := "The set is open without an end"
	switch c := b.Set.Closes; {
	case c.IsZero():
	case b.Now.Before(c):
		until = "The set is open until " + when(c, b.Now)
	default:
		until = "The set is open still for those with extra time"
	}
	return fmt.Sprintf("%s: %s hand in, and could learn the answers from the others.", until, counted(x.Open, "pupil can still", "pupils can still"))
}
