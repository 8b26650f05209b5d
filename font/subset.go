package font

import (
	"encoding/binary"
	"fmt"
	"slices"
)

// Subset writes a TrueType font of a few of the face's glyphs, for embedding in a PDF file: glyph i
// of the result is glyphs[i]. The first must be 0, the sign for a missing glyph, and none may stand
// twice. Glyphs that composed letters are made of follow at the end. Hinting programs are left out:
// printers don't use them. The same glyphs in the same order give the same bytes.
func (f *Face) Subset(glyphs []uint16) ([]byte, error) {
	f.load()
	if len(glyphs) == 0 || glyphs[0] != 0 {
		return nil, fmt.Errorf("subset of %s: glyph 0 must come first", f.name)
	}
	place := make(map[uint16]uint16, len(glyphs))
	order := slices.Clone(glyphs)
	for i, g := range order {
		if int(g) >= len(f.wide) {
			return nil, fmt.Errorf("subset of %s: there is no glyph %d", f.name, g)
		}
		if _, twice := place[g]; twice {
			return nil, fmt.Errorf("subset of %s: glyph %d is listed twice", f.name, g)
		}
		place[g] = uint16(i)
	}
	var glyf []byte
	loca := make([]byte, 4, 4*len(order)+64)
	for i := 0; i < len(order); i++ { // order grows as parts of composed glyphs are met
		data, parts, err := plainGlyph(f.glyphData(order[i]))
		if err != nil {
			return nil, fmt.Errorf("subset of %s, glyph %d: %w", f.name, order[i], err)
		}
		for _, at := range parts {
			part := binary.BigEndian.Uint16(data[at:])
			if _, have := place[part]; !have {
				place[part] = uint16(len(order))
				order = append(order, part)
			}
			binary.BigEndian.PutUint16(data[at:], place[part])
		}
		glyf = append(glyf, data...)
		for len(glyf)%4 != 0 {
			glyf = append(glyf, 0)
		}
		loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
	}
	return f.assemble(order, glyf, loca), nil
}

// plainGlyph copies a glyph without its hinting program, and lists where in the copy the numbers of
// its parts stand, if it is a composed one.
func plainGlyph(g []byte) (data []byte, parts []int, err error) {
	short := fmt.Errorf("its data is cut short")
	if len(g) == 0 {
		return nil, nil, nil
	}
	if len(g) < 10 {
		return nil, nil, short
	}
	if contours := int(int16(binary.BigEndian.Uint16(g))); contours >= 0 {
		at := 10 + 2*contours
		if len(g) < at+2 {
			return nil, nil, short
		}
		program := int(binary.BigEndian.Uint16(g[at:]))
		if len(g) < at+2+program {
			return nil, nil, short
		}
		data = append(data, g[:at]...)
		data = append(data, 0, 0)
		return append(data, g[at+2+program:]...), nil, nil
	}
	data = slices.Clone(g)
	for at := 10; ; {
		if len(data) < at+4 {
			return nil, nil, short
		}
		flags := binary.BigEndian.Uint16(data[at:])
		parts = append(parts, at+2)
		size := partSize(flags)
		binary.BigEndian.PutUint16(data[at:], flags&^0x0100) // no program follows
		if at += size; len(data) < at {
			return nil, nil, short
		}
		if flags&0x0020 == 0 { // the last part
			return data[:at], parts, nil
		}
	}
}

// partSize is the length of one part of a composed glyph: flags, number, offsets, scale.
func partSize(flags uint16) int {
	size := 6
	if flags&0x0001 != 0 { // offsets are words
		size += 2
	}
	switch {
	case flags&0x0008 != 0: // one scale
		size += 2
	case flags&0x0040 != 0: // a scale for each axis
		size += 4
	case flags&0x0080 != 0: // a matrix
		size += 8
	}
	return size
}

// assemble puts the tables of a subset together. Times in table head stay those of the face.
func (f *Face) assemble(order []uint16, glyf, loca []byte) []byte {
	head := slices.Clone(f.tables["head"])
	clear(head[8:12])                        // the sum over the file comes last
	binary.BigEndian.PutUint16(head[50:], 1) // long offsets
	hhea := slices.Clone(f.tables["hhea"])
	binary.BigEndian.PutUint16(hhea[34:], uint16(len(order)))
	maxp := slices.Clone(f.tables["maxp"])
	binary.BigEndian.PutUint16(maxp[4:], uint16(len(order)))
	hmtx := make([]byte, 0, 4*len(order))
	for _, g := range order {
		hmtx = binary.BigEndian.AppendUint16(hmtx, f.wide[g])
		hmtx = binary.BigEndian.AppendUint16(hmtx, f.bearing(g))
	}
	tables := []struct {
		tag  string
		data []byte
	}{{"glyf", glyf}, {"head", head}, {"hhea", hhea}, {"hmtx", hmtx}, {"loca", loca}, {"maxp", maxp}}

	n := len(tables)
	out := binary.BigEndian.AppendUint32(nil, 0x00010000)
	for _, v := range []uint16{uint16(n), 64, 2, uint16(16*n - 64)} { // 4 is the greatest power of 2 in 6
		out = binary.BigEndian.AppendUint16(out, v)
	}
	at := 12 + 16*n
	for _, t := range tables {
		out = append(out, t.tag...)
		for _, v := range []int{int(checksum(t.data)), at, len(t.data)} {
			out = binary.BigEndian.AppendUint32(out, uint32(v))
		}
		at += (len(t.data) + 3) &^ 3
	}
	headAt := 0
	for _, t := range tables {
		if t.tag == "head" {
			headAt = len(out)
		}
		out = append(out, t.data...)
		for len(out)%4 != 0 {
			out = append(out, 0)
		}
	}
	binary.BigEndian.PutUint32(out[headAt+8:], 0xB1B0AFBA-checksum(out))
	return out
}

// bearing is the left side bearing of a glyph, as the two bytes of the font.
func (f *Face) bearing(g uint16) uint16 {
	written := int(binary.BigEndian.Uint16(f.tables["hhea"][34:]))
	hmtx := f.tables["hmtx"]
	if int(g) < written {
		return binary.BigEndian.Uint16(hmtx[4*int(g)+2:])
	}
	return binary.BigEndian.Uint16(hmtx[4*written+2*(int(g)-written):])
}

// checksum adds a table up as big-endian words, padded with zeros.
func checksum(b []byte) uint32 {
	var sum uint32
	for ; len(b) >= 4; b = b[4:] {
		sum += binary.BigEndian.Uint32(b)
	}
	var rest [4]byte
	copy(rest[:], b)
	return sum + binary.BigEndian.Uint32(rest[:])
}
