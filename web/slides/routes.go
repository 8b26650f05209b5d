package slides

import (
	"fmt"
	"net/http"
	"net/url"
	"path"
	"slices"
	"strconv"
	"strings"

	"steelyard/show"
	deck "steelyard/slides"
	"steelyard/web/page"
)

type desk struct{ *page.Desk }

// Routes are the addresses of this room.
func Routes(d *page.Desk) []page.Route {
	s := &desk{d}
	var list []page.Route
	for _, from := range page.From {
		list = append(list,
			page.Route{Pattern: "GET /slides/" + from, For: page.Teachers, Do: s.choose},
			page.Route{Pattern: "GET /slides/" + from + "/{file}", For: page.Teachers, Slow: true, Do: s.give})
	}
	return list
}

// choose shows what can be taken.
func (d *desk) choose(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	q, err := d.Question(r)
	if err != nil {
		return err
	}
	t, err := talk(q)
	if err != nil {
		return err
	}
	parts, part := t.Sums(), r.URL.Query().Get(stop)
	if !slices.Contains(parts, part) {
		part = ""
	}
	return page.Write(w, r, v, http.StatusOK, page.Page{Title: "Slides and documents: " + q.Title, Here: "questions",
		Crumbs: q.Crumbs(), Body: choices(q, part, parts)})
}

// files are what is given, by the last part of the address. One whose name begins with to-finish stops before the
// arithmetic, the first or that of the part that the address asks for.
var files = []struct{ name, words string }{
	{"slides.pdf", "Slides, PDF"},
	{"script.pdf", "Slides with the script, PDF"},
	{"slides.odp", "Presentation, .odp"},
	{"slides.pptx", "Presentation, .pptx"},
	{"handout.odt", "Document, .odt"},
	{"handout.docx", "Document, .docx"},
}

const unfinished = "to-finish-"

// An address may name the part whose arithmetic is left to pupils, as those of the board do: "?stop=b".
const stop = "stop"

// asks is the end of an address that names a part.
func asks(part string) string {
	if part == "" {
		return ""
	}
	return "?" + stop + "=" + url.QueryEscape(part)
}

// give writes a file.
func (d *desk) give(w http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
	q, err := d.Question(r)
	if err != nil {
		return err
	}
	file, cut := strings.CutPrefix(r.PathValue("file"), unfinished)
	known := false
	for _, f := range files {
		known = known || f.name == file
	}
	if !known {
		return page.NotFound
	}
	t, err := talk(q)
	if err != nil {
		return err
	}
	if cut {
		t = t.StoppedIn(r.URL.Query().Get(stop))
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

// talk makes the steps.
func talk(q page.Question) (*show.Talk, error) {
	t, err := show.Explain(q.Text)
	if err != nil {
		return nil, &page.Refusal{Status: http.StatusConflict, What: "this question cannot be worked out yet, so there is nothing to take away", Mend: "open it under Questions, and mend what is listed there"}
	}
	return t, nil
}
