package pupil

import (
	"fmt"
	"strings"
	"testing"

	"steelyard/homework"
	"steelyard/web/browse"
)

// tab opens a page as one of the pupils.
func (s *school) tab(t *testing.T, w browse.Window, pupil int, path string) *browse.Tab {
	t.Helper()
	tab := browse.New(t, w)
	tab.Cookie(s.URL, "who", s.pupil[pupil].ID)
	tab.Go(s.URL + path)
	return tab
}

// Every page in every window, light and dark: pictures for a person to look at, and what a program can see to be wrong.
func TestPages(t *testing.T) {
	browse.Hold(t)
	s := open(t)
	set := s.set(nil, "lock-footbridge", "library-ladder", "allotment-gate")
	s.set(func(h *homework.Set) {
		h.Title, h.Opens, h.Closes = "Next week's planks", noon.Add(72*3600e9), noon.Add(144*3600e9)
	}, "tea-tins")
	closed := s.set(func(h *homework.Set) {
		h.Title, h.Opens, h.Closes = "Rods and rules", noon.Add(-48*3600e9), noon.Add(-24*3600e9)
	}, "tea-tins")
	practice := s.set(func(h *homework.Set) {
		h.Title, h.Practice, h.Show, h.Closes = "Tins and planks", true, homework.UsualShow(true), noon.AddDate(1, 0, 0)
	}, "tea-tins", "mooring-plank")
	marked := s.set(func(h *homework.Set) {
		h.Title, h.Items[0].Own = "Over the lock", false
		h.Show = homework.Show{Marks: homework.HandedIn, Feedback: homework.HandedIn, Solution: homework.HandedIn}
	}, "lock-footbridge")
	for pupil := range s.pupil {
		p := s.plain(pupil)
		_, body := p.get("/work/" + marked.ID)
		form := fields(body)
		form.Set("w-0-b", "Moments about Q:\n280*1.1 + 560*2.3 = 2.8 RP\n1596 = 2.8 RP\nRP = 570")
		form.Set("a-0-b", "570 N up")
		form.Set("w-0-c", "RQ = 840 - 540")
		form.Set("a-0-c", "300 N")
		form.Set("w-0-e", "280*1.1 = 560*x")
		form.Set("a-0-e", "0.55 m")
		form.Set("do", "look")
		_, body = p.post("/work/"+marked.ID, form)
		p.post("/work/"+marked.ID+"/hand-in", fields(body))
		for _, id := range []string{set.ID, practice.ID} {
			_, body := p.get("/work/" + id)
			form := fields(body)
			form.Set("w-0-a", "Moments about Q:\n280 x 1.1 + 560*2.3 = 2.8 RP\n= 1596 Nm\n5 6 7")
			form.Set("a-0-a", "1596 Nm clockwise")
			form.Set("w-0-b", "RP = 1596/2.8 so RP = 570")
			form.Set("a-0-b", "570")
			if id == practice.ID {
				form.Set("do", "hint-0-a")
			}
			p.post("/work/"+id, form)
		}
	}
	for _, w := range []browse.Window{browse.Phone, browse.Tablet, browse.Desk, browse.Phone.InDark(), browse.Desk.InDark()} {
		tab := s.tab(t, w, 0, "/work")
		for name, path := range map[string]string{"pupil-list": "/work", "pupil-set": "/work/" + set.ID, "pupil-look": "/work/" + set.ID + "/look", "pupil-closed": "/work/" + closed.ID, "pupil-practice": "/work/" + practice.ID, "pupil-marks": "/work/" + marked.ID + "/marks"} {
			tab.Go(s.URL + path)
			tab.Shot(name)
			tab.Check()
		}
		tab.Close()
	}
}

// narrowest is the window that a page has to fit without moving sideways (WCAG 2.2, 1.4.10).
var narrowest = browse.Window{Name: "narrow", Width: 320, Height: 640, Touch: true}

// saved waits until the page says that everything is with the server.
func saved(tab *browse.Tab) {
	tab.Wait(`/^Saved/.test(document.getElementById("saved").textContent.trim())`)
}

// What is typed is read while it is typed, kept, and there again after a reload. The row of signs puts in what a phone
// hides.
func TestTyping(t *testing.T) {
	browse.Hold(t)
	s := open(t)
	set := s.set(nil, "lock-footbridge", "tea-tins")
	tab := s.tab(t, browse.Phone, 0, "/work/"+set.ID)
	tab.FillIn("#w-0-b", "280 x 1.1 + 560*2.3 = 2.8 RP")
	tab.Find("#rw-0-b math")
	tab.See("1 of 8 parts begun")
	tab.ClickOn(`.signs [aria-label="close bracket"]`)
	tab.Wait(`document.getElementById("w-0-b").value.endsWith("RP)")`)
	tab.Keys("Backspace")
	tab.FillIn("#a-0-b", "570")
	tab.See("No unit yet.")
	tab.Keys("Enter") // goes on to the next field, and sends nothing
	if f := tab.Focused(); !strings.Contains(f, "Working for part c") {
		t.Errorf("after Enter the focus is on %q", f)
	}
	saved(tab)
	tab.Shot("pupil-typing")
	tab.Check()
	if d := s.drafts(set)["0-b"]; d.Answer.Answer != "570" || d.Working != "280 x 1.1 + 560*2.3 = 2.8 RP" {
		t.Errorf("kept %+v", d)
	}
	if n := browse.Eval[int](tab, "localStorage.length"); n != 0 {
		t.Errorf("%d things are left on the device", n)
	}
	tab.Reload()
	if v := tab.Find("#a-0-b").Value; v != "570" {
		t.Errorf("after a reload the answer is %q", v)
	}
}

// The connection goes in the middle of the work and comes back later: what was typed stays on the device, through a
// closed page too, and is sent then.
func TestLostConnection(t *testing.T) {
	browse.Hold(t)
	s := open(t)
	set := s.set(nil, "lock-footbridge")
	tab := s.tab(t, browse.Phone, 0, "/work/"+set.ID)
	tab.Forgive("ERR_")
	tab.Forgive("Failed to load")
	tab.FillIn("#a-0-a", "1 N m")
	saved(tab)
	tab.Offline(true)
	tab.FillIn("#a-0-b", "570 N")
	tab.See("No connection. What you type is kept on this device and will be sent.")
	tab.Shot("pupil-offline")
	tab.Click("Look over and hand in")
	tab.Wait(`!document.querySelector("#work [aria-disabled]")`)
	tab.See("Lock footbridge", "No connection")
	if len(s.drafts(set)) != 1 {
		t.Errorf("%+v", s.drafts(set))
	}
	tab.Offline(false)
	tab.Wait(`document.getElementById("trouble").hidden`)
	saved(tab)
	if d := s.drafts(set)["0-b"]; d.Answer.Answer != "570 N" {
		t.Errorf("%+v", d)
	}
	// The server is away while the page closes: the device keeps it until the page is opened again.
	s.down.Store(true)
	tab.FillIn("#a-0-c", "270 N")
	tab.Wait(`localStorage.length == 1`)
	tab.Go("about:blank")
	s.down.Store(false)
	tab.Go(s.URL + "/work/" + set.ID)
	if v := tab.Find("#a-0-c").Value; v != "270 N" {
		t.Errorf("after coming back the answer is %q", v)
	}
	saved(tab)
	tab.Wait(`localStorage.length == 0`)
	if d := s.drafts(set)["0-c"]; d.Answer.Answer != "270 N" {
		t.Errorf("%+v", d)
	}
}

// A session that has run out loses nothing: after signing in again the list sends what was kept. Handing in takes
// everything off the device.
func TestSignedOut(t *testing.T) {
	browse.Hold(t)
	s := open(t)
	set := s.set(nil, "lock-footbridge")
	tab := s.tab(t, browse.Phone, 0, "/work/"+set.ID)
	tab.Forgive("404")
	tab.Cookie(s.URL, "who", "nobody")
	tab.FillIn("#a-0-b", "570 N")
	tab.See("You have been signed out. What you typed is kept on this device", "Sign in")
	tab.Shot("pupil-signed-out")
	tab.Check()
	tab.Cookie(s.URL, "who", s.pupil[1].ID) // somebody else on the same phone
	tab.Go(s.URL + "/work/" + set.ID)
	if v := tab.Find("#a-0-b").Value; v != "" {
		t.Errorf("another pupil sees %q", v)
	}
	tab.Cookie(s.URL, "who", s.pupil[0].ID)
	tab.Go(s.URL + "/work")
	tab.Wait(`localStorage.length == 0`)
	if d := s.drafts(set)["0-b"]; d.Answer.Answer != "570 N" {
		t.Errorf("%+v", d)
	}
	tab.Click("Planks and bridges")
	tab.Click("Look over and hand in")
	tab.See("Answer, read as 570 N")
	tab.Click("Hand in")
	tab.See("is handed in", "quote your receipt")
	tab.Shot("pupil-receipt")
	tab.Check()
}

// Two windows: what is typed in one comes to the other; what both have changed is asked about.
func TestTwoDevices(t *testing.T) {
	browse.Hold(t)
	s := open(t)
	set := s.set(nil, "lock-footbridge")
	phone := s.tab(t, browse.Phone, 0, "/work/"+set.ID)
	desk := s.tab(t, browse.Desk, 0, "/work/"+set.ID)
	phone.FillIn("#a-0-b", "570 N")
	saved(phone)
	desk.FillIn("#a-0-b", "580 N")
	desk.See("This part was changed in another window or on another device.", "570 N", "Take that", "Keep what is here")
	desk.Shot("pupil-differs")
	desk.Check()
	desk.FillIn("#a-0-c", "270 N") // other parts are kept all the same
	desk.Wait(`localStorage.length == 1`)
	if n := browse.Eval[int](desk, `document.querySelectorAll(".differs").length`); n != 1 {
		t.Errorf("asked %d times", n)
	}
	if d := s.drafts(set)["0-b"]; d.Answer.Answer != "570 N" {
		t.Errorf("%+v", d)
	}
	desk.Click("Keep what is here")
	saved(desk)
	if d := s.drafts(set)["0-b"]; d.Answer.Answer != "580 N" {
		t.Errorf("%+v", d)
	}
	// A phone that was away while the other went on: nothing of either is lost.
	s.down.Store(true)
	phone.Forgive("ERR_")
	phone.FillIn("#w-0-d", "third law")
	phone.See("No connection.")
	phone.Go("about:blank")
	s.down.Store(false)
	s.clock.Add(60)
	desk.FillIn("#w-0-d", "equal and opposite")
	saved(desk)
	phone.Go(s.URL + "/work/" + set.ID)
	phone.See("There it says:", "equal and opposite")
	if v := phone.Find("#w-0-d").Value; v != "third law" {
		t.Errorf("the phone has %q", v)
	}
	phone.Click("Take that")
	saved(phone)
	phone.FillIn("#a-0-b", "580.")
	saved(phone)
	desk.FillIn("#a-0-b", "580 N")
	desk.Click("Keep what is here")
	saved(desk)
	phone.FillIn("#a-0-b", "5")
	phone.Click("Take that")
	phone.Wait(`document.getElementById("a-0-b").value == "580 N"`)
	saved(phone)
}

// With the keyboard alone, from the list to the receipt.
func TestKeyboardOnly(t *testing.T) {
	browse.Hold(t)
	s := open(t)
	set := s.set(nil, "tea-tins")
	tab := s.tab(t, browse.Desk, 0, "/work")
	tab.TabTo("Planks and bridges")
	tab.Keys("Enter")
	tab.See("Two tea tins")
	tab.TabTo("Working for part a")
	tab.Type("0.8*0.26 = M")
	tab.Keys("Tab") // the row of signs is one stop
	tab.Keys("Right", "Right", "Enter")
	tab.Wait(`document.getElementById("w-0-a").value.includes("−")`)
	tab.TabTo("Answer to part a")
	tab.Type("0.21 N m")
	tab.See("Answer, read as 0.21 N m")
	for _, stop := range tab.Walk(60) {
		if !stop.Ring || stop.Covered {
			t.Errorf("the focus on %q is seen: %v, covered: %v", stop.Name, stop.Ring, stop.Covered)
		}
	}
	tab.TabTo("Look over and hand in")
	tab.Keys("Enter")
	tab.See("How", "Answer, read as 0.21 N m")
	tab.TabTo("Hand in")
	tab.Keys("Enter")
	tab.See("is handed in")
	if n := len(s.handIns(set)); n != 1 {
		t.Errorf("%d hand-ins", n)
	}
}

// In practice a line is judged while it is typed.
func TestPracticeInABrowser(t *testing.T) {
	browse.Hold(t)
	s := open(t)
	set := s.set(func(h *homework.Set) { h.Practice, h.Show, h.Items[0].Own = true, homework.UsualShow(true), false }, "lock-footbridge")
	tab := s.tab(t, browse.Phone, 0, "/work/"+set.ID)
	tab.FillIn("#w-0-b", "280*1.1 + 560*1.2 = 2.8 RP")
	tab.See("Look at this line again.")
	tab.FillIn("#w-0-b", "280*1.1 + 560*2.3 = 2.8 RP")
	tab.See("Right.")
	tab.Click("A hint for part b")
	tab.See("1 hint for (b)", "Another hint")
	if v := tab.Find("#w-0-b").Value; v != "280*1.1 + 560*2.3 = 2.8 RP" {
		t.Errorf("after a hint the working is %q", v)
	}
	tab.Check()
}

// Narrow, large, spaced out, without scripts, in forced colours: everything is still there.
func TestOtherWaysToLook(t *testing.T) {
	browse.Hold(t)
	s := open(t)
	s.pupil[1].Access.TextSize = 36
	set := s.set(nil, "lock-footbridge", "allotment-gate")
	for name, w := range map[string]browse.Window{"narrow": narrowest, "plain": browse.Phone.WithoutScript(), "forced": {Name: "forced", Width: 360, Height: 740, Forced: true}} {
		for pupil := range s.pupil {
			for _, path := range []string{"/work", "/work/" + set.ID, "/work/" + set.ID + "/look"} {
				tab := s.tab(t, w, pupil, path)
				if strings.HasSuffix(path, set.ID) {
					tab.Shot(fmt.Sprint("pupil-", name, "-", pupil))
				}
				if w.NoScript || w.Forced { // axe is a script, and takes forced colours for those of the style sheet
					if list := tab.Layout(); len(list) > 0 {
						t.Errorf("%s: %q", path, list)
					}
				} else {
					tab.Check()
				}
				tab.Close()
			}
		}
	}
	tab := s.tab(t, narrowest, 0, "/work/"+set.ID)
	browse.Eval[bool](tab, `(() => { // WCAG 2.2, 1.4.12
		const sheet = new CSSStyleSheet();
		sheet.replaceSync("* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important } p { margin-bottom: 2em !important }");
		document.adoptedStyleSheets = [sheet];
		return true;
	})()`)
	if list := tab.Layout(); len(list) > 0 {
		t.Errorf("with text spaced out: %q", list)
	}
}

// A drawing in large print that is wider than a phone says so, and can be moved with the keyboard; where it fits, nothing
// is said.
func TestADrawingWiderThanThePage(t *testing.T) {
	s := open(t)
	set := s.set(nil, "lock-footbridge")
	s.pupil[1].Access.TextSize = 24
	for _, w := range []browse.Window{browse.Phone, browse.Phone.InDark(), browse.Phone.WithoutScript(), browse.Desk} {
		tab := s.tab(t, w, 1, "/work/"+set.ID)
		wide := browse.Eval[bool](tab, `(() => { const d = document.querySelector(".ask .drawing"); return d.scrollWidth > d.clientWidth + 1; })()`)
		if phone := w != browse.Desk; wide != phone {
			t.Fatalf("%s: the drawing is wider than its box: %v", w.Name, wide)
		}
		tab.Wait(fmt.Sprintf(`document.querySelector(".sideways").checkVisibility() === %v`, wide))
		browse.Eval[bool](tab, `(document.querySelector(".sideways").scrollIntoView(), true)`)
		tab.Shot("pupil-24pt-" + w.Name)
		if !w.NoScript { // axe is a script
			tab.Check()
		}
		if wide {
			tab.TabTo("can be moved sideways")
			tab.Keys("Right", "Right")
			tab.Wait(`document.querySelector(".ask .drawing").scrollLeft > 0`)
		}
		tab.Close()
	}
}
