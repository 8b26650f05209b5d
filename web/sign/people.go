package sign

import (
	"net/http"
	"time"

	"steelyard/account"
	"steelyard/store"
	"steelyard/web/page"
)

// invitedFor is how long an invitation may be used.
const invitedFor = 7 * 24 * time.Hour

// A peoplePage lists the teachers' accounts.
type peoplePage struct {
	Open, Closed []personRow
	Link         string // of an invitation just made; shown once
	Till         string
	Word         string
}

type personRow struct {
	account.Person
	You  bool
	When string // since when it is closed
}

func (d *room) people(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	return d.sendPeople(w, r, v, http.StatusOK, peoplePage{})
}

func (d *room) sendPeople(w http.ResponseWriter, r *http.Request, v *page.Viewer, status int, p peoplePage) error {
	people, err := d.Store.People(r.Context())
	if err != nil {
		return err
	}
	for _, person := range people {
		row := personRow{Person: person, You: person.ID == v.ID}
		if person.Ended.IsZero() {
			p.Open = append(p.Open, row)
		} else {
			row.When = person.Ended.Local().Format("2 January 2006")
			p.Closed = append(p.Closed, row)
		}
	}
	return send(w, r, v, status, page.Page{Title: "Colleagues", Here: "account", Crumbs: []page.Crumb{{Name: "Your account", Href: "/account"}}, Body: peopleBody(p)})
}

// invite makes an invitation and shows its link, this once: only its hash is kept.
func (d *room) invite(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	role := account.Teacher
	if r.PostFormValue("role") == string(account.Head) {
		role = account.Head
	}
	ends := d.Now().Add(invitedFor)
	link, err := Invite(r.Context(), d.Desk, d.By(v), role, ends)
	if err != nil {
		return err
	}
	return d.sendPeople(w, r, v, http.StatusOK, peoplePage{Link: link, Till: ends.Local().Format("Monday 2 January, 15:04")})
}

// savePerson changes what a colleague may do, or closes or opens the account. One head stays.
func (d *room) savePerson(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	person, err := d.Store.Person(r.Context(), r.PathValue("person"))
	if err != nil {
		return err
	}
	was := person
	switch r.PostFormValue("do") {
	case "close":
		person.Ended = d.Now()
	case "open":
		person.Ended = time.Time{}
	case "head":
		person.Role = account.Head
	case "teacher":
		person.Role = account.Teacher
	default:
		return page.NotFound
	}
	if person.Role != account.Head || !person.Ended.IsZero() {
		if last, err := d.lastHead(r, person.ID); err != nil || last {
			if err != nil {
				return err
			}
			return d.sendPeople(w, r, v, http.StatusConflict, peoplePage{Word: "Somebody has to stay head of department: make a colleague one first."})
		}
	}
	if err := d.Store.SavePerson(r.Context(), d.By(v), person, ""); err != nil {
		return err
	}
	if person.Role != was.Role { // signed in anew with the new rights
		if err := d.Store.EndSessions(r.Context(), d.By(v), person.ID, ""); err != nil {
			return err
		}
	}
	return page.Go(w, r, "/people")
}

func (d *room) lastHead(r *http.Request, but string) (bool, error) {
	people, err := d.Store.People(r.Context())
	for _, p := range people {
		if p.ID != but && p.Role == account.Head && p.Ended.IsZero() {
			return false, nil
		}
	}
	return true, err
}

// A historyRow is a line of history as a head reads it.
type historyRow struct{ When, Who, What, About string }

// history shows the last things that happened: who changed and who saw what. Pupils are pseudonyms here.
func (d *room) history(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	about := r.URL.Query().Get("about")
	events, err := d.Store.History(r.Context(), about, 300)
	if unless(err, store.ErrNotFound) != nil {
		return err
	}
	people, err := d.Store.People(r.Context())
	if err != nil {
		return err
	}
	names := map[string]string{"": "the program"}
	for _, p := range people {
		names[p.ID] = p.Name
	}
	var rows []historyRow
	for _, e := range events {
		who, ok := names[e.Who]
		if !ok {
			who = e.Role + " " + e.Who
		}
		rows = append(rows, historyRow{When: moment(e.At), Who: who, What: e.What, About: e.About})
	}
	return send(w, r, v, http.StatusOK, page.Page{Title: "History", Here: "account", Crumbs: []page.Crumb{{Name: "Your account", Href: "/account"}}, Body: history(rows, names, about)})
}
