package record

import (
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"strings"

	"steelyard/answer"
	"steelyard/bank"
	"steelyard/draw"
	"steelyard/figure"
	"steelyard/film"
	"steelyard/question"
	"steelyard/show"
	"steelyard/solution"
	"steelyard/store"
	"steelyard/web/page"
)

type desk struct{ *page.Desk }

// Routes are the addresses of this room.
func Routes(d *page.Desk) []page.Route {
	s := &desk{d}
	var list []page.Route
	for _, from := range []string{"bank/{name}", "own/{question}"} {
		list = append(list,
			page.Route{Pattern: "GET /record/" + from, For: page.Teachers, Do: s.studio},
			page.Route{Pattern: "GET /record/" + from + "/film", For: page.Teachers, Slow: true, Do: s.film})
	}
	return list
}

// A source is the question of an address.
type source struct {
	talk       *show.Talk
	here, home string
}

// unready is told of a question that can't be worked out.
var unready = &page.Refusal{Status: http.StatusConflict, What: "this question cannot be worked out yet, so there are no steps to record", Mend: "open it under Questions, and mend what is listed there"}

func (d *desk) sourceOf(r *http.Request) (source, error) {
	var s source
	var text string
	if name := r.PathValue("name"); name != "" {
		b, err := fs.ReadFile(bank.Files, name+".moments")
		if err != nil || strings.ContainsAny(name, "/\\.") {
			return s, page.NotFound
		}
		text, s.here, s.home = string(b), "/record/bank/"+name, "/questions/bank/"+name
	} else {
		id := r.PathValue("question")
		q, err := d.Store.Question(r.Context(), id)
		if errors.Is(err, store.ErrNotFound) {
			return s, page.NotFound
		}
		if err != nil {
			return s, err
		}
		text, s.here, s.home = q.Text, "/record/own/"+id, "/questions/"+id
	}
	var err error
	s.talk, err = talkOf(text)
	return s, err
}

// talkOf explains a question; a fault of the engine is told as a question that can't be worked out.
func talkOf(text string) (t *show.Talk, err error) {
	defer func() {
		if recover() != nil {
			t, err = nil, unready
		}
	}()
	q, err := question.Parse("", text)
	if err != nil {
		return nil, unready
	}
	a, err := answer.Solve(q)
	if err != nil {
		return nil, unready
	}
	s, err := solution.Solve(a)
	if err != nil {
		return nil, unready
	}
	t, err = show.Make(a, s)
	if err != nil || len(t.Steps) == 0 {
		return nil, unready
	}
	return t, nil
}

// studio is the page to record on. It alone may ask for the microphone.
func (d *desk) studio(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, err := d.sourceOf(r)
	if err != nil {
		return err
	}
	w.Header().Set("Permissions-Policy", "microphone=(self), camera=(), geolocation=()")
	return page.Write(w, r, v, http.StatusOK, page.Page{Title: "Record a walkthrough: " + s.talk.Title, Here: "questions",
		Crumbs: []page.Crumb{{Name: "Questions", Href: "/questions"}, {Name: s.talk.Title, Href: s.home}},
		Styles: []string{"record.css"}, Scripts: []string{"record.js"}, Wide: true, Body: studio(s)})
}

// film is the walkthrough without a voice, which the page puts its voice into.
func (d *desk) film(w http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
	s, err := d.sourceOf(r)
	if err != nil {
		return err
	}
	b, err := film.New(s.talk, film.Pace).HTML()
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/octet-stream") // it has scripts of its own, so it is not to open as a page of ours
	w.Header().Set("Content-Disposition", `attachment; filename="walkthrough.html"`)
	_, err = w.Write(b)
	return err
}

// title is that of a step, with its part.
func (s source) title(n int) string {
	step := &s.talk.Steps[n]
	if step.Part == "" || strings.Contains(step.Title, "("+step.Part+")") {
		return step.Title
	}
	return "(" + step.Part + ") " + step.Title
}

func (s source) picture(n int) string {
	return string(draw.SVG(s.talk.Picture(n, figure.Options{Width: 560, TextSize: 14, ID: fmt.Sprintf("step-%d", n)})))
}
