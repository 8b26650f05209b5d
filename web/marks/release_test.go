package marks_test

import (
	"encoding/csv"
	"strings"
	"testing"
	"time"

	"steelyard/account"
	"steelyard/web/webtest"
)

func TestADecisionChangesTheMarkAndIsSeenOnlyAfterTheRelease(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.handIn(t, 0, doubtful("570 N"))
	s.marked(t)
	s.Teacher.Get(s.path("/queue")).Submit("2 of 2", webtest.Values{"reason": "Right by another way."}).Want(200)
	pupil := s.SignIn(account.PupilOf, s.pupils[0].ID)
	pupil.Get("/work/" + s.set.ID + "/marks").Lacks("Right by another way.")
	p := s.Teacher.Get(s.path("/release")).Has("Marks: with the release").Submit("Release to 1 pupil", nil).Want(200).Has("Marks were released today")
	pupil.Get("/work/"+s.set.ID+"/marks").Want(200).Has("2 of 9", "Right by another way.")
	p.Submit("Take the release back", nil).Want(200)
	pupil.Get("/work/" + s.set.ID + "/marks").Lacks("Right by another way.")
}

func TestAReleaseWhileSomethingWaitsHasToBeSaidTwice(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.handIn(t, 0, doubtful("570 N"))
	s.marked(t)
	p := s.Teacher.Get(s.path("/release")).Has("1 part still waits for you").Submit("Release to 1 pupil", nil).Want(422).Has("Decide first")
	if h, err := s.Store.Set(t.Context(), s.set.ID); err != nil || !h.Released.IsZero() {
		t.Fatalf("released all the same (%v)", err)
	}
	p.Submit("Release to 1 pupil", webtest.Values{"Release all the same": "yes"}).Want(200).Has("Marks were released")
}

func TestTheTableOfMarksCannotBeTakenForFormulas(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.handIn(t, 7, doubtful("=1+1"))
	s.marked(t)
	p := s.Teacher.Get(s.path("/marks.csv")).Want(200)
	if got := p.Header.Get("Content-Type"); got != "text/csv; charset=utf-8" {
		t.Errorf("sent as %s", got)
	}
	rows, err := csv.NewReader(strings.NewReader(p.Body)).ReadAll()
	must(t, err)
	if len(rows) != 6 || rows[1][1] != "'=Sabra Wick" {
		t.Fatalf("the table is %q", rows)
	}
	for _, row := range rows {
		for _, cell := range row {
			if strings.ContainsAny(cell[:min(1, len(cell))], "=+-@") {
				t.Errorf("a spreadsheet takes %q for a formula", cell)
			}
		}
	}
}

func TestFeedbackForPaperIsAPDF(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.Teacher.Get(s.path("/feedback.pdf")).Want(409).Has("Nobody has handed in yet")
	s.handIn(t, 0, corpus(t, "lock-footbridge", 0)[1]...)
	s.marked(t)
	if p := s.Teacher.Get(s.path("/feedback.pdf")).Want(200); !strings.HasPrefix(p.Body, "%PDF-") {
		t.Errorf("it begins with %.20q", p.Body)
	}
}

func TestSecondMarksAreBlindAndTheirAgreementIsTold(t *testing.T) {
	s := open(t, "lock-footbridge")
	for i, hand := range corpus(t, "lock-footbridge", 0)[:5] {
		s.handIn(t, i, hand...)
	}
	s.marked(t)
	other, colleague := s.AddTeacher("Ada Fenn")
	must(t, s.Store.Share(t.Context(), s.by(), s.class.ID, other.ID))
	p := colleague.Get(s.path("/moderate?n=1")).Want(200).Has("No second marks yet", "0 of 5 marked")
	same := colleague.Get(s.path("/moderate?n=1"))
	if same.Text() != p.Text() {
		t.Error("the same set gives another sample")
	}
	p = p.Follow("Mark it").Want(200).Lacks("✓", "✗", "of 9")
	p.Submit("Keep these marks", webtest.Values{"mark-1a": "2"}).Want(422).Has("4 marks are missing or out of range")
	all := webtest.Values{}
	for _, part := range []string{"1a", "1b", "1c", "1d", "1e"} {
		all["mark-"+part] = "1"
	}
	p = p.Submit("Keep these marks", all).Want(200).Has("Parts marked twice 5", "Ada Fenn", "5 of 5 marked")
	list, err := s.Store.SecondMarks(t.Context(), s.set.ID)
	must(t, err)
	first, err := s.Store.MarkingsOf(t.Context(), s.set.ID, list[0].Pupil)
	must(t, err)
	agree := 0
	for _, m := range first {
		if m.Marks == 1 {
			agree++
		}
	}
	p.Has("The same mark " + string(rune('0'+agree)) + ", that is")
	if h, err := s.Store.DecisionsOf(t.Context(), s.set.ID); err != nil || len(h) > 0 {
		t.Errorf("second marks changed the first: %v (%v)", h, err)
	}
}

func TestASetToFollowIsTwoClicksAway(t *testing.T) {
	s := open(t, "mooring-plank")
	for i := range 8 {
		s.handIn(t, i, corpus(t, "mooring-plank", 0)[9+i%3]...)
	}
	s.marked(t)
	p := s.Teacher.Get(s.path("/picture")).Want(200).Has("Five minutes for a group")
	p = p.Submit("Make a set to follow", nil).Want(200).Has("After Planks and sills")
	sets, err := s.Store.SetsOf(t.Context(), s.class.ID)
	must(t, err)
	for _, h := range sets {
		if h.Follows != s.set.ID {
			continue
		}
		if !h.Given.IsZero() || len(h.For) == 0 || len(h.Items) == 0 || p.Path != "/sets/"+h.ID {
			t.Errorf("the draft that follows is %+v", h)
		}
		p.Submit("Give it out", nil).Want(200)
		h, err := s.Store.Set(t.Context(), h.ID)
		must(t, err)
		if h.Given.IsZero() {
			t.Error("the second click did not give it out")
		}
		return
	}
	t.Errorf("there is no draft that follows: %+v", sets)
}

func TestAPlainClassIsToldNothingOfSlips(t *testing.T) {
	s := open(t, "mooring-plank")
	for i := range 8 {
		s.handIn(t, i, corpus(t, "mooring-plank", 0)[9+i%3]...)
	}
	s.marked(t)
	c, err := s.Store.Class(t.Context(), s.class.ID)
	must(t, err)
	c.Plain = true
	must(t, s.Store.SaveClass(t.Context(), s.by(), c))
	s.Teacher.Get(s.path("/picture")).Want(200).Has("How each part went").Lacks("suggests", "Five minutes")
	s.Teacher.Get(s.path("/marks/" + s.pupils[0].ID)).Want(200).Lacks("suggests")
	s.Teacher.Get(s.path("/queue")).Lacks("suggests")
}

func TestTheFirstPageTellsWhatWaits(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.Teacher.Get("/today").Want(200).Has("Closing soon", "Planks and sills")
	s.handIn(t, 0, doubtful("570 N"))
	s.marked(t)
	s.Teacher.Get("/today").Has("Waiting for you", "Decide 1", "1 pupil today")
	s.Teacher.Get(s.path("/queue")).Submit("2 of 2", nil)
	s.Teacher.Get("/today").Lacks("Waiting for you")
	s.Clock.Pass(72 * time.Hour)
	s.SignIn(account.Head, s.Head.ID).Get("/today").Has("Ready to release").Lacks("Closing soon")
}
