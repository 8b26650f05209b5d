package mark

import (
	"strings"
	"testing"

	"steelyard/question"
	"steelyard/script"
)

// A letter closed up with a name, or with one below it, is that thing's weight, force or tension where only one thing is
// called so; where two are, or none, nothing is claimed.
func TestLettersClosedUpWithNames(t *testing.T) {
	q, err := question.Parse("shelf", `question "Two boxes on a board"
body board: uniform, length 4.00 m, weight 120 N, "pine board"
support P: rest, on board at 0.50 m, "left post"
support Q: rest, on board at 3.50 m, "right post"
load A: weight 60 N, on board at 1.00 m, "red box"
load B: weight 90 N, on board at 2.50 m, "green box"

part a: find force Q  marks 3
`)
	if err != nil {
		t.Fatal(err)
	}
	k, err := NewKey(q, Policy{})
	if err != nil {
		t.Fatal(err)
	}
	s := k.judge.main
	for name, want := range map[string]string{
		"Wboard": "board weight", "W_board": "board weight", "Wpine": "board weight", "Wp": "board weight/P upright/P",
		"Wred": "A weight", "W_green": "B weight", "Wredbox": "A weight", "WA": "A weight", "W_B": "B weight",
		"Rleft": "P", "R_right": "Q", "Nleft": "P", "Rightpost": "",
		"Rboard": "", "Tleft": "", "Tred": "A weight", "Wleft": "", "Wall": "", "Wbox": "A weight/B weight/board weight", "Rpost": "",
	} {
		text := name
		if l := script.Read(name + " x 2 = 3"); len(l) == 1 && len(l[0].Sides) == 2 {
			text = l[0].Sides[0].Args[0].Text
		}
		got := map[string]bool{}
		for _, m := range s.meanings(text, q.Part("a"), "") {
			if !strings.HasSuffix(m.key, " mass") {
				got[m.key] = true
			}
		}
		allowed := strings.Split(want, "/")
		for key := range got {
			if want == "" || !strings.Contains("/"+want+"/", "/"+key+"/") {
				t.Errorf("%s (%s) may mean %q; want %q", name, text, key, want)
			}
		}
		if want != "" && !got[allowed[0]] {
			t.Errorf("%s (%s) can't mean %q: %v", name, text, allowed[0], got)
		}
	}
	// A right line in such names is right; a wrong one with a name that two things have is never called wrong.
	for line, want := range map[string]Verdict{
		"3 Rright = 1.5Wboard + 0.5Wred + 2Wgreen": Right,
		"3 Rright = 1.5 Wboard + 0.5 Wred + 2 W_B": Right,
		"Rpost x 3 = 120 x 1.5":                    NotRead,
		"3 Rright = 1.5Wboard + 2.5Wred + 2Wgreen": Wrong,
	} {
		if j := judgeTyped(k, q.Part("a"), []string{line})[0]; j.Verdict != want {
			t.Errorf("%s: %s, want %s (%s)", line, j.Verdict, want, j.Off)
		}
	}
}

// The letters of the trade come before the first letter of a label: m is a mass though the rule is a "metre rule".
func TestTradeLettersBeforeLabels(t *testing.T) {
	k := keyOf(t, "balanced-rule", Policy{})
	for _, line := range []string{"m x 22 = 110 x 12", "m/110 = 12/22", "m = 110 x 12 / 22", "m*g*22 = 110*g*12, g cancels", "m1 x 12 = m2 x 22", "mtin x 22 = mrule x 12"} {
		j := judgeTyped(k, k.Question.Part("a"), []string{line})[0]
		if j.Verdict != Right {
			t.Errorf("%s: %s (%s)", line, j.Verdict, j.Off)
		}
		if said := j.Note != ""; said != !strings.Contains(line, "g*") {
			t.Errorf("%s: note %q", line, j.Note)
		}
	}
	if j := judgeTyped(k, k.Question.Part("a"), []string{"m1 d1 = m2 d2"})[0]; j.Verdict != Statement || j.Means == "" {
		t.Errorf("the principle in letters is %s (%s)", j.Verdict, j.Means)
	}
	if j := judgeTyped(k, k.Question.Part("a"), []string{"m1 d2 = m2 d1"})[0]; j.Verdict == Statement || j.Verdict == Right {
		t.Errorf("arms exchanged in letters are %s", j.Verdict)
	}
}
