package solution

import (
	"fmt"
	"html"
	"strings"

	"steelyard/formula"
)

// HTML writes a solution as a fragment of a page, well-formed also as XML: a section for each part, its first route
// open and the others behind a summary, formulas in MathML. The caller gives the headings their place:
// parts have headings of the level given, 2 to 5.
func HTML(s *Solution, level int) string {
	var b strings.Builder
	level = min(max(level, 2), 5)
	for i := range s.Parts {
		partHTML(&b, &s.Parts[i], level)
	}
	if len(s.Check) > 0 {
		fmt.Fprintf(&b, "<section class=\"check\">\n<h%d>Check</h%d>\n", level, level)
		stepsHTML(&b, s.Check)
		b.WriteString("</section>\n")
	}
	if s.Safety != "" {
		b.WriteString("<p class=\"safety\">" + html.EscapeString(s.Safety) + "</p>\n")
	}
	return b.String()
}

func partHTML(b *strings.Builder, w *Worked, level int) {
	fmt.Fprintf(b, "<section class=\"part\">\n<h%d>(%s) %s</h%d>\n", level, html.EscapeString(w.Name), html.EscapeString(capital(w.Asked)), level)
	for i := range w.Routes {
		r := &w.Routes[i]
		if i == 0 {
			b.WriteString(RouteHTML(r))
			continue
		}
		b.WriteString("<details>\n<summary>Another way: " + html.EscapeString(r.Name) + "</summary>\n" + RouteHTML(r) + "</details>\n")
	}
	b.WriteString("<p class=\"answer\">Answer: " + html.EscapeString(w.Answer.Words) + "</p>\n</section>\n")
}

// RouteHTML writes one route as a fragment.
func RouteHTML(r *Route) string {
	var b strings.Builder
	b.WriteString("<div class=\"route\">\n")
	stepsHTML(&b, r.Steps)
	b.WriteString("</div>\n")
	return b.String()
}

func stepsHTML(b *strings.Builder, steps []Step) {
	for i := range steps {
		if len(steps[i].Say) > 0 {
			b.WriteString("<p>" + SayHTML(steps[i].Say) + "</p>\n")
		}
		for _, l := range steps[i].Lines {
			b.WriteString("<div class=\"line\">" + lineHTML(l.Formula))
			if l.Note != "" {
				b.WriteString(" <span class=\"note\">" + html.EscapeString(l.Note) + "</span>")
			}
			for _, m := range l.Marks {
				b.WriteString(" <abbr class=\"mark\" title=\"" + html.EscapeString(m.For) + "\">" + html.EscapeString(m.Code) + "</abbr>")
			}
			b.WriteString("</div>\n")
		}
	}
}

// lineHTML writes a formula in a line of its own: for the eye in pieces, between which the line breaks where it is too long
// for the page, for a screen reader whole.
func lineHTML(n formula.Node) string {
	seen := strings.ReplaceAll(strings.Join(formula.Pieces(n), " "), `display="inline"`, `display="inline" displaystyle="true"`)
	return `<span role="math" aria-label="` + html.EscapeString(formula.Words(n)) + `"><span aria-hidden="true">` + seen + "</span></span>"
}

// SayHTML writes the words of a step, formulas in MathML. A formula, the bracket that opens before it and the punctuation
// after it stand in a span of class keep, which the page's style keeps on one line.
func SayHTML(pieces []Piece) string {
	var b strings.Builder
	skip, open := 0, ""
	for i, p := range pieces {
		last := i+1 == len(pieces)
		if p.Math == nil {
			text := p.Text[skip:]
			skip, open = 0, ""
			if strings.HasSuffix(text, "(") && !last && pieces[i+1].Math != nil {
				text, open = text[:len(text)-1], "("
			}
			b.WriteString(html.EscapeString(text))
			continue
		}
		math := open + formula.MathML(*p.Math, false)
		if !last && pieces[i+1].Math == nil {
			skip = len(pieces[i+1].Text) - len(strings.TrimLeft(pieces[i+1].Text, ".,;:)"))
		}
		if skip == 0 && open == "" {
			b.WriteString(math)
			continue
		}
		// A full stop or comma must not begin a line of its own, nor a bracket end one.
		b.WriteString("<span class=\"keep\">" + math)
		if skip > 0 {
			b.WriteString(html.EscapeString(pieces[i+1].Text[:skip]))
		}
		b.WriteString("</span>")
		open = ""
	}
	return b.String()
}
