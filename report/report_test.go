package report

import (
	"strings"
	"testing"

	"steelyard/class"
	"steelyard/homework"
	"steelyard/mark"
	"steelyard/question"
	"steelyard/sheet"
)

const footbridge = `question "Lock footbridge"
level 16-18
body plank: uniform, length 4.80 m, weight 280 N, "footbridge"
support P: rest, on plank at 0.70 m, "left sill"
support Q: rest, on plank at 3.50 m, "right sill"
load K: weight 560 N, on plank at 1.30 m, "lock keeper"
part a: find force P marks 3
part b: find force Q marks 1
`

// results are five pupils' of a set with the question twice: two share the loads out equally, one writes what can't be
// read, two are right.
func results(t *testing.T) []class.Result {
	t.Helper()
	s := &homework.Set{ID: "s", Items: []homework.Item{{Text: footbridge}, {Text: footbridge}}}
	m := homework.NewMarker()
	var out []class.Result
	for i, answer := range []string{"420 N", "420 N", "<b>?!", "550 N", "550 N"} {
		name := []string{"Ada", "Bo", "Cy <i>", "Dee", "Eli"}[i]
		h := homework.HandIn{Pupil: name, Answers: []homework.Answer{{Item: 0, Part: "a", Answer: answer}, {Item: 0, Part: "b", Answer: answer}, {Item: 1, Part: "a", Answer: answer}}}
		r, err := m.Whole(s, nil, h, nil, homework.Pupil{ID: "p" + name, Name: name})
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, r)
	}
	return out
}

func html(t *testing.T, r sheet.Report, err error) string {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	out, err := sheet.ReportHTML(&r, "r", 2)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// The picture of a set tells of parts by question and letter, whom the working suggests a slip for, what follows and what
// waits; a name is a name, whatever stands in it.
func TestThePictureOfASet(t *testing.T) {
	all := results(t)
	q, err := question.Parse("", footbridge)
	if err != nil {
		t.Fatal(err)
	}
	shelf, err := homework.OpenShelf(q)
	if err != nil {
		t.Fatal(err)
	}
	c := Class{Title: "Spring", Results: all, Picture: class.PictureOf(all, nil), Shelf: shelf,
		Follow: func(name string, pupils int, _ string) []sheet.Piece {
			return []sheet.Piece{sheet.Words{Text: "take " + name}}
		}}
	r, err := c.Report()
	got := html(t, r, err)
	for _, want := range []string{"Spring: the class", "(1a)", "(2b)", "Ada", "take ", "Cy &lt;i&gt;, part 1a (0 of 3 so far)"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing in\n%s", want, got)
		}
	}
	for i := range all {
		all[i] = homework.Plain(all[i])
	}
	plain := Class{Title: "Spring", Results: all, Picture: class.PictureOf(all, nil), Plain: true}
	r, err = plain.Report()
	got = html(t, r, err)
	for _, word := range []string{"suggests", "slip", "Group", "Five minutes"} {
		if strings.Contains(got, word) {
			t.Errorf("a class without diagnosis is told of %q", word)
		}
	}
}

func TestFeedbackBeginsWithWhatWasRightAndEndsWithMarks(t *testing.T) {
	r := results(t)[0]
	r.Parts[1].Override = &mark.Override{Part: "1b", Mark: 1, Reason: "<seen> on paper"}
	n := class.NoteOf(&r)
	got := html(t, Feedback("Spring", n), nil)
	last := -1
	for _, want := range []string{"Feedback for Ada", "What was right", "Where to look again", "A question to think about", "What to try next", "Decided by your teacher", "&lt;seen&gt;", "Marks", "Together "} {
		i := strings.Index(got, want)
		if i <= last {
			t.Errorf("%q stands at %d, after %d in\n%s", want, i, last, got)
		}
		last = i
	}
}
