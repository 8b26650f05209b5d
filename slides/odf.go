package slides

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"steelyard/draw"
	"steelyard/formula"
	"steelyard/office"
	"steelyard/show"
)

// The namespaces of an OpenDocument's parts.
var inODF = []string{
	"xmlns:office", odfNames + "office:1.0", "xmlns:style", odfNames + "style:1.0", "xmlns:text", odfNames + "text:1.0",
	"xmlns:draw", odfNames + "drawing:1.0", "xmlns:presentation", odfNames + "presentation:1.0", "xmlns:fo", odfNames + "xsl-fo-compatible:1.0",
	"xmlns:svg", odfNames + "svg-compatible:1.0", "xmlns:xlink", "http://www.w3.org/1999/xlink", "xmlns:dc", "http://purl.org/dc/elements/1.1/",
	"office:version", "1.3",
}

const odfNames = "urn:oasis:names:tc:opendocument:xmlns:"

// points writes a length, to a hundredth of a point.
func points(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) + "pt" }

// An odf is an OpenDocument file being made: its body, and the styles that it needs.
type odf struct {
	body   *office.Part
	styles map[string]string // the contents and family of an automatic style -> its name
	order  []string
	extra  []office.File // pictures, formulas
	kinds  []string      // their media types
}

func newODF() *odf { return &odf{body: office.Fragment(), styles: map[string]string{}} }

// style names an automatic style of a family with these properties.
func (o *odf) style(family, properties string) string {
	key := family + "\n" + properties
	if o.styles[key] == "" {
		o.styles[key] = family[:1] + strconv.Itoa(len(o.styles)+1)
		o.order = append(o.order, key)
	}
	return o.styles[key]
}

// textStyle names a style of words.
func (o *odf) textStyle(look map[string]string) string {
	p := office.Fragment()
	var list []string
	for _, k := range slices.Sorted(maps.Keys(look)) {
		list = append(list, k, look[k])
	}
	return o.style("text", p.Empty("style:text-properties", list...).String())
}

// add adds a file beside the body.
func (o *odf) add(name, media string, body []byte) {
	o.extra, o.kinds = append(o.extra, office.File{Name: name, Body: body}), append(o.kinds, media)
}

// pack makes the file. The styles are the contents of styles.xml.
func (o *odf) pack(t *show.Talk, media, element string, styles []byte) ([]byte, error) {
	content := office.NewPart().Open("office:document-content", inODF...).Open("office:automatic-styles")
	for _, key := range o.order {
		family, properties, _ := strings.Cut(key, "\n")
		content.Open("style:style", "style:name", o.styles[key], "style:family", family).Raw(properties).Shut(1)
	}
	content.Shut(1).Open("office:body").Open(element).Raw(o.body.String())
	meta := office.NewPart().Open("office:document-meta", inODF...).Open("office:meta").Leaf("dc:title", talkTitle(t)).Leaf("dc:language", language)
	files := []office.File{
		{Name: "mimetype", Body: []byte(media), Stored: true},
		{Name: "content.xml", Body: content.Bytes()}, {Name: "styles.xml", Body: styles}, {Name: "meta.xml", Body: meta.Bytes()},
	}
	m := office.NewPart().Open("manifest:manifest", "xmlns:manifest", odfNames+"manifest:1.0", "manifest:version", "1.3")
	m.Empty("manifest:file-entry", "manifest:full-path", "/", "manifest:version", "1.3", "manifest:media-type", media)
	for _, f := range files[1:] {
		m.Empty("manifest:file-entry", "manifest:full-path", f.Name, "manifest:media-type", "text/xml")
	}
	for i, f := range o.extra {
		if o.kinds[i] == formulaType {
			m.Empty("manifest:file-entry", "manifest:full-path", f.Name[:len(f.Name)-len("content.xml")], "manifest:version", "1.3", "manifest:media-type", formulaType)
			m.Empty("manifest:file-entry", "manifest:full-path", f.Name, "manifest:media-type", "text/xml")
			continue
		}
		m.Empty("manifest:file-entry", "manifest:full-path", f.Name, "manifest:media-type", o.kinds[i])
	}
	files = append(files, o.extra...)
	return office.Pack(append(files, office.File{Name: "META-INF/manifest.xml", Body: m.Bytes()}))
}

// Media types of OpenDocument.
const (
	formulaType      = "application/vnd.oasis.opendocument.formula"
	presentationType = "application/vnd.oasis.opendocument.presentation"
	textType         = "application/vnd.oasis.opendocument.text"
)

// mathML is the contents of a formula in an ink; None leaves the program's own. Each fraction stands in a row of its
// own with a space of nothing: LibreOffice 7.4 takes what follows a bare one into its denominator, seen there.
func mathML(n formula.Node, ink draw.Ink) []byte {
	math := fractionRows.Replace(formula.MathML(n, true))
	if ink != draw.None {
		inside := strings.Index(math, ">") + 1 // nothing in an attribute is a bare >
		math = math[:inside] + `<mstyle mathcolor="` + webColour(ink) + `">` + strings.TrimSuffix(math[inside:], "</math>") + "</mstyle></math>"
	}
	return []byte(`<?xml version="1.0" encoding="UTF-8"?>` + "\n" + math)
}

var fractionRows = strings.NewReplacer("<mfrac>", "<mrow><mfrac>", "</mfrac>", `</mfrac><mspace width="0em"/></mrow>`)

func webColour(i draw.Ink) string { return "#" + hex(i) }
