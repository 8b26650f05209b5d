package solution

import (
	"math"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/question"
	"steelyard/statics"
)

// A Pivot is the point that moments are taken about.
type Pivot struct {
	Name   string // "P", "the left end", "the point where the lines of X and Y cross"
	Full   string // a longer name for the first mention; "" if Name will do
	Body   int    // whose mark it is; statics.Ground for a point of the plane
	At     statics.Vec
	Mark   Spot
	Labour float64 // how unnatural a choice it is
}

// full is what the pivot is called where it is first mentioned.
func (p *Pivot) full() string {
	if p.Full != "" {
		return p.Full
	}
	return p.Name
}

// A Trig is the sine or cosine that takes a slant length to a perpendicular distance, or a force to its component.
type Trig struct {
	Func    string // "sin" or "cos"
	Angle   formula.Node
	Value   float64
	Unknown int // number of the angle, where it is unknown; −1 otherwise
}

func (t *Trig) node() formula.Node { return formula.Of(t.Func, t.Angle) }

func (t *Trig) value() float64 {
	if t == nil {
		return 1
	}
	return t.Value
}

// A Distance is the perpendicular distance from a pivot to a line of action, and how it is found.
type Distance struct {
	From, To *Spot       // the pivot's and the force's marks along one body; nil if it comes from the plan
	Slant    float64     // metres, along the body
	Plan     *[2]float64 // places of pivot and line of action across (or up), in metres from the first body's left end, where no body joins them
	Trig     *Trig       // to the perpendicular; nil for 1
	Unknown  int         // number of the place that it depends on; −1 if none
	Letter   string      // of an unknown distance
	Sum      bool        // its marks are added: they lie on either side of the scale's zero
}

// Metres is the perpendicular distance.
func (d Distance) Metres() float64 { return d.Slant * d.Trig.value() }

// mark writes a place on body b.
func (s *scene) mark(b *answer.Body, p question.Place, at statics.Vec) Spot {
	along := b.Distance(at)
	m := s.computedMark(b, along)
	m.OnAxis = onAxis(b, at)
	if p.At.Known() && p.Point == "" && p.XY == nil && p.At.Unit.Symbol == s.length(1).Unit {
		m.Scale = given(p.At)
		m.Zero = p.At.Value == 0
	}
	return m
}

func (s *scene) computedMark(b *answer.Body, along float64) Spot {
	z := b.FromZero(along)
	return Spot{Along: along, Scale: s.length(z), Zero: math.Abs(z) < 1e-12, OnAxis: true}
}

func (s *scene) centreMark(b *answer.Body) Spot {
	if b.Body.Centre.Set() {
		return s.mark(b, b.Body.Centre, b.Centre)
	}
	m := s.computedMark(b, b.Along)
	m.OnAxis = onAxis(b, b.Centre)
	return m
}

func onAxis(b *answer.Body, at statics.Vec) bool {
	off := (at.Y-b.Origin.Y)*b.Axis.X - (at.X-b.Origin.X)*b.Axis.Y
	return math.Abs(off) < 1e-9*(1+b.Length)
}

func cross(a, b statics.Vec) float64 { return a.X*b.Y - a.Y*b.X }

func dot(a, b statics.Vec) float64 { return a.X*b.X + a.Y*b.Y }

func sub(a, b statics.Vec) statics.Vec { return statics.Vec{X: a.X - b.X, Y: a.Y - b.Y} }

// arm is the perpendicular distance of a force from a pivot, and the sense in which a positive force turns
// about it; a sense of 0 says that its line of action passes through the pivot.
func (s *scene) arm(f *Force, p *Pivot) (Distance, int) {
	turn := cross(sub(f.At, p.At), f.Way)
	scale := 1e-10 * (1 + math.Abs(f.At.X) + math.Abs(f.At.Y) + math.Abs(p.At.X) + math.Abs(p.At.Y))
	none := Distance{Unknown: -1}
	if math.Abs(turn) < scale && f.Place < 0 {
		return none, 0
	}
	sense := 1
	if turn < 0 {
		sense = -1
	}
	b := &s.l.Bodies[f.On]
	d := none
	if f.By >= 0 && p.Body == f.By && p.Body != f.On && p.Mark.OnAxis && f.ByMark.OnAxis && f.Place < 0 {
		d.From, d.To = &p.Mark, &f.ByMark
		d.Slant = math.Abs(f.ByMark.Along - p.Mark.Along)
		d.Trig = s.trig(cross(s.l.Bodies[f.By].Axis, f.Way), f.By, f)
		return d, sense
	}
	if p.Body == f.On && p.Mark.OnAxis && f.Mark.OnAxis {
		d.From, d.To = &p.Mark, &f.Mark
		d.Slant = math.Abs(f.Mark.Along - p.Mark.Along)
		d.Trig = s.trig(cross(b.Axis, f.Way), f.On, f)
		if f.Place >= 0 {
			if math.Abs(cross(b.Axis, f.Way)) < 1e-12 {
				return none, 0
			}
			d.Unknown, d.Letter = f.Place, "d"
			if p.Mark.Zero && s.unknowns[f.Place].Value >= 0 {
				d.Letter = s.unknowns[f.Place].Letter
			}
		}
		return d, sense
	}
	if f.Place >= 0 {
		d.Unknown, d.Letter = f.Place, "d"
	}
	d.Slant = math.Abs(turn)
	zero := s.l.Bodies[0].Origin
	switch {
	case d.Unknown >= 0 || s.angleOf(f.On) >= 0:
	case math.Abs(f.Way.X) < 1e-12:
		d.Plan = &[2]float64{p.At.X - zero.X, f.At.X - zero.X}
	case math.Abs(f.Way.Y) < 1e-12:
		d.Plan = &[2]float64{p.At.Y - zero.Y, f.At.Y - zero.Y}
	}
	if k := s.angleOf(f.On); k >= 0 { // the plan depends on the angle
		d.Trig = &Trig{Func: "sin", Angle: s.unknowns[k].symbol(), Value: 1, Unknown: k}
	}
	return d, sense
}

// trig names the sine or cosine whose value is |c|, by an angle that the question gives where one fits.
func (s *scene) trig(c float64, body int, f *Force) *Trig {
	c = math.Abs(c)
	if k := s.angleOf(body); k >= 0 {
		theta := s.unknowns[k].Value
		t := &Trig{Func: "sin", Angle: s.unknowns[k].symbol(), Value: c, Unknown: k}
		if math.Abs(math.Cos(theta)-c) < 1e-12 && (f == nil || f.Way.X == 0) {
			t.Func = "cos"
		} else if math.Abs(c-1) < 1e-12 {
			return nil
		} else if f != nil && !plainForce(f) {
			// Neither level nor upright: the angle is that between the force and the body.
			t.Angle = decimal(math.Asin(c)*180/math.Pi, "°", 3)
		}
		return t
	}
	if math.Abs(c-1) < 1e-12 {
		return nil
	}
	if f != nil {
		for _, a := range f.Angles {
			if t := fits(a, c); t != nil {
				return t
			}
		}
	}
	if a := s.l.Bodies[body].Body.Angle; a.Known() {
		if t := fits(acute(given(a)), c); t != nil {
			return t
		}
	}
	for i := range s.l.Supports {
		if a := s.l.Supports[i].Support.Angle; a.Known() && s.l.Supports[i].On == body {
			if t := fits(given(a), c); t != nil {
				return t
			}
		}
	}
	return &Trig{Func: "sin", Angle: decimal(math.Asin(c)*180/math.Pi, "°", 3), Value: c, Unknown: -1}
}

// acute takes an angle beyond a right angle from 180°, and the sign off one below the horizontal.
func acute(angle formula.Node) formula.Node {
	if angle.Value < 0 {
		angle = absNode(angle)
	}
	if angle.Value <= math.Pi/2 {
		return angle
	}
	n := decimal(180-angle.Value*180/math.Pi, "°", 3)
	n.Value = math.Pi - angle.Value
	return n
}

func fits(angle formula.Node, c float64) *Trig {
	sin, cos := math.Sincos(angle.Value)
	switch {
	case math.Abs(sin-c) < 1e-12:
		return &Trig{Func: "sin", Angle: angle, Value: c, Unknown: -1}
	case math.Abs(cos-c) < 1e-12:
		return &Trig{Func: "cos", Angle: angle, Value: c, Unknown: -1}
	}
	return nil
}

// subtracted reports whether the distance is found by taking one mark from another.
func (d Distance) subtracted() bool {
	if d.Plan != nil {
		return math.Abs(d.Plan[0]) > 1e-12 && math.Abs(d.Plan[1]) > 1e-12
	}
	return d.Unknown < 0 && d.From != nil && !d.From.Zero && !d.To.Zero
}

// shown writes the distance as it is found: 4.20 m − 0.60 m. The larger mark comes first.
func (s *scene) shown(d Distance) formula.Node {
	if !d.subtracted() {
		return s.slant(d)
	}
	if d.Plan != nil {
		return formula.Add(s.metres(max(d.Plan[0], d.Plan[1])), formula.Minus(s.metres(min(d.Plan[0], d.Plan[1]))))
	}
	high, low := d.To.Scale, d.From.Scale
	if high.Value < low.Value {
		high, low = low, high
	}
	return formula.Add(high, formula.Minus(low))
}

// slant writes the distance along the body as one number, or its letter while it is unknown.
func (s *scene) slant(d Distance) formula.Node {
	if d.Unknown >= 0 {
		return s.distanceSymbol(d)
	}
	if d.From == nil && d.Slant != 0 {
		return s.metres(d.Slant)
	}
	if d.subtracted() {
		return s.metres(d.Slant)
	}
	if d.From != nil { // one of the two marks is the scale's zero
		m := d.To.Scale
		if d.To.Zero {
			m = d.From.Scale
		}
		if m.Unit == "m" {
			m.Text = trimMinus(m.Text)
			m.Value = math.Abs(m.Value)
			return m
		}
	}
	return s.metres(d.Slant)
}

func trimMinus(digits string) string {
	if rest := []rune(digits); len(rest) > 0 && rest[0] == '−' {
		return string(rest[1:])
	}
	return digits
}

func (s *scene) distanceSymbol(d Distance) formula.Node {
	u := &s.unknowns[d.Unknown]
	say := "the distance"
	if d.Letter != "d" {
		say = u.Words
	}
	value := d.Slant
	if value < 1e-12 {
		value = 0
	}
	return formula.Symbol(d.Letter, u.Sub, say, value)
}
