package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"steelyard/class"
	"steelyard/mark"
	"steelyard/pdf/uacheck"
	"steelyard/question"
	"steelyard/script"
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

// handMarked is a class as if it had been marked: what is shown of it is tested apart from how it is marked.
func handMarked(t testing.TB) *markedClass {
	q, err := question.Parse("bridge.moments", footbridge)
	if err != nil {
		t.Fatal(err)
	}
	m := &markedClass{question: q, parts: []string{"a", "b"}, worth: map[string]int{"a": 3, "b": 1}}
	line := func(text string, v mark.Verdict, means, off, slip string) mark.Judged {
		return mark.Judged{Line: script.Line{Text: text}, Verdict: v, Means: means, Off: off, Slip: slip}
	}
	for i := range 12 {
		name := fmt.Sprintf("Pupil %02d", i+1)
		a := mark.Part{Pupil: name, Part: "a", Marks: 3, Of: 3, Why: []string{"M1 for moments about Q: the line is there"},
			Answer: mark.JudgedAnswer{Value: 550, Verdict: mark.AnswerRight, Read: script.Answer{Text: "550 N", Read: true, Value: 550}},
			Lines:  []mark.Judged{line("moments about Q", mark.Statement, "", "", ""), line("P x 2.8 = 280 x 1.1 + 560 x 2.2", mark.Right, "moments about Q", "", "")}}
		b := mark.Part{Pupil: name, Part: "b", Marks: 1, Of: 1, Answer: mark.JudgedAnswer{Value: 290, Verdict: mark.AnswerRight, Read: script.Answer{Text: "290 N", Read: true, Value: 290}}}
		r := class.Result{Code: fmt.Sprintf("k%02d", i+1), Name: name, Suspects: []mark.Suspect{{Name: mark.NoSlip, Probability: 0.95}}}
		switch {
		case i%3 == 1: // one distance from the end
			a.Marks, a.Answer.Verdict, a.Answer.Read.Text = 1, mark.AnswerWrong, "370 N"
			a.Lines[1] = line("P x 2.8 = 280 x 1.1 + 560 x 1.3", mark.Wrong, "", "the distance of the lock keeper is measured from the left end, not from Q", "one-from-the-end")
			b.Answer.Verdict, b.Answer.Read.Text = mark.AnswerCarried, "470 N"
			r.Suspects = []mark.Suspect{{Name: "one-from-the-end", Of: "the weight of the lock keeper", Probability: 0.5 + float64(i)/25, Evidence: []string{"(a) the line “P x 2.8 = 280 x 1.1 + 560 x 1.3”"}}, {Name: mark.NoSlip, Probability: 0.05}}
			a.Slips = r.Suspects
		case i%6 == 2: // equal shares
			a.Marks, a.Answer.Verdict, a.Answer.Read.Text, a.Lines = 0, mark.AnswerWrong, "420 N", nil
			b.Marks, b.AskTeacher, b.Answer.Verdict, b.Answer.Read.Text = 0, true, mark.AnswerWrong, "420 N"
			b.Why = []string{"it would follow from their own answer, but also from the same assumption; please look"}
			r.Suspects = []mark.Suspect{{Name: "equal-shares", Probability: 0.87, Evidence: []string{"(a) “420 N” is the answer that it leads to"}}}
		case i == 11: // nothing that could be told
			a.Marks, a.Answer, a.Lines = 0, mark.JudgedAnswer{Value: math.NaN(), Verdict: mark.AnswerNotRead, Read: script.Answer{Text: "<b>bananas</b>"}}, []mark.Judged{line("=???", mark.NotRead, "", "", "")}
			a.AskTeacher, a.Why = true, []string{"please look at the answer: it could not be read"}
			b.Override = &mark.Override{Pupil: r.Code, Part: "b", Mark: 1, Reason: "said it in class"}
			b.Marks = 0
			r.Suspects = []mark.Suspect{{Name: mark.NoSlip, Probability: 0.5}, {Name: "equal-shares", Probability: 0.1}, {Name: "turned-the-wrong-way", Probability: 0.1}}
		}
		r.Parts = []mark.Part{a, b}
		m.results = append(m.results, r)
	}
	return m
}

// What is shown of a marked class is golden: the table, a pupil's lines, JSON, feedback, the picture of the class.
func TestMarkedGolden(t *testing.T) {
	m := handMarked(t)
	explained, err := m.explain(1)
	if err != nil {
		t.Fatal(err)
	}
	data, err := m.json()
	if err != nil {
		t.Fatal(err)
	}
	notes, err := m.feedback(false)
	if err != nil {
		t.Fatal(err)
	}
	before := &class.Earlier{Share: map[string]float64{"k01": 0.5, "Pupil 02": 1, "k03": 0}, Slips: map[string][]string{"k03": {"equal-shares"}}}
	picture, err := m.report(class.PictureOf(m.results, before))
	if err != nil {
		t.Fatal(err)
	}
	made, err := makeReports([]string{"feedback.html"}, "Feedback", notes, sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	class, err := makeReports([]string{"class.html"}, "The class", []sheet.Report{picture}, sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for name, got := range map[string][]byte{"table.txt": []byte(m.summary()), "explained.txt": explained, "marked.json": data, "feedback.html": made[0].content, "class.html": class[0].content} {
		path := filepath.Join("testdata", "marked", name)
		if *update {
			if err := os.WriteFile(path, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if want, err := os.ReadFile(path); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s has changed (%v); if you meant it, run go test -update and look at it", path, err)
		}
	}
	for _, size := range []float64{11, 18} {
		for name, reports := range map[string][]sheet.Report{"feedback": notes, "class": {picture}} {
			file, err := sheet.Reports(name, reports, sheet.Options{Size: size})
			if err != nil {
				t.Fatal(err)
			}
			for _, fault := range uacheck.Check(file) {
				t.Errorf("%s at %g points: %s", name, size, fault)
			}
			if folder := os.Getenv("STEELYARD_SHEETS"); folder != "" {
				if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("%s-%g.pdf", name, size)), file, 0o644); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}

// In ordinary print each pupil's feedback is one page, also when there is much to say.
func TestFeedbackIsOnePageEach(t *testing.T) {
	m := handMarked(t)
	r := &m.results[1]
	for len(r.Parts) < 9 { // many parts, each with a long quotation
		p := r.Parts[0]
		p.Part = string(rune('a' + len(r.Parts)))
		p.Lines = []mark.Judged{{Line: script.Line{Text: strings.Repeat("P x 2.8 = 280 x 1.1 + 560 x 1.3 ", 20)}, Verdict: mark.Wrong, Off: strings.Repeat("the distance of the lock keeper is measured from the left end, ", 3)},
			{Line: script.Line{Text: "x"}, Verdict: mark.Right, Means: "moments about " + p.Part}}
		p.Override = &mark.Override{Part: p.Part, Mark: 2, Reason: strings.Repeat("the sketch shows the right arm and ", 3)}
		p.AskTeacher = true
		r.Parts = append(r.Parts, p)
	}
	notes, err := m.feedback(false)
	if err != nil {
		t.Fatal(err)
	}
	file, err := sheet.Reports("Feedback", notes, sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	if _, after, ok := bytes.Cut(file, []byte("/Type/Pages")); ok {
		_, after, _ = bytes.Cut(after, []byte("/Count "))
		_, _ = fmt.Sscan(string(after[:min(6, len(after))]), &n)
	}
	if n != len(notes) {
		t.Errorf("%d pages for %d pupils", n, len(notes))
	}
}

// What mark --json prints is what docs/marked.schema.json says, and each part what docs/mark.schema.json says.
func TestMarkedJSONHasTheDocumentedForm(t *testing.T) {
	c := jsonschema.NewCompiler()
	schema, err := c.Compile("../../docs/marked.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	for name, m := range map[string]*markedClass{"a class": handMarked(t), "nobody": {question: &question.Question{Title: "T"}}} {
		data, err := m.json()
		if err != nil {
			t.Fatal(err)
		}
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(v); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		var loose map[string]any
		if err := json.Unmarshal(data, &loose); err != nil {
			t.Error(err)
		}
		loose["stranger"] = true
		if schema.Validate(loose) == nil {
			t.Errorf("%s: the schema takes anything", name)
		}
	}
}
