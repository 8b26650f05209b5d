package trial

import (
	"fmt"
	"net/url"
	"strings"

	"steelyard/draw"
	"steelyard/figure"
	"steelyard/solution"
	"steelyard/statics"
	"steelyard/trial"
)

// An aspect is what moments about one point say.
type aspect struct {
	trial.About
	SVG     string
	Scale   float64
	Origin  draw.Point
	Step    float64 // metres
	Buttons []step
}

// A step moves the point a little.
type step struct{ ID, Words, Key string }

// points takes moments about one point or two.
func (s *sight) points(q url.Values) {
	s.Points = trial.Places(s.Answers)
	first := q.Get("point")
	if first == "" && len(s.Points) > 0 {
		first = s.Points[0].Key
	}
	s.First = s.about(first, "first")
	if words := q.Get("second"); words != "" && s.First != nil {
		if s.Second = s.about(words, "second"); s.Second != nil {
			if pair, err := trial.Two(s.Answers, s.First.Place, s.Second.Place); err == nil && s.Answers.State != statics.NoEquilibrium {
				s.Pair = &pair
			}
		}
	}
}

// about takes moments about a point that is named in words; id tells its picture apart. It is nil where there is no such
// point, and the reader is told.
func (s *sight) about(words, id string) *aspect {
	p, err := trial.Find(s.Answers, words)
	if err != nil {
		s.fail(err)
		return nil
	}
	about, err := trial.Pivot(s.Answers, p)
	if err != nil {
		s.fail(err)
		return nil
	}
	x := &aspect{About: about}
	placed := p.Placed(s.Answers, figure.Options{Width: pictureWidth, TextSize: textSize, ID: id})
	x.SVG, x.Scale = string(draw.SVG(placed.Picture)), placed.Scale
	x.Origin = placed.At(s.Answers.Layout.BodyIndex(p.Body), statics.Vec{})
	x.steps()
	return x
}

// steps are buttons for a little to the left, right, up and down.
func (x *aspect) steps() {
	x.Step = 0.05
	for x.Step*x.Scale < 2 { // points
		x.Step *= 2
	}
	for _, d := range []struct {
		id, words string
		x, y      float64
	}{{"go-left", "left", -1, 0}, {"go-right", "right", 1, 0}, {"go-up", "up", 0, 1}, {"go-down", "down", 0, -1}} {
		at := x.Place.At
		key := fmt.Sprintf("%.3f, %.3f on %s", at.X+d.x*x.Step, at.Y+d.y*x.Step, x.Place.Body)
		x.Buttons = append(x.Buttons, step{d.id, d.words, key})
	}
}

// working is the equation and what follows from it. Its lines break, so that none has to be moved sideways on a phone.
func (x *aspect) working() string {
	var b strings.Builder
	for i := range x.Route.Steps {
		if say := x.Route.Steps[i].Say; len(say) > 0 {
			b.WriteString("<p>" + solution.SayHTML(say) + "</p>\n")
		}
		for _, l := range x.Route.Steps[i].Lines {
			b.WriteString(maths(l.Formula))
		}
	}
	return b.String()
}
