package workbench

import (
	"steelyard/quantity"
	"steelyard/question"
)

// thingName is what a thing is called in messages and as the name of its handle: "support P", "lock keeper K".
func thingName(q *question.Question, name string) string {
	switch {
	case name == "":
		return "the question"
	case q.Body(name) != nil:
		if b := q.Body(name); b.Label != "" && b.Label != b.Name {
			return b.Label
		}
		return name
	case q.Support(name) != nil:
		s := q.Support(name)
		if s.Label != "" {
			return s.Label + " " + name
		}
		return s.Kind.String() + " " + name
	case q.Load(name) != nil:
		l := q.Load(name)
		if l.Label != "" {
			return l.Label + " " + name
		}
		return map[question.LoadKind]string{question.Force: "force ", question.Couple: "couple "}[l.Kind] + map[bool]string{true: "load "}[l.Kind == question.Weight || l.Kind == question.Spread] + name
	case q.Point(name) != nil:
		return "point " + name
	case q.Piece(name) != nil:
		return "piece " + name
	}
	return name
}

// whatName says which of a thing's numbers a handle is: "right end".
func whatName(what string) string {
	switch what {
	case "length":
		return "right end"
	case "height":
		return "height"
	case "from":
		return "start"
	case "to":
		return "end"
	case "far":
		return "other end"
	case "centre":
		return "centre of mass"
	case "placed":
		return "where it is placed"
	}
	return ""
}

// label is the name of a handle.
func (g grip) label(q *question.Question) string {
	n := thingName(q, g.thing)
	if g.of != "" {
		n += ", of " + thingName(q, g.of)
	}
	if w := whatName(g.what); w != "" {
		n += ", " + w
	}
	return n
}

// says is where a handle is, in words.
func (g grip) says(q *question.Question) string {
	words := func(v *question.Value, si float64) string {
		if v != nil && v.Known() {
			return v.Quantity.Words()
		}
		u, n := lengthUnit(q, g.body)
		return quantity.Words(quantity.RoundDecimals(quantity.Of(si, u).Value, n), u)
	}
	switch g.way {
	case still:
		return "its place is not given"
	case onBody, inPlane:
		return words(g.x, g.now) + " across, " + words(g.y, g.up) + " up"
	case across:
		return words(g.x, g.now) + " high"
	}
	if g.what == "length" {
		return words(g.x, g.now) + " long"
	}
	b := q.Body(g.body)
	end := "left end"
	switch {
	case b != nil && b.ZeroRight:
		end = "right end"
	case b != nil && b.Shape == question.Bar && b.Angle.Known() && b.Angle.Value > 0:
		end = "foot"
	}
	return words(g.x, g.now) + " from the " + end + " of " + g.body
}
