package sign

import (
	"encoding/json"
	"net/http"
	"strings"
	"time"

	"steelyard/account"
	"steelyard/store"
	"steelyard/web/page"
)

// An accountPage is one's own account: how pages look, where one is signed in and, for teachers, name, password, passkeys.
type accountPage struct {
	Teacher, Head  bool
	Name, Now, New page.Field
	Theme          string
	Large          bool
	Sessions       []sessionRow
	Passkeys       []account.Passkey
	PasskeysHere   string // why passkeys can't be used at this address
}

type sessionRow struct {
	Name, Since, Seen, Mark string
	This                    bool
}

func accountFields() accountPage {
	return accountPage{
		Now: page.Field{Name: "password-now", Label: "Password now", Type: "password", Autocomplete: "current-password", Need: true, Most: account.PasswordMost},
		New: newPassword("password-new", "New password"),
	}
}

func (d *room) account(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	return d.sendAccount(w, r, v, accountFields())
}

func (d *room) sendAccount(w http.ResponseWriter, r *http.Request, v *page.Viewer, p accountPage) error {
	p.Teacher, p.Head = v.Role != account.PupilOf, v.Role == account.Head
	p.Theme, p.Large = v.Theme, v.Large
	if p.Name.Name == "" {
		p.Name = nameField(v.Name)
	}
	sessions, err := d.Store.SessionsOf(r.Context(), v.ID)
	if err != nil {
		return err
	}
	for _, s := range sessions {
		if s.Live(d.Now()) {
			p.Sessions = append(p.Sessions, sessionRow{Name: s.Label, Since: moment(s.Made), Seen: moment(s.Seen), Mark: mark(s.Hash), This: s.Hash == v.Session})
		}
	}
	if p.Teacher {
		person, err := d.Store.Person(r.Context(), v.ID)
		if err != nil {
			return err
		}
		p.Passkeys, p.PasskeysHere = person.Keys, d.noPasskeys(r)
	}
	return send(w, r, v, status(p.Name, p.Now, p.New), page.Page{Title: titled("Your account", p.Name, p.Now, p.New), Here: "account", Body: accountBody(p)})
}

// moment is a time as people write it.
func moment(t time.Time) string { return t.Local().Format("Mon 2 Jan 15:04") }

// mark tells one's sessions apart in a form, without all of the hash.
func mark(hash string) string { return hash[:min(16, len(hash))] }

// saveLook keeps in this browser how pages look.
func (d *room) saveLook(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	var words []string
	if theme := r.PostFormValue("theme"); theme == "light" || theme == "dark" {
		words = append(words, theme)
	}
	if r.PostFormValue("large") != "" {
		words = append(words, "large")
	}
	const year = 365 * 24 * 60 * 60
	http.SetCookie(w, d.cookie(lookCookie, strings.Join(words, "."), year))
	return page.Go(w, r, "/account")
}

// endSession ends one of one's sessions, or all but this.
func (d *room) endSession(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	which := r.PostFormValue("session")
	if which == "others" {
		if err := d.Store.EndSessions(r.Context(), d.By(v), v.ID, v.Session); err != nil {
			return err
		}
		return page.Go(w, r, "/account")
	}
	sessions, err := d.Store.SessionsOf(r.Context(), v.ID)
	if err != nil {
		return err
	}
	for _, s := range sessions {
		if mark(s.Hash) == which {
			if err := unless(d.Store.EndSession(r.Context(), d.By(v), s.Hash), store.ErrNotFound); err != nil {
				return err
			}
		}
	}
	return page.Go(w, r, "/account")
}

func (d *room) saveName(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	p := accountFields()
	p.Name = nameField(r.PostFormValue("name"))
	name := tidy(p.Name.Value)
	if p.Name.Fault = missing(name, "type your name"); p.Name.Fault != "" {
		return d.sendAccount(w, r, v, p)
	}
	person, err := d.Store.Person(r.Context(), v.ID)
	if err != nil {
		return err
	}
	person.Name = name
	if err := d.Store.SavePerson(r.Context(), d.By(v), person, v.Session); err != nil {
		return err
	}
	return page.Go(w, r, "/account")
}

// savePassword changes the password, which ends all other sessions.
func (d *room) savePassword(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	p, now := accountFields(), d.Now()
	person, err := d.Store.Person(r.Context(), v.ID)
	if err != nil {
		return err
	}
	at := account.Target{What: "teacher " + person.Login, Pace: account.OfTeacher}
	if h := d.tries.Holds(now, at); h != (account.Hold{}) {
		p.Now.Fault = slowed(w, h.Wait)
		return d.sendAccount(w, r, v, p)
	}
	match, _, err := account.MatchPassword(r.Context(), person.Hash, r.PostFormValue("password-now"))
	if err != nil {
		return err
	}
	if h, _ := d.tries.Judge(now, match, at); !match || h != (account.Hold{}) {
		p.Now.Fault = "this is not your password now: type it again"
		return d.sendAccount(w, r, v, p)
	}
	fresh := r.PostFormValue("password-new")
	if p.New.Fault = account.CheckPassword(fresh, person.Login, person.Name); p.New.Fault != "" {
		return d.sendAccount(w, r, v, p)
	}
	if person.Hash, err = account.HashPassword(r.Context(), fresh); err != nil {
		return err
	}
	if err := d.Store.SavePerson(r.Context(), d.By(v), person, v.Session); err != nil {
		return err
	}
	return page.Go(w, r, "/account")
}

func writeJSON(w http.ResponseWriter, status int, value any) error {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	return json.NewEncoder(w).Encode(value)
}
