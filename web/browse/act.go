package browse

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

//go:embed find.js
var finder string

// A Thing is what was found on a page, with where it is in the window.
type Thing struct {
	Found, Checked, Disabled           bool
	Why                                string
	X, Y                               float64 // its middle
	Left, Top, W, H                    float64
	Count                              int // how many there were
	Tag, Type, Value, Name, Text, Href string
	Covered                            string // by what
}

// Within is the tab, but things are looked for only within what the CSS selector finds.
func (tab *Tab) Within(css string) *Tab {
	part := *tab
	part.within = css
	return &part
}

// Click presses what has the words on it: a button, a link, a box to tick, a summary. The words are its whole name, or
// begin it, or are in it; the first such is taken. A finger does it where the window is touched, else the mouse.
func (tab *Tab) Click(words string) { tab.t.Helper(); tab.press("press", words, 0) }

// ClickNth is Click on the nth of several of the same name, from 0.
func (tab *Tab) ClickNth(words string, n int) { tab.t.Helper(); tab.press("press", words, n) }

// ClickOn presses the first that the CSS selector finds.
func (tab *Tab) ClickOn(css string) { tab.t.Helper(); tab.press("css", css, 0) }

func (tab *Tab) press(kind, words string, n int) {
	tab.t.Helper()
	at := tab.find(kind, words, n, func(x Thing) string {
		switch {
		case x.Disabled:
			return "it can't be pressed yet"
		case x.Covered != "":
			return "it is covered by " + x.Covered
		}
		return ""
	})
	tab.act("pressing "+words, func() { tab.clickAt(at.X, at.Y) })
}

// ClickAt presses a place in the window.
func (tab *Tab) ClickAt(x, y float64) {
	tab.t.Helper()
	tab.act("pressing a place", func() { tab.clickAt(x, y) })
}

func (tab *Tab) clickAt(x, y float64) {
	tab.t.Helper()
	if tab.window.Touch {
		tab.must(tab.do(chromedp.TapXY(x, y)), "pressing")
		return
	}
	tab.must(tab.do(chromedp.Steps(chromedp.MouseEvent(chromedp.MouseMoved, x, y), chromedp.MouseClickXY(x, y))), "pressing")
}

// Fill writes into the field with the label, in place of what was there.
func (tab *Tab) Fill(label, text string) {
	tab.t.Helper()
	tab.fill("field", label, text)
}

// FillIn writes into the first field that the CSS selector finds.
func (tab *Tab) FillIn(css, text string) {
	tab.t.Helper()
	tab.fill("css", css, text)
}

func (tab *Tab) fill(kind, words, text string) {
	tab.t.Helper()
	at := tab.find(kind, words, 0, func(x Thing) string {
		if x.Disabled {
			return "it can't be filled in"
		}
		return ""
	})
	switch at.Type {
	case "checkbox", "radio":
		tab.t.Fatalf("%s: %q is to be pressed, not filled in", tab.window.Name, words)
	case "date", "datetime-local", "time", "number", "range", "color": // the browser's own pickers
		tab.set(kind, words, text)
		return
	}
	if strings.HasPrefix(at.Type, "select") {
		tab.set(kind, words, text)
		return
	}
	tab.clickAt(at.X, at.Y)
	tab.set(kind, words, "") // chosen, to be written over
	if text == "" {
		tab.Keys("Backspace")
		return
	}
	call(tab, input.InsertText, input.InsertTextParams{Text: text})
}

// set gives a list the option with the words, and a picker its value; other fields get their text chosen.
func (tab *Tab) set(kind, words, text string) {
	tab.t.Helper()
	why := Eval[string](tab, tab.element(kind, words, 0, fmt.Sprintf(`((e, text) => {
		if (!e) return "there is none";
		e.focus();
		const told = () => { for (const k of ["input", "change"]) e.dispatchEvent(new Event(k, { bubbles: true })); return ""; };
		if (e.tagName === "SELECT") {
			const o = [...e.options].find((o) => o.text.trim() === text || o.value === text) || [...e.options].find((o) => o.text.includes(text));
			if (!o) return "there is no " + text + " among " + [...e.options].map((o) => o.text).join(", ");
			e.value = o.value;
			return told();
		}
		if (/^(date|datetime-local|time|number|range|color)$/.test(e.type)) { e.value = text; return told(); }
		if (e.select) e.select(); else getSelection().selectAllChildren(e);
		return "";
	})(e, %s)`, quote(text))))
	if why != "" {
		tab.fail("filling in %q: %s", words, why)
	}
}

// Choose takes the option of a list.
func (tab *Tab) Choose(label, option string) { tab.t.Helper(); tab.set("field", label, option) }

// Upload gives a file to the field with the label.
func (tab *Tab) Upload(label, path string) {
	tab.t.Helper()
	tab.find("field", label, 0, nil)
	o := call(tab, runtime.Evaluate, runtime.EvaluateParams{Expression: tab.element("field", label, 0, "e")})
	call(tab, dom.SetFileInputFiles, dom.SetFileInputFilesParams{Files: []string{path}, ObjectID: o.Result.ObjectID})
}

// keys are the names that [Tab.Keys] knows.
var keys = map[string]string{"Tab": kb.Tab, "Enter": kb.Enter, "Space": " ", "Escape": kb.Escape, "Backspace": kb.Backspace, "Delete": kb.Delete,
	"Up": kb.ArrowUp, "Down": kb.ArrowDown, "Left": kb.ArrowLeft, "Right": kb.ArrowRight, "PageUp": kb.PageUp, "PageDown": kb.PageDown,
	"Home": kb.Home, "End": kb.End}

// Keys presses keys one after another: "Tab", "Shift+Tab", "Ctrl+z", "Right", "a".
func (tab *Tab) Keys(names ...string) {
	tab.t.Helper()
	for _, n := range names {
		parts := strings.Split(n, "+")
		key := parts[len(parts)-1]
		if k, ok := keys[key]; ok {
			key = k
		}
		var with []chromedp.Modifier
		for _, p := range parts[:len(parts)-1] {
			with = append(with, map[string]chromedp.Modifier{"Shift": chromedp.ModifierShift, "Ctrl": chromedp.ModifierCtrl, "Alt": chromedp.ModifierAlt}[p])
		}
		press := func() { tab.must(tab.do(chromedp.KeyEvent(key, chromedp.KeyModifiers(with...))), "pressing "+n) }
		if n == "Enter" || n == "Space" {
			tab.act("pressing "+n, press) // may lead to another page
		} else {
			press()
		}
	}
}

// Type presses the keys of a text; a new line is Enter.
func (tab *Tab) Type(text string) {
	tab.t.Helper()
	tab.must(tab.do(chromedp.KeyEvent(strings.ReplaceAll(text, "\n", kb.Enter))), "typing")
}

// TabTo presses Tab until what has the words on it has the focus, as people do who use no mouse.
func (tab *Tab) TabTo(words string) {
	tab.t.Helper()
	for range 120 {
		tab.Keys("Tab")
		if strings.Contains(strings.ToLower(tab.Focused()), strings.ToLower(words)) {
			return
		}
	}
	tab.fail("pressing Tab never comes to %q", words)
}

// Focused is the name of what has the focus.
func (tab *Tab) Focused() string {
	tab.t.Helper()
	return Eval[string](tab, `(() => { const e = document.activeElement; if (!e || e === document.body) return "";
		const ids = (e.getAttribute("aria-labelledby") || "").split(/\s+/).map((i) => document.getElementById(i)?.textContent).join(" ").trim();
		return (ids || e.getAttribute("aria-label") || (e.labels && [...e.labels].map((l) => l.innerText).join(" ")) || e.innerText || e.title || e.tagName).replace(/\s+/g, " ").trim(); })()`)
}

// Drag moves the mouse, or a finger, with its button down from the middle of what the CSS selector finds, by so many
// pixels.
func (tab *Tab) Drag(css string, dx, dy float64) {
	tab.t.Helper()
	at := tab.find("css", css, 0, nil)
	const steps = 12
	if tab.window.Touch {
		touch := func(kind input.DispatchTouchEventType, points ...*input.TouchPoint) {
			if points == nil {
				points = []*input.TouchPoint{}
			}
			call(tab, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: points})
		}
		touch(input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: at.X, Y: at.Y})
		for i := 1.0; i <= steps; i++ {
			touch(input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: at.X + dx*i/steps, Y: at.Y + dy*i/steps})
			time.Sleep(10 * time.Millisecond)
		}
		// The finger rests before it lifts: a busy browser leaves out moves, and lifting has no place of its own.
		for range 3 {
			time.Sleep(50 * time.Millisecond)
			touch(input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: at.X + dx, Y: at.Y + dy})
		}
		touch(input.DispatchTouchEventTypeTouchEnd)
		return
	}
	mouse := func(kind input.DispatchMouseEventType, x, y float64) {
		call(tab, input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: kind, X: x, Y: y, Button: input.MouseButtonLeft, ClickCount: 1})
	}
	tab.must(tab.do(chromedp.MouseEvent(chromedp.MouseMoved, at.X, at.Y)), "dragging")
	mouse(chromedp.MousePressed, at.X, at.Y)
	for i := 1.0; i <= steps; i++ {
		mouse(chromedp.MouseMoved, at.X+dx*i/steps, at.Y+dy*i/steps)
		time.Sleep(10 * time.Millisecond)
	}
	mouse(chromedp.MouseReleased, at.X+dx, at.Y+dy)
}

// Find is the first thing that the CSS selector finds; it waits for it to come.
func (tab *Tab) Find(css string) Thing {
	tab.t.Helper()
	return tab.find("css", css, 0, nil)
}

// Field is the field with the label.
func (tab *Tab) Field(label string) Thing {
	tab.t.Helper()
	return tab.find("field", label, 0, nil)
}

// Has says whether there is such a thing now.
func (tab *Tab) Has(css string) bool {
	tab.t.Helper()
	return tab.look("css", css, 0).Found
}

// find waits for a thing to come, and for the reason to pass why it is of no use yet.
func (tab *Tab) find(kind, words string, n int, unfit func(Thing) string) Thing {
	tab.t.Helper()
	x, why := Thing{}, ""
	for began := time.Now(); time.Since(began) < patience; time.Sleep(25 * time.Millisecond) {
		x = tab.look(kind, words, n)
		if why = x.Why; !x.Found {
			continue
		}
		if unfit == nil {
			return x
		}
		if why = unfit(x); why == "" {
			return x
		}
	}
	tab.fail("looking for %s %q: %s", kind, words, why)
	return x
}

func (tab *Tab) look(kind, words string, n int) Thing {
	x, err := eval[Thing](tab, fmt.Sprintf("%s(%s, %s, %s, %d)", strings.TrimSpace(finder), quote(kind), quote(words), quote(tab.within), n))
	if err != nil { // the page is just changing
		return Thing{Why: err.Error()}
	}
	return x
}

// element is an expression in which e is the thing found.
func (tab *Tab) element(kind, words string, n int, expression string) string {
	find := strings.Replace(strings.TrimSpace(finder), "return {\n    found: true", "return e; return {\n    found: true", 1)
	return fmt.Sprintf("((e) => %s)((x => x.why ? null : x)(%s(%s, %s, %s, %d)))", expression, find, quote(kind), quote(words), quote(tab.within), n)
}

func quote(s string) string {
	b, _ := json.Marshal(s)
	return string(b)
}
