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
	Unmarked int // parts that the marker has not come to yet
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

// release lets pupils see what the set says they see once marks are released. While something waits it has to be said
// twice.
func (m room) release(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	b, err := m.open(r.Context(), r.PathValue("set"), hidden(r))
	if err != nil {
		return err
	}
	if n := b.asks(); n > 0 && r.FormValue("although") != "yes" {
		return m.releaseAgain(w, r, v, b, http.StatusUnprocessableEntity,
			fmt.Sprintf("%s. Decide first, or say below that you release all the same.", upper(waiting(n))))
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
	case r.HandIn == nil:
		return "nothing, since nothing is handed in"
	case !r.marked():
		return "nothing yet: the marker has not come to it"
	case r.asks() > 0:
		return fmt.Sprintf("%d of %d, with %s still to be looked at", r.total(), b.of(), counted(r.asks(), "part", "parts"))
	}
	return fmt.Sprintf("%d of %d", r.total(), b.of())
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// stillOpen counts the pupils whose extra time runs on after a set's closing.
func stillOpen(b *book) (n int) {
	if b.Set.Closes.IsZero() {
		return 0
	}
	for i := range b.Rows {
		if p := b.Rows[i].Pupil; p.Left.IsZero() && b.Set.Open(p, b.Now) {
			n++
		}
	}
	return n
}
