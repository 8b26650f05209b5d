package show_test

import (
	"fmt"
	"strings"
	"testing"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/store"
	"steelyard/web/browse"
	"steelyard/web/sign"
	"steelyard/web/webtest"
)

// signedIn is a browser of the head's, on a page.
func signedIn(t *testing.T, site *webtest.Site, w browse.Window, path string) *browse.Tab {
	t.Helper()
	tab := browse.New(t, w)
	tab.Cookie(site.URL, sign.Cookie(site.Desk), site.Token(site.Teacher))
	tab.Go(site.URL + path)
	if !w.NoScript {
		tab.Wait(`document.getElementById("show")?.dataset.ready === "yes"`)
	}
	return tab
}

const bridge = "/show/bank/lock-footbridge"

// at waits until the step is shown, and its address is that of the page.
func at(tab *browse.Tab, id string) {
	tab.Wait(fmt.Sprintf(`document.getElementById("step").dataset.id === %q && location.pathname.includes("/%s")`, id, id))
}

// The board and what to say in every window, light and dark, without faults.
func TestPagesInEveryWindow(t *testing.T) {
	site := webtest.New(t)
	projector, old := browse.Window{Name: "projector", Width: 1920, Height: 1080}, browse.Window{Name: "old projector", Width: 1024, Height: 768}
	for _, w := range []browse.Window{browse.Phone, browse.Tablet, browse.Desk, projector, old, browse.Phone.InDark(), browse.Desk.InDark()} {
		for name, path := range map[string]string{
			"start": bridge, "moment": bridge + "/b-4", "numbers": bridge + "/b-11", "answer": bridge + "/b-12", "notes": bridge + "/b-4/notes",
			"ladder": "/show/bank/painters-ladder/a-5", "long": "/show/bank/library-ladder/e-16", "ladder-notes": "/show/bank/painters-ladder/a-11/notes", "plate": "/show/bank/puppet-plate/a-4",
		} {
			tab := signedIn(t, site, w, path)
			tab.Check()
			tab.Shot(name + "-" + w.Name)
			tab.Close()
		}
	}
}

// A long fraction is as large as the lines beside it, and does not need to be scrolled, on both kinds of projector.
func TestLongFractionsAreReadFromTheBack(t *testing.T) {
	site := webtest.New(t)
	for _, w := range []browse.Window{{Name: "projector", Width: 1920, Height: 1080}, {Name: "old projector", Width: 1024, Height: 768}} {
		for _, path := range []string{"bird-table-bracket/a-4", "puppet-plate/a-4", "library-ladder/e-16"} {
			tab := signedIn(t, site, w, "/show/bank/"+path)
			const line = `document.querySelector(".board-lines .long")`
			if size := browse.Eval[float64](tab, `parseFloat(getComputedStyle(`+line+`).fontSize)`); size < 18 {
				t.Errorf("%s, %s: %.1f pixels are too small", w.Name, path, size)
			}
			if over := browse.Eval[float64](tab, line+`.scrollWidth - `+line+`.clientWidth`); over > 1 {
				t.Errorf("%s, %s: it is %.0f pixels too wide", w.Name, path, over)
			}
			tab.Check()
			tab.Shot("long-" + strings.ReplaceAll(path, "/", "-") + "-" + strings.ReplaceAll(w.Name, " ", "-"))
			tab.Close()
		}
	}
}

func TestTurnedWithTheKeyboard(t *testing.T) {
	site := webtest.New(t)
	tab := signedIn(t, site, browse.Desk, bridge)
	tab.Keys("Right")
	at(tab, "points")
	tab.Keys("PageDown")
	at(tab, "a-1")
	tab.Type(" ")
	at(tab, "a-2")
	tab.Keys("PageUp", "Left")
	at(tab, "points")
	tab.Keys("End")
	at(tab, "check-2")
	tab.Keys("Right") // there is no more
	at(tab, "check-2")
	tab.Keys("Home")
	at(tab, "start")
	tab.Back()
	at(tab, "check-2")
	tab.TabTo("Go to step")
	tab.Type("9\n")
	at(tab, "b-2")
	if got := tab.Focused(); got != "Next" {
		t.Errorf("after a jump the focus is on %q", got)
	}
	tab.TabTo("All steps")
	tab.Keys("Enter")
	tab.TabTo("Answer to (b)")
	tab.Keys("Enter")
	at(tab, "b-12")
	tab.See("19 of") // of the list it has closed
	tab.Check()
}

func TestTurnedWithTheMouse(t *testing.T) {
	site := webtest.New(t)
	tab := signedIn(t, site, browse.Desk, bridge+"/b-2")
	tab.Click("Next")
	at(tab, "b-3")
	tab.Click("Back")
	at(tab, "b-2")
	tab.Click("All steps")
	tab.Click("The two sides balance")
	at(tab, "b-6")
	tab.Reload()
	at(tab, "b-6")
}

func TestTurnedWithAFinger(t *testing.T) {
	site := webtest.New(t)
	tab := signedIn(t, site, browse.Tablet, bridge+"/b-2")
	tab.Drag("#step h1", -200, 10)
	at(tab, "b-3")
	tab.Drag("#step h1", 200, 10)
	at(tab, "b-2")
	tab.Drag("#step h1", 10, -200) // scrolls
	at(tab, "b-2")
	tab.Click("Next")
	at(tab, "b-3")
}

// Without a script all steps are reached by links, and by number.
func TestTurnedWithoutAScript(t *testing.T) {
	site := webtest.New(t)
	tab := signedIn(t, site, browse.Desk.WithoutScript(), bridge)
	tab.Click("Next")
	tab.See("Where everything is", "2 of")
	tab.Fill("Go to step", "10")
	tab.Click("Go there")
	tab.See("The moment of the force at P")
	tab.Click("Back")
	tab.See("Moments about Q")
}

// What is drawn stays with its step until it is rubbed out or wiped off.
func TestDrawnOnTop(t *testing.T) {
	for _, w := range []browse.Window{browse.Desk, browse.Tablet} {
		t.Run(w.Name, func(t *testing.T) {
			site := webtest.New(t)
			tab := signedIn(t, site, w, bridge+"/b-4")
			strokes := func(n int) { tab.Wait(fmt.Sprintf(`document.querySelectorAll(".ink path").length === %d`, n)) }
			tab.Click("Pen")
			tab.Wait(`document.getElementById("told").textContent.startsWith("Pen taken")`)
			tab.Drag("#step .drawing", 60, 30)
			strokes(1)
			at(tab, "b-4") // no swipe
			tab.Shot("pen-" + w.Name)
			tab.Keys("Right")
			at(tab, "b-5")
			strokes(0)
			tab.Keys("Left")
			at(tab, "b-4")
			strokes(1)
			tab.Reload()
			tab.Wait(`document.getElementById("show").dataset.ready === "yes"`)
			strokes(1)
			tab.Click("Rub out")
			tab.Drag("#step .drawing", 5, 5)
			strokes(0)
			tab.Click("Pen")
			tab.Drag("#step .drawing", 60, 30)
			tab.Drag("#step .drawing", -60, 30)
			strokes(2)
			tab.Click("Wipe clean")
			strokes(0)
			tab.Check()
		})
	}
}

// The next step stands ready: turning asks the server for what comes after, not for the step itself.
func TestTheNextStepStandsReady(t *testing.T) {
	site := webtest.New(t)
	tab := signedIn(t, site, browse.Desk, bridge+"/b-3")
	const asked = `performance.getEntriesByType("resource").filter((e) => e.name.endsWith("/b-4")).length`
	tab.Wait(asked + ` === 1`)
	took := browse.Eval[float64](tab, `new Promise((done) => {
		const t = performance.now();
		new MutationObserver(() => requestAnimationFrame(() => done(performance.now() - t))).observe(document.getElementById("show"), { childList: true });
		document.getElementById("on").click();
	})`)
	at(tab, "b-4")
	if n := browse.Eval[int](tab, asked); n != 1 {
		t.Errorf("the step was asked for %d times", n)
	}
	t.Logf("the next step is on screen after %.1f ms", took)
}

// With less motion asked for nothing comes in by itself.
func TestStillWhereLessMotionIsAskedFor(t *testing.T) {
	site := webtest.New(t)
	w := browse.Desk
	w.Still = true
	tab := signedIn(t, site, w, bridge+"/b-3")
	tab.Keys("Right")
	at(tab, "b-4")
	if n := browse.Eval[int](tab, `document.getAnimations().length`); n > 0 {
		t.Errorf("%d animations run", n)
	}
}

// Another teacher's question isn't shown unless it is shared; one that can't be worked out says so.
func TestOnlyWhatOneMayRead(t *testing.T) {
	site := webtest.New(t)
	made := site.Teacher.Get("/questions/new").Want(200).Submit("Begin with a beam", nil).Want(200).Path
	own := strings.Replace(made, "/questions/", "/show/own/", 1)
	site.Teacher.Get(own).Want(200).Has("The arrangement")
	_, other := site.AddTeacher("Jonas Brandt")
	other.Get(own).Want(404)
	site.Pupils[0].Get(own).Want(404)
	site.Teacher.Get(made).Want(200).Follow("Show it, step by step").Want(200).Has("The arrangement")
	site.Teacher.Get("/questions/bank/tea-tins").Want(200).Follow("Show it, step by step").Want(200).Has("The arrangement")
	site.Teacher.Get(bridge + "/nowhere").Want(404)
	site.Teacher.Get("/show/bank/nothing").Want(404)
	site.Teacher.Get(bridge + "?to=999").Want(200).Has("A check")
}

// The board and what to say keep each other at the same step, and show one time.
func TestTwoWindows(t *testing.T) {
	site := webtest.New(t)
	board := signedIn(t, site, browse.Desk, bridge+"/b-3")
	notes := board.Second(browse.Desk, site.URL+bridge+"/b-3/notes")
	notes.Wait(`document.getElementById("show").dataset.ready === "yes"`)
	board.Keys("PageDown")
	at(notes, "b-4")
	notes.See("The weight of the footbridge turns the footbridge anticlockwise about Q", "Next: The moment of the weight of the lock keeper")
	notes.Click("Next")
	at(board, "b-5")
	notes.Click("Start")
	board.Wait(`document.getElementById("run").textContent === "Stop"`)
	board.Wait(`document.getElementById("time").textContent === "0:01"`)
	board.Click("Stop")
	notes.Wait(`document.getElementById("run").textContent === "Start"`)
	notes.Click("To nought")
	board.Wait(`document.getElementById("time").textContent === "0:00"`)
	late := board.Second(browse.Desk, site.URL+bridge+"/start/notes") // opened late, it comes to where the board is
	at(late, "b-5")
	notes.Check()
}

// Whether the talk stops before the arithmetic is part of every address; both windows keep to it.
func TestStopsBeforeTheArithmetic(t *testing.T) {
	site := webtest.New(t)
	tab := signedIn(t, site, browse.Desk, bridge+"/b-1")
	notes := tab.Second(browse.Desk, site.URL+bridge+"/b-1/notes")
	notes.Wait(`document.getElementById("show").dataset.ready === "yes"`)
	both := func(search string) {
		for _, w := range []*browse.Tab{tab, notes} {
			w.Wait(fmt.Sprintf(`location.search === %q && document.getElementById("show")?.dataset.ready === "yes"`, search))
		}
	}
	tab.Keys("Right")
	at(tab, "b-2")
	tab.Click("Stop before the arithmetic of (b)")
	both("?stop=b")
	at(tab, "b-2")
	at(notes, "b-2")
	tab.Keys("End")
	at(tab, "yours")
	tab.See("Now you", "Finish it")
	at(notes, "yours")
	both("?stop=b")
	tab.Check()
	tab.Shot("yours-desk")
	tab.Reload()
	both("?stop=b")
	at(tab, "yours")
	if browse.Eval[bool](tab, `[...document.querySelectorAll(".steps a")].some((a) => a.textContent.includes("Answer to (b)"))`) {
		t.Error("the list of steps still has the answer")
	}
	tab.Click("Show the whole of it")
	both("")
	tab.Wait(`document.getElementById("step").dataset.id !== "yours"`)
}

func TestStopsWithoutAScript(t *testing.T) {
	site := webtest.New(t)
	tab := signedIn(t, site, browse.Desk.WithoutScript(), bridge)
	tab.Click("Stop before the arithmetic")
	tab.Click("Next")
	tab.Fill("Go to step", "7")
	tab.Click("Go there")
	tab.See("Now you")
	tab.Click("Back")
	tab.Click("Show the whole of it")
	tab.See("Stop before the arithmetic")
	for address, leads := range map[string]string{
		"/check-2?stop=first": "/yours", "/b-12?stop=b": "/yours", "/b-3?stop=b": "/b-3", "/yours": "/a-", "/a-2?stop=b": "/a-2", "/b-2?stop=nothing": "/yours",
	} {
		if got := site.Teacher.Get(bridge + address).Want(200).Path; !strings.Contains(got, leads) {
			t.Errorf("%s leads to %s, not %s", address, got, leads)
		}
	}
	site.Teacher.Get(bridge+"/yours?stop=b").Want(200).Has("Now you", "Finish it")
	site.Teacher.Get(bridge + "/yours/notes?stop=b").Want(200).Has("Now it is your turn")
}

func TestFullScreen(t *testing.T) {
	site := webtest.New(t)
	tab := signedIn(t, site, browse.Desk, bridge+"/b-3")
	tab.Click("Full screen")
	tab.Wait(`document.fullscreenElement?.id === "show"`)
	tab.Keys("PageDown")
	at(tab, "b-4")
	tab.See("Leave full screen")
	tab.Shot("full-desk")
	tab.Click("Leave full screen")
	tab.Wait(`!document.fullscreenElement`)
}

// A question of a set is shown as it stands in the set.
func TestOfASet(t *testing.T) {
	site := webtest.New(t)
	set := homework.Set{ID: store.NewID(), Class: site.Class.ID, Title: "Bridges", Items: []homework.Item{{Question: "bank:tea-tins", Text: twoRests}}}
	if err := site.Store.AddSet(t.Context(), store.By{Role: account.Head, Who: site.Head.ID, At: site.Clock.Now()}, set); err != nil {
		t.Fatal(err)
	}
	site.Teacher.Get("/sets/"+set.ID).Want(200).Follow("Show it, step by step").Want(200).Has("A board of our own", "The arrangement")
	site.Teacher.Get("/show/set/" + set.ID + "/1/a-1/notes").Want(200).Has("What to say")
	site.Teacher.Get("/show/set/" + set.ID + "/2").Want(404)
	site.Teacher.Get("/show/set/" + set.ID + "/01").Want(404)
	_, other := site.AddTeacher("Jonas Brandt")
	other.Get("/show/set/" + set.ID + "/1").Want(404)
	site.Pupils[0].Get("/show/set/" + set.ID + "/1").Want(404)
}

// Words from right to left, markup, signs of all kinds and very long words are shown as words, and break no page.
func TestWordsOfAllKinds(t *testing.T) {
	site := webtest.New(t)
	const far = "question \"جسر <img src=x onerror=alert(1)> & ']]> 🌉 Überlandleitungsgerüstbefestigungsschraubenlochabdeckung\"\n" +
		"body plank: uniform, length 4.80 m, weight 280 N, \"لوح خشب 🪵\"\nsupport P: rest, on plank at 0.70 m, \"left <b>sill</b> &amp; right\"\n" +
		"support Q: rest, on plank at 3.50 m, \"Überlandleitungsgerüstbefestigungsschraubenlochabdeckung\"\nload K: weight 560 N, on plank at 1.20 m, \"keeper 🧍‍♀️\"\n" +
		"part a: find force P  marks 3  \"Berechne </p><script>R</script> 🤔\"\npart b: find force of plank on Q  marks 1\n"
	set := homework.Set{ID: store.NewID(), Class: site.Class.ID, Title: "<b>Sets</b> 🌉", Items: []homework.Item{{Question: "bank:tea-tins", Text: far}}}
	if err := site.Store.AddSet(t.Context(), store.By{Role: account.Head, Who: site.Head.ID, At: site.Clock.Now()}, set); err != nil {
		t.Fatal(err)
	}
	base := "/show/set/" + set.ID + "/1"
	for _, w := range []browse.Window{browse.Phone, browse.Desk.InDark()} {
		for name, path := range map[string]string{"start": base, "arm": base + "/a-4", "notes": base + "/a-1/notes", "stop": base + "/yours?stop=a"} {
			tab := signedIn(t, site, w, path)
			tab.Check()
			if n := browse.Eval[int](tab, `document.querySelectorAll("#show img, #show b, #step script").length`); n > 0 {
				t.Errorf("%s: %d elements come from a teacher's words", path, n)
			}
			tab.Shot("far-" + name + "-" + w.Name)
			tab.Close()
		}
	}
	for _, file := range []string{"slides.pdf", "script.pdf", "slides.odp", "slides.pptx", "handout.odt", "handout.docx"} {
		site.Teacher.Get("/slides/set/" + set.ID + "/1/" + file).Want(200)
	}
}

const twoRests = "question \"A board of our own\"\nbody board: uniform, length 3.00 m, weight 90 N\n" +
	"support P: rest, on board at 0.50 m\nsupport Q: rest, on board at 2.50 m\nload K: weight 60 N, on board at 1.00 m\npart a: find force P  marks 2\n"
