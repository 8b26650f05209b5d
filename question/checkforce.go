package question

import "math"

// farEnds puts in the other end of a cable, strut or link that was given by the name of a point.
func (p *parser) farEnds() {
	for i := range p.q.Supports {
		s := &p.q.Supports[i]
		if s.ToPoint == "" {
			continue
		}
		a := p.q.Point(s.ToPoint)
		switch {
		case a == nil:
			if p.q.Body(s.ToPoint) != nil {
				p.faultSpan(s.By.Span, "it does not say where on "+s.ToPoint, "add a place, such as "+s.ToPoint+" at 2.00 m")
			} else {
				p.faultSpan(s.By.Span, "there is no point "+s.ToPoint, p.pointMend(s.ToPoint))
			}
		case a.Place.Body == "" && a.Place.XY != nil:
			xy := *a.Place.XY
			s.To = &xy
		case a.Place.Body != "":
			s.By = Place{Body: a.Place.Body, Point: s.ToPoint, Span: s.By.Span, body: s.By.Span}
		}
	}
}

func (k Kind) line() bool { return k == Cable || k == Strut || k == Link }
func (k Kind) contact() bool {
	return k == Rest || k == Floor || k == Wall || k == Slope || k == Roller
}

func (p *parser) checkSupport(s *Support) {
	if s.Name == "" || len(p.faults) >= mostFaults {
		return
	}
	who := s.Kind.String() + " " + s.Name
	if s.On.Body == "" {
		if !p.faultOn(s.Span.Line) {
			p.faultSpan(s.Span, "it does not say where "+who+" is", "add a clause such as on plank at 0.60 m")
		}
	} else if p.must(s.On.Body, s.On.body, bodyName, "body") {
		b := p.q.Body(s.On.Body)
		if !s.On.Set() && b.Shape != Block && !p.faultOn(s.Span.Line) {
			p.faultSpan(s.On.Span, "it does not say where on "+b.Name, "add a place, such as at 0.60 m or at left end")
		}
		p.checkPlace(s.On, b, who, "is")
	}
	if s.By.Body != "" && p.must(s.By.Body, s.By.body, bodyName, "body") {
		if s.By.Body == s.On.Body {
			p.faultSpan(s.By.Span, who+" joins "+s.On.Body+" to itself", "name another body, or a point of the plane")
		}
		if s.By.At.Status == Unknown {
			p.faultSpan(s.By.At.Span, "the place on the other body cannot be unknown", "give it")
		}
		p.checkPlace(s.By, p.q.Body(s.By.Body), who, "is")
	}
	if s.Kind.line() {
		p.checkLine(s, who)
	}
	p.checkFriction(s, who)
	if s.Above && s.Kind != Rest {
		p.faultSpan(s.Span, "above is said of a rest only", "leave it out, or make "+s.Name+" a rest that lies on top")
	}
	if d := s.Direction; d != nil {
		switch s.Kind {
		case Hinge, Clamp, Pivot, Floor, Slope:
			p.faultSpan(d.Span, "a "+s.Kind.String()+" pushes whichever way is needed", "leave the direction out, or make "+s.Name+" a roller")
		}
		p.checkDirection(d)
	}
	if s.Reading.Status != Absent && (s.Kind == Hinge || s.Kind == Clamp) {
		p.faultSpan(s.Reading.Span, "the force of a "+s.Kind.String()+" has two parts and cannot be given as one", "leave it out")
	}
	if s.Reading.Known() && s.Reading.Value < 0 && s.Kind != Strap && s.Kind != Strut && s.Kind != Link && s.Kind != Spring {
		p.positive(s.Reading, "the force of "+s.Name)
	}
	if s.Kind == Slope {
		p.checkAngle(s.Angle, 90, "the angle of the slope")
	}
}

// checkLine checks the direction of a cable, strut or link.
func (p *parser) checkLine(s *Support, who string) {
	far := s.To != nil || s.ToPoint != "" || s.By.Body != ""
	switch {
	case far && s.Direction != nil:
		p.faultSpan(s.Direction.Span, "the line of "+who+" is given twice", "give either where its other end is or its direction")
	case !far && s.Direction == nil && !p.faultOn(s.Span.Line):
		verb := "pulls 35 deg above left"
		if s.Kind == Strut {
			verb = "pushes 40 deg above right"
		}
		p.faultSpan(s.Span, "it does not say which way "+who+" runs", "add its other end, such as to (0 m, 1.05 m), or "+verb)
	case s.To != nil:
		if x, y, ok := p.q.inPlane(s.On); ok && math.Hypot(x-s.To.X.SI(), y-s.To.Y.SI()) < 1e-9 {
			p.faultSpan(s.To.Span, who+" ends where it begins", "give it another end, away from where it is fixed to "+s.On.Body)
		}
	}
}

// inPlane is where a place of a body is in the plane, if the file alone says so: the body is
// placed, or is the only one.
func (q *Question) inPlane(pl Place) (x, y float64, ok bool) {
	b := q.Body(pl.Body)
	if b == nil || b.At == nil && len(q.Bodies) > 1 || b.Angle.Status == Unknown || pl.At.Status == Unknown || b.Length.Status == Unknown {
		return 0, 0, false
	}
	if a := q.Point(pl.Point); a != nil {
		pl = a.Place
	}
	along, up := pl.At.SI(), 0.0
	switch length := b.Length.SI(); {
	case pl.XY != nil:
		along, up = pl.XY.X.SI(), pl.XY.Y.SI()
	case pl.End == Left:
		along = 0
	case pl.End == Right:
		along = length
	case pl.End == Middle:
		along = length / 2
	case b.ZeroRight:
		along = length - along
	}
	sin, cos := math.Sincos(b.Angle.SI())
	x, y = along*cos-up*sin, along*sin+up*cos
	if b.At != nil {
		x, y = x+b.At.X.SI(), y+b.At.Y.SI()
	}
	return x, y, true
}

func (p *parser) checkFriction(s *Support, who string) {
	switch {
	case (s.Rough || s.Mu.Status != Absent) && !s.Kind.contact():
		span := s.Span
		if s.Mu.Status != Absent {
			span = s.Mu.Span
		}
		p.faultSpan(span, "a "+s.Kind.String()+" has no surface to be rough", "leave it out")
	case s.Smooth && (s.Rough || s.Mu.Status != Absent):
		p.faultSpan(s.Span, who+" is smooth, yet has friction", "leave out smooth, or rough and the coefficient")
	case s.Mu.Known() && s.Mu.Value > 10:
		p.faultSpan(s.Mu.Span, "a coefficient of friction of "+s.Mu.Quantity.String()+" is met nowhere", "most lie from 0.1 to 1")
	}
}

func (p *parser) checkDirection(d *Direction) {
	if d == nil {
		return
	}
	if d.Along != "" {
		p.must(d.Along, d.Span, bodyName, "body")
	}
	p.checkAngle(d.Angle, 180, "the angle")
}

func (p *parser) checkLoad(l *Load) {
	if l.Name == "" || len(p.faults) >= mostFaults {
		return
	}
	_, what := p.kindOf(l.Name)
	who := what + " " + l.Name
	missing := func(s, mend string) {
		if !p.faultOn(l.Span.Line) {
			p.faultSpan(l.Span, s, mend)
		}
	}
	switch l.Kind {
	case Weight:
		switch w, m := l.Weight, l.Mass; {
		case w.Status != Absent && m.Status != Absent && !bad(w) && !bad(m):
			p.faultSpan(later(w.Span, m.Span), who+" has two weights", "give either its weight or its mass")
		case w.Status == Absent && m.Status == Absent:
			missing("the weight of "+who+" is missing", "add weight 540 N, mass 55 kg or weight unknown")
		}
	case Force:
		if l.Size.Status == Absent {
			missing("the size of "+who+" is missing", "add one with its direction, such as 40 N up")
		}
		p.checkDirection(l.Direction)
	case Couple:
		if l.Size.Status == Absent {
			missing("the size of "+who+" is missing", "add one with its sense, such as 8 N m clockwise")
		}
	case Spread:
		if l.Weight.Status != Absent || l.Mass.Status != Absent {
			p.faultSpan(later(l.Weight.Span, l.Mass.Span), who+" has two weights", "give the load for each metre or a weight, not both")
		}
	}
	if l.On.Body == "" {
		mend := "add a clause such as on plank at 1.50 m"
		if l.Kind == Spread {
			mend = "add a clause such as on deck from 1.0 m to 3.0 m"
		}
		missing("it does not say where "+who+" is", mend)
		return
	}
	if !p.must(l.On.Body, l.On.body, bodyName, "body") {
		return
	}
	b := p.q.Body(l.On.Body)
	verb := "acts"
	if l.Kind == Weight && !l.Hung {
		verb = "stands"
	} else if l.Kind == Weight {
		verb = "hangs"
	}
	p.checkPlace(l.On, b, who, verb)
	p.checkPlace(l.To, b, who, "ends")
	p.checkSpread(l, who)
}

// checkSpread checks that a spread load has two ends in order, and that no other load has.
func (p *parser) checkSpread(l *Load, who string) {
	switch {
	case p.faultOn(l.Span.Line):
	case l.Kind != Spread && l.To.Set():
		p.faultSpan(l.On.Span, who+" is spread out, but has no load for each metre", "write a size such as 120 N/m, or one place")
	case l.Kind != Spread:
	case !l.To.Set():
		p.faultSpan(l.On.Span, who+" is spread out, but has one place only", "write both ends: on "+l.On.Body+" from 1.0 m to 3.0 m")
	case l.On.At.Status == Unknown || l.To.At.Status == Unknown:
		p.faultSpan(l.On.Span, "the ends of a spread load cannot be unknown", "give both")
	default:
		a, aok := p.q.along(l.On)
		c, cok := p.q.along(l.To)
		if aok && cok && a == c {
			p.faultSpan(l.On.Span, who+" has no length", "give it two different ends")
		} else if b := p.q.Body(l.On.Body); aok && cok && (a > c) != b.ZeroRight {
			p.faultSpan(l.On.Span, who+" runs backwards", "write its left end first")
		}
	}
}

// along is the distance of a place from the left end of its bar, if it is known.
func (q *Question) along(pl Place) (float64, bool) {
	b := q.Body(pl.Body)
	if b == nil {
		return 0, false
	}
	if a := q.Point(pl.Point); a != nil {
		pl = a.Place
	}
	length := b.Length.SI()
	switch {
	case pl.XY != nil:
		return pl.XY.X.SI(), true
	case pl.End == Left:
		return 0, true
	case pl.End != NoEnd && !b.Length.Known(), !pl.At.Known() && pl.End == NoEnd:
		return 0, false
	case pl.End == Right:
		return length, true
	case pl.End == Middle:
		return length / 2, true
	case b.ZeroRight:
		return length - pl.At.SI(), b.Length.Known()
	}
	return pl.At.SI(), true
}

func (p *parser) checkCondition(c *Condition) {
	ok := p.must(c.Name, c.name, supportName, "support")
	if c.Kind == Ratio && c.Other != "" {
		p.must(c.Other, c.other, supportName, "support")
		if c.Name == c.Other {
			p.faultSpan(c.other, "this compares "+c.Name+" with itself", "name two supports")
		}
	}
	if s := p.q.Support(c.Name); ok && c.Kind == AboutToSlip && s.Mu.Status == Absent {
		what := " is smooth, so it does not wait to slip"
		if s.Rough {
			what = " is rough enough never to slip"
		}
		p.faultSpan(c.name, s.Name+what, "give support "+s.Name+" a coefficient")
	}
}
