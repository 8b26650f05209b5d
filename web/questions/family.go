package questions

import (
	"net/http"
	"strings"

	"steelyard/question"
	"steelyard/slip"
	"steelyard/web/page"
	"steelyard/workbench"
)

// A reading is a question that is looked at, not changed: one of the bank, or a colleague's.
type reading struct {
	entry
	Text  string
	View  *workbench.View
	Study *workbench.Study
}

// family shows a question of the bank.
func (d *desk) family(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	name := r.PathValue("name")
	text := familyText(name)
	if text == "" {
		return page.NotFound
	}
	for _, e := range families() {
		if e.Key == "bank:"+name {
			return d.read(w, r, v, e, text)
		}
	}
	return page.NotFound
}

func (d *desk) read(w http.ResponseWriter, r *http.Request, v *page.Viewer, e entry, text string) error {
	view := lookAt(text, workbench.Options{Width: 420, TextSize: 14, ID: "drawing"})
	return page.Write(w, r, v, http.StatusOK, page.Page{Title: e.Title, Here: "questions", Styles: []string{"workbench.css"},
		Crumbs: []page.Crumb{{Name: "Questions", Href: "/questions"}},
		Body:   readPage(reading{entry: e, Text: text, View: view, Study: studyOf(view)})})
}

// trapTitles are the slips that a question is meant to bring out, as they are said.
func (e *entry) trapTitles() []string {
	var list []string
	for _, t := range e.Traps {
		if s := slip.Named(t); s != nil {
			list = append(list, s.Title)
		}
	}
	return list
}

// parts are the parts of a question with their wording.
func (v *reading) parts() []workbench.Asked {
	if len(v.View.Asked) > 0 || v.View.Question == nil {
		return v.View.Asked
	}
	var list []workbench.Asked
	q := v.View.Question
	for i := range q.Parts {
		list = append(list, workbench.Asked{Part: q.Parts[i].Name, Wording: question.PartWording(q, q.Parts[i]), Marks: q.Parts[i].Marks})
	}
	return list
}

// showTo is the address at which a question is explained to a class.
func (e *entry) showTo() string {
	if e.From == "bank" {
		return "/show" + strings.TrimPrefix(e.Href, "/questions")
	}
	return "/show/own/" + e.Key
}

// takeTo is the address that makes a question one's own.
func (e *entry) takeTo() string {
	if e.From == "bank" {
		return "/questions/new"
	}
	return e.Href + "/copy"
}

// tryAt is the address where a question is tried out.
func (e *entry) tryAt() string {
	if name, ok := strings.CutPrefix(e.Href, "/questions/bank/"); ok {
		return "/try/bank/" + name
	}
	return "/try/own/" + strings.TrimPrefix(e.Href, "/questions/")
}

// awayFrom is where a question's slides and documents are, by the address of its page.
func awayFrom(href string) string {
	if name, ok := strings.CutPrefix(href, "/questions/bank/"); ok {
		return "/slides/bank/" + name
	}
	return "/slides/own/" + strings.TrimPrefix(href, "/questions/")
}
