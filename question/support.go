package question

import (
	"strconv"
	"strings"

	"steelyard/quantity"
)

// kinds are the words for the kinds of support, as written after "support P:".
var kinds = []struct {
	word string
	kind Kind
}{
	{"rest", Rest}, {"pivot", Pivot}, {"hinge", Hinge}, {"clamp", Clamp}, {"strap", Strap},
	{"force meter", Meter}, {"spring", Spring}, {"floor", Floor}, {"wall", Wall}, {"slope", Slope}, {"roller", Roller},
}

// String returns the word for a kind of support.
func (k Kind) String() string {
	switch k {
	case Cable:
		return "cable"
	case Strut:
		return "strut"
	case Link:
		return "link"
	}
	for _, w := range kinds {
		if w.kind == k {
			return w.word
		}
	}
	return "support"
}

func kindWords() []string {
	var w []string
	for _, k := range kinds {
		w = append(w, k.word)
	}
	return w
}

var supportClauses = []string{
	"on", "by", "smooth", "rough", "coefficient", "above", "pushes", "pulls", "reading", "force",
}

// support reads a line that begins with support, cable, strut or link.
func (p *parser) support(kind Kind) int {
	s := Support{Kind: kind}
	word, example := "support", "support P: rest, on plank at 0.60 m"
	switch kind {
	case Cable:
		word, example = "cable", "cable T: on arm at right end, to (0 m, 1.05 m)"
	case Strut:
		word, example = "strut", "strut S: on arm at 0.80 m, from (0 m, -0.67 m)"
	case Link:
		word, example = "link", "link L: on arm at right end, to (0 m, 1.05 m)"
	}
	var ok bool
	s.Name, s.Span, ok = p.name(word, example)
	if ok && kind == Rest {
		ok = p.kind(&s)
		if ok {
			ok = p.peek().kind != endToken
			if ok {
				ok = p.clause(true)
			}
		}
	}
	for more := ok; more; {
		more = p.clause(p.supportClause(&s))
	}
	p.q.Supports = append(p.q.Supports, s)
	return len(p.q.Supports) - 1
}

// kind reads what kind of support it is.
func (p *parser) kind(s *Support) bool {
	t := p.peek()
	for _, k := range kinds {
		first, second, two := strings.Cut(k.word, " ")
		if !(two && p.accept(first, second) || !two && p.accept(first)) {
			continue
		}
		s.Kind = k.kind
		if k.kind == Slope {
			return p.into(&s.Angle, quantity.Angle, "the angle of the slope", true)
		}
		return true
	}
	s.Kind = Clamp // the most general: no further fault follows from it
	if t.kind == wordToken {
		mend := didYouMean(t.text, kindWords())
		switch t.text {
		case "cable", "strut", "link":
			mend = "begin the line with " + t.text + " in place of support"
			s.Kind = map[string]Kind{"cable": Cable, "strut": Strut, "link": Link}[t.text]
		}
		p.faultTok(t, strconv.Quote(clip(t.text))+" is no kind of support", mend)
	} else {
		p.faultTok(t, "the kind of support is missing", "there is "+list(kindWords(), "and"))
	}
	p.clause(false)
	for more := p.i < len(p.toks); more; { // what it stands on is still worth knowing
		more = p.clause(p.supportClause(s))
	}
	return false
}

func (p *parser) supportClause(s *Support) (ok bool) {
	t := p.peek()
	line := s.Kind == Cable || s.Kind == Strut || s.Kind == Link
	switch {
	case t.kind == textToken:
		return p.label(&s.Label)
	case p.accept("on"):
		if s.On.Body != "" {
			p.faultTok(t, "it is said twice where "+s.Name+" acts", "keep one of the two")
			return false
		}
		s.On, ok = p.on(s.Kind == Floor || s.Kind == Slope)
		if !ok && s.On.Body == "" {
			s.On.Body = faulty
		}
		return ok
	case p.accept("by"):
		s.By, ok = p.on(false)
		return ok
	case line && (p.accept("to") || p.accept("from")):
		return p.farEnd(s, t)
	case p.accept("smooth"):
		return p.once(t, &s.Smooth)
	case p.accept("rough"):
		return p.once(t, &s.Rough)
	case p.accept("coefficient"), p.accept("coefficient", "of", "friction"):
		return p.coefficient(s)
	case p.accept("above"):
		return p.once(t, &s.Above)
	case (s.Kind == Cable || s.Kind == Link) && t.is("pushes"), s.Kind == Strut && t.is("pulls"):
		right := "pulls"
		if s.Kind == Strut {
			right = "pushes"
		}
		p.faultTok(t, "the direction of a "+s.Kind.String()+" is that in which it "+right, "write "+right+" and the direction")
		return false
	case p.accept("pushes"), p.accept("pulls"), line && t.is("at"):
		if s.Direction != nil {
			p.faultTok(t, "the direction is given twice", "keep one of the two")
			return false
		}
		s.Direction, ok = p.direction()
		return ok
	case p.accept("reading"), p.accept("force"), p.accept("tension"), p.accept("thrust"):
		return p.into(&s.Reading, quantity.Force, "the force", true)
	}
	clauses := supportClauses
	switch s.Kind {
	case Cable, Link:
		clauses = []string{"on", "to", "at", "pulls", "tension"}
	case Strut:
		clauses = []string{"on", "from", "at", "pushes", "thrust"}
	}
	p.unknownClause(t, "a "+s.Kind.String(), clauses)
	return false
}

func (p *parser) coefficient(s *Support) bool {
	p.accept("of", "friction")
	if !p.into(&s.Mu, quantity.Number, "the coefficient of friction", true) {
		return false
	}
	if s.Mu.Status == Given && s.Mu.Value < 0 {
		return p.positive(s.Mu, "the coefficient of friction")
	}
	if t := p.peek(); s.Mu.Known() && t.kind == wordToken {
		p.faultTok(t, "a coefficient of friction has no unit", "write coefficient "+s.Mu.Quantity.String())
		return false
	}
	return true
}

// farEnd reads where the other end of a cable, strut or link is.
func (p *parser) farEnd(s *Support, t token) (ok bool) {
	if s.To != nil || s.ToPoint != "" || s.By.Body != "" {
		p.faultTok(t, "the other end is given twice", "keep one of the two")
		return false
	}
	if p.peek().mark('(') {
		xy, ok := p.xy()
		s.To = &xy
		return ok
	}
	p.accept("point")
	if u := p.peek(); u.kind == wordToken && isName(u.text) && (p.i+1 == len(p.toks) || p.toks[p.i+1].mark(',')) {
		p.i++
		s.ToPoint, s.By.Span = u.text, p.span(u.from, u.to)
		return true
	}
	s.By, ok = p.on(false)
	return ok
}
