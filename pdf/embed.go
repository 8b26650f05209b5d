package pdf

import (
	"crypto/sha256"
	"fmt"
	"strconv"
	"unicode/utf16"

	"steelyard/font"
)

// An embedded face is one used in a document, with the glyphs used so far. A glyph's number in the
// file is its place in that list, so that the subset holds nothing else.
type embedded struct {
	face   *font.Face
	order  int // from 1: /F1
	glyphs []uint16
	signs  []rune // what each stands for
	place  map[uint16]uint16
	number int // of its object
}

func (d *Document) embed(face *font.Face) *embedded {
	for _, e := range d.faces {
		if e.face == face {
			return e
		}
	}
	e := &embedded{face: face, order: len(d.faces) + 1, glyphs: []uint16{0}, signs: []rune{0}, place: map[uint16]uint16{}}
	d.faces = append(d.faces, e)
	return e
}

// show appends the operator that shows text, and returns the text's width in thousandths of the size.
func (e *embedded) show(b []byte, text string) ([]byte, float64) {
	b = append(b, "[<"...)
	var units float64
	var before uint16
	for i, r := range text {
		if r == '\u00a0' {
			r = ' ' // looks the same, and a reader who searches types a plain space
		}
		g := e.face.GlyphIndex(r)
		if i > 0 {
			if kern := e.face.Kern(before, g); kern != 0 {
				units += kern
				b = append(b, '>')
				b = appendNumber(b, -kern, 1)
				b = append(b, '<')
			}
		}
		n, have := e.place[g]
		if !have {
			n = uint16(len(e.glyphs))
			e.place[g] = n
			e.glyphs = append(e.glyphs, g)
			e.signs = append(e.signs, r)
		}
		b = appendHex16(b, n)
		units += e.face.Units(g)
		before = g
	}
	return append(b, ">]TJ "...), units
}

// write adds the face's objects to the file.
func (e *embedded) write(w *writer) error {
	subset, err := e.face.Subset(e.glyphs)
	if err != nil {
		return err
	}
	name := subsetTag(subset) + "+" + e.face.Name()
	descendant, descriptor, file, unicode := w.reserve(), w.reserve(), w.reserve(), w.reserve()
	w.begin(e.number)
	fmt.Fprintf(w, "<</Type/Font/Subtype/Type0/BaseFont/%s/Encoding/Identity-H/DescendantFonts[%d 0 R]/ToUnicode %d 0 R>>",
		name, descendant, unicode)
	w.end()

	w.begin(descendant)
	fmt.Fprintf(w, "<</Type/Font/Subtype/CIDFontType2/BaseFont/%s/CIDSystemInfo<</Registry(Adobe)/Ordering(Identity)/Supplement 0>>"+
		"/FontDescriptor %d 0 R/CIDToGIDMap/Identity/DW 1000/W[0[", name, descriptor)
	for i, g := range e.glyphs {
		if i > 0 {
			w.b = append(w.b, ' ')
		}
		w.b = appendNumber(w.b, e.face.Units(g), 1)
	}
	w.b = append(w.b, "]]>>"...)
	w.end()

	w.begin(descriptor)
	m := e.face.Metrics()
	flags, stem := 4, 80
	if e.face.HasSerifs() {
		flags |= 2
	}
	if e.face.Italic() {
		flags |= 64
	}
	if e.face.Bold() {
		stem = 140
	}
	fmt.Fprintf(w, "<</Type/FontDescriptor/FontName/%s/Flags %d/FontBBox[%.0f %.0f %.0f %.0f]/ItalicAngle %.0f"+
		"/Ascent %.0f/Descent %.0f/CapHeight %.0f/XHeight %.0f/StemV %d/FontFile2 %d 0 R>>",
		name, flags, m.Box[0]*1000, m.Box[1]*1000, m.Box[2]*1000, m.Box[3]*1000, m.Slant,
		m.Ascent*1000, -m.Descent*1000, m.CapHeight*1000, m.XHeight*1000, stem, file)
	w.end()
	w.stream(file, "/Length1 "+strconv.Itoa(len(subset)), subset)
	w.stream(unicode, "", e.unicodeMap())
	return nil
}

// subsetTag makes the six capitals that mark a subset, from what is in it.
func subsetTag(subset []byte) string {
	sum := sha256.Sum256(subset)
	tag := make([]byte, 6)
	for i := range tag {
		tag[i] = 'A' + sum[i]%26
	}
	return string(tag)
}

// unicodeMap says which signs the glyphs stand for, so that text can be read out and searched.
func (e *embedded) unicodeMap() []byte {
	b := []byte("/CIDInit/ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo<</Registry(Adobe)/Ordering(UCS)/Supplement 0>>def\n" +
		"/CMapName/Adobe-Identity-UCS def\n/CMapType 2 def\n" +
		"1 begincodespacerange\n<0000><FFFF>\nendcodespacerange\n")
	for at := 1; at < len(e.glyphs); at += 100 {
		end := min(at+100, len(e.glyphs))
		b = strconv.AppendInt(b, int64(end-at), 10)
		b = append(b, " beginbfchar\n"...)
		for i := at; i < end; i++ {
			b = append(appendHex16(append(b, '<'), uint16(i)), "><"...)
			for _, unit := range utf16.Encode(e.signs[i : i+1]) {
				b = appendHex16(b, unit)
			}
			b = append(b, ">\n"...)
		}
		b = append(b, "endbfchar\n"...)
	}
	return append(b, "endcmap\nCMapName currentdict/CMap defineresource pop\nend\nend\n"...)
}
