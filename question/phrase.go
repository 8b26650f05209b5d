package question

import (
	"strings"

	"steelyard/quantity"
)

// the returns what the wording calls a body, with its article: "the footbridge".
func (b *Body) the() string { return "the " + b.noun() }

func (b *Body) noun() string {
	switch {
	case len(b.Name) == 1 && (b.Label == b.Name || b.Label == ""):
		return "body " + b.Name // a letter is no noun
	case b.Label == "":
		return plainNoun(b.Name)
	}
	return plainNoun(b.Label)
}

// plainNoun leaves out the article of a label, and reads left-leg as left leg.
func plainNoun(s string) string {
	for _, a := range [...]string{"the ", "The ", "a ", "A ", "an ", "An "} {
		if rest, ok := strings.CutPrefix(s, a); ok {
			return rest
		}
	}
	return strings.NewReplacer("_", " ", "-", " ").Replace(s)
}

// indefinite puts a or an before a noun, and nothing before a plural.
func indefinite(noun string) string {
	if plural(noun) || noun == "" {
		return noun
	}
	if strings.ContainsRune("aeioAEIO", rune(noun[0])) || strings.HasPrefix(noun, "u") && !strings.HasPrefix(noun, "un") && !strings.HasPrefix(noun, "us") ||
		strings.HasPrefix(noun, "under") || strings.HasPrefix(noun, "unknown") {
		return "an " + noun
	}
	return "a " + noun
}

// plural guesses whether a noun is a plural; of several words the one before a preposition counts: "heap of rucksacks" is one.
func plural(noun string) bool {
	for _, p := range [...]string{" of ", " with ", " on ", " in ", " for ", " from "} {
		noun, _, _ = strings.Cut(noun, p)
	}
	for _, e := range [...]string{"ss", "us", "is"} {
		if strings.HasSuffix(noun, e) {
			return false
		}
	}
	for _, w := range [...]string{"people", "children", "men", "women"} {
		if strings.HasSuffix(noun, w) {
			return true
		}
	}
	return strings.HasSuffix(noun, "s") && len(noun) > 1
}

// noun returns the common noun for a kind of support.
func (k Kind) noun() string {
	if k == Rest {
		return "support"
	}
	return k.String()
}

// the names a support: "the left sill P", "the support P".
func (s *Support) the() string {
	noun := s.Kind.noun()
	if s.Label != "" {
		noun = plainNoun(s.Label)
	}
	return "the " + noun + " " + s.Name
}

// a names a support for the first time: "a hinge H", "the left sill P".
func (s *Support) a() string {
	if s.Label != "" {
		return s.the()
	}
	return indefinite(s.Kind.noun()) + " " + s.Name
}

// the names a load: "the lock keeper", "the load K".
func (q *Question) theLoad(l *Load) string {
	switch {
	case l.Kind == Force:
		return "the force " + l.Name
	case l.Kind == Couple:
		return "the couple " + l.Name
	case l.Label == "":
		return "the load " + l.Name
	case q.sharedLabel(l):
		return "the " + plainNoun(l.Label) + " " + l.Name
	}
	return "the " + plainNoun(l.Label)
}

func (q *Question) aLoad(l *Load) string {
	noun := "load"
	if l.Label != "" {
		noun = plainNoun(l.Label)
	}
	if l.Label == "" || q.sharedLabel(l) {
		return indefinite(noun) + " " + l.Name
	}
	return indefinite(noun)
}

// sharedLabel reports whether another load has the same label.
func (q *Question) sharedLabel(l *Load) bool {
	for i := range q.Loads {
		if m := &q.Loads[i]; m != l && m.Label == l.Label {
			return true
		}
	}
	return false
}

// leans reports whether a bar stands with its left end as its foot.
func (b *Body) leans() bool {
	return b.Shape == Bar && (b.Angle.Status == Unknown || b.Angle.Known() && b.Angle.Value > 0)
}

// end names an end of a body: "left end", "foot", "upper end".
func (b *Body) end(e End) string {
	leaning, falling := b.leans(), b.Shape == Bar && b.Angle.Known() && b.Angle.Value < 0
	switch {
	case e == Left && falling:
		return "upper end"
	case e == Right && falling:
		return "lower end"
	case e == Middle:
		return "middle"
	case e == Left && leaning:
		return "foot"
	case e == Left:
		return "left end"
	case leaning:
		return "top"
	}
	return "right end"
}

// zero names the end from which places on a body are counted.
func (b *Body) zero() string {
	if b.ZeroRight {
		return b.end(Right)
	}
	return b.end(Left)
}

// where says where a place is: "0.60 m from its left end", "at the middle of the plank". Of is
// what the ends belong to: "its", or "" for "… of the plank".
func (q *Question) where(p Place, of string) string {
	b := q.Body(p.Body)
	if b == nil {
		return ""
	}
	own := func(end string) string {
		switch of {
		case "":
			return "the " + end + " of " + b.the()
		case "the":
			return "the " + end
		}
		return of + " " + end
	}
	switch {
	case p.Point != "":
		a := q.Point(p.Point)
		if a != nil && !a.Place.At.Known() && a.Place.XY == nil {
			return "at point " + p.Point + ", " + own(b.end(a.Place.End))
		}
		if a != nil && a.Place.Set() && a.Place.Point == "" {
			return "at point " + p.Point + ", " + q.where(a.Place, of)
		}
		return "at point " + p.Point
	case p.XY != nil && b.particle():
		return ""
	case p.XY != nil && b.Shape == Frame:
		return "at the point " + xyWords(*p.XY)
	case p.XY != nil && b.Shape == Block:
		return onBlock(p.XY, b, own)
	case p.XY != nil && p.XY.Y.Value == 0:
		return p.XY.X.Quantity.String() + " from " + own(b.end(Left))
	case p.XY != nil:
		side := " above the axis"
		if p.XY.Y.Value < 0 {
			side = " below the axis"
		}
		return "at a point " + p.XY.X.Quantity.String() + " from " + own(b.end(Left)) + " and " + strings.TrimPrefix(p.XY.Y.Quantity.String(), "-") + side
	case p.End != NoEnd:
		return "at " + own(b.end(p.End))
	case p.At.Status == Unknown && b.Rule.Known():
		return "at an unknown mark"
	case p.At.Status == Unknown:
		return "at an unknown distance from " + own(b.zero())
	case p.At.Known() && b.Rule.Known():
		return "at the " + p.At.Quantity.String() + " mark"
	case p.At.Known() && p.At.Value == 0:
		return "at " + own(b.zero())
	case p.At.Known():
		return p.At.Quantity.String() + " from " + own(b.zero())
	}
	return ""
}

// onBlock says where a point of a block is: on a side, or inside.
func onBlock(xy *XY, b *Body, own func(string) string) string {
	x, y := xy.X.SI(), xy.Y.SI()
	left, bottom := x == 0, y == 0
	right, top := b.Length.Known() && x == b.Length.SI(), b.Height.Known() && y == b.Height.SI()
	up, across := xy.Y.Quantity.String(), xy.X.Quantity.String()
	switch {
	case left && bottom:
		return "at " + own("lower left corner")
	case right && bottom:
		return "at " + own("lower right corner")
	case left && top:
		return "at " + own("upper left corner")
	case right && top:
		return "at " + own("upper right corner")
	case left:
		return "at " + own("left side") + ", " + up + " above its base"
	case right:
		return "at " + own("right side") + ", " + up + " above its base"
	case top:
		return "at " + own("top") + ", " + across + " from its left side"
	case bottom:
		return "at " + own("base") + ", " + across + " from its left side"
	}
	return across + " from " + own("left side") + " and " + up + " above its base"
}

func xyWords(xy XY) string {
	return "(" + xy.X.Quantity.String() + ", " + xy.Y.Quantity.String() + ")"
}

// way says in which direction a force acts: "vertically upwards", "at 35° above the horizontal,
// to the left".
func (q *Question) way(d *Direction) string {
	if d == nil {
		return ""
	}
	if b := q.Body(d.Along); b != nil {
		switch {
		case d.Across && d.Reverse:
			return "at right angles to " + b.the() + ", towards its lower side"
		case d.Across:
			return "at right angles to " + b.the() + ", towards its upper side"
		case d.Angle.Status == Absent && d.Reverse:
			return "along " + b.the() + " towards its " + b.end(Left)
		case d.Angle.Status == Absent:
			return "along " + b.the() + " towards its " + b.end(Right)
		case d.Reverse:
			return "at " + d.Angle.Quantity.String() + " to " + b.the() + ", below it and back towards its " + b.end(Left)
		}
		return "at " + d.Angle.Quantity.String() + " to " + b.the() + ", above it and back towards its " + b.end(Left)
	}
	side := map[Compass]string{ToLeft: "to the left", ToRight: "to the right", Up: "upwards", Down: "downwards"}
	angle := d.Angle.Quantity.String()
	switch {
	case d.Angle.Status == Absent && (d.Base == Up || d.Base == Down):
		return "vertically " + side[d.Base]
	case d.Angle.Status == Absent:
		return "horizontally " + side[d.Base]
	case d.Towards == Up:
		return side[d.Base] + " at " + angle + " above the horizontal"
	case d.Towards == Down:
		return side[d.Base] + " at " + angle + " below the horizontal"
	}
	return side[d.Base] + " at " + angle + " from the vertical, " + side[d.Towards]
}

// fixedPoint says where a point of the plane is, seen from the left end (or foot) of a body.
func (q *Question) fixedPoint(xy XY, b *Body) string {
	if b == nil || len(q.Bodies) > 1 && b.At == nil {
		return "the fixed point " + xyWords(xy)
	}
	x, y := xy.X, xy.Y
	if b.At != nil {
		x, y = minus(xy.X, b.At.X), minus(xy.Y, b.At.Y)
	}
	from := "its " + b.end(Left)
	if b.Shape == Frame {
		from = "the point (0 m, 0 m) of " + b.the()
	}
	across, up := "", ""
	switch v := x.SI(); {
	case v > 0:
		across = x.Quantity.String() + " to the right of"
	case v < 0:
		across = strings.TrimPrefix(x.Quantity.String(), "-") + " to the left of"
	}
	switch v := y.SI(); {
	case v > 0:
		up = y.Quantity.String() + " above"
	case v < 0:
		up = strings.TrimPrefix(y.Quantity.String(), "-") + " below"
	}
	switch {
	case across == "" && up == "":
		return "a fixed point at " + from
	case across == "":
		return "a fixed point " + strings.NewReplacer(" above", " vertically above", " below", " vertically below").Replace(up) + " " + from
	case up == "":
		return "a fixed point level with " + from + ", " + across + " it"
	}
	return "a fixed point " + across + " and " + up + " " + from
}

func minus(a, b Value) Value {
	d := max(a.Decimals, b.In(a.Unit).Decimals)
	q := quantity.Of(a.SI()-b.SI(), a.Unit)
	q.Digits = quantity.RoundDecimals(q.Value, d)
	return Value{Quantity: q, Status: Given}
}

// counted says a small number in words.
func counted(n int) string {
	if n < 13 {
		return [...]string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}[n]
	}
	return "many"
}

// capital makes the first letter of a sentence a capital.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
