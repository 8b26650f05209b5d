package question

import (
	"slices"
	"strconv"

	"steelyard/quantity"
)

var bodyClauses = []string{
	"uniform", "light", "length", "weight", "mass", "centre of mass", "angle", "marks every",
	"zero at right end", "placed at", "block", "frame",
}

// body reads: body plank: uniform, length 4.80 m, weight 310 N, "footbridge".
func (p *parser) body() int {
	b := Body{}
	var ok bool
	b.Name, b.Span, ok = p.name("body", "body plank: uniform, length 4.80 m, weight 310 N")
	if ok {
		if p.peek().kind == endToken {
			p.faultTok(p.peek(), "nothing is said about "+b.Name, "describe it, such as uniform, length 4.80 m, weight 310 N")
		} else {
			for p.clause(p.bodyClause(&b)) {
			}
		}
	}
	p.q.Bodies = append(p.q.Bodies, b)
	return len(p.q.Bodies) - 1
}

func (p *parser) bodyClause(b *Body) (ok bool) {
	t := p.peek()
	switch {
	case t.kind == textToken:
		return p.label(&b.Label)
	case p.accept("uniform"):
		return p.once(t, &b.Uniform)
	case p.accept("light"):
		return p.once(t, &b.Light)
	case p.accept("frame"):
		b.Shape = Frame
		return true
	case p.accept("block"):
		b.Shape = Block
		return p.positiveInto(&b.Length, quantity.Length, "the length of the base", true) && p.wants("by", "write its base and its height: block 0.60 m by 1.20 m") &&
			p.positiveInto(&b.Height, quantity.Length, "the height", true)
	case p.accept("length"):
		return p.positiveInto(&b.Length, quantity.Length, "the length", true)
	case p.accept("height"):
		return p.positiveInto(&b.Height, quantity.Length, "the height", true)
	case p.accept("weight"):
		return p.positiveInto(&b.Weight, quantity.Force, "the weight", true)
	case p.accept("mass"):
		return p.positiveInto(&b.Mass, quantity.Mass, "the mass", true)
	case p.accept("centre", "of", "mass"), p.accept("center", "of", "mass"):
		if b.Centre.Set() {
			p.faultTok(t, "the centre of mass is given twice", "keep one of the two")
			return false
		}
		p.accept("at")
		b.Centre, ok = p.place()
		return ok
	case p.accept("angle"):
		return p.into(&b.Angle, quantity.Angle, "the angle", true)
	case p.accept("marks", "every"):
		return p.positiveInto(&b.Rule, quantity.Length, "the distance between marks", false)
	case p.accept("zero", "at", "right", "end"):
		return p.once(t, &b.ZeroRight)
	case p.accept("zero", "at", "left", "end"):
		return true
	case p.accept("placed", "at"):
		xy, ok := p.xy()
		if ok && b.At != nil {
			p.faultTok(t, "the body is placed twice", "keep one of the two")
			return false
		}
		b.At = &xy
		return ok
	}
	p.unknownClause(t, "a body", bodyClauses)
	return false
}

var pieceClauses = []string{"rod from", "rectangle", "triangle", "disc radius", "point at", "mass", "weight", "density", "hole"}

// piece reads: piece bar of bracket: rod from (0 m, 0 m) to (0.80 m, 0 m), mass 2.4 kg. It
// returns the number of the piece in its frame, and the frame's name.
func (p *parser) piece() (int, string) {
	const example = "piece bar of bracket: rod from (0 m, 0 m) to (0.80 m, 0 m), mass 2.4 kg"
	c := Piece{}
	t := p.next()
	c.Name, c.Span = t.text, p.span(t.from, t.to)
	if t.kind != wordToken || !isName(t.text) {
		p.faultTok(t, "the name of the piece is missing", "write "+example)
		p.i = len(p.toks)
		return 0, ""
	}
	if !p.accept("of") {
		p.faultTok(p.peek(), "it does not say what "+c.Name+" is a piece of", "write "+example)
		p.i = len(p.toks)
		return 0, ""
	}
	var owner Span
	var ok bool
	c.Body, owner, ok = p.ref("the frame")
	if !ok || !p.acceptMark(':') {
		if ok {
			p.faultTok(p.peek(), "a colon is missing after the name", "write "+example)
		}
		p.i = len(p.toks)
		return 0, ""
	}
	shaped := false
	for p.clause(p.pieceClause(&c, &shaped)) {
	}
	if !shaped {
		p.faultSpan(c.Span, "the shape of "+c.Name+" is missing", "say rod, rectangle, triangle, disc or point")
	}
	b := p.q.Body(c.Body)
	switch {
	case b == nil:
		p.faultSpan(owner, "there is no body "+c.Body+" before this line", "write the line body "+c.Body+": frame above its pieces")
		return 0, ""
	case b.Shape != Frame:
		p.faultSpan(owner, c.Body+" is no frame", "write body "+c.Body+": frame, or take this piece away")
		return 0, ""
	}
	b.Pieces = append(b.Pieces, c)
	return len(b.Pieces) - 1, c.Body
}

func (p *parser) pieceClause(c *Piece, shaped *bool) (ok bool) {
	t := p.peek()
	shape := func(k PieceKind) {
		if *shaped {
			p.faultTok(t, "the shape of "+c.Name+" is given twice", "keep one of the two")
		}
		c.Kind, *shaped = k, true
	}
	switch {
	case t.kind == textToken:
		return p.label(&c.Label)
	case p.accept("rod"):
		shape(RodPiece)
		return p.wants("from", "write rod from (0 m, 0 m) to (0.80 m, 0 m)") && p.corner(&c.From) &&
			p.wants("to", "write rod from (0 m, 0 m) to (0.80 m, 0 m)") && p.corner(&c.To)
	case p.accept("rectangle"):
		shape(Rectangle)
		const example = "write rectangle 0.40 m by 0.20 m at (0 m, 0 m)"
		return p.positiveInto(&c.Width, quantity.Length, "the width", false) && p.wants("by", example) &&
			p.positiveInto(&c.Height, quantity.Length, "the height", false) && p.wants("at", example) && p.corner(&c.From)
	case p.accept("triangle"):
		shape(Triangle)
		return p.corner(&c.From) && p.corner(&c.To) && p.corner(&c.Third)
	case p.accept("disc"):
		shape(Disc)
		const example = "write disc radius 0.10 m at (0 m, 0 m)"
		return p.wants("radius", example) && p.positiveInto(&c.Width, quantity.Length, "the radius", false) &&
			p.wants("at", example) && p.corner(&c.From)
	case p.accept("point"):
		shape(PointMass)
		return p.wants("at", "write point at (0.20 m, 0 m)") && p.corner(&c.From)
	case p.accept("mass"):
		return p.positiveInto(&c.Mass, quantity.Mass, "the mass", true)
	case p.accept("weight"):
		return p.positiveInto(&c.Weight, quantity.Force, "the weight", true)
	case p.accept("density"):
		if c.Density.Status != Absent {
			p.faultTok(t, "the density is given twice", "keep one of the two")
			return false
		}
		c.Density, ok = p.valueOf("the density", false, quantity.AreaDensity, quantity.LineDensity)
		return ok && p.positive(c.Density, "the density")
	case p.accept("hole"):
		return p.once(t, &c.Hole)
	}
	p.unknownClause(t, "a piece", pieceClauses)
	return false
}

// corner reads a point into xy; a comma may stand before it.
func (p *parser) corner(xy *XY) (ok bool) {
	if p.peek().mark(',') {
		p.i++
	}
	*xy, ok = p.xy()
	return ok
}

// point reads: point A: on plank at 2.00 m, or point A: at (0 m, 1.20 m).
func (p *parser) point() int {
	const example = "point A: on plank at 2.00 m"
	var a Point
	var ok bool
	a.Name, a.Span, ok = p.name("point", example)
	for more := ok; more; more = p.clause(ok) {
		t := p.peek()
		switch {
		case t.kind == textToken:
			ok = p.label(&a.Label)
		case p.accept("on"):
			a.Place, ok = p.on(false)
		case p.accept("at"):
			var xy XY
			xy, ok = p.xy()
			a.Place = Place{XY: &xy, Span: xy.Span}
		default:
			ok = false
			p.unknownClause(t, "a point", []string{"on", "at"})
		}
	}
	p.q.Points = append(p.q.Points, a)
	return len(p.q.Points) - 1
}

// label reads what the wording calls a thing.
func (p *parser) label(l *string) bool {
	t := p.next()
	if *l != "" {
		p.faultTok(t, "there are two texts in quotation marks", "keep the one that the wording uses")
		return false
	}
	*l = oneLine(t.text)
	if *l == "" {
		p.faultTok(t, "nothing stands between these quotation marks", "write what the wording calls it, or leave them out")
		return false
	}
	return true
}

// once sets a flag that may be written once.
func (p *parser) once(t token, flag *bool) bool {
	if *flag {
		p.faultTok(t, strconv.Quote(t.text)+" is written twice", "keep one of the two")
		return false
	}
	*flag = true
	return true
}

// into reads a value that may be given once.
func (p *parser) into(v *Value, want quantity.Dimension, what string, mayBeUnknown bool) bool {
	t := p.peek()
	if v.Status != Absent {
		p.faultTok(t, what+" is given twice", "keep one of the two")
		return false
	}
	var ok bool
	*v, ok = p.value(want, what, mayBeUnknown)
	if !ok { // it was meant to be there: no second fault for its absence
		*v = Value{Status: Unknown, Span: p.span(t.from, t.to)}
		v.Unit.Symbol = faulty
	}
	return ok
}

// faulty marks a value that could not be read.
const faulty = "?"

func (p *parser) positiveInto(v *Value, want quantity.Dimension, what string, mayBeUnknown bool) bool {
	if !p.into(v, want, what, mayBeUnknown) {
		return false
	}
	if !p.positive(*v, what) {
		v.Status, v.Unit.Symbol = Unknown, faulty
		return false
	}
	return true
}

// wants takes a word that must come next.
func (p *parser) wants(word, mend string) bool {
	if p.accept(word) {
		return true
	}
	p.faultTok(p.peek(), strconv.Quote(word)+" was expected here", mend)
	return false
}

// example is a clause with a number in it.
func example(clauses []string) string {
	switch {
	case slices.Contains(clauses, "length"):
		return "length 4.80 m or weight 310 N"
	case slices.Contains(clauses, "mass"):
		return "mass 2.4 kg"
	case slices.Contains(clauses, "reading"):
		return "reading 6.4 N or coefficient 0.40"
	}
	return "at 2.00 m"
}

// unknownClause says that t begins no clause of a thing.
func (p *parser) unknownClause(t token, thing string, clauses []string) {
	typed := p.text[t.from:t.to]
	if t.kind == endToken {
		p.faultTok(t, "nothing is said here", "there is "+list(clauses, "and"))
		return
	}
	switch {
	case t.kind == numberToken:
		p.faultTok(t, "it does not say what "+strconv.Quote(clip(typed))+" is", "write a word before it, such as "+example(clauses))
		return
	case t.is("at") && slices.Contains(clauses, "on"):
		p.faultTok(t, "it does not say on which body", "write on plank at 0.60 m")
		return
	}
	words := clauses
	if t.kind == wordToken {
		words = nil
		for _, c := range clauses { // compare first words, suggest the whole
			words = append(words, c, firstWord(c))
		}
	}
	mend := "there is " + list(clauses, "and")
	if w := nearest(typed, words); w != "" {
		for _, c := range clauses {
			if firstWord(c) == w && !slices.Contains(clauses, w) {
				w = c
			}
		}
		mend = "did you mean " + strconv.Quote(w) + "?"
	}
	p.faultTok(t, strconv.Quote(clip(typed))+" is nothing that is said of "+thing, mend)
}
