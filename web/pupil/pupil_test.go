package pupil

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"steelyard/bank/banktest"
	"steelyard/homework"
	"steelyard/store"
)

func has(t *testing.T, page string, want ...string) {
	t.Helper()
	got := text(page)
	for _, w := range want {
		if !strings.Contains(got, w) {
			t.Errorf("the page doesn't say %q:\n%.1500s", w, got)
		}
	}
}

func hasNot(t *testing.T, page string, not ...string) {
	t.Helper()
	got := text(page)
	for _, w := range not {
		if strings.Contains(got, w) {
			t.Errorf("the page says %q:\n%.1500s", w, got)
		}
	}
}

func (s *school) drafts(set homework.Set) map[string]homework.Draft {
	s.t.Helper()
	list, err := s.desk.Store.Drafts(context.Background(), set.ID, s.pupil[0].ID)
	s.must(err)
	out := map[string]homework.Draft{}
	for _, d := range list {
		out[fmt.Sprint(d.Item, "-", d.Part)] = d
	}
	return out
}

func (s *school) handIns(set homework.Set) []homework.HandIn {
	s.t.Helper()
	list, err := s.desk.Store.HandInsBy(context.Background(), set.ID, s.pupil[0].ID)
	s.must(err)
	return list
}

// Without scripts: type, save, see how it is read, look over, hand in, hand in again.
func TestPlainBrowserHandsIn(t *testing.T) {
	s := open(t)
	set := s.set(nil, "lock-footbridge", "tea-tins")
	p, at := s.plain(0), "/work/"+set.ID
	_, page := p.get(at)
	has(t, page, "It closes today at 14:00.", "1. Lock footbridge", "0 of 8 parts begun")
	form := fields(page)
	form.Set("w-0-b", "Moments about Q:\r\n280 x 1.1 = 2.8 RP")
	form.Set("a-0-b", "570 N")
	form.Set("do", "read-0-b")
	_, page = p.post(at, form)
	has(t, page, "280 times 1.1 is equal to 2.8 times R P", "Answer, read as 570 N", "1 of 8 parts begun", "Saved today at 12:00")
	if got := s.drafts(set)["0-b"]; got.Working != "Moments about Q:\n280 x 1.1 = 2.8 RP" || got.Answer.Answer != "570 N" {
		t.Errorf("kept %+v", got)
	}
	form = fields(page)
	form.Set("do", "look")
	_, page = p.post(at, form)
	has(t, page, "Look over and hand in", "7 parts are still empty, of 8", "Answer, read as 570 N", "Nothing yet.")
	_, page = p.post(at+"/hand-in", fields(page))
	has(t, page, "is handed in", "with 1 part written", "quote your receipt")
	receipt := regexp.MustCompile(`[2-9A-HJ-NP-Z]{4}-[2-9A-HJ-NP-Z]{4}`).FindString(page)
	if list := s.handIns(set); len(list) != 1 || list[0].Receipt != receipt || len(s.drafts(set)) != 0 {
		t.Errorf("receipt %q, handed in %+v, drafts %v", receipt, list, s.drafts(set))
	}
	if len(s.desk.HandedIn) != 1 {
		t.Error("nobody was told that there is something to mark")
	}
	_, page = p.get(at)
	has(t, page, "You handed this in today at 12:00", receipt, "You can change it and hand it in again.")
	form = fields(page)
	form.Set("a-1-a", "0.23 Nm anticlockwise")
	form.Set("do", "save")
	_, page = p.post(at, form)
	has(t, page, "saved, but not handed in yet")
	_, page = p.get(at + "/look")
	_, page = p.post(at+"/hand-in", fields(page))
	has(t, page, "with 2 parts written")
	if list := s.handIns(set); len(list) != 2 {
		t.Errorf("%d hand-ins, want both kept", len(list))
	}
	_, page = p.get("/work")
	has(t, page, "Nothing is left to hand in.", "handed in")
}

// The same form twice, at once or later, is one hand-in.
func TestHandInTwiceIsOne(t *testing.T) {
	s := open(t)
	set := s.set(nil, "tea-tins")
	p, at := s.plain(0), "/work/"+set.ID
	_, page := p.get(at)
	form := fields(page)
	form.Set("a-0-a", "0.2 Nm")
	form.Set("do", "look")
	_, page = p.post(at, form)
	form = fields(page)
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			if status, page := p.post(at+"/hand-in", form); status != 200 || !strings.Contains(page, "is handed in") {
				t.Errorf("%d: %.300s", status, text(page))
			}
		})
	}
	wait.Wait()
	if n := len(s.handIns(set)); n != 1 {
		t.Errorf("%d hand-ins", n)
	}
}

// What was changed in between, in another window, is not handed in unseen.
func TestWhatWasNotSeenIsNotHandedIn(t *testing.T) {
	s := open(t)
	set := s.set(nil, "tea-tins")
	p, at := s.plain(0), "/work/"+set.ID
	_, page := p.get(at + "/look")
	form := fields(page)
	p.send(at+"/drafts", `{"parts":[{"id":"0-a","answer":"5 N","working":"","rev":1}]}`)
	_, page = p.post(at+"/hand-in", form)
	has(t, page, "Look over and hand in", "something was changed in another window", "5 N")
	if n := len(s.handIns(set)); n != 0 {
		t.Errorf("%d hand-ins", n)
	}
}

// An open page sends what is typed. An older change never replaces a newer one, and two windows don't overwrite each
// other unseen.
func TestDrafts(t *testing.T) {
	s := open(t)
	set := s.set(nil, "lock-footbridge")
	p, at := s.plain(0), "/work/"+set.ID+"/drafts"
	now := s.desk.Now().UnixMilli()
	send := func(id, answer string, rev, base int64) (k kept) {
		t.Helper()
		b, _ := json.Marshal(map[string]any{"parts": []typed{{ID: id, Answer: answer, Rev: rev, Base: base}}})
		status, body := p.send(at, string(b))
		if err := json.Unmarshal([]byte(body), &k); status != 200 || err != nil {
			t.Fatalf("%d %s", status, body)
		}
		return k
	}
	if k := send("0-a", "1", now, 0); len(k.Kept) != 1 || k.Kept[0].Rev != now || k.Closed {
		t.Errorf("%+v", k)
	}
	if k := send("0-a", "2", now+5, now); len(k.Kept) != 1 {
		t.Errorf("%+v", k)
	}
	if k := send("0-a", "from another window", now+9, 0); len(k.Newer) != 1 || k.Newer[0].Answer != "2" || k.Newer[0].Rev != now+5 {
		t.Errorf("%+v", k)
	}
	if k := send("0-a", "2", now+9, 0); len(k.Newer) != 0 || len(k.Kept) != 1 {
		t.Errorf("the same text is no conflict: %+v", k)
	}
	if k := send("0-b", "from a phone whose clock is a year ahead", now+3e10, 0); k.Kept[0].Rev > now+3_600_000 {
		t.Errorf("%+v", k)
	}
	if k := send("7-z", "no such part", now, 0); len(k.Kept)+len(k.Newer) != 0 {
		t.Errorf("%+v", k)
	}
	if d := s.drafts(set); d["0-a"].Answer.Answer != "2" || len(d) != 2 {
		t.Errorf("%+v", d)
	}
	for _, bad := range []string{"", "{", `{"parts":[{"id":"0-a","rev":"x"}]}`, `{"parts":[{"id":"0-a","answer":"` + strings.Repeat("1", 300) + `"}]}`} {
		if status, body := p.send(at, bad); status != 400 && status != 422 {
			t.Errorf("%.30q: %d %s", bad, status, body)
		}
	}
}

// A form that is sent back from an old page changes only what was changed on it.
func TestOldPageDoesNotOverwrite(t *testing.T) {
	s := open(t)
	set := s.set(nil, "lock-footbridge")
	p, at := s.plain(0), "/work/"+set.ID
	_, page := p.get(at)
	old := fields(page)
	form := fields(page)
	form.Set("a-0-a", "typed in the second window")
	p.post(at, form)
	old.Set("a-0-b", "typed in the first")
	p.post(at, old)
	if d := s.drafts(set); d["0-a"].Answer.Answer != "typed in the second window" || d["0-b"].Answer.Answer != "typed in the first" {
		t.Errorf("%+v", d)
	}
}

// After closing nothing can be handed in, and nothing typed is lost. Extra time closes later.
func TestClosing(t *testing.T) {
	s := open(t)
	set := s.set(nil, "tea-tins") // three hours, the second pupil has 25 % more
	p, at := s.plain(0), "/work/"+set.ID
	_, look := p.get(at + "/look")
	s.clock.Store(2*3600 + 60)
	status, body := p.send(at+"/drafts", `{"parts":[{"id":"0-a","answer":"late","rev":1}]}`)
	var k kept
	if err := json.Unmarshal([]byte(body), &k); err != nil || status != 200 || !k.Closed || len(k.Kept) != 1 {
		t.Errorf("%d %s", status, body)
	}
	if status, body = p.post(at+"/hand-in", fields(look)); status != 409 || !strings.Contains(body, "nothing is lost") {
		t.Errorf("%d %s", status, body)
	}
	_, body = p.get(at)
	has(t, body, "This set closed today at 14:00.", "It wasn't handed in.", "your teacher can see it", "late")
	_, body = p.get("/work")
	has(t, body, "There is nothing to do just now.", "Closed today at 14:00.", "not handed in")

	other := s.plain(1)
	_, body = other.get("/work")
	has(t, body, "Closes for you today at 14:45, with your extra time.")
	_, body = other.get(at)
	has(t, body, "It closes for you today at 14:45: that is with your extra time.")
	_, look = other.get(at + "/look")
	if _, body = other.post(at+"/hand-in", fields(look)); !strings.Contains(body, "is handed in") {
		t.Error(text(body))
	}
	if status, body = s.plain(0).get("/work/" + s.set(func(h *homework.Set) { h.Opens, h.Closes = noon.Add(24*time.Hour), noon.Add(48*time.Hour) }, "tea-tins").ID); status != 403 || !strings.Contains(body, "it opens tomorrow at 12:00") {
		t.Errorf("%d %s", status, body)
	}
}

var hostile = `<script>alert(1)</script>"'><img src=x onerror=alert(1)> = 5 & 6`

// Whatever is typed comes out as text.
func TestHostileText(t *testing.T) {
	s := open(t)
	set := s.set(func(h *homework.Set) { h.Title, h.Practice, h.Show = `<b>"Planks"</b>`, true, homework.UsualShow(true) }, "tea-tins")
	p, at := s.plain(0), "/work/"+set.ID
	_, page := p.get(at)
	form := fields(page)
	form.Set("a-0-a", hostile)
	form.Set("w-0-a", hostile+"\n<math>x</math> = <b>2</b>\nmoments about <i>P</i>: 3 = 4\nR_<u> = 3")
	form.Set("do", "save")
	pages := make([]string, 0, 6)
	for _, get := range []string{at, at + "/look", "/work"} {
		_, page = p.post(at, form)
		pages = append(pages, page)
		_, page = p.get(get)
		pages = append(pages, page)
	}
	form.Set("part", "0-a")
	_, page = p.post(at+"/read", form)
	pages = append(pages, page)
	_, look := p.get(at + "/look")
	_, page = p.post(at+"/hand-in", fields(look))
	pages = append(pages, page)
	_, page = p.get(at + "/marks")
	pages = append(pages, page)
	for i, page := range pages {
		if list := foreign(page); len(list) > 0 {
			t.Errorf("page %d has %q in it", i, list)
		}
	}
}

// In practice each line is judged at once, with a question in place of the solution; of other sets nothing is said.
func TestPractice(t *testing.T) {
	s := open(t)
	same := func(h *homework.Set) { h.Items[0].Own = false }
	set := s.set(func(h *homework.Set) { same(h); h.Practice, h.Show = true, homework.UsualShow(true) }, "lock-footbridge")
	test := s.set(same, "lock-footbridge")
	p := s.plain(0)
	form := url.Values{"part": {"0-b"}, "a-0-b": {"560 N"}, "w-0-b": {"280*1.1 + 560*2.3 = 2.8 RP\n280*1.1 + 560*1.2 = 2.8 RP\nblah"}}
	_, page := p.post("/work/"+set.ID+"/read", form)
	has(t, page, "Right.", "Look at this line again.", "?", "Not yet.")
	hasNot(t, page, "570")
	_, page = p.post("/work/"+test.ID+"/read", form)
	has(t, page, "280 times 1.1 plus 560 times 2.3 is equal to 2.8 times R P")
	hasNot(t, page, "Right", "again", "Not yet")
	form.Set("a-0-b", "570 N")
	_, page = p.post("/work/"+set.ID+"/read", form)
	has(t, page, "Right. Well done.")
	form.Set("a-0-b", "570")
	_, page = p.post("/work/"+set.ID+"/read", form)
	has(t, page, "Which unit belongs to it?")
	form = url.Values{"part": {"0-d"}, "a-0-d": {"12 N down"}}
	_, page = p.post("/work/"+set.ID+"/read", form)
	has(t, page, "Not yet. What does each force do here, on which body and in which direction?")
}

// Hints come one at a time, are kept, and never give the answer.
func TestHints(t *testing.T) {
	s := open(t)
	set := s.set(func(h *homework.Set) { h.Practice, h.Show, h.Items[0].Own = true, homework.UsualShow(true), false }, "lock-footbridge")
	p, at := s.plain(0), "/work/"+set.ID
	_, page := p.get(at)
	has(t, page, "A hint for part b")
	for n := 1; strings.Contains(page, `value="hint-0-b"`); n++ {
		if n > 20 {
			t.Fatal("the ladder never ends")
		}
		form := fields(page)
		form.Set("do", "hint-0-b")
		_, page = p.post(at, form)
		has(t, page, fmt.Sprint(n, " hint"))
		hasNot(t, page, "570")
	}
	has(t, page, "These are all the hints there are.")
	events, err := s.desk.Store.History(context.Background(), set.ID, 100)
	if err != nil || len(events) < 7 {
		t.Errorf("%d events (%v)", len(events), err)
	}
	test := s.set(nil, "lock-footbridge")
	if status, _ := p.post("/work/"+test.ID, url.Values{"do": {"hint-0-b"}}); status != 403 {
		t.Errorf("hints of a test: %d", status)
	}
}

// In practice the ladder goes on about the point that the pupil has begun with.
func TestHintsGoOnFromOwnLines(t *testing.T) {
	s := open(t)
	set := s.set(func(h *homework.Set) { h.Practice, h.Show, h.Items[0].Own = true, homework.UsualShow(true), false }, "lock-footbridge")
	p, at := s.plain(0), "/work/"+set.ID
	_, page := p.get(at)
	for range 8 {
		form := fields(page)
		form.Set("w-0-b", "Moments about Q:\n280*1.1 + 560*2.3 = 2.8 RP")
		form.Set("do", "hint-0-b")
		_, page = p.post(at, form)
	}
	has(t, page, "You have begun with moments about Q.")
	hasNot(t, page, "570")
}

// Marks, reasons, feedback and the solution are shown when the set says so, not before.
func TestMarksAfterRelease(t *testing.T) {
	s := open(t)
	set := s.set(func(h *homework.Set) { h.Items[0].Own = false }, "lock-footbridge")
	p, at := s.plain(0), "/work/"+set.ID
	_, page := p.get(at)
	form := fields(page)
	form.Set("w-0-b", "280*1.1 + 560*2.3 = 2.8 RP")
	form.Set("a-0-b", "570 N up")
	form.Set("a-0-c", "300 N")
	form.Set("do", "look")
	_, page = p.post(at, form)
	p.post(at+"/hand-in", fields(page))
	_, page = p.get(at + "/marks")
	hasNot(t, page, "Together", "What was right", "The solution")
	s.clock.Store(5 * 3600)
	_, page = p.get("/work")
	has(t, page, "handed in, not marked yet")
	ctx := context.Background()
	s.must(s.desk.Store.Decide(ctx, s.by, []homework.Decision{{ID: store.NewID(), Set: set.ID, Pupil: s.pupil[0].ID, HandIn: s.handIns(set)[0].ID, Item: 0, Part: "c", Mark: 1, Reason: "you told me how", By: s.by.Who, At: s.desk.Now()}}))
	set, err := s.desk.Store.Set(ctx, set.ID)
	s.must(err)
	set.Released = s.desk.Now()
	s.must(s.desk.Store.SaveSet(ctx, s.by, set))
	_, page = p.get("/work")
	has(t, page, "Marked", "Handed in today at 12:00")
	_, page = p.get(at + "/marks")
	has(t, page, "Together 3 of 9 marks", "2 of 2 marks", "What was right", "Decided by your teacher", "you told me how", "The solution with your numbers", "270 N")
	p.send(at+"/drafts", `{"parts":[{"id":"0-c","answer":"typed much later","rev":1}]}`)
	_, page = p.get(at + "/marks")
	has(t, page, "300 N")
	hasNot(t, page, "typed much later")
	other := s.plain(1)
	_, page = other.get(at + "/marks")
	has(t, page, "Nothing was handed in for this set.", "The solution with your numbers")
	hasNot(t, page, "you told me how", "Together")
}

// With the worked solution out, a set that is still open can't be copied from it: those who handed in can't do it again,
// and those who haven't don't see it.
func TestNobodyCopiesTheSolution(t *testing.T) {
	s := open(t)
	set := s.set(nil, "lock-footbridge")
	p, other, at := s.plain(0), s.plain(1), "/work/"+set.ID
	_, page := p.get(at + "/look")
	p.post(at+"/hand-in", fields(page))
	_, page = p.get(at + "/look")
	again := fields(page)
	set, err := s.desk.Store.Set(context.Background(), set.ID)
	s.must(err)
	set.Released = s.desk.Now()
	s.must(s.desk.Store.SaveSet(context.Background(), s.by, set))
	_, page = p.get(at)
	has(t, page, "The solutions are out", "See what came of it")
	hasNot(t, page, "This set closed", "Look over and hand in")
	if code, page := p.post(at+"/hand-in", again); code != http.StatusConflict || len(s.handIns(set)) != 1 {
		t.Errorf("handing in again gives %d, and there are %d hand-ins:\n%s", code, len(s.handIns(set)), page)
	}
	_, page = p.get("/work")
	has(t, page, "Marked")
	_, page = p.get(at + "/marks")
	has(t, page, "The solution with your numbers")
	_, page = other.get(at + "/marks")
	hasNot(t, page, "The solution with your numbers")
	_, page = other.get(at + "/look")
	other.post(at+"/hand-in", fields(page))
	if n := len(s.handIns(set)); n != 1 {
		t.Errorf("%d hand-ins by the first pupil", n)
	}
	_, page = other.get(at + "/marks")
	has(t, page, "The solution with your numbers")
}

// What a pupil's device needs to be told: text size, description first, tint.
func TestAccess(t *testing.T) {
	s := open(t)
	set := s.set(nil, "lock-footbridge")
	_, page := s.plain(1).get("/work/" + set.ID)
	for _, want := range []string{"text-18", "tint-cream", `<details open>`} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
	if strings.Index(page, "<details open") > strings.Index(page, "<svg xmlns") {
		t.Error("the description stands behind the drawing")
	}
	if !regexp.MustCompile(`font-size="1[89](\.\d+)?"|font-size="2`).MatchString(page) {
		t.Error("the letters of the drawing have not grown")
	}
}

// What is read of an answer with two numbers is both of them, and where an angle is wanted the box says so.
func TestAnAnswerOfTwoNumbersIsReadWhole(t *testing.T) {
	s := open(t)
	set := s.set(func(h *homework.Set) { h.Items[0].Own = false }, "stall-sign")
	a, err := s.desk.Marker.Ask(set.Items[0].Text)
	s.must(err)
	for _, x := range []struct{ typed, shown string }{
		{"120 N at 23.1° above the horizontal", "120 N at 23.1° above the horizontal"},
		{"0.60 m to 3.12 m", "0.60 m to 3.12 m"},
		{"120 N upwards", "120 N, up"},
		{"2 x 60 N", "120 N"},
	} {
		p := part{Box: a.Parts[3]}
		p.Answer = x.typed
		if got := strings.Join(strings.Fields(p.read().Shown), " "); got != x.shown {
			t.Errorf("%q is shown as %q, want %q", x.typed, got, x.shown)
		}
	}
	for i, want := range map[int]string{0: "Number and unit, for example", 3: "at 25° above the horizontal"} {
		p := part{Box: a.Parts[i]}
		if e := example(a, &p); !strings.Contains(e, want) {
			t.Errorf("part %s: %q is not in %q", p.Name, want, e)
		}
	}
}

// An answer box says what belongs in it, and never the answer.
func TestExampleIsNotTheAnswer(t *testing.T) {
	s := open(t)
	for _, n := range []string{"lock-footbridge", "library-ladder", "allotment-gate", "plank-range", "herb-balance", "rail-resultant", "winding-gear"} {
		set := s.set(func(h *homework.Set) { h.Items[0].Own = false }, n)
		_, page := s.plain(0).get("/work/" + set.ID)
		a, err := s.desk.Marker.Ask(set.Items[0].Text)
		s.must(err)
		for i, r := range a.Answers.Results {
			p := part{Box: a.Parts[i]}
			if e := example(a, &p); strings.Contains(e, r.Shown) {
				t.Errorf("%s (%s): the example %q holds the answer %q", n, p.Name, e, r.Shown)
			}
		}
		if !strings.Contains(page, "for example") {
			t.Errorf("%s has no example", n)
		}
	}
}

func TestWhen(t *testing.T) {
	for _, c := range []struct {
		at   time.Time
		want string
	}{
		{noon.Add(4 * time.Hour), "today at 16:00"}, {noon.Add(21 * time.Hour), "tomorrow at 09:00"}, {noon.Add(-20 * time.Hour), "yesterday at 16:00"},
		{noon.AddDate(0, 0, 9), "on Thursday 12 March at 12:00"}, {noon.AddDate(1, 0, 0), "on 3 March 2027 at 12:00"},
	} {
		if got := when(c.at, noon); got != c.want {
			t.Errorf("%s, want %s", got, c.want)
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"570 N up", hostile, "1/3", "−4", "1e999 N", "12,5,0", "it tips"} {
		f.Add(s, s)
	}
	f.Fuzz(func(t *testing.T, answer, working string) {
		p := part{Answer: tidy(answer), Working: tidy(working)}
		var b bytes.Buffer
		if err := readings(&p).Render(context.Background(), &b); err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(b.Bytes(), []byte("<script")) {
			t.Errorf("%s", b.Bytes())
		}
	})
}

// six are the questions of a full set.
var six = []string{"lock-footbridge", "library-ladder", "allotment-gate", "tea-tins", "mooring-plank", "stage-bar"}

// The page of six questions, with numbers of the pupil's own, warm; bytes are as sent, packed.
func BenchmarkSheet(b *testing.B) {
	s := open(b)
	set := s.set(nil, six...)
	p := s.plain(0)
	_, page := p.get("/work/" + set.ID)
	var packed bytes.Buffer
	w := gzip.NewWriter(&packed)
	w.Write([]byte(page))
	w.Close()
	for b.Loop() {
		p.get("/work/" + set.ID)
	}
	b.ReportMetric(float64(len(page)), "bytes")
	b.ReportMetric(float64(packed.Len()), "bytes-packed")
}

// The same, cold: each question is read, solved and drawn.
func BenchmarkSheetCold(b *testing.B) {
	s := open(b)
	set := s.set(nil, six...)
	p := s.plain(0)
	for b.Loop() {
		s.desk.Marker = homework.NewMarker()
		p.get("/work/" + set.ID)
	}
}

func BenchmarkHandIn(b *testing.B) {
	s := open(b)
	set := s.set(nil, six...)
	p, at, n := s.plain(0), "/work/"+set.ID, 0
	for b.Loop() {
		n++
		p.send(at+"/drafts", fmt.Sprintf(`{"parts":[{"id":"0-a","answer":"%d","rev":%d,"base":%d}]}`, n, n, n))
		_, page := p.get(at + "/look")
		p.post(at+"/hand-in", fields(page))
	}
}

// How one part is read, over a connection, in a test and in practice.
func BenchmarkRead(b *testing.B) {
	for _, practice := range []bool{false, true} {
		b.Run(fmt.Sprintf("practice=%v", practice), func(b *testing.B) {
			s := open(b)
			set := s.set(func(h *homework.Set) { h.Practice, h.Show = practice, homework.UsualShow(practice) }, six...)
			form := url.Values{"part": {"0-b"}, "a-0-b": {"570 N"}, "w-0-b": {"280*1.1 + 560*2.3 = 2.8 RP\nRP = 570"}}
			p := s.plain(0)
			for b.Loop() {
				p.post("/work/"+set.ID+"/read", form)
			}
		})
	}
}

func BenchmarkDraft(b *testing.B) {
	s := open(b)
	set := s.set(nil, six...)
	p, n := s.plain(0), 0
	for b.Loop() {
		n++
		p.send("/work/"+set.ID+"/drafts", fmt.Sprintf(`{"parts":[{"id":"0-a","answer":"%d","rev":%d,"base":%d}]}`, n, n, n-1))
	}
}

// No rung before the equation itself gives the answer away, in any question of the bank; a number that is given too
// tells nothing. The equation may have nothing left to solve: X = 720 N.
func TestNoHintHoldsTheAnswer(t *testing.T) {
	s := open(t)
	digits := regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)
	for _, f := range banktest.All(t) {
		name := f.Name
		a, err := s.desk.Marker.Ask(f.Text)
		s.must(err)
		q := theQuestion{Asked: a, N: 1}
		for i := range a.Parts {
			p := part{Box: a.Parts[i]}
			s.must(q.climb(&p, 100))
			answer := digits.FindString(a.Answers.Results[i].Shown)
			if len(answer) < 3 || strings.Contains(strings.Join(a.Wording, " ")+p.Text+a.PictureText, answer) {
				continue
			}
			for _, r := range p.Rungs {
				said := text(r.Say + strings.Join(r.Line, " "))
				if strings.Contains(said, "This is the equation") {
					break
				}
				if slices.Contains(digits.FindAllString(said, -1), answer) {
					t.Errorf("%s (%s), rung %d: %q holds %s", name, p.Name, r.N, said, answer)
				}
			}
		}
	}
}
