package question

import (
	"math"
	"strings"
	"unicode/utf8"
)

// checkPart checks that what a part asks for is there and is not given.
func (p *parser) checkPart(a *Part) {
	if len(p.faults) >= mostFaults || a.Ask == AskWhether {
		return
	}
	given := func(v Value, what string) {
		if v.Known() && a.Show.Status == Absent {
			p.faultSpan(a.thing, what+" of "+a.Thing+" is asked for, but it is given", "write unknown in its place, or ask for something else")
		}
	}
	switch a.Ask {
	case AskForce, AskAcross, AskUpright, AskDirection:
		p.checkForceAsked(a, given)
	case AskForceOn:
		p.checkForceOn(a)
	case AskNormal, AskFriction, AskCoefficient, AskLeastCoefficient:
		p.checkContactAsked(a, given)
	case AskCouple:
		if !p.must(a.Thing, a.thing, supportName|loadName, "clamp or couple") {
			return
		}
		if l := p.q.Load(a.Thing); l != nil {
			if l.Kind != Couple {
				p.faultSpan(a.thing, a.Thing+" is no couple", "ask for its weight or size")
			}
			given(l.Size, "the size")
		} else if s := p.q.Support(a.Thing); s.Kind != Clamp {
			p.faultSpan(a.thing, "a "+s.Kind.String()+" exerts no couple", "ask for the couple of a clamp")
		}
	case AskWeight, AskMass:
		if p.must(a.Thing, a.thing, loadName|bodyName|pieceName, "load or body") {
			p.checkWeightAsked(a, given)
		}
	case AskSize:
		if p.must(a.Thing, a.thing, loadName, "load, force or couple") {
			given(p.q.Load(a.Thing).Size, "the size")
		}
	case AskPosition:
		if p.must(a.Thing, a.thing, loadName|supportName, "load or support") {
			pl := p.q.placeOf(a.Thing)
			given(pl.At, "the position")
			if pl.Set() && pl.At.Status != Unknown && !pl.At.Known() {
				p.faultSpan(a.thing, "the position of "+a.Thing+" is asked for, but it is given", "write at unknown in its place")
			}
		}
	case AskCentre:
		if p.must(a.Thing, a.thing, bodyName, "body") {
			p.checkCentreAsked(a)
		}
	case AskAngle:
		if p.must(a.Thing, a.thing, bodyName|supportName|loadName, "body, slope or force") {
			if v := p.q.Value(a.Thing, "angle"); v != nil {
				given(*v, "the angle")
			}
		}
	case AskFurthest, AskRange:
		if p.must(a.Thing, a.thing, loadName|supportName, "load or support") {
			if l := p.q.Load(a.Thing); l != nil && l.Kind == Spread {
				p.faultSpan(a.thing, a.Thing+" is spread out, so it has no one place", "ask about a load that stands at one point")
			}
		}
	case AskGreatest, AskLeast:
		if a.OfAngle {
			if p.must(a.Thing, a.thing, bodyName|supportName, "body or slope") {
				p.checkAngleAsked(a)
			}
		} else {
			p.must(a.Thing, a.thing, loadName|bodyName, "load or body")
		}
	case AskMoment:
		p.must(a.Thing, a.thing, loadName|supportName|bodyName, "load, support or body")
		p.checkPivot(a)
	case AskTotalMoment:
		p.checkPivot(a)
	case AskResultant:
		p.must(a.Thing, a.thing, bodyName, "body")
	}
}

func (p *parser) checkForceAsked(a *Part, given func(Value, string)) {
	if !p.must(a.Thing, a.thing, supportName|loadName, "support") {
		return
	}
	if l := p.q.Load(a.Thing); l != nil {
		if l.Kind == Force && a.Ask == AskForce {
			a.Ask = AskSize
			given(l.Size, "the size")
			return
		}
		word := "weight"
		if l.Kind == Couple {
			word = "couple"
		} else if l.Kind == Force {
			word = "size"
		}
		p.faultSpan(a.thing, a.Thing+" is a load, no support", "ask for "+word+" "+a.Thing)
		return
	}
	if a.Ask == AskForce {
		given(p.q.Support(a.Thing).Reading, "the force")
	}
}

// checkForceOn settles force of X on Y: a body on a support, or a support on a body.
func (p *parser) checkForceOn(a *Part) {
	thing, _ := p.kindOf(a.Thing)
	other, _ := p.kindOf(a.Other)
	switch {
	case other == supportName && thing == bodyName:
		a.Thing, a.Other, a.thing, a.other = a.Other, a.Thing, a.other, a.thing
		if p.touches(a) {
			a.Ask = AskForce
			if p.q.Support(a.Thing).By.Body == a.Other {
				a.Ask = AskForceOn
				a.Other = p.q.Support(a.Thing).On.Body
			} else {
				a.Other = ""
			}
		}
	case p.must(a.Other, a.other, bodyName, "body") && p.must(a.Thing, a.thing, supportName, "support"):
		p.touches(a)
	}
}

func (p *parser) touches(a *Part) bool {
	s := p.q.Support(a.Thing)
	if s.On.Body == a.Other || s.By.Body == a.Other {
		return true
	}
	p.faultSpan(a.other, a.Other+" does not touch "+s.Kind.String()+" "+a.Thing, "ask for force of "+s.On.Body+" on "+a.Thing)
	return false
}

func (p *parser) checkContactAsked(a *Part, given func(Value, string)) {
	if !p.must(a.Thing, a.thing, supportName, "support") {
		return
	}
	s := p.q.Support(a.Thing)
	who := s.Kind.String() + " " + s.Name
	switch {
	case !s.Kind.contact():
		p.faultSpan(a.thing, "a "+s.Kind.String()+" has no surface, so no normal force or friction", "ask for force "+s.Name+", or its horizontal or vertical force")
	case a.Ask == AskNormal:
	case a.Ask == AskCoefficient && s.Mu.Known():
		given(s.Mu, "the coefficient")
	case !s.Rough && s.Mu.Status == Absent:
		p.faultSpan(a.thing, who+" is smooth, so there is no friction", "give it a coefficient, or write rough")
	case a.Ask == AskCoefficient && s.Mu.Status == Absent:
		p.faultSpan(a.thing, "the coefficient of "+who+" is not mentioned", "write coefficient unknown on its line, or ask for least coefficient "+s.Name)
	}
}

func (p *parser) checkWeightAsked(a *Part, given func(Value, string)) {
	attribute, what := "weight", "the weight"
	if a.Ask == AskMass {
		attribute, what = "mass", "the mass"
	}
	if v := p.q.Value(a.Thing, attribute); v != nil {
		given(*v, what)
	}
	if l := p.q.Load(a.Thing); l != nil && (l.Kind == Force || l.Kind == Couple) {
		p.faultSpan(a.thing, a.Thing+" has no "+attribute, "ask for size "+a.Thing)
	}
	if b := p.q.Body(a.Thing); b != nil && b.Light {
		p.faultSpan(a.thing, a.Thing+" is light, so it has no "+attribute, "write weight unknown in place of light")
	}
}

func (p *parser) checkCentreAsked(a *Part) {
	b := p.q.Body(a.Thing)
	switch {
	case b.Shape == Frame && b.Centre.At.Status == Absent:
	case b.Centre.Set() && b.Centre.At.Status != Unknown:
		p.faultSpan(a.thing, "the centre of mass of "+b.Name+" is asked for, but it is given", "write centre of mass unknown in its place")
	case b.Uniform:
		p.faultSpan(a.thing, "the centre of mass of "+b.Name+" is in its middle, since it is uniform", "write centre of mass unknown in place of uniform")
	case b.Light:
		p.faultSpan(a.thing, b.Name+" is light, so its centre of mass means nothing", "give it a weight and write centre of mass unknown")
	}
}

func (p *parser) checkAngleAsked(a *Part) {
	if s := p.q.Support(a.Thing); s != nil && s.Kind != Slope && s.Direction == nil {
		p.faultSpan(a.thing, s.Kind.String()+" "+s.Name+" has no angle of its own", "ask for the angle of a body or a slope")
	}
}

// checkPivot checks the point about which a moment is asked for.
func (p *parser) checkPivot(a *Part) {
	if a.Other != "" {
		p.must(a.Other, a.other, pointName|supportName|loadName, "point, support or load")
		return
	}
	if a.Place.Body != "" && p.must(a.Place.Body, a.Place.body, bodyName, "body") {
		p.checkPlace(a.Place, p.q.Body(a.Place.Body), "the pivot", "is")
	}
}

func (q *Question) placeOf(name string) Place {
	if l := q.Load(name); l != nil {
		return l.On
	}
	if s := q.Support(name); s != nil {
		return s.On
	}
	return Place{}
}

func (p *parser) checkVary(i int) {
	v := &p.q.Vary[i]
	if v.Thing == "" || !v.From.Known() || !v.To.Known() || !v.Step.Known() {
		return
	}
	what := "the " + attributeNoun(v.Attribute) + " of " + v.Thing
	if !p.must(v.Thing, v.thing, anyName, "thing") {
		return
	}
	for _, w := range p.q.Vary[:i] {
		if w.Thing == v.Thing && w.Attribute == v.Attribute {
			p.faultSpan(v.thing, what+" varies twice", "keep one of the two lines")
			return
		}
	}
	from, to, step := v.From.SI(), v.To.SI(), v.Step.SI()
	n := math.Round((to - from) / step)
	now := p.q.Value(v.Thing, v.Attribute)
	_, kind := p.kindOf(v.Thing)
	switch {
	case now == nil:
		p.faultSpan(v.thing, "a "+kind+" has no "+v.Attribute, didYouMean(v.Attribute, p.q.attributesOf(v.Thing)))
	case bad(*now):
	case now.Status == Unknown:
		p.faultSpan(v.thing, what+" is unknown, so it cannot vary", "give it, or vary something else")
	case now.Status == Absent:
		p.faultSpan(v.thing, what+" is not given, so it cannot vary", "give it as a number on the line of "+v.Thing)
	case now.Unit.Dimension != v.From.Unit.Dimension || v.From.Unit.Dimension != v.To.Unit.Dimension || v.From.Unit.Dimension != v.Step.Unit.Dimension:
		p.faultSpan(v.From.Span, what+" is "+now.Unit.Dimension.String(), "give the range and the step in "+now.Unit.Symbol)
	case step <= 0:
		p.faultSpan(v.Step.Span, "a step must be more than 0", "write the steps in which the number goes up")
	case from >= to:
		p.faultSpan(v.To.Span, "the range runs from "+v.From.Quantity.String()+" to "+v.To.Quantity.String()+", which is not more", "write the least value first")
	case n > 10000:
		p.faultSpan(v.Step.Span, "this step gives more than 10 000 values", "make it greater")
	case math.Abs(from+n*step-to) > 1e-9*math.Max(math.Abs(to), step):
		p.faultSpan(v.Step.Span, "steps of "+v.Step.Quantity.String()+" from "+v.From.Quantity.String()+" do not reach "+v.To.Quantity.String(), "change the step or the end of the range")
	case from < 0 && v.Attribute != "angle", from == 0 && v.Attribute != "at" && v.Attribute != "from" && v.Attribute != "angle" && v.Attribute != "centre":
		p.faultSpan(v.From.Span, what+" would be "+v.From.Quantity.String(), "begin the range above 0")
	default:
		p.checkVaryPlace(v)
	}
}

// checkVaryPlace checks that a place stays on its body.
func (p *parser) checkVaryPlace(v *Vary) {
	var b *Body
	switch v.Attribute {
	case "at", "from", "to":
		b = p.q.Body(p.q.placeOf(v.Thing).Body)
	case "centre":
		b = p.q.Body(v.Thing)
	}
	if b != nil && b.Length.Known() && v.To.SI() > b.Length.SI() {
		p.faultSpan(v.To.Span, v.Thing+" would reach "+v.To.Quantity.String()+", but "+b.Name+" ends at "+b.Length.Quantity.String(), "end the range sooner")
	}
}

// attributesOf are the numbers that are given of a thing.
func (q *Question) attributesOf(thing string) []string {
	var out []string
	for _, a := range attributes {
		if v := q.Value(thing, a); v != nil && v.Known() {
			out = append(out, a)
		}
	}
	return out
}

// checkText checks the placeholders of the author's wording.
func (p *parser) checkText() {
	for n, l := range p.q.lines {
		switch l.statement {
		case textLine:
			if l.index < len(p.q.Text) {
				p.checkPlaceholders(p.q.Text[l.index], n+1)
			}
		case partLine:
			if l.index < len(p.q.Parts) {
				p.checkPlaceholders(p.q.Parts[l.index].Text, n+1)
			}
		}
	}
}

func (p *parser) checkPlaceholders(text string, line int) {
	for rest := text; ; {
		i := strings.IndexAny(rest, "{}")
		if i < 0 {
			return
		}
		n := strings.IndexByte(rest[i:], '}')
		if rest[i] == '}' || n < 0 {
			p.faultSpan(p.find(line, rest[i:i+1]), "this brace has no partner", "write a placeholder as {K.weight}")
			return
		}
		hole := rest[i+1 : i+n]
		if what, mend := p.q.placeholderFault(p, hole); what != "" {
			p.faultSpan(p.find(line, rest[i:i+n+1]), what, mend)
		}
		rest = rest[i+n+1:]
	}
}

// placeholderFault says what is wrong with a placeholder; what is "" if nothing is.
func (q *Question) placeholderFault(p *parser, hole string) (what, mend string) {
	if hole == "g" {
		return "", ""
	}
	thing, attribute, dotted := strings.Cut(hole, ".")
	if !dotted {
		return "the placeholder {" + clip(hole) + "} names no number", "write a thing and its number, such as {K.weight}, or {g}"
	}
	if kind, _ := p.kindOf(thing); kind == 0 {
		return "there is nothing called " + clip(thing), didYouMean(thing, p.names(anyName))
	}
	v := q.Value(thing, attribute)
	if v == nil || v.Status == Absent {
		return thing + " has no number called " + clip(attribute), didYouMean(attribute, q.attributesOf(thing))
	}
	if v.Status == Unknown {
		return "the " + attributeNoun(attribute) + " of " + thing + " is unknown, so the wording cannot state it", "take the placeholder out"
	}
	return "", ""
}

// find is where a piece of text stands in a line of the file.
func (p *parser) find(line int, piece string) Span {
	s := p.source[line-1]
	i := strings.Index(s, piece)
	if i < 0 {
		return Span{line, 1, 2}
	}
	c := utf8.RuneCountInString(s[:i]) + 1
	return Span{line, c, c + utf8.RuneCountInString(piece)}
}
