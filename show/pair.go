package show

import (
	"steelyard/answer"
	"steelyard/draw"
	"steelyard/figure"
	"steelyard/statics"
)

// A pair is a force drawn on an arrangement: that of a body on what holds it, or a resultant.
type pair struct {
	letter string // of its symbol; "F" if empty, with the support's name
	body   int
	at     statics.Vec
	way    draw.Point // on the page, length 1
}

// arrow draws the force, in the ink of forces that were found, its tip away from the body.
func (f pair) arrow(from draw.Point, support string, o figure.Options) draw.Group {
	size := o.TextSize
	if !(size > 0) {
		size = 10
	}
	along := func(p draw.Point, by float64) draw.Point {
		return draw.Point{X: p.X + by*f.way.X, Y: p.Y + by*f.way.Y}
	}
	across := func(p draw.Point, by float64) draw.Point {
		return draw.Point{X: p.X + by*f.way.Y, Y: p.Y - by*f.way.X}
	}
	head := 9.5
	tip := along(from, 34+2*size)
	neck := along(tip, -head)
	runs := []draw.Run{{Text: "F", Italic: !o.Upright}, {Text: support, Sub: true}}
	title := "force on " + support
	if f.letter != "" {
		runs, title = []draw.Run{{Text: f.letter, Italic: !o.Upright}}, "the resultant"
	}
	text := draw.Text{At: along(tip, 0.4*size), Anchor: draw.Centre, Size: size, Ink: draw.Black, Halo: true, Runs: runs}
	switch {
	case f.way.Y > 0.5:
		text.At.Y += 0.8 * size
	case f.way.Y > -0.5:
		text.At.Y += 0.3 * size
		text.At.X += 0.2 * size * f.way.X
		text.Anchor = draw.Start
		if f.way.X < 0 {
			text.Anchor = draw.Finish
		}
	}
	ink := draw.Second
	return draw.Group{ID: "pair-" + support, Class: "force", Title: title, Marks: []draw.Mark{
		draw.Line{Points: []draw.Point{from, along(neck, 0.3*head)}, Style: draw.Style{Stroke: ink, Width: 1.7}},
		draw.Line{Points: []draw.Point{tip, across(neck, 0.18*head), across(neck, -0.18*head)}, Closed: true, Style: draw.Style{Fill: ink}},
		draw.Arc{Centre: from, Radius: 1.5, To: 2 * 3.141592653589793, Style: draw.Style{Fill: ink}}, text,
	}}
}

// points says which way the force points.
func (f pair) points() string { return answer.Direction(f.way.X, -f.way.Y, 3) }
