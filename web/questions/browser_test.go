package questions_test

import (
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
	shared := site.Teacher.Get("/questions/new")
	_ = shared
	for _, w := range []browse.Window{browse.Phone, browse.Tablet, browse.Desk, browse.Phone.InDark(), browse.Tablet.InDark(), browse.Desk.InDark()} {
		for name, path := range map[string]string{
			"questions": "/questions?level=16-18", "family": "/questions/bank/lock-footbridge", "new": "/questions/new",
			"workbench": address, "versions": address + "/versions/all",
		} {
			tab := signedIn(t, site, w, path)
			if name == "workbench" {
				tab.Wait(`document.getElementById("bench").dataset.ready === "yes"`)
			}
			tab.Check()
			tab.Shot(name + "-" + w.Name)
			tab.Close()
		}
	}
}

func notation(tab *browse.Tab) string { return browse.Eval[string](tab, `document.getElementById("text").value`) }

func ready(tab *browse.Tab) {
	tab.Wait(`document.getElementById("bench").dataset.ready === "yes"`)
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
			metre := browse.Eval[float64](tab, `(() => { const s = document.querySelector(".grips"), m = s.getScreenCTM(), v = s.viewBox.baseVal;
				const a = document.querySelector('[data-thing=P]').getCTM(), b = document.querySelector('[data-thing=Q]').getCTM(); return (b.e - a.e) / 3; })()`)
			tab.Drag(`[data-thing="P"]`, 0.5*metre, 0)
			settled(tab, "support P: rest, on beam at 1.00 m")
			tab.See("P on beam")
			tab.Wait(`document.getElementById("saving").textContent === "Saved"`)
			if got := site.Teacher.Get(address).Want(200).Body; !strings.Contains(got, "support P: rest, on beam at 1.00 m") {
				t.Error("what was dragged isn't saved")
			}
			tab.Shot("dragged-" + w.Name)
			tab.Check()
		})
	}
}
