package record

import (
	"net/http"
	"regexp"
	"slices"
	"strings"

	"steelyard/draw"
	"steelyard/figure"
	"steelyard/film"
	"steelyard/formula"
	"steelyard/homework"
	"steelyard/show"
	"steelyard/web/page"
)

type desk struct{ *page.Desk }

// Routes are the addresses of this room.
func Routes(d *page.Desk) []page.Route {
	s := &desk{d}
	list := []page.Route{
		{Pattern: "GET /record/films", For: page.Teachers, Do: s.list},
		{Pattern: "GET /record/films/{film}/file", For: page.Teachers, Slow: true, Do: s.fetch},
		{Pattern: "POST /record/films/{film}/drop", For: page.Teachers, Do: s.drop},
	}
	for _, from := range page.From {
		list = append(list,
			page.Route{Pattern: "GET /record/" + from, For: page.Teachers, Do: s.studio},
			page.Route{Pattern: "POST /record/" + from + "/file", For: page.Teachers, Slow: true, Body: toldMost, Do: s.file},
			page.Route{Pattern: "POST /record/" + from + "/film", For: page.Teachers, Slow: true, Body: toldMost + voiceMost, Do: s.order})
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
		Styles: []string{"record.css"}, Scripts: []string{"record.js"}, Wide: true, Body: studio(s, d.Films.Of(v.ID))})
}

// A take is a step on the page.
type take struct {
	*show.Step
	Title, Picture string
	Only           string // "full" or "stopped": the talk that it is in; "" if it is in both
}

// takes are the steps of the whole talk and, before those that it leaves out, the last of the talk that stops.
func (s source) takes() []take {
	stopped := s.talk.Stopped()
	common := len(stopped.Steps) - 1
	if stopped == s.talk {
		common = len(s.talk.Steps)
	}
	var list []take
	add := func(t *show.Talk, n int, only string) {
		step := &t.Steps[n]
		picture := t.Picture(n, figure.Options{Width: 560, TextSize: 14, ID: "picture-" + step.ID})
		list = append(list, take{Step: step, Title: title(step), Picture: string(draw.SVG(picture)), Only: only})
	}
	for n := range s.talk.Steps {
		switch {
		case n < common:
			add(s.talk, n, "")
		case n == common:
			add(stopped, n, "stopped")
			fallthrough
		default:
			add(s.talk, n, "full")
		}
	}
	return list
}

// title is that of a step, with its part.
func title(step *show.Step) string {
	if step.Part == "" || strings.Contains(step.Title, "("+step.Part+")") {
		return step.Title
	}
	return "(" + step.Part + ") " + step.Title
}

// fileName is the name of the files of a walkthrough, without their endings: a teacher soon has several.
func fileName(title string) string {
	return homework.FileTitle(title, "question") + "-walkthrough"
}

// matter are numbers, and names of one letter.
var matter = regexp.MustCompile(`\d+(?:\.\d+)?|\b[A-Z]\d?\b`)

// grouped takes out the spaces within numbers.
var grouped = strings.NewReplacer("\u202f", "", "\u2009", "")

// needs are the numbers and names that the step brings into the working and that its prepared words say: the teacher's
// own should say them too. What a line that grows had before is not said again.
func (t take) needs() []string {
	said := matter.FindAllString(grouped.Replace(film.Script(t.Step)), -1)
	list := []string{}
	for _, l := range t.Lines[len(t.Lines)-t.New:] {
		for _, m := range matter.FindAllString(grouped.Replace(formula.Words(l.Formula)+" "+l.Note), -1) {
			if slices.Contains(said, m) && !slices.Contains(list, m) {
				list = append(list, m)
			}
		}
	}
	return list
}
