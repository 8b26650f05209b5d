package sign_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"steelyard/account"
	"steelyard/store"
	"steelyard/web/browse"
	"steelyard/web/sign"
	"steelyard/web/webtest"
)

// With a device of the browser's own that keeps passkeys (Chromium's WebAuthn domain), a teacher adds one and signs in with it.
func TestATeacherSignsInWithAPasskey(t *testing.T) {
	site := webtest.New(t)
	named := strings.Replace(site.URL, "127.0.0.1", "localhost", 1)
	tab := browse.New(t, browse.Desk)
	tab.KeepPasskeys()
	tab.Cookie(named, sign.Cookie(site.Desk), site.Token(site.Teacher))
	tab.Go(named + "/account")
	tab.Click("Add a passkey")
	tab.See("Remove")
	person, err := site.Store.Person(t.Context(), site.Head.ID)
	if err != nil || len(person.Keys) != 1 {
		t.Fatal(person.Keys, err)
	}
	tab.Click("Sign out")
	tab.See("Sign in as a teacher")
	tab.Go(named + "/sign-in")
	tab.Click("Sign in with a passkey")
	tab.Wait(`location.pathname == "/today"`)
	tab.Go(named + "/account")
	tab.See("Vera Orlando")
	again, err := site.Store.Person(t.Context(), site.Head.ID)
	if err != nil || again.Keys[0].Record == person.Keys[0].Record {
		t.Error("the use of the passkey was not kept", err)
	}

	tab.Click("Remove")
	tab.SeeNot("Remove")
	tab.Click("Sign out")
	tab.Go(named + "/sign-in")
	tab.Forgive("status of 422")
	tab.Click("Sign in with a passkey")
	tab.See("opens no account here")
}

func TestPasskeysNeedANameInTheAddress(t *testing.T) {
	site := webtest.New(t)
	tab := browse.New(t, browse.Desk)
	tab.Cookie(site.URL, sign.Cookie(site.Desk), site.Token(site.Teacher))
	tab.Go(site.URL + "/account")
	tab.See("on this computer, open http://localhost:")
	tab.SeeNot("Add a passkey")
}

func TestTheFirstTeacherFollowsTheLink(t *testing.T) {
	site := webtest.New(t)
	for _, w := range []browse.Window{browse.Phone, browse.Desk.WithoutScript()} {
		link, err := sign.Invite(t.Context(), site.Desk, store.By{At: site.Clock.Now()}, account.Teacher, site.Clock.Now().Add(time.Hour))
		if err != nil {
			t.Fatal(err)
		}
		tab := browse.Open(t, w, link)
		if w.NoScript { // then it is typed
			_, code, _ := strings.Cut(link, "#")
			tab.Fill("Code of the invitation", strings.ToLower(code))
		} else if address := browse.Eval[string](tab, "location.href"); strings.Contains(address, "#") {
			t.Error("the code stays in the address:", address)
		}
		tab.Fill("Your name", "Jonas Brandt")
		tab.Fill("Name to sign in with", "jonas."+w.Name)
		tab.Fill("Password", "gravel otter teapot nine")
		if !w.NoScript {
			tab.Click("Show what I type")
			tab.Wait(`document.getElementById("password").type == "text"`)
		}
		tab.Click("Make the account")
		tab.Go(site.URL + "/account")
		tab.See("Jonas Brandt")
		tab.SeeNot("History")
	}
}

// Two minutes before a session ends the page says so, and it can go on; when it has ended, what was typed stays.
func TestAWarningComesBeforeASessionEnds(t *testing.T) {
	site := webtest.New(t)
	tab := browse.New(t, browse.Desk)
	tab.Cookie(site.URL, sign.Cookie(site.Desk), site.Token(site.Teacher))
	tab.Go(site.URL + "/account")
	tab.Fill("Your name", "Vera O.")
	site.Clock.Pass(29 * time.Minute)
	// The page asks after a minute: the test does not wait for that.
	browse.Eval[bool](tab, `import(document.querySelector("script[src*='session.js']").src + "?now").then((m) => m.look()).then(() => true)`)
	tab.See("signed out in about a minute")
	tab.Shot("session-warning")
	tab.Click("Stay signed in")
	tab.SeeNot("signed out in about")
	site.Clock.Pass(29 * time.Minute)
	site.Teacher.Get("/account").Want(200)
	site.Clock.Pass(31 * time.Minute)
	tab.Forgive("status of 401")
	browse.Eval[bool](tab, `import(document.querySelector("script[src*='session.js']").src + "?later").then((m) => m.look()).then(() => true)`)
	tab.See("You are signed out")
	if tab.Field("Your name").Value != "Vera O." {
		t.Error("what was typed is gone")
	}
}

// Every page of this room is looked at in every window, light and dark, and in the pupils' settings.
func TestPagesCanBeReadAndPressed(t *testing.T) {
	browse.Hold(t)
	site := webtest.New(t)
	site.AddTeacher("Jonas Brandt")
	closed, _ := site.AddTeacher("Mira Castellan-Oyelaran")
	closed.Ended = site.Clock.Now()
	if err := site.Store.SavePerson(t.Context(), store.By{Role: account.Head, Who: site.Head.ID, At: site.Clock.Now()}, closed, ""); err != nil {
		t.Fatal(err)
	}
	if err := site.Store.AddPasskey(context.Background(), store.By{Role: account.Head, Who: site.Head.ID, At: site.Clock.Now()}, site.Head.ID, account.Passkey{ID: "k", Record: "{}", Label: "Firefox on Windows", Made: site.Clock.Now()}); err != nil {
		t.Fatal(err)
	}
	pages := []struct {
		path, name string
		who        *webtest.Client
	}{{"/", "welcome", nil}, {"/sign-in", "teacher", nil}, {"/sign-in/pupil", "pupil", nil}, {"/first", "first", nil}, {"/kept", "kept", site.Pupils[0]},
		{"/account", "account", site.Teacher}, {"/account", "account-pupil", site.Pupils[0]}, {"/people", "people", site.Teacher}, {"/history", "history", site.Teacher}, {"/nowhere", "nowhere", nil}}
	for _, w := range []browse.Window{browse.Phone, browse.Tablet, browse.Desk, browse.Phone.InDark(), browse.Desk.InDark()} {
		t.Run(w.Name, func(t *testing.T) {
			for _, p := range pages {
				tab := browse.New(t, w)
				tab.Forgive("status of 404")
				if p.who != nil {
					tab.Cookie(site.URL, sign.Cookie(site.Desk), site.Token(p.who))
				}
				tab.Go(site.URL + p.path)
				tab.Check()
				tab.Shot("sign-" + p.name)
				tab.Close()
			}
		})
	}
}
