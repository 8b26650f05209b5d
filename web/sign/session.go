package sign

import (
	"context"
	"errors"
	"net/http"
	"strings"
	"time"

	"steelyard/account"
	"steelyard/store"
	"steelyard/web/page"
)

// Cookie is the name of the session's cookie. Browsers take the first only over TLS, for one host and all of its
// addresses; on a computer's own address there is no TLS.
func Cookie(d *page.Desk) string {
	if secure(d) {
		return "__Host-s"
	}
	return "s"
}

func secure(d *page.Desk) bool { return strings.HasPrefix(d.Host, "https://") }

// touchAfter is how old the note of a session's last use may get: not every request writes.
const touchAfter = time.Minute

// Find finds who sends a request. With touch the session counts as used.
func Find(d *page.Desk, r *http.Request, touch bool) (*page.Viewer, error) {
	v := &page.Viewer{Role: account.Visitor}
	look(r, v)
	s, err := sessionOf(d, r)
	if err != nil || s.Hash == "" {
		return v, err
	}
	if err := known(r.Context(), d, s, v); err != nil || !v.Signed() {
		return v, err
	}
	v.Session, v.Started = s.Hash, s.Made
	if now := d.Now(); touch && now.Sub(s.Seen) >= touchAfter {
		if err := unwritten(d.Store.TouchSession(r.Context(), s.Hash, now)); err != nil && !errors.Is(err, store.ErrNotFound) {
			return v, err
		}
	}
	return v, nil
}

// unwritten passes over that nothing can be written just now: a full disk keeps nobody from reading, and a session that is
// not noted as used ends sooner, not later.
func unwritten(err error) error {
	if errors.Is(err, store.ErrFull) || errors.Is(err, store.ErrBusy) {
		return nil
	}
	return err
}

// sessionOf is the live session of a request; one without a hash if there is none. One that is over is ended.
func sessionOf(d *page.Desk, r *http.Request) (account.Session, error) {
	c, err := r.Cookie(Cookie(d))
	if err != nil || len(c.Value) != 43 {
		return account.Session{}, nil
	}
	s, err := d.Store.Session(r.Context(), account.HashToken(c.Value))
	if errors.Is(err, store.ErrNotFound) {
		return account.Session{}, nil
	}
	if err != nil {
		return account.Session{}, err
	}
	if !s.Live(d.Now()) {
		err := unwritten(d.Store.EndSession(r.Context(), store.By{At: d.Now()}, s.Hash))
		if errors.Is(err, store.ErrNotFound) {
			err = nil
		}
		return account.Session{}, err
	}
	return s, nil
}

// known fills in who a session belongs to, as they are now: rights that were taken away are gone at once.
func known(ctx context.Context, d *page.Desk, s account.Session, v *page.Viewer) error {
	if s.Role == account.PupilOf {
		p, err := d.Store.Pupil(ctx, s.Who)
		if err == nil && p.Left.IsZero() {
			v.Role, v.ID, v.Name, v.Class, v.Access = account.PupilOf, p.ID, p.Name, p.Class, p.Access
		}
		return unless(err, store.ErrNotFound)
	}
	p, err := d.Store.Person(ctx, s.Who)
	if err == nil && p.Ended.IsZero() && (p.Role == account.Teacher || p.Role == account.Head) {
		v.Role, v.ID, v.Name = p.Role, p.ID, p.Name
	}
	return unless(err, store.ErrNotFound)
}

func unless(err, but error) error {
	if errors.Is(err, but) {
		return nil
	}
	return err
}

// start signs somebody in: a new session, in place of the one that the browser may have had.
func (d *room) start(w http.ResponseWriter, r *http.Request, role account.Role, who string) error {
	now := d.Now()
	if c, err := r.Cookie(Cookie(d.Desk)); err == nil {
		if err := unless(d.Store.EndSession(r.Context(), store.By{Role: role, Who: who, At: now}, account.HashToken(c.Value)), store.ErrNotFound); err != nil {
			return err
		}
	}
	token, s := account.NewSession(role, who, account.Browser(r.UserAgent()), now)
	if err := d.Store.StartSession(r.Context(), store.By{Role: role, Who: who, At: now}, s); err != nil {
		return err
	}
	http.SetCookie(w, d.cookie(Cookie(d.Desk), token, 0))
	return nil
}

// cookie makes a cookie of ours; most is how long it is kept in seconds: 0 is until the browser closes, below that
// it is removed.
func (d *room) cookie(name, value string, most int) *http.Cookie {
	return &http.Cookie{Name: name, Value: value, Path: "/", HttpOnly: true, Secure: secure(d.Desk), SameSite: http.SameSiteLaxMode, MaxAge: most}
}

// lookCookie holds how pages look in this browser: "dark", "light", "large", with a full stop between.
const lookCookie = "look"

func look(r *http.Request, v *page.Viewer) {
	c, err := r.Cookie(lookCookie)
	if err != nil {
		return
	}
	for _, word := range strings.Split(c.Value, ".") {
		switch word {
		case "light", "dark":
			v.Theme = word
		case "large":
			v.Large = true
		}
	}
}
