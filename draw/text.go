package draw

import "steelyard/font"

// A subscript is set smaller and lower, as parts of the size of its text.
const (
	SubSize = 0.7
	SubDrop = 0.22
)

// A Piece is a stretch of a text in one face and size, where every writer sets it.
type Piece struct {
	At   Point // of its baseline's left end
	Face *font.Face
	Size float64
	Text string
}

// face is the face of a run.
func (r Run) face() *font.Face {
	switch {
	case r.Bold:
		return font.SansBold
	case r.Italic:
		return font.SansItalic
	}
	return font.Sans
}

// size is the size of a run in a text of a size.
func (r Run) size(size float64) float64 {
	if r.Sub {
		return SubSize * size
	}
	return size
}

// RunsWidth is the width of runs set in a line at a size, in points.
func RunsWidth(runs []Run, size float64) float64 {
	width := 0.0
	for _, r := range runs {
		width += r.face().Width(r.Text, r.size(size))
	}
	return width
}

// Width is the width of the text, in points.
func (t Text) Width() float64 { return RunsWidth(t.Runs, t.Size) }

// left is where the text begins.
func (t Text) left() float64 {
	switch t.Anchor {
	case Centre:
		return t.At.X - t.Width()/2
	case Finish:
		return t.At.X - t.Width()
	}
	return t.At.X
}

// Pieces splits the text by face and size and places each piece, its anchor taken into account.
func (t Text) Pieces() []Piece {
	var pieces []Piece
	x := t.left()
	for _, r := range t.Runs {
		y, size := t.At.Y, r.size(t.Size)
		if r.Sub {
			y += SubDrop * t.Size
		}
		for _, run := range r.face().Runs(r.Text) {
			pieces = append(pieces, Piece{Point{x, y}, run.Face, size, run.Text})
			x += run.Face.Width(run.Text, size)
		}
	}
	return pieces
}

// String is the text without its styles.
func (t Text) String() string {
	s := ""
	for _, r := range t.Runs {
		s += r.Text
	}
	return s
}
