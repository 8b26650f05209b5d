package figure

import (
	"math"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/question"
	"steelyard/statics"
)

// pt is a point or a direction on the page, y down.
type pt = draw.Point

func add(p, q pt) pt              { return pt{X: p.X + q.X, Y: p.Y + q.Y} }
func sub(p, q pt) pt              { return pt{X: p.X - q.X, Y: p.Y - q.Y} }
func mul(k float64, p pt) pt      { return pt{X: k * p.X, Y: k * p.Y} }
func dot(p, q pt) float64         { return p.X*q.X + p.Y*q.Y }
func cross(p, q pt) float64       { return p.X*q.Y - p.Y*q.X }
func norm(p pt) float64           { return math.Hypot(p.X, p.Y) }
func along(p, d pt, k float64) pt { return pt{X: p.X + k*d.X, Y: p.Y + k*d.Y} }

// unit is p's direction; to the right for a point without one.
func unit(p pt) pt {
	n := norm(p)
	if !(n > 1e-12) || math.IsInf(n, 0) {
		return pt{X: 1}
	}
	return pt{X: p.X / n, Y: p.Y / n}
}

// left is d turned 90° anticlockwise as seen on the page.
func left(d pt) pt { return pt{X: d.Y, Y: -d.X} }

// page turns a direction of the plane (y up) into one of the page (y down).
func page(v statics.Vec) pt { return pt{X: v.X, Y: -v.Y} }

func sane(p pt) bool { return finite(p.X) && finite(p.Y) }

// A box is an upright rectangle on the page.
type box struct{ low, high pt }

func boxAt(centre pt, w, h float64) box {
	return box{pt{X: centre.X - w/2, Y: centre.Y - h/2}, pt{X: centre.X + w/2, Y: centre.Y + h/2}}
}

func (b box) centre() pt { return mul(0.5, add(b.low, b.high)) }

func (b box) grown(by float64) box {
	return box{pt{X: b.low.X - by, Y: b.low.Y - by}, pt{X: b.high.X + by, Y: b.high.Y + by}}
}

func (b box) overlaps(c box) bool {
	return b.low.X < c.high.X && c.low.X < b.high.X && b.low.Y < c.high.Y && c.low.Y < b.high.Y
}

// nearest is the point of the box nearest to p.
func (b box) nearest(p pt) pt {
	return pt{X: min(max(p.X, b.low.X), b.high.X), Y: min(max(p.Y, b.low.Y), b.high.Y)}
}

// A stroke is a straight piece of a line that labels keep off; the weight says how badly.
type stroke struct {
	a, b   pt
	weight float64
}

// meets reports whether the line crosses or touches the box.
func (s *stroke) meets(b box) bool {
	if max(s.a.X, s.b.X) < b.low.X || min(s.a.X, s.b.X) > b.high.X || max(s.a.Y, s.b.Y) < b.low.Y || min(s.a.Y, s.b.Y) > b.high.Y {
		return false
	}
	if s.a.X == s.b.X || s.a.Y == s.b.Y {
		return true
	}
	// It meets unless all four corners lie on one side of the line.
	d := sub(s.b, s.a)
	c1 := cross(d, sub(b.low, s.a))
	c2 := cross(d, sub(b.high, s.a))
	c3 := cross(d, sub(pt{X: b.low.X, Y: b.high.Y}, s.a))
	c4 := cross(d, sub(pt{X: b.high.X, Y: b.low.Y}, s.a))
	return !(c1 > 0 && c2 > 0 && c3 > 0 && c4 > 0 || c1 < 0 && c2 < 0 && c3 < 0 && c4 < 0)
}

// crosses reports whether two strokes cross.
func (s *stroke) crosses(k *stroke) bool {
	d, e := sub(s.b, s.a), sub(k.b, k.a)
	return cross(d, sub(k.a, s.a))*cross(d, sub(k.b, s.a)) < 0 && cross(e, sub(s.a, k.a))*cross(e, sub(s.b, k.a)) < 0
}

// corners are points of the plane that a body reaches to, in metres.
func corners(b *answer.Body) []statics.Vec {
	at := func(x, y float64) statics.Vec {
		return statics.Vec{X: b.Origin.X + x*b.Axis.X - y*b.Axis.Y, Y: b.Origin.Y + x*b.Axis.Y + y*b.Axis.X}
	}
	if b.Body == nil || b.Shape == question.Bar {
		return []statics.Vec{b.Origin, at(b.Length, 0)}
	}
	if b.Shape == question.Block {
		return []statics.Vec{b.Origin, at(b.Length, 0), at(b.Length, b.Height), at(0, b.Height)}
	}
	var out []statics.Vec
	for i := range b.Pieces {
		for _, c := range pieceCorners(&b.Pieces[i]) {
			out = append(out, at(c.X, c.Y))
		}
	}
	return out
}

// pieceCorners are the corners of a piece, or of the square round a disc, in the frame's axes.
func pieceCorners(p *question.Piece) []statics.Vec {
	v := func(q question.XY) statics.Vec { return statics.Vec{X: q.X.SI(), Y: q.Y.SI()} }
	f := v(p.From)
	w, h := p.Width.SI(), p.Height.SI()
	switch p.Kind {
	case question.RodPiece:
		return []statics.Vec{f, v(p.To)}
	case question.Rectangle:
		return []statics.Vec{f, {X: f.X + w, Y: f.Y}, {X: f.X + w, Y: f.Y + h}, {X: f.X, Y: f.Y + h}}
	case question.Triangle:
		return []statics.Vec{f, v(p.To), v(p.Third)}
	case question.Disc:
		return []statics.Vec{{X: f.X - w, Y: f.Y - w}, {X: f.X + w, Y: f.Y - w}, {X: f.X + w, Y: f.Y + w}, {X: f.X - w, Y: f.Y + w}}
	}
	return []statics.Vec{f}
}
