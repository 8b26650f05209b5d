package record_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"steelyard/store"
	"steelyard/web/browse"
	"steelyard/web/sign"
	"steelyard/web/webtest"
)

// signedIn is a browser of the head's, on a page that is ready.
func signedIn(t *testing.T, site *webtest.Site, w browse.Window, path string) *browse.Tab {
	t.Helper()
	tab := browse.New(t, w)
	tab.Cookie(site.URL, sign.Cookie(site.Desk), site.Token(site.Teacher))
	tab.Go(site.URL + path)
	if !w.NoScript {
		tab.Wait(`document.getElementById("studio")?.dataset.ready === "yes"`)
	}
	return tab
}

const bridge = "/record/bank/lock-footbridge"

func TestTheStudioInEveryWindow(t *testing.T) {
	site := webtest.New(t)
	for _, w := range []browse.Window{browse.Phone, browse.Tablet, browse.Desk, browse.Phone.InDark(), browse.Desk.InDark()} {
		tab := signedIn(t, site, w, bridge)
		tab.Click("Next")
		tab.See("Step 2 of", "What to say")
		tab.Check()
		tab.Shot("record-" + w.Name)
		tab.Close()
	}
	signedIn(t, site, browse.Desk.WithoutScript(), bridge).See("Recording needs scripts")
}

// Only the page to record on may ask for the microphone.
func TestTheMicrophoneIsForThisPageOnly(t *testing.T) {
	site := webtest.New(t)
	for path, want := range map[string]string{bridge: "microphone=(self)", "/show/bank/lock-footbridge": "microphone=()", "/questions": "microphone=()"} {
		if got := site.Teacher.Get(path).Header.Get("Permissions-Policy"); !strings.Contains(got, want) {
			t.Errorf("%s: %q, want %s", path, got, want)
		}
	}
}

// The way there is on the page that shows the steps.
func TestTheShowLeadsToTheStudio(t *testing.T) {
	site := webtest.New(t)
	page := site.Teacher.Get("/show/bank/lock-footbridge")
	page.Want(200).Has("Record a walkthrough")
	site.Teacher.Get(bridge).Want(200).Has("Record a walkthrough: Lock footbridge")
}

// saved presses a button, and gives the file that it makes.
func saved(tab *browse.Tab, button string) string {
	browse.Eval[string](tab, `(() => { window.file = null; const old = window.old ??= URL.createObjectURL; URL.createObjectURL = (b) => { window.file = b; return old.call(URL, b); }; return ""; })()`)
	tab.Click(button)
	tab.Wait(`window.file !== null`)
	tab.See("is saved with your other downloads")
	return browse.Eval[string](tab, `window.file.text()`)
}

// The walkthrough is recorded with the browser's own microphone, which beeps once a second, then saved, played from
// disk, and taken up again after a number of the question has been mended.
func TestAWalkthroughIsRecordedPlayedAndTakenUpAgain(t *testing.T) {
	site := webtest.New(t)
	const text = "question \"Lock footbridge\"\nlevel 16-18\ng 9.81 N/kg\n\nbody plank: uniform, length 4.80 m, weight 310 N\n" +
		"support P: rest, on plank at 0.60 m\nsupport Q: rest, on plank at 3.90 m\n\npart a: find force P  marks 3\n"
	q := store.Question{ID: store.NewID(), Owner: site.Head.ID, Title: "Lock footbridge", Text: text}
	by := store.By{Role: site.Head.Role, Who: site.Head.ID, At: site.Clock.Now()}
	if err := site.Store.AddQuestion(t.Context(), by, q); err != nil {
		t.Fatal(err)
	}
	tab := signedIn(t, site, browse.Desk, "/record/own/"+q.ID)
	tab.Click("Record this step")
	tab.See("Recording step 1")
	time.Sleep(2200 * time.Millisecond)
	tab.Click("Next step, go on recording")
	tab.See("Step 2 of")
	time.Sleep(2500 * time.Millisecond)
	tab.Click("Stop")
	tab.Wait(`[...document.querySelectorAll("[data-state]")].filter((s) => s.textContent.startsWith("recorded")).length === 2`)

	page := saved(tab, "Save the walkthrough")
	_, rest, _ := strings.Cut(page, `<script type="application/json" id="film">`)
	data, _, _ := strings.Cut(rest, "</script>")
	var made struct {
		End   float64
		Steps []struct {
			ID     string
			Start  float64
			Voiced bool
		}
	}
	if err := json.Unmarshal([]byte(data), &made); err != nil {
		t.Fatal(err)
	}
	if !made.Steps[0].Voiced || !made.Steps[1].Voiced || made.Steps[2].Voiced {
		t.Errorf("the steps are %v", made.Steps)
	}
	if second := made.Steps[1].Start; second < 0.3 || second > 3 {
		t.Errorf("the second step begins at %.2f s, after some 2.2 s of recording", second)
	}
	if captions := saved(tab, "Save the captions"); !strings.HasPrefix(captions, "WEBVTT\n\n1\n00:00:00.000 --> ") {
		t.Errorf("the captions begin %.60q", captions)
	}
	if voice := saved(tab, "Save the voice"); !strings.HasPrefix(voice, "RIFF") || !strings.Contains(voice[:30], "WAVEfmt ") {
		t.Errorf("the voice begins %.20q", voice)
	}
	times := saved(tab, "Save the times")
	if !strings.HasPrefix(times, "start 0.000\n") || !strings.Contains(times, "\nend ") {
		t.Errorf("the times are %q", times)
	}

	path := filepath.Join(t.TempDir(), "walkthrough.html")
	if err := os.WriteFile(path, []byte(page), 0o600); err != nil {
		t.Fatal(err)
	}
	played(t, path, made.Steps[1].Start, made.Steps[2].Start)

	// A weight is mended: the clips are there again, and the step whose words name it is marked.
	kept, err := site.Store.Question(t.Context(), q.ID)
	if err != nil {
		t.Fatal(err)
	}
	kept.Text = strings.Replace(text, "310 N", "320 N", 1)
	if _, err := site.Store.SaveQuestion(t.Context(), by, kept); err != nil {
		t.Fatal(err)
	}
	again := signedIn(t, site, browse.Desk, "/record/own/"+q.ID)
	again.Upload("Go on from a walkthrough", path)
	again.See("2 steps have their voice again", "its words have changed")
	second := saved(again, "Save the walkthrough")
	if !strings.Contains(second, `"voiced":true`) || !strings.Contains(second, "320 newtons") {
		t.Error("the new walkthrough has no voice, or the old number")
	}
}

// played plays a walkthrough from disk: its second and third step come within 50 ms of their times in the voice.
func played(t *testing.T, path string, want ...float64) {
	t.Helper()
	tab := browse.Open(t, browse.Desk, "file://"+path)
	tab.Offline(true)
	browse.Eval[string](tab, `(() => { window.seen = []; new MutationObserver(() => seen.push(document.getElementById("voice").currentTime)).observe(document.getElementById("title"), { childList: true }); return ""; })()`)
	tab.Click("Play")
	tab.Wait(`window.seen.length >= 2`)
	tab.Click("Pause")
	for i, at := range browse.Eval[[]float64](tab, `window.seen`)[:2] {
		if late := at - want[i]; math.Abs(late) > 0.05 {
			t.Errorf("step %d came %.0f ms late", i+2, 1000*late)
		}
	}
	tab.Check()
}
