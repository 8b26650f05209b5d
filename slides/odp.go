package slides

import (
	"fmt"
	"math"
	"strings"

	"steelyard/draw"
	"steelyard/formula"
	"steelyard/office"
	"steelyard/sheet"
	"steelyard/show"
)

// odpFile writes a presentation.
func odpFile(t *show.Talk, _ Options) ([]byte, error) {
	list := onSlides(t)
	d := &odpDrawer{odf: newODF(), dashes: map[string]string{}}
	for i := range list {
		d.slide(&list[i], i+1)
	}
	return d.pack(t, presentationType, "office:presentation", d.styleSheet())
}

// An odpDrawer draws shapes of a presentation.
type odpDrawer struct {
	*odf
	dashes map[string]string // definition -> name
	order  []string
}

// at are the attributes of a box.
func (b box) at() []string {
	return []string{"svg:x", points(b.left), "svg:y", points(b.top), "svg:width", points(b.width()), "svg:height", points(b.height())}
}

// slide writes a slide: title, picture, working, and the script in its notes.
func (d *odpDrawer) slide(v *slide, n int) {
	p := d.body
	p.Open("draw:page", "draw:name", fmt.Sprintf("Step %d", n), "draw:style-name", d.style("drawing-page", ""), "draw:master-page-name", "Step", "presentation:presentation-page-layout-name", "TitleBody")
	d.place("title", "Step-title", box{margin, titleTop, wide - margin, titleTop + titleHeight})
	p.Open("text:p")
	d.span(v.title, map[string]string{"fo:font-size": points(v.titleFit())})
	p.Shut(3)
	x, y := v.corner()
	marks := placed(v.picture.Marks, v.scale(), x, y)
	p.Open("draw:g", "draw:name", "Picture").Leaf("svg:title", v.picture.Title).Leaf("svg:desc", v.alt)
	render(d, marks)
	d.end()
	d.working(v, n)
	p.Open("presentation:notes").Empty("draw:page-thumbnail", append([]string{"draw:page-number", fmt.Sprint(n), "presentation:class", "page"}, box{60, 48, 535, 315}.at()...)...)
	d.place("notes", "Step-notes", box{60, 340, 535, 800})
	for _, text := range v.notes {
		p.Leaf("text:p", text)
	}
	p.Shut(4)
}

// working writes the lines of working; those with a fraction are formulas that can be edited.
func (d *odpDrawer) working(v *slide, n int) {
	list, size := v.paragraphs()
	outline := false
	for i, b := range blocks(list, size) {
		if b.built() != nil {
			d.built(&b, fmt.Sprintf("Formula%d-%d", n, i+1), size)
			continue
		}
		if outline {
			d.body.Open("draw:frame", append([]string{"draw:style-name", d.look(draw.Style{}, noPadding...)}, b.at()...)...).Open("draw:text-box")
		} else {
			d.place("outline", "Step-outline1", b.box)
		}
		outline = true
		for _, text := range b.list {
			d.body.Open("text:p")
			for _, r := range text.runs {
				look := map[string]string{"fo:font-family": typeface, "fo:font-size": points(size)}
				if !text.fresh {
					look["fo:color"] = webColour(draw.Grey)
				}
				d.run(draw.Run{Text: r.Text, Italic: r.Italic, Sub: r.Sub}, look)
			}
			d.body.Shut(1)
		}
		d.body.Shut(2)
	}
}

// built writes a formula as an object of its own, stretched to its place.
func (d *odpDrawer) built(b *block, name string, size float64) {
	ink := draw.Grey
	if b.list[0].fresh {
		ink = draw.Black
	}
	d.add(name+"/content.xml", formulaType, mathML(*b.built(), ink))
	d.add(name+"/settings.xml", "text/xml", formulaFace(size))
	d.body.Open("draw:frame", append([]string{"draw:name", name}, b.at()...)...)
	d.body.Empty("draw:object", "xlink:href", "./"+name, "xlink:type", "simple", "xlink:show", "embed", "xlink:actuate", "onLoad").Leaf("svg:desc", formula.Words(*b.built())).Shut(1)
}

// formulaFace are the settings of a formula: the face of the words beside it. Source: the names of settings are those
// of the program that reads them, OpenDocument 1.3 part 3, 3.10.4 leaves them to it; others pass them over.
func formulaFace(size float64) []byte {
	p := office.NewPart().Open("office:document-settings", "xmlns:office", odfNames+"office:1.0", "xmlns:config", odfNames+"config:1.0", "xmlns:ooo", "http://openoffice.org/2004/office", "office:version", "1.3")
	p.Open("office:settings").Open("config:config-item-set", "config:name", "ooo:configuration-settings")
	item := func(name, kind, value string) {
		p.Leaf("config:config-item", value, "config:name", name, "config:type", kind)
	}
	item("BaseFontHeight", "short", fmt.Sprint(int(size)))
	for _, use := range []string{"Variables", "Functions", "Numbers", "Text"} {
		item("FontName"+use, "string", firstFace)
	}
	item("FontVariablesIsItalic", "boolean", "true")
	return p.Bytes()
}

// place opens a place for words.
func (d *odpDrawer) place(class, style string, at box) {
	d.body.Open("draw:frame", append([]string{"presentation:style-name", style, "presentation:class", class}, at.at()...)...).Open("draw:text-box")
}

// run writes words with italics and subscripts.
func (d *odpDrawer) run(r draw.Run, look map[string]string) {
	if r.Italic {
		look["fo:font-style"] = "italic"
	}
	if r.Bold {
		look["fo:font-weight"] = "bold"
	}
	if r.Sub {
		look["style:text-position"] = "-22% 70%"
	}
	d.span(r.Text, look)
}

// span writes words, keeping spaces that would be folded.
func (d *odpDrawer) span(text string, look map[string]string) {
	d.body.Open("text:span", "text:style-name", d.textStyle(look))
	spaced(d.body, text)
	d.body.Shut(1)
}

// spaced writes words of an OpenDocument, whose readers fold spaces at the ends and in a row.
func spaced(p *office.Part, text string) {
	for i, part := range strings.Split(text, " ") {
		if i > 0 {
			p.Empty("text:s")
		}
		p.Text(part)
	}
}

func (d *odpDrawer) begin(name, words string, _ box) {
	d.body.Open("draw:g", "draw:name", name)
	if words != "" {
		d.body.Leaf("svg:title", words)
	}
}

func (d *odpDrawer) end() { d.body.Shut(1) }

// look names the style of a shape.
func (d *odpDrawer) look(s draw.Style, extra ...string) string {
	var list []string
	if s.Stroke == draw.None || s.Width <= 0 {
		list = append(list, "draw:stroke", "none")
	} else {
		list = append(list, "draw:stroke", "solid", "svg:stroke-width", points(s.Width), "svg:stroke-color", webColour(s.Stroke), "draw:stroke-linejoin", "miter")
		if len(s.Dash) > 1 {
			list[1] = "dash"
			list = append(list, "draw:stroke-dash", d.dash(s.Dash))
		}
		if s.Round {
			list = append(list, "svg:stroke-linecap", "round")
		}
	}
	if s.Fill == draw.None {
		list = append(list, "draw:fill", "none")
	} else {
		list = append(list, "draw:fill", "solid", "draw:fill-color", webColour(s.Fill))
	}
	return d.style("graphic", office.Fragment().Empty("style:graphic-properties", append(list, extra...)...).String())
}

// dash names a pattern of dashes.
func (d *odpDrawer) dash(pattern []float64) string {
	list := []string{"draw:style", "rect", "draw:dots1", "1", "draw:dots1-length", points(pattern[0])}
	if len(pattern) > 3 {
		list = append(list, "draw:dots2", "1", "draw:dots2-length", points(pattern[2]))
	}
	list = append(list, "draw:distance", points(pattern[1]))
	key := strings.Join(list, "|")
	if d.dashes[key] == "" {
		d.dashes[key] = fmt.Sprintf("Dash%d", len(d.dashes)+1)
		d.order = append(d.order, key)
	}
	return d.dashes[key]
}

func (d *odpDrawer) line(from, to draw.Point, style string) {
	d.body.Empty("draw:line", "draw:style-name", style, "svg:x1", points(from.X), "svg:y1", points(from.Y), "svg:x2", points(to.X), "svg:y2", points(to.Y))
}

// arrow draws a line whose head is a marker, so that it stays at its end. Programs take the head's length from its
// width, by the marker's own shape.
func (d *odpDrawer) arrow(tail, tip draw.Point, s draw.Style, head float64) {
	d.line(tail, tip, d.look(s, "draw:marker-end", "Arrow", "draw:marker-end-width", points(max(0.55*head, 2.2*s.Width)), "draw:marker-end-center", "false"))
}

func (d *odpDrawer) path(list []draw.Point, closed bool, s draw.Style) {
	if len(list) == 2 && s.Fill == draw.None {
		d.line(list[0], list[1], d.look(s))
		return
	}
	at := aroundPoints(list)
	const fine = 100 // steps of a point
	var places []string
	for _, p := range list {
		places = append(places, fmt.Sprintf("%d,%d", int(math.Round(fine*(p.X-at.left))), int(math.Round(fine*(p.Y-at.top)))))
	}
	element := "draw:polyline"
	if closed {
		element = "draw:polygon"
	}
	attributes := append([]string{"draw:style-name", d.look(s)}, at.at()...)
	if behind(s) {
		attributes = append(attributes, "draw:name", "paper behind a label")
	}
	d.body.Empty(element, append(attributes, "svg:viewBox", fmt.Sprintf("0 0 %d %d", int(math.Round(fine*at.width())), int(math.Round(fine*at.height()))), "draw:points", strings.Join(places, " "))...)
}

func (d *odpDrawer) circle(c draw.Point, r float64, s draw.Style) {
	d.body.Empty("draw:circle", append([]string{"draw:style-name", d.look(s)}, box{c.X - r, c.Y - r, c.X + r, c.Y + r}.at()...)...)
}

func (d *odpDrawer) label(t draw.Text, at box) {
	side := map[draw.Anchor]string{draw.Start: "start", draw.Centre: "center", draw.Finish: "end"}[t.Anchor]
	grow := map[draw.Anchor]string{draw.Start: "left", draw.Centre: "center", draw.Finish: "right"}[t.Anchor]
	style := d.look(draw.Style{}, append(noPadding[:8:8], "fo:wrap-option", "no-wrap", "draw:auto-grow-width", "true", "draw:auto-grow-height", "true",
		"draw:textarea-horizontal-align", grow, "draw:textarea-vertical-align", "top")...)
	paragraph := d.style("paragraph", office.Fragment().Empty("style:paragraph-properties", "fo:text-align", side).String())
	d.body.Open("draw:frame", append([]string{"draw:style-name", style}, at.at()...)...).Open("draw:text-box").Open("text:p", "text:style-name", paragraph)
	for _, r := range t.Runs {
		d.run(r, map[string]string{"fo:font-family": typeface, "fo:font-size": points(t.Size), "fo:color": webColour(t.Ink)})
	}
	d.body.Shut(3)
}

// typeface is what labels are measured in, or one as wide.
const (
	firstFace = "Liberation Sans"
	typeface  = firstFace + ", Arial"
)

// noPadding lets words begin at the edge of their box.
var noPadding = []string{"fo:padding-top", "0pt", "fo:padding-bottom", "0pt", "fo:padding-left", "0pt", "fo:padding-right", "0pt"}

// styleSheet writes the styles that a person can change for all slides at once.
func (d *odpDrawer) styleSheet() []byte {
	p := office.NewPart().Open("office:document-styles", inODF...).Open("office:styles")
	p.Empty("draw:marker", "draw:name", "Arrow", "svg:viewBox", "0 0 55 100", "svg:d", "M27.5 0l-27.5 100h55z")
	for _, key := range d.order {
		p.Empty("draw:stroke-dash", append([]string{"draw:name", d.dashes[key]}, strings.Split(key, "|")...)...)
	}
	p.Open("style:default-style", "style:family", "graphic").Empty("style:text-properties", "fo:font-family", typeface, "fo:font-size", "22pt", "fo:language", "en", "fo:country", "GB").Shut(1)
	for _, s := range []struct {
		name, size, weight, after string
	}{{"Step-title", points(titleSize), "bold", "0pt"}, {"Step-outline1", "22pt", "normal", "8pt"}, {"Step-notes", "14pt", "normal", "6pt"}} {
		p.Open("style:style", "style:name", s.name, "style:family", "presentation")
		p.Empty("style:graphic-properties", append(noPadding[:8:8], "draw:stroke", "none", "draw:fill", "none", "draw:auto-grow-height", "false", "draw:fit-to-size", "false", "draw:textarea-vertical-align", "top")...)
		p.Empty("style:paragraph-properties", "fo:margin-bottom", s.after, "fo:margin-left", "0pt", "fo:text-indent", "0pt", "fo:text-align", "start")
		p.Empty("style:text-properties", "fo:font-family", typeface, "fo:font-size", s.size, "fo:font-weight", s.weight, "fo:color", webColour(draw.Black)).Shut(1)
	}
	p.Open("style:presentation-page-layout", "style:name", "TitleBody")
	p.Empty("presentation:placeholder", append([]string{"presentation:object", "title"}, box{margin, titleTop, wide - margin, titleTop + titleHeight}.at()...)...)
	p.Empty("presentation:placeholder", append([]string{"presentation:object", "outline"}, box{workingLeft, top, wide - margin, top + room}.at()...)...)
	p.Shut(2).Open("office:automatic-styles")
	p.Open("style:page-layout", "style:name", "Wide").Empty("style:page-layout-properties", "fo:page-width", points(wide), "fo:page-height", points(high), "fo:margin", "0pt", "style:print-orientation", "landscape").Shut(1)
	p.Open("style:page-layout", "style:name", "Notes").Empty("style:page-layout-properties", "fo:page-width", "595.28pt", "fo:page-height", "841.89pt", "fo:margin", "0pt").Shut(1)
	p.Empty("style:style", "style:name", "plain", "style:family", "drawing-page")
	p.Open("style:style", "style:name", "foot", "style:family", "graphic").Empty("style:graphic-properties", append(noPadding[:8:8], "draw:stroke", "none", "draw:fill", "none")...).Shut(1)
	for _, side := range []string{"start", "end"} {
		p.Open("style:style", "style:name", "foot-"+side, "style:family", "paragraph").Empty("style:paragraph-properties", "fo:text-align", side).Empty("style:text-properties", "fo:font-family", typeface, "fo:font-size", points(footSize)).Shut(1)
	}
	p.Shut(1).Open("office:master-styles").Open("style:master-page", "style:name", "Step", "style:page-layout-name", "Wide", "draw:style-name", "plain")
	p.Open("draw:frame", append([]string{"draw:style-name", "foot"}, box{margin, high - 32, margin + 400, high - 12}.at()...)...).Open("draw:text-box").Leaf("text:p", sheet.Notice, "text:style-name", "foot-start").Shut(2)
	p.Open("draw:frame", append([]string{"draw:style-name", "foot"}, box{wide - margin - 100, high - 32, wide - margin, high - 12}.at()...)...).Open("draw:text-box").Open("text:p", "text:style-name", "foot-end").Leaf("text:page-number", "1").Shut(3)
	p.Open("presentation:notes", "style:page-layout-name", "Notes")
	return p.Bytes()
}
