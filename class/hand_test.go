package class

import (
	"encoding/csv"
	"reflect"
	"strings"
	"testing"
	"unicode/utf16"
	"unicode/utf8"

	"steelyard/mark"
)

var ab = []string{"a", "b"}

func TestReadHands(t *testing.T) {
	le := func(s string, mark bool) string {
		var b []byte
		if mark {
			b = []byte{0xff, 0xfe}
		}
		for _, u := range utf16.Encode([]rune(s)) {
			b = append(b, byte(u), byte(u>>8))
		}
		return string(b)
	}
	be := func(s string) string {
		b := []byte{0xfe, 0xff}
		for _, u := range utf16.Encode([]rune(s)) {
			b = append(b, byte(u>>8), byte(u))
		}
		return string(b)
	}
	want := []mark.Hand{
		{Pupil: "Ilse Hart", Part: "a", Answer: "151.9 N", Working: "RB x 2.4 = 234 + 130.5\nRB = 151.9N"},
		{Pupil: "q7", Part: "b", Answer: "-4,5 N"},
	}
	tests := map[string]string{
		"plain":              "pupil,part,answer,working\nIlse Hart,a,151.9 N,\"RB x 2.4 = 234 + 130.5\nRB = 151.9N\"\nq7,b,\"-4,5 N\",\n",
		"other order":        "Working,Part,Answer,Pupil\r\n\"RB x 2.4 = 234 + 130.5\r\nRB = 151.9N\",(a),151.9 N,Ilse Hart\r\n,Part B,\"-4,5 N\",q7\r\n",
		"semicolons, BOM":    "\ufeffname;part;final answer;working\nIlse  Hart;A;151.9 N;\"RB x 2.4 = 234 + 130.5\nRB = 151.9N\"\n;;;\nq7;b);-4,5 N;\n",
		"tabs":               "student\tpart\tanswer\tmethod\nIlse Hart\ta\t151.9 N\t\"RB x 2.4 = 234 + 130.5\nRB = 151.9N\"\nq7\tb\t-4,5 N\t\n",
		"sep line":           "sep=;\npupil;part;answer;working\nIlse Hart;a;151.9 N;\"RB x 2.4 = 234 + 130.5\nRB = 151.9N\"\nq7;b;-4,5 N;\n",
		"old ends of lines":  "pupil;part;answer;working\rIlse Hart;a;151.9 N;\"RB x 2.4 = 234 + 130.5\rRB = 151.9N\"\rq7;b;-4,5 N;\r",
		"more columns":       "when;pupil;part;answer;working;score\n1;Ilse Hart;a;151.9 N;\"RB x 2.4 = 234 + 130.5\nRB = 151.9N\";\n2;q7;b;-4,5 N;;\n",
		"guarded":            "pupil;part;answer;working\nIlse Hart;a;151.9 N;\"RB x 2.4 = 234 + 130.5\nRB = 151.9N\"\nq7;b;'-4,5 N;\n",
		"short row":          "pupil;part;answer;working\nIlse Hart;a;151.9 N;\"RB x 2.4 = 234 + 130.5\nRB = 151.9N\"\nq7;b;-4,5 N\n",
		"UTF-16, little end": le("pupil\tpart\tanswer\tworking\r\nIlse Hart\ta\t151.9 N\t\"RB x 2.4 = 234 + 130.5\nRB = 151.9N\"\r\nq7\tb\t-4,5 N\t\r\n", true),
		"UTF-16, big end":    be("pupil\tpart\tanswer\tworking\r\nIlse Hart\ta\t151.9 N\t\"RB x 2.4 = 234 + 130.5\nRB = 151.9N\"\r\nq7\tb\t-4,5 N\t\r\n"),
		"UTF-16, no mark":    le("pupil\tpart\tanswer\tworking\r\nIlse Hart\ta\t151.9 N\t\"RB x 2.4 = 234 + 130.5\nRB = 151.9N\"\r\nq7\tb\t-4,5 N\t\r\n", false),
	}
	for name, text := range tests {
		got, err := ReadHands(strings.NewReader(text), "answers.csv", ab)
		var hands []mark.Hand
		for _, h := range got {
			hands = append(hands, h.Hand)
		}
		if err != nil || !reflect.DeepEqual(hands, want) {
			t.Errorf("%s: got %+v, %v", name, hands, err)
		}
	}
}

// A stray quotation mark in a cell of one line is put up with; one that could swallow other pupils' lines isn't.
func TestStrayQuotationMarks(t *testing.T) {
	got, err := ReadHands(strings.NewReader("pupil,part,answer,working\nk1,a,12 N,the 5\" rule\nk2,a,13 N,\"two\nlines\"\n"), "answers.csv", ab)
	if err != nil || len(got) != 2 || got[0].Working != `the 5" rule` || got[1].Working != "two\nlines" || got[1].Line != 3 {
		t.Errorf("got %+v, %v", got, err)
	}
	_, err = ReadHands(strings.NewReader("pupil,part,answer,working\nk1,a,12 N,\"never closed\nk2,a,13 N,x\nk3,a,13 N,x\n"), "answers.csv", ab)
	if err == nil || !strings.Contains(err.Error(), "answers.csv, line 2: a quotation mark opens here") {
		t.Errorf("got %v", err)
	}
}

func TestReadHandsRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"":                                                    "nothing stands in it",
		"pupil,part,answer\n":                                 "no pupil's answers",
		"pupil,answer\nk1,3\n":                                `line 1: no column is called "part"; the first line names the columns, here "pupil", "answer"`,
		"pupil,part\nk1,a\n":                                  `no column is called "answer" or "working"`,
		"pupil,name,part,answer\nk1,k1,a,3\n":                 `two columns are called "pupil"`,
		"pupil,part,answer\nk1,c,3\n":                         `line 2: the question has no part "c" (it has a, b)`,
		"pupil,part,answer\nk1,,3\n":                          "line 2: k1 answers which part?",
		"pupil,part,answer\n,a,3\n":                           "line 2: whose answer is it?",
		"pupil,part,answer\nk1,a,3\n\nk1,a,4\n":               "line 4: k1 has part a a second time, after line 2",
		"pupil,part,answer\nk1,c,3\nk2,d,4\n":                 "line 3: the question has no part \"d\"",
		"pupil,part,answer\nk1,a," + strings.Repeat("9", 500): "line 2: an answer of more than 400 characters",
		"pupil\x81":                                           "save it as CSV UTF-8",
	} {
		if _, err := ReadHands(strings.NewReader(text), "answers.csv", ab); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.40q: got %v, want %q", text, err, want)
		}
	}
}

func TestReadOverrides(t *testing.T) {
	worth := map[string]int{"a": 3, "b": 1}
	got, err := ReadOverrides(strings.NewReader("part;mark;pupil;reason\n(a);2;k1;\"the sketch shows the arm; fair\"\n"), "override.csv", ab, worth)
	if want := []mark.Override{{Pupil: "k1", Part: "a", Mark: 2, Reason: "the sketch shows the arm; fair"}}; err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v, %v", got, err)
	}
	for text, want := range map[string]string{
		"pupil,part,mark,reason\nk1,a,4,x\n":           "line 2: 4 is more than part a is worth, 3",
		"pupil,part,mark,reason\nk1,a,1.5,x\n":         `line 2: "1.5" is no mark; write a whole number from 0 to 3`,
		"pupil,part,mark,reason\nk1,a,-1,x\n":          `"-1" is no mark`,
		"pupil,part,mark,reason\nk1,a,2,\n":            "line 2: a decision needs a reason",
		"pupil,part,mark,reason\nk1,a,2,x\nk1,a,1,x\n": "line 3: k1 has a decision on part a already, in line 2",
		"pupil,part,mark\nk1,a,2\n":                    `no column is called "reason"`,
	} {
		if _, err := ReadOverrides(strings.NewReader(text), "override.csv", ab, worth); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want %q", text, err, want)
		}
	}
}

func TestCompleteAndDecide(t *testing.T) {
	hands := []Handed{{mark.Hand{Pupil: "y", Part: "b", Answer: "2"}, 2}, {mark.Hand{Pupil: "x", Part: "a", Answer: "1"}, 3}, {mark.Hand{Pupil: "y", Part: "a", Answer: "3"}, 4}}
	got := Complete(hands, ab)
	want := [][]mark.Hand{
		{{Pupil: "y", Part: "a", Answer: "3"}, {Pupil: "y", Part: "b", Answer: "2"}},
		{{Pupil: "x", Part: "a", Answer: "1"}, {Pupil: "x", Part: "b"}},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v", got)
	}
	parts := []mark.Part{{Pupil: "x", Part: "a", Marks: 1, Of: 3}, {Pupil: "x", Part: "b", Marks: 1, Of: 1}}
	if err := Decide(parts, []mark.Override{{Pupil: "x", Part: "a", Mark: 3}}); err != nil || parts[0].Score() != 3 || parts[1].Score() != 1 || parts[0].Marks != 1 {
		t.Errorf("decided: %+v, %v", parts, err)
	}
	if err := Decide(parts, []mark.Override{{Pupil: "z", Part: "a"}}); err == nil || !strings.Contains(err.Error(), "z, part a") {
		t.Errorf("a decision about nobody: %v", err)
	}
}

func TestGuard(t *testing.T) {
	for cell, want := range map[string]string{"": "", "Ilse": "Ilse", "=1+1": "'=1+1", "+4": "'+4", "-4 N": "'-4 N", "@x": "'@x", "\t=1": "'\t=1", " =1": "' =1", "4": "4", "|x": "'|x", "＝1": "'＝1"} {
		if got := Guard(cell); got != want {
			t.Errorf("%q: got %q, want %q", cell, got, want)
		}
	}
}

// What is read never panics and holds to its limits, and what is told of it has its line.
func FuzzReadHands(f *testing.F) {
	f.Add("pupil,part,answer,working\nk1,a,3 N,\"x\ny\"\n")
	f.Add("\ufeffpupil;part;working\n\"c\n;;\"\"")
	f.Add("sep=\t\npupil\tpart\tanswer\r\"a\"\"\tb\t1\r")
	f.Add("\xff\xfep\x00u\x00")
	f.Add("pupil,marks,of,suggests,how sure\nk1,2,3,equal-shares,0.9\n")
	f.Fuzz(func(t *testing.T, text string) {
		_, _ = ReadOverrides(strings.NewReader(text), "t", ab, map[string]int{"a": 3, "b": 1})
		if e, err := ReadMarks(strings.NewReader(text), "t"); err == nil {
			for pupil, share := range e.Share {
				if !(share >= 0 && share <= 1) {
					t.Errorf("%s has %g of the marks of %q", pupil, share, text)
				}
			}
		}
		hands, err := ReadHands(strings.NewReader(text), "t", ab)
		if err != nil {
			if !strings.HasPrefix(err.Error(), "t") {
				t.Errorf("%q: %v", text, err)
			}
			return
		}
		last := 0
		for _, h := range hands {
			if h.Pupil == "" || h.Part != "a" && h.Part != "b" || h.Line <= last || !utf8.ValidString(h.Working) || strings.ContainsAny(h.Working, "\x00\x1b\u202e") {
				t.Errorf("hand %+v of %q", h, text)
			}
			last = h.Line
		}
		// Written out and read again, it is the same.
		var b strings.Builder
		w := csv.NewWriter(&b)
		_ = w.Write([]string{"pupil", "part", "answer", "working"})
		for _, h := range hands {
			_ = w.Write([]string{Guard(h.Pupil), h.Part, Guard(h.Answer), Guard(h.Working)})
		}
		w.Flush()
		again, err := ReadHands(strings.NewReader(b.String()), "t", ab)
		if err != nil || len(again) != len(hands) {
			t.Fatalf("%q: again %v, %v", text, again, err)
		}
		for i := range again {
			if again[i].Hand != hands[i].Hand {
				t.Errorf("%q: %+v became %+v", text, hands[i].Hand, again[i].Hand)
			}
		}
	})
}
