package sign

import (
	"context"
	"errors"
	"net/http"
	"strings"

	"golang.org/x/text/unicode/norm"

	"steelyard/account"
	"steelyard/store"
	"steelyard/web/page"
)

// welcome is the first page: two ways in, or on to where one works.
func (d *room) welcome(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	if v.Signed() {
		return page.Go(w, r, home(v.Role))
	}
	return send(w, r, v, http.StatusOK, page.Page{Title: "Welcome", Bare: true, Body: welcome()})
}

// A teacherPage is the form with which teachers sign in.
type teacherPage struct {
	Login, Password page.Field
	To              string
}

func teacherFields(login string) teacherPage {
	return teacherPage{
		Login:    page.Field{Name: "login", Label: "Name to sign in with", Value: login, Autocomplete: "username webauthn", Need: true, Most: 64},
		Password: page.Field{Name: "password", Label: "Password", Type: "password", Autocomplete: "current-password", Need: true, Most: account.PasswordMost},
	}
}

func (d *room) teacherForm(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	if v.Signed() {
		return page.Go(w, r, home(v.Role))
	}
	p := teacherFields("")
	p.To = within(r.URL.Query().Get("to"), "")
	return d.sendTeacher(w, r, v, http.StatusOK, p)
}

func (d *room) sendTeacher(w http.ResponseWriter, r *http.Request, v *page.Viewer, status int, p teacherPage) error {
	return send(w, r, v, status, page.Page{Title: titled("Sign in as a teacher", p.Login, p.Password), Here: "sign-in", Body: teacherIn(p)})
}

// readLogin reads a name to sign in with.
func readLogin(typed string) string {
	return strings.ToLower(norm.NFC.String(strings.TrimSpace(typed)))
}

// teacherIn checks a password. What is answered, and how long that takes, is the same for a wrong password, a name
// that nobody has and a closed account.
func (d *room) teacherIn(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	p := teacherFields(r.PostFormValue("login"))
	p.To = within(r.PostFormValue("to"), "")
	login, password := readLogin(p.Login.Value), r.PostFormValue("password")
	if p.Login.Fault, p.Password.Fault = missing(login, "type your name"), missing(password, "type your password"); p.Login.Fault+p.Password.Fault != "" {
		return d.sendTeacher(w, r, v, http.StatusUnprocessableEntity, p)
	}
	now, at := d.Now(), account.Target{What: "teacher " + login, Pace: account.OfTeacher}
	from := account.Target{What: "teachers from " + addressOf(r), Pace: account.OfAddress}
	if h := d.tries.Holds(now, at, from); h != (account.Hold{}) {
		return d.holdTeacher(w, r, v, p, h)
	}
	person, err := d.Store.PersonByLogin(r.Context(), login)
	if unless(err, store.ErrNotFound) != nil {
		return err
	}
	if !person.Ended.IsZero() {
		person.Hash = ""
	}
	match, rehash, err := account.MatchPassword(r.Context(), person.Hash, password)
	if err != nil {
		return err
	}
	if h, _ := d.tries.Judge(now, match, at, from); h != (account.Hold{}) {
		return d.holdTeacher(w, r, v, p, h)
	}
	if !match {
		d.noteWrong(r, person.ID)
		p.Password.Fault = "name and password do not go together: type both again"
		return d.sendTeacher(w, r, v, http.StatusUnprocessableEntity, p)
	}
	d.tries.Forget(at.What)
	if rehash {
		if person.Hash, err = account.HashPassword(r.Context(), password); err != nil {
			return err
		}
		if err := d.Store.SavePerson(r.Context(), store.By{At: now}, person, ""); err != nil {
			return err
		}
	}
	if err := d.start(w, r, person.Role, person.ID); err != nil {
		return err
	}
	return page.Go(w, r, within(p.To, home(person.Role)))
}

func (d *room) holdTeacher(w http.ResponseWriter, r *http.Request, v *page.Viewer, p teacherPage, h account.Hold) error {
	p.Password.Fault = slowed(w, h.Wait)
	if h.Locked {
		p.Password.Fault = "there were too many wrong passwords: sign in with a passkey, or come back after a day"
	}
	return d.sendTeacher(w, r, v, http.StatusTooManyRequests, p)
}

// noteWrong keeps a wrong password in the history of the account, if there is one, and lets nobody wait for that: the
// time would tell whether there is.
func (d *room) noteWrong(r *http.Request, person string) {
	if person == "" {
		return
	}
	ctx, by := context.WithoutCancel(r.Context()), store.By{At: d.Now()}
	go func() {
		if err := d.Store.Note(ctx, by, "wrong password", person); err != nil {
			d.Log.WarnContext(ctx, "noting a wrong password", "err", err)
		}
	}()
}

func missing(value, fault string) string {
	if strings.TrimSpace(value) == "" {
		return fault
	}
	return ""
}

// out ends the session, and what the browser has kept for us: drafts, pictures.
func (d *room) out(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	if err := unless(d.Store.EndSession(r.Context(), d.By(v), v.Session), store.ErrNotFound); err != nil {
		return err
	}
	w.Header().Set("Clear-Site-Data", `"cache", "storage"`)
	http.SetCookie(w, d.cookie(Cookie(d.Desk), "", -1))
	return page.Go(w, r, "/")
}

// left says how many seconds the session still lasts, for the page to warn before it ends. To ask by GET does not count
// as using it; to ask by POST does.
func (d *room) left(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, err := d.Store.Session(r.Context(), v.Session)
	if errors.Is(err, store.ErrNotFound) {
		return page.NotFound
	}
	if err != nil {
		return err
	}
	if r.Method == http.MethodPost {
		s.Seen = d.Now()
		if err := d.Store.TouchSession(r.Context(), s.Hash, s.Seen); err != nil {
			return err
		}
	}
	return writeJSON(w, http.StatusOK, map[string]int{"seconds": int(s.Left(d.Now()).Seconds())})
}
