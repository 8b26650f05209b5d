package question

import "steelyard/quantity"

var loadClauses = []string{"weight", "mass", "on", "hung from"}

// load reads a line that begins with load, force or couple.
func (p *parser) load(kind LoadKind) int {
	l := Load{Kind: kind}
	word, example := "load", "load K: weight 540 N, on plank at 1.50 m"
	switch kind {
	case Force:
		word, example = "force", "force E: 40 N up, on lever at 1.20 m"
	case Couple:
		word, example = "couple", "couple C: 8 N m clockwise, on plank"
	}
	var ok bool
	l.Name, l.Span, ok = p.name(word, example)
	for more := ok; more; {
		more = p.clause(p.loadClause(&l))
	}
	p.q.Loads = append(p.q.Loads, l)
	return len(p.q.Loads) - 1
}

func (p *parser) loadClause(l *Load) (ok bool) {
	t := p.peek()
	switch {
	case t.kind == textToken:
		return p.label(&l.Label)
	case l.Kind == Weight && p.accept("weight"):
		return p.positiveInto(&l.Weight, quantity.Force, "the weight", true)
	case l.Kind == Weight && p.accept("mass"):
		return p.positiveInto(&l.Mass, quantity.Mass, "the mass", true)
	case p.accept("on"), p.accept("hung", "from"):
		if l.On.Body != "" {
			p.faultTok(t, "it is said twice where "+l.Name+" acts", "keep one of the two")
			return false
		}
		l.Hung = t.text == "hung"
		return p.loadPlace(l)
	case t.kind == numberToken, t.is("unknown"):
		return p.loadSize(l)
	}
	switch l.Kind {
	case Force:
		p.unknownClause(t, "a force", []string{"40 N up", "on"})
	case Couple:
		p.unknownClause(t, "a couple", []string{"8 N m clockwise", "on"})
	default:
		p.unknownClause(t, "a load", loadClauses)
	}
	return false
}

// loadPlace reads "plank at 1.50 m" or "deck from 1.0 m to 3.0 m".
func (p *parser) loadPlace(l *Load) (ok bool) {
	if p.i+1 < len(p.toks) && p.toks[p.i].kind == wordToken && p.toks[p.i+1].is("from") {
		from := p.here()
		name, span, ok := p.ref("the body")
		p.accept("from")
		l.On.Body, l.On.body = name, span // known even if the places are at fault
		if !ok {
			return false
		}
		if l.On, ok = p.place(); !ok {
			l.On.Body, l.On.body = name, span
			return false
		}
		l.On.Body, l.On.body = name, span
		if !p.wants("to", "write both ends: on deck from 1.0 m to 3.0 m") {
			return false
		}
		if l.To, ok = p.place(); !ok {
			return false
		}
		l.To.Body, l.To.body = name, span
		l.On.Span = p.span(from, p.lastEnd())
		return true
	}
	l.On, ok = p.on(l.Kind == Couple)
	if !ok && l.On.Body == "" {
		l.On.Body = faulty
	}
	return ok
}

// loadSize reads the size of a spread load, a force or a couple, and its direction.
func (p *parser) loadSize(l *Load) (ok bool) {
	t := p.peek()
	if l.Size.Status != Absent {
		p.faultTok(t, "the size is given twice", "keep one of the two")
		return false
	}
	switch l.Kind {
	case Force:
		if l.Size, ok = p.value(quantity.Force, "the force", true); !ok {
			l.Size = Value{Status: Unknown, Span: p.span(t.from, t.to)}
			l.Direction = &Direction{Base: Up}
			return false
		}
		l.Direction, ok = p.direction()
		return ok && p.positive(l.Size, "the force")
	case Couple:
		if l.Size, ok = p.value(quantity.Moment, "the couple", true); !ok {
			l.Size = Value{Status: Unknown, Span: p.span(t.from, t.to)}
			return false
		}
		switch {
		case p.accept("clockwise"):
		case p.accept("anticlockwise"):
			l.Anticlockwise = true
		default:
			p.faultTok(p.peek(), "it does not say which way the couple turns", "add clockwise or anticlockwise after its size")
			return false
		}
		return p.positive(l.Size, "the couple")
	}
	if u := p.unitAhead(); u == quantity.Force || u == quantity.Mass {
		word := "weight"
		if u == quantity.Mass {
			word = "mass"
		}
		p.faultTok(t, "it does not say what this number is", "write "+word+" before it")
		l.Size = Value{}
		l.Weight = Value{Status: Unknown, Quantity: quantity.Quantity{Unit: quantity.Unit{Symbol: faulty}}}
		return false
	}
	l.Kind = Spread
	l.Size, ok = p.valueOf("the load for each metre", true, quantity.LineLoad, quantity.LineDensity)
	if !ok {
		l.Size = Value{Status: Unknown, Span: p.span(t.from, t.to)}
	}
	return ok && p.positive(l.Size, "the load for each metre")
}

// unitAhead is the dimension of the unit after the number that comes next.
func (p *parser) unitAhead() quantity.Dimension {
	if p.i+1 < len(p.toks) && p.toks[p.i+1].kind == wordToken {
		if u, ok := quantity.UnitNamed(p.toks[p.i+1].text); ok {
			return u.Dimension
		}
	}
	return quantity.Number
}

var conditionHelp = "write given Q = 3 P, given about to tip about Q, given about to lift at P, or given about to slip at F"

// condition reads what follows given.
func (p *parser) condition(first token) int {
	c := Condition{Span: p.span(first.from, first.to)}
	var ok bool
	switch {
	case p.accept("about", "to", "tip", "about"):
		c.Kind = AboutToTip
		c.Name, c.name, _ = p.ref("the support")
	case p.accept("about", "to", "slip", "at"):
		c.Kind = AboutToSlip
		c.Name, c.name, _ = p.ref("the support")
	case p.accept("about", "to", "lift", "at"):
		c.Kind = AboutToLift
		c.Name, c.name, _ = p.ref("the support")
	case p.peek().is("about"):
		p.faultTok(p.peek(), "this condition is not known", conditionHelp)
		p.i = len(p.toks)
	default:
		p.accept("force")
		if c.Name, c.name, ok = p.ref("the support"); !ok {
			p.i = len(p.toks)
			break
		}
		if !p.acceptMark('=') {
			p.faultTok(p.peek(), "this condition is not known", conditionHelp)
			p.i = len(p.toks)
			break
		}
		if t := p.peek(); t.kind == numberToken {
			c.Factor, ok = p.factor(t)
			if ok && c.Factor.Value <= 0 {
				p.positive(c.Factor, "the factor")
			}
		}
		p.accept("force")
		if ok {
			c.Other, c.other, _ = p.ref("the other support")
		} else {
			p.i = len(p.toks)
		}
	}
	p.q.Conditions = append(p.q.Conditions, c)
	return len(p.q.Conditions) - 1
}

// factor reads a plain number before a name.
func (p *parser) factor(t token) (Value, bool) {
	p.i++
	q, err := quantity.Parse(t.text, quantity.Number, quantity.Unit{})
	if err != nil {
		r := err.(*quantity.Refusal)
		p.faultTok(t, r.What, r.Mend)
		return Value{}, false
	}
	return Value{Quantity: q, Status: Given, Span: p.span(t.from, t.to)}, true
}

// vary reads: vary K.weight 480 N to 620 N step 20 N.
func (p *parser) vary(first token) int {
	const example = "vary K.weight 480 N to 620 N step 20 N"
	v := Vary{Span: p.span(first.from, first.to)}
	t := p.peek()
	v.thing = p.span(t.from, t.to)
	thing, attribute, dotted := cutDot(t.text)
	if t.kind != wordToken || !dotted {
		p.faultTok(t, "it does not say which number varies", "write "+example)
		p.i = len(p.toks)
	} else {
		p.i++
		v.Thing, v.Attribute = thing, attribute
		var ok bool
		dims := dimensionsOf(attribute)
		if dims == nil {
			p.faultTok(t, clip(attribute)+" is no number that can vary", didYouMean(attribute, attributes))
			p.i = len(p.toks)
		} else if v.From, ok = p.valueOf("the least value", false, dims...); ok && p.wants("to", "write "+example) {
			if v.To, ok = p.valueOf("the greatest value", false, dims...); ok && p.wants("step", "write "+example) {
				v.Step, _ = p.valueOf("the step", false, dims...)
			}
		}
		if v.Step.Status == Absent {
			p.i = len(p.toks)
		}
	}
	p.q.Vary = append(p.q.Vary, v)
	return len(p.q.Vary) - 1
}
