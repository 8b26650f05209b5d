package sign

import (
	"crypto/rand"
	"encoding/base64"
	"encoding/json"
	"errors"
	"net/http"
	"net/netip"
	"net/url"
	"sync"
	"time"

	"github.com/go-webauthn/webauthn/protocol"
	"github.com/go-webauthn/webauthn/webauthn"

	"steelyard/account"
	"steelyard/store"
	"steelyard/web/page"
)

// Ceremonies are the exchanges with a browser that have begun: what was asked is kept here until it is answered, once,
// within five minutes.
type ceremonies struct {
	mu   sync.Mutex
	open map[string]ceremony
}

type ceremony struct {
	data *webauthn.SessionData
	ends time.Time
}

const (
	ceremonyCookie = "asked"
	ceremonyTime   = 5 * time.Minute
	ceremoniesMost = 2000
)

func newCeremonies() *ceremonies { return &ceremonies{open: map[string]ceremony{}} }

// begin keeps what was asked, under a name that nobody can guess.
func (c *ceremonies) begin(data *webauthn.SessionData, now time.Time) (name string) {
	b := make([]byte, 16)
	rand.Read(b)
	name = base64.RawURLEncoding.EncodeToString(b)
	c.mu.Lock()
	defer c.mu.Unlock()
	for other, o := range c.open {
		if !now.Before(o.ends) {
			delete(c.open, other)
		}
	}
	if len(c.open) >= ceremoniesMost {
		clear(c.open)
	}
	c.open[name] = ceremony{data, now.Add(ceremonyTime)}
	return name
}

// end returns what was asked, and forgets it.
func (c *ceremonies) end(name string, now time.Time) *webauthn.SessionData {
	c.mu.Lock()
	defer c.mu.Unlock()
	o := c.open[name]
	delete(c.open, name)
	if !now.Before(o.ends) {
		return nil
	}
	return o.data
}

// host is the host that the browser sees, with its port.
func (d *room) host(r *http.Request) string {
	if secure(d.Desk) {
		if u, err := url.Parse(d.Host); err == nil {
			return u.Host
		}
	}
	return r.Host
}

// noPasskeys says why passkeys can't be used at the address that the browser has; "" if they can.
func (d *room) noPasskeys(r *http.Request) string {
	u := url.URL{Host: d.host(r)}
	if _, err := netip.ParseAddr(u.Hostname()); err != nil {
		return ""
	}
	if u.Hostname() == "127.0.0.1" || u.Hostname() == "::1" {
		return "Passkeys need a name in the address: on this computer, open http://localhost:" + u.Port() + "/ and add one there."
	}
	return "Passkeys need a name in the address; this one is a number."
}

// rules are what is asked of passkeys: that they know whom they sign in, and that their owner is there and has shown it.
func (d *room) rules(r *http.Request) (*webauthn.WebAuthn, error) {
	u := url.URL{Scheme: "http", Host: d.host(r)}
	if secure(d.Desk) {
		u.Scheme = "https"
	}
	return webauthn.New(&webauthn.Config{RPID: u.Hostname(), RPDisplayName: "Steelyard", RPOrigins: []string{u.String()},
		AuthenticatorSelection: protocol.AuthenticatorSelection{ResidentKey: protocol.ResidentKeyRequirementRequired,
			RequireResidentKey: protocol.ResidentKeyRequired(), UserVerification: protocol.VerificationRequired},
		AttestationPreference: protocol.PreferNoAttestation})
}

// A holder is a teacher as the library asks for one.
type holder struct{ account.Person }

func (h holder) WebAuthnID() []byte          { return []byte(h.ID) }
func (h holder) WebAuthnName() string        { return h.Login }
func (h holder) WebAuthnDisplayName() string { return h.Name }
func (h holder) WebAuthnCredentials() (list []webauthn.Credential) {
	for _, k := range h.Keys {
		var c webauthn.Credential
		if json.Unmarshal([]byte(k.Record), &c) == nil {
			list = append(list, c)
		}
	}
	return list
}

// ask sends what is asked of the browser.
func (d *room) ask(w http.ResponseWriter, data *webauthn.SessionData, question any) error {
	c := d.cookie(ceremonyCookie, d.passkeys.begin(data, d.Now()), int(ceremonyTime.Seconds()))
	c.SameSite = http.SameSiteStrictMode
	http.SetCookie(w, c)
	return writeJSON(w, http.StatusOK, question)
}

// asked is what was asked of this browser, once.
func (d *room) asked(w http.ResponseWriter, r *http.Request) *webauthn.SessionData {
	c, err := r.Cookie(ceremonyCookie)
	if err != nil {
		return nil
	}
	http.SetCookie(w, d.cookie(ceremonyCookie, "", -1))
	return d.passkeys.end(c.Value, d.Now())
}

func refuse(w http.ResponseWriter, why string) error {
	return writeJSON(w, http.StatusUnprocessableEntity, map[string]string{"fault": why})
}

const tooLate = "That took too long, or was done already. Try again."

// askPasskey asks the browser to make a passkey for who is signed in.
func (d *room) askPasskey(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	if why := d.noPasskeys(r); why != "" {
		return refuse(w, why)
	}
	person, err := d.Store.Person(r.Context(), v.ID)
	if err != nil {
		return err
	}
	rules, err := d.rules(r)
	if err != nil {
		return err
	}
	var had []protocol.CredentialDescriptor
	for _, c := range (holder{person}).WebAuthnCredentials() {
		had = append(had, c.Descriptor())
	}
	question, data, err := rules.BeginRegistration(holder{person}, webauthn.WithExclusions(had))
	if err != nil {
		return err
	}
	return d.ask(w, data, question.Response)
}

// addPasskey keeps the passkey that the browser made.
func (d *room) addPasskey(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	data := d.asked(w, r)
	if data == nil || string(data.UserID) != v.ID {
		return refuse(w, tooLate)
	}
	person, err := d.Store.Person(r.Context(), v.ID)
	if err != nil {
		return err
	}
	rules, err := d.rules(r)
	if err != nil {
		return err
	}
	made, err := rules.FinishRegistration(holder{person}, *data, r)
	if err != nil {
		d.Log.InfoContext(r.Context(), "passkey not taken", "who", v.ID, "err", why(err))
		return refuse(w, "This passkey could not be taken. Try again, or with another device.")
	}
	record, err := json.Marshal(made)
	if err != nil {
		return err
	}
	key := account.Passkey{ID: base64.RawURLEncoding.EncodeToString(made.ID), Record: string(record), Label: account.Browser(r.UserAgent()), Made: d.Now()}
	if err := d.Store.AddPasskey(r.Context(), d.By(v), v.ID, key); err != nil {
		if errors.Is(err, store.ErrExists) {
			return refuse(w, "This passkey is there already.")
		}
		return err
	}
	return writeJSON(w, http.StatusOK, map[string]string{"to": "/account#passkeys"})
}

// why is the library's reason, which names no person.
func why(err error) string {
	if p, ok := errors.AsType[*protocol.Error](err); ok {
		return p.Type
	}
	return "other"
}

func (d *room) removePasskey(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	err := d.Store.RemovePasskey(r.Context(), d.By(v), v.ID, r.PostFormValue("passkey"))
	if unless(err, store.ErrNotFound) != nil {
		return err
	}
	return page.Go(w, r, "/account#passkeys")
}

// askSignIn asks the browser for any passkey that it has for us: no name is typed, so none can be tried out.
func (d *room) askSignIn(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	if why := d.noPasskeys(r); why != "" {
		return refuse(w, why)
	}
	rules, err := d.rules(r)
	if err != nil {
		return err
	}
	question, data, err := rules.BeginDiscoverableLogin(webauthn.WithUserVerification(protocol.VerificationRequired))
	if err != nil {
		return err
	}
	return d.ask(w, data, question.Response)
}

// passkeyIn signs in whoever's passkey the browser has shown.
func (d *room) passkeyIn(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	data := d.asked(w, r)
	if data == nil {
		return refuse(w, tooLate)
	}
	rules, err := d.rules(r)
	if err != nil {
		return err
	}
	var person account.Person
	var fault error // of the store, not of the passkey
	find := func(_, id []byte) (webauthn.User, error) {
		person, fault = d.Store.Person(r.Context(), string(id))
		if fault == nil && !person.Ended.IsZero() {
			fault = store.ErrNotFound
		}
		return holder{person}, fault
	}
	_, used, err := rules.FinishPasskeyLogin(find, *data, r)
	if unless(fault, store.ErrNotFound) != nil {
		return fault
	}
	if err != nil || used.Authenticator.CloneWarning {
		d.Log.InfoContext(r.Context(), "passkey not taken", "err", why(err))
		return refuse(w, "This passkey opens no account here. Sign in with your name and password.")
	}
	if err := d.notePasskey(r, person, used); err != nil {
		return err
	}
	if err := d.start(w, r, person.Role, person.ID); err != nil {
		return err
	}
	return writeJSON(w, http.StatusOK, map[string]string{"to": within(r.URL.Query().Get("to"), home(person.Role))})
}

// notePasskey keeps how often a passkey was used: a copy of it would fall behind, and so be found out.
func (d *room) notePasskey(r *http.Request, person account.Person, used *webauthn.Credential) error {
	id := base64.RawURLEncoding.EncodeToString(used.ID)
	for _, k := range person.Keys {
		if k.ID != id {
			continue
		}
		record, err := json.Marshal(used)
		if err != nil {
			return err
		}
		k.Record = string(record)
		return d.Store.SavePasskey(r.Context(), person.ID, k)
	}
	return nil
}
