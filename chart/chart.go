// Package chart draws the few charts that a class picture needs, as vectors: how marks are spread, how each part
// went, which slips a pupil's work fits, and what has changed.
//
// Lengths are in points (1/72 inch), y down. Nothing is told by colour alone: charts are read in black and white
// print, and each has a title and a description from which it can be known without being seen.
//
// Source: none of the charts is new; a value stands beside each mark that shows it (common practice, no source).
package chart

import (
	"fmt"
	"math"
	"strings"

	"steelyard/draw"
)

// Options say how large a chart is.
type Options struct {
	ID       string  // put before the ids of its parts, where several pictures share a page
	Width    float64 // points, that it fills
	TextSize float64 // points; 0 is 10
}

// A page is a chart in the making.
type page struct {
	Options
	picture *draw.Picture
}

func newPage(o Options, title string) *page {
	if o.TextSize <= 0 {
		o.TextSize = 10
	}
	o.Width = max(o.Width, 23*o.TextSize)
	return &page{o, &draw.Picture{ID: o.ID, Width: o.Width, Title: title}}
}

func (p *page) add(m ...draw.Mark) { p.picture.Marks = append(p.picture.Marks, m...) }

var (
	thin  = draw.Style{Stroke: draw.Grey, Width: 0.7}
	faint = draw.Style{Stroke: draw.Faint, Width: 0.5, Dash: []float64{1.5, 2.5}}
	solid = draw.Style{Stroke: draw.Black, Width: 0.8, Fill: draw.Deep}
	open  = draw.Style{Stroke: draw.Black, Width: 1.1, Fill: draw.Paper}
	light = draw.Style{Stroke: draw.Black, Width: 0.8, Fill: draw.Shade}
)

func (p *page) line(x1, y1, x2, y2 float64, s draw.Style) {
	p.add(draw.Line{Points: []draw.Point{{X: x1, Y: y1}, {X: x2, Y: y2}}, Style: s})
}

func (p *page) box(left, top, width, height float64, s draw.Style) {
	p.add(draw.Line{Closed: true, Style: s, Points: []draw.Point{
		{X: left, Y: top}, {X: left + width, Y: top}, {X: left + width, Y: top + height}, {X: left, Y: top + height}}})
}

func (p *page) disc(x, y, radius float64, s draw.Style) {
	p.add(draw.Arc{Centre: draw.Point{X: x, Y: y}, Radius: radius, To: 2 * math.Pi, Style: s})
}

func (p *page) text(x, y float64, anchor draw.Anchor, text string) {
	p.write(x, y, anchor, text, false)
}

func (p *page) write(x, y float64, anchor draw.Anchor, text string, bold bool) {
	if text == "" {
		return
	}
	p.add(draw.Text{At: draw.Point{X: x, Y: y}, Anchor: anchor, Size: p.TextSize, Ink: draw.Black, Runs: []draw.Run{{Text: text, Bold: bold}}})
}

func (p *page) width(text string) float64 {
	return draw.RunsWidth([]draw.Run{{Text: text}}, p.TextSize)
}

// short cuts a text to a width.
func (p *page) short(text string, width float64) string {
	if p.width(text) <= width {
		return text
	}
	r := []rune(text)
	for len(r) > 1 && p.width(string(r)+"…") > width {
		r = r[:len(r)-1]
	}
	return strings.TrimRight(string(r), " ") + "…"
}

// finish ends the chart at a height.
func (p *page) finish(height float64, description string) *draw.Picture {
	p.picture.Height = height
	p.picture.Description = description
	return p.picture
}

// plural writes a count with its noun.
func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// percent writes a share from 0 to 1.
func percent(v float64) string { return fmt.Sprintf("%.0f %%", 100*v) }
