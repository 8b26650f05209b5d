package question

import (
	"strconv"
	"strings"

	"steelyard/quantity"
)

// asks are the things that can be asked for, as written after find.
var asks = []string{
	"force", "tension", "thrust", "reading", "horizontal force", "vertical force", "direction of force",
	"normal force", "friction", "couple", "weight", "mass", "size", "position", "centre of mass", "angle",
	"coefficient", "furthest", "range", "greatest", "least", "moment", "total moment about", "resultant", "whether it stays",
}

// part reads: part a: find force P  marks 3  figures 3  "own words".
func (p *parser) part() int {
	a := Part{}
	var ok bool
	a.Name, a.Span, ok = p.name("part", "part a: find force P marks 3")
	asked := false
	for ok && p.peek().kind != endToken {
		t := p.peek()
		switch {
		case p.accept("find"), p.accept("show"):
			if asked {
				p.faultTok(t, "this part asks for two things", "give each its own part")
				ok = false
				break
			}
			asked = true
			a.thing = p.span(t.from, t.to)
			ok = p.ask(&a)
			if ok && t.text == "show" {
				ok = p.wants("is", "write the value to be shown: show force P is 240 N") && p.shown(&a)
			}
		case p.accept("marks"):
			ok = p.count(&a.Marks, "the marks", 100)
		case p.accept("figures"):
			ok = p.count(&a.Figures, "the figures", 10)
		case t.kind == textToken:
			ok = p.label(&a.Text)
		case p.acceptMark(','):
		default:
			word := strconv.Quote(clip(p.text[t.from:t.to]))
			mend := "write find and what is asked, such as find force P; your own words stand in quotation marks"
			if w := nearest(t.text, []string{"find", "show", "marks", "figures"}); w != "" {
				mend = "did you mean " + strconv.Quote(w) + "?"
			}
			if asked {
				mend = "after what is asked come marks, figures and own words in quotation marks"
			} else if nearest(t.text, asks) != "" || t.is("the") {
				mend = "write find before it"
			}
			p.faultTok(t, word+" was not expected here", mend)
			ok = false
			asked = true
		}
	}
	if ok && !asked {
		p.faultSpan(a.Span, "part "+a.Name+" asks for nothing", "write what it asks for: part "+a.Name+": find force P")
	}
	if !ok {
		p.i = len(p.toks)
		a.Ask, a.Thing = AskWhether, ""
	}
	p.q.Parts = append(p.q.Parts, a)
	return len(p.q.Parts) - 1
}

// count reads a small whole number.
func (p *parser) count(n *int, what string, most int) bool {
	t := p.next()
	v, err := strconv.Atoi(t.text)
	switch {
	case t.kind != numberToken || err != nil:
		p.faultTok(t, what+" are a whole number", "write marks 3 or figures 3")
	case v < 1 || v > most:
		p.faultTok(t, what+" must be from 1 to "+strconv.Itoa(most), "")
	case *n != 0:
		p.faultTok(t, what+" are given twice", "keep one of the two")
	default:
		*n = v
		return true
	}
	return false
}

// ask reads what is asked.
func (p *parser) ask(a *Part) (ok bool) {
	t := p.peek()
	p.accept("the")
	about := func(k Ask) bool {
		a.Ask = k
		p.accept("of")
		p.accept("in")
		p.accept("at")
		a.Thing, a.thing, ok = p.ref("what is asked about")
		return ok
	}
	switch {
	case p.accept("whether"):
		a.Ask = AskWhether
		return p.accept("it", "stays") || p.wants("it stays", "write find whether it stays")
	case p.accept("horizontal", "force"):
		return about(AskAcross)
	case p.accept("vertical", "force"):
		return about(AskUpright)
	case p.accept("direction", "of", "force"), p.accept("direction", "of"), p.accept("direction"):
		return about(AskDirection)
	case p.accept("normal", "force"):
		return about(AskNormal)
	case p.accept("friction"):
		return about(AskFriction)
	case p.accept("force"):
		if !about(AskForce) || !p.accept("on") {
			return ok
		}
		a.Ask = AskForceOn
		a.Other, a.other, ok = a.Thing, a.thing, true
		a.Thing, a.thing, ok = p.ref("the support")
		return ok
	case p.accept("tension"), p.accept("thrust"), p.accept("reading"):
		return about(AskForce)
	case p.accept("couple"):
		return about(AskCouple)
	case p.accept("weight"):
		return about(AskWeight)
	case p.accept("mass"):
		return about(AskMass)
	case p.accept("size"):
		return about(AskSize)
	case p.accept("position"):
		return about(AskPosition)
	case p.accept("centre", "of", "mass"), p.accept("center", "of", "mass"):
		return about(AskCentre)
	case p.accept("angle"):
		return about(AskAngle)
	case p.accept("coefficient", "of", "friction"), p.accept("coefficient"):
		return about(AskCoefficient)
	case p.accept("furthest"):
		if !about(AskFurthest) || !p.wants("towards", "write find furthest K towards left") {
			return false
		}
		switch u := p.peek(); p.compass() {
		case ToLeft:
			a.Towards = ToLeft
		case ToRight:
			a.Towards = ToRight
		default:
			p.faultTok(u, "it does not say which way", "write towards left or towards right")
			return false
		}
		return true
	case p.accept("range"):
		return about(AskRange)
	case p.accept("greatest"):
		a.OfAngle = p.accept("angle")
		return about(AskGreatest)
	case p.accept("least", "coefficient"):
		return about(AskLeastCoefficient)
	case p.accept("least"):
		a.OfAngle = p.accept("angle")
		return about(AskLeast)
	case p.accept("total", "moment"):
		a.Ask = AskTotalMoment
		return p.wants("about", "write find total moment about P") && p.pivot(a)
	case p.accept("moment"):
		return about(AskMoment) && p.wants("about", "write find moment K about P") && p.pivot(a)
	case p.accept("resultant"):
		return about(AskResultant)
	}
	if t.kind == endToken {
		p.faultTok(t, "what is asked for is missing", "such as find force P")
		return false
	}
	words := make([]string, 0, 2*len(asks))
	for _, c := range asks {
		words = append(words, c, firstWord(c))
	}
	mend := "there is " + list(asks, "and")
	if w := nearest(t.text, words); w != "" {
		mend = "did you mean " + strconv.Quote(w) + "?"
	}
	p.faultTok(t, strconv.Quote(clip(p.text[t.from:t.to]))+" is nothing that can be asked for", mend)
	return false
}

// pivot reads the point about which a moment is asked for: P, left end of plank, 2.00 m on plank.
func (p *parser) pivot(a *Part) (ok bool) {
	t := p.peek()
	if t.kind == wordToken && !isEnd(t.text) && t.text != "point" && isName(t.text) {
		a.Other, a.other, ok = p.ref("the point")
		return ok
	}
	if p.accept("point") {
		a.Other, a.other, ok = p.ref("the point")
		return ok
	}
	if a.Place, ok = p.place(); !ok {
		return false
	}
	if a.Place.At.Status == Unknown {
		p.faultSpan(a.Place.Span, "the pivot cannot be unknown", "give its place, such as about 2.00 m on plank")
		return false
	}
	if a.Place.XY != nil && !p.peek().is("on") {
		return true // a point of the plane
	}
	if !p.accept("of") && !p.wants("on", "name the body, such as about 2.00 m on plank") {
		return false
	}
	a.Place.Body, a.Place.body, ok = p.ref("the body")
	return ok
}

// shown reads the printed value of a part.
func (p *parser) shown(a *Part) (ok bool) {
	a.Show, ok = p.valueOf("the value to be shown", false, dimensionsAsked(*a)...)
	return ok
}

// dimensionsAsked are what the answer to a part may be measured in.
func dimensionsAsked(a Part) []quantity.Dimension {
	switch a.Ask {
	case AskCouple, AskMoment, AskTotalMoment:
		return []quantity.Dimension{quantity.Moment}
	case AskMass:
		return []quantity.Dimension{quantity.Mass}
	case AskPosition, AskCentre, AskFurthest, AskRange:
		return []quantity.Dimension{quantity.Length}
	case AskAngle, AskDirection:
		return []quantity.Dimension{quantity.Angle}
	case AskCoefficient, AskLeastCoefficient:
		return []quantity.Dimension{quantity.Number}
	case AskGreatest, AskLeast:
		if a.OfAngle {
			return []quantity.Dimension{quantity.Angle}
		}
		return []quantity.Dimension{quantity.Force, quantity.Mass, quantity.Moment}
	case AskSize:
		return []quantity.Dimension{quantity.Force, quantity.Moment}
	}
	return []quantity.Dimension{quantity.Force}
}

func cutDot(s string) (thing, attribute string, ok bool) { return strings.Cut(s, ".") }

func firstWord(s string) string {
	s, _, _ = strings.Cut(s, " ")
	return s
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
