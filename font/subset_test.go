package font

import (
	"bytes"
	"slices"
	"testing"

	tdewolff "github.com/tdewolff/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

const sample = "A uniform plank: 4.80 m, ½ × 310 N ≤ Äéîß"

func sampleGlyphs(f *Face) []uint16 {
	glyphs := []uint16{0}
	for _, r := range sample {
		if g := f.GlyphIndex(r); g != 0 && !slices.Contains(glyphs, g) {
			glyphs = append(glyphs, g)
		}
	}
	return glyphs
}

// A subset draws every glyph as the whole face does. The raw reader of x/image wants a cmap, which a
// font inside a PDF file does not have, so the check reads it with github.com/tdewolff/font.
func TestSubsetDrawsTheSameGlyphs(t *testing.T) {
	for _, f := range Faces() {
		glyphs := sampleGlyphs(f)
		b, err := f.Subset(glyphs)
		if err != nil {
			t.Fatal(err)
		}
		whole, err := tdewolff.ParseSFNT(f.source, 0)
		if err != nil {
			t.Fatal(err)
		}
		small, err := tdewolff.ParseEmbeddedSFNT(b, 0)
		if err != nil {
			t.Fatalf("%s: %v", f.Name(), err)
		}
		for i, g := range glyphs[1:] {
			var want, got strokes
			if err := whole.GlyphPath(&want, g, 0, 0, 0, 1, tdewolff.NoHinting); err != nil {
				t.Fatal(err)
			}
			if err := small.GlyphPath(&got, uint16(i+1), 0, 0, 0, 1, tdewolff.NoHinting); err != nil {
				t.Fatalf("%s glyph %d: %v", f.Name(), g, err)
			}
			if !slices.Equal(want, got) {
				t.Errorf("%s: glyph %d is drawn otherwise in the subset", f.Name(), g)
			}
			if small.GlyphAdvance(uint16(i+1)) != whole.GlyphAdvance(g) {
				t.Errorf("%s: glyph %d has another width in the subset", f.Name(), g)
			}
		}
	}
}

type strokes []float64

func (s *strokes) MoveTo(x, y float64)             { *s = append(*s, 'm', x, y) }
func (s *strokes) LineTo(x, y float64)             { *s = append(*s, 'l', x, y) }
func (s *strokes) QuadTo(a, b, x, y float64)       { *s = append(*s, 'q', a, b, x, y) }
func (s *strokes) CubeTo(a, b, c, d, x, y float64) { *s = append(*s, 'c', a, b, c, d, x, y) }
func (s *strokes) Close()                          { *s = append(*s, 'z') }

func TestSubsetIsTheSameEveryTime(t *testing.T) {
	for _, f := range Faces() {
		a, errA := f.Subset(sampleGlyphs(f))
		b, errB := f.Subset(sampleGlyphs(f))
		if errA != nil || errB != nil || !bytes.Equal(a, b) {
			t.Errorf("%s: two subsets of the same glyphs differ (%v, %v)", f.Name(), errA, errB)
		}
		if checksum(a) != 0xB1B0AFBA { // OpenType: the whole file adds up to this number
			t.Errorf("%s: the file's sum is %#x", f.Name(), checksum(a))
		}
	}
}

func TestSubsetRefusesWhatMakesNoSense(t *testing.T) {
	for _, glyphs := range [][]uint16{nil, {5}, {0, 7, 7}, {0, 65000}} {
		if _, err := Serif.Subset(glyphs); err == nil {
			t.Errorf("a subset of %v was made", glyphs)
		}
	}
}

// Outlines agree with x/image/font's own at another size, to the rounding of its 26.6 numbers.
func TestOutlineScales(t *testing.T) {
	g := Serif.GlyphIndex('g')
	outline, err := Serif.Outline(g)
	if err != nil {
		t.Fatal(err)
	}
	raw, err := Serif.parsed.LoadGlyph(nil, sfnt.GlyphIndex(g), fixed.I(100), nil)
	if err != nil || len(raw) != len(outline) {
		t.Fatal(err, len(raw), len(outline))
	}
	for i, s := range raw {
		last := s.Args[0]
		if s.Op == sfnt.SegmentOpQuadTo {
			last = s.Args[1]
		}
		dx, dy := outline[i].To.X*100-float64(last.X)/64, -outline[i].To.Y*100-float64(last.Y)/64
		if dx*dx+dy*dy > 0.03*0.03 {
			t.Errorf("segment %d is off by %.3f, %.3f in 100", i, dx, dy)
		}
	}
}

func BenchmarkSubset(b *testing.B) {
	glyphs := sampleGlyphs(Serif)
	for b.Loop() {
		Serif.Subset(glyphs)
	}
}
