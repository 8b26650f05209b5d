package questions_test

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"steelyard/web/webtest"
)

// ask sends JSON as the page's script does.
func ask(t *testing.T, c *webtest.Client, path string, body any, into any) int {
	t.Helper()
	b, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	p := c.Do(http.MethodPost, path, "application/json", bytes.NewReader(b))
	if into != nil {
		if err := json.Unmarshal([]byte(p.Body), into); err != nil {
			t.Fatalf("%d: %v\n%s", p.Status, err, p.Body)
		}
	}
	return p.Status
}

type looked struct {
	Text, SVG, State, Things, Said, Refused, Made string
	Also                                          []string
	Handles                                       []struct{ Thing, What string }
	Faults                                        int
}

type saved struct {
	Version int
	Other   string
	Changed bool
}

type object = map[string]any

func text(p *webtest.Page) string {
	return p.All("textarea", "id", "text")[0].FirstChild.Data
}

func version(p *webtest.Page) string {
	return webtest.Attr(p.All("input", "name", "version")[0], "value")
}

// The list has the bank, and finds by words, level, kind and marks, without script.
func TestTheListIsSifted(t *testing.T) {
	site := webtest.New(t)
	p := site.Teacher.Get("/questions").Want(200).Has("Lock footbridge", "You have no questions of your own yet")
	for _, c := range []struct {
		fill  webtest.Values
		has   string
		lacks string
	}{
		{webtest.Values{"Words": "keeper sill"}, "Lock footbridge", "Choir riser"},
		{webtest.Values{"Level": "14-16"}, "Two tea tins", "Lock footbridge"},
		{webtest.Values{"Kind": "friction"}, "Crate on a ramp", "Lock footbridge"},
		{webtest.Values{"Marks": "9"}, "Lock footbridge", "Mooring plank"},
		{webtest.Values{"Brings out": "equal-shares"}, "Lock footbridge", "Crate on a ramp"},
		{webtest.Values{"Whose": "own"}, "None fits all of that", "Lock footbridge"},
	} {
		p.Submit("Find", c.fill).Want(200).Has(c.has).Lacks(c.lacks)
	}
}

// A question of the bank can be read, printed and made one's own.
func TestAQuestionOfTheBank(t *testing.T) {
	site := webtest.New(t)
	p := site.Teacher.Get("/questions/bank/lock-footbridge").Want(200).
		Has("The lock keeper, of weight 560", "570 N up", "What pupils may do wrong", "Worked solution", "Each support takes half")
	if a := p.All("a", "href", "/sets/new?question=bank:lock-footbridge"); len(a) != 1 {
		t.Error("it can't be put in a set")
	}
	for file, begins := range map[string]string{"sheet.pdf": "%PDF", "scheme.pdf": "%PDF", "solutions.pdf": "%PDF", "cards.pdf": "%PDF", "drawing.svg": "<svg", "question.moments": "question"} {
		if got := site.Teacher.Get("/questions/bank/lock-footbridge/paper/" + file).Want(200); !strings.HasPrefix(got.Body, begins) {
			t.Errorf("%s begins with %.20q", file, got.Body)
		}
	}
	site.Teacher.Get("/questions/bank/no-such").Want(404)
	site.Teacher.Get("/questions/bank/lock-footbridge/paper/x.exe").Want(404)
	mine := p.Submit("Make it mine", nil).Want(200)
	if !strings.HasPrefix(mine.Path, "/questions/") || !strings.Contains(text(mine), "support P: rest, on plank at 0.70 m") {
		t.Errorf("at %s there is\n%s", mine.Path, text(mine))
	}
	site.Teacher.Get("/questions?whose=own").Want(200).Has("Lock footbridge")
}

// Pasted text with faults comes back with each at its line; what can be read becomes a question.
func TestPastedText(t *testing.T) {
	site := webtest.New(t)
	p := site.Teacher.Get("/questions/new").Want(200)
	bad := p.Submit("Go on with this text", webtest.Values{"Notation": "question \"<b>Plank</b>\"\nbody b: uniform, length 4 m, weight 9 N\nsupport P: rests, on b at 1 m\n"})
	bad.Want(422).Has("1 thing to mend", "Line 3", `"rests" is no kind of support`, "<b>Plank</b>")
	if len(bad.All("b", "", "")) > 0 {
		t.Error("what was pasted became part of the page")
	}
	good := bad.Submit("Go on with this text", webtest.Values{"Notation": "question \"Plank\"\nbody b: uniform, length 4 m, weight 9 N\nsupport P: rest, on b at 2 m\n"})
	good.Want(200).Has("Plank", "P on b: 9.00 N up")
	site.Teacher.Get("/questions/new").Submit("Go on with this text", webtest.Values{"Notation": ""}).Want(422).Has("there is no text")
	unfinished := bad.Submit("Go on with this text", webtest.Values{"anyway": "yes"})
	unfinished.Want(200).Has(`"rests" is no kind of support`)
}

// Without script the workbench works by forms: buttons for steps, fields, adding, taking away, and the notation.
func TestTheWorkbenchWithoutScript(t *testing.T) {
	site := webtest.New(t)
	p := site.Teacher.Get("/questions/new").Submit("Begin with a beam", nil).Want(200).Has("P on beam: 433 N up")
	press := func(do string, fill webtest.Values) *webtest.Page {
		t.Helper()
		form := map[string][]string{"text": {text(p)}, "version": {version(p)}, "do": {do}}
		for k, v := range fill {
			form[k] = []string{v}
		}
		return site.Teacher.Post(p.Path, form)
	}
	wants := func(line string) {
		t.Helper()
		if p.Want(200); !strings.Contains(text(p), line) {
			t.Fatalf("%q is not in\n%s", line, text(p))
		}
	}
	p = press("step|P|at|1", nil)
	wants("support P: rest, on beam at 0.55 m")
	p = press("set|P|kind", webtest.Values{"set|P|kind": "hinge"})
	wants("support P: hinge")
	p = press("add", webtest.Values{"add-kind": "force"})
	wants("force E: 50 N down, on beam at ")
	p = press("remove|E", nil)
	if strings.Contains(text(p), "force E") {
		t.Error("E is still there")
	}
	p = press("rename|K", webtest.Values{"rename|K": "crate"})
	wants("load crate: weight 500 N")
	p = press("ask", webtest.Values{"add-ask": "furthest crate towards right"})
	wants("part c: find furthest crate towards right")
	p = press("vary", webtest.Values{"add-vary": "crate.weight"})
	wants("vary crate.weight")
	p = press("", webtest.Values{"set|crate|weight": "600"}) // Enter in a field
	wants("load crate: weight 600 N")
	p = press("", webtest.Values{"text": strings.Replace(text(p), "4.00 m", "5.00 m", 1)})
	wants("length 5.00 m")
	refused := press("set|Q|at", webtest.Values{"set|Q|at": "9 m"})
	refused.Want(422).Has("Nothing was changed", "beam ends at 5.00")
	unreadable := press("", webtest.Values{"text": "question \"Half"})
	unreadable.Want(200).Has("to mend") // kept all the same
}

// The script's requests: a look at a text, an edit, what is refused; nothing is saved by looking.
func TestLooking(t *testing.T) {
	site := webtest.New(t)
	p := site.Teacher.Get("/questions/new").Submit("Begin with a beam", nil).Want(200)
	was := text(p)
	var s looked
	if got := ask(t, site.Teacher, p.Path+"/look", object{"text": was, "edit": object{"do": "move", "thing": "P", "what": "at", "x": 1.02}, "quick": true, "width": 600}, &s); got != 200 {
		t.Fatal(got)
	}
	if !strings.Contains(s.Text, "support P: rest, on beam at 1.00 m") || !strings.HasPrefix(s.SVG, "<svg") || !strings.Contains(s.State, "P on beam: 520 N up") || s.Things != "" || len(s.Handles) != 4 {
		t.Errorf("it is %+v", s)
	}
	if strings.Contains(s.SVG, "style=") {
		t.Error("the drawing has styles of its own, which the policy forbids")
	}
	ask(t, site.Teacher, p.Path+"/look", object{"text": was, "edit": object{"do": "set", "thing": "P", "what": "kind", "to": "wheel"}}, &s)
	if s.Refused == "" || s.Text != was {
		t.Errorf("a wheel: %q", s.Refused)
	}
	s = looked{}
	ask(t, site.Teacher, p.Path+"/look", object{"text": "question \"X\"\nbody"}, &s)
	if s.SVG != "" || s.Faults == 0 || !strings.Contains(s.State, "Line 2") {
		t.Errorf("a text with faults: %+v", s)
	}
	ask(t, site.Teacher, p.Path+"/look", object{"text": was, "edit": object{"do": "add", "what": "load", "thing": "beam"}}, &s)
	if s.Made != "L" || !strings.Contains(s.Things, `data-thing="L"`) {
		t.Errorf("what was added is %q", s.Made)
	}
	if got := ask(t, site.Teacher, p.Path+"/look", "no object", nil); got != http.StatusBadRequest {
		t.Errorf("nonsense gets %d", got)
	}
	if got := ask(t, site.Teacher, p.Path+"/look", object{"text": strings.Repeat("#\n", 400<<10)}, nil); got != http.StatusRequestEntityTooLarge {
		t.Errorf("too much gets %d", got)
	}
	if p := site.Teacher.Do(http.MethodPost, p.Path+"/study", "application/json", strings.NewReader(`{"text":`+quote(was)+`}`)); p.Status != 200 || !strings.Contains(p.Body, "Worked solution") {
		t.Errorf("the study is %d", p.Status)
	}
	if got := text(site.Teacher.Get(p.Path)); got != was {
		t.Errorf("looking has changed the question:\n%s", got)
	}
}

func quote(s string) string { b, _ := json.Marshal(s); return string(b) }

// Of two windows the second to save is told, kindly, and nothing of either is lost.
func TestTwoWindows(t *testing.T) {
	site := webtest.New(t)
	p := site.Teacher.Get("/questions/new").Submit("Begin with a beam", nil).Want(200)
	was := text(p)
	var first, second saved
	v := json.Number(version(p))
	if got := ask(t, site.Teacher, p.Path+"/save", object{"text": was + "# one\n", "version": v}, &first); got != 200 || first.Version == 0 {
		t.Fatal(got, first)
	}
	if got := ask(t, site.Teacher, p.Path+"/save", object{"text": was + "# two\n", "version": v}, &second); got != http.StatusConflict || !second.Changed || second.Other != was+"# one\n" {
		t.Fatal(got, second)
	}
	var third saved
	if got := ask(t, site.Teacher, p.Path+"/save", object{"text": was + "# two\n", "version": second.Version}, &third); got != 200 {
		t.Fatal(got)
	}
	form := site.Teacher.Post(p.Path, map[string][]string{"text": {was + "# three\n"}, "version": {string(v)}})
	form.Want(409).Has("It was changed somewhere else", "# two")
	if got := text(form); got != was+"# three\n" {
		t.Errorf("the form comes back with\n%s", got)
	}
	both := form.Submit("Keep mine as a question of its own", nil).Want(200)
	if both.Path == p.Path || strings.TrimSpace(text(both)) != strings.TrimSpace(was+"# three\n") {
		t.Errorf("at %s there is\n%s", both.Path, text(both))
	}
}

// A version can be named, looked at and gone back to; what gave way is kept too.
func TestVersions(t *testing.T) {
	site := webtest.New(t)
	p := site.Teacher.Get("/questions/new").Submit("Begin with a beam", nil).Want(200)
	was := text(p)
	all := p.Follow("Versions").Want(200)
	all.Submit("Name it", webtest.Values{"A name": "as first made"}).Want(200).Has("as first made")
	ask(t, site.Teacher, p.Path+"/save", object{"text": was + "# later\n", "version": json.Number(version(p))}, nil)
	site.Teacher.Get(p.Path + "/versions/all").Want(200)
	one := site.Teacher.Get(p.Path + "/versions/1").Want(200).Has("as first made")
	back := one.Submit("Go back to this version", nil).Want(200)
	if text(back) != was {
		t.Errorf("back it is\n%s", text(back))
	}
	site.Teacher.Get(p.Path + "/versions/all").Want(200).Has("before going back to version 1")
	site.Teacher.Get(p.Path + "/versions/99").Want(404)
	_ = all
}

// A colleague reads and copies what is shared, and changes nothing; what is not shared is not there.
func TestColleagues(t *testing.T) {
	site := webtest.New(t)
	p := site.Teacher.Get("/questions/new").Submit("Begin with a beam", nil).Want(200)
	_, other := site.AddTeacher("Imre Falk")
	other.Get(p.Path).Want(404)
	p.Submit("Let colleagues see and copy it", nil).Want(200).Has("Stop sharing it")
	seen := other.Get(p.Path).Want(200).Has("My question", "P on beam: 433 N up").Lacks("Stop sharing it")
	if len(seen.All("textarea", "", "")) > 0 {
		t.Error("a colleague gets the workbench")
	}
	if got := ask(t, other, p.Path+"/save", object{"text": "x", "version": 1}, nil); got == 200 {
		t.Error("a colleague can save over it")
	}
	other.Get("/questions?whose=shared").Want(200).Has("My question")
	copied := seen.Submit("Make it mine", nil).Want(200)
	if copied.Path == p.Path || text(copied) != text(p) {
		t.Errorf("the copy at %s is\n%s", copied.Path, text(copied))
	}
}

// What is put away leaves the list, and comes back.
func TestPuttingAway(t *testing.T) {
	site := webtest.New(t)
	p := site.Teacher.Get("/questions/new").Submit("Begin with a beam", nil).Want(200)
	list := p.Submit("Put it away", nil).Want(200)
	if list.Path != "/questions" {
		t.Errorf("it leads to %s", list.Path)
	}
	site.Teacher.Get("/questions?whose=own").Want(200).Lacks("My question")
	site.Teacher.Get("/questions?whose=away").Want(200).Has("My question")
	site.Teacher.Get(p.Path).Want(200).Submit("Take it out again", nil).Want(200)
	site.Teacher.Get("/questions?whose=own").Want(200).Has("My question")
}

// A slip that changes no answer says so, and a negative force has a minus before it.
func TestEverySlipTellsWhatItGives(t *testing.T) {
	site := webtest.New(t)
	p := site.Teacher.Get("/questions/new").Submit("Begin with a beam", nil).Want(200)
	p = site.Teacher.Get(p.Path).Want(200).Has("gives the right answer", "gives (a) 2300 N; (b) −1600 N").Lacks("-1600 N")
	lines := 0
	for _, li := range p.All("li", "", "") {
		if said := webtest.TextOf(li); strings.Contains(said, "Put the weight midway between the supports: the weight of the beam (common)") {
			lines++
			if !strings.Contains(said, "gives the right answer") {
				t.Errorf("one says %q", said)
			}
		}
	}
	if lines != 1 {
		t.Errorf("%d say that the weight is midway", lines)
	}
}

// Own questions can be printed and taken along; one that is not finished says why not.
func TestPaper(t *testing.T) {
	site := webtest.New(t)
	p := site.Teacher.Get("/questions/new").Submit("Begin with a beam", nil).Want(200)
	for file, begins := range map[string]string{"sheet.pdf": "%PDF", "scheme.pdf": "%PDF", "drawing.svg": "<svg", "question.moments": "question"} {
		if got := site.Teacher.Get(p.Path + "/paper/" + file).Want(200); !strings.HasPrefix(got.Body, begins) {
			t.Errorf("%s begins with %.20q", file, got.Body)
		}
	}
	if got := site.Teacher.Get(p.Path + "/paper/scheme.pdf").Header.Get("Content-Disposition"); !strings.Contains(got, `"my-question-scheme.pdf"`) {
		t.Errorf("the scheme is sent as %s", got)
	}
	ask(t, site.Teacher, p.Path+"/save", object{"text": "question \"Half\"\nbody", "version": json.Number(version(p))}, nil)
	site.Teacher.Get(p.Path + "/paper/sheet.pdf").Want(422).Has("can't be printed yet")
	site.Teacher.Get("/questions?whose=own").Want(200).Has("Half", "not finished", "No drawing yet")
}

// The first page of the workbench is small: what it needs over the wire, style, script and letters included.
func TestTheFirstPageIsSmall(t *testing.T) {
	site := webtest.New(t)
	p := site.Teacher.Get("/questions/new")
	form := map[string][]string{"from": {"bank:lock-footbridge"}}
	q := site.Teacher.Post(p.Path, form).Want(200)
	sum := 0
	wire := func(path string) {
		r, err := http.NewRequest(http.MethodGet, site.URL+path, nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Accept-Encoding", "gzip")
		res, err := site.Teacher.HTTP.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		defer res.Body.Close()
		b, err := io.ReadAll(res.Body)
		if err != nil || res.StatusCode != 200 {
			t.Fatalf("%s: %d %v", path, res.StatusCode, err)
		}
		t.Logf("%7d bytes  %s (%s)", len(b), path, res.Header.Get("Content-Encoding"))
		sum += len(b)
	}
	wire(q.Path)
	seen := map[string]bool{}
	for _, kind := range []struct{ element, attribute string }{{"link", "href"}, {"script", "src"}} {
		for _, n := range q.All(kind.element, "", "") {
			if a := webtest.Attr(n, kind.attribute); a != "" && !seen[a] {
				seen[a] = true
				wire(a)
			}
		}
	}
	for a := range seen { // what these name in turn: letters, and modules
		base := a[:strings.LastIndex(a, "/")+1]
		for _, m := range regexp.MustCompile(`url\(([a-z-]+\.woff2)\)|from "\./([a-z]+\.js)"`).FindAllStringSubmatch(site.Teacher.Get(a).Body, -1) {
			if name := base + m[1] + m[2]; !seen[name] {
				seen[name] = true
				wire(name)
			}
		}
	}
	if t.Logf("%7d bytes in all", sum); sum > 200<<10 {
		t.Errorf("%d kB, more than 200", sum>>10)
	}
}
