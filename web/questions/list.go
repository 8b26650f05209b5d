package questions

import (
	"net/http"

	"steelyard/web/page"
)

// list shows the bank, one's own questions and those that colleagues share.
func (d *desk) list(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	f := r.URL.Query()
	s := search{Words: f.Get("words"), Whose: f.Get("whose"), Level: f.Get("level"), Kind: f.Get("kind"), Trap: f.Get("trap"), Marks: f.Get("marks")}
	if len(s.Words) > 200 {
		s.Words = s.Words[:200]
	}
	own, err := d.Store.QuestionsOf(r.Context(), v.ID)
	if err != nil {
		return err
	}
	shared, err := d.Store.SharedQuestions(r.Context(), v.ID)
	if err != nil {
		return err
	}
	var found []entry
	for _, q := range own {
		if !q.Gone.IsZero() != (s.Whose == "away") {
			continue
		}
		e := d.seen.entry(q, "own")
		if s.Whose == "away" {
			e.From = "away"
		}
		if s.fits(&e) {
			found = append(found, e)
		}
	}
	for _, q := range shared {
		if e := d.seen.entry(q, "shared"); q.Gone.IsZero() && s.fits(&e) {
			found = append(found, e)
		}
	}
	for _, e := range families() {
		if s.fits(&e) {
			found = append(found, e)
		}
	}
	return page.Write(w, r, v, http.StatusOK, page.Page{Title: "Questions", Here: "questions", Wide: true, Styles: []string{"workbench.css"},
		Body: listPage(s, found, len(own) == 0)})
}
