package browse_test

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"slices"
	"strings"
	"testing"

	"steelyard/web/browse"
)

// The file is that of the package axe-core 4.14.1 in the npm registry, axe.min.js, unchanged.
func TestAxeIsTheFileThatWasTaken(t *testing.T) {
	b, err := os.ReadFile("testdata/axe.js")
	if err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(b)
	if got := hex.EncodeToString(sum[:]); got != "29348999450cdf2849a8e70b7912fc2da85a849da39c0d0d5394f51d4a9ed95c" {
		t.Errorf("testdata/axe.js has changed: its SHA-256 is %s", got)
	}
}

const form = `<!DOCTYPE html><html lang="en"><head><meta name="viewport" content="width=device-width"><title>Form</title></head><body><main><h1>Form</h1>
<form action="/sent"><label for="n">Name</label> <input id="n" name="n"><label>Kind <select name="k"><option>rest<option>hinge</select></label>
<label><input type="checkbox" name="c" value="yes"> Remember it</label><button>Send it</button></form>
<p id="out"></p><div id="grip" tabindex="0" role="slider" aria-label="Load K" aria-valuenow="0"></div></main>
<link rel="stylesheet" href="/s.css"><script src="/s.js"></script></body></html>`

func serve(t *testing.T, pages map[string]string) string {
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Security-Policy", "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src 'self' data:; form-action 'self'")
		if strings.HasSuffix(r.URL.Path, ".js") {
			w.Header().Set("Content-Type", "text/javascript")
		} else if strings.HasSuffix(r.URL.Path, ".css") {
			w.Header().Set("Content-Type", "text/css")
		} else {
			w.Header().Set("Content-Type", "text/html; charset=utf-8")
		}
		body, ok := pages[r.URL.Path]
		if r.URL.Path == "/sent" {
			body, ok = fmt.Sprintf("<!DOCTYPE html><html lang=en><title>Sent</title><main><h1>Sent</h1><p>%s, %s, %s</p></main>", r.FormValue("n"), r.FormValue("k"), r.FormValue("c")), true
		}
		if !ok {
			w.WriteHeader(http.StatusNoContent)
		}
		w.Write([]byte(body))
	}))
	t.Cleanup(s.Close)
	return s.URL
}

var pages = map[string]string{
	"/":      form,
	"/s.css": `#grip { width: 44px; height: 44px; background: #333; touch-action: none; } input, button, select { min-height: 2rem; }`,
	"/s.js": `const g = document.getElementById("grip"), out = document.getElementById("out"); let from;
g.addEventListener("pointerdown", (e) => { from = e.clientX; g.setPointerCapture(e.pointerId); });
g.addEventListener("pointerup", (e) => { out.textContent = "moved " + Math.round(e.clientX - from) + " by " + e.pointerType; });
g.addEventListener("keydown", (e) => { out.textContent = e.key + (e.ctrlKey ? " with control" : ""); });
window.addEventListener("online", () => { out.textContent = "online"; }); window.addEventListener("offline", () => { out.textContent = "offline"; });`,
	"/faulty": `<!DOCTYPE html><html lang="en"><head><meta name="viewport" content="width=device-width"><title>Faulty</title><link rel="stylesheet" href="/f.css"></head><body><main><h1>Faulty</h1><button></button><input>
<p class="wide">x</p><p class="near"><button class="tiny">a</button><button class="tiny">b</button></p><p style="color:red">inline</p><script>1</script><script src="/e.js"></script></main></body></html>`,
	"/f.css": `.wide { width: 900px; } .tiny { width: 10px; height: 10px; padding: 0; border: 0; font-size: 5px; } .near { line-height: 1 }`,
	"/e.js":  `throw new Error("planted")`,
}

func TestAPersonFillsInAFormByItsWords(t *testing.T) {
	browse.Hold(t)
	at := serve(t, pages)
	for _, w := range []browse.Window{browse.Desk, browse.Phone, browse.Phone.WithoutScript()} {
		t.Run(w.Name, func(t *testing.T) {
			tab := browse.Open(t, w, at+"/")
			tab.Fill("Name", "first")
			tab.Fill("Name", "μ = 0.3")
			tab.Choose("Kind", "hinge")
			tab.Click("Remember it")
			tab.Click("Send it")
			tab.See("μ = 0.3, hinge, yes")
			if got := tab.Address(); !strings.HasPrefix(got, "/sent?") {
				t.Errorf("at %s", got)
			}
		})
	}
}

func TestThingsAreDraggedAndKeysPressed(t *testing.T) {
	browse.Hold(t)
	at := serve(t, pages)
	for w, by := range map[browse.Window]string{browse.Desk: "mouse", browse.Phone: "touch"} {
		tab := browse.Open(t, w, at+"/")
		tab.Drag("#grip", 60, 5)
		tab.See("moved 60 by " + by)
		tab.TabTo("Load K")
		tab.Keys("Right")
		tab.See("ArrowRight")
		tab.Keys("Ctrl+z")
		tab.See("z with control")
		tab.Offline(true)
		tab.See("offline")
		tab.Offline(false)
		tab.See("online")
		tab.Check()
	}
}

func TestFaultsOfAPageAreFound(t *testing.T) {
	tab := browse.Open(t, browse.Phone, serve(t, pages)+"/faulty")
	all := strings.Join(slices.Concat(tab.Axe(), tab.Layout(), tab.Faults()), "\n")
	for _, want := range []string{"button-name", "label", "scrolls sideways", "target of 10 x 10", "style-src", "script-src", "planted"} {
		if !strings.Contains(all, want) {
			t.Errorf("%s was not found among:\n%s", want, all)
		}
	}
}
