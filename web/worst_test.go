package web_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"steelyard/homework"
	"steelyard/question"
	"steelyard/store"
	"steelyard/web/webtest"
)

// worst are questions that ask as much of the engine as their notation lets them.
func worst() map[string]string {
	const head = "question \"Pier\"\nlevel 16-18\ng 9.81 N/kg\n\n"
	var rests, chain, spread, varied strings.Builder
	rests.WriteString(head + "body deck: uniform, length 80.00 m, weight 310 N\n")
	for i := range 28 {
		fmt.Fprintf(&rests, "support S%d: rest, on deck at %d.00 m\n", i, i+1)
	}
	for i := range 40 {
		fmt.Fprintf(&rests, "load L%d: %d N/m, on deck from %d.00 m to %d.50 m\n", i, 10+i, i, i+1)
	}
	rests.WriteString("part a: find force S0 marks 2\npart b: find force S1 marks 2\n")

	chain.WriteString(head + "body b0: uniform, length 2.00 m, weight 100 N\nsupport W: clamp, on b0 at left end\n")
	for i := 1; i < 10; i++ {
		fmt.Fprintf(&chain, "body b%d: uniform, length 2.00 m, weight 100 N\nsupport R%d: hinge, on b%d at left end, by b%d at right end\nsupport F%d: rest, on b%d at right end\nload L%d: 20 N/m, on b%d from left end to right end\n", i, i, i, i-1, i, i, i, i)
	}
	chain.WriteString("part a: find force F9 marks 2\npart b: find force F1 marks 2\n")

	spread.WriteString(head + "body deck: uniform, length 80.00 m, weight 310 N\nsupport P: rest, on deck at 1.00 m\nsupport Q: rest, on deck at 79.00 m\n")
	for i := range 250 {
		fmt.Fprintf(&spread, "load L%d: %d N/m, on deck from %d.00 m to %d.50 m\n", i, 10+i, i%70, i%70+1)
	}
	spread.WriteString("part a: find force P marks 2\npart b: find force Q marks 2\n")

	varied.WriteString(head + "body deck: uniform, length 40.00 m, weight 310 N\nsupport P: rest, on deck at 0.60 m\nsupport Q: rest, on deck at 39.00 m\n")
	for i := range 12 {
		fmt.Fprintf(&varied, "load L%d: weight %d.00 N, on deck at %d.00 m\n", i, 100+i, i+2)
	}
	varied.WriteString("part a: find force P marks 2\npart b: find force Q marks 2\nvary deck.weight 100 N to 900 N step 1 N\n")
	for i := range 12 {
		fmt.Fprintf(&varied, "vary L%d.weight 10 N to 500 N step 0.1 N\nvary L%d.at 1.50 m to 38.00 m step 0.01 m\n", i, i)
	}

	return map[string]string{"many rests under one deck": rests.String(), "many bodies one on another": chain.String(), "more spread loads than there is room for": spread.String(),
		"ranges of numbers without end": varied.String()}
}

// Whatever the question, the workbench and the own numbers of a class answer within the time of a request, or refuse it in
// words. How long each took is written down, not judged.
func TestTheWorstQuestionIsAnswered(t *testing.T) {
	for name, text := range worst() {
		t.Run(name, func(t *testing.T) {
			site := webtest.New(t)
			more := make([]string, 30)
			for i := range more {
				more[i] = fmt.Sprint("Pupil ", i)
			}
			class, _, _ := site.AddClass(site.Head, "Year", more...)
			q := store.Question{ID: store.NewID(), Owner: site.Head.ID, Title: "Pier", Text: text, Changed: site.Clock.Now()}
			must(t, site.Store.AddQuestion(t.Context(), by(site), q))
			path := "/questions/" + q.ID
			within := func(what string, do func() *webtest.Page) *webtest.Page {
				began := time.Now()
				p := do()
				took := time.Since(began)
				t.Logf("%s: %d after %v, %d kB", what, p.Status, took.Round(time.Millisecond), len(p.Body)>>10)
				if p.Status >= 500 {
					t.Errorf("%s: %d: %s", what, p.Status, short(p.Text()))
				}
				return p
			}
			sent, err := json.Marshal(map[string]any{"text": text})
			must(t, err)
			within("the bench", func() *webtest.Page { return site.Teacher.Get(path) })
			for _, do := range []string{"/look", "/study"} {
				within(do, func() *webtest.Page {
					return site.Teacher.Do(http.MethodPost, path+do, "application/json", strings.NewReader(string(sent)))
				})
			}
			set := homework.Set{ID: store.NewID(), Class: class.ID, Title: "Beams", Seed: "s", Items: []homework.Item{{Question: q.ID, Text: text, Own: strings.Contains(text, "vary ")}}}
			must(t, site.Store.AddSet(t.Context(), by(site), set))
			within("the set", func() *webtest.Page { return site.Teacher.Get("/sets/" + set.ID) })
			given := within("giving it out", func() *webtest.Page { return site.Teacher.Post("/sets/"+set.ID+"/give", url.Values{}) })
			if _, err := question.Parse("", text); err != nil {
				given.Want(http.StatusUnprocessableEntity)
				site.Teacher.Get(path).Has("more than 40 loads")
			}
			for _, x := range []string{"/show/own/", "/try/own/"} {
				within(x, func() *webtest.Page { return site.Teacher.Get(x + q.ID) })
			}
		})
	}
}

// A set that was given out with a question which later versions of the notation refuse does not take the first page away.
func TestASetThatCantBeReadIsNotAllOfToday(t *testing.T) {
	site := webtest.New(t)
	for title, text := range map[string]string{"Old beams": "question \"Beams\"\nbeam of old", "Beams": bridge} {
		set := homework.Set{ID: store.NewID(), Class: site.Class.ID, Title: title, Seed: "s", Items: []homework.Item{{Question: "bank:none", Text: text}}}
		must(t, site.Store.AddSet(t.Context(), by(site), set))
		must(t, site.Store.Give(t.Context(), by(site), set.ID, nil))
	}
	site.Teacher.Get("/today").Want(http.StatusOK).Has("Your classes")
	site.Teacher.Get("/classes/" + site.Class.ID).Want(http.StatusOK).Has("Old beams")
	site.Pupils[0].Get("/work").Want(http.StatusOK).Has("Beams")
}
