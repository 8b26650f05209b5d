package solution

import (
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/question"
)

// A point beyond the end of the plank is no point on it, and moments can be taken about it all the same.
func TestAboutAPointBeyondTheBody(t *testing.T) {
	q, err := question.Parse("bridge.moments", `question "Bridge"
body plank: uniform, length 4.80 m, weight 310 N
support P: rest, on plank at 0.60 m
support Q: rest, on plank at 3.90 m
load K: weight 540 N, on plank at 1.50 m
part a: find force P marks 3
`)
	if err != nil {
		t.Fatal(err)
	}
	a, err := answer.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	for words, want := range map[string]bool{"9.00 m": false, "4.80 m": true, "2.00 m": true} {
		body, at, name, err := Point(a, words)
		if err != nil {
			t.Fatal(err)
		}
		r, err := About(a, body, at, name)
		if err != nil {
			t.Fatal(err)
		}
		text := strings.Join(strings.Fields(RouteText(&r)), " ")
		if strings.Contains(text, "it is a point on the body") != want || strings.Contains(text, "on none of the bodies") == want {
			t.Errorf("about %s: %s", words, text)
		}
	}
}
