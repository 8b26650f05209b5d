// Package trial is the page on which a question is tried out: moments about any point, what a support or friction
// prevents, and forces against a number that is changed. Everything on it is an address of its own, so that it works
// without scripts; no address holds more than names of things and numbers.
package trial

import (
	"net/http"

	"steelyard/bank"
	"steelyard/web/page"
)

// A desk answers the requests of this room.
type desk struct {
	*page.Desk
	solved shelf
}

// Routes are the addresses of this room.
func Routes(d *page.Desk) []page.Route {
	t := &desk{Desk: d}
	get := func(pattern string, do func(http.ResponseWriter, *http.Request, *page.Viewer) error) page.Route {
		return page.Route{Pattern: "GET " + pattern, For: page.Teachers, Do: do}
	}
	return []page.Route{
		get("/try/bank/{name}", t.try), get("/try/bank/{name}/{file}", t.file),
		get("/try/own/{question}", t.try), get("/try/own/{question}/{file}", t.file),
	}
}

// A source is a question as it is kept, and the pages that it has.
type source struct {
	Text, Title string
	Here        string // address of this page
	Back        page.Crumb
}

func (t *desk) source(r *http.Request) (s source, err error) {
	if name := r.PathValue("name"); name != "" {
		text, err := bank.Files.ReadFile(name + ".moments")
		if err != nil {
			return s, page.NotFound
		}
		return source{Text: string(text), Here: "/try/bank/" + name, Back: page.Crumb{Href: "/questions/bank/" + name}}, nil
	}
	q, err := t.Store.Question(r.Context(), r.PathValue("question"))
	if err != nil {
		return s, err
	}
	return source{Text: q.Text, Title: q.Title, Here: "/try/own/" + q.ID, Back: page.Crumb{Href: "/questions/" + q.ID}}, nil
}
