package record

import (
	"fmt"
	"net/http"
	"strings"

	"steelyard/draw"
	"steelyard/figure"
	"steelyard/film"
	"steelyard/show"
	"steelyard/web/page"
)

type desk struct{ *page.Desk }

// Routes are the addresses of this room.
func Routes(d *page.Desk) []page.Route {
	s := &desk{d}
	var list []page.Route
	for _, from := range page.From {
		list = append(list,
			page.Route{Pattern: "GET /record/" + from, For: page.Teachers, Do: s.studio},
			page.Route{Pattern: "GET /record/" + from + "/film", For: page.Teachers, Slow: true, Do: s.film})
	}
	return list
}

// A source is a question with its steps.
type source struct {
	page.Question
	talk *show.Talk
}

func (d *desk) sourceOf(r *http.Request) (source, error) {
	q, err := d.Question(r)
	if err != nil {
		return source{}, err
	}
	t, err := show.Explain(q.Text)
	if err != nil {
		return source{}, &page.Refusal{Status: http.StatusConflict, What: "this question cannot be worked out yet, so there are no steps to record", Mend: "open it under Questions, and mend what is listed there"}
	}
	return source{q, t}, nil
}

// studio is the page to record on. It alone may ask for the microphone.
func (d *desk) studio(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, err := d.sourceOf(r)
	if err != nil {
		return err
	}
	w.Header().Set("Permissions-Policy", "microphone=(self), camera=(), geolocation=()")
	return page.Write(w, r, v, http.StatusOK, page.Page{Title: "Record a walkthrough: " + s.talk.Title, Here: "questions",
		Crumbs: s.Crumbs(),
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
