package pupil_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"steelyard/bank/banktest"
	"steelyard/homework"
	"steelyard/store"
	"steelyard/web/browse"
	"steelyard/web/sign"
	"steelyard/web/webtest"
)

func give(t *testing.T, site *webtest.Site, question string) homework.Set {
	t.Helper()
	ctx, now := context.Background(), site.Desk.Now()
	by := store.By{Role: site.Head.Role, Who: site.Head.ID, At: now}
	h := homework.Set{ID: store.NewID(), Class: site.Class.ID, Title: "Planks", Seed: "spring", Opens: now, Closes: now.Add(24 * time.Hour), Show: homework.UsualShow(false),
		Items: []homework.Item{{Question: "bank:" + question, Text: banktest.Text(t, question), Own: true}}}
	numbers, _, err := homework.Choose(&h, site.Members, nil)
	if err == nil {
		err = site.Store.AddSet(ctx, by, h)
	}
	if err == nil {
		err = site.Store.Give(ctx, by, h.ID, numbers)
	}
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// In the whole program: a session that ends in the middle of the work, signing in again with codes, handing in, and
// signing out, which leaves nothing on the device.
func TestWholeProgram(t *testing.T) {
	site := webtest.New(t)
	set := give(t, site, "lock-footbridge")
	tab := browse.New(t, browse.Phone)
	tab.Forgive("401")
	tab.Forgive("403")
	tab.Cookie(site.URL, sign.Cookie(site.Desk), site.Token(site.Pupils[0]))
	tab.Go(site.URL + "/work/" + set.ID)
	tab.FillIn("#a-0-a", "1596 N m")
	tab.Wait(`/^Saved/.test(document.getElementById("saved").textContent.trim())`)
	site.Clock.Pass(9 * time.Hour)
	tab.FillIn("#a-0-b", "570 N")
	tab.See("You have been signed out. What you typed is kept on this device")
	tab.Within("#trouble").Click("Sign in")
	tab.Fill("Class code", site.Class.Code)
	tab.Fill("Your own code", site.Codes[0])
	tab.ClickOn("main form button")
	tab.See("left to hand in")
	tab.Wait(`!Object.keys(localStorage).length`)
	tab.Click("Planks")
	tab.See("2 of 5 parts begun")
	if v := tab.Find("#a-0-b").Value; v != "570 N" {
		t.Errorf("after signing in again the answer is %q", v)
	}
	tab.Click("Look over and hand in")
	tab.Click("Hand in")
	tab.See("is handed in")
	h, err := site.Store.HandInOf(context.Background(), set.ID, site.Members[0].ID)
	if err != nil || len(h.Answers) != 2 {
		t.Errorf("%+v %v", h, err)
	}
	if log := site.Log.String(); strings.Contains(log, "570 N") || strings.Contains(log, site.Members[0].Name) {
		t.Errorf("the log holds what is personal:\n%s", log)
	}
}

// Somebody else's set, another class's set and one that is still a draft are not there.
func TestOthersSetsAreNotThere(t *testing.T) {
	site := webtest.New(t)
	set := give(t, site, "tea-tins")
	_, others, _ := site.AddClass(site.Head, "10c", "Plover")
	other := site.SignIn("pupil", others[0].ID)
	for _, path := range []string{"/work/" + set.ID, "/work/" + set.ID + "/look", "/work/" + set.ID + "/receipt", "/work/" + set.ID + "/marks", "/work/" + store.NewID()} {
		other.Get(path).Want(404)
	}
	site.Pupils[0].Get("/work/" + set.ID).Want(200).Has("Two tea tins")
	site.Pupils[0].Get("/work/"+set.ID).Submit("Look over", webtest.Values{"Answer to part a": "0.2 N m"}).Want(200).Has("0.2 N m").Submit("Hand in", nil).Has("is handed in")
}

// Without scripts too a session that has ended loses nothing: the page that says so brings back what was typed.
func TestSignedOutWithoutScripts(t *testing.T) {
	site := webtest.New(t)
	set := give(t, site, "tea-tins")
	p := site.Pupils[0]
	work := p.Get("/work/" + set.ID).Want(200)
	site.Clock.Pass(9 * time.Hour)
	lost := work.Submit("Look over", webtest.Values{"Answer to part a": "0.2 N m", "Working for part a": "M = F d\n= 0.2"}).Want(401).Has("Nothing that you typed is lost")
	p.Get("/sign-in/pupil").Submit("Sign in", webtest.Values{"Class code": site.Class.Code, "Your own code": site.Codes[0]}).Want(200)
	lost.Submit("Send it again", nil).Want(200).Has("Look over and hand in", "0.2 N m", "M is equal to F times d")
}

// On a shared phone nobody hands in what somebody else has typed.
func TestAnotherPupilDoesNotSendWhatTheFirstTyped(t *testing.T) {
	site := webtest.New(t)
	set := give(t, site, "tea-tins")
	shared := site.Pupils[0]
	work := shared.Get("/work/" + set.ID).Want(200)
	site.Clock.Pass(9 * time.Hour)
	lost := work.Submit("Look over", webtest.Values{"Answer to part a": "0.2 N m"}).Want(401)
	shared.Get("/sign-in/pupil").Submit("Sign in", webtest.Values{"Class code": site.Class.Code, "Your own code": site.Codes[1]}).Want(200)
	lost.Submit("Send it again", nil).Want(409).Has("Somebody else opened this form")
	if drafts, err := site.Store.Drafts(t.Context(), set.ID, site.Members[1].ID); err != nil || len(drafts) > 0 {
		t.Errorf("the second pupil has drafts %v (%v), want none", drafts, err)
	}
}
