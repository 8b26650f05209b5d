package answer

import (
	"math"

	"steelyard/question"
	"steelyard/statics"
)

// jointKind says which forces each kind of support exerts.
var jointKind = map[question.Kind]statics.Kind{
	question.Rest:   statics.Contact,
	question.Floor:  statics.Contact,
	question.Wall:   statics.Contact,
	question.Slope:  statics.Contact,
	question.Roller: statics.Contact,
	question.Pivot:  statics.Hinge,
	question.Hinge:  statics.Hinge,
	question.Clamp:  statics.Clamp,
	question.Strap:  statics.Rod,
	question.Spring: statics.Pull,
	question.Meter:  statics.Pull,
	question.Cable:  statics.Pull,
	question.Strut:  statics.Rod,
	question.Link:   statics.Rod,
}

// support lays one support out: where it acts, on what, and in which direction.
func (l *Layout) support(s *question.Support, f found) (Support, error) {
	out := Support{Support: s, On: l.BodyIndex(s.On.Body), By: l.BodyIndex(s.By.Body), Joint: -1}
	if out.On < 0 {
		return out, fault(s.Span, s.Name+" is on no body", "say which body it holds, such as: on plank at 0.60 m")
	}
	b := &l.Bodies[out.On]
	out.At = l.point(s.On, f.at, s.Name)
	if s.On.At.Status == question.Unknown && nan(out.At) {
		out.At = b.Origin // its place is found from the moment that is missing about here
	}
	switch {
	case s.Mu.Known():
		out.Mu = s.Mu.SI()
	case s.Mu.Status == question.Unknown:
		out.Mu = value(s.Mu, f.mu, s.Name)
	case s.Rough:
		out.Mu = math.Inf(1)
	}
	l.far(&out, b)
	n, err := l.normal(&out, b, f)
	out.Normal = n
	return out, err
}

// far finds the other end of a cable, strut or link, or the other corner of a face.
func (l *Layout) far(s *Support, b *Body) {
	switch {
	case s.To != nil:
		s.Far, s.HasFar = statics.Vec{X: s.To.X.SI(), Y: s.To.Y.SI()}, true
	case (s.Kind == question.Cable || s.Kind == question.Strut || s.Kind == question.Link) && s.Support.By.Set():
		s.Far, s.HasFar = l.Point(s.Support.By), true
	case IsFace(s.Support, b):
		s.Far, s.HasFar = b.at(b.Length, 0), true
	}
}

// IsFace reports whether a support is a flat surface under the whole base of a block.
func IsFace(s *question.Support, b *Body) bool {
	return b.Shape == question.Block && (s.Kind == question.Floor || s.Kind == question.Slope) && !s.On.Set()
}

// normal is the direction of the support's push or pull.
func (l *Layout) normal(s *Support, b *Body, f found) (statics.Vec, error) {
	if s.Direction != nil {
		return l.Direction(s.Direction)
	}
	toFar := func() (statics.Vec, error) {
		d := minus(s.Far, s.At)
		size := math.Hypot(d.X, d.Y)
		if size < 1e-9 {
			return d, fault(s.Span, s.Name+" goes to the very point that it starts from", "give it another point to go to")
		}
		if d.X == 0 || d.Y == 0 {
			return statics.Vec{X: sign(d.X), Y: sign(d.Y)}, nil
		}
		return times(1/size, d), nil
	}
	switch s.Kind {
	case question.Cable, question.Link:
		if s.HasFar {
			return toFar()
		}
		return statics.Vec{Y: 1}, nil
	case question.Strut:
		if s.HasFar {
			d, err := toFar()
			return times(-1, d), err
		}
		return statics.Vec{Y: 1}, nil
	case question.Wall:
		return l.awayFromWall(s, b)
	case question.Slope:
		return left(heading(value(s.Angle, f.angle, s.Name))), nil
	case question.Rest, question.Strap, question.Roller:
		return l.square(s, b)
	}
	return statics.Vec{Y: 1}, nil
}

// awayFromWall: a wall stands beyond the end that touches it, and pushes back towards the body.
func (l *Layout) awayFromWall(s *Support, b *Body) (statics.Vec, error) {
	middle := b.at(b.Length/2, b.Height/2)
	if !nan(b.Centre) && b.Length == 0 {
		middle = b.Centre
	}
	if d := middle.X - s.At.X; math.Abs(d) > 1e-9 {
		return statics.Vec{X: sign(d)}, nil
	}
	return statics.Vec{X: -1}, fault(s.Span, "it is not plain on which side of "+b.Name+" the wall "+s.Name+" stands", "say which way it pushes, such as: pushes left")
}

// square is the direction at right angles to the body, upwards (downwards for a rest that lies on top).
func (l *Layout) square(s *Support, b *Body) (statics.Vec, error) {
	if b.Shape == question.Frame {
		return statics.Vec{Y: up(s.Above)}, nil
	}
	n := left(b.Axis)
	switch {
	case math.IsNaN(n.X): // the body's angle is not known yet
	case math.Abs(n.Y) < 1e-12:
		return n, fault(s.Span, s.Name+" pushes at right angles to "+b.Name+", which is upright, so it is not plain which way",
			"say which way it pushes, such as: pushes left")
	case n.Y < 0:
		n = times(-1, n)
	}
	return times(up(s.Above), n), nil
}

func up(above bool) float64 {
	if above {
		return -1
	}
	return 1
}

func sign(v float64) float64 {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

// Direction is the unit vector of a direction as written.
func (l *Layout) Direction(d *question.Direction) (statics.Vec, error) {
	if d.Along != "" {
		b := l.BodyNamed(d.Along)
		if b == nil {
			return statics.Vec{}, fault(d.Span, "no body is called "+d.Along, "name one of the bodies")
		}
		return fromAxis(d, b.Axis), nil
	}
	base := Compass(d.Base)
	if !d.Angle.Known() {
		return base, nil
	}
	a := d.Angle.SI()
	side := Compass(d.Towards)
	if turn := heading(a); level(turn) { // 90° and the like stay exact
		return statics.Vec{X: base.X*turn.X + side.X*turn.Y, Y: base.Y*turn.X + side.Y*turn.Y}, nil
	}
	sin, cos := math.Sincos(a)
	return statics.Vec{X: base.X*cos + side.X*sin, Y: base.Y*cos + side.Y*sin}, nil
}

// fromAxis: "at right angles to arm" points to its upper side; "at 35 deg to arm" points back towards its left
// end, on the upper side; "along arm" to its right end. Reverse is the other side.
func fromAxis(d *question.Direction, axis statics.Vec) statics.Vec {
	normal := left(axis)
	if normal.Y < 0 {
		normal = times(-1, normal)
	}
	switch {
	case d.Across:
		if d.Reverse {
			return times(-1, normal)
		}
		return normal
	case d.Angle.Known():
		sin, cos := math.Sincos(d.Angle.SI())
		if d.Reverse {
			sin = -sin
		}
		return statics.Vec{X: -cos*axis.X + sin*normal.X, Y: -cos*axis.Y + sin*normal.Y}
	case d.Reverse:
		return times(-1, axis)
	}
	return axis
}

// Compass is the unit vector of a plain direction; right where none is given.
func Compass(c question.Compass) statics.Vec {
	switch c {
	case question.Up:
		return statics.Vec{Y: 1}
	case question.Down:
		return statics.Vec{Y: -1}
	case question.ToLeft:
		return statics.Vec{X: -1}
	}
	return statics.Vec{X: 1}
}
