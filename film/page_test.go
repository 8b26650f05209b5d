package film_test

import (
	"encoding/base64"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"steelyard/bank"
	"steelyard/film"
	"steelyard/web/browse"
)

// saved writes the page of a film to disk and gives its address.
func saved(t *testing.T, f *film.Film) string {
	t.Helper()
	page, err := f.HTML()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "walkthrough.html")
	if err := os.WriteFile(path, page, 0o600); err != nil {
		t.Fatal(err)
	}
	return "file://" + path
}

// Of every question of the bank: without a voice twenty steps take less than 300 kB; nothing is fetched, nothing is
// styled or scripted but by what the policy names.
func TestPagesAreSmallAndShut(t *testing.T) {
	for _, name := range bank.Names() {
		f := of(t, name)
		b, err := f.HTML()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		page := string(b)
		if each := len(page) * 20 / max(20, len(f.Talk.Steps)); each > 300_000 {
			t.Errorf("%s: %d steps take %d kB", name, len(f.Talk.Steps), len(page)/1000)
		}
		for _, bad := range []string{" style=\"", "onclick", "src=\"http", "href=\"http", "url(", "<link", "@import"} {
			if strings.Contains(page, bad) {
				t.Errorf("%s: the page has %s in it", name, bad)
			}
		}
	}
}

func TestThePagePlaysFromDisk(t *testing.T) {
	f := of(t, "allotment-gate.moments")
	address := saved(t, f)
	tab := browse.Open(t, browse.Desk, address)
	tab.Offline(true)
	tab.See("Allotment gate", "The arrangement", "A uniform gate, 2.40 metres wide", "0:00 / ")
	tab.Check()
	tab.Shot("film-first")

	// by mouse
	tab.Click("Next")
	tab.See("Where everything is", "2 of ")
	tab.ClickOn(`[data-step="7"]`)
	tab.See("The two sides balance")
	if got := browse.Eval[int](tab, `document.querySelectorAll("#working li.new math").length`); got != 1 {
		t.Errorf("%d new lines of working", got)
	}
	if got := browse.Eval[string](tab, `document.querySelector("[aria-current]").textContent`); got != "(a) The two sides balance" {
		t.Errorf("the current chapter is %q", got)
	}
	tab.Shot("film-balance")
	tab.Check()
	tab.Click("Captions")
	if tab.Has("#caption:not([hidden])") {
		t.Error("captions can't be hidden")
	}
	tab.Choose("Speed", "2×")

	// it plays, twice as fast, and stops at the end
	from := browse.Eval[float64](tab, `Number(document.getElementById("place").value)`)
	tab.Click("Play")
	time.Sleep(time.Second)
	tab.Click("Pause")
	if gone := browse.Eval[float64](tab, `Number(document.getElementById("place").value)`) - from; gone < 1.5 || gone > 6 {
		t.Errorf("it has gone on by %.2f s in a second, at twice the speed", gone)
	}
	tab.ClickOn(fmt.Sprintf(`[data-step="%d"]`, f.Chapters()[len(f.Chapters())-1].Step))
	browse.Eval[string](tab, `(() => { const p = document.getElementById("place"); p.value = p.max - 0.4; p.dispatchEvent(new Event("input")); return "" })()`)
	tab.Click("Play")
	tab.Wait(`document.getElementById("play").textContent === "Play"`)

	// the transcript has it all
	tab.Click("Transcript")
	tab.See("Seen: a drawing of the arrangement", "Take moments about L", f.Talk.Steps[3].Ask)
	tab.Check()
}

func TestThePageIsUsedWithTheKeyboard(t *testing.T) {
	f := of(t, "balanced-rule.moments")
	tab := browse.Open(t, browse.Desk, saved(t, f))
	tab.Keys("Right")
	tab.See(f.Talk.Steps[1].Title)
	tab.Keys("Right", "Left")
	tab.See(f.Talk.Steps[1].Title)
	tab.Keys("Space")
	tab.See("Pause")
	tab.Keys("Space")
	tab.See("Play")
	tab.TabTo("Next")
	tab.Keys("Enter")
	tab.See(f.Talk.Steps[2].Title)
	for _, s := range tab.Walk(40) {
		if !s.Ring || s.Covered {
			t.Errorf("the focus on %q can't be seen", s.Name)
		}
	}
}

// Touched on a phone; without a script it is a transcript with pictures.
func TestThePageOnAPhone(t *testing.T) {
	f := of(t, "allotment-gate.moments")
	address := saved(t, f)
	tab := browse.Open(t, browse.Phone, address)
	tab.Click("Next")
	tab.See("Where everything is")
	tab.ClickOn(`[data-step="7"]`)
	tab.Check()
	tab.Shot("film-phone")
	still := browse.Phone
	still.Still = true
	browse.Open(t, still, address).Check()
	bare := browse.Open(t, browse.Phone.WithoutScript(), address)
	bare.See("Transcript: all that is said and seen", f.Talk.Steps[len(f.Talk.Steps)-1].Say[:30])
	bare.Shot("film-no-script")
}

// With a voice, each step is on the page within 50 ms of its time in the voice.
func TestStepsFollowTheVoice(t *testing.T) {
	need(t, "ffmpeg")
	f := of(t, "balanced-rule.moments")
	f.Talk.Steps = f.Talk.Steps[:6]
	f.Times = everySeconds(f, 0.613)
	f.Voice = tone(t, f.Times.End.Seconds(), "libopus", "webm")
	tab := browse.Open(t, browse.Desk, saved(t, f))
	browse.Eval[string](tab, `(() => { new MutationObserver(() => window.seen?.push(document.getElementById("voice").currentTime)).observe(document.getElementById("title"), { childList: true }); return "" })()`)
	const most = 0.05 // seconds
	best := slices.Repeat([]float64{math.Inf(1)}, 5)
	for play := 0; play < 6 && slices.Max(best) > most; play++ { // on a busy computer a browser comes late now and then by itself
		browse.Eval[string](tab, `(() => { const p = document.getElementById("place"); p.value = 0; p.dispatchEvent(new Event("input")); return "" })()`)
		browse.Eval[string](tab, `(() => { window.seen = []; return "" })()`)
		tab.Click("Play")
		tab.Wait(`document.getElementById("voice").ended`)
		seen := browse.Eval[[]float64](tab, `window.seen`)
		if len(seen) != len(best) {
			t.Fatalf("the steps changed at %v", seen)
		}
		for i, s := range seen {
			late := s - f.Times.Start[i+1].Seconds()
			if late < -0.002 {
				t.Errorf("step %d came %.0f ms early", i+1, -1000*late)
			}
			best[i] = min(best[i], late)
		}
	}
	if slices.Max(best) > most {
		t.Errorf("the steps come %.3f s late", best)
	}
}

// Chromium reads as many captions as were written, with their words.
func TestABrowserReadsTheCaptions(t *testing.T) {
	f := of(t, "allotment-gate.moments")
	tab := browse.Open(t, browse.Desk, saved(t, f))
	tab.Go("about:blank")
	data := base64.StdEncoding.EncodeToString(f.Captions())
	type read struct {
		Start, End float64
		Text       string
	}
	got := browse.Eval[[]read](tab, `new Promise((resolve) => {
		const v = document.createElement("video"), t = document.createElement("track");
		t.kind = "captions"; t.src = "data:text/vtt;base64,`+data+`"; t.default = true;
		t.onload = () => resolve([...t.track.cues].map((c) => ({ Start: c.startTime, End: c.endTime, Text: c.text })));
		v.append(t); document.body.append(v); t.track.mode = "showing";
	})`)
	want := f.Cues()
	if len(got) != len(want) {
		t.Fatalf("%d captions, want %d", len(got), len(want))
	}
	for i, c := range want {
		if got[i].Text != strings.Join(c.Lines, "\n") || got[i].Start != c.Start.Seconds() || got[i].End != c.End.Seconds() {
			t.Errorf("caption %s is %v", c.ID, got[i])
		}
	}
}
