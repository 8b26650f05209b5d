package answer

import (
	"math"

	"steelyard/question"
	"steelyard/statics"
)

// shape works out a body's axis, size, weight and centre of mass, with its origin at (0, 0).
func shape(q *question.Question, b *question.Body, g float64, f found) Body {
	body := Body{Body: b, Axis: statics.Vec{X: 1}}
	if b.Length.Known() {
		body.Length = b.Length.SI()
	}
	if b.Height.Known() {
		body.Height = b.Height.SI()
	}
	switch {
	case b.Angle.Status != question.Absent:
		body.Axis = heading(value(b.Angle, f.angle, b.Name))
	default:
		// A block that stands on a slope lies along it.
		for i := range q.Supports {
			s := &q.Supports[i]
			if s.Kind == question.Slope && s.On.Body == b.Name && b.Shape == question.Block {
				body.Axis = heading(value(s.Angle, f.angle, s.Name))
			}
		}
	}
	weight(&body, g, f)
	centre(q, &body, f)
	return body
}

// weight fills in the body's weight in newtons: given, from its mass, or from its pieces.
func weight(body *Body, g float64, f found) {
	b := body.Body
	switch {
	case b.Light:
		body.Weight = 0
	case b.Weight.Status != question.Absent:
		body.Weight = value(b.Weight, f.weight, b.Name)
	case b.Mass.Known():
		body.Weight = tidy(b.Mass.SI() * g)
	case b.Mass.Status == question.Unknown:
		body.Weight = value(b.Mass, f.weight, b.Name)
		if w, ok := f.weight[b.Name]; ok {
			body.Weight = w
		}
	case len(b.Pieces) > 0:
		m, _, _ := Pieces(b, g)
		body.Weight = tidy(m * g)
	}
}

// centre fills in how far along the axis and how far above it the weight acts, from the left end.
func centre(q *question.Question, body *Body, f found) {
	b := body.Body
	switch {
	case b.Centre.Set() && b.Centre.At.Status == question.Unknown:
		body.Along = math.NaN()
		if s, ok := f.centre[b.Name]; ok {
			body.Along = s
		}
	case b.Centre.Set():
		body.Along, body.above = along(q, b, b.Centre, nil, "")
	case len(b.Pieces) > 0:
		_, body.Along, body.above = Pieces(b, 1)
	case b.Shape == question.Block:
		body.Along, body.above = body.Length/2, body.Height/2
	default:
		body.Along = tidy(body.Length / 2)
	}
}

// finish puts the centre of mass in the plane once the origin is known.
func (b *Body) finish() { b.Centre = b.at(b.Along, b.above) }

// A PieceMass is a piece of a frame with its mass and its own centre of mass in the frame's axes.
type PieceMass struct {
	*question.Piece
	Mass float64 // kg; negative for a hole. Relative (a length or an area) where the frame gives no masses
	X, Y float64 // m
}

// PieceMasses returns the pieces of a frame. A piece with a mass or weight of its own has that;
// else its density, or 1 if none is given, times its length or area. g is in N/kg.
func PieceMasses(b *question.Body, g float64) []PieceMass {
	pieces := make([]PieceMass, len(b.Pieces))
	sized := 0.0 // the sum of lengths or areas of pieces that share the frame's own mass
	for i := range b.Pieces {
		p := &b.Pieces[i]
		size, x, y := measure(p)
		m := size
		switch {
		case p.Mass.Known():
			m = p.Mass.SI()
		case p.Weight.Known():
			m = p.Weight.SI() / g
		case p.Density.Known():
			m = size * p.Density.SI()
		default:
			if p.Hole {
				size = -size
			}
			sized += size
		}
		if p.Hole {
			m = -m
		}
		pieces[i] = PieceMass{p, m, x, y}
	}
	// The frame's own mass is shared out by length or area.
	if total := frameMass(b, g); total > 0 && sized > 0 {
		for i := range pieces {
			if p := pieces[i].Piece; !p.Mass.Known() && !p.Weight.Known() && !p.Density.Known() {
				pieces[i].Mass *= total / sized
			}
		}
	}
	return pieces
}

func frameMass(b *question.Body, g float64) float64 {
	switch {
	case b.Mass.Known():
		return b.Mass.SI()
	case b.Weight.Known():
		return b.Weight.SI() / g
	}
	return 0
}

// Pieces returns the mass of a frame in kg, or the sum of lengths or areas where it gives no
// masses, and its centre of mass in its own axes, in metres: sum of m x over sum of m.
func Pieces(b *question.Body, g float64) (mass, x, y float64) {
	for _, p := range PieceMasses(b, g) {
		mass += p.Mass
		x += p.Mass * p.X
		y += p.Mass * p.Y
	}
	return tidy(mass), tidy(x / mass), tidy(y / mass)
}

// measure returns the length or area of a piece and its centre.
//
// Source: centroids of a triangle and of a disc, OpenStax University Physics vol. 1, §9.6 (from memory).
func measure(p *question.Piece) (size, x, y float64) {
	at := func(q question.XY) (float64, float64) { return q.X.SI(), q.Y.SI() }
	x0, y0 := at(p.From)
	switch p.Kind {
	case question.RodPiece:
		x1, y1 := at(p.To)
		return math.Hypot(x1-x0, y1-y0), (x0 + x1) / 2, (y0 + y1) / 2
	case question.Rectangle:
		w, h := p.Width.SI(), p.Height.SI()
		return w * h, x0 + w/2, y0 + h/2
	case question.Triangle:
		x1, y1 := at(p.To)
		x2, y2 := at(p.Third)
		return math.Abs((x1-x0)*(y2-y0)-(x2-x0)*(y1-y0)) / 2, (x0 + x1 + x2) / 3, (y0 + y1 + y2) / 3
	case question.Disc:
		r := p.Width.SI()
		return math.Pi * r * r, x0, y0
	}
	return 1, x0, y0
}

// putBodies finds where each body is: where the question says, the first at the origin, and others
// where a joint with a body already placed puts them.
func (l *Layout) putBodies(f found) error {
	q := l.Question
	placed := make([]bool, len(l.Bodies))
	for i := range l.Bodies {
		if at := l.Bodies[i].Body.At; at != nil {
			l.Bodies[i].Origin = statics.Vec{X: at.X.SI(), Y: at.Y.SI()}
			placed[i] = true
		}
	}
	if len(placed) > 0 && !anyOf(placed) {
		placed[0] = true
	}
	for again := true; again; {
		again = false
		for i := range q.Supports {
			s := &q.Supports[i]
			on, by := l.BodyIndex(s.On.Body), l.BodyIndex(s.By.Body)
			if by < 0 || on < 0 || placed[on] == placed[by] || s.Kind == question.Cable || s.Kind == question.Strut || s.Kind == question.Link {
				continue
			}
			known, unknown, kp, up := on, by, s.On, s.By
			if placed[by] {
				known, unknown, kp, up = by, on, s.By, s.On
			}
			target := l.point(kp, f.at, s.Name)
			here := l.point(up, f.at, s.Name) // with its origin still at (0, 0)
			if nan(target) || nan(here) {
				target, here = l.Bodies[known].Origin, statics.Vec{}
			}
			d := minus(target, here)
			if level(l.Bodies[unknown].Axis) && level(l.Bodies[known].Axis) {
				d = statics.Vec{X: tidy(d.X), Y: tidy(d.Y)}
			}
			l.Bodies[unknown].Origin = d
			placed[unknown] = true
			again = true
		}
	}
	for i := range placed {
		if !placed[i] {
			return fault(l.Bodies[i].Span, "nothing says where "+l.Bodies[i].Name+" is",
				"place it, such as: placed at (1.20 m, 0 m); or join it to another body with a hinge or a rest")
		}
	}
	return l.jointsMeet()
}

// jointsMeet checks that the two points that a hinge or clamp joins are the same place.
func (l *Layout) jointsMeet() error {
	for i := range l.Question.Supports {
		s := &l.Question.Supports[i]
		if s.By.Body == "" || (s.Kind != question.Hinge && s.Kind != question.Pivot && s.Kind != question.Clamp) {
			continue
		}
		a, b := l.Point(s.On), l.Point(s.By)
		if nan(a) || nan(b) {
			continue
		}
		if gap := math.Hypot(a.X-b.X, a.Y-b.Y); gap > 0.005*(1+math.Hypot(a.X, a.Y)) {
			return fault(s.Span, s.Name+" joins two points that are "+plain(gap, "m")+" apart",
				"change where the two bodies are placed, or their angles, so that the points meet")
		}
	}
	return nil
}

func anyOf(bs []bool) bool {
	for _, b := range bs {
		if b {
			return true
		}
	}
	return false
}
