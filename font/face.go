package font

import (
	"encoding/binary"
	"fmt"
	"sync"
	"sync/atomic"

	"codeberg.org/go-fonts/dejavu/dejavusans"
	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansitalic"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-fonts/liberation/liberationserifbold"
	"codeberg.org/go-fonts/liberation/liberationserifitalic"
	"codeberg.org/go-fonts/liberation/liberationserifregular"
	"golang.org/x/image/font/sfnt"
)

// A Face is one typeface in one style. Take one of the package's faces; the zero Face is of no use.
type Face struct {
	name   string
	source []byte
	italic bool
	bold   bool
	serif  bool

	once   sync.Once
	parsed *sfnt.Font
	tables map[string][]byte
	em     float64  // font units in an em
	wide   []uint16 // advance of each glyph, font units
	pairs  []byte   // kerning pairs as they stand in the font, six bytes each, sorted
	metric Metrics

	pages    [256]atomic.Pointer[[256]uint16] // glyphs of the Basic Multilingual Plane, found on first use
	outlines sync.Map                         // of glyph: []Segment
}

// The faces.
var (
	Serif       = &Face{name: "LiberationSerif", source: liberationserifregular.TTF, serif: true}
	SerifItalic = &Face{name: "LiberationSerif-Italic", source: liberationserifitalic.TTF, serif: true, italic: true}
	SerifBold   = &Face{name: "LiberationSerif-Bold", source: liberationserifbold.TTF, serif: true, bold: true}
	Sans        = &Face{name: "LiberationSans", source: liberationsansregular.TTF}
	SansItalic  = &Face{name: "LiberationSans-Italic", source: liberationsansitalic.TTF, italic: true}
	SansBold    = &Face{name: "LiberationSans-Bold", source: liberationsansbold.TTF, bold: true}
	Signs       = &Face{name: "DejaVuSans", source: dejavusans.TTF} // for signs that the others lack
)

// Faces returns all faces, in a fixed order.
func Faces() []*Face {
	return []*Face{Serif, SerifItalic, SerifBold, Sans, SansItalic, SansBold, Signs}
}

// Name is the face's PostScript name.
func (f *Face) Name() string { return f.name }

// Italic reports whether the face slants.
func (f *Face) Italic() bool { return f.italic }

// Bold reports whether the face is heavy.
func (f *Face) Bold() bool { return f.bold }

// HasSerifs reports whether the face has serifs.
func (f *Face) HasSerifs() bool { return f.serif }

// Metrics are the heights of a face of size 1, in ems.
type Metrics struct {
	Ascent    float64 // above the baseline
	Descent   float64 // below the baseline, positive
	CapHeight float64 // of H
	XHeight   float64 // of x
	Slant     float64 // degrees anticlockwise from upright; negative for an italic
	Box       [4]float64
}

// Metrics returns the heights of the face, in ems.
func (f *Face) Metrics() Metrics { f.load(); return f.metric }

// Ascent is how far the face reaches above the baseline at a size, in points.
func (f *Face) Ascent(size float64) float64 { return f.Metrics().Ascent * size }

// Descent is how far the face reaches below the baseline at a size, in points, positive.
func (f *Face) Descent(size float64) float64 { return f.Metrics().Descent * size }

// CapHeight is the height of a capital H at a size, in points.
func (f *Face) CapHeight(size float64) float64 { return f.Metrics().CapHeight * size }

// XHeight is the height of a small x at a size, in points.
func (f *Face) XHeight(size float64) float64 { return f.Metrics().XHeight * size }

// load reads the face. The font files are part of the program, so a fault in one is a fault of the
// program, which the package's tests would show.
func (f *Face) load() {
	f.once.Do(func() {
		if err := f.read(); err != nil {
			panic(fmt.Sprintf("font %s, built into the program, is damaged: %v", f.name, err))
		}
	})
}

func (f *Face) read() error {
	var err error
	if f.parsed, err = sfnt.Parse(f.source); err != nil {
		return err
	}
	if f.tables, err = splitTables(f.source); err != nil {
		return err
	}
	f.em = float64(f.parsed.UnitsPerEm())
	f.wide = readAdvances(f.tables["hhea"], f.tables["hmtx"], f.parsed.NumGlyphs())
	f.pairs = readPairs(f.tables["kern"])
	f.metric = f.readMetrics()
	return nil
}

// splitTables finds the tables of a TrueType file.
func splitTables(b []byte) (map[string][]byte, error) {
	if len(b) < 12 {
		return nil, fmt.Errorf("%d bytes are too few for a font", len(b))
	}
	n := int(binary.BigEndian.Uint16(b[4:]))
	if len(b) < 12+16*n {
		return nil, fmt.Errorf("the table directory is cut short")
	}
	tables := make(map[string][]byte, n)
	for i := range n {
		entry := b[12+16*i:]
		at, length := binary.BigEndian.Uint32(entry[8:]), binary.BigEndian.Uint32(entry[12:])
		if uint64(at)+uint64(length) > uint64(len(b)) {
			return nil, fmt.Errorf("table %q is cut short", entry[:4])
		}
		tables[string(entry[:4])] = b[at : at+length : at+length]
	}
	for _, tag := range []string{"OS/2", "cmap", "glyf", "head", "hhea", "hmtx", "loca", "maxp", "post"} {
		if tables[tag] == nil {
			return nil, fmt.Errorf("there is no table %q", tag)
		}
	}
	return tables, nil
}

// readAdvances lists the advance of every glyph; the last one written holds for all that follow.
func readAdvances(hhea, hmtx []byte, glyphs int) []uint16 {
	wide := make([]uint16, glyphs)
	written := int(binary.BigEndian.Uint16(hhea[34:]))
	for g := range wide {
		wide[g] = binary.BigEndian.Uint16(hmtx[4*min(g, written-1):])
	}
	return wide
}

// readPairs returns the pairs of the first horizontal kerning table of format 0, or nil.
func readPairs(kern []byte) []byte {
	if len(kern) < 18 || binary.BigEndian.Uint16(kern) != 0 {
		return nil
	}
	if coverage := binary.BigEndian.Uint16(kern[8:]); coverage&0xFF07 != 1 {
		return nil
	}
	n := int(binary.BigEndian.Uint16(kern[10:]))
	if len(kern) < 18+6*n {
		return nil
	}
	return kern[18 : 18+6*n]
}

func (f *Face) readMetrics() Metrics {
	signed := func(b []byte, at int) float64 {
		return float64(int16(binary.BigEndian.Uint16(b[at:]))) / f.em
	}
	hhea, os2, head, post := f.tables["hhea"], f.tables["OS/2"], f.tables["head"], f.tables["post"]
	m := Metrics{
		Ascent:  signed(hhea, 4),
		Descent: -signed(hhea, 6),
		Slant:   float64(int32(binary.BigEndian.Uint32(post[4:]))) / 65536,
		Box:     [4]float64{signed(head, 36), signed(head, 38), signed(head, 40), signed(head, 42)},
	}
	if binary.BigEndian.Uint16(os2) >= 2 && len(os2) >= 90 {
		m.XHeight, m.CapHeight = signed(os2, 86), signed(os2, 88)
	}
	// Older fonts don't say: measure the letters themselves.
	if m.XHeight <= 0 {
		m.XHeight = f.top('x')
	}
	if m.CapHeight <= 0 {
		m.CapHeight = f.top('H')
	}
	return m
}

// top is how high a sign reaches, in ems, from the box that stands before its outline.
func (f *Face) top(r rune) float64 {
	g := f.glyphData(f.lookUp(r))
	if len(g) < 10 {
		return 0
	}
	return float64(int16(binary.BigEndian.Uint16(g[8:]))) / f.em
}

// glyphData returns a glyph as it stands in the font: empty for a space.
func (f *Face) glyphData(g uint16) []byte {
	loca, glyf := f.tables["loca"], f.tables["glyf"]
	if binary.BigEndian.Uint16(f.tables["head"][50:]) == 0 {
		return glyf[2*int(binary.BigEndian.Uint16(loca[2*int(g):])) : 2*int(binary.BigEndian.Uint16(loca[2*int(g)+2:]))]
	}
	return glyf[binary.BigEndian.Uint32(loca[4*int(g):]):binary.BigEndian.Uint32(loca[4*int(g)+4:])]
}
