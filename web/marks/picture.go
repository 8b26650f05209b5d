package marks

import (
	"fmt"
	"math"
	"net/http"
	"slices"
	"strings"

	"steelyard/chart"
	"steelyard/class"
	"steelyard/draw"
	"steelyard/slip"
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
	mostSteps  = 40 // pupils in the chart of changes: those who changed most
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
	for list := range slices.Chunk(most(c.Change.Steps), stepsEach) {
		p.Change = append(p.Change, svg(chart.Change(list, o(fmt.Sprintf("change%d-", n)))))
		n++
	}
}

func svg(p *draw.Picture) string { return string(draw.SVG(p)) }

// most are the steps of those who changed most, in class order.
func most(steps []class.Step) (out []chart.Step) {
	least := 0.0
	if len(steps) > mostSteps {
		sizes := make([]float64, len(steps))
		for i, s := range steps {
			sizes[i] = math.Abs(s.Now - s.Before)
		}
		slices.Sort(sizes)
		least = sizes[len(sizes)-mostSteps]
	}
	for _, s := range steps {
		if math.Abs(s.Now-s.Before) >= least && len(out) < mostSteps {
			out = append(out, chart.Step{Name: s.Pupil, Before: s.Before, Now: s.Now})
		}
	}
	return out
}

func spreadWords(p *class.Picture) string {
	sum, full := 0, 0
	for _, m := range p.Marks {
		sum += m
		if m == p.Of {
			full++
		}
	}
	return fmt.Sprintf("The mean is %s of %d; %s full marks.", mean(sum, len(p.Marks)), p.Of, counted(full, "pupil has", "pupils have"))
}

// partTells says in words what a part's numbers tell.
func partTells(r *class.PartRow) string { return strings.Join(r.Tells(), "; ") }

// names lists pupils with how sure it is.
func names(who []class.Suspicion) string {
	list := make([]string, len(who))
	for i, w := range who {
		list[i] = fmt.Sprintf("%s (%s)", w.Pupil, sureOf(w.Sure))
	}
	return strings.Join(list, ", ")
}

// surest are the first few of many.
func surest(who []class.Suspicion) string {
	if len(who) > 4 {
		return names(who[:4]) + ", …"
	}
	return names(who)
}

func sureOf(p float64) string { return suspect{Probability: p}.sure() }

func titles(slips []string) string {
	var list []string
	for _, n := range slips {
		if s := slip.Named(n); s != nil {
			list = append(list, "“"+s.Title+"”")
		}
	}
	return strings.Join(list, ", ")
}

func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

func changeWords(c *class.Change) string {
	up, down := 0, 0
	for _, s := range c.Steps {
		switch {
		case s.Now > s.Before+0.005:
			up++
		case s.Now < s.Before-0.005:
			down++
		}
	}
	words := fmt.Sprintf("%s with marks from both: on average %.0f %% of the marks then, %.0f %% now; %d went up, %d went down.",
		counted(len(c.Steps), "pupil", "pupils"), 100*c.Before, 100*c.Now, up, down)
	return words + " Two pieces of work are seldom equally hard, so a small change says little."
}
