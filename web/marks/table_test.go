package marks_test

import (
	"bufio"
	"net/http"
	"strings"
	"testing"
	"time"

	"steelyard/account"
	"steelyard/web/webtest"
)

func TestTheTableTellsHowEachPupilStands(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.handIn(t, 0, corpus(t, "lock-footbridge", 0)[0]...)
	s.handIn(t, 2, doubtful("570 N"))
	s.marked(t)
	p := s.Teacher.Get(s.path("/marks")).Want(200).Has("2 of 8 pupils handed in", "Tamsel Overby", "Pause updates")
	if len(p.All("h1", "", "")) != 1 {
		t.Error("the page has not one heading of the first rank")
	}
	row := p.All("tr", "id", "p-"+s.pupils[0].ID)
	if got := webtest.TextOf(row[0]); !strings.Contains(got, "9") {
		t.Errorf("a pupil with full marks has %q", got)
	}
	if got := webtest.TextOf(p.All("tr", "id", "p-"+s.pupils[2].ID)[0]); !strings.Contains(got, "0 ?") {
		t.Errorf("a pupil about whom the marker asks has %q", got)
	}
	s.Clock.Pass(72 * time.Hour)
	s.SignIn(account.Head, s.Head.ID).Get(s.path("/marks")).Want(200).Has("not handed in")
}

func TestAHandInComesIntoAnOpenTable(t *testing.T) {
	s := open(t, "lock-footbridge")
	p := s.Teacher.Get(s.path("/marks")).Want(200)
	address := webtest.Attr(p.All("button", "id", "pause")[0], "data-live")
	r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, s.URL+address, nil)
	must(t, err)
	answer, err := s.Teacher.HTTP.Do(r)
	must(t, err)
	defer answer.Body.Close()
	if kind := answer.Header.Get("Content-Type"); answer.StatusCode != 200 || kind != "text/event-stream" {
		t.Fatalf("status %d, %s", answer.StatusCode, kind)
	}
	s.handIn(t, 1, corpus(t, "lock-footbridge", 0)[0]...)
	lines := bufio.NewScanner(answer.Body)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		data, ok := strings.CutPrefix(lines.Text(), "data: ")
		if !ok || !strings.Contains(data, s.pupils[1].ID) || !strings.Contains(data, ">9<") {
			continue // the hand-in itself may come before its marks
		}
		if strings.Contains(data, s.pupils[0].ID) {
			t.Error("a line that has not changed was sent again")
		}
		return
	}
	t.Fatalf("the stream ended without the marks: %v", lines.Err())
}

func TestATableThatWasOpenForLongIsBroughtUpToDate(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.handIn(t, 1, corpus(t, "lock-footbridge", 0)[0]...)
	s.marked(t)
	r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, s.URL+s.path("/live"), nil)
	must(t, err)
	r.Header.Set("Last-Event-ID", "1") // as a browser does that lost its connection
	answer, err := s.Teacher.HTTP.Do(r)
	must(t, err)
	defer answer.Body.Close()
	lines := bufio.NewScanner(answer.Body)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		if strings.HasPrefix(lines.Text(), "data: ") {
			if !strings.Contains(lines.Text(), s.pupils[7].ID) {
				t.Error("not all lines were sent")
			}
			return
		}
	}
	t.Fatal("nothing was sent")
}

func TestNamesCanBeHidden(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.handIn(t, 0, doubtful("570 N"))
	s.handIn(t, 1, doubtful("570 N"))
	s.marked(t)
	s.Teacher.Get(s.path("/marks")).Submit("Hide names", nil).Has("Show names").Lacks("Overby", "Wendover")
	for _, path := range []string{"/queue", "/marks.csv", "/parts.csv", "/picture", "/moderate", "/release", "/marks/" + s.pupils[0].ID} {
		s.Teacher.Get(s.path(path)).Want(200).Lacks("Overby", "Wendover")
	}
	s.Teacher.Get(s.path("/queue")).Submit("Show names", nil).Has("Overby")
}

func TestThatATeacherLookedAtWorkIsKept(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.handIn(t, 0, doubtful("570 N"))
	s.marked(t)
	s.Teacher.Get(s.path("/marks/"+s.pupils[0].ID)).Want(200).Has("not right", "570 N", "Handed in, receipt R")
	list, err := s.Store.History(t.Context(), s.pupils[0].ID, 1)
	must(t, err)
	if len(list) != 1 || list[0].What != "looked at work" || list[0].Who != s.Head.ID {
		t.Errorf("the last line of history is %+v", list)
	}
}

func TestWhatWasTypedComesOutEscaped(t *testing.T) {
	s := open(t, "lock-footbridge")
	a := doubtful(`<b id="x">570 N</b>`)
	a.Working = `<script>alert(1)</script>`
	s.handIn(t, 0, a)
	s.marked(t)
	for _, path := range []string{"/marks/" + s.pupils[0].ID, "/moderate/" + s.pupils[0].ID} {
		p := s.Teacher.Get(s.path(path)).Want(200).Has(a.Answer)
		if len(p.All("b", "id", "x")) > 0 || len(p.All("script", "src", "")) != len(p.All("script", "", "")) {
			t.Errorf("%s takes what was typed for HTML", path)
		}
	}
}
