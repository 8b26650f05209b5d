package web_test

import (
	"strings"
	"testing"

	"steelyard/homework"
	"steelyard/store"
	"steelyard/web/webtest"
)

// A question whose text can't be read any more takes nothing else away: the teacher is told what is wrong, where, and how
// to mend it; pupils do the rest, and what they wrote for it before is kept and handed in.
func TestAQuestionThatCannotBeReadAnyMore(t *testing.T) {
	const old = "question \"Old\"\nplank beam 4 metres\n"
	site := webtest.New(t)
	own := store.Question{ID: store.NewID(), Owner: site.Head.ID, Title: "Old", Text: old}
	must(t, site.Store.AddQuestion(t.Context(), by(site), own))
	at := "/questions/" + own.ID
	for _, path := range []string{"/questions", at, at + "/versions/all", at + "/versions/1", "/today", "/classes/" + site.Class.ID} {
		site.Teacher.Get(path).Want(200)
	}
	site.Teacher.Get(at).Has("Line 2", "is no word that a line begins with")
	site.Teacher.Get(at + "/paper/sheet.pdf").Want(422).Has("Line 2, column 1")

	set := homework.Set{ID: store.NewID(), Class: site.Class.ID, Title: "Beams", Seed: "spring",
		Items: []homework.Item{{Question: "bank:none", Text: bridge}, {Question: "own:" + own.ID, Text: old}}}
	must(t, site.Store.AddSet(t.Context(), by(site), set))
	draft := site.Teacher.Get("/sets/"+set.ID+"/preview").Want(200).Has("Lock", "2. It can't be shown", "line 2, column 1", "add it again")
	if len(draft.All("svg", "", "")) == 0 {
		t.Error("the other question has no drawing")
	}
	must(t, site.Store.Give(t.Context(), by(site), set.ID, nil))
	for _, path := range []string{"", "/rules", "/preview"} {
		site.Teacher.Get("/sets/" + set.ID + path).Want(200)
	}
	site.Teacher.Get("/sets/" + set.ID + "/preview").Has("make a copy of the set")
	site.Teacher.Get("/sets/" + set.ID + "/sheets.pdf").Want(422).Has("question 2: line 2, column 1")
	if p := site.Teacher.Get("/sets/" + set.ID + "/marks"); p.Status >= 500 {
		t.Errorf("the page of marks: %d %s", p.Status, p.Text())
	}

	// Something was written for it while it could still be read.
	me := site.Members[0].ID
	must(t, site.Store.SaveDrafts(t.Context(), []homework.Draft{
		{Set: set.ID, Pupil: me, Answer: homework.Answer{Item: 0, Part: "a", Answer: "570 N"}, Rev: 1, At: site.Clock.Now()},
		{Set: set.ID, Pupil: me, Answer: homework.Answer{Item: 1, Part: "b", Answer: "12 N"}, Rev: 1, At: site.Clock.Now()}}))
	pupil := site.Pupils[0]
	pupil.Get("/work").Want(200)
	sheet := pupil.Get("/work/"+set.ID).Want(200).Has("2. This question can't be shown", "Tell your teacher", "12 N", "Lock")
	look := sheet.Submit("Look over and hand in", nil).Want(200).Has("12 N", "570 N")
	look.Submit("Hand in", nil).Want(200).Has("is handed in")
	h, err := site.Store.HandInOf(t.Context(), set.ID, me)
	must(t, err)
	if len(h.Answers) != 2 || h.Answers[1].Item != 1 || h.Answers[1].Answer != "12 N" {
		t.Errorf("handed in is %+v", h.Answers)
	}
	pupil.Get("/work/" + set.ID).Want(200).Has("You handed this in")
	pupil.Get("/work/" + set.ID + "/receipt").Want(200)
	if !strings.Contains(site.Log.String(), "a question can't be read") {
		t.Error("the log doesn't tell")
	}

	// A solution that is out is shown of the other question.
	set.Show.Solution, set.Show.Marks = homework.Always, homework.HandedIn
	kept, err := site.Store.Set(t.Context(), set.ID)
	must(t, err)
	kept.Show = set.Show
	must(t, site.Store.SaveSet(t.Context(), by(site), kept))
	pupil.Get("/work/"+set.ID+"/marks").Want(200).Has("can't be marked now", "The solution with your numbers")
}
