// Package draw holds a picture as a list of marks, and writes it as SVG, as PNG and onto a PDF page.
//
// Lengths are in points (1/72 inch); x points right and y points DOWN, from the top left corner.
// Text is set in the embedded sans serif face, so that every writer measures it alike.
package draw

// A Picture is a finished drawing: its marks in the order in which they are painted.
type Picture struct {
	ID            string  // put before the ids of groups, where several pictures share a page; "" for none
	Width, Height float64 // points
	Title         string  // at most 250 characters: what kind of picture, and the gist
	Description   string  // long text from which the question can be solved without seeing the picture
	Marks         []Mark
}

// A Point is a place in the picture, in points.
type Point struct{ X, Y float64 }

// A Style is how a line or an area is painted.
type Style struct {
	Stroke Ink     // of the outline
	Width  float64 // of the outline, points; 0 draws none
	Dash   []float64
	Fill   Ink
	Round  bool // round caps and joins
}

// A Mark is one thing painted.
type Mark interface{ mark() }

// A Line is a polyline; Closed makes a polygon.
type Line struct {
	Points []Point
	Closed bool
	Style  Style
}

// An Arc is part of a circle, or the whole, from angle From to To in radians, counted from the
// right, clockwise on the page (y is down).
type Arc struct {
	Centre   Point
	Radius   float64
	From, To float64
	Style    Style
}

// A Text is one line of words, of pieces with subscripts and italics, its baseline at At.
type Text struct {
	At     Point
	Anchor Anchor
	Size   float64 // points
	Ink    Ink
	Runs   []Run
	Halo   bool // a thin paper-coloured edge, where it must cross a faint line
}

// A Run is a piece of text in one style.
type Run struct {
	Text   string
	Italic bool
	Bold   bool
	Sub    bool // set as a subscript
}

// An Anchor is the part of the text that stands at its point.
type Anchor uint8

const (
	Start Anchor = iota
	Centre
	Finish
)

// A Group gives a name and a role to marks that belong together (a force, a support, the body).
type Group struct {
	ID    string // stable, such as "force-P"
	Class string // such as "force", "dimension", "body"
	Title string // in words, for a screen reader; "" for decoration
	Marks []Mark
}

func (Line) mark()  {}
func (Arc) mark()   {}
func (Text) mark()  {}
func (Group) mark() {}
