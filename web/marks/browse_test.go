package marks_test

import (
	"strings"
	"testing"
	"time"

	"steelyard/homework"
	"steelyard/web/browse"
	"steelyard/web/sign"
)

// tab opens a page as the teacher.
func (s *room) tab(t *testing.T, w browse.Window, path string) *browse.Tab {
	t.Helper()
	tab := browse.New(t, w)
	tab.Cookie(s.URL, sign.Cookie(s.Desk), s.Token(s.Teacher))
	tab.Go(s.URL + path)
	return tab
}

// busy is a room with two sets: one before, and one in which much waits.
func busy(t *testing.T) *room {
	s := open(t, "mooring-plank", "choir-riser")
	s.fill(t, 3, 8, "mooring-plank", "choir-riser")
	s.marked(t)
	s.Clock.Pass(time.Minute)
	s.set = s.give(t, "Bridges and planks", "lock-footbridge", "mooring-plank", "choir-riser")
	s.fill(t, 0, 7, "lock-footbridge", "mooring-plank", "choir-riser")
	s.marked(t)
	return s
}

// fill hands the corpus in.
func (s *room) fill(t *testing.T, from, before int, questions ...string) {
	for i := from; i < before; i++ {
		var all []homework.Answer
		for k, q := range questions {
			list := corpus(t, q, k)
			all = append(all, list[(3*i+2)%len(list)]...)
		}
		s.handIn(t, i, all...)
	}
}

// Every page in every window, light and dark: pictures for a person to look at, and what a program can see to be wrong.
func TestPages(t *testing.T) {
	browse.Hold(t)
	s := busy(t)
	s.Teacher.Get(s.path("/queue")).Submit("1 of", nil).Want(200)
	list, err := s.Store.DecisionsOf(t.Context(), s.set.ID)
	must(t, err)
	second := s.Teacher.Get(s.path("/moderate?n=2"))
	for _, w := range []browse.Window{browse.Phone, browse.Tablet, browse.Desk, browse.Phone.InDark(), browse.Tablet.InDark(), browse.Desk.InDark()} {
		tab := s.tab(t, w, "/today")
		for _, p := range []struct{ name, path string }{
			{"today", "/today"}, {"marks", s.path("/marks")}, {"work", s.path("/marks/" + list[0].Pupil)}, {"queue", s.path("/queue")},
			{"moderate", s.path("/moderate?n=2")}, {"second", linkOf(t, second.Body)}, {"release", s.path("/release")}, {"picture", s.path("/picture")},
		} {
			tab.Go(s.URL + p.path)
			tab.Shot("marks-" + p.name)
			tab.Check()
		}
		tab.Close()
	}
}

// linkOf is the address of the first piece of a sample.
func linkOf(t *testing.T, body string) string {
	t.Helper()
	_, rest, ok := strings.Cut(body, `class="button" href="`)
	if !ok {
		t.Fatal("the sample has nothing to mark")
	}
	link, _, _ := strings.Cut(rest, `"`)
	return strings.ReplaceAll(link, "&amp;", "&")
}

// press presses a key in the queue, once the page is whole, knows keys and has the focus there.
func press(tab *browse.Tab, key string) {
	tab.Wait(`document.readyState === "complete" && document.getElementById("queue")?.dataset.keys === "on" &&
		document.getElementById("queue").contains(document.activeElement)`)
	tab.Keys(key)
}

// All of the queue by keys, without touching anything else.
func TestTheQueueByKeyboardOnly(t *testing.T) {
	browse.Hold(t)
	s := open(t, "lock-footbridge")
	for i := range 3 {
		s.handIn(t, i, doubtful("570 N"))
	}
	s.handIn(t, 3, homework.Answer{Item: 0, Part: "a", Answer: "§§ what?", Working: "%% ?"})
	s.marked(t)
	tab := s.tab(t, browse.Desk, s.path("/queue"))
	tab.See("Part 1a", "0 of 4 decided")
	press(tab, "n")
	tab.See("Part 1b", "2 others wrote much the same")
	press(tab, "p")
	tab.See("Part 1a, Brannoc Ferrow")
	press(tab, "r")
	tab.Wait(`document.activeElement.id === "reason"`)
	tab.Keys("Ctrl+a")                      // the program that drives the browser types the r too
	tab.Type("Say it in newton metres, 2.") // the 2 is typed, and decides nothing
	tab.Keys("Escape", "1")
	tab.See("1 of 4 decided", "Kept: part 1a, 1 mark for Brannoc Ferrow")
	press(tab, "a") // none of the others
	tab.Wait(`[...document.querySelectorAll(".alike input[type=checkbox]")].every((b) => !b.checked)`)
	press(tab, "k")
	tab.See("2 of 4 decided", "0 marks for")
	press(tab, "2")
	tab.See("Nothing waits any more", "2 marks for 2 pupils")
	if list := s.decisions(t, 3); len(list) != 1 || list[0].Reason != "Say it in newton metres, 2." {
		t.Errorf("the decision is %+v", list)
	}
	tab.TabTo("Take it back")
	tab.Keys("Enter")
	tab.See("2 of 4 decided", "Part 1b")
	press(tab, "u")
	tab.See("1 of 4 decided")
}

func TestKeysActOnlyInTheQueueAndCanBeSwitchedOff(t *testing.T) {
	browse.Hold(t)
	s := open(t, "lock-footbridge")
	s.handIn(t, 0, doubtful("570 N"))
	s.marked(t)
	tab := s.tab(t, browse.Desk, s.path("/queue"))
	tab.See("Part 1b")
	still := func(when string) {
		t.Helper()
		time.Sleep(300 * time.Millisecond)
		if list := s.decisions(t, 0); len(list) > 0 {
			t.Fatalf("%s a key decided: %+v", when, list)
		}
	}
	tab.Wait(`document.getElementById("queue").dataset.keys === "on"`)
	tab.TabTo("Hide names")
	tab.Keys("2")
	still("outside the queue")
	tab.Click("Keys work here")
	tab.See("Keys are off")
	tab.ClickOn("#queue h2")
	tab.Keys("2")
	still("when keys were off")
	tab.Reload()
	tab.See("Keys are off")
	tab.Click("Keys are off")
	tab.See("Keys work here")
	press(tab, "2") // the focus is in the queue again
	tab.See("Nothing waits any more")
}

func TestTheTableChangesWhileItIsOpenAndCanBePaused(t *testing.T) {
	browse.Hold(t)
	s := open(t, "lock-footbridge")
	tab := s.tab(t, browse.Desk, s.path("/marks"))
	tab.See("0 of 8 pupils handed in")
	tab.Wait(`document.getElementById("pause") !== null`)
	s.handIn(t, 0, corpus(t, "lock-footbridge", 0)[0]...)
	tab.See("1 of 8 pupils handed in")
	tab.Wait(`document.querySelector("#p-` + s.pupils[0].ID + ` .total").textContent === "9"`)
	tab.Click("Pause updates")
	s.handIn(t, 1, doubtful("570 N"))
	s.marked(t)
	time.Sleep(2500 * time.Millisecond)
	tab.See("1 of 8 pupils handed in", "Updates are paused.")
	tab.Click("Go on updating")
	tab.See("2 of 8 pupils handed in")
	tab.Wait(`document.querySelector("#p-` + s.pupils[1].ID + ` .asks") !== null`)
}

func TestWithoutScriptTheQueueIsForms(t *testing.T) {
	browse.Hold(t)
	s := open(t, "lock-footbridge")
	s.handIn(t, 0, doubtful("570 N"))
	s.marked(t)
	tab := s.tab(t, browse.Phone.WithoutScript(), s.path("/queue"))
	tab.See("Part 1b")
	tab.Click("2 of 2")
	tab.See("Nothing waits any more")
	tab.Click("Take it back")
	tab.See("Part 1b")
}

func TestTheClassPictureChangesWhileItIsOpen(t *testing.T) {
	browse.Hold(t)
	s := open(t, "lock-footbridge")
	tab := s.tab(t, browse.Desk, s.path("/picture"))
	tab.See("Nothing that has been handed in is marked yet.")
	tab.Wait(`performance.getEntriesByType("resource").some((e) => /marks.js/.test(e.name))`)
	s.handIn(t, 0, corpus(t, "lock-footbridge", 0)[0]...)
	tab.See("How each part went")
}
