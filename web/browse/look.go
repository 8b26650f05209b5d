package browse

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
)

// Text is what the page says, or the part that the tab looks within.
func (tab *Tab) Text() string {
	tab.t.Helper()
	where := tab.within
	if where == "" {
		where = "body"
	}
	return Eval[string](tab, "(document.querySelector("+quote(where)+")?.innerText ?? '')")
}

// Address is that of the page, without its host.
func (tab *Tab) Address() string {
	tab.t.Helper()
	return Eval[string](tab, "location.pathname + location.search")
}

// See waits until the page says all of it, whatever the breaks and capitals.
func (tab *Tab) See(texts ...string) {
	tab.t.Helper()
	for _, text := range texts {
		if !tab.wait(func() bool { return tab.says(text) }) {
			tab.fail("the page does not say %q", text)
		}
	}
}

// SeeNot waits until the page says none of it.
func (tab *Tab) SeeNot(texts ...string) {
	tab.t.Helper()
	for _, text := range texts {
		if !tab.wait(func() bool { return !tab.says(text) }) {
			tab.fail("the page still says %q", text)
		}
	}
}

// Wait waits until the expression of script is true.
func (tab *Tab) Wait(expression string) {
	tab.t.Helper()
	if !tab.wait(func() bool { yes, err := eval[bool](tab, "!!("+expression+")"); return err == nil && yes }) {
		tab.fail("waited in vain for %s", expression)
	}
}

func (tab *Tab) wait(ready func() bool) bool {
	for began := time.Now(); time.Since(began) < patience; time.Sleep(25 * time.Millisecond) {
		if ready() {
			return true
		}
	}
	return false
}

func (tab *Tab) says(text string) bool {
	where := tab.within
	if where == "" {
		where = "body"
	}
	got, err := eval[string](tab, "(document.querySelector("+quote(where)+")?.innerText ?? '')")
	return err == nil && strings.Contains(level(got), level(text))
}

func level(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// Shot keeps a picture of the whole page under the name and the window's, and says where.
func (tab *Tab) Shot(name string) string {
	tab.t.Helper()
	return tab.shoot(name)
}

func (tab *Tab) shoot(name string) string {
	size, err := eval[struct{ W, H float64 }](tab, `({W: innerWidth, H: Math.max(innerHeight, Math.min(document.documentElement.scrollHeight, 12000))})`)
	if err != nil {
		return "none: " + err.Error()
	}
	beyond := true
	r := call(tab, page.CaptureScreenshot, page.CaptureScreenshotParams{CaptureBeyondViewport: &beyond,
		Clip: &page.Viewport{Width: size.W, Height: size.H, Scale: 1}})
	file := filepath.Join(shots(tab.t), name+"-"+tab.window.Name+".png")
	if err := os.WriteFile(file, r.Data, 0o644); err != nil {
		tab.t.Fatal(err)
	}
	return file
}

// shots is where pictures go.
func shots(t testing.TB) string {
	dir := os.Getenv("STEELYARD_SHOTS")
	if dir == "" {
		return t.ArtifactDir()
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	return dir
}
