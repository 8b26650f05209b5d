package questions

import (
	"bytes"
	"net/http"
	"strconv"
	"time"

	"steelyard/homework"
	"steelyard/sheet"
	"steelyard/web/page"
	"steelyard/workbench"
)

// familyPaper gives a question of the bank as a file.
func (d *desk) familyPaper(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	text := familyText(r.PathValue("name"))
	if text == "" {
		return page.NotFound
	}
	w.Header().Set("Cache-Control", "private, max-age=86400")
	return d.write(w, r, r.PathValue("name"), text)
}

// paper gives a teacher's question as a file.
func (d *desk) paper(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	q, err := d.Store.Question(r.Context(), r.PathValue("question"))
	if err != nil {
		return err
	}
	w.Header().Set("Cache-Control", "private, no-cache")
	return d.write(w, r, homework.FileTitle(q.Title, "question"), q.Text)
}

func (d *desk) write(w http.ResponseWriter, r *http.Request, name, text string) error {
	file := r.PathValue("file")
	kind, ending := "application/pdf", ".pdf"
	var out []byte
	var err error
	switch file {
	case "question.moments":
		kind, ending, out = "text/plain; charset=utf-8", ".moments", []byte(text)
	case "drawing.svg", "small.svg": // the small one is for lists
		kind, ending = "image/svg+xml", ".svg"
		width := 400.0
		if file == "small.svg" {
			width = 280
		}
		if out = lookAt(text, workbench.Options{Width: width, TextSize: 12, Quick: true}).SVG(); out == nil {
			return page.NotFound
		}
	case "sheet.pdf", "scheme.pdf", "solutions.pdf", "cards.pdf":
		out, err = print(file, text)
		if err != nil {
			return &page.Refusal{Status: http.StatusUnprocessableEntity, What: "this question can't be printed yet",
				Mend: err.Error() + ". Mend it on the workbench first"}
		}
	default:
		return page.NotFound
	}
	w.Header().Set("Content-Type", kind)
	if kind != "image/svg+xml" {
		w.Header().Set("Content-Disposition", `attachment; filename="`+name+map[string]string{"scheme.pdf": "-scheme", "solutions.pdf": "-solutions", "cards.pdf": "-hints"}[file]+ending+`"`)
	}
	w.Header().Set("Content-Length", strconv.Itoa(len(out)))
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(out))
	return nil
}

// print sets a question on paper.
func print(file, text string) ([]byte, error) {
	a, err := homework.Ask(text)
	if err != nil {
		return nil, err
	}
	if file == "cards.pdf" {
		return cards(a)
	}
	item, err := a.Item()
	if err != nil {
		return nil, err
	}
	set := sheet.Set{Title: a.Title, Items: []sheet.Item{item}}
	switch file {
	case "scheme.pdf":
		return sheet.Scheme(set, sheet.Options{})
	case "solutions.pdf":
		return sheet.Solutions(set, sheet.Options{})
	}
	return sheet.Questions(set, sheet.Options{})
}

// cards are the hints of every part, to cut out.
func cards(a *homework.Asked) ([]byte, error) {
	pack, err := a.Cards()
	if err != nil {
		return nil, err
	}
	return sheet.Cards(a.Title, []sheet.Pack{pack}, sheet.Options{})
}
