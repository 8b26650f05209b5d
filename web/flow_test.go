package web_test

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"steelyard/web"
	"steelyard/web/browse"
	"steelyard/web/page"
)

// link is the one-time link that serving tells.
var link = regexp.MustCompile(`http://127\.0\.0\.1:\d+/first#\S+`)

// program builds steelyard and serves an empty directory with it; it gives the one-time link for the first account.
func program(t *testing.T) (first string) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "steelyard")
	if out, err := exec.Command("go", "build", "-o", file, "steelyard/cmd/steelyard").CombinedOutput(); err != nil {
		t.Fatalf("building: %v\n%s", err, out)
	}
	serve := exec.Command(file, "serve", "--listen", "127.0.0.1:0", "--data", t.TempDir())
	out, err := serve.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	log, err := os.Create(filepath.Join(t.TempDir(), "log"))
	if err != nil {
		t.Fatal(err)
	}
	serve.Stderr = log
	if err := serve.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		serve.Process.Signal(syscall.SIGTERM)
		serve.Wait()
		b, _ := os.ReadFile(log.Name())
		for _, line := range strings.Split(string(b), "\n") {
			if strings.Contains(line, `"level":"ERROR"`) || strings.Contains(line, "panic") {
				t.Errorf("the program logged %s", line)
			}
		}
		for _, private := range append([]string{"quartz", "ledger"}, pupils...) {
			if strings.Contains(string(b), private) {
				t.Errorf("%q stands in the log", private)
			}
		}
	})
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		if first = link.FindString(lines.Text()); first != "" {
			go func() {
				for lines.Scan() {
				}
			}()
			return first
		}
	}
	t.Fatal("serving told no link")
	return ""
}

// pupils are invented.
var pupils = []string{"Wren Tidewell", "Merle Oakhanger", "Ivo Sandling", "Reed Ashdown", "Pia Lundgate"}

// A term is a teacher's first fortnight: what came of each step is needed by the next.
type term struct {
	t       *testing.T
	host    string
	teacher *browse.Tab
	class   string            // its address
	code    string            // of the class
	codes   map[string]string // the personal codes by name
	own     string            // address of the teacher's own question
	set     string            // address of the set
	pupil   string            // address of one of the pupils in the set's marks
	wren    *browse.Tab
	merle   *browse.Tab
}

// A department's first fortnight, in a real browser and with the program as it is installed: the first account, a class
// from a file, a question made by dragging, a set, five pupils at phones, marking, release, and a set to follow.
func TestAFortnight(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a real browser through the whole program")
	}
	browse.Hold(t)
	first := program(t)
	f := &term{t: t, host: first[:strings.Index(first, "/first")], codes: map[string]string{}}
	f.firstAccount(first)
	f.classFromFile()
	f.codesOnSlips()
	f.questionByDragging()
	f.setGivenOut()
	f.fivePupils()
	f.marking()
	f.release()
	f.follow()
	f.walk()
}

func (f *term) firstAccount(link string) {
	tab := browse.Open(f.t, browse.Desk, link)
	f.teacher = tab
	tab.Shot("flow-first")
	tab.Check()
	tab.Fill("Your name", "Ms Fennimore")
	tab.Fill("Name to sign in with", "fennimore")
	tab.Fill("Password", "quartz ferry ledger moss")
	tab.Click("Make the account")
	tab.See("Ms Fennimore")
	tab.Shot("flow-welcome")
	tab.Check()
	again := browse.Open(f.t, browse.Desk, link)
	again.Fill("Your name", "Somebody Else")
	again.Fill("Name to sign in with", "else")
	again.Fill("Password", "another ledger of moss")
	again.Click("Make the account")
	again.See("to mend")
	again.Close()
}

func (f *term) classFromFile() {
	tab := f.teacher
	file := filepath.Join(f.t.TempDir(), "10b.csv")
	rows := "Surname,Forename\n"
	for _, p := range pupils {
		fore, sur, _ := strings.Cut(p, " ")
		rows += sur + "," + fore + "\n"
	}
	if err := os.WriteFile(file, []byte(rows), 0o600); err != nil {
		f.t.Fatal(err)
	}
	tab.Click("Classes")
	tab.Click("New class")
	tab.Fill("Name of the class", "10b Physics")
	tab.Click("Make the class")
	tab.Upload("Or a file", file)
	tab.Click("Read the list")
	tab.See("Nothing has been kept yet")
	tab.Check()
	tab.Click("Yes, do this")
	tab.See(pupils...)
	f.class = strings.TrimSuffix(strings.Split(tab.Address(), "?")[0], "/list")
	tab.Shot("flow-class")
	tab.Check()
}

func (f *term) codesOnSlips() {
	tab := f.teacher
	tab.Go(f.host + f.class + "/codes")
	tab.Click("Make codes: slips as a page")
	tab.See("Print this page now")
	tab.Shot("flow-slips")
	tab.Check()
	for _, slip := range strings.Split(tab.Text(), "Your physics work is at")[1:] {
		m := codesOnSlip.FindStringSubmatch(slip)
		if m == nil {
			f.t.Fatalf("no codes on the slip %q", slip)
		}
		f.code = m[1]
		f.codes[pupils[len(f.codes)]] = m[2]
	}
	if len(f.codes) != len(pupils) {
		f.t.Fatalf("%d slips for %d pupils", len(f.codes), len(pupils))
	}
}

// codesOnSlip are the class's code and the pupil's own.
var codesOnSlip = regexp.MustCompile(`Class code\s+(\S+)\s+Your own code\s+(\S+)`)

// questionByDragging makes a question from a blank beam: a support and the load are dragged, numbers set, a part asked,
// and what differs from pupil to pupil is chosen.
func (f *term) questionByDragging() {
	tab := f.teacher
	tab.Click("Questions")
	tab.Click("make one")
	tab.Click("Begin with a beam")
	tab.Wait(`document.getElementById("bench").dataset.ready === "yes"`)
	text := func(has string) { tab.Wait("document.getElementById('text').value.includes(`" + has + "`)") }
	metre := browse.Eval[float64](tab, `(() => { const at = (n) => { const r = document.querySelector('.grip[data-thing="' + n + '"]').getBoundingClientRect(); return r.x + r.width / 2; };
		return (at("Q") - at("P")) / 3; })()`)
	tab.Drag(`.grip[data-thing="P"]`, 0.5*metre, 0)
	text("support P: rest, on beam at 1.00 m")
	tab.Drag(`.grip[data-thing="K"]`, 0.25*metre, 0)
	text("load K: weight 500 N, on beam at 1.75 m")
	tab.See("It stays at rest")
	tab.Choose("A part that asks for", "furthest K towards right")
	tab.Click("Ask it")
	text("part c: find furthest K towards right")
	tab.Choose("Own numbers for each pupil", "K.weight")
	tab.Click("Let it vary")
	text("vary K.weight")
	notation := browse.Eval[string](tab, `document.getElementById('text').value`)
	tab.FillIn("#text", strings.Replace(notation, `"My question"`, `"Beam across the stream"`, 1))
	tab.Wait(`document.getElementById("saving").textContent === "Saved"`)
	f.own = tab.Address()
	tab.Shot("flow-bench")
	tab.Check()
	tab.Keys("Ctrl+z")
	text(`"My question"`)
	tab.Click("Do again")
	text(`"Beam across the stream"`)
	tab.Wait(`document.getElementById("saving").textContent === "Saved"`)
}

func (f *term) setGivenOut() {
	tab := f.teacher
	tab.Go(f.host + f.class)
	tab.Click("New set")
	tab.Fill("Title", "Beams, first look")
	tab.Click("Make a draft")
	tab.Choose("From", "my own")
	tab.Click("Search")
	tab.Click("Add Beam across the stream")
	tab.Click("Done: 1 question")
	f.set = tab.Address()
	tab.See("Beam across the stream")
	tab.Check()
	tab.Click("As a pupil sees it")
	tab.See("Beam across the stream")
	tab.Check()
	tab.Back()
	tab.Click("Give it out to 5 pupils")
	tab.See("Close it now")
	tab.Shot("flow-given")
	tab.Check()
}

// signIn opens a pupil's page with the codes on the slip.
func (f *term) signIn(name string, w browse.Window) *browse.Tab {
	tab := browse.Open(f.t, w, f.host+"/")
	tab.Click("Sign in as a pupil")
	tab.Fill("Class code", strings.ToLower(f.code))
	tab.Fill("Your own code", f.codes[name])
	tab.Within("main").Click("Sign in")
	tab.See("Beams, first look")
	return tab
}

// weight is that of the load in the pupil's own question.
func weight(t *testing.T, tab *browse.Tab) float64 {
	t.Helper()
	m := regexp.MustCompile(`K of weight (\d+)[\s\x{a0}\x{202f}]N`).FindStringSubmatch(tab.Text())
	if m == nil {
		t.Fatalf("no load in the question:\n%s", tab.Text())
	}
	w, _ := strconv.ParseFloat(m[1], 64)
	return w
}

// saved waits until all that was typed is with the server.
func saved(tab *browse.Tab) {
	tab.Wait(`/^Saved/.test(document.getElementById("saved").textContent.trim())`)
}

func (f *term) handIn(tab *browse.Tab) {
	tab.Click("Look over and hand in")
	tab.See("This is how")
	tab.Check()
	tab.Click("Hand in")
	tab.See("quote your receipt")
	tab.Check()
}

// fivePupils do the set at phones. The beam is 4.00 m long and weighs 200 N, with P at 1.00 m, Q at 3.50 m and K at
// 1.75 m, so that about Q: 2.5 P = 1.75 K + 1.5 × 200. Three of them leave the weight of the beam out.
func (f *term) fivePupils() {
	open := func(name string, w browse.Window) (*browse.Tab, float64) {
		tab := f.signIn(name, w)
		tab.Shot("flow-work-list")
		tab.Click("Beams, first look")
		tab.See("Beam across the stream")
		return tab, weight(f.t, tab)
	}
	forget := func(k float64) (working, answer, other string) { // the weight of the beam
		p := 1.75 * k / 2.5
		return fmt.Sprintf("Moments about Q\nP*2.5 = %g*1.75", k), fmt.Sprintf("%.4g N up", p), fmt.Sprintf("%.4g N up", k-p)
	}

	wren, k := open(pupils[0], browse.Phone)
	p := (1.75*k + 300) / 2.5
	wren.FillIn("#w-0-a", fmt.Sprintf("Moments about Q\nP x 2.5 = %g x 1.75 + 200 x 1.5\nP = %.4g", k, p))
	wren.FillIn("#a-0-a", fmt.Sprintf("%.4g N up", p))
	wren.FillIn("#w-0-b", fmt.Sprintf("Q = %g + 200 - %.4g", k, p))
	wren.FillIn("#a-0-b", fmt.Sprintf("%.4g N up", k+200-p))
	saved(wren)
	wren.Shot("flow-working")
	wren.Check()
	f.handIn(wren)
	wren.Shot("flow-receipt")
	f.wren = wren

	// The connection goes in the middle, and the page is closed and opened again before it is back.
	merle, k := open(pupils[1], browse.Phone)
	w, a, b := forget(k)
	merle.FillIn("#w-0-a", w)
	saved(merle)
	merle.Offline(true)
	merle.FillIn("#a-0-a", a)
	merle.FillIn("#a-0-b", b)
	merle.Wait(`!/^Saved/.test(document.getElementById("saved").textContent.trim())`)
	merle.Shot("flow-offline")
	merle.Offline(false)
	saved(merle)
	merle.Reload()
	if got := merle.Find("#a-0-b").Value; got != b {
		f.t.Errorf("after the connection was lost the answer is %q, not %q", got, b)
	}
	f.handIn(merle)
	f.merle = merle

	// The keyboard alone, from the first page to the receipt.
	keys := browse.Window{Name: "keys", Width: 360, Height: 740}
	ivo := browse.Open(f.t, keys, f.host+"/")
	ivo.TabTo("Sign in as a pupil")
	ivo.Keys("Enter")
	ivo.TabTo("Class code")
	ivo.Type(f.code)
	ivo.TabTo("Your own code")
	ivo.Type(f.codes[pupils[2]])
	ivo.Keys("Enter")
	ivo.See("Beams, first look")
	ivo.TabTo("Beams, first look")
	ivo.Keys("Enter")
	ivo.See("Beam across the stream")
	w, a, b = forget(weight(f.t, ivo))
	ivo.TabTo("Working for part a")
	ivo.Type(w)
	ivo.TabTo("Answer to part a")
	ivo.Type(a)
	ivo.TabTo("Answer to part b")
	ivo.Type(b)
	saved(ivo)
	ivo.TabTo("Look over and hand in")
	ivo.Keys("Enter")
	ivo.See("This is how")
	ivo.TabTo("Hand in")
	ivo.Keys("Enter")
	ivo.See("quote your receipt")

	// No scripts at all.
	reed, k := open(pupils[3], browse.Phone.WithoutScript())
	w, a, b = forget(k)
	reed.FillIn("#w-0-a", w)
	reed.FillIn("#a-0-a", a)
	reed.FillIn("#a-0-b", b)
	reed.Click("Save")
	reed.Shot("flow-no-script")
	if got := reed.Find("#a-0-b").Value; got != b {
		f.t.Errorf("without scripts the answer is %q, not %q", got, b)
	}
	reed.Click("Look over and hand in")
	reed.See("This is how")
	reed.Click("Hand in")
	reed.See("quote your receipt")

	// Somebody whom the marker has to ask a person about.
	pia, k := open(pupils[4], browse.Phone)
	pia.FillIn("#w-0-a", "both ends share it, and the near one takes most\nP = 5 8 2")
	pia.FillIn("#a-0-a", fmt.Sprintf("about %.4g N, or a little more", (1.75*k+300)/2.5+40))
	saved(pia)
	f.handIn(pia)
}

// marking: what the marker asks about is decided, and a mark that it gave is changed, each with a reason.
func (f *term) marking() {
	tab := f.teacher
	tab.Click("Classes")
	tab.Click("10b Physics")
	tab.Click("Beams, first look")
	tab.Click("Hand-ins and marks")
	tab.See("5 of 5 pupils handed in", "1 to decide", "Mean 5 of 5")
	tab.Shot("flow-marks")
	tab.Check()
	tab.Click("To decide")
	tab.See("Pia Lundgate", "Why the marker asks")
	tab.Shot("flow-queue")
	tab.Check()
	tab.Fill("Reason", "The idea is right: both supports share it. Write the moments next time.")
	tab.Click("1 of 3")
	tab.See("Take it back")
	tab.Check()
	tab.Within("main").Click("Marks")
	tab.Click("Merle Oakhanger")
	f.pupil = tab.Address()
	tab.Click("Change the mark of part 1b")
	tab.Within("details[open] .override").Fill("Mark, of 1", "1")
	tab.Within("details[open] .override").Fill("Reason", "You showed me in the lesson how you got it.")
	tab.Within("details[open] .override").Click("Keep this mark")
	tab.See("You showed me in the lesson how you got it.", "1 of 1")
	tab.Shot("flow-override")
	tab.Check()
}

// release: a pupil sees nothing before it, and then marks, reasons and the teacher's words.
func (f *term) release() {
	f.merle.Go(f.host + "/work")
	if f.merle.Has(`a[href$="/marks"]`) {
		f.t.Error("a pupil sees marks before the release")
	}
	tab := f.teacher
	tab.Within("main").Click("Release")
	tab.See("What pupils see")
	tab.Check()
	tab.Click("Release to 5 pupils")
	tab.See("Take the release back")
	tab.Check()
	f.merle.Reload()
	f.merle.Within("main").Click("Beams, first look")
	f.merle.See("You showed me in the lesson how you got it.", "1 of 1 mark")
	f.merle.Shot("flow-feedback")
	f.merle.Check()
	f.wren.Go(f.host + "/work")
	f.wren.Within("main").Click("Beams, first look")
	f.wren.See("3 of 3 marks", "4 of 6")
	f.wren.Shot("flow-feedback-right")
	f.wren.Check()
}

// follow: those who left the weight out get a set to follow, in two clicks from the picture of the class, and others don't.
func (f *term) follow() {
	tab := f.teacher
	tab.Within("main").Click("Class picture")
	tab.See("3 pupils", "Merle Oakhanger", "Ivo Sandling", "Reed Ashdown")
	tab.Shot("flow-picture")
	tab.Check()
	tab.Click("Make a set to follow")
	tab.See("3 pupils")
	tab.Shot("flow-follow")
	tab.Check()
	title := tab.Find("h1").Text
	tab.Click("Give it out to 3 pupils")
	tab.See("Close it now")
	f.merle.Go(f.host + "/work")
	f.merle.See(title)
	f.wren.Go(f.host + "/work")
	f.wren.SeeNot(title)
}

// windows are those that every page is looked at in.
var windows = []browse.Window{browse.Desk, browse.Desk.InDark(), browse.Tablet, browse.Tablet.InDark(), browse.Phone, browse.Phone.InDark()}

// notPages are routes that send files, pictures and numbers.
var notPages = regexp.MustCompile(`^/assets/|^/pictures/|^/record/films/|^/session$|\{file\}|/film$|\.(pdf|csv|zip)$`)

// walk opens every page that the table of routes has, with what the fortnight has left, in every window.
func (f *term) walk() {
	id := func(address string, n int) string { return strings.Split(address, "/")[n] }
	fill := strings.NewReplacer("{class}", id(f.class, 2), "{set}", id(f.set, 2), "{question}", id(f.own, 2), "{pupil}", id(f.pupil, 4), "{name}", "lock-footbridge", "{version}", "all", "{item}", "1",
		"{part}", "start", "{$}", "")
	visitor := browse.Open(f.t, browse.Desk, f.host+"/")
	f.teacher.Forgive("status of 409") // questions can't be added to a set that is given out: a page that says so
	seen := map[string]bool{}
	for _, route := range web.Routes(&page.Desk{}) {
		method, pattern, _ := strings.Cut(route.Pattern, " ")
		if method != "GET" || route.Live || notPages.MatchString(pattern) {
			continue
		}
		address := fill.Replace(pattern)
		if strings.Contains(address, "{") {
			f.t.Errorf("%s: nothing is known to stand for what is in braces", pattern)
			continue
		}
		name := strings.Trim(regexp.MustCompile(`[^a-z]+`).ReplaceAllString(pattern, "-"), "-")
		switch route.For {
		case page.Everyone:
			f.look(visitor, "visitor-"+name, address)
		case page.Pupils:
			f.look(f.merle, "pupil-"+name, address)
		case page.SignedIn:
			f.look(f.merle, "pupil-"+name, address)
			f.look(f.teacher, "teacher-"+name, address)
		default:
			f.look(f.teacher, "teacher-"+name, address)
		}
		seen[pattern] = true
	}
	f.look(f.merle, "pupil-help", "/help")
	f.look(f.teacher, "teacher-help", "/help")
	visitor.Forgive("status of 404")
	f.look(visitor, "visitor-nowhere", "/no-such-page")
	for address, tab := range map[string]*browse.Tab{"/work/" + id(f.set, 2): f.merle, f.set + "/marks": f.teacher, f.set + "/rules": f.teacher, f.own: f.teacher} {
		tab.Resize(browse.Window{Name: "keys", Width: 360, Height: 740})
		tab.Go(f.host + address)
		for _, stop := range tab.Walk(100) {
			if !stop.Ring || stop.Covered {
				f.t.Errorf("%s: at %q the focus can be seen: %v; something lies over it: %v", address, stop.Name, stop.Ring, stop.Covered)
			}
		}
	}
	if len(seen) < 35 {
		f.t.Errorf("only %d pages were looked at", len(seen))
	}
}

// look takes pictures of a page in every window, and says what is wrong with it: axe where it is widest in the light and
// narrowest in the dark.
func (f *term) look(tab *browse.Tab, name, address string) {
	f.t.Helper()
	tab.Resize(windows[0])
	tab.Go(f.host + address)
	for i, w := range windows {
		tab.Resize(w)
		tab.Shot("page-" + name)
		if i == 0 || i == len(windows)-1 {
			tab.Check()
			continue
		}
		for _, fault := range tab.Layout() {
			f.t.Errorf("%s, %s: %s", address, w.Name, fault)
		}
	}
}
