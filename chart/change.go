package chart

import (
	"fmt"
	"strings"

	"steelyard/draw"
)

// A Step is a pupil's share of the marks last time and now, from 0 to 1.
type Step struct {
	Name        string
	Before, Now float64
}

// Change shows for each pupil the share of marks last time, as a ring, and now, as a disc, with a line between.
func Change(steps []Step, o Options) *draw.Picture {
	p := newPage(o, "Change since last time, as shares of the marks")
	size := p.TextSize
	name := 0.0
	for _, s := range steps {
		name = max(name, p.width(s.Name))
	}
	name = min(name+1.2*size, 0.42*p.Width)
	right := p.Width - p.width("100 %") - size
	at := func(v float64) float64 { return name + (right-name)*clamp(v, 0, 1) }
	pitch, radius, top := 1.55*size, 0.4*size, 3.9*size
	p.disc(radius+1, 0.9*size, radius, open)
	p.text(2*radius+0.6*size, 1.26*size, draw.Start, "last time")
	x := 2*radius + 2*size + p.width("last time")
	p.disc(x, 0.9*size, radius, draw.Style{Stroke: draw.Black, Width: 0.8, Fill: draw.Black})
	p.text(x+radius+0.4*size, 1.26*size, draw.Start, "now")
	bottom := top + pitch*float64(len(steps))
	for _, v := range []float64{0, 0.5, 1} {
		p.line(at(v), top, at(v), bottom, faint)
		p.text(at(v), top-0.5*size, draw.Centre, percent(v))
	}
	var words []string
	for i, s := range steps {
		y := top + pitch*(float64(i)+0.5)
		p.text(0, y+0.36*size, draw.Start, p.short(s.Name, name-size))
		p.line(at(s.Before), y, at(s.Now), y, draw.Style{Stroke: draw.Black, Width: 1.2})
		p.disc(at(s.Before), y, radius, open)
		p.disc(at(s.Now), y, radius, draw.Style{Stroke: draw.Black, Width: 0.8, Fill: draw.Black})
		p.text(p.Width, y+0.36*size, draw.Finish, points(s.Now-s.Before))
		words = append(words, fmt.Sprintf("%s from %s to %s", s.Name, percent(s.Before), percent(s.Now)))
	}
	if len(words) == 0 {
		words = []string{"Nobody has marks from both times"}
	}
	return p.finish(bottom+0.4*size, strings.Join(words, "; ")+".")
}

// points writes a difference of shares: "+20", "−5", "0".
func points(v float64) string {
	s := fmt.Sprintf("%+.0f", 100*v)
	if s == "+0" || s == "-0" {
		return "0"
	}
	return strings.Replace(s, "-", "−", 1)
}
