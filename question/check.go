package question

import (
	"math"
	"strconv"
	"strings"

	"steelyard/quantity"
)

// check finds what no single line shows: names that nothing has, places beyond the end, numbers
// that are missing or given twice.
func (p *parser) check() {
	q := p.q
	p.things = q.things()
	p.twice()
	if len(q.Bodies) == 0 && len(p.faults) == 0 {
		p.faultEnd("there is no body", "add a line such as body plank: uniform, length 4.80 m, weight 310 N")
	}
	for i := range q.Bodies {
		p.checkBody(&q.Bodies[i])
	}
	p.lowerEnds()
	for i := range q.Points {
		p.checkPoint(&q.Points[i])
	}
	p.farEnds()
	for i := range q.Supports {
		p.checkSupport(&q.Supports[i])
	}
	for i := range q.Loads {
		p.checkLoad(&q.Loads[i])
	}
	for i := range q.Conditions {
		p.checkCondition(&q.Conditions[i])
	}
	for i := range q.Parts {
		p.checkPart(&q.Parts[i])
	}
	for i := range q.Vary {
		p.checkVary(i)
	}
	p.checkText()
	for i := range q.Bodies {
		if q.Bodies[i].Label == "" {
			q.Bodies[i].Label = q.Bodies[i].Name
		}
	}
}

// lowerEnds settles foot and top on bars that slope down to the right: there the foot is the right
// end.
func (p *parser) lowerEnds() {
	q := p.q
	settle := func(pl *Place) {
		b := q.Body(pl.Body)
		if !pl.byHeight || b == nil || !b.Angle.Known() || b.Angle.Value >= 0 {
			return
		}
		pl.End, pl.byHeight = Left+Right-pl.End, false
	}
	for i := range q.Points {
		settle(&q.Points[i].Place)
	}
	for i := range q.Supports {
		settle(&q.Supports[i].On)
		settle(&q.Supports[i].By)
	}
	for i := range q.Loads {
		settle(&q.Loads[i].On)
		settle(&q.Loads[i].To)
	}
	for i := range q.Parts {
		settle(&q.Parts[i].Place)
	}
}

func (p *parser) faultEnd(what, mend string) {
	p.faultSpan(Span{max(1, len(p.source)), 1, 2}, what, mend)
}

// bad reports whether a value was meant but could not be read.
func bad(v Value) bool { return v.Unit.Symbol == faulty }

func (p *parser) checkBody(b *Body) {
	if b.Name == "" || len(p.faults) >= mostFaults {
		return
	}
	name := b.Name
	both := func(a, c Value) bool { return a.Status != Absent && c.Status != Absent }
	silent := b.Length == (Value{}) && b.Weight == (Value{}) && b.Mass == (Value{}) && !b.Uniform && !b.Light && b.Shape == Bar && p.faultOn(b.Span.Line)
	if silent {
		return // its line could not be read: one fault is enough
	}
	switch {
	case b.Shape == Bar && b.Length.Status == Absent && !p.faultOn(b.Span.Line):
		p.faultSpan(b.Span, "the length of "+name+" is missing", "add length 4.80 m")
	case b.Shape == Frame && b.Length.Status != Absent:
		p.faultSpan(b.Length.Span, "a frame has no length of its own", "give the lengths on its piece lines")
	case b.Shape == Frame && len(b.Pieces) == 0 && !p.faultNear("piece"):
		p.faultSpan(b.Span, "the frame "+name+" has no pieces", "add lines such as piece bar of "+name+": rod from (0 m, 0 m) to (0.80 m, 0 m)")
	}
	if b.Shape == Bar && b.Height.Status != Absent {
		p.faultSpan(b.Height.Span, "a bar has no height", "write block 0.60 m by 1.20 m for a body with a height")
	}
	if both(b.Weight, b.Mass) && !bad(b.Weight) && !bad(b.Mass) {
		p.faultSpan(later(b.Weight.Span, b.Mass.Span), name+" has two weights", "give either its weight or its mass")
	}
	heavy := b.Weight.Status != Absent || b.Mass.Status != Absent
	switch {
	case b.Light && heavy:
		p.faultSpan(later(b.Weight.Span, b.Mass.Span), name+" is light, yet has a weight", "leave out light or the weight")
	case b.Light && b.Centre.Set():
		p.faultSpan(b.Centre.Span, name+" is light, so its centre of mass means nothing", "leave out light or the centre of mass")
	case !b.Light && !heavy && b.Shape != Frame && !p.faultOn(b.Span.Line):
		p.faultSpan(b.Span, "the weight of "+name+" is missing", "add weight 310 N, mass 32 kg or weight unknown; write light if it is to be left out")
	}
	switch {
	case b.Uniform && b.Centre.Set() && b.Shape != Frame:
		p.faultSpan(b.Centre.Span, name+" is uniform, yet has a centre of mass", "leave out uniform or the centre of mass")
	case !b.Uniform && !b.Light && !b.Centre.Set() && b.Shape != Frame && heavy && !p.faultOn(b.Span.Line):
		p.faultSpan(b.Span, "it does not say where the weight of "+name+" acts", "add uniform, or centre of mass at 1.70 m")
	}
	p.checkPlace(b.Centre, b, "the centre of mass of "+name, "is")
	p.checkAngle(b.Angle, 180, "the angle of "+name)
	if r := b.Rule; r.Known() && b.Length.Known() {
		switch n := b.Length.SI() / r.SI(); {
		case n < 1:
			p.faultSpan(r.Span, "the marks are further apart than "+name+" is long", "give a distance such as marks every 1 cm")
		case n > 5000:
			p.faultSpan(r.Span, "there would be more than 5000 marks", "give a greater distance between them")
		}
	}
	p.checkPieces(b)
}

// faultOn reports whether a line has a fault already.
func (p *parser) faultOn(line int) bool {
	for _, f := range p.faults {
		if f.Span.Line == line {
			return true
		}
	}
	return false
}

// faultNear reports whether a line that begins with the word has a fault.
func (p *parser) faultNear(word string) bool {
	for _, f := range p.faults {
		if strings.HasPrefix(strings.TrimSpace(f.Line), word) {
			return true
		}
	}
	return false
}

func later(a, b Span) Span {
	if a.Line > b.Line || a.Line == b.Line && a.Column > b.Column {
		return a
	}
	return b
}

func (p *parser) checkAngle(v Value, most float64, what string) {
	if !v.Known() {
		return
	}
	if a := v.SI() * 180 / math.Pi; math.Abs(a) > most {
		p.faultSpan(v.Span, what+" is "+v.Quantity.String()+", more than it can be", "give one of at most "+strconv.Itoa(int(most))+"°")
	}
}

func (p *parser) checkPieces(b *Body) {
	given := 0
	for i := range b.Pieces {
		c := &b.Pieces[i]
		n := 0
		for _, v := range [...]Value{c.Mass, c.Weight, c.Density} {
			if v.Status != Absent {
				n++
			}
		}
		if n > 1 {
			p.faultSpan(c.Span, c.Name+" has two weights", "give one of its mass, its weight and its density")
		}
		given += min(n, 1)
		p.checkPieceShape(c)
	}
	own := b.Mass.Status != Absent || b.Weight.Status != Absent
	if b.Shape == Frame && own && given > 0 {
		p.faultSpan(later(b.Weight.Span, b.Mass.Span), "the mass of "+b.Name+" is given, and those of its pieces too", "leave out one or the other")
	}
	if given == 0 || given == len(b.Pieces) {
		return
	}
	for i := range b.Pieces {
		if c := &b.Pieces[i]; c.Mass.Status == Absent && c.Weight.Status == Absent && c.Density.Status == Absent && !p.faultOn(c.Span.Line) {
			p.faultSpan(c.Span, "the mass of "+c.Name+" is missing", "give it, as on the other pieces of "+b.Name)
		}
	}
}

func (p *parser) checkPieceShape(c *Piece) {
	x := func(a XY) (float64, float64) { return a.X.SI(), a.Y.SI() }
	ax, ay := x(c.From)
	bx, by := x(c.To)
	cx, cy := x(c.Third)
	switch {
	case p.faultOn(c.Span.Line):
	case c.Kind == RodPiece && ax == bx && ay == by:
		p.faultSpan(c.To.Span, "the rod "+c.Name+" ends where it begins", "give it two different ends")
	case c.Kind == Triangle && math.Abs((bx-ax)*(cy-ay)-(cx-ax)*(by-ay)) < 1e-12:
		p.faultSpan(c.Span, "the corners of "+c.Name+" lie on one line", "move one of them")
	case c.Density.Known() && c.Kind == RodPiece && c.Density.Unit.Dimension != quantity.LineDensity:
		p.faultSpan(c.Density.Span, "a rod has a mass for each metre", "give its density in kg/m")
	case c.Density.Known() && c.Kind != RodPiece && c.Density.Unit.Dimension != quantity.AreaDensity:
		p.faultSpan(c.Density.Span, "a plate has a mass for each square metre", "give its density in kg/m²")
	case c.Kind == PointMass && c.Density.Status != Absent:
		p.faultSpan(c.Density.Span, "a point has no size, so no density", "give its mass")
	case c.Kind == PointMass && c.Hole, c.Kind == RodPiece && c.Hole:
		p.faultSpan(c.Span, c.Name+" cannot be a hole", "a hole is a rectangle, a triangle or a disc")
	}
}

// checkPlace checks a place of body b: who is what is there, verb what it does there.
func (p *parser) checkPlace(pl Place, b *Body, who, verb string) {
	if b == nil || !pl.Set() {
		return
	}
	mend := "move it or lengthen " + b.Name
	switch {
	case pl.Point != "":
		if a := p.q.Point(pl.Point); a == nil {
			p.faultSpan(pl.Span, "there is no point "+clip(pl.Point), p.pointMend(pl.Point))
		} else if a.Place.Body != b.Name && a.Place.Body != "" {
			p.faultSpan(pl.Span, "point "+a.Name+" is on "+a.Place.Body+", not on "+b.Name, "name a point of "+b.Name)
		} else if a.Place.Body == "" {
			p.faultSpan(pl.Span, "point "+a.Name+" is fixed in the plane, not on "+b.Name, "write point "+a.Name+": on "+b.Name+" at …")
		}
	case b.Shape == Frame && pl.XY == nil && pl.At.Status != Unknown:
		p.faultSpan(pl.Span, b.Name+" is a frame, so a place on it needs two distances", "write it as (0.20 m, 0.50 m), or name a point")
	case pl.At.Known() && b.Length.Known():
		at, end := pl.At.SI(), b.Length.SI()
		switch {
		case at < 0:
			zero := "left"
			if b.ZeroRight {
				zero = "right"
			}
			p.faultSpan(pl.At.Span, who+" "+verb+" at "+pl.At.Quantity.String()+", before the "+zero+" end of "+b.Name, "count distances from the "+zero+" end")
		case at > end:
			p.faultSpan(pl.At.Span, who+" "+verb+" at "+pl.At.Quantity.String()+", but "+b.Name+" ends at "+b.Length.Quantity.String(), mend)
		}
	case pl.XY != nil && b.Shape != Frame && b.Length.Known():
		if x := pl.XY.X.SI(); x < 0 || x > b.Length.SI() {
			p.faultSpan(pl.XY.X.Span, who+" "+verb+" at "+pl.XY.X.Quantity.String()+", but "+b.Name+" reaches from 0 m to "+b.Length.Quantity.String(), mend)
		}
		if y := pl.XY.Y.SI(); b.Shape == Block && b.Height.Known() && (y < 0 || y > b.Height.SI()) {
			p.faultSpan(pl.XY.Y.Span, who+" "+verb+" at "+pl.XY.Y.Quantity.String()+", but "+b.Name+" reaches from 0 m to "+b.Height.Quantity.String(), "move it or make "+b.Name+" higher")
		}
	}
}

func (p *parser) pointMend(name string) string {
	if m := didYouMean(name, p.names(pointName)); m != "" {
		return m
	}
	return "write a distance such as 0.60 m, left end, right end, middle, or describe the point on a line of its own"
}

func (p *parser) checkPoint(a *Point) {
	if a.Name == "" {
		return
	}
	switch {
	case !a.Place.Set():
		if !p.faultOn(a.Span.Line) {
			p.faultSpan(a.Span, "it does not say where point "+a.Name+" is", "write point "+a.Name+": on plank at 2.00 m, or at (0 m, 1.20 m)")
		}
	case a.Place.Point != "":
		p.faultSpan(a.Place.Span, "a point is not placed by another point", "give a distance or two")
	case a.Place.At.Status == Unknown:
		p.faultSpan(a.Place.Span, "the place of point "+a.Name+" cannot be unknown", "give it; what is unknown is the place of a load or support")
	case a.Place.Body != "" && p.must(a.Place.Body, a.Place.body, bodyName, "body"):
		p.checkPlace(a.Place, p.q.Body(a.Place.Body), "point "+a.Name, "is")
	}
}
