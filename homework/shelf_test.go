package homework

import (
	"strings"
	"testing"

	"steelyard/class"
	"steelyard/question"
)

func TestAFollowUpIsAnotherSceneThatShowsTheSlip(t *testing.T) {
	q, err := question.Parse("", footbridge)
	if err != nil {
		t.Fatal(err)
	}
	shelf, err := OpenShelf(q)
	if err != nil {
		t.Fatal(err)
	}
	got, err := shelf.Propose([]string{"one-from-the-end", "equal-shares"}, 2)
	if err != nil || len(got) != 2 {
		t.Fatal(got, err)
	}
	if got[0].Title == got[1].Title || got[0].Title == q.Title || !strings.HasPrefix(got[0].Item.Question, "bank:") || got[0].Settles <= 0 || !strings.Contains(got[0].Why, "“") {
		t.Errorf("%q, %q: %s", got[0].Title, got[1].Title, got[0].Why)
	}
	s := spring()
	g := class.Group{Cause: class.Causes()[0], Who: []class.Suspicion{{Pupil: "Ada", Code: "p003"}}, Then: []class.Suspicion{{Pupil: "Bo", Code: "p005"}}}
	follow := FollowUp(s, g, got)
	follow.ID = "s2"
	if f := follow.Faults(); len(f) != 0 {
		t.Errorf("it can't be given out: %v", f)
	}
	if follow.Follows != "s1" || strings.Join(follow.For, " ") != "p003 p005" || !follow.Given.IsZero() || len(follow.Items) != 2 {
		t.Errorf("%+v", follow)
	}
	if numbers, _, err := Choose(&follow, pupils(6), nil); err != nil || len(numbers) != 4 {
		t.Errorf("%d numbers for two pupils and two questions (%v)", len(numbers), err)
	}
	if none, err := shelf.Propose(nil, 2); err != nil || len(none) != 0 {
		t.Errorf("without a slip there is nothing to propose: %v, %v", none, err)
	}
}
