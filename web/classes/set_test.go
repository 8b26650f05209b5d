package classes_test

import (
	"net/url"
	"strings"
	"testing"
	"time"

	"steelyard/homework"
	"steelyard/store"
	"steelyard/web/webtest"
)

// draft makes a draft of questions of the bank.
func draft(t *testing.T, site *webtest.Site, questions ...string) homework.Set {
	t.Helper()
	site.Teacher.Get("/classes/"+site.Class.ID+"/sets/new?question=bank:"+questions[0]).Want(200).Submit("Make a draft", webtest.Values{"Title": "Moments 3"}).Want(200)
	s := lastSet(t, site, site.Class.ID)
	for _, q := range questions[1:] {
		site.Teacher.Post("/sets/"+s.ID+"/questions", url.Values{"do": {"add"}, "question": {"bank:" + q}}).Want(200)
	}
	return lastSet(t, site, site.Class.ID)
}

func lastSet(t *testing.T, site *webtest.Site, class string) homework.Set {
	t.Helper()
	sets, err := site.Store.SetsOf(t.Context(), class)
	if err != nil || len(sets) == 0 {
		t.Fatal("no set", err)
	}
	return sets[0]
}

// A set goes from the first question to being given out; each pupil gets numbers of their own.
func TestSetFromTheFirstQuestionToGivingOut(t *testing.T) {
	site := webtest.New(t)
	p := site.Teacher.Get("/classes/" + site.Class.ID).Follow("New set").Want(200)
	headings(t, p)
	faultAt(t, p.Submit("Make a draft", webtest.Values{"Title": ""}), "title", "give the set a title")
	p = p.Submit("Make a draft", webtest.Values{"Title": "Moments 3"}).Want(200).Has("Questions for Moments 3", "Lock footbridge")
	headings(t, p)
	p = p.Submit("Search", webtest.Values{"find": "lock keeper footbridge"}).Want(200).Has("Lock footbridge").Lacks("Drying rack")
	p.Submit("Add", nil).Want(200).Has("in the set", "1 question in the set")
	s := lastSet(t, site, site.Class.ID)
	p = site.Teacher.Get("/sets/"+s.ID).Want(200).Has("draft", "Lock footbridge", "own numbers", "Give it out to 3 pupils")
	headings(t, p)
	p = p.Submit("Give it out", nil).Want(200).Has("On paper", "0 of 3 handed in", "Opened")
	headings(t, p)
	numbers, err := site.Store.NumbersOf(t.Context(), s.ID)
	if err != nil || len(numbers) != 3 || numbers[0].Text == numbers[1].Text || strings.Contains(numbers[0].Text, "vary") {
		t.Errorf("numbers: %v, %v", numbers, err)
	}
	site.Pupils[0].Get("/work").Has("Moments 3")

	// Who joins later gets theirs, and nobody else's change.
	site.Teacher.Upload("/classes/"+site.Class.ID+"/list", webtest.Values{"names": "Sam Reed"}, "other", "", nil).Submit("Yes, do this", nil).Want(200)
	more, err := site.Store.NumbersOf(t.Context(), s.ID)
	if err != nil || len(more) != 4 {
		t.Fatalf("%d numbers, %v", len(more), err)
	}
	for _, n := range numbers {
		kept, err := site.Store.NumbersFor(t.Context(), s.ID, n.Pupil)
		if err != nil || len(kept) != 1 || kept[0].Text != n.Text {
			t.Errorf("numbers of %s have changed: %v", n.Pupil, err)
		}
	}
	// Questions of a set that has been given out stay.
	site.Teacher.Get("/sets/" + s.ID + "/questions").Want(409)
	site.Teacher.Post("/sets/"+s.ID+"/questions", url.Values{"do": {"remove"}, "item": {"0"}, "question": {"bank:lock-footbridge"}}).Want(409).Has("This set has been given out")
	site.Teacher.Post("/sets/"+s.ID+"/remove", nil).Want(409)
}

// Questions of a draft are moved, taken out, and given own numbers or the same for all.
func TestQuestionsOfADraft(t *testing.T) {
	site := webtest.New(t)
	s := draft(t, site, "lock-footbridge", "tea-tins")
	at := "/sets/" + s.ID
	if len(s.Items) != 2 || !s.Items[0].Own {
		t.Fatalf("items: %+v", s.Items)
	}
	site.Teacher.Get(at).Submit("Down", nil).Want(200)
	if s = lastSet(t, site, site.Class.ID); s.Items[0].Question != "bank:tea-tins" {
		t.Error("not moved")
	}
	site.Teacher.Get(at).Has("The ranges are narrow").Submit("The same numbers for all", nil).Want(200).Has("the same numbers for all").Lacks("The ranges are narrow")
	if s = lastSet(t, site, site.Class.ID); s.Items[0].Own || !s.Items[1].Own {
		t.Errorf("items: %+v", s.Items)
	}
	site.Teacher.Get(at).Submit("Own numbers for each", nil).Submit("Take out", nil).Want(200)
	// A form that names a question which is no longer there changes nothing.
	site.Teacher.Post(at+"/questions", url.Values{"do": {"remove"}, "item": {"0"}, "question": {"bank:tea-tins"}}).Want(200)
	if s = lastSet(t, site, site.Class.ID); len(s.Items) != 1 || s.Items[0].Question != "bank:lock-footbridge" {
		t.Errorf("items: %+v", s.Items)
	}
	site.Teacher.Post(at+"/questions", url.Values{"do": {"add"}, "question": {"bank:nothing"}}).Want(404)
	site.Teacher.Get(at).Submit("Take out", nil).Submit("Give it out", nil).Want(422).Has("It can't be given out yet", "there is no question in the set")
	site.Teacher.Get(at).Submit("Remove", nil).Want(200).Has("No sets yet")
}

// One's own questions and colleagues' can be set; unfinished ones and other people's can't.
func TestOwnQuestionsInASet(t *testing.T) {
	site := webtest.New(t)
	other, _ := site.AddTeacher("Bram Otto")
	text := "question \"Plank of ours\"\nlevel 16-18\ng 9.81 N/kg\nbody plank: uniform, length 4.00 m, weight 200 N\nsupport P: rest, on plank at 0.50 m\nsupport Q: rest, on plank at 3.50 m\npart a: find force P marks 3\n"
	add := func(owner, title, text string, shared bool) string {
		q := store.Question{ID: store.NewID(), Owner: owner, Title: title, Text: text, Shared: shared, Changed: site.Clock.Now()}
		if err := site.Store.AddQuestion(t.Context(), store.By{Role: "teacher", Who: owner, At: site.Clock.Now()}, q); err != nil {
			t.Fatal(err)
		}
		return q.ID
	}
	own, half := add(site.Head.ID, "Plank of ours", text, false), add(site.Head.ID, "Half done", "question \"Half", false)
	shared, secret := add(other.ID, "Shared plank", text, true), add(other.ID, "Secret plank", text, false)
	s := draft(t, site, "tea-tins")
	at := "/sets/" + s.ID + "/questions"
	site.Teacher.Get(at+"?kind=own").Want(200).Has("Plank of ours", "Half done", "it isn't finished").Lacks("Secret")
	site.Teacher.Get(at + "?kind=shared").Want(200).Has("1 question")
	for id, status := range map[string]int{own: 200, shared: 200, half: 422, secret: 404, "nobody": 404} {
		site.Teacher.Post(at, url.Values{"do": {"add"}, "question": {id}}).Want(status)
	}
	if s = lastSet(t, site, site.Class.ID); len(s.Items) != 3 {
		t.Errorf("%d items", len(s.Items))
	}
	site.Teacher.Get("/pictures/question/" + own).Want(200)
	site.Teacher.Get("/pictures/question/" + half).Want(404)
	site.Teacher.Get("/pictures/question/" + secret).Want(404)
	site.Teacher.Get("/pictures/bank/nothing").Want(404)
	if p := site.Teacher.Get("/pictures/bank/tea-tins").Want(200); !strings.Contains(p.Body, "<svg") || p.Header.Get("Content-Type") != "image/svg+xml" {
		t.Error("no picture")
	}
}

// How a set runs: each fault stands at its field, and what is saved is what was chosen.
func TestRulesOfASet(t *testing.T) {
	site := webtest.New(t)
	s := draft(t, site, "lock-footbridge")
	p := site.Teacher.Get("/sets/" + s.ID + "/rules").Want(200)
	headings(t, p)
	for _, test := range []struct {
		fill      webtest.Values
		id, words string
	}{
		{webtest.Values{"title": ""}, "title", "give the set a title"},
		{webtest.Values{"opens": "tomorrow"}, "opens", "is no date with a time"},
		{webtest.Values{"opens": "2026-12-04T16:00", "closes": "2026-12-03T16:00"}, "closes", "it would close before it opens"},
		{webtest.Values{"solution": "closed"}, "closes", "worked solution would be shown once it has closed, but it never closes"},
		{webtest.Values{"for": "chosen"}, "for", "tick the pupils it is for"},
		{webtest.Values{"tolerance": "50"}, "tolerance", "up to 20"},
	} {
		faultAt(t, p.Submit("Save", test.fill), test.id, test.words)
	}
	form := url.Values{"version": {"1"}, "title": {"Moments 3"}, "kind": {"homework"}, "opens": {"2026-12-01T08:00"}, "closes": {"2026-12-04T16:00"}, "for": {"chosen"},
		"pupil": {site.Members[0].ID, "somebody else"}, "hints": {"handed-in"}, "marks": {"released"}, "feedback": {"closed"}, "solution": {"closed"},
		"unit": {"no"}, "figures": {"yes"}, "bare": {"no"}, "follow": {""}, "tolerance": {"2,5 %"}}
	form.Set("version", "0")
	site.Teacher.Post("/sets/"+s.ID+"/rules", form).Want(409)
	form.Set("version", webtest.Attr(p.All("input", "name", "version")[0], "value"))
	site.Teacher.Post("/sets/"+s.ID+"/rules", form).Want(200).Has("For 1 pupil of the class", "units cost nothing", "Hints: once the pupil has handed in", "within 2.5 %")
	s = lastSet(t, site, site.Class.ID)
	if len(s.For) != 1 || s.Show.Solution != homework.Closed || !s.Closes.Equal(time.Date(2026, 12, 4, 16, 0, 0, 0, time.Local)) ||
		s.Policy != "unit needed: no\nfigures needed: yes\nbare answer: no\ntolerance: 2.5 %\n" {
		t.Errorf("kept: %+v", s)
	}
	// Once it is given out, marking stays; times and what is shown can change.
	site.Teacher.Get("/sets/"+s.ID).Submit("Give it out to 1 pupil", nil).Want(200)
	site.Teacher.Get("/sets/"+s.ID+"/rules").Lacks("Significant figures").Submit("Save", webtest.Values{"closes": "2026-12-05T16:00", "for": "whole"}).Want(200).
		Has("5 December 2026", "2 pupils have joined since", "units cost nothing").Submit("Give them theirs", nil).Want(200).Lacks("joined since")
}

// A set is closed, opened again, and copied to another class as a draft.
func TestCloseReopenCopy(t *testing.T) {
	site := webtest.New(t)
	other, _, _ := site.AddClass(site.Head, "11a", "Nora Vane")
	s := draft(t, site, "lock-footbridge")
	at := "/sets/" + s.ID
	site.Teacher.Post(at+"/close", nil).Want(409)
	site.Teacher.Get(at).Submit("Give it out", nil).Want(200)
	site.Clock.Pass(20 * time.Minute)
	p := site.Teacher.Get(at).Submit("Close now", nil).Want(200).Has("closed")
	faultAt(t, p.Submit("Open again", webtest.Values{"Closes": "2026-11-01T10:00"}), "closes", "that time is over")
	faultAt(t, p.Submit("Open again", webtest.Values{"Closes": "late"}), "closes", "is no date with a time")
	p.Submit("Open again", webtest.Values{"Closes": "2026-12-24T10:00"}).Want(200).Has("open until Thu 24 December 2026, 10:00")
	site.Teacher.Get(at).Submit("Make a draft there", webtest.Values{"Class": other.ID}).Want(200).Has("11a", "draft", "Lock footbridge")
	fresh := lastSet(t, site, other.ID)
	if fresh.Seed == s.Seed || !fresh.Closes.IsZero() || !fresh.Given.IsZero() || len(fresh.Items) != 1 {
		t.Errorf("the copy is %+v", fresh)
	}
	site.Teacher.Post(at+"/copy", url.Values{"class": {"nobody"}}).Want(404)
}

// A set can begin at a question, for a class or in a draft that is there.
func TestSetFromAQuestion(t *testing.T) {
	site := webtest.New(t)
	s := draft(t, site, "tea-tins")
	p := site.Teacher.Get("/sets/new?question=bank:lock-footbridge").Want(200).Has("10b", "Lock footbridge", "Add to “Moments 3”")
	headings(t, p)
	p.Follow("New set").Want(200).Has("It begins with “Lock footbridge”")
	p.Submit("Add to", nil).Want(200)
	if s = lastSet(t, site, site.Class.ID); len(s.Items) != 2 {
		t.Errorf("%d items", len(s.Items))
	}
	site.Teacher.Get("/sets/new?question=bank:nothing").Want(404)
	for _, to := range []string{"/show/set/" + s.ID + "/2", "/try/set/" + s.ID + "/2"} {
		if p := site.Teacher.Get("/sets/" + s.ID).Want(200); !strings.Contains(p.Body, `href="`+to+`"`) {
			t.Errorf("the set's page has no way to %s", to)
		}
	}
}

// Paper has the same numbers as the screen: each pupil's sheet in their own size, with a code in place of a name in the foot.
func TestPaper(t *testing.T) {
	site := webtest.New(t)
	site.Teacher.Get("/classes/"+site.Class.ID+"/pupils/"+site.Members[1].ID).Submit("Save", webtest.Values{"Size of text": "18", "Colour": "cream"}).Want(200)
	s := draft(t, site, "lock-footbridge", "tea-tins")
	at := "/sets/" + s.ID
	site.Teacher.Get(at + "/sheets.pdf").Want(409).Has("The set has not been given out yet")
	p := site.Teacher.Get(at).Submit("Give it out", nil).Want(200).Has("1 cream sheet")
	sheets := textOf(t, []byte(p.Follow("Sheets of all pupils").Want(200).Body))
	for _, m := range site.Members {
		if !strings.Contains(sheets, m.Name) || !strings.Contains(sheets, m.ID[:6]) {
			t.Errorf("there is no sheet of %s", m.Name)
		}
	}
	if cream := textOf(t, []byte(p.Follow("1 cream sheet").Want(200).Body)); strings.Contains(cream, "Ilse Hart") || !strings.Contains(cream, "Omar Quist") {
		t.Error("the sheets for cream paper are others' too")
	}
	if white := textOf(t, []byte(p.Follow("the others").Want(200).Body)); !strings.Contains(white, "Ilse Hart") || strings.Contains(white, "Omar Quist") {
		t.Error("the sheets for white paper are others' too")
	}
	if scheme := textOf(t, []byte(p.Follow("Mark scheme").Want(200).Body)); !strings.Contains(scheme, "Omar Quist") || !strings.Contains(scheme, "Everyone's answers") {
		t.Errorf("the scheme says:\n%.800s", scheme)
	}
	if solved := textOf(t, []byte(p.Follow("Worked solutions").Want(200).Body)); !strings.Contains(solved, "Lock footbridge") {
		t.Errorf("the solutions say:\n%.800s", solved)
	}
}

// The preview shows what a pupil sees: the drawing, the parts, and no answers.
func TestPreview(t *testing.T) {
	site := webtest.New(t)
	s := draft(t, site, "lock-footbridge")
	p := site.Teacher.Get("/sets/"+s.ID+"/preview").Want(200).Has("Lock footbridge", "(a)", "chosen when you give the set out")
	headings(t, p)
	if len(p.All("svg", "role", "img"))+len(p.All("svg", "", "")) == 0 {
		t.Error("no drawing")
	}
	p.Has("number and unit").Lacks(`class="unit"`) // the unit is the pupil's to give, as on their own page
	site.Teacher.Get("/sets/"+s.ID).Submit("Give it out", nil).Want(200)
	site.Teacher.Get("/sets/"+s.ID+"/preview").Submit("Show", webtest.Values{"pupil": site.Members[1].ID}).Want(200).Lacks("chosen when")
}

// Every address of the room is for teachers, and for nobody else.
func TestForTeachersOnly(t *testing.T) {
	site := webtest.New(t)
	s := draft(t, site, "lock-footbridge")
	for _, path := range []string{"/classes", "/classes/new", "/classes/" + site.Class.ID, "/classes/" + site.Class.ID + "/codes", "/sets/" + s.ID, "/sets/" + s.ID + "/sheets.pdf", "/pictures/bank/tea-tins"} {
		if p := site.Pupils[0].Get(path); p.Status != 404 && p.Status != 403 {
			t.Errorf("a pupil gets %d for %s", p.Status, path)
		}
	}
	_, colleague := site.AddTeacher("Bram Otto")
	colleague.Get("/sets/" + s.ID).Want(404)
	colleague.Post("/sets/"+s.ID+"/give", nil).Want(404)
}
