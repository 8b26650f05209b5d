package trial

import (
	"bytes"
	"net/http"
	"time"

	"steelyard/chart"
	"steelyard/draw"
	"steelyard/pdf"
	"steelyard/web/page"
)

// file gives the graph for paper, and its numbers.
func (t *desk) file(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	src, err := t.Question(r)
	if err != nil {
		return err
	}
	q := r.URL.Query()
	q.Set("see", whatIf)
	q.Set("shown", "yes")
	s, err := t.look(src, q)
	if err != nil {
		return err
	}
	if s.Curve == nil {
		return &page.Refusal{Status: http.StatusUnprocessableEntity, What: "there is no graph: " + s.Fault, Mend: "choose another number"}
	}
	p := s.Curve.Picture(s.Value, chart.Options{Width: 480, TextSize: 11})
	var out []byte
	kind := ""
	switch r.PathValue("file") {
	case "graph.svg":
		kind, out = "image/svg+xml", draw.SVG(p)
	case "graph.pdf":
		kind = "application/pdf"
		if out, err = onPaper(p, s.Title); err != nil {
			return err
		}
	case "numbers.csv":
		kind, out = "text/csv; charset=utf-8", s.Curve.CSV()
	default:
		return page.NotFound
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", `attachment; filename="`+r.PathValue("file")+`"`)
	w.Header().Set("Cache-Control", "private, no-cache")
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(out))
	return nil
}

// onPaper is an A4 page with the graph at its head.
func onPaper(p *draw.Picture, title string) ([]byte, error) {
	d := pdf.New(pdf.Info{Title: title + ": " + p.Title, Language: "en-GB"})
	sheet := d.AddPage(595, 842)
	figure := d.Root().Child(pdf.Figure)
	figure.Alt = p.Title + ". " + p.Description
	figure.Box = [4]float64{57, 57, 57 + p.Width, 57 + p.Height}
	sheet.Begin(figure)
	draw.PDF(sheet, 57, 57, p)
	sheet.End()
	return d.Bytes()
}
