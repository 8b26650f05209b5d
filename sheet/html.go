package sheet

import (
	"bytes"
	"fmt"
	"html"
	"strings"

	"steelyard/draw"
	"steelyard/solution"
)

// The page's style: plain, readable at any size and in print, where each report starts a page.
const pageStyle = `body{font:1.05rem/1.5 system-ui,"Liberation Sans",Arial,sans-serif;color:#1a1a1a;background:#fff;max-width:46rem;margin:0 auto;padding:1rem}
h1{font-size:1.6rem;line-height:1.25;margin:1.6rem 0 .2rem}h2{font-size:1.2rem;margin:1.8rem 0 .4rem}
article>h2{font-size:1.4rem;margin-top:2.4rem}h3{font-size:1.1rem;margin:1.5rem 0 .3rem}
.kind{color:#444;margin:0 0 1rem}blockquote{margin:.6rem 0;padding:.2rem 0 .2rem .9rem;border-left:.25rem solid #5c5c5c;white-space:pre-wrap;overflow-wrap:anywhere}
.wide{overflow-x:auto}table{border-collapse:collapse;width:100%;margin:.6rem 0}th,td{text-align:left;vertical-align:top;padding:.3rem .8rem .3rem 0;border-top:1px solid #8a8a8a}td{overflow-wrap:anywhere}
thead th{border-top:2px solid #5c5c5c}.room{border:1px solid #8a8a8a;margin:.6rem 0}tbody th{font-weight:normal}svg{max-width:100%;height:auto}.keep{white-space:nowrap}
footer{border-top:1px solid #8a8a8a;margin-top:2rem;font-size:.9rem;color:#444}a{color:#0b3c7d}
figure{margin:.6rem 0}article+article{margin-top:3rem;border-top:3px solid #5c5c5c}
@media print{body{max-width:none;padding:0;font-size:11pt}article{break-before:page;border:0!important;margin:0!important}h2{break-after:avoid}nav{display:none}tr,svg,blockquote{break-inside:avoid}}`

// ReportsHTML writes reports as one page for a browser, without scripts and without anything fetched from
// elsewhere. Where there are several, a list of them stands first.
func ReportsHTML(title string, reports []Report, language string) ([]byte, error) {
	if language == "" {
		language = "en-GB"
	}
	if len(reports) == 0 {
		return nil, fmt.Errorf("%q has no report in it", title)
	}
	w := &page{}
	w.f("<!DOCTYPE html>\n<html lang=\"%s\">\n<head>\n<meta charset=\"utf-8\"/>\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n", html.EscapeString(language))
	w.f("<title>%s</title>\n<style>\n%s\n</style>\n</head>\n<body>\n", text(title), pageStyle)
	// One first heading a page: several reports stand below the page's own title.
	w.level = 1
	if len(reports) > 1 {
		w.level = 2
		w.f("<h1>%s</h1>\n<nav aria-label=\"Reports\">\n<ul>\n", text(title))
		for i := range reports {
			w.f("<li><a href=\"#r%d\">%s</a></li>\n", i+1, text(reports[i].Title))
		}
		w.f("</ul>\n</nav>\n")
	}
	w.f("<main>\n")
	for i := range reports {
		r := &reports[i]
		if err := r.check(); err != nil {
			return nil, err
		}
		w.report(r, fmt.Sprintf("r%d", i+1))
	}
	w.f("</main>\n<footer><p>%s</p></footer>\n</body>\n</html>\n", text(Notice))
	return w.Bytes(), nil
}

// ReportHTML writes a report as a fragment of a page: an article with the ID given, whose heading has the level given,
// 1 to 4. It has no styles of its own, and no room to write on.
func ReportHTML(r *Report, id string, level int) (string, error) {
	if err := r.check(); err != nil {
		return "", err
	}
	w := &page{level: level, prefix: id + "-", part: true}
	w.report(r, id)
	return w.String(), nil
}

// A page is the HTML so far.
type page struct {
	bytes.Buffer
	level    int // of a report's heading
	pictures int
	prefix   string // of the pictures' IDs
	part     bool   // it goes into a page that has styles of its own
}

func (w *page) report(r *Report, id string) {
	w.f("<article id=\"%s\">\n<h%d>%s</h%d>\n", html.EscapeString(id), w.level, text(r.Title), w.level)
	if r.Kind != "" {
		w.f("<p class=\"kind\">%s</p>\n", text(r.Kind))
	}
	for _, p := range r.Pieces {
		w.piece(p)
	}
	w.f("</article>\n")
}

func (w *page) f(format string, args ...any) { fmt.Fprintf(&w.Buffer, format, args...) }

func text(s string) string { return html.EscapeString(s) }

// inline is text with the symbols of quantities marked, as on paper.
func inline(s string) string {
	var b strings.Builder
	for _, p := range symbols(s) {
		switch {
		case p.sub:
			b.WriteString("<sub>" + text(p.text) + "</sub>")
		case p.italic:
			b.WriteString("<i>" + text(p.text) + "</i>")
		default:
			b.WriteString(text(p.text))
		}
	}
	return b.String()
}

func (w *page) piece(p Piece) {
	switch p := p.(type) {
	case Heading:
		w.f("<h%d>%s</h%d>\n", w.level+1, text(p.Text), w.level+1)
	case Words:
		if p.Bold {
			w.f("<p><strong>%s</strong></p>\n", inline(p.Text))
			return
		}
		w.f("<p>%s</p>\n", inline(p.Text))
	case Quote:
		w.f("<blockquote>%s</blockquote>\n", text(strings.Join(p.Lines, "\n")))
	case List:
		w.f("<ul>\n")
		for _, item := range p.Items {
			w.f("<li>%s</li>\n", inline(item))
		}
		w.f("</ul>\n")
	case Grid:
		w.grid(p)
	case Picture:
		pic := p.Draw(Drawing{Width: 640, TextSize: 13})
		if pic == nil {
			return
		}
		w.pictures++
		own := *pic
		own.ID = fmt.Sprintf("%sc%d", w.prefix, w.pictures)
		w.f("<figure>\n%s</figure>\n", draw.SVG(&own))
	case Room:
		if w.part {
			return
		}
		w.f("<div class=\"room\" style=\"height:%dem\"></div>\n", 2*p.Lines)
	case Solved:
		if p.Item.Solution != nil {
			w.f("<section>\n%s</section>\n", solution.HTML(p.Item.Solution, min(w.level+1, 5)))
		}
	}
}

func (w *page) grid(g Grid) {
	w.f("<div class=\"wide\"><table>\n<thead><tr>")
	for _, h := range g.Heads {
		w.f("<th scope=\"col\">%s</th>", text(h))
	}
	w.f("</tr></thead>\n<tbody>\n")
	for _, row := range g.Rows {
		w.f("<tr>")
		for k, cell := range row {
			if k == 0 {
				w.f("<th scope=\"row\">%s</th>", text(cell))
				continue
			}
			w.f("<td>%s</td>", inline(cell))
		}
		w.f("</tr>\n")
	}
	w.f("</tbody>\n</table></div>\n")
}
