package questions

import (
	"net/http"
	"strings"

	"steelyard/question"
	"steelyard/store"
	"steelyard/web/page"
)

// blank is a beam with nothing but what holds it: a start from nothing.
const blank = `question "My question"
level 14-16

body beam: uniform, length 4.00 m, weight 200 N
support P: rest, on beam at 0.50 m
support Q: rest, on beam at 3.50 m
load K: weight 500 N, on beam at 1.50 m

part a: find force P  marks 3
part b: find force Q  marks 1
`

// fresh offers three ways to begin.
func (d *desk) fresh(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	return d.starts(w, r, v, http.StatusOK, "", nil)
}

func (d *desk) starts(w http.ResponseWriter, r *http.Request, v *page.Viewer, status int, text string, faults question.Faults) error {
	title := "Make a question"
	if len(faults) > 0 {
		title = counted(len(faults), "thing to mend", "things to mend") + ": " + title
	}
	return page.Write(w, r, v, status, page.Page{Title: title, Here: "questions", Styles: []string{"workbench.css"},
		Crumbs: []page.Crumb{{Name: "Questions", Href: "/questions"}}, Body: startPage(text, faults, families())})
}

// make begins a question: from one of the bank, a colleague's, a blank beam, or pasted text.
func (d *desk) make(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	text := ""
	switch from := r.FormValue("from"); {
	case from == "blank":
		text = blank
	case strings.HasPrefix(from, "bank:"):
		if text = familyText(strings.TrimPrefix(from, "bank:")); text == "" {
			return page.NotFound
		}
	case from == "pasted":
		text = newlines(r.FormValue("text"))
		if strings.TrimSpace(text) == "" {
			return d.starts(w, r, v, http.StatusUnprocessableEntity, "", question.Faults{{What: "there is no text", Mend: "paste some, or begin with a blank beam"}})
		}
		if !strings.HasSuffix(text, "\n") {
			text += "\n"
		}
		if _, err := question.Parse("", text); err != nil && r.FormValue("anyway") == "" {
			f, _ := err.(question.Faults)
			return d.starts(w, r, v, http.StatusUnprocessableEntity, text, f)
		}
	default:
		return &page.Refusal{Status: http.StatusUnprocessableEntity, What: "it is not said what the question is to be made from", Mend: "choose one of the three ways"}
	}
	id, err := d.add(r, v, text)
	if err != nil {
		return err
	}
	return page.Go(w, r, "/questions/"+id)
}

func (d *desk) add(r *http.Request, v *page.Viewer, text string) (string, error) {
	q := store.Question{ID: store.NewID(), Owner: v.ID, Title: titleOf(text), Text: text}
	return q.ID, d.Store.AddQuestion(r.Context(), d.By(v), q)
}

// newlines are those that a form sends, as files have them.
func newlines(s string) string { return strings.ReplaceAll(s, "\r\n", "\n") }
