package sign

import (
	"errors"
	"net/http"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"steelyard/account"
	"steelyard/store"
	"steelyard/web/page"
)

// A firstPage is the form that makes an account with the code of an invitation.
type firstPage struct{ Code, Name, Login, Password page.Field }

func (p firstPage) fields() []page.Field { return []page.Field{p.Code, p.Name, p.Login, p.Password} }

func firstFields(r *http.Request) firstPage {
	return firstPage{
		Code:     page.Field{Name: "code", Label: "Code of the invitation", Hint: "Six groups of four, at the end of the link. It works once.", Value: r.PostFormValue("code"), Autocomplete: "one-time-code", Need: true, Most: 60},
		Name:     nameField(r.PostFormValue("name")),
		Login:    page.Field{Name: "login", Label: "Name to sign in with", Hint: "Short, without spaces, such as v.orlando", Value: r.PostFormValue("login"), Autocomplete: "username", Need: true, Most: 64},
		Password: newPassword("password", "Password"),
	}
}

func nameField(value string) page.Field {
	return page.Field{Name: "name", Label: "Your name, as pupils see it", Hint: "Such as Ms Orlando", Value: value, Autocomplete: "name", Need: true, Most: 80}
}

func newPassword(name, label string) page.Field {
	return page.Field{Name: name, Label: label, Hint: "At least 15 characters. Four words that have nothing to do with each other are easy to keep.", Type: "password", Autocomplete: "new-password", Need: true, Most: account.PasswordMost}
}

func (d *room) firstForm(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	return d.sendFirst(w, r, v, firstFields(r))
}

func (d *room) sendFirst(w http.ResponseWriter, r *http.Request, v *page.Viewer, p firstPage) error {
	return send(w, r, v, status(p.fields()...), page.Page{Title: titled("Make your account", p.fields()...), Body: first(p)})
}

// first makes an account with an invitation.
func (d *room) first(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	p, now := firstFields(r), d.Now()
	from := account.Target{What: "invited from " + addressOf(r), Pace: account.OfAddress}
	if h := d.tries.Holds(now, from); h.Wait > 0 {
		p.Code.Fault = slowed(w, h.Wait)
		return d.sendFirst(w, r, v, p)
	}
	code := account.HashToken(account.ReadCode(p.Code.Value))
	in, err := d.Store.Invitation(r.Context(), code)
	if unless(err, store.ErrNotFound) != nil {
		return err
	}
	if err != nil || !now.Before(in.Ends) {
		d.tries.Judge(now, false, from)
		p.Code.Fault = "this code has been used, is over, or is mistyped: ask for a new link"
	}
	person := account.Person{ID: store.NewID(), Name: tidy(p.Name.Value), Login: readLogin(p.Login.Value), Role: in.Role, Made: now}
	password := r.PostFormValue("password")
	p.Name.Fault, p.Login.Fault = missing(person.Name, "type your name"), checkLogin(person.Login)
	p.Password.Fault = account.CheckPassword(password, person.Login, person.Name)
	if status(p.fields()...) != http.StatusOK {
		return d.sendFirst(w, r, v, p)
	}
	if person.Hash, err = account.HashPassword(r.Context(), password); err != nil {
		return err
	}
	switch err := d.Store.UseInvitation(r.Context(), store.By{Role: in.Role, Who: person.ID, At: now}, code, person); {
	case errors.Is(err, store.ErrNotFound):
		p.Code.Fault = "this code has just been used: ask for a new link"
		return d.sendFirst(w, r, v, p)
	case errors.Is(err, store.ErrExists):
		p.Login.Fault = "somebody signs in with this name: take another"
		return d.sendFirst(w, r, v, p)
	case err != nil:
		return err
	}
	if err := d.start(w, r, person.Role, person.ID); err != nil {
		return err
	}
	return page.Go(w, r, home(person.Role))
}

// tidy makes a name of one line, of characters that can be seen.
func tidy(name string) string {
	seen := strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case !unicode.IsPrint(r):
			return -1
		}
		return r
	}, norm.NFC.String(name))
	words := []rune(strings.Join(strings.Fields(seen), " "))
	return string(words[:min(len(words), 80)])
}

func checkLogin(login string) string {
	switch n := utf8.RuneCountInString(login); {
	case n < 2 || n > 64:
		return "take from 2 to 64 characters"
	case strings.ContainsFunc(login, func(r rune) bool { return unicode.IsSpace(r) || !unicode.IsPrint(r) }):
		return "take letters, digits and signs, without spaces"
	}
	return ""
}

// kept says in plain words what is kept about pupils.
func (d *room) kept(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	k, err := d.keptFor(r, v)
	if err != nil {
		return err
	}
	return send(w, r, v, http.StatusOK, page.Page{Title: "What is kept about you", Body: kept(k)})
}

// A keptPage has the end of keeping of a pupil's own class, if a pupil looks.
type keptPage struct{ Till string }

func (d *room) keptFor(r *http.Request, v *page.Viewer) (keptPage, error) {
	if v.Role != account.PupilOf {
		return keptPage{}, nil
	}
	c, err := d.Store.Class(r.Context(), v.Class)
	if err != nil || c.KeepTill.IsZero() {
		return keptPage{}, err
	}
	return keptPage{Till: c.KeepTill.Format("2 January 2006")}, nil
}
