package question

import (
	"slices"

	"steelyard/quantity"
)

// Body returns the body of that name, or nil.
func (q *Question) Body(name string) *Body {
	for i := range q.Bodies {
		if q.Bodies[i].Name == name {
			return &q.Bodies[i]
		}
	}
	return nil
}

// Support returns the support, cable, strut or link of that name, or nil.
func (q *Question) Support(name string) *Support {
	for i := range q.Supports {
		if q.Supports[i].Name == name {
			return &q.Supports[i]
		}
	}
	return nil
}

// Load returns the load, force or couple of that name, or nil.
func (q *Question) Load(name string) *Load {
	for i := range q.Loads {
		if q.Loads[i].Name == name {
			return &q.Loads[i]
		}
	}
	return nil
}

// Point returns the named point of that name, or nil.
func (q *Question) Point(name string) *Point {
	for i := range q.Points {
		if q.Points[i].Name == name {
			return &q.Points[i]
		}
	}
	return nil
}

// Piece returns the piece of that name in any frame, or nil.
func (q *Question) Piece(name string) *Piece {
	for i := range q.Bodies {
		for j := range q.Bodies[i].Pieces {
			if q.Bodies[i].Pieces[j].Name == name {
				return &q.Bodies[i].Pieces[j]
			}
		}
	}
	return nil
}

// Part returns the part of that name, or nil.
func (q *Question) Part(name string) *Part {
	for i := range q.Parts {
		if q.Parts[i].Name == name {
			return &q.Parts[i]
		}
	}
	return nil
}

// attributes are the numbers of a thing that can vary or stand in a placeholder.
var attributes = []string{
	"length", "height", "weight", "mass", "angle", "centre", "marks", "at", "from", "to", "size",
	"coefficient", "reading", "width", "radius", "density",
}

// attributeNoun says an attribute in a sentence.
func attributeNoun(attribute string) string {
	switch attribute {
	case "at":
		return "place"
	case "from":
		return "start"
	case "to":
		return "end"
	case "centre":
		return "centre of mass"
	case "coefficient":
		return "coefficient of friction"
	case "marks":
		return "distance between marks"
	}
	return attribute
}

// dimensionsOf are what an attribute may be measured in; nil if there is no such attribute.
func dimensionsOf(attribute string) []quantity.Dimension {
	switch attribute {
	case "length", "height", "centre", "marks", "at", "from", "to", "width", "radius":
		return []quantity.Dimension{quantity.Length}
	case "weight", "reading":
		return []quantity.Dimension{quantity.Force}
	case "mass":
		return []quantity.Dimension{quantity.Mass}
	case "angle":
		return []quantity.Dimension{quantity.Angle}
	case "size":
		return []quantity.Dimension{quantity.Force, quantity.Moment, quantity.LineLoad, quantity.LineDensity}
	case "coefficient":
		return []quantity.Dimension{quantity.Number}
	case "density":
		return []quantity.Dimension{quantity.AreaDensity, quantity.LineDensity}
	}
	return nil
}

// Value returns a number of the arrangement by its thing and attribute: "K", "weight"; "plank",
// "length"; "Q", "at". It is nil if there is no such thing or it has no such number; its Status
// may be Absent. Changing it changes the question.
func (q *Question) Value(thing, attribute string) *Value {
	if b := q.Body(thing); b != nil {
		return b.value(attribute)
	}
	if s := q.Support(thing); s != nil {
		return s.value(attribute)
	}
	if l := q.Load(thing); l != nil {
		return l.value(attribute)
	}
	if c := q.Piece(thing); c != nil {
		return c.value(attribute)
	}
	if p := q.Point(thing); p != nil && attribute == "at" {
		return &p.Place.At
	}
	return nil
}

func (b *Body) value(attribute string) *Value {
	switch attribute {
	case "length":
		return &b.Length
	case "height":
		return &b.Height
	case "weight":
		return &b.Weight
	case "mass":
		return &b.Mass
	case "angle":
		return &b.Angle
	case "centre":
		return &b.Centre.At
	case "marks":
		return &b.Rule
	}
	return nil
}

func (s *Support) value(attribute string) *Value {
	switch attribute {
	case "at":
		return &s.On.At
	case "coefficient":
		return &s.Mu
	case "angle":
		if s.Direction != nil {
			return &s.Direction.Angle
		}
		return &s.Angle
	case "reading":
		return &s.Reading
	}
	return nil
}

func (l *Load) value(attribute string) *Value {
	switch attribute {
	case "weight":
		return &l.Weight
	case "mass":
		return &l.Mass
	case "size":
		return &l.Size
	case "at":
		if l.Kind != Spread {
			return &l.On.At
		}
	case "from":
		if l.Kind == Spread {
			return &l.On.At
		}
	case "to":
		return &l.To.At
	case "angle":
		if l.Direction != nil {
			return &l.Direction.Angle
		}
	}
	return nil
}

func (c *Piece) value(attribute string) *Value {
	switch attribute {
	case "mass":
		return &c.Mass
	case "weight":
		return &c.Weight
	case "density":
		return &c.Density
	case "width", "radius":
		return &c.Width
	case "height":
		return &c.Height
	}
	return nil
}

// Clone returns a copy that shares nothing with q, for changing its numbers.
func (q *Question) Clone() *Question {
	c := *q
	c.Text = slices.Clone(q.Text)
	c.Traps = slices.Clone(q.Traps)
	c.Bodies = slices.Clone(q.Bodies)
	for i := range c.Bodies {
		b := &c.Bodies[i]
		b.Pieces = slices.Clone(b.Pieces)
		b.At = cloned(b.At)
		b.Centre.XY = cloned(b.Centre.XY)
	}
	c.Points = slices.Clone(q.Points)
	for i := range c.Points {
		c.Points[i].Place.XY = cloned(c.Points[i].Place.XY)
	}
	c.Supports = slices.Clone(q.Supports)
	for i := range c.Supports {
		s := &c.Supports[i]
		s.On.XY, s.By.XY, s.To, s.Direction = cloned(s.On.XY), cloned(s.By.XY), cloned(s.To), cloned(s.Direction)
	}
	c.Loads = slices.Clone(q.Loads)
	for i := range c.Loads {
		l := &c.Loads[i]
		l.On.XY, l.To.XY, l.Direction = cloned(l.On.XY), cloned(l.To.XY), cloned(l.Direction)
	}
	c.Conditions = slices.Clone(q.Conditions)
	c.Parts = slices.Clone(q.Parts)
	for i := range c.Parts {
		c.Parts[i].Place.XY = cloned(c.Parts[i].Place.XY)
	}
	c.Vary = slices.Clone(q.Vary)
	c.lines = slices.Clone(q.lines)
	return &c
}

func cloned[T any](p *T) *T {
	if p == nil {
		return nil
	}
	c := *p
	return &c
}
