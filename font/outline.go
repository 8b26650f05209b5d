package font

import (
	"fmt"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// An Op is what a segment of an outline does.
type Op uint8

const (
	Move  Op = iota // start a contour at To; the one before is closed
	Line            // straight to To
	Curve           // quadratic curve to To with control point C1
	Cubic           // cubic curve to To with control points C1 and C2
)

// A Point is a place in ems from the glyph's origin, y upwards.
type Point struct{ X, Y float64 }

// A Segment is a piece of a glyph's outline. Contours are closed and filled by the non-zero rule.
type Segment struct {
	Op         Op
	To, C1, C2 Point
}

// Outline returns the outline of a glyph in ems; none for a space. The result is shared: don't change it.
func (f *Face) Outline(glyph uint16) ([]Segment, error) {
	f.load()
	if had, ok := f.outlines.Load(glyph); ok {
		return had.([]Segment), nil
	}
	raw, err := f.parsed.LoadGlyph(nil, sfnt.GlyphIndex(glyph), fixed.I(int(f.em)), nil)
	if err != nil {
		return nil, fmt.Errorf("outline of glyph %d of %s: %w", glyph, f.name, err)
	}
	outline := make([]Segment, 0, len(raw))
	at := func(p fixed.Point26_6) Point {
		return Point{float64(p.X) / 64 / f.em, -float64(p.Y) / 64 / f.em}
	}
	for _, s := range raw {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			outline = append(outline, Segment{Op: Move, To: at(s.Args[0])})
		case sfnt.SegmentOpLineTo:
			outline = append(outline, Segment{Op: Line, To: at(s.Args[0])})
		case sfnt.SegmentOpQuadTo:
			outline = append(outline, Segment{Op: Curve, C1: at(s.Args[0]), To: at(s.Args[1])})
		case sfnt.SegmentOpCubeTo:
			outline = append(outline, Segment{Op: Cubic, C1: at(s.Args[0]), C2: at(s.Args[1]), To: at(s.Args[2])})
		}
	}
	f.outlines.Store(glyph, outline)
	return outline, nil
}
