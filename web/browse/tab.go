package browse

import (
	"context"
	"fmt"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// A Window is what a person looks at pages with.
type Window struct {
	Name          string // in names of pictures
	Width, Height int    // CSS pixels
	Touch         bool
	Dark          bool
	NoScript      bool
	Still         bool // asks for less motion
	Forced        bool // the computer's own few colours
}

// The windows that every page is looked at in.
var (
	Phone  = Window{Name: "phone", Width: 360, Height: 740, Touch: true}
	Tablet = Window{Name: "tablet", Width: 820, Height: 1180, Touch: true}
	Desk   = Window{Name: "desk", Width: 1440, Height: 900}
)

// InDark is the window on a computer that is set to dark.
func (w Window) InDark() Window { w.Dark, w.Name = true, w.Name+"-dark"; return w }

// WithoutScript is the window with scripts turned off.
func (w Window) WithoutScript() Window { w.NoScript, w.Name = true, w.Name+"-noscript"; return w }

// patience is how long anything may take to come.
const patience = 10 * time.Second

// A Tab is a page open in a browser with cookies of its own.
type Tab struct {
	t      testing.TB
	ctx    context.Context
	close  func()
	window Window
	within string // CSS: where things are looked for
	*state
}

// state is shared by a tab and its parts.
type state struct {
	sync.Mutex
	frame    cdp.FrameID
	loads    int // begun
	loading  bool
	faults   []string
	forgiven []string
	offline  bool
}

// Open opens a page in a tab of its own, which closes when the test ends.
func Open(t testing.TB, w Window, address string) *Tab {
	t.Helper()
	tab := New(t, w)
	tab.Go(address)
	return tab
}

// New opens an empty tab.
func New(t testing.TB, w Window) *Tab {
	t.Helper()
	return opened(t, w, hold(t), chromedp.WithNewBrowserContext())
}

// Second opens one more window of the same browser, with the same cookies, at an address.
func (tab *Tab) Second(w Window, address string) *Tab {
	tab.t.Helper()
	second := opened(tab.t, w, tab.ctx)
	second.Go(address)
	return second
}

func opened(t testing.TB, w Window, in context.Context, how ...chromedp.ContextOption) *Tab {
	t.Helper()
	ctx, stop := chromedp.NewContext(in, how...)
	tab := &Tab{t: t, ctx: ctx, close: stop, state: &state{forgiven: []string{"status of 422"}}}
	t.Cleanup(tab.end)
	tab.must(chromedp.Listen(ctx, tab.hear), "opening a tab")
	tab.frame = cdp.FrameID(chromedp.FromContext(ctx).Target.TargetID)
	tab.Resize(w)
	if w.NoScript {
		call(tab, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	}
	return tab
}

// end closes the tab; faults that nobody looked at fail the test.
func (tab *Tab) end() {
	tab.close()
	for _, f := range tab.Faults() {
		tab.t.Errorf("%s: %s", tab.window.Name, f)
	}
}

// Close closes the tab before the test ends, like a phone that is put away.
func (tab *Tab) Close() { tab.close() }

// hear keeps what the browser tells: how far loading is, and what went wrong.
func (tab *Tab) hear(event any) {
	tab.Lock()
	defer tab.Unlock()
	switch e := event.(type) {
	case *page.EventFrameStartedLoading:
		if e.FrameID == tab.frame {
			tab.loading = true
			tab.loads++
		}
	case *page.EventFrameStoppedLoading:
		if e.FrameID == tab.frame {
			tab.loading = false
		}
	case *page.EventJavascriptDialogOpening:
		go chromedp.Call(tab.ctx, page.HandleJavaScriptDialog, page.HandleJavaScriptDialogParams{Accept: true})
	case *runtime.EventExceptionThrown:
		text := e.ExceptionDetails.Text
		if x := e.ExceptionDetails.Exception; x != nil {
			text += " " + x.Description
		}
		tab.fault(text + " in " + e.ExceptionDetails.URL)
	case *runtime.EventConsoleAPICalled:
		if e.Type == "error" || e.Type == "assert" {
			tab.fault("console: " + words(e.Args))
		}
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError || e.Entry.Source == "security" {
			tab.fault(fmt.Sprintf("console: %s %s", e.Entry.Text, e.Entry.URL))
		}
	case *network.EventRequestWillBeSent:
		if u, err := url.Parse(e.Request.URL); err == nil && u.Hostname() != "" && u.Hostname() != "127.0.0.1" && u.Hostname() != "localhost" {
			tab.fault("asked another host: " + e.Request.URL)
		}
	}
}

func (s *state) fault(text string) {
	if s.offline && strings.Contains(text, "net::ERR_") {
		return
	}
	for _, f := range s.forgiven {
		if strings.Contains(text, f) {
			return
		}
	}
	s.faults = append(s.faults, text)
}

func words(args []*runtime.RemoteObject) string {
	var list []string
	for _, a := range args {
		if a.Description != "" {
			list = append(list, a.Description)
		} else {
			list = append(list, string(a.Value))
		}
	}
	return strings.Join(list, " ")
}

// Forgive lets faults pass that have the text in them, such as a refusal that the test asks for.
func (tab *Tab) Forgive(text string) {
	tab.Lock()
	defer tab.Unlock()
	tab.forgiven = append(tab.forgiven, text)
}

// Faults are what went wrong since they were last asked for: errors in scripts, breaches of the content security
// policy, things that could not be had, requests to other hosts.
func (tab *Tab) Faults() []string {
	tab.Lock()
	defer tab.Unlock()
	list := tab.faults
	tab.faults = nil
	return list
}

// Resize changes what the page is looked at with.
func (tab *Tab) Resize(w Window) {
	tab.t.Helper()
	tab.window = w
	call(tab, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{
		Width: int64(w.Width), Height: int64(w.Height), DeviceScaleFactor: 1, Mobile: w.Touch})
	touch := emulation.SetTouchEmulationEnabledParams{Enabled: w.Touch}
	call(tab, emulation.SetTouchEmulationEnabled, touch)
	feature := func(name, off, on string, is bool) *emulation.MediaFeature {
		if is {
			off = on
		}
		return &emulation.MediaFeature{Name: name, Value: off}
	}
	call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
		feature("prefers-color-scheme", "light", "dark", w.Dark),
		feature("prefers-reduced-motion", "no-preference", "reduce", w.Still),
		feature("forced-colors", "none", "active", w.Forced),
	}})
}

// Offline cuts the connection, or mends it.
func (tab *Tab) Offline(cut bool) {
	tab.t.Helper()
	tab.Lock()
	tab.offline = cut
	tab.Unlock()
	call(tab, conditions, network.OverrideNetworkStateParams{Offline: cut, DownloadThroughput: -1, UploadThroughput: -1})
}

// conditions is the command that every Chromium knows, older ones too; it also tells the page that it is offline.
var conditions = cdp.Command[network.OverrideNetworkStateParams, cdp.Empty]{Method: "Network.emulateNetworkConditions"}

// Cookie gives the tab a cookie, such as a session that a test has begun by itself.
func (tab *Tab) Cookie(address, name, value string) {
	tab.t.Helper()
	yes := true
	call(tab, network.SetCookie, network.SetCookieParams{URL: address, Name: name, Value: value, HTTPOnly: &yes, SameSite: "Lax"})
}

// Go opens an address.
func (tab *Tab) Go(address string) {
	tab.t.Helper()
	tab.act("opening "+address, func() { tab.must(tab.do(chromedp.Navigate(address)), "opening "+address) })
}

// Reload loads the page anew.
func (tab *Tab) Reload() {
	tab.t.Helper()
	tab.act("loading anew", func() { tab.must(tab.do(chromedp.Reload()), "loading anew") })
}

// Back goes to the page before.
func (tab *Tab) Back() {
	tab.t.Helper()
	tab.act("going back", func() { Eval[any](tab, "history.back()") })
}

// act does something that may open another page, and waits for that.
func (tab *Tab) act(what string, do func()) {
	tab.t.Helper()
	tab.Lock()
	before := tab.loads
	tab.Unlock()
	do()
	began := time.Now()
	for time.Since(began) < patience {
		tab.Lock()
		begun, loading := tab.loads > before, tab.loading
		tab.Unlock()
		if !loading && (begun || time.Since(began) > 150*time.Millisecond) {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	tab.fail("%s: still loading after %v", what, patience)
}

func (tab *Tab) do(a chromedp.Action[chromedp.Void]) error {
	ctx, stop := context.WithTimeout(tab.ctx, patience)
	defer stop()
	return chromedp.Do(ctx, a)
}

func call[P, R any](tab *Tab, c cdp.Command[P, R], params P) R {
	tab.t.Helper()
	ctx, stop := context.WithTimeout(tab.ctx, patience)
	defer stop()
	r, err := chromedp.Call(ctx, c, params)
	tab.must(err, string(c.Method))
	return r
}

// Eval gives the value of an expression of script on the page, or of the promise of one.
func Eval[T any](tab *Tab, expression string) T {
	tab.t.Helper()
	v, err := eval[T](tab, expression)
	tab.must(err, "evaluating "+brief(expression))
	return v
}

func eval[T any](tab *Tab, expression string) (T, error) {
	ctx, stop := context.WithTimeout(tab.ctx, 3*patience)
	defer stop()
	return chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

func brief(s string) string {
	if len(s) > 120 {
		return s[:120] + "…"
	}
	return s
}

func (tab *Tab) must(err error, what string) {
	tab.t.Helper()
	if err != nil {
		tab.t.Fatalf("%s: %s: %v", tab.window.Name, what, err)
	}
}

// fail ends the test with what stands on the page and a picture of it.
func (tab *Tab) fail(format string, args ...any) {
	tab.t.Helper()
	at, _ := eval[string](tab, "location.pathname")
	text, _ := eval[string](tab, "document.body.innerText")
	file := tab.shoot("failed")
	tab.t.Fatalf("%s: %s\nat %s (picture: %s), faults %q, the page says:\n%s", tab.window.Name, fmt.Sprintf(format, args...), at, file, tab.Faults(), text)
}
