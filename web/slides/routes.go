package slides

import (
	"fmt"
	"net/http"
	"path"
	"strconv"
	"strings"

	"steelyard/answer"
	"steelyard/bank"
	"steelyard/question"
	"steelyard/show"
	deck "steelyard/slides"
	"steelyard/solution"
	"steelyard/web/page"
)

type desk struct{ *page.Desk }

// Routes are the addresses of this room.
func Routes(d *page.Desk) []page.Route {
	s := &desk{d}
	var list []page.Route
	for _, from := range []string{"bank/{name}", "own/{question}", "set/{set}/{item}"} {
		list = append(list,
			page.Route{Pattern: "GET /slides/" + from, For: page.Teachers, Do: s.choose},
			page.Route{Pattern: "GET /slides/" + from + "/{file}", For: page.Teachers, Slow: true, Do: s.give})
	}
	return list
}

// A source is the question of an address.
type source struct {
	text, title string
	here, home  string // addresses: of this page, of the question
}

func (d *desk) source(r *http.Request) (s source, err error) {
	switch {
	case r.PathValue("name") != "":
		name := r.PathValue("name")
		text, err := bank.Files.ReadFile(name + ".moments")
		if err != nil {
			return s, page.NotFound
		}
		s = source{text: string(text), here: "/slides/bank/" + name, home: "/questions/bank/" + name}
	case r.PathValue("set") != "":
		set, err := d.Store.Set(r.Context(), r.PathValue("set"))
		if err != nil {
			return s, err
		}
		n, err := strconv.Atoi(r.PathValue("item"))
		if err != nil || n < 1 || n > len(set.Items) {
			return s, page.NotFound
		}
		s = source{text: set.Items[n-1].Text, here: fmt.Sprintf("/slides/set/%s/%d", set.ID, n), home: fmt.Sprintf("/sets/%s#item-%d", set.ID, n)}
	default:
		q, err := d.Store.Question(r.Context(), r.PathValue("question"))
		if err != nil {
			return s, err
		}
		s = source{text: q.Text, here: "/slides/own/" + q.ID, home: "/questions/" + q.ID}
	}
	if q, err := question.Parse("", s.text); err == nil {
		s.title = q.Title
	}
	return s, nil
}

// choose shows what can be taken.
func (d *desk) choose(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, err := d.source(r)
	if err != nil {
		return err
	}
	if _, err := s.talk(); err != nil {
		return err
	}
	return page.Write(w, r, v, http.StatusOK, page.Page{Title: "Slides and documents: " + s.title, Here: "questions",
		Crumbs: []page.Crumb{{Name: "Questions", Href: "/questions"}, {Name: s.title, Href: s.home}}, Body: choices(s)})
}

// files are what is given, by the last part of the address. One whose name begins with to-finish stops before the
// arithmetic.
var files = []struct{ name, words string }{
	{"slides.pdf", "Slides, PDF"},
	{"script.pdf", "Slides with the script, PDF"},
	{"slides.odp", "Presentation, .odp"},
	{"slides.pptx", "Presentation, .pptx"},
	{"handout.odt", "Document, .odt"},
	{"handout.docx", "Document, .docx"},
}

const unfinished = "to-finish-"

// give writes a file.
func (d *desk) give(w http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
	s, err := d.source(r)
	if err != nil {
		return err
	}
	file, stop := strings.CutPrefix(r.PathValue("file"), unfinished)
	known := false
	for _, f := range files {
		known = known || f.name == file
	}
	if !known {
		return page.NotFound
	}
	t, err := s.talk()
	if err != nil {
		return err
	}
	if stop {
		t = t.Stopped()
	}
	ending := path.Ext(file)[1:]
	out, err := deck.Write(t, ending, deck.Options{Notes: file == "script.pdf"})
	if err != nil {
		return fmt.Errorf("writing slides: %w", err)
	}
	w.Header().Set("Content-Type", deck.MediaType(ending))
	w.Header().Set("Content-Disposition", `attachment; filename="`+r.PathValue("file")+`"`)
	w.Header().Set("Content-Length", strconv.Itoa(len(out)))
	w.Header().Set("Cache-Control", "private, no-cache")
	_, err = w.Write(out)
	return err
}

// talk makes the steps; a fault of the engine is told as a question that can't be worked out.
func (s source) talk() (t *show.Talk, err error) {
	unready := &page.Refusal{Status: http.StatusConflict, What: "this question cannot be worked out yet, so there is nothing to take away", Mend: "open it under Questions, and mend what is listed there"}
	defer func() {
		if recover() != nil {
			t, err = nil, unready
		}
	}()
	q, err := question.Parse("", s.text)
	if err != nil {
		return nil, unready
	}
	a, err := answer.Solve(q)
	if err != nil {
		return nil, unready
	}
	sol, err := solution.Solve(a)
	if err != nil {
		return nil, unready
	}
	if t, err = show.Make(a, sol); err != nil || len(t.Steps) == 0 {
		return nil, unready
	}
	return t, nil
}
