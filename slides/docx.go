package slides

import (
	"fmt"
	"strconv"

	"steelyard/formula"
	"steelyard/office"
	"steelyard/sheet"
	"steelyard/show"
)

const wordML = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"

// docxFile writes a document.
func docxFile(t *show.Talk, _ Options) ([]byte, error) {
	h, err := newHandout(t)
	if err != nil {
		return nil, err
	}
	const word = "application/vnd.openxmlformats-officedocument.wordprocessingml."
	rels := []relation{{"styles", "styles.xml"}, {"settings", "settings.xml"}, {"footer", "footer1.xml"}}
	var media []office.File
	for _, m := range h.images {
		name := fmt.Sprintf("media/figure%d", m.n)
		rels = append(rels, relation{"image", name + ".png"}, relation{"image", name + ".svg"})
		media = append(media, office.File{Name: "word/" + name + ".png", Body: m.png}, office.File{Name: "word/" + name + ".svg", Body: m.svg})
	}
	files := []office.File{
		contentTypes(map[string]string{"/word/document.xml": word + "document.main+xml", "/word/styles.xml": word + "styles+xml", "/word/settings.xml": word + "settings+xml",
			"/word/footer1.xml": word + "footer+xml", "/docProps/core.xml": coreType}),
		relations("_rels/.rels", relation{"officeDocument", "word/document.xml"}, relation{"core", "docProps/core.xml"}),
		{Name: "word/document.xml", Body: h.docxBody()},
		relations("word/_rels/document.xml.rels", rels...),
		{Name: "word/styles.xml", Body: docxStyles()},
		{Name: "word/settings.xml", Body: office.NewPart().Open("w:settings", "xmlns:w", wordML).Empty("w:zoom", "w:percent", "100").Open("w:compat").
			Empty("w:compatSetting", "w:name", "compatibilityMode", "w:uri", "http://schemas.microsoft.com/office/word", "w:val", "15").Bytes()},
		{Name: "word/footer1.xml", Body: docxFoot()},
	}
	return office.Pack(append(append(files, media...), office.File{Name: "docProps/core.xml", Body: core(t)}))
}

// A docx is the body of a document being written.
type docx struct{ *office.Part }

func (h *handout) docxBody() []byte {
	d := docx{office.NewPart()}
	d.Open("w:document", "xmlns:w", wordML, "xmlns:r", officeRelation, "xmlns:m", "http://schemas.openxmlformats.org/officeDocument/2006/math",
		"xmlns:wp", "http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing", "xmlns:a", "http://schemas.openxmlformats.org/drawingml/2006/main",
		"xmlns:pic", "http://schemas.openxmlformats.org/drawingml/2006/picture").Open("w:body")
	d.words("Heading1", h.title)
	for _, e := range h.entries {
		d.words("Heading2", e.title)
		d.image(e.picture)
		d.words("", e.say)
		for _, r := range e.lines {
			d.formula(r)
		}
		if e.ask != "" {
			d.words("Ask", "Ask: "+e.ask)
		}
	}
	d.words("", h.caution)
	d.Open("w:sectPr").Empty("w:footerReference", "w:type", "default", "r:id", "rId3").Empty("w:pgSz", "w:w", "11906", "w:h", "16838")
	d.Empty("w:pgMar", "w:top", "1134", "w:right", "1134", "w:bottom", "1134", "w:left", "1134", "w:header", "567", "w:footer", "567", "w:gutter", "0")
	return d.Bytes()
}

// paragraph opens a paragraph of a style.
func (d docx) paragraph(style string) {
	d.Open("w:p")
	if style != "" {
		d.Open("w:pPr").Empty("w:pStyle", "w:val", style).Shut(1)
	}
}

func (d docx) run(text string) { d.Open("w:r").Leaf("w:t", text, "xml:space", "preserve").Shut(1) }

// words writes a paragraph; of no words, nothing.
func (d docx) words(style, text string) {
	if text == "" {
		return
	}
	d.paragraph(style)
	d.run(text)
	d.Shut(1)
}

// formula writes a line of working as a formula that can be edited.
func (d docx) formula(r row) {
	d.paragraph("Working")
	d.Open("m:oMath").Raw(formula.OMML(r.formula)).Shut(1)
	if t := r.tail(); t != "" {
		d.run(t)
	}
	d.Shut(1)
}

// image writes a picture: the points, and with them the vector for programs that know it.
func (d docx) image(m *image) {
	if m == nil {
		return
	}
	n, k := strconv.Itoa(m.n), m.shrink()
	size := []string{"cx", emu(k * m.width), "cy", emu(k * m.height)}
	d.paragraph("Picture")
	d.Open("w:r").Open("w:drawing").Open("wp:inline", "distT", "0", "distB", "0", "distL", "0", "distR", "0").Empty("wp:extent", size...)
	d.Empty("wp:docPr", "id", n, "name", "Figure "+n, "descr", m.alt)
	d.Open("a:graphic").Open("a:graphicData", "uri", "http://schemas.openxmlformats.org/drawingml/2006/picture").Open("pic:pic")
	d.Open("pic:nvPicPr").Empty("pic:cNvPr", "id", n, "name", "figure"+n+".png").Empty("pic:cNvPicPr").Shut(1)
	d.Open("pic:blipFill").Open("a:blip", "r:embed", "rId"+strconv.Itoa(2+2*m.n)).Open("a:extLst").Open("a:ext", "uri", "{96DAC541-7B7A-43D3-8B79-37D633B846F1}")
	d.Empty("asvg:svgBlip", "xmlns:asvg", "http://schemas.microsoft.com/office/drawing/2016/SVG/main", "r:embed", "rId"+strconv.Itoa(3+2*m.n)).Shut(3)
	d.Open("a:stretch").Empty("a:fillRect").Shut(2)
	d.Open("pic:spPr").Open("a:xfrm").Empty("a:off", "x", "0", "y", "0").Empty("a:ext", size...).Shut(1).Raw(`<a:prstGeom prst="rect"><a:avLst/></a:prstGeom>`)
	d.Shut(8)
}

// docxStyles are the styles of a document.
func docxStyles() []byte {
	p := office.NewPart().Open("w:styles", "xmlns:w", wordML).Open("w:docDefaults")
	p.Open("w:rPrDefault").Open("w:rPr").Empty("w:rFonts", "w:ascii", "Arial", "w:hAnsi", "Arial", "w:cs", "Arial").Empty("w:sz", "w:val", "22").Empty("w:lang", "w:val", language).Shut(2)
	p.Open("w:pPrDefault").Open("w:pPr").Empty("w:spacing", "w:after", "120", "w:line", "276", "w:lineRule", "auto").Shut(3)
	style := func(id, name string) {
		p.Open("w:style", "w:type", "paragraph", "w:styleId", id).Empty("w:name", "w:val", name).Empty("w:basedOn", "w:val", "Normal")
	}
	p.Open("w:style", "w:type", "paragraph", "w:default", "1", "w:styleId", "Normal").Empty("w:name", "w:val", "Normal").Shut(1)
	for i, size := range []string{"36", "26"} {
		style(fmt.Sprintf("Heading%d", i+1), fmt.Sprintf("heading %d", i+1))
		p.Empty("w:next", "w:val", "Normal").Open("w:pPr").Empty("w:keepNext").Empty("w:spacing", "w:before", "240").Empty("w:outlineLvl", "w:val", strconv.Itoa(i)).Shut(1)
		p.Open("w:rPr").Empty("w:b").Empty("w:sz", "w:val", size).Shut(2)
	}
	style("Picture", "picture")
	p.Open("w:pPr").Empty("w:keepNext").Shut(2)
	style("Working", "working")
	p.Open("w:pPr").Empty("w:ind", "w:left", "360").Shut(2)
	style("Ask", "ask")
	p.Open("w:rPr").Empty("w:i").Shut(2)
	return p.Bytes()
}

func docxFoot() []byte {
	p := office.NewPart().Open("w:ftr", "xmlns:w", wordML).Open("w:p")
	run := func() *office.Part {
		return p.Open("w:r").Open("w:rPr").Empty("w:sz", "w:val", "18").Shut(1)
	}
	run().Leaf("w:t", sheet.Notice+" Page ", "xml:space", "preserve").Shut(1)
	run().Empty("w:fldChar", "w:fldCharType", "begin").Shut(1)
	run().Leaf("w:instrText", " PAGE ", "xml:space", "preserve").Shut(1)
	run().Empty("w:fldChar", "w:fldCharType", "end").Shut(1)
	return p.Bytes()
}
