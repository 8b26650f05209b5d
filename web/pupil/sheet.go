package pupil

import (
	"math"
	"net/http"
	"strconv"
	"strings"

	"github.com/a-h/templ"

	"steelyard/quantity"
	"steelyard/web/page"
)

// sheet shows the page that a set is worked on. All questions stand on one page: once it is there, a lost connection
// keeps nobody from any of them, nothing waits for a page in between, and without scripts one button saves it all. A
// list at its head leads to each.
func (r room) sheet(w http.ResponseWriter, req *http.Request, v *page.Viewer) error {
	k, err := r.load(req, v)
	if err != nil {
		return err
	}
	if !k.Open() {
		return page.Write(w, req, v, http.StatusOK, k.page(k.Set.Title, closedSheet(k)))
	}
	for i := range k.Questions {
		if k.Questions[i].Lost {
			continue
		}
		if err := r.judge(k, i); err != nil {
			return err
		}
	}
	if err := r.openHints(req.Context(), k); err != nil {
		return err
	}
	return page.Write(w, req, v, http.StatusOK, k.page(k.Set.Title, openSheet(k)))
}

func (w *work) page(title string, body templ.Component, more ...page.Crumb) page.Page {
	return page.Page{Title: title, Here: "work", Crumbs: append([]page.Crumb{{Name: "My work", Href: "/work"}}, more...),
		Styles: []string{"pupil.css"}, Scripts: []string{"pupil.js"}, Body: body}
}

// narrow is the room that a drawing has on a page 320 px wide, in px; letters are drawn 13 px high.
const (
	narrow  = 286
	letters = 13
)

// SVG is the drawing of a question, drawn for a phone; on a wider page it is shown larger. Letters grow with the pupil's
// text, and the drawing with them, half as much: it then moves sideways in a box of its own.
func (q *theQuestion) SVG(points int) string {
	larger := math.Max(1, float64(min(points, 36))/12)
	return q.Asked.SVG(narrow*(1+larger)/2, letters*larger, points >= 16, "d"+strconv.Itoa(q.N))
}

// Wide says whether the drawing may move sideways in its box on the narrowest phone: large letters widen it, and the
// margins beside it.
func (q *theQuestion) Wide(points int) bool {
	if points >= 16 {
		return true
	}
	_, width, _ := strings.Cut(q.SVG(points), ` width="`)
	width, _, _ = strings.Cut(width, `"`)
	n, _ := strconv.ParseFloat(width, 64)
	return n > narrow+1
}

// Field is g, where it is needed and the wording doesn't give it.
func (q *theQuestion) Field() string {
	g := quantity.Typeset(q.Question.FieldStrength().String())
	if !q.Question.NeedsField() || strings.Contains(strings.Join(q.Wording, " "), g) {
		return ""
	}
	return "Take g as " + g + "."
}
