package questions_test

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"steelyard/account"
	"steelyard/web/browse"
	"steelyard/web/webtest"
)

// BenchmarkDragStep is a step of dragging as the page's script asks for it, over the network of this computer: the
// session, the edit, the forces, the picture, its handles and the words.
func BenchmarkDragStep(b *testing.B) {
	for _, name := range []string{"lock-footbridge", "boat-trestle", "orchard-ladder"} {
		b.Run(name, func(b *testing.B) {
			site := webtest.New(b)
			p := site.Teacher.Post("/questions/new", map[string][]string{"from": {"bank:" + name}})
			thing := map[string]string{"lock-footbridge": "K", "boat-trestle": "C", "orchard-ladder": "K"}[name]
			was := p.All("textarea", "id", "text")[0].FirstChild.Data
			sent := make([]string, 3)
			for i := range sent {
				body, err := json.Marshal(object{"text": was, "edit": object{"do": "move", "thing": thing, "what": "at", "x": 1 + 0.1*float64(i)}, "quick": true, "scale": 110, "width": 600})
				if err != nil {
					b.Fatal(err)
				}
				sent[i] = string(body)
			}
			n := 0
			for b.Loop() {
				if n++; n%300 == 0 { // a session has only so many requests a second
					b.StopTimer()
					site.Teacher = site.SignIn(account.Head, site.Head.ID)
					b.StartTimer()
				}
				if got := site.Teacher.Do(http.MethodPost, p.Path+"/look", "application/json", strings.NewReader(sent[n%3])); got.Status != 200 {
					b.Fatal(got.Status, got.Body)
				}
			}
		})
	}
}

// The drawing keeps up with the hand: between a move of the pointer and the drawing that answers it pass few frames.
// How many is written down, not judged: a busy computer has its own pace.
func TestTheDrawingKeepsUp(t *testing.T) {
	site := webtest.New(t)
	tab := signedIn(t, site, browse.Desk, beam(t, site))
	ready(tab)
	got := browse.Eval[[]float64](tab, `(async () => {
		const g = document.querySelector('[data-thing="K"]'), r = g.getBoundingClientRect(), s = document.querySelector(".grips"), out = [];
		SVGElement.prototype.setPointerCapture = () => {};
		const x = r.x + r.width / 2, y = r.y + r.height / 2;
		const go = (type, x) => (type === "pointerdown" ? g.querySelector(".hit") : s).dispatchEvent(new PointerEvent(type, { bubbles: true, pointerId: 1, clientX: x, clientY: y, button: 0, isPrimary: true }));
		go("pointerdown", x);
		for (let i = 1; i <= 30; i++) {
			const was = document.querySelector("#sheet svg:not(.grips)"), from = performance.now();
			go("pointermove", x + 8 * i);
			while (document.querySelector("#sheet svg:not(.grips)") === was && performance.now() - from < 2000) await new Promise(requestAnimationFrame);
			out.push(performance.now() - from);
		}
		go("pointerup", x + 240);
		return out.sort((a, b) => a - b);
	})()`)
	t.Logf("of 30 steps: half within %.0f ms, nine in ten within %.0f ms", got[15], got[27])
	if got[27] >= 2000 {
		t.Error("the drawing does not follow the pointer")
	}
}
