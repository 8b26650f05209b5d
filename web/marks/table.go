package marks

import (
	"fmt"
	"net/http"
	"strconv"
	"time"

	"steelyard/report"
	"steelyard/web/page"
)

// table shows the marks of a set.
func (m room) table(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	b, err := m.open(r.Context(), r.PathValue("set"), hidden(r))
	if err != nil {
		return err
	}
	p := b.page(b.Set.Title+": marks", "", tablePage(b))
	p.Wide = true
	return page.Write(w, r, v, http.StatusOK, p)
}

// A way leads to another page about the same set.
type way struct {
	Name, Href string
	Count      int
}

func ways(b *book) []way {
	list := []way{{"Marks", "/marks", 0}, {"To decide", "/queue", b.asks()}, {"Class picture", "/picture", 0}, {"Second marking", "/moderate", 0}}
	if b.hinted() {
		list = append(list, way{"Hints", "/hints", 0})
	}
	if b.Set.Released.IsZero() {
		return append(list, way{"Release", "/release", 0})
	}
	return append(list, way{"Released", "/release", 0})
}

func (b *book) crumbs(here string) []page.Crumb {
	list := []page.Crumb{{Name: b.Class.Name, Href: "/classes/" + b.Class.ID}, {Name: b.Set.Title, Href: "/sets/" + b.Set.ID}}
	if here != "" {
		list = append(list, page.Crumb{Name: here, Href: "/sets/" + b.Set.ID + "/marks"})
	}
	return list
}

// standing says in a line how a set stands.
func standing(b *book) string {
	s := fmt.Sprintf("%d of %s handed in", b.in(), counted(b.pupils(), "pupil", "pupils"))
	if n := b.apart(); n > 0 {
		s += fmt.Sprintf(", and %s", counted(n, "who has left", "who have left"))
	}
	switch h := &b.Set; {
	case h.Given.IsZero():
		s += "; still a draft"
	case h.Practice:
		s += "; practice: marked at once, and nothing counts"
	case h.Closes.IsZero():
		s += "; open without an end"
	case b.Now.Before(h.Closes):
		s += "; closes " + when(h.Closes, b.Now)
	default:
		s += "; closed " + when(h.Closes, b.Now)
	}
	if !b.Set.Released.IsZero() {
		return s + "; marks released " + when(b.Set.Released, b.Now) + "."
	}
	return s + "; marks not released."
}

// A span is the columns of one question.
type span struct{ Item, Parts int }

func groups(b *book) (list []span) {
	for _, c := range b.Columns {
		if n := len(list); n > 0 && list[n-1].Item == c.Item {
			list[n-1].Parts++
			continue
		}
		list = append(list, span{c.Item, 1})
	}
	return list
}

// came says when a pupil handed in, or why not.
func came(b *book, r *row) string {
	switch {
	case r.HandIn != nil && r.Apart:
		return when(r.HandIn.At, b.Now) + ", has left"
	case r.HandIn != nil && late(b, r):
		return when(r.HandIn.At, b.Now) + ", late"
	case r.HandIn != nil:
		return when(r.HandIn.At, b.Now)
	case r.Drafts && r.Overdue:
		return "begun, not handed in"
	case r.Overdue:
		return "not handed in"
	case r.Drafts:
		return "begun"
	}
	return "–"
}

// late says whether a hand-in came after the set had closed for its pupil.
func late(b *book, r *row) bool {
	closes := b.Set.ClosesFor(r.Pupil)
	return !closes.IsZero() && r.HandIn.At.After(closes)
}

func totalOf(r *row) string {
	switch {
	case r.HandIn == nil && r.total() == 0:
		return "–"
	case !r.marked():
		return strconv.Itoa(r.total()) + " …"
	}
	return strconv.Itoa(r.total())
}

// meanOf is the mean mark of a part, over the pupils who are marked on it.
func meanOf(b *book, column int) string {
	sum, n := 0, 0
	for i := range b.Rows {
		if k, ok := b.Rows[i].Cells[column].marks(); ok && !b.Rows[i].Apart {
			sum, n = sum+k, n+1
		}
	}
	return mean(sum, n)
}

func meanTotal(b *book) string {
	sum, n := 0, 0
	for i := range b.Rows {
		if b.Rows[i].marked() && !b.Rows[i].Apart {
			sum, n = sum+b.Rows[i].total(), n+1
		}
	}
	return mean(sum, n)
}

func mean(sum, n int) string {
	if n == 0 {
		return "–"
	}
	return report.Tenth(float64(sum) / float64(n))
}

// when says a time as people do, in the zone of now.
func when(t, now time.Time) string {
	t = t.In(now.Location())
	y, d := now.Year(), now.YearDay()
	switch {
	case t.Year() == y && t.YearDay() == d:
		return "today " + t.Format("15:04")
	case t.Sub(now).Abs() < 7*24*time.Hour:
		return t.Format("Mon 15:04")
	case t.Year() == y:
		return t.Format("2 Jan 15:04")
	}
	return t.Format("2 Jan 2006")
}

func clock(t time.Time) string { return t.Format("15:04") }

// The words that pages and reports on paper have in common are said in package report.
var counted, upper = report.Counted, report.Upper

// The cookie that hides names lasts as long as the browser is open; it says nothing about anybody.
const hideCookie = "names"

// hidden says whether this teacher marks without names.
func hidden(r *http.Request) bool {
	c, err := r.Cookie(hideCookie)
	return err == nil && c.Value == "hidden"
}

// names hides pupils' names on the pages of marks, or shows them again.
func (m room) names(w http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
	c := &http.Cookie{Name: hideCookie, Path: "/sets/", HttpOnly: true, SameSite: http.SameSiteStrictMode, Secure: r.TLS != nil}
	if r.FormValue("names") == "hide" {
		c.Value = "hidden"
	} else {
		c.MaxAge = -1
	}
	http.SetCookie(w, c)
	to := "marks"
	if r.FormValue("to") == "queue" {
		to = "queue"
	}
	return page.Go(w, r, "/sets/"+r.PathValue("set")+"/"+to)
}

// csvNames keeps names out of a table that is asked for while they are hidden.
func csvNames(b *book) string {
	if b.Hidden {
		return "?names=hidden"
	}
	return ""
}
