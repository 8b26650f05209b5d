package questions_test

import (
	"fmt"
	"strings"
	"testing"

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
	return tab
}

// beam makes a question from a blank beam and returns its address.
func beam(t *testing.T, site *webtest.Site) string {
	t.Helper()
	p := site.Teacher.Get("/questions/new").Want(200).Submit("Begin with a beam", nil).Want(200)
	return p.Path
}

// Every page of this room in every window, light and dark, without faults.
func TestPagesInEveryWindow(t *testing.T) {
	site := webtest.New(t)
	address := beam(t, site)
	for _, w := range []browse.Window{browse.Phone, browse.Tablet, browse.Desk, browse.Phone.InDark(), browse.Tablet.InDark(), browse.Desk.InDark()} {
		for name, path := range map[string]string{
			"questions": "/questions?level=16-18", "family": "/questions/bank/lock-footbridge", "new": "/questions/new",
			"workbench": address, "versions": address + "/versions/all",
		} {
			tab := signedIn(t, site, w, path)
			if name == "workbench" {
				ready(tab)
			}
			tab.Check()
			tab.Shot(name + "-" + w.Name)
			tab.Close()
		}
	}
}

// The lines of the worked solution and of the slips fit a phone: a line too long breaks, and nothing has to be pushed sideways.
func TestLinesFitAPhone(t *testing.T) {
	site := webtest.New(t)
	tab := signedIn(t, site, browse.Phone, beam(t, site))
	ready(tab)
	tab.Click("Step by step")
	tab.Click("37 slips")
	tab.Wait(`document.querySelector(".slip-line")?.offsetHeight > 0 && document.querySelector(".solution .line [role=math]")?.offsetHeight > 0`)
	tab.Check()
	if wide := browse.Eval[int](tab, `[...document.querySelectorAll(".slip-line, .solution .line > span")].filter((e) => e.scrollWidth > e.clientWidth).length`); wide > 0 {
		t.Errorf("%d lines are wider than the phone", wide)
	}
	tab.Shot("slips-phone")
}

func notation(tab *browse.Tab) string {
	return browse.Eval[string](tab, `document.getElementById("text").value`)
}

// ready waits until the page is drawn for its own width: what is measured before that lies elsewhere afterwards.
func ready(tab *browse.Tab) {
	tab.Wait(`document.getElementById("bench").dataset.ready === "yes"`)
}

// kept waits until what was done is done and saved.
func kept(tab *browse.Tab) {
	tab.Wait(`(() => { const k = JSON.parse(sessionStorage.getItem("bench:" + document.getElementById("bench").dataset.id));
		return k.stack.length > 1 && !k.dirty && k.stack[k.top] === document.getElementById("text").value && document.getElementById("saving").textContent === "Saved"; })()`)
}

func settled(tab *browse.Tab, has string) {
	tab.Wait(`document.getElementById("text").value.includes(` + "`" + has + "`" + `)`)
}

// A support is dragged with the mouse, and a load with a finger: the notation follows, and it is saved by itself.
func TestDragging(t *testing.T) {
	for _, w := range []browse.Window{browse.Desk, browse.Phone} {
		t.Run(w.Name, func(t *testing.T) {
			site := webtest.New(t)
			address := beam(t, site)
			tab := signedIn(t, site, w, address)
			ready(tab)
			metre := (tab.Find(`[data-thing="Q"]`).X - tab.Find(`[data-thing="P"]`).X) / 3
			tab.Drag(`[data-thing="P"]`, 0.5*metre, 0)
			settled(tab, "support P: rest, on beam at 1.00 m")
			tab.See("P on beam")
			kept(tab)
			if got := site.Teacher.Get(address).Want(200).Body; !strings.Contains(got, "support P: rest, on beam at 1.00 m") {
				t.Error("what was dragged isn't saved")
			}
			tab.Shot("dragged-" + w.Name)
			tab.Check()
		})
	}
}

// With the keyboard alone a question is made: from the list to a finished one.
func TestWithTheKeyboardAlone(t *testing.T) {
	site := webtest.New(t)
	tab := signedIn(t, site, browse.Desk, "/questions/new")
	tab.TabTo("Begin with a beam")
	tab.Keys("Enter")
	ready(tab)
	tab.TabTo("rest P")
	tab.Keys("Right", "Right")
	settled(tab, "support P: rest, on beam at 0.60 m")
	tab.Keys("Shift+Right")
	settled(tab, "support P: rest, on beam at 0.61 m")
	tab.Keys("PageUp")
	settled(tab, "support P: rest, on beam at 1.11 m")
	tab.Keys("Home")
	settled(tab, "support P: rest, on beam at 0.00 m")
	tab.Keys("Right", "Right", "Right", "Right")
	settled(tab, "support P: rest, on beam at 0.20 m")
	if got := tab.Focused(); got != "rest P" {
		t.Errorf("the focus is on %q", got)
	}
	tab.Keys("Enter") // to its fields
	if got := tab.Focused(); !strings.Contains(got, "kind") {
		t.Errorf("Enter on a ring leads to %q", got)
	}
	tab.TabTo("what the wording calls it")
	tab.Type("left trestle\n")
	settled(tab, `"left trestle"`)
	tab.Keys("Ctrl+z")
	tab.Wait(`!document.getElementById("text").value.includes("left trestle")`)
	tab.Keys("Ctrl+y")
	settled(tab, `"left trestle"`)
	kept(tab)
	tab.Check()
}

// By single clicks, without any drag, a thing is chosen, placed where the drawing is tapped, changed and added to.
func TestByClicksAlone(t *testing.T) {
	for _, w := range []browse.Window{browse.Desk, browse.Phone} {
		t.Run(w.Name, func(t *testing.T) {
			site := webtest.New(t)
			tab := signedIn(t, site, w, beam(t, site))
			ready(tab)
			tab.ClickOn(`.grip[data-thing="K"]`)
			tab.Wait(`document.getElementById("thing-K").open`)
			tab.ClickOn(`#thing-K button[value="step|K|at|1"]`)
			settled(tab, "load K: weight 500 N, on beam at 1.55 m")
			tab.ClickOn(`#thing-K button.tap`)
			at := tab.Find(`.grip[data-thing="Q"]`)
			tab.ClickAt(at.X, at.Y)
			tab.Wait(`/load K: weight 500 N, on beam at 3\.[45]/.test(document.getElementById("text").value)`)
			tab.ClickOn(`#thing-K button[value="step|K|weight|1"]`)
			settled(tab, "load K: weight 520 N")
			tab.FillIn("#f-K-weight", "0.6 kN")
			tab.Keys("Enter")
			settled(tab, "load K: weight 0.6 kN")
			tab.Choose("A", "force")
			tab.Click("Add")
			settled(tab, "force E: ")
			tab.Wait(`document.getElementById("thing-E").open`)
			tab.Click("Take E away")
			tab.Wait(`!document.getElementById("text").value.includes("force E")`)
			tab.Click("Take back")
			settled(tab, "force E: ")
			tab.Check()
		})
	}
}

// A drag is taken back by Escape while it lasts, and by undo afterwards; what was undone outlives a reload.
func TestTakingBack(t *testing.T) {
	site := webtest.New(t)
	tab := signedIn(t, site, browse.Desk, beam(t, site))
	ready(tab)
	was := notation(tab)
	for i := range 3 {
		tab.Drag(`[data-thing="K"]`, 50, 0)
		tab.Wait(fmt.Sprintf(`JSON.parse(sessionStorage.getItem("bench:" + document.getElementById("bench").dataset.id)).top === %d`, i+1))
	}
	last := notation(tab)
	if last == was {
		t.Fatal("dragging changes nothing")
	}
	for browse.Eval[bool](tab, `!document.getElementById("undo").disabled`) {
		tab.Keys("Ctrl+z")
	}
	tab.Wait(`document.getElementById("text").value.includes("on beam at 1.50 m")`)
	if got := notation(tab); got != was {
		t.Errorf("taken back it is\n%s", got)
	}
	kept(tab)
	tab.Reload()
	ready(tab)
	for browse.Eval[bool](tab, `!document.getElementById("redo").disabled`) {
		tab.Click("Do again")
	}
	tab.Wait("document.getElementById(\"text\").value === " + quote(last))
	// Escape in the middle of a drag
	browse.Eval[bool](tab, `(() => { const g = document.querySelector('[data-thing="Q"]'), r = g.getBoundingClientRect(), s = document.querySelector(".grips"), x = r.x + r.width / 2, y = r.y + r.height / 2;
		const go = (type, x) => (type === "pointerdown" ? g.querySelector(".hit") : s).dispatchEvent(new PointerEvent(type, { bubbles: true, pointerId: 1, clientX: x, clientY: y, button: 0, isPrimary: true }));
		SVGElement.prototype.setPointerCapture = () => {};
		go("pointerdown", x); go("pointermove", x - 40); go("pointermove", x - 80); return true; })()`)
	tab.Wait("document.getElementById(\"text\").value !== " + quote(last))
	tab.Keys("Escape")
	tab.Wait("document.getElementById(\"text\").value === " + quote(last) + " && !document.querySelector('.grip.held')")
}

// hands gives a page's test hands of its own (down, move and lift, at so many metres from a ring) and a line that holds
// what is asked of the server until go is called.
const hands = `(() => {
	SVGElement.prototype.setPointerCapture = () => {};
	const ring = (thing) => document.querySelector('.grip[data-thing="' + thing + '"]').getBoundingClientRect();
	const middle = (r) => r.x + r.width / 2;
	let metre = 0, from = 0, high = 0;
	const tell = (type, at) => document.querySelector(".grips").dispatchEvent(new PointerEvent(type, { bubbles: true, pointerId: 1, clientX: at, clientY: high, button: 0, isPrimary: true }));
	window.down = (thing) => { metre = (middle(ring("Q")) - middle(ring("P"))) / 3; const r = ring(thing); from = middle(r); high = r.y + r.height / 2; tell("pointerdown", from); };
	window.move = (m) => tell("pointermove", from + m * metre);
	window.lift = (m) => tell("pointerup", from + m * metre);
	window.where = (thing) => middle(ring(thing));
	const ask = window.fetch, held = [];
	window.came = 0;
	window.fetch = async (...a) => {
		if (!a[0].endsWith("/look")) return ask(...a);
		await new Promise((on) => held.push(on));
		const r = await ask(...a);
		setTimeout(() => window.came++, 0); // by then it is dealt with: what follows an answer takes microtasks only
		const all = await r.text();
		return new Response(all, r);
	};
	window.waits = () => held.length;
	window.go = () => held.shift()();
	return true;
})()`

// drawn is a page of a new beam, with hands.
func drawn(t *testing.T) *browse.Tab {
	t.Helper()
	site := webtest.New(t)
	tab := signedIn(t, site, browse.Desk, beam(t, site))
	ready(tab)
	browse.Eval[bool](tab, hands)
	return tab
}

// A busy browser leaves out moves: the place where the finger is lifted counts all the same.
func TestWhereTheFingerIsLifted(t *testing.T) {
	tab := drawn(t)
	browse.Eval[bool](tab, `(down("P"), move(0.2), lift(0.5), true)`)
	tab.Wait("waits() > 0")
	for browse.Eval[int](tab, "waits()") > 0 {
		browse.Eval[bool](tab, "(go(), true)")
	}
	settled(tab, "support P: rest, on beam at 1.00 m")
}

// What was asked before a hand takes hold is answered while it holds: the ground keeps still, and nothing is lost.
func TestAnAnswerWhileAHandHolds(t *testing.T) {
	tab := drawn(t)
	tab.FillIn("#text", strings.Replace(notation(tab), "length 4.00 m", "length 6.00 m", 1))
	tab.Wait("waits() === 1")
	was := browse.Eval[float64](tab, `(down("P"), where("Q"))`)
	browse.Eval[bool](tab, "(go(), true)")
	tab.Wait("came === 1")
	if is := browse.Eval[float64](tab, `where("Q")`); is != was {
		t.Errorf("under the hand the ground moves from %.1f to %.1f", was, is)
	}
	browse.Eval[bool](tab, `(move(0.5), lift(0.5), true)`)
	tab.Wait("waits() > 0")
	for browse.Eval[int](tab, "waits()") > 0 {
		browse.Eval[bool](tab, "(go(), true)")
	}
	settled(tab, "support P: rest, on beam at 1.00 m")
	if got := notation(tab); !strings.Contains(got, "length 6.00 m") {
		t.Errorf("what was typed is lost:\n%s", got)
	}

	// And a hand that only touches leaves the drawing as it ought to be.
	tab.Wait("waits() === 0")
	tab.FillIn("#text", strings.Replace(notation(tab), "length 6.00 m", "length 8.00 m", 1))
	tab.Wait("waits() === 1")
	came := browse.Eval[int](tab, `(down("P"), go(), came)`)
	tab.Wait(fmt.Sprintf("came > %d", came))
	browse.Eval[bool](tab, `(lift(0), true)`)
	tab.Wait("waits() === 1")
	browse.Eval[bool](tab, "(go(), true)")
	tab.Wait(`[...document.querySelectorAll("#sheet text")].some((t) => t.textContent.includes("8.00"))`)
}

// Two things are moved faster than the server answers: both come to where they were put.
func TestTwoQuickDrags(t *testing.T) {
	tab := drawn(t)
	browse.Eval[bool](tab, `(down("P"), move(0.5), lift(0.5), true)`)
	tab.Wait("waits() > 0")
	browse.Eval[bool](tab, `(down("Q"), move(-0.5), lift(-0.5), true)`)
	for !strings.Contains(notation(tab), "support Q: rest, on beam at 3.00 m") {
		tab.Wait("waits() > 0")
		came := browse.Eval[int](tab, "(go(), came)")
		tab.Wait(fmt.Sprintf("waits() > 0 || came > %d || document.getElementById('text').value.includes('at 3.00 m')", came))
	}
	if got := notation(tab); !strings.Contains(got, "support P: rest, on beam at 1.00 m") {
		t.Errorf("the first is lost:\n%s", got)
	}
}

// Typing moves the drawing; what cannot be read says so at its line, and the last drawing stays.
func TestTyping(t *testing.T) {
	site := webtest.New(t)
	tab := signedIn(t, site, browse.Desk, beam(t, site))
	ready(tab)
	tab.FillIn("#text", strings.Replace(notation(tab), "4.00 m", "6.00 m", 1))
	tab.See("6.00 m")
	tab.Wait(`[...document.querySelectorAll("#sheet text")].some((t) => t.textContent.includes("6.00"))`)
	tab.FillIn("#text", strings.Replace(notation(tab), "rest, on beam at 0.50 m", "rests, on beam at 0.50 m", 1))
	tab.See("Line 5", `"rests" is no kind of support`)
	if !browse.Eval[bool](tab, `document.getElementById("sheet").classList.contains("stale") && !!document.querySelector("#sheet svg path")`) {
		t.Error("the drawing is gone")
	}
	tab.Click("Line 5")
	if got := browse.Eval[string](tab, `(() => { const t = document.getElementById("text"); return t.value.slice(t.selectionStart, t.selectionEnd); })()`); got != "rests" {
		t.Errorf("the link marks %q", got)
	}
	tab.Check()
}

// Without a connection nothing is lost: what was done is saved when it is back, and even after a reload.
func TestALostConnection(t *testing.T) {
	site := webtest.New(t)
	address := beam(t, site)
	tab := signedIn(t, site, browse.Desk, address)
	ready(tab)
	tab.Offline(true)
	tab.FillIn("#text", notation(tab)+"# while away\n")
	tab.Wait(`document.getElementById("saving").textContent.startsWith("Not saved: no connection")`)
	tab.Offline(false)
	kept(tab)
	if !strings.Contains(site.Teacher.Get(address).Body, "# while away") {
		t.Error("what was done without a connection is not saved")
	}
}

// Two windows: the second is told, and can keep both.
func TestAClashOnThePage(t *testing.T) {
	site := webtest.New(t)
	address := beam(t, site)
	tab := signedIn(t, site, browse.Desk, address)
	ready(tab)
	ask(t, site.Teacher, address+"/save", object{"text": notation(tab) + "# theirs\n", "version": 1}, nil)
	tab.FillIn("#text", notation(tab)+"# mine\n")
	tab.Forgive("409")
	tab.See("changed somewhere else")
	tab.Click("Take the other one")
	settled(tab, "# theirs")
	tab.Keys("Ctrl+z")
	settled(tab, "# mine")
	kept(tab)
	if got := site.Teacher.Get(address).Body; !strings.Contains(got, "# mine") {
		t.Error("what was taken back is not saved")
	}
}

// A computer without scripts gets forms.
func TestABrowserWithoutScript(t *testing.T) {
	site := webtest.New(t)
	address := beam(t, site)
	tab := signedIn(t, site, browse.Phone.WithoutScript(), address)
	tab.Click("Rest P")
	tab.ClickOn(`button[value="step|P|at|1"]`)
	tab.See("0.55 m")
	tab.Shot("workbench-noscript")
}
