package slides

import (
	"fmt"

	"steelyard/draw"
	"steelyard/formula"
	"steelyard/office"
	"steelyard/sheet"
	"steelyard/show"
)

// odtFile writes a document.
func odtFile(t *show.Talk, _ Options) ([]byte, error) {
	h, err := newHandout(t)
	if err != nil {
		return nil, err
	}
	o := newODF()
	o.body.Leaf("text:h", h.title, "text:style-name", "Heading_20_1", "text:outline-level", "1")
	formulas := 0
	for _, e := range h.entries {
		o.body.Leaf("text:h", e.title, "text:style-name", "Heading_20_2", "text:outline-level", "2")
		o.image(e.picture)
		if e.say != "" {
			o.body.Leaf("text:p", e.say, "text:style-name", "Standard")
		}
		for _, r := range e.lines {
			formulas++
			o.formula(r, formulas)
		}
		if e.ask != "" {
			o.body.Leaf("text:p", "Ask: "+e.ask, "text:style-name", "Ask")
		}
	}
	if h.caution != "" {
		o.body.Leaf("text:p", h.caution, "text:style-name", "Standard")
	}
	return o.pack(t, textType, "office:text", odtStyles())
}

// image writes a picture in a paragraph of its own: the vector first, then the points.
func (o *odf) image(m *image) {
	if m == nil {
		return
	}
	svg, png := fmt.Sprintf("Pictures/figure%d.svg", m.n), fmt.Sprintf("Pictures/figure%d.png", m.n)
	o.add(svg, "image/svg+xml", m.svg)
	o.add(png, "image/png", m.png)
	k := m.shrink()
	o.body.Open("text:p", "text:style-name", "Picture").Open("draw:frame", "draw:name", fmt.Sprintf("Figure %d", m.n), "text:anchor-type", "as-char", "svg:width", points(k*m.width), "svg:height", points(k*m.height))
	for _, name := range []string{svg, png} {
		o.body.Empty("draw:image", "xlink:href", name, "xlink:type", "simple", "xlink:show", "embed", "xlink:actuate", "onLoad")
	}
	o.body.Leaf("svg:title", m.title).Leaf("svg:desc", m.alt).Shut(2)
}

// formula writes a line of working as a formula that can be edited.
func (o *odf) formula(r row, n int) {
	name := fmt.Sprintf("Formula%d", n)
	o.add(name+"/content.xml", formulaType, mathML(r.formula, draw.None))
	size := sheet.TypesetFormula(r.formula, 12, 470)
	o.body.Open("text:p", "text:style-name", "Working").Open("draw:frame", "draw:name", name, "text:anchor-type", "as-char", "svg:width", points(size.Width+6), "svg:height", points(size.Height))
	o.body.Empty("draw:object", "xlink:href", "./"+name, "xlink:type", "simple", "xlink:show", "embed", "xlink:actuate", "onLoad").Leaf("svg:desc", formula.Words(r.formula)).Shut(1)
	spaced(o.body, r.tail())
	o.body.Shut(1)
}

// odtStyles are the styles of a document.
func odtStyles() []byte {
	p := office.NewPart().Open("office:document-styles", inODF...).Open("office:styles")
	p.Open("style:default-style", "style:family", "paragraph").Empty("style:paragraph-properties", "fo:line-height", "120%", "fo:margin-bottom", "6pt", "fo:orphans", "2", "fo:widows", "2")
	p.Empty("style:text-properties", "fo:font-family", typeface, "fo:font-size", "11pt", "fo:language", "en", "fo:country", "GB").Shut(1)
	p.Empty("style:style", "style:name", "Standard", "style:family", "paragraph")
	for i, size := range []string{"18pt", "13pt"} {
		n := fmt.Sprint(i + 1)
		p.Open("style:style", "style:name", "Heading_20_"+n, "style:display-name", "Heading "+n, "style:family", "paragraph", "style:parent-style-name", "Standard", "style:next-style-name", "Standard", "style:default-outline-level", n)
		p.Empty("style:paragraph-properties", "fo:margin-top", "12pt", "fo:keep-with-next", "always").Empty("style:text-properties", "fo:font-size", size, "fo:font-weight", "bold").Shut(1)
	}
	p.Open("style:style", "style:name", "Picture", "style:family", "paragraph", "style:parent-style-name", "Standard").Empty("style:paragraph-properties", "fo:keep-with-next", "always").Shut(1)
	p.Open("style:style", "style:name", "Working", "style:family", "paragraph", "style:parent-style-name", "Standard").Empty("style:paragraph-properties", "fo:margin-left", "18pt").Shut(1)
	p.Open("style:style", "style:name", "Ask", "style:family", "paragraph", "style:parent-style-name", "Standard").Empty("style:text-properties", "fo:font-style", "italic").Shut(1)
	p.Open("style:style", "style:name", "Foot", "style:family", "paragraph", "style:parent-style-name", "Standard").Empty("style:text-properties", "fo:font-size", "9pt").Shut(1)
	p.Shut(1).Open("office:automatic-styles").Open("style:page-layout", "style:name", "A4").Empty("style:page-layout-properties", "fo:page-width", "210mm", "fo:page-height", "297mm", "fo:margin", "20mm")
	p.Open("style:footer-style").Empty("style:header-footer-properties", "fo:min-height", "10mm", "fo:margin-top", "4mm").Shut(3)
	p.Open("office:master-styles").Open("style:master-page", "style:name", "Standard", "style:page-layout-name", "A4").Open("style:footer").Open("text:p", "text:style-name", "Foot").Text(sheet.Notice).Empty("text:s").Text("Page").Empty("text:s").Empty("text:page-number")
	return p.Bytes()
}
