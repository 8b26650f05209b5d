package figure

import (
	"steelyard/answer"
	"steelyard/draw"
	"steelyard/statics"
)

// A Placed picture knows where the things of the plane are on it, so that they can be taken hold of.
type Placed struct {
	*draw.Picture
	Layout *answer.Layout // as it is drawn: what is unknown stands somewhere plausible
	Scale  float64        // points for a metre

	scene *scene
}

// Place draws as Draw does.
func Place(l *answer.Layout, o Options) Placed {
	p, s := compose(l, o)
	return Placed{Picture: p, Layout: s.l, Scale: s.scale, scene: s}
}

// At is where a point of the plane, in metres, is on the picture. Body is the number of the body that it belongs to,
// since bodies that lie on others are drawn clear of them; statics.Ground for none.
func (p *Placed) At(body int, v statics.Vec) draw.Point {
	return add(p.scene.on(body, v), p.scene.by)
}

// Clear reports whether a ring of radius r about a point of the picture touches no label.
func (p *Placed) Clear(at draw.Point, r float64) bool {
	for _, b := range p.scene.boxes {
		if norm(sub(b.nearest(at), at)) < r {
			return false
		}
	}
	return true
}
