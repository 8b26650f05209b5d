package question

import (
	"strconv"
	"strings"

	"steelyard/quantity"
)

// value reads a quantity with its unit, or the word unknown where that may stand. What is the
// name of the value in faults.
func (p *parser) value(want quantity.Dimension, what string, mayBeUnknown bool) (Value, bool) {
	return p.valueOf(what, mayBeUnknown, want)
}

// valueOf reads a quantity of one of several dimensions.
func (p *parser) valueOf(what string, mayBeUnknown bool, want ...quantity.Dimension) (Value, bool) {
	t := p.peek()
	if t.is("unknown") {
		p.i++
		span := p.span(t.from, t.to)
		if !mayBeUnknown {
			p.faultTok(t, what+" cannot be unknown", "give it, such as "+want[0].Example())
			return Value{}, false
		}
		return Value{Status: Unknown, Span: span}, true
	}
	if t.kind != numberToken {
		switch {
		case t.kind == wordToken && isNotFinite(t.text):
			p.faultTok(t, strconv.Quote(t.text)+" is no number", "give "+what+", such as "+want[0].Example())
			p.i++
		case mayBeUnknown:
			p.faultTok(t, what+" is missing", "write a number and its unit, such as "+want[0].Example()+", or unknown")
		default:
			p.faultTok(t, what+" is missing", "write a number and its unit, such as "+want[0].Example())
		}
		return Value{}, false
	}
	p.i++
	end, unit := t.to, p.unit(t, want)
	if unit.kind == wordToken {
		end = unit.to
	}
	d := want[0]
	if len(want) > 1 && unit.kind == wordToken {
		u, _ := quantity.UnitNamed(unit.text)
		for _, w := range want {
			if u.Dimension == w {
				d = w
			}
		}
	}
	q, err := quantity.Parse(p.text[t.from:end], d, quantity.Unit{})
	if err != nil {
		r := err.(*quantity.Refusal)
		mend := r.Mend
		if u, ok := quantity.UnitNamed(unit.text); ok {
			switch {
			case what == "the weight" && u.Dimension == quantity.Mass:
				mend = "write mass " + p.text[t.from:end] + ", or a weight in N"
			case what == "the mass" && u.Dimension == quantity.Force:
				mend = "write weight " + p.text[t.from:end] + ", or a mass in kg"
			}
		}
		p.faultAt(t.from, end, r.What, mend)
		return Value{}, false
	}
	return Value{Quantity: q, Status: Given, Span: p.span(t.from, end)}, true
}

// unit takes the unit after the number t, if one comes. A word that is no unit is taken only if
// it stands close to the number or is no word of the notation, so that the fault is about it.
func (p *parser) unit(t token, want []quantity.Dimension) token {
	u := p.peek()
	if u.kind != wordToken || want[0] == quantity.Number && u.from > t.to {
		return token{}
	}
	if p.i+1 < len(p.toks) {
		switch v := p.toks[p.i+1]; v.text {
		case "m", "cm", "mm", "metre", "metres", "meter", "meters", "N":
			if v.kind != wordToken {
				break
			}
			if _, ok := quantity.UnitNamed(p.text[u.from:v.to]); ok {
				p.i += 2
				return token{wordToken, p.text[u.from:v.to], u.from, v.to}
			}
		}
	}
	if _, ok := quantity.UnitNamed(u.text); ok || u.from == t.to || !isName(u.text) || !p.known(u.text) {
		p.i++
		return u
	}
	return token{}
}

// known reports whether a word is one that may follow a quantity.
func (p *parser) known(word string) bool {
	switch word {
	case "by", "at", "on", "to", "from", "step", "above", "below", "up", "down", "left", "right",
		"clockwise", "anticlockwise", "of", "along", "back", "marks", "figures", "pushes", "pulls",
		"hung", "wide", "high", "long", "and", "with", "is", "towards", "uniform", "light", "weight", "mass", "length":
		return true
	}
	return false
}

func isNotFinite(s string) bool {
	switch strings.ToLower(s) {
	case "nan", "inf", "infinity", "+inf", "-inf", "∞", "-∞":
		return true
	}
	return false
}

// positive refuses a number that is negative or 0.
func (p *parser) positive(v Value, what string) bool {
	switch {
	case v.Status != Given || v.Value > 0:
		return true
	case v.Value == 0:
		p.faultSpan(v.Span, what+" is 0", "give one that is more than 0")
	default:
		mend := "write " + strings.TrimPrefix(v.Quantity.String(), "-")
		if v.Unit.Dimension == quantity.Force || v.Unit.Dimension == quantity.Moment {
			mend += "; a direction is written in words"
		}
		p.faultSpan(v.Span, what+" is negative", mend)
	}
	return false
}
