package question

import (
	"math"
	"strings"

	"steelyard/quantity"
)

// Warnings lists what a careful author would look at again, though the question can be worked
// out: the wording leaves out something that the picture does not show, or states a number that
// is nowhere in the arrangement; no marks; names that are read as units or moments.
//
// Lengths, places and angles stand in the picture, so the wording need not repeat them. Weights,
// masses, coefficients, readings, and the words uniform and light do not.
func (q *Question) Warnings() []Fault {
	w := &warner{q: q}
	for _, n := range q.things() {
		if n.name == "N" || n.name == "M" {
			what := map[string]string{"N": "the newton", "M": "a moment"}[n.name]
			w.warn(n.span, "the name "+n.name+" is easily read as "+what, "choose another letter")
		}
	}
	if len(q.Parts) == 0 {
		w.warn(Span{1, 1, 2}, "nothing is asked", "add a line such as part a: find force P marks 3")
	}
	for i := range q.Parts {
		if a := &q.Parts[i]; a.Marks == 0 {
			w.warn(a.Span, "part "+a.Name+" has no marks", "add marks 3 at the end of its line")
		}
	}
	w.varying()
	if len(q.Text) > 0 {
		w.wording()
	}
	return w.faults
}

type warner struct {
	q      *Question
	faults []Fault
}

func (w *warner) warn(s Span, what, mend string) {
	w.faults = append(w.faults, Fault{File: w.q.File, Span: s, What: what, Mend: mend})
}

// varying warns of a number that lies outside the range in which it varies.
func (w *warner) varying() {
	for _, v := range w.q.Vary {
		if now := w.q.Value(v.Thing, v.Attribute); now != nil && now.Known() && (now.SI() < v.From.SI() || now.SI() > v.To.SI()) {
			w.warn(v.Span, "the "+attributeNoun(v.Attribute)+" of "+v.Thing+" is "+now.Quantity.String()+", outside the range in which it varies", "make the range include it")
		}
	}
}

// wording warns of what the author's own wording leaves out or states otherwise.
func (w *warner) wording() {
	q := w.q
	text := strings.Join(q.Text, " ")
	for i := range q.Parts {
		text += " " + q.Parts[i].Text
	}
	filled := quantity.Plain(q.Fill(text))
	stated := quantitiesIn(filled)
	span := q.spanOf(textLine)
	says := func(v Value) bool {
		for _, s := range stated {
			if s.Unit.Dimension == v.Unit.Dimension && s.SI() == v.SI() {
				return true
			}
		}
		return false
	}
	needs := func(v Value, what, placeholder string) {
		if v.Known() && !says(v) {
			w.warn(span, "the wording does not state "+what+", "+v.Quantity.String(), "add {"+placeholder+"}")
		}
	}
	lower := strings.ToLower(filled)
	for i := range q.Bodies {
		b := &q.Bodies[i]
		needs(b.Weight, "the weight of "+b.Name, b.Name+".weight")
		needs(b.Mass, "the mass of "+b.Name, b.Name+".mass")
		if b.Uniform && b.Shape != Frame && !strings.Contains(lower, "uniform") {
			w.warn(span, "the wording does not say that "+b.Name+" is uniform", "add the word uniform")
		}
		if b.Light && !strings.Contains(lower, "light") && !strings.Contains(lower, "weight of the "+strings.ToLower(b.noun())) && !strings.Contains(lower, "neglig") {
			w.warn(span, "the wording does not say that "+b.Name+" is light", "add the word light")
		}
		for j := range b.Pieces {
			c := &b.Pieces[j]
			needs(c.Mass, "the mass of "+c.Name, c.Name+".mass")
			needs(c.Weight, "the weight of "+c.Name, c.Name+".weight")
			needs(c.Density, "the density of "+c.Name, c.Name+".density")
		}
	}
	for i := range q.Supports {
		s := &q.Supports[i]
		needs(s.Mu, "the coefficient of friction at "+s.Name, s.Name+".coefficient")
		needs(s.Reading, "the force of "+s.Name, s.Name+".reading")
		if s.Rough && s.Mu.Status == Absent && !strings.Contains(lower, "rough") {
			w.warn(span, "the wording does not say that "+s.Name+" is rough", "add the word rough")
		}
		if s.Kind == Wall && !s.Rough && s.Mu.Status == Absent && !strings.Contains(lower, "smooth") {
			w.warn(span, "the wording does not say that "+s.Name+" is smooth", "add the word smooth")
		}
	}
	for i := range q.Loads {
		l := &q.Loads[i]
		needs(l.Weight, "the weight of "+l.Name, l.Name+".weight")
		needs(l.Mass, "the mass of "+l.Name, l.Name+".mass")
		needs(l.Size, "the size of "+l.Name, l.Name+".size")
	}
	if q.NeedsField() && !strings.Contains(text, "{g}") && !says(Value{Quantity: q.FieldStrength(), Status: Given}) {
		w.warn(span, "the wording does not state g, which is needed", "add g = {g}")
	}
	w.literal(span)
}

// literal warns of numbers written out in the wording that the arrangement does not have, or that
// vary and so need a placeholder.
func (w *warner) literal(span Span) {
	q := w.q
	values := q.values()
	text := strings.Join(q.Text, " ")
	for _, s := range quantitiesIn(withoutPlaceholders(text)) {
		known := s.Unit.Dimension == quantity.Number
		for _, v := range values {
			known = known || v.Unit.Dimension == s.Unit.Dimension && math.Abs(v.SI()) == s.SI() // a place left of or below zero is said without its sign
		}
		if s.Unit.Dimension == quantity.Field && s.SI() == q.FieldStrength().SI() {
			known = true
		}
		if !known {
			w.warn(span, "the wording states "+s.String()+", which is nowhere in the arrangement", "correct it, or use a placeholder such as {K.weight}")
		}
		for _, v := range q.Vary {
			if now := q.Value(v.Thing, v.Attribute); now != nil && now.Known() && now.Unit.Dimension == s.Unit.Dimension && now.SI() == s.SI() {
				w.warn(span, "the wording states "+s.String()+" itself, though the "+attributeNoun(v.Attribute)+" of "+v.Thing+" varies", "write {"+v.Thing+"."+v.Attribute+"}")
			}
		}
	}
}

func withoutPlaceholders(text string) string {
	for {
		before, rest, open := strings.Cut(text, "{")
		if !open {
			return text
		}
		_, after, _ := strings.Cut(rest, "}")
		text = before + "…" + after
	}
}

// spanOf is where the first line of a kind stands.
func (q *Question) spanOf(s statement) Span {
	for i, l := range q.lines {
		if l.statement == s {
			return Span{i + 1, 1, 2}
		}
	}
	return Span{1, 1, 2}
}

// quantitiesIn finds the quantities in a plain text, with their units or as plain numbers.
func quantitiesIn(text string) []quantity.Quantity {
	var out []quantity.Quantity
	for i := 0; i < len(text); {
		if !startsNumber(text[i:]) || i > 0 && (isDigit(text[i-1]) || text[i-1] == '.' || text[i-1] == '-' || isName(text[i-1:i])) {
			i++
			continue
		}
		n := numberLength(text[i:])
		rest := text[i+n:]
		unit := ""
		words := strings.Fields(rest)
		for k := 1; k <= 2 && k <= len(words); k++ {
			u := strings.TrimRight(strings.Join(words[:k], " "), ".,;:)?!\"'")
			if _, ok := quantity.UnitNamed(u); ok {
				unit = u
			}
		}
		if u, ok := quantity.UnitNamed(unit); ok && unit != "" {
			if q, err := quantity.Parse(text[i:i+n]+" "+unit, u.Dimension, quantity.Unit{}); err == nil {
				out = append(out, q)
			}
		}
		if unit == "" {
			if q, err := quantity.Parse(text[i:i+n], quantity.Number, quantity.Unit{}); err == nil {
				out = append(out, q)
			}
		}
		i += n
	}
	return out
}

// values lists every number that is given in the arrangement.
func (q *Question) values() []Value {
	var out []Value
	add := func(vs ...Value) {
		for _, v := range vs {
			if v.Known() {
				out = append(out, v)
			}
		}
	}
	xy := func(p *XY) {
		if p != nil {
			add(p.X, p.Y)
		}
	}
	place := func(p Place) { add(p.At); xy(p.XY) }
	for i := range q.Bodies {
		b := &q.Bodies[i]
		add(b.Length, b.Height, b.Weight, b.Mass, b.Angle, b.Rule)
		place(b.Centre)
		xy(b.At)
		for j := range b.Pieces {
			c := &b.Pieces[j]
			add(c.Width, c.Height, c.Mass, c.Weight, c.Density)
			xy(&c.From)
			xy(&c.To)
			xy(&c.Third)
		}
	}
	for i := range q.Points {
		place(q.Points[i].Place)
	}
	for i := range q.Supports {
		s := &q.Supports[i]
		add(s.Mu, s.Angle, s.Reading)
		place(s.On)
		place(s.By)
		xy(s.To)
		if s.Direction != nil {
			add(s.Direction.Angle)
		}
	}
	for i := range q.Loads {
		l := &q.Loads[i]
		add(l.Size, l.Weight, l.Mass)
		place(l.On)
		place(l.To)
		if l.Direction != nil {
			add(l.Direction.Angle)
		}
	}
	for i := range q.Parts {
		add(q.Parts[i].Show)
	}
	return out
}
