package marks

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"steelyard/chart"
	"steelyard/class"
	"steelyard/draw"
	"steelyard/report"
	"steelyard/web/page"
)

// A pictured class is the picture of a class with its charts.
type pictured struct {
	Class         class.Picture
	Before        string // the set before, that it is compared with
	Spread, Parts string
	Change        []string
}

// picture shows how a class did.
func (m room) picture(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	b, err := m.open(r.Context(), r.PathValue("set"), hidden(r))
	if err != nil {
		return err
	}
	p, err := m.pictured(r.Context(), b)
	if err != nil {
		return err
	}
	if r.FormValue("part") == "yes" {
		return page.Part(w, r, http.StatusOK, pictureView(b, p))
	}
	return page.Write(w, r, v, http.StatusOK, b.page(b.Set.Title+": class picture", "", picturePage(b, p)))
}

// Sizes of the charts, in points: they fill a phone's page when drawn smaller, and are not enlarged.
const (
	chartWidth = 340
	stepsEach  = 20 // to a chart, so that it fits a screen
)

func (p *pictured) draw() {
	c := &p.Class
	if c.Pupils == 0 {
		return
	}
	o := func(id string) chart.Options { return chart.Options{ID: id, Width: chartWidth, TextSize: 11} }
	p.Spread = svg(chart.Spread(c.Marks, c.Of, o("spread-")))
	bars := make([]chart.Bar, len(c.Parts))
	for i, r := range c.Parts {
		bars[i] = chart.Bar{Name: r.Name, Facility: r.Facility, Discrimination: r.Discrimination}
	}
	p.Parts = svg(chart.Parts(bars, o("parts-")))
	if c.Change == nil {
		return
	}
	n := 0
	for list := range slices.Chunk(report.Steps(c.Change.Steps), stepsEach) {
		p.Change = append(p.Change, svg(chart.Change(list, o(fmt.Sprintf("change%d-", n)))))
		n++
	}
}

func svg(p *draw.Picture) string { return string(draw.SVG(p)) }

// partTells says in words what a part's numbers tell.
func partTells(r *class.PartRow) string { return strings.Join(r.Tells(), "; ") }
