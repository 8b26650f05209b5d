package marks

import (
	"mime"
	"net/http"

	"steelyard/class"
	"steelyard/report"
	"steelyard/sheet"
	"steelyard/web/page"
)

// csv sends the marks as a table with a line for each pupil. Names stay away where they are hidden, or where the address
// asks for that.
func (m room) csv(w http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
	b, err := m.open(r.Context(), r.PathValue("set"), hidden(r) || r.FormValue("names") == "hidden")
	if err != nil {
		return err
	}
	table, err := b.csv()
	if err != nil {
		return err
	}
	return send(w, "text/csv; charset=utf-8", b.Set.FileName("marks.csv"), table)
}

// partsCSV sends the marks with their reasons, a line for each pupil and part, as "steelyard mark" writes them.
func (m room) partsCSV(w http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
	b, err := m.open(r.Context(), r.PathValue("set"), hidden(r) || r.FormValue("names") == "hidden")
	if err != nil {
		return err
	}
	list, err := m.results(r.Context(), b)
	if err != nil {
		return err
	}
	table, err := class.MarksCSV(list)
	if err != nil {
		return err
	}
	return send(w, "text/csv; charset=utf-8", b.Set.FileName("marks with reasons.csv"), table)
}

// feedback sends a page of feedback for each pupil who has handed in, to be printed.
func (m room) feedback(w http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
	b, err := m.open(r.Context(), r.PathValue("set"), false)
	if err != nil {
		return err
	}
	list, err := m.results(r.Context(), b)
	if err != nil {
		return err
	}
	if len(list) == 0 {
		return &page.Refusal{Status: http.StatusConflict, What: "nobody has handed in yet", Mend: "come back when something has been handed in"}
	}
	var reports []sheet.Report
	for i := range list {
		reports = append(reports, report.Feedback(b.Set.Title, class.NoteOf(&list[i])))
	}
	pdf, err := sheet.Reports(b.Set.Title, reports, sheet.Options{Created: m.Now()})
	if err != nil {
		return err
	}
	return send(w, "application/pdf", b.Set.FileName("feedback.pdf"), pdf)
}

// send sends a file to be kept.
func send(w http.ResponseWriter, kind, name string, content []byte) error {
	h := w.Header()
	h.Set("Content-Type", kind)
	h.Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": name}))
	h.Set("Cache-Control", "no-store")
	_, err := w.Write(content)
	return err
}
