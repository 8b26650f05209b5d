package record_test

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
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

// footbridge is the notation of a question of a teacher's own.
const footbridge = "question \"Lock footbridge\"\nlevel 16-18\ng 9.81 N/kg\n\nbody plank: uniform, length 4.80 m, weight 310 N\n" +
	"support P: rest, on plank at 0.60 m\nsupport Q: rest, on plank at 3.90 m\n\npart a: find force P  marks 3\n"

// own keeps a question of the head's, and gives its ID.
func own(t *testing.T, site *webtest.Site, text string) string {
	t.Helper()
	q := store.Question{ID: store.NewID(), Owner: site.Head.ID, Title: "Footbridge", Text: text}
	if err := site.Store.AddQuestion(t.Context(), by(site), q); err != nil {
		t.Fatal(err)
	}
	return q.ID
}

func by(site *webtest.Site) store.By {
	return store.By{Role: site.Head.Role, Who: site.Head.ID, At: site.Clock.Now()}
}

// mend changes a question of the head's.
func mend(t *testing.T, site *webtest.Site, id, from, to string) {
	t.Helper()
	q, err := site.Store.Question(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(q.Text, from) {
		t.Fatalf("there is no %s in the question", from)
	}
	q.Text = strings.Replace(q.Text, from, to, 1)
	if _, err := site.Store.SaveQuestion(t.Context(), by(site), q); err != nil {
		t.Fatal(err)
	}
}

func TestTheStudioInEveryWindow(t *testing.T) {
	site := webtest.New(t)
	for _, w := range []browse.Window{browse.Phone, browse.Tablet, browse.Desk, browse.Phone.InDark(), browse.Desk.InDark()} {
		tab := signedIn(t, site, w, bridge)
		tab.Click("Next")
		tab.See("Step 2 of", "What to say")
		tab.Click("Say it in your own words")
		tab.Check()
		tab.Shot("record")
		tab.Close()
	}
	signedIn(t, site, browse.Desk.WithoutScript(), bridge).See("Recording needs scripts")
}

// The focus is seen wherever it goes, also above the line that tells what has been done.
func TestTheStudioWithTheKeyboard(t *testing.T) {
	site := webtest.New(t)
	tab := signedIn(t, site, browse.Window{Name: "keys", Width: 360, Height: 740}, bridge)
	tab.Click("Save the captions")
	tab.See("lock-footbridge-walkthrough.vtt is saved with your other downloads")
	for _, stop := range tab.Walk(80) {
		if !stop.Ring || stop.Covered {
			t.Errorf("at %q the focus can be seen: %v; something lies over it: %v", stop.Name, stop.Ring, stop.Covered)
		}
	}
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
	b, _ := base64.StdEncoding.DecodeString(browse.Eval[string](tab, `(async () => { const b = new Uint8Array(await window.file.arrayBuffer()); let s = ""; for (let i = 0; i < b.length; i += 32768) s += String.fromCharCode(...b.subarray(i, i + 32768)); return btoa(s); })()`))
	return string(b)
}

// made is what the page of a walkthrough reads.
type made struct {
	End   float64
	Steps []struct {
		ID, Say string
		Start   float64
		Voiced  bool
	}
	Cues []struct {
		Start, End float64
		Text       string
	}
}

func dataOf(t *testing.T, page string) (m made) {
	t.Helper()
	_, rest, _ := strings.Cut(page, `<script type="application/json" id="film">`)
	data, _, _ := strings.Cut(rest, "</script>")
	if err := json.Unmarshal([]byte(data), &m); err != nil {
		t.Fatal(err)
	}
	return m
}

// states are what the list of steps says of those that are on it.
func states(tab *browse.Tab) []string {
	return browse.Eval[[]string](tab, `[...document.querySelectorAll(".steps li:not([hidden]) span")].map((s) => s.textContent)`)
}

// recorded waits until so many steps have a clip.
func recorded(tab *browse.Tab, n int) {
	tab.Wait(fmt.Sprintf(`[...document.querySelectorAll(".steps li:not([hidden]) span")].filter((s) => s.textContent.startsWith("recorded")).length === %d`, n))
}

// spoken lets the microphone, which beeps once a second, be heard for a while.
func spoken() { time.Sleep(1600 * time.Millisecond) }

// twoSteps records the first two steps.
func twoSteps(tab *browse.Tab) {
	tab.Click("Record this step")
	tab.See("Recording step 1")
	spoken()
	tab.Click("Next step, go on recording")
	tab.See("Step 2 of")
	spoken()
	tab.Click("Stop")
	recorded(tab, 2)
}

func keep(t *testing.T, name, content string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// The walkthrough is recorded with the browser's own microphone, saved, and played from disk; then a number of the question is
// mended, the file taken up again, one step said again, and the new one played.
func TestAWalkthroughIsRecordedMendedAndPlayed(t *testing.T) {
	site := webtest.New(t)
	id := own(t, site, footbridge)
	tab := signedIn(t, site, browse.Desk, "/record/own/"+id)
	twoSteps(tab)
	page := saved(tab, "Save the walkthrough")
	first := dataOf(t, page)
	if s := first.Steps; !s[0].Voiced || !s[1].Voiced || s[2].Voiced {
		t.Errorf("the steps are %v", s)
	}
	if second := first.Steps[1].Start; second < 0.3 || second > 4 {
		t.Errorf("the second step begins at %.2f s", second)
	}
	if voice := saved(tab, "Save the voice"); !strings.HasPrefix(voice, "RIFF") || math.Abs(float64(len(voice)-44)/32000-first.End) > 0.001 {
		t.Errorf("the voice begins %.20q and has %d bytes, for %.3f s", voice, len(voice), first.End)
	}
	if times := saved(tab, "Save the times"); !strings.HasPrefix(times, fmt.Sprintf("start 0.000\npoints %.3f\n", first.Steps[1].Start)) || !strings.HasSuffix(times, fmt.Sprintf("\nend %.3f\n", first.End)) {
		t.Errorf("the times are %q", times)
	}
	path := keep(t, "walkthrough.html", page)
	played(t, path, first.Steps[1].Start, first.Steps[2].Start)

	mend(t, site, id, "310 N", "320 N")
	again := signedIn(t, site, browse.Desk, "/record/own/"+id)
	again.Upload("Go on from a walkthrough", path)
	again.See("2 steps have their voice again", "The words of 1 have changed")
	if got := states(again); !strings.Contains(got[0], "its words have changed") || strings.Contains(got[1], "changed") || !strings.HasPrefix(got[1], "recorded") {
		t.Errorf("the steps are %q", got[:2])
	}
	mended := saved(again, "Save the walkthrough")
	second := dataOf(t, mended)
	if d := second.Steps[1].Start - first.Steps[1].Start; math.Abs(d) > 0.002 || !second.Steps[0].Voiced || !second.Steps[1].Voiced {
		t.Errorf("the voice has changed: the second step comes %.3f s later, and the steps are %v", d, second.Steps[:2])
	}
	shown, _, _ := strings.Cut(mended, `<script type="application/json"`)
	_, transcript, _ := strings.Cut(shown, `<details id="script"`)
	for _, c := range second.Cues {
		transcript += c.Text + "\n"
	}
	for what, in := range map[string]string{"page": transcript, "captions": saved(again, "Save the captions"), "transcript": saved(again, "Save the transcript")} {
		if words := strings.Join(strings.Fields(strings.ReplaceAll(in, "\u00a0", " ")), " "); !strings.Contains(words, "320 newtons") || strings.Contains(words, "310 newtons") {
			t.Errorf("the %s has the old number, or not the new one", what)
		}
	}
	if pictures, _, _ := strings.Cut(mended, `<section id="player"`); !strings.Contains(pictures, "320") || strings.Contains(pictures, "310") {
		t.Error("the pictures have the old number, or not the new one")
	}

	again.Click("The arrangement")
	again.Click("Record this step")
	again.See("Recording step 1")
	time.Sleep(2600 * time.Millisecond)
	again.Click("Stop")
	again.Wait(`!document.querySelector(".steps").textContent.includes("changed")`)
	last := saved(again, "Save the walkthrough")
	third := dataOf(t, last)
	played(t, keep(t, "walkthrough.html", last), third.Steps[1].Start, third.Steps[2].Start)
}

// played plays a walkthrough from disk: its second and third step come within 50 ms of their times in the voice. On a busy
// computer the browser now and then comes late by itself, so each may take the best of some plays.
func played(t *testing.T, path string, want ...float64) {
	t.Helper()
	tab := browse.Open(t, browse.Desk, "file://"+path)
	tab.Offline(true)
	browse.Eval[string](tab, `(() => { window.seen = []; new MutationObserver(() => seen.push(document.getElementById("voice").currentTime)).observe(document.getElementById("title"), { childList: true }); return ""; })()`)
	best := []float64{math.Inf(1), math.Inf(1)}
	for play := 0; play < 6 && (math.Abs(best[0]) > 0.05 || math.Abs(best[1]) > 0.05); play++ {
		browse.Eval[string](tab, `(() => { const p = document.getElementById("place"); p.value = 0; p.dispatchEvent(new Event("input")); return ""; })()`)
		browse.Eval[string](tab, `(() => { window.seen = []; return ""; })()`) // after the turn back to the first step has been seen
		tab.Click("Play")
		tab.Wait(`window.seen.length >= 2`)
		tab.Click("Pause")
		for i, at := range browse.Eval[[]float64](tab, `window.seen`)[:2] {
			if late := at - want[i]; math.Abs(late) < math.Abs(best[i]) {
				best[i] = late
			}
		}
	}
	for i, late := range best {
		if math.Abs(late) > 0.05 {
			t.Errorf("step %d comes %.0f ms late", i+2, 1000*late)
		}
	}
	tab.Check()
}

// With nothing but a clicker in the hand, once recording runs: through all steps, one begun again on the way.
func TestAClickerGoesThroughAllSteps(t *testing.T) {
	site := webtest.New(t)
	tab := signedIn(t, site, browse.Desk, "/record/own/"+own(t, site, footbridge))
	n := len(states(tab))
	tab.Keys("Right", "Right", "Left", "Left")
	tab.See("Step 1 of")
	tab.Wait(`navigator.mediaDevices.getUserMedia = ((ask) => async (what) => (window.heard = await ask.call(navigator.mediaDevices, what)))(navigator.mediaDevices.getUserMedia)`)
	tab.Click("Record this step")
	tab.See("Recording step 1")
	tab.Wait(`window.heard.getTracks().every((track) => track.readyState === "live")`)
	if got := tab.Focused(); !strings.HasPrefix(got, "Next step") {
		t.Errorf("the focus is on %q", got)
	}
	for i := 1; i <= n; i++ {
		tab.See(fmt.Sprintf("Recording step %d", i))
		time.Sleep(300 * time.Millisecond)
		switch {
		case i == 2:
			tab.Keys("PageUp")
			tab.See("Step 2 begins again")
			time.Sleep(300 * time.Millisecond)
			tab.Keys("Right")
		case i%2 == 0:
			tab.Keys("Right")
		default:
			tab.Keys("PageDown")
		}
	}
	recorded(tab, n)
	tab.See("is recorded")
	if tab.Has("#stop:not([hidden])") {
		t.Error("after the last step it still records")
	}
	tab.Wait(`window.heard.getTracks().every((track) => track.readyState === "ended")`) // and the microphone is let go
	if got := tab.Focused(); got != "Record this step" {
		t.Errorf("the focus is on %q", got)
	}
	tab.Keys("Enter")
	tab.See(fmt.Sprintf("Recording step %d", n))
	tab.Keys("Escape")
	tab.Wait(`document.getElementById("stop").hidden`)
	for _, s := range dataOf(t, saved(tab, "Save the walkthrough")).Steps {
		if !s.Voiced {
			t.Errorf("step %s has no voice", s.ID)
		}
	}
}

// Stopping before the arithmetic keeps the clips of the steps that both have, and all files follow it.
func TestStoppingBeforeTheArithmetic(t *testing.T) {
	site := webtest.New(t)
	tab := signedIn(t, site, browse.Desk, "/record/own/"+own(t, site, footbridge))
	twoSteps(tab)
	whole := dataOf(t, saved(tab, "Save the walkthrough"))
	tab.Click("Stop before the arithmetic")
	tab.See("Now you")
	recorded(tab, 2)
	short := dataOf(t, saved(tab, "Save the walkthrough"))
	if len(short.Steps) >= len(whole.Steps) || short.Steps[1].Start != whole.Steps[1].Start || short.Steps[len(short.Steps)-1].ID != "yours" {
		t.Errorf("%d steps of %d: %v", len(short.Steps), len(whole.Steps), short.Steps)
	}
	for _, button := range []string{"Save the captions", "Save the transcript", "Save the chapters", "Save the times"} {
		file := saved(tab, button)
		if want := map[string]string{"Save the chapters": "Now you", "Save the times": "\nyours "}[button]; !strings.Contains(file, want) {
			t.Errorf("%s: it lacks %q", button, want)
		}
		if strings.Contains(file, "So the answer is") || strings.Contains(file, "Answer to") {
			t.Errorf("%s: the answer is in it", button)
		}
	}
	path := keep(t, "walkthrough.html", saved(tab, "Save the walkthrough"))
	tab.Click("Stop before the arithmetic")
	tab.SeeNot("Now you")
	recorded(tab, 2)

	again := signedIn(t, site, browse.Desk, tab.Address())
	again.Upload("Go on from a walkthrough", path)
	again.See("2 steps have their voice again", "No words have changed", "Now you")
}

// The teacher's own words go into all files and come back with the walkthrough; where they leave out what the new working
// has, the page says so.
func TestTheTeachersOwnWords(t *testing.T) {
	site := webtest.New(t)
	id := own(t, site, footbridge)
	tab := signedIn(t, site, browse.Desk, "/record/own/"+id)
	step := browse.Eval[string](tab, `[...document.querySelectorAll(".take")].find((e) => JSON.parse(e.dataset.needs).includes("310"))?.dataset.id ?? ""`)
	if step == "" {
		t.Fatal("no step brings the weight into the working")
	}
	tab.ClickOn(`.steps [data-for="` + step + `"] button`)
	tab.Click("Say it in your own words")
	tab.Fill("Your words for this step", "Now put the numbers in.")
	tab.See("Your words leave out", "310")
	tab.Check()
	tab.Shot("record-own-words")
	needs := browse.Eval[[]string](tab, `JSON.parse(document.querySelector(".take:not([hidden])").dataset.needs)`)
	tab.Fill("Your words for this step", "Now put the numbers in: "+strings.Join(needs, ", then ")+".")
	tab.SeeNot("Your words leave out")
	page := saved(tab, "Save the walkthrough")
	for what, file := range map[string]string{"page": page, "captions": saved(tab, "Save the captions"), "transcript": saved(tab, "Save the transcript")} {
		if !strings.Contains(file, "Now put the numbers in") {
			t.Errorf("the %s does not have them", what)
		}
	}

	if times := saved(tab, "Save the times"); !strings.Contains(times, " say Now put the numbers in: ") || strings.Count(times, " say ") != 1 {
		t.Errorf("the times are %s", times)
	}

	mend(t, site, id, "310 N", "320 N")
	again := signedIn(t, site, browse.Desk, "/record/own/"+id)
	again.Upload("Go on from a walkthrough", keep(t, "walkthrough.html", page))
	again.See("Your own words of 1 step were written for others")
	again.ClickOn(`.steps [data-for="` + step + `"] button`)
	again.See("Now put the numbers in", "What was prepared for this step has changed", "Your words leave out 320")
	again.Click("Say it in your own words")
	again.Click("Take the prepared words again")
	again.SeeNot("Now put the numbers in")
	again.SeeNot("has changed since")
}

// No words that were prepared are ever said to leave something out; nearly every question brings something.
func TestPreparedWordsLeaveNothingOut(t *testing.T) {
	site := webtest.New(t)
	tab := signedIn(t, site, browse.Desk, bridge)
	if n := browse.Eval[int](tab, `[...document.querySelectorAll(".take")].filter((e) => JSON.parse(e.dataset.needs).length > 0).length`); n < 8 {
		t.Errorf("only %d steps bring something", n)
	}
	// a space at the end makes no words of the teacher's own, another full stop does
	if lacking := browse.Eval[[]string](tab, `[...document.querySelectorAll(".take")].filter((e) => { const b = e.querySelector("textarea"); b.value += " . "; b.dispatchEvent(new Event("input")); return !e.querySelector(".lacks").hidden; }).map((e) => e.dataset.id)`); len(lacking) > 0 {
		t.Errorf("steps %v are said to leave something out", lacking)
	}
}

// From the studio to a film on disk: its length is the page's, it has sound and captions, and once it is fetched it is gone.
func TestAFilmIsMadeFromThePage(t *testing.T) {
	need(t, "ffmpeg")
	site := webtest.New(t)
	folder := making(t, site)
	tab := signedIn(t, site, browse.Desk, "/record/own/"+own(t, site, footbridge))
	tab.Click("Stop before the arithmetic")
	brief(tab)
	twoSteps(tab)
	page := dataOf(t, saved(tab, "Save the walkthrough"))
	poster := saved(tab, "Save the poster")
	if !strings.HasPrefix(poster, "\x89PNG\r\n\x1a\n") {
		t.Errorf("the poster begins %.20q", poster)
	}
	transcript := saved(tab, "Save the transcript")
	for _, s := range page.Steps {
		if !strings.Contains(transcript, s.Say) {
			t.Errorf("the transcript lacks %q", s.Say)
		}
	}
	tab.Click("Make an MP4")
	tab.See("The film is in line")
	href := fetched(t, tab)
	tab.Check()
	tab.Shot("record-film")
	sent := site.Teacher.Get(href).Want(200)
	if got := sent.Header.Get("Content-Disposition"); !strings.Contains(got, "-walkthrough.mp4") || strings.Contains(got, `"question-`) {
		t.Errorf("the film is sent as %s", got)
	}
	checkFilm(t, keep(t, "film.mp4", sent.Body), page)
	if left := kept(t, folder); len(left) != 0 {
		t.Errorf("once it is fetched, %v is left", left)
	}
	site.Teacher.Get(href).Want(404)
	tab.Forgive("status of 404")
	tab.Click("Give it up") // it has gone already, so the page says why it can't
	tab.See("There is no such page", "None is being made")

	tab.Click("Make a WebM")
	fetched(t, tab)
	tab.Go(site.URL + "/record/films") // where it is found by who has left the studio
	tab.See("Your films", "Fetch the WebM")
	tab.Check()
	again := signedIn(t, site, browse.Desk, "/record/bank/lock-footbridge")
	// The browser's own download, but into the page.
	browse.Eval[string](again, `(() => { window.film = null; document.querySelector("#films a[download]").addEventListener("click", async (e) => {
		e.preventDefault();
		const b = new Uint8Array(await (await fetch(e.target.href)).arrayBuffer());
		let s = "";
		for (let i = 0; i < b.length; i += 32768) s += String.fromCharCode(...b.subarray(i, i + 32768));
		window.film = btoa(s);
	}); return ""; })()`)
	again.Click("Fetch the WebM")
	again.See("None is being made")
	again.Wait(`window.film !== null`)
	webm, err := base64.StdEncoding.DecodeString(browse.Eval[string](again, `window.film`))
	if err != nil {
		t.Fatal(err)
	}
	checkFilm(t, keep(t, "film.webm", string(webm)), page)
	tab.Click("Look how far they are")
	tab.See("None is being made")
}

// brief has every step say one word, so that a film is made soon.
func brief(tab *browse.Tab) {
	browse.Eval[string](tab, `(() => { for (const b of document.querySelectorAll(".take textarea")) { b.value = "Look."; b.dispatchEvent(new Event("input")); } return ""; })()`)
}

// fetched waits until the film is ready and gives where it can be fetched. With other work going on it takes a while.
func fetched(t *testing.T, tab *browse.Tab) string {
	t.Helper()
	for began := time.Now(); time.Since(began) < 3*time.Minute && !tab.Has(`#films a[download]`); time.Sleep(200 * time.Millisecond) {
	}
	tab.See("Is ready", "Fetch the")
	return browse.Eval[string](tab, `document.querySelector("#films a[download]").getAttribute("href")`)
}

func checkFilm(t *testing.T, path string, page made) {
	t.Helper()
	out, err := exec.Command("ffprobe", "-v", "error", "-show_streams", "-show_chapters", "-show_format", "-of", "json", path).Output()
	if err != nil {
		t.Fatal(err)
	}
	var p struct {
		Streams []struct {
			Kind          string `json:"codec_type"`
			Width, Height int
		}
		Chapters []struct{ Tags map[string]string }
		Format   struct{ Duration string }
	}
	if err := json.Unmarshal(out, &p); err != nil {
		t.Fatal(err)
	}
	var kinds []string
	for _, s := range p.Streams {
		kinds = append(kinds, s.Kind)
		if s.Kind == "video" && (s.Width != 1920 || s.Height != 1080) {
			t.Errorf("it is %d by %d", s.Width, s.Height)
		}
	}
	for _, want := range []string{"video", "audio", "subtitle"} {
		if !slices.Contains(kinds, want) {
			t.Errorf("no %s in %v", want, kinds)
		}
	}
	var seconds float64
	fmt.Sscan(p.Format.Duration, &seconds)
	if math.Abs(seconds-page.End) > 0.1 {
		t.Errorf("it lasts %.3f s, the page %.3f s", seconds, page.End)
	}
	if n := len(p.Chapters); n == 0 || !strings.HasSuffix(p.Chapters[n-1].Tags["title"], "Now you") {
		t.Errorf("the chapters are %v", p.Chapters)
	}
	captions, err := exec.Command("ffmpeg", "-v", "error", "-i", path, "-map", "0:s:0", "-f", "webvtt", "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Count(string(captions), " --> "); got != len(page.Cues) {
		t.Errorf("%d captions, the page has %d", got, len(page.Cues))
	}
	loud, err := exec.Command("ffmpeg", "-v", "info", "-i", path, "-map", "0:a:0", "-t", fmt.Sprint(page.Steps[2].Start), "-af", "volumedetect", "-f", "null", "-").CombinedOutput()
	if err != nil {
		t.Fatal(err)
	}
	if _, rest, ok := strings.Cut(string(loud), "max_volume: "); !ok || strings.HasPrefix(rest, "-9") {
		t.Errorf("nothing is heard in it: %s", loud)
	}
}

// What a question says is text wherever it goes, however it is written.
func TestHostileWordsAreWords(t *testing.T) {
	need(t, "ffmpeg")
	site := webtest.New(t)
	making(t, site)
	const evil = `</script><img src=x onerror=window.hit=1> \"a' & 1 --> 2 = ; # \u{1F600} שלום`
	title := `</script><img src=x onerror=window.hit=1> 'a' & 1 --> 2 = ; # 🦔 שלום ` + strings.Repeat("long ", 22)
	text := strings.Replace(footbridge, "Lock footbridge", title, 1)
	text = strings.Replace(text, "weight 310 N", `weight 310 N, "<b onclick=hit()>שלום & 🦔</b>"`, 1)
	tab := signedIn(t, site, browse.Phone, "/record/own/"+own(t, site, text))
	tab.Click("Stop before the arithmetic")
	tab.Click("Say it in your own words")
	tab.Fill("Your words for this step", evil+"\u202e \u0000 "+strings.Repeat("x", 900)+"</textarea>\n\n00:00 --> 00:01\nNOTE")
	tab.Click("Record this step")
	tab.See("Recording step 1")
	spoken()
	tab.Click("Stop")
	recorded(tab, 1)
	tab.Check()
	tab.Shot("record-hostile")
	captions := saved(tab, "Save the captions")
	for line := range strings.Lines(captions) {
		if strings.Contains(line, "-->") != regexp.MustCompile(`^00:\d\d:\d\d\.\d{3} --> 00:\d\d:\d\d\.\d{3}\n$`).MatchString(line) || strings.ContainsAny(line, "<\u202e\x00") {
			t.Errorf("a line of the captions is %q", line)
		}
	}
	if transcript := saved(tab, "Save the transcript"); !strings.Contains(transcript, "<img src=x") { // plain text has nothing to escape
		t.Error("the transcript has lost words")
	}
	page := saved(tab, "Save the walkthrough")
	for _, bad := range []string{"<img", "<b onclick", "</script><img"} {
		if strings.Contains(page, bad) {
			t.Errorf("the page has %s in it", bad)
		}
	}
	saved(tab, "Save the poster")
	disk := browse.Open(t, browse.Phone, "file://"+keep(t, "walkthrough.html", page))
	disk.Click("Next")
	disk.Click("Transcript")
	disk.See("onerror=window.hit=1")
	disk.Check()
	disk.Shot("record-hostile-page")
	tab.Click("Make an MP4")
	href := fetched(t, tab)
	tab.Check()
	path := keep(t, "film.mp4", site.Teacher.Get(href).Want(200).Body)
	out, err := exec.Command("ffprobe", "-v", "error", "-show_entries", "format_tags=title", "-of", "default=nw=1:nk=1", path).Output()
	if err != nil || !strings.HasPrefix(string(out), "</script><img src=x onerror=window.hit=1> 'a' & 1 --> 2 = ; # 🦔 שלום") {
		t.Errorf("the film's title is %q, %v", out, err)
	}
	if dir := os.Getenv("STEELYARD_SHOTS"); dir != "" {
		exec.Command("ffmpeg", "-y", "-v", "error", "-ss", "0.2", "-i", path, "-frames:v", "1", filepath.Join(dir, "record-hostile-frame.png")).Run()
	}
	for name, tab := range map[string]*browse.Tab{"studio": tab, "walkthrough": disk} {
		if browse.Eval[bool](tab, `"hit" in window`) {
			t.Errorf("the %s has run what the question says", name)
		}
	}
}
