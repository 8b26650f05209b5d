package question

import (
	"strconv"

	"steelyard/quantity"
)

// on reads BODY and then PLACE: "plank at 0.60 m". The place may be missing where bare is true.
func (p *parser) on(bare bool) (Place, bool) {
	from := p.here()
	name, span, ok := p.ref("the body")
	if !ok {
		return Place{}, false
	}
	pl := Place{Body: name, body: span}
	if t := p.peek(); !t.is("at") {
		if bare && (t.kind == endToken || t.mark(',')) {
			pl.Span = span
			return pl, true
		}
		if t.kind == wordToken && !isEnd(t.text) && t.text != "unknown" {
			p.faultTok(t, strconv.Quote(clip(t.text))+" was not expected here", "say where on "+name+", such as at 0.60 m or at left end")
			return Place{}, false
		}
		if t.kind == endToken || t.mark(',') {
			p.faultSpan(span, "it does not say where on "+name, "add a place, such as at 0.60 m or at left end")
			return Place{}, false
		}
	} else {
		p.i++
	}
	place, ok := p.place()
	place.Body, place.body = name, span
	place.Span = p.span(from, p.lastEnd())
	return place, ok
}

func (p *parser) lastEnd() int {
	if p.i > 0 && p.i <= len(p.toks) {
		return p.toks[p.i-1].to
	}
	return 0
}

func isEnd(word string) bool {
	switch word {
	case "left", "right", "lower", "upper", "foot", "top", "bottom", "middle", "centre", "the":
		return true
	}
	return false
}

// place reads a place after "at".
func (p *parser) place() (Place, bool) {
	from := p.here()
	done := func(pl Place) (Place, bool) {
		pl.Span = p.span(from, p.lastEnd())
		return pl, true
	}
	t := p.peek()
	if t.mark('(') {
		xy, ok := p.xy()
		if !ok {
			return Place{}, false
		}
		return done(Place{XY: &xy})
	}
	if t.kind == numberToken || t.is("unknown") || t.kind == wordToken && isNotFinite(t.text) {
		v, ok := p.value(quantity.Length, "the place", true)
		if !ok {
			return Place{}, false
		}
		return done(Place{At: v})
	}
	p.accept("the")
	switch {
	case p.accept("left", "end"), p.accept("left"):
		return done(Place{End: Left})
	case p.accept("right", "end"), p.accept("right"):
		return done(Place{End: Right})
	case p.accept("lower", "end"), p.accept("foot"), p.accept("bottom"):
		return done(Place{End: Left, byHeight: true})
	case p.accept("upper", "end"), p.accept("top"):
		return done(Place{End: Right, byHeight: true})
	case p.accept("middle"), p.accept("centre"):
		return done(Place{End: Middle})
	}
	if p.peek().is("point") {
		p.i++
	}
	if t := p.peek(); t.kind == wordToken && isName(t.text) {
		p.i++
		return done(Place{Point: t.text})
	}
	p.faultTok(p.peek(), "the place is missing", "write a distance such as 0.60 m, left end, right end, middle, (0.20 m, 0.50 m) or the name of a point")
	return Place{}, false
}

// xy reads (0.80 m, 0 m). A 0 needs no unit.
func (p *parser) xy() (XY, bool) {
	from := p.here()
	if !p.acceptMark('(') {
		p.faultTok(p.peek(), "a point is missing", "write it in brackets: (0.20 m, 0.50 m)")
		return XY{}, false
	}
	var v [2]Value
	for k := range v {
		if k == 1 && !p.acceptMark(',') {
			p.faultTok(p.peek(), "a point has two distances with a comma between them", "write it as (0.20 m, 0.50 m)")
			return XY{}, false
		}
		var ok bool
		if v[k], ok = p.coordinate([...]string{"the distance across", "the distance up"}[k]); !ok {
			return XY{}, false
		}
	}
	if !p.acceptMark(')') {
		p.faultTok(p.peek(), "a bracket is not closed", "write a point as (0.20 m, 0.50 m)")
		return XY{}, false
	}
	return XY{v[0], v[1], p.span(from, p.lastEnd())}, true
}

func (p *parser) coordinate(what string) (Value, bool) {
	if t := p.peek(); t.kind == numberToken && t.text == "0" && p.i+1 < len(p.toks) && p.toks[p.i+1].kind == markToken {
		p.i++
		q, _ := quantity.Parse("0 m", quantity.Length, quantity.Unit{})
		return Value{Quantity: q, Status: Given, Span: p.span(t.from, t.to)}, true
	}
	return p.value(quantity.Length, what, false)
}

var directionHelp = `write up, down, left, right, 35 deg above left, 20 deg left of up, along arm, or at right angles to arm`

// direction reads a direction in words.
func (p *parser) direction() (*Direction, bool) {
	from := p.here()
	d := &Direction{}
	ok := p.readDirection(d)
	d.Span = p.span(from, p.lastEnd())
	return d, ok
}

func (p *parser) readDirection(d *Direction) (ok bool) {
	if p.peek().kind == numberToken {
		if d.Angle, ok = p.value(quantity.Angle, "the angle", false); !ok {
			return false
		}
		return p.turned(d)
	}
	if d.Base = p.compass(); d.Base != NoCompass {
		return true
	}
	switch {
	case p.accept("along"):
		d.Along, _, ok = p.ref("the body")
	case p.accept("back", "along"):
		d.Reverse = true
		d.Along, _, ok = p.ref("the body")
	case p.accept("at", "right", "angles", "to"):
		d.Across = true
		d.Along, _, ok = p.ref("the body")
	case p.accept("at", "right", "angles", "below"):
		d.Across, d.Reverse = true, true
		d.Along, _, ok = p.ref("the body")
	case p.accept("at"):
		if d.Angle, ok = p.value(quantity.Angle, "the angle", false); ok {
			return p.turned(d)
		}
	default:
		p.faultTok(p.peek(), "the direction is missing", directionHelp)
	}
	return ok
}

// turned reads what an angle is counted from: above left, left of up, to arm, below arm.
func (p *parser) turned(d *Direction) (ok bool) {
	switch {
	case p.accept("to"):
		d.Along, _, ok = p.ref("the body")
		return ok
	case p.accept("above"):
		d.Towards = Up
	case p.accept("below"):
		d.Towards = Down
	case p.accept("left", "of"):
		d.Towards = ToLeft
	case p.accept("right", "of"):
		d.Towards = ToRight
	default:
		p.faultTok(p.peek(), "it does not say what the angle is counted from", "write 35 deg above left, 20 deg left of up, or at 35 deg to arm")
		return false
	}
	t := p.peek()
	d.Base = p.compass()
	level := d.Base == ToLeft || d.Base == ToRight
	switch {
	case d.Base == NoCompass && d.Towards == Down && t.kind == wordToken && isName(t.text):
		p.i++
		d.Along, d.Reverse, d.Towards = t.text, true, NoCompass
		return true
	case d.Base == NoCompass && d.Towards == Up && t.kind == wordToken && isName(t.text):
		p.i++
		d.Along, d.Towards = t.text, NoCompass
		return true
	case d.Base == NoCompass, level != (d.Towards == Up || d.Towards == Down):
		p.faultTok(t, "this angle has no plain meaning", "count it above or below left or right, or left or right of up or down")
		return false
	}
	return true
}

func (p *parser) compass() Compass {
	switch {
	case p.accept("up"):
		return Up
	case p.accept("down"):
		return Down
	case p.accept("left"):
		return ToLeft
	case p.accept("right"):
		return ToRight
	}
	return NoCompass
}
