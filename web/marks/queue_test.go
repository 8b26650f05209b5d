package marks_test

import (
	"net/url"
	"strings"
	"testing"

	"steelyard/homework"
	"steelyard/web/webtest"
)

// decisions are a pupil's, as they stand.
func (s *room) decisions(t testing.TB, pupil int) (list []homework.Decision) {
	t.Helper()
	all, err := s.Store.DecisionsOf(t.Context(), s.set.ID)
	must(t, err)
	for _, d := range all {
		if d.Pupil == s.pupils[pupil].ID {
			list = append(list, d)
		}
	}
	return list
}

// form is the queue's form as it stands, for the first of what waits.
func form(p *webtest.Page) url.Values {
	v := url.Values{}
	for _, f := range p.All("input", "name", "") {
		name, value := webtest.Attr(f, "name"), webtest.Attr(f, "value")
		if name == "at" || name == "then" || name == "reason" || strings.HasPrefix(name, "seen-") {
			v.Set(name, value)
		}
		if name == "with" {
			v.Add(name, value)
		}
	}
	return v
}

func TestWhatIsAlikeIsDecidedTogether(t *testing.T) {
	s := open(t, "lock-footbridge")
	for i := range 4 {
		s.handIn(t, i, doubtful("570 N"))
	}
	s.marked(t)
	p := s.Teacher.Get(s.path("/queue")).Want(200).Has("0 of 4 decided", "3 others wrote much the same")
	f := form(p)
	f.Set("mark", "1")
	f.Set("reason", "The method is seen.")
	apart := f["with"][0] // its tick is taken away
	f["with"] = f["with"][1:]
	p = s.Teacher.Post(s.path("/queue"), f).Want(200).Has("3 of 4 decided", "Kept: part 1b, 1 mark for 3 pupils")
	for i := range 4 {
		list := s.decisions(t, i)
		switch {
		case s.pupils[i].ID == apart && len(list) > 0:
			t.Errorf("who was left out has %+v", list)
		case s.pupils[i].ID != apart && (len(list) != 1 || list[0].Mark != 1 || list[0].Reason != "The method is seen."):
			t.Errorf("pupil %d has %+v", i, list)
		}
	}
	if webtest.Attr(p.All("input", "name", "at")[0], "value") != "1b."+apart {
		t.Error("who was left out is not next")
	}
}

func TestOneDecisionIsOne(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.handIn(t, 0, doubtful("570 N"))
	s.marked(t)
	s.Teacher.Get(s.path("/queue")).Submit("2 of 2", nil).Has("Nothing waits any more: the one is decided")
}

func TestADecisionIsTakenBackAtOneStroke(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.handIn(t, 0, doubtful("570 N"))
	s.handIn(t, 1, doubtful("570 N"))
	s.marked(t)
	p := s.Teacher.Get(s.path("/queue")).Submit("2 of 2", nil).Has("Nothing waits any more: all 2 are decided")
	old := p
	p = p.Submit("Take it back", nil).Has("0 of 2 decided")
	if len(s.decisions(t, 0))+len(s.decisions(t, 1)) > 0 {
		t.Error("decisions stand after they were taken back")
	}
	p = p.Submit("1 of 2", nil).Has("Nothing waits any more")
	old.Submit("Take it back", nil) // on a page from before
	if len(s.decisions(t, 0)) != 1 {
		t.Error("an old page took back what came later")
	}
	_ = p
}

func TestTwoTeachersCannotOverwriteEachOtherUnseen(t *testing.T) {
	s := open(t, "lock-footbridge")
	other, colleague := s.AddTeacher("Ada Fenn")
	must(t, s.Store.Share(t.Context(), s.by(), s.class.ID, other.ID))
	s.handIn(t, 0, doubtful("570 N"))
	s.marked(t)
	work := s.path("/marks/" + s.pupils[0].ID)
	mine, queue, theirs := s.Teacher.Get(work), s.Teacher.Get(s.path("/queue")), colleague.Get(work)
	theirs.Submit("Keep this mark", webtest.Values{"part": "1b", "seen": seen(theirs, "1b"), "mark": "1", "reason": "Half of it."}).Want(200).Has("Ada Fenn", "Half of it.")
	for _, p := range []*webtest.Page{
		mine.Submit("Keep this mark", webtest.Values{"part": "1b", "seen": seen(mine, "1b"), "mark": "2", "reason": "All of it."}),
		queue.Submit("2 of 2", nil),
	} {
		p.Want(409).Has("Ada Fenn", "Half of it.")
	}
	if list := s.decisions(t, 0); len(list) != 1 || list[0].Mark != 1 {
		t.Fatalf("the decisions are %+v", list)
	}
	// Having seen it, the teacher may insist; both decisions are kept.
	p := s.Teacher.Get(work)
	p.Submit("Keep this mark", webtest.Values{"part": "1b", "seen": seen(p, "1b"), "mark": "2", "reason": "All of it."}).Want(200)
	if list := s.decisions(t, 0); len(list) != 2 || list[1].Mark != 2 {
		t.Fatalf("the decisions are %+v", list)
	}
}

// seen is what the form of a part says that its page showed.
func seen(p *webtest.Page, part string) string {
	for _, f := range p.All("form", "class", "override") {
		name, at := "", ""
		for n := range f.Descendants() {
			switch webtest.Attr(n, "name") {
			case "part":
				name = webtest.Attr(n, "value")
			case "seen":
				at = webtest.Attr(n, "value")
			}
		}
		if name == part {
			return at
		}
	}
	return "none"
}

func TestAHandInAfterADecisionWaitsAgain(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.handIn(t, 0, doubtful("570 N"))
	s.marked(t)
	p := s.Teacher.Get(s.path("/queue"))
	s.handIn(t, 0, doubtful("571 N"))
	s.marked(t)
	p.Submit("2 of 2", nil).Want(409).Has("handed in again")
	s.Teacher.Get(s.path("/queue")).Submit("2 of 2", nil).Want(200)
	s.handIn(t, 0, doubtful("570 N"))
	s.marked(t)
	s.Teacher.Get(s.path("/queue")).Has("it was handed in again after you gave it 2 marks")
}

func TestADecisionNeedsAReasonAndAMarkInRange(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.handIn(t, 0, doubtful("570 N"))
	s.marked(t)
	for _, c := range []struct{ mark, reason, says string }{
		{"3", "because", "from 0 to 2"}, {"−1", "because", "is no mark"}, {"", "because", "is no mark"}, {"1e0", "because", "is no mark"},
		{"1", "  ", "needs a reason"},
	} {
		f := form(s.Teacher.Get(s.path("/queue")))
		f.Set("mark", c.mark)
		f.Set("reason", c.reason)
		s.Teacher.Post(s.path("/queue"), f).Want(422).Has(c.says)
		f = url.Values{"part": {"1b"}, "mark": {c.mark}, "reason": {c.reason}}
		s.Teacher.Post(s.path("/marks/"+s.pupils[0].ID), f).Want(422).Has(c.says)
	}
	if list := s.decisions(t, 0); len(list) > 0 {
		t.Errorf("kept all the same: %+v", list)
	}
}

func TestADecisionIsAboutPupilsOfTheSetOnly(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.handIn(t, 0, doubtful("570 N"))
	s.marked(t)
	f := form(s.Teacher.Get(s.path("/queue")))
	f.Set("mark", "2")
	f.Add("with", s.Members[0].ID) // of another class
	s.Teacher.Post(s.path("/queue"), f).Want(404)
	f["with"] = []string{s.pupils[3].ID} // who has handed nothing in
	s.Teacher.Post(s.path("/queue"), f).Want(404)
	f = form(s.Teacher.Get(s.path("/queue")))
	f.Set("at", "9z."+s.pupils[0].ID)
	s.Teacher.Post(s.path("/queue"), f).Want(404)
	if list := s.decisions(t, 0); len(list) > 0 {
		t.Errorf("kept all the same: %+v", list)
	}
}

func TestAtTheSameMomentBothDecisionsAreKeptAndSomebodyIsTold(t *testing.T) {
	s := open(t, "lock-footbridge")
	other, colleague := s.AddTeacher("Ada Fenn")
	must(t, s.Store.Share(t.Context(), s.by(), s.class.ID, other.ID))
	for round := range 6 {
		s.handIn(t, round, doubtful("570 N"))
		s.marked(t)
		work := s.path("/marks/" + s.pupils[round].ID)
		at := seen(s.Teacher.Get(work), "1b")
		status := make(chan int, 2)
		for i, c := range []*webtest.Client{s.Teacher, colleague} {
			go func() {
				f := url.Values{"part": {"1b"}, "seen": {at}, "mark": {"1"}, "reason": {[]string{"One.", "The other."}[i]}}
				status <- c.Do("POST", work, "application/x-www-form-urlencoded", strings.NewReader(f.Encode())).Status
			}()
		}
		if a, b := <-status, <-status; a != 409 && b != 409 {
			t.Errorf("round %d: %d and %d, and nobody was told", round, a, b)
		}
	}
}

// Why the marker asks stands at the head, and not again among its reasons.
func TestTheReasonForAskingIsSaidOnce(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.handIn(t, 0, doubtful("570 N"))
	s.marked(t)
	text := s.Teacher.Get(s.path("/queue")).Want(200).Has("Why the marker asks", "Why the marker gave").Text()
	if n := strings.Count(text, "the answer is right, but the working has a wrong line"); n != 1 {
		t.Errorf("it is said %d times", n)
	}
}
