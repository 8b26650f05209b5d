package slides

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"steelyard/draw"
	"steelyard/formula"
	"steelyard/office"
	"steelyard/show"
)

// The namespaces of a presentation's parts.
var inPresentation = []string{
	"xmlns:a", "http://schemas.openxmlformats.org/drawingml/2006/main",
	"xmlns:r", officeRelation,
	"xmlns:p", "http://schemas.openxmlformats.org/presentationml/2006/main",
}

const (
	officeRelation  = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	packageRelation = "http://schemas.openxmlformats.org/package/2006/relationships"
	presentationML  = "application/vnd.openxmlformats-officedocument.presentationml."
)

// emu writes points as English metric units, 12700 a point.
func emu(points float64) string { return strconv.FormatInt(int64(math.Round(12700*points)), 10) }

// hundredths writes a size of text.
func hundredths(points float64) string { return strconv.Itoa(int(math.Round(100 * points))) }

// pptxFile writes a presentation.
func pptxFile(t *show.Talk, _ Options) ([]byte, error) {
	list := onSlides(t)
	types := map[string]string{
		"/ppt/presentation.xml": presentationML + "presentation.main+xml", "/ppt/slideMasters/slideMaster1.xml": presentationML + "slideMaster+xml",
		"/ppt/slideLayouts/slideLayout1.xml": presentationML + "slideLayout+xml", "/ppt/notesMasters/notesMaster1.xml": presentationML + "notesMaster+xml",
		"/ppt/theme/theme1.xml": "application/vnd.openxmlformats-officedocument.theme+xml", "/ppt/theme/theme2.xml": "application/vnd.openxmlformats-officedocument.theme+xml",
		"/docProps/core.xml": coreType,
	}
	master := relation{"slideMaster", "slideMasters/slideMaster1.xml"}
	rels := []relation{master, {"theme", "theme/theme1.xml"}, {"notesMaster", "notesMasters/notesMaster1.xml"}}
	var slides []office.File
	ids := office.Fragment()
	for i := range list {
		n := i + 1
		name, notes := fmt.Sprintf("slides/slide%d.xml", n), fmt.Sprintf("notesSlides/notesSlide%d.xml", n)
		rels = append(rels, relation{"slide", name})
		ids.Empty("p:sldId", "id", strconv.Itoa(255+n), "r:id", "rId"+strconv.Itoa(len(rels)))
		types["/ppt/"+name], types["/ppt/"+notes] = presentationML+"slide+xml", presentationML+"notesSlide+xml"
		slides = append(slides,
			office.File{Name: "ppt/" + name, Body: list[i].pptxSlide()},
			relations(fmt.Sprintf("ppt/slides/_rels/slide%d.xml.rels", n), relation{"slideLayout", "../slideLayouts/slideLayout1.xml"}, relation{"notesSlide", "../" + notes}),
			office.File{Name: "ppt/" + notes, Body: list[i].pptxNotes()},
			relations(fmt.Sprintf("ppt/notesSlides/_rels/notesSlide%d.xml.rels", n), relation{"notesMaster", "../notesMasters/notesMaster1.xml"}, relation{"slide", "../" + name}))
	}
	main := office.NewPart().Open("p:presentation", inPresentation...)
	main.Open("p:sldMasterIdLst").Empty("p:sldMasterId", "id", "2147483648", "r:id", "rId1").Shut(1)
	main.Open("p:notesMasterIdLst").Empty("p:notesMasterId", "r:id", "rId3").Shut(1)
	main.Open("p:sldIdLst").Raw(ids.String()).Shut(1)
	main.Empty("p:sldSz", "cx", emu(wide), "cy", emu(high)).Empty("p:notesSz", "cx", "6858000", "cy", "9144000")
	files := []office.File{
		contentTypes(types),
		relations("_rels/.rels", relation{"officeDocument", "ppt/presentation.xml"}, relation{"core", "docProps/core.xml"}),
		{Name: "ppt/presentation.xml", Body: main.Bytes()},
		relations("ppt/_rels/presentation.xml.rels", rels...),
		{Name: "ppt/slideMasters/slideMaster1.xml", Body: pptxMaster()},
		relations("ppt/slideMasters/_rels/slideMaster1.xml.rels", relation{"slideLayout", "../slideLayouts/slideLayout1.xml"}, relation{"theme", "../theme/theme1.xml"}),
		{Name: "ppt/slideLayouts/slideLayout1.xml", Body: pptxLayout()},
		relations("ppt/slideLayouts/_rels/slideLayout1.xml.rels", relation{"slideMaster", "../slideMasters/slideMaster1.xml"}),
		{Name: "ppt/theme/theme1.xml", Body: theme()}, {Name: "ppt/theme/theme2.xml", Body: theme()},
		{Name: "ppt/notesMasters/notesMaster1.xml", Body: pptxNotesMaster()},
		relations("ppt/notesMasters/_rels/notesMaster1.xml.rels", relation{"theme", "../theme/theme2.xml"}),
	}
	return office.Pack(append(append(files, slides...), office.File{Name: "docProps/core.xml", Body: core(t)}))
}

// A tree writes the shapes of a slide, numbering them.
type tree struct {
	*office.Part
	last int
}

func newTree(p *office.Part) *tree {
	p.Open("p:spTree").Open("p:nvGrpSpPr").Empty("p:cNvPr", "id", "1", "name", "").Empty("p:cNvGrpSpPr").Empty("p:nvPr").Shut(1)
	p.Empty("p:grpSpPr")
	return &tree{p, 1}
}

// id is the number of the next shape.
func (t *tree) id() string {
	t.last++
	return strconv.Itoa(t.last)
}

// place opens a shape with a place for words: title, body and the like. The box may be nil: the master's is taken.
func (t *tree) place(name string, kind []string, at *box) {
	t.Open("p:sp").Open("p:nvSpPr").Empty("p:cNvPr", "id", t.id(), "name", name)
	t.Open("p:cNvSpPr").Empty("a:spLocks", "noGrp", "1").Shut(1)
	t.Open("p:nvPr").Empty("p:ph", kind...).Shut(2)
	if at == nil {
		t.Empty("p:spPr")
		return
	}
	t.Open("p:spPr").Open("a:xfrm")
	t.frame(*at)
	t.Shut(2)
}

func (t *tree) frame(at box) {
	t.Empty("a:off", "x", emu(at.left), "y", emu(at.top)).Empty("a:ext", "cx", emu(at.width()), "cy", emu(at.height()))
}

// words writes the body of words of a shape: its paragraphs.
func (t *tree) words(list ...paragraph) { t.sized(list, 0) }

func (t *tree) sized(list []paragraph, size float64) {
	t.openWords(false)
	t.paragraphs(list, size)
	t.Shut(1)
}

// openWords opens a body of words; bare is without padding.
func (t *tree) openWords(bare bool) {
	t.Open("p:txBody")
	if bare {
		t.Empty("a:bodyPr", "wrap", "square", "lIns", "0", "tIns", "0", "rIns", "0", "bIns", "0").Empty("a:lstStyle")
	} else {
		t.Empty("a:bodyPr").Empty("a:lstStyle")
	}
}

func (t *tree) paragraphs(list []paragraph, size float64) {
	for _, p := range list {
		t.Open("a:p")
		for _, r := range p.runs {
			look := []string{"lang", language}
			if size > 0 {
				look = append(look, "sz", hundredths(size))
			}
			if r.Italic {
				look = append(look, "i", "1")
			}
			if r.Sub {
				look = append(look, "baseline", "-25000")
			}
			t.Open("a:r").Open("a:rPr", look...)
			if !p.fresh && size > 0 {
				t.solid(draw.Grey)
			}
			if size > 0 {
				t.Empty("a:latin", "typeface", "+mn-lt") // a box alone would take the program's own
			}
			t.Shut(1).Leaf("a:t", r.Text).Shut(1)
		}
		if len(p.runs) == 0 {
			t.Empty("a:endParaRPr", "lang", language)
		}
		t.Shut(1)
	}
}

func (t *tree) solid(i draw.Ink) {
	t.Open("a:solidFill").Empty("a:srgbClr", "val", hex(i)).Shut(1)
}

func hex(i draw.Ink) string {
	r, g, b := i.RGB()
	return fmt.Sprintf("%02X%02X%02X", r, g, b)
}

// pptxSlide writes a slide: title, picture, working.
func (v *slide) pptxSlide() []byte {
	p := office.NewPart().Open("p:sld", inPresentation...)
	t := newTree(p.Open("p:cSld"))
	t.place("Title", []string{"type", "title"}, nil)
	t.sized([]paragraph{{runs: plainRuns(v.title), fresh: true}}, v.titleFit())
	t.Shut(1)
	x, y := v.corner()
	marks := placed(v.picture.Marks, v.scale(), x, y)
	d := pptxDrawer{t}
	d.begin("Picture", v.alt, extent(marks))
	render(d, marks)
	d.end()
	t.working(v)
	t.place("Number", []string{"type", "sldNum", "sz", "quarter", "idx", "12"}, nil)
	t.number()
	t.Shut(1)
	p.Shut(2).Raw("<p:clrMapOvr><a:masterClrMapping/></p:clrMapOvr>")
	return p.Bytes()
}

// working writes the lines of working; those with a fraction are formulas that can be edited.
func (t *tree) working(v *slide) {
	list, size := v.paragraphs()
	body := false
	for _, b := range blocks(list, size) {
		switch {
		case b.built() != nil:
			t.built(&b, size)
			continue
		case body:
			t.textBox("Working", box{b.left, b.top, b.right, b.bottom}, b.list, size)
			continue
		}
		body = true
		t.place("Working", []string{"type", "body", "idx", "1"}, &box{b.left - 7.2, b.top - 3.6, b.right, b.bottom})
		t.sized(b.list, size)
		t.Shut(1)
	}
}

// textBox writes words in a box without an edge or padding.
func (t *tree) textBox(name string, at box, list []paragraph, size float64) {
	t.openTextBox(name, "", at)
	t.openWords(true)
	t.paragraphs(list, size)
	t.Shut(2)
}

func (t *tree) openTextBox(name, words string, at box) {
	t.Open("p:sp").Open("p:nvSpPr")
	pptxDrawer{t}.properties(name, words)
	t.Empty("p:cNvSpPr", "txBox", "1").Empty("p:nvPr").Shut(1)
	t.Open("p:spPr").Open("a:xfrm")
	t.frame(at)
	t.Shut(1).Raw(`<a:prstGeom prst="rect"><a:avLst/></a:prstGeom><a:noFill/>`).Shut(1)
}

// built writes a formula as a shape of its own, and after it the line of words that stands for it in programs that know
// no formulas. Sources: ISO/IEC 29500-3 (alternate content); the namespace of formulas on slides is from the published
// extensions to ISO/IEC 29500, from memory.
func (t *tree) built(b *block, size float64) {
	const extension = "http://schemas.microsoft.com/office/drawing/2010/main"
	ink := draw.Grey
	if b.list[0].fresh {
		ink = draw.Black
	}
	_, k := b.list[0].built2D(size)
	look := `<a:rPr lang="` + language + `" sz="` + hundredths(k*size) + `"><a:solidFill><a:srgbClr val="` + hex(ink) + `"/></a:solidFill><a:latin typeface="Cambria Math"/></a:rPr>`
	looks := strings.NewReplacer("<m:t>", look+"<m:t>", "<m:t ", look+"<m:t ") // every run's own
	words := formula.Words(*b.built())
	t.Open("mc:AlternateContent", "xmlns:mc", "http://schemas.openxmlformats.org/markup-compatibility/2006")
	t.Open("mc:Choice", "xmlns:a14", extension, "Requires", "a14")
	t.openTextBox("Formula", words, b.box)
	t.openWords(true)
	t.Open("a:p").Open("a14:m").Open("m:oMathPara", "xmlns:m", "http://schemas.openxmlformats.org/officeDocument/2006/math")
	t.Open("m:oMathParaPr").Empty("m:jc", "m:val", "left").Shut(1)
	t.Open("m:oMath").Raw(looks.Replace(formula.OMML(*b.built()))).Shut(6)
	t.Shut(1).Open("mc:Fallback")
	t.textBox("Formula", box{b.left, b.top, wide - margin + 7.2, b.bottom}, b.list, min(size, k*size+2))
	t.Shut(2)
}

func (t *tree) number() {
	t.Raw(`<p:txBody><a:bodyPr/><a:lstStyle/><a:p><a:pPr algn="r"/><a:fld id="{5B1D2F60-6C0A-4C55-9C5B-3A5D6E0F1C27}" type="slidenum"><a:rPr lang="` + language + `" sz="1200"><a:latin typeface="+mn-lt"/></a:rPr><a:t>‹#›</a:t></a:fld></a:p></p:txBody>`)
}

// pptxNotes writes the script of a slide.
func (v *slide) pptxNotes() []byte {
	p := office.NewPart().Open("p:notes", inPresentation...)
	t := newTree(p.Open("p:cSld"))
	t.place("Slide", []string{"type", "sldImg"}, nil)
	t.Shut(1)
	t.place("Script", []string{"type", "body", "idx", "1"}, nil)
	var list []paragraph
	for _, text := range v.notes {
		list = append(list, paragraph{runs: plainRuns(text)})
	}
	if len(list) == 0 {
		list = []paragraph{{}}
	}
	t.words(list...)
	p.Shut(3).Raw("<p:clrMapOvr><a:masterClrMapping/></p:clrMapOvr>")
	return p.Bytes()
}
