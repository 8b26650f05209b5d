package browse

import (
	"context"
	"os"
	"os/exec"
	"sync"
	"testing"

	"github.com/chromedp/chromedp"
)

// one is the browser of the process; it runs while a test has a tab.
var one struct {
	sync.Mutex
	users int
	ctx   context.Context
	close func()
}

// Hold keeps the browser running until the test ends, for tests whose parts open tabs one after another.
func Hold(t testing.TB) { hold(t) }

func hold(t testing.TB) context.Context {
	t.Helper()
	path := chromium(t)
	one.Lock()
	defer one.Unlock()
	if one.users == 0 {
		if err := start(path); err != nil {
			t.Fatalf("starting %s: %v", path, err)
		}
	}
	one.users++
	t.Cleanup(release)
	return one.ctx
}

func release() {
	one.Lock()
	defer one.Unlock()
	if one.users--; one.users == 0 {
		one.close()
	}
}

func start(path string) error {
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.DisableGPU,
		chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND, EXCLUDE 127.0.0.1, EXCLUDE localhost"), // nothing but loopback
		chromedp.Flag("use-fake-device-for-media-stream", true),                                       // a microphone that beeps
		chromedp.Flag("use-fake-ui-for-media-stream", true),                                           // and may be used by whoever is allowed to ask
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("hide-scrollbars", true))
	if os.Geteuid() == 0 || os.Getenv("CI") != "" { // Chromium's own walls need rights that root and containers lack; only our own pages are opened
		options = append(options, chromedp.NoSandbox)
	}
	ctx, end := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, stop := chromedp.NewContext(ctx)
	if err := chromedp.Do(ctx); err != nil {
		stop()
		end()
		return err
	}
	one.ctx, one.close = ctx, func() { stop(); end() }
	return nil
}

func chromium(t testing.TB) string {
	t.Helper()
	for _, name := range []string{"chromium", "chromium-browser"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv("CI") != "" {
		t.Fatal("chromium is missing: apt-get install chromium")
	}
	t.Skip("chromium is missing, so pages are not tried in a browser: apt-get install chromium")
	return ""
}
