package font

import (
	"encoding/binary"
	"strings"
)

// GlyphIndex returns the face's glyph for a sign, or 0 if the face lacks it.
func (f *Face) GlyphIndex(r rune) uint16 {
	f.load()
	if r < 0 || r > 0xFFFF {
		return f.lookUp(r)
	}
	page := f.pages[r>>8].Load()
	if page == nil {
		page = new([256]uint16)
		for low := range page {
			page[low] = f.lookUp(r&^0xFF | rune(low))
		}
		f.pages[r>>8].Store(page)
	}
	return page[r&0xFF]
}

func (f *Face) lookUp(r rune) uint16 {
	g, err := f.parsed.GlyphIndex(nil, r)
	if err != nil {
		return 0
	}
	return uint16(g)
}

// Advance is the width of a glyph at a size, in points. A glyph that the face has not is as wide as
// its sign for a missing glyph.
func (f *Face) Advance(glyph uint16, size float64) float64 {
	return f.Units(glyph) / 1000 * size
}

// Units is the width of a glyph in thousandths of an em, as PDF counts.
func (f *Face) Units(glyph uint16) float64 {
	f.load()
	if int(glyph) >= len(f.wide) {
		glyph = 0
	}
	return float64(f.wide[glyph]) * 1000 / f.em
}

// Kern is the space put between two glyphs, in thousandths of an em; mostly 0 or negative.
func (f *Face) Kern(left, right uint16) float64 {
	f.load()
	key := uint32(left)<<16 | uint32(right)
	low, high := 0, len(f.pairs)/6
	for low < high {
		middle := int(uint(low+high) >> 1)
		switch k := binary.BigEndian.Uint32(f.pairs[6*middle:]); {
		case k == key:
			return float64(int16(binary.BigEndian.Uint16(f.pairs[6*middle+4:]))) * 1000 / f.em
		case k < key:
			low = middle + 1
		default:
			high = middle
		}
	}
	return 0
}

// Width is the width of text at a size, in points, kerning included. Signs that the face lacks are
// measured in the face that Runs gives them.
func (f *Face) Width(text string, size float64) float64 {
	var units float64
	var before uint16
	last := f
	for _, r := range text {
		face, glyph := f.pick(r)
		units += face.Units(glyph)
		if before != 0 && face == last {
			units += face.Kern(before, glyph)
		}
		last, before = face, glyph
	}
	return units / 1000 * size
}

// pick finds the face and glyph that a sign is set with: the face's own, else that of Signs, else
// the sign for what cannot be shown, so that nothing ever vanishes unseen.
func (f *Face) pick(r rune) (*Face, uint16) {
	if g := f.GlyphIndex(r); g != 0 {
		return f, g
	}
	if g := Signs.GlyphIndex(r); g != 0 {
		return Signs, g
	}
	return Signs, Signs.GlyphIndex('\uFFFD')
}

// A Run is a stretch of text set in one face.
type Run struct {
	Face *Face
	Text string
}

// Runs splits text by the face that each sign is set in: f, or Signs where f lacks a sign. A sign
// that neither has becomes U+FFFD.
func (f *Face) Runs(text string) []Run {
	plain := true
	for _, r := range text {
		if f.GlyphIndex(r) == 0 {
			plain = false
			break
		}
	}
	if plain {
		return []Run{{f, text}}
	}
	var runs []Run
	var b strings.Builder
	last := f
	flush := func() {
		if b.Len() > 0 {
			runs = append(runs, Run{last, b.String()})
			b.Reset()
		}
	}
	for _, r := range text {
		face, _ := f.pick(r)
		if face != f && Signs.GlyphIndex(r) == 0 {
			r = '\uFFFD'
		}
		if face != last {
			flush()
			last = face
		}
		b.WriteRune(r)
	}
	flush()
	return runs
}

// A Glyph is a sign placed in a run: its number in the face, and the space after it, in thousandths
// of an em, its own width left out.
type Glyph struct {
	ID   uint16
	Rune rune
	Kern float64
}

// Glyphs lists the glyphs of a run of one face, kerned.
func (f *Face) Glyphs(text string) []Glyph {
	glyphs := make([]Glyph, 0, len(text))
	for _, r := range text {
		g := f.GlyphIndex(r)
		if n := len(glyphs); n > 0 {
			glyphs[n-1].Kern = f.Kern(glyphs[n-1].ID, g)
		}
		glyphs = append(glyphs, Glyph{ID: g, Rune: r})
	}
	return glyphs
}
