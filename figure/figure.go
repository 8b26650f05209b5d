package figure

import (
	"math"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/statics"
)

// A View is a kind of picture.
type View uint8

const (
	Sketch View = iota // what the pupil is given: bodies, supports and loads as things
	Forces             // one body alone, and every force on it
	Moment             // the same about a pivot: lines of action, perpendicular distances, senses
)

// Lengths says how long force arrows are.
type Lengths uint8

const (
	Ordered Lengths = iota // in order of size, giving no answer away
	Scaled                 // in proportion, but never too short to be seen
	Equal                  // all alike
)

// Options say what to draw. The zero Options draw a sketch for a page in 10 point text.
type Options struct {
	View          View
	Body          string         // of Forces and Moment: the body drawn; "" is the first
	Forces        []answer.Force // forces found: arrows point as they do, and carry their size
	Pivot         statics.Vec    // of Moment, in metres in the plane
	PivotName     string         // such as "P"
	Width         float64        // points; 0 is 400. The picture is wider only where a label needs it
	TextSize      float64        // points; 0 is 10
	Upright       bool           // symbols upright, as in large print
	Lengths       Lengths
	HideDistances bool   // no dimension lines
	HideValues    bool   // of Forces and Moment: forces carry their symbols only
	ID            string // see draw.Picture

	// Scale is in points for a metre; 0 is the largest that fits the width. While something is dragged over the
	// picture it stays what it was, so that the picture holds still under the hand, whatever width comes of it.
	Scale float64

	Together bool   // of Forces and Moment: all bodies are drawn as one, with the forces from outside
	Stage    *Stage // of Forces and Moment: what is shown so far; nil shows everything
}

// largePrint is the text size from which lines are thickened too.
const largePrint = 16

func (o Options) withDefaults() Options {
	if !(o.Width > 0) {
		o.Width = 400
	}
	if !(o.TextSize > 0) {
		o.TextSize = 10
	}
	o.Width = min(max(o.Width, 120), 4000)
	o.TextSize = min(max(o.TextSize, 5), 72)
	return o
}

// Draw draws a layout, which it leaves as it is. Where a place or an angle is unknown, a sketch
// shows it somewhere else than the answer and says that it is not to scale.
func Draw(l *answer.Layout, o Options) *draw.Picture {
	p, _ := compose(l, o)
	return p
}

// compose draws until the picture is about as wide as asked for, and returns the scene as well.
func compose(l *answer.Layout, o Options) (*draw.Picture, *scene) {
	o = o.withDefaults()
	if l == nil || l.Question == nil {
		return &draw.Picture{ID: o.ID, Width: 1, Height: 1, Title: "Nothing to draw"}, newScene(&answer.Layout{}, o, 1)
	}
	drawn, guessed := l, false
	if o.View == Sketch {
		drawn, guessed = standIn(l)
	}
	w, h := extent(drawn, o)
	var s *scene
	if o.Scale > 0 {
		s = newScene(drawn, o, o.Scale)
		s.guessed = guessed
		s.paint()
	}
	for crowding := range crowdings {
		if o.Scale > 0 {
			break
		}
		if crowding == byLetters && s.over() <= 0.5 && s.scale*max(w, h) > 0.2*o.Width {
			break // letters are looked up: for real need only
		}
		t := fit(drawn, o, crowding, w, h, guessed)
		if s == nil || t.better(s) {
			s = t
		}
		if s.over() <= 0.5 && s.scale*max(w, h) > 0.27*o.Width || w == 0 && h == 0 {
			break
		}
	}
	p := s.picture()
	p.ID = o.ID
	p.Title, p.Description = describe(l, o)
	return p, s
}

// crowdings is the number of ways to save room, tried in order where a picture has too little: names
// beside slanting bars come first; lengths come first; then bodies carry their weights only; at last
// lengths go by letters, with a key below, or are left out where forces are the matter.
const crowdings = 4

// Kinds of crowding.
const (
	weightsOnly = 2
	byLetters   = 3
)

// fit draws at the largest scale at which the picture is no wider than asked for.
func fit(l *answer.Layout, o Options, crowding int, w, h float64, guessed bool) *scene {
	try := func(scale float64) *scene {
		s := newScene(l, o, scale)
		s.guessed, s.crowding = guessed, crowding
		s.paint()
		return s
	}
	scale := firstScale(o, w, h)
	tallest := firstScale(o, 0, h)
	least := 0.0 // the smallest scale worth having
	if most := max(w, h); most > 0 {
		least = min(minDrawn/most, scale)
	}
	var s, fits *scene
	tooWide := 1e9
	for range 9 {
		if s = try(scale); s.over() > 0.5 {
			if tooWide = scale; w == 0 || scale <= least {
				break
			}
			scale = max(min(scale-1.02*s.over()/w, 0.97*scale), least, 0.4*scale)
		} else {
			if fits = s; s.over() > -0.1*o.Width || w == 0 || scale > 0.98*tallest {
				break
			}
			scale = min(scale-0.9*s.over()/w, tallest, (scale+tooWide)/2)
		}
		if fits != nil && scale < 1.03*fits.scale {
			break
		}
	}
	if fits != nil {
		return fits
	}
	return s
}

// over is by how much the picture is wider than asked for, in points.
func (s *scene) over() float64 { return s.high.X - s.low.X + 2*margin - s.o.Width }

// better reports whether s shows more than t: it fits and t doesn't, or its bodies are larger.
func (s *scene) better(t *scene) bool {
	if a, b := s.over() <= 0.5, t.over() <= 0.5; a != b {
		return a
	}
	if s.over() > 0.5 {
		return s.over() < t.over()-1
	}
	return s.scale > 1.15*t.scale
}

// margin is the space kept free round the picture, in points.
const margin = 4

// minDrawn is the least size of the bodies on the page; below it the picture grows instead.
const minDrawn = 110

// firstScale is the scale, in points for a metre, at which bodies w by h metres fit with room for symbols and labels.
func firstScale(o Options, w, h float64) float64 {
	scale := math.Inf(1)
	if w > 0 {
		scale = max(o.Width-5*o.TextSize-2*margin, 0.5*o.Width) / w
	}
	if h > 0 {
		scale = min(scale, max(0.46*o.Width, 130)/h)
	}
	if math.IsInf(scale, 1) {
		return 100
	}
	return scale
}

// extent is the width and height, in metres, of what is drawn to scale.
func extent(l *answer.Layout, o Options) (w, h float64) {
	low, high := statics.Vec{X: math.Inf(1), Y: math.Inf(1)}, statics.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	add := func(v statics.Vec) {
		if finite(v.X) && finite(v.Y) {
			low = statics.Vec{X: min(low.X, v.X), Y: min(low.Y, v.Y)}
			high = statics.Vec{X: max(high.X, v.X), Y: max(high.Y, v.Y)}
		}
	}
	chosen := bodyNumber(l, o)
	for i := range l.Bodies {
		if o.View != Sketch && i != chosen && !o.Together {
			continue
		}
		for _, c := range corners(&l.Bodies[i]) {
			add(c)
		}
	}
	for i := range l.Supports {
		if s := &l.Supports[i]; s.HasFar && o.View == Sketch {
			add(s.Far)
		}
	}
	if o.View == Moment {
		add(o.Pivot)
	}
	if w, h = high.X-low.X, high.Y-low.Y; !(w >= 0) {
		return 0, 0
	}
	return w, h
}

// bodyNumber is the body that a force diagram shows.
func bodyNumber(l *answer.Layout, o Options) int {
	for i := range l.Bodies {
		if l.Bodies[i].Body != nil && l.Bodies[i].Name == o.Body {
			return i
		}
	}
	return 0
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
