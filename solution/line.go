package solution

import (
	"math"
	"slices"

	"steelyard/formula"
	"steelyard/statics"
)

func opposite(v statics.Vec) statics.Vec { return statics.Vec{X: -v.X, Y: -v.Y} }

// sides puts the terms with unknown u on the left, and what turns or acts the other way on the right.
func (e *Equation) sides(u int) (left, right []*Term) {
	side := 0
	for i := range e.Terms {
		if t := &e.Terms[i]; t.Force.Size == u || t.Force.Place == u {
			side = t.Sense
			break
		}
	}
	if side == 0 {
		side = 1
	}
	for i := range e.Terms {
		t := &e.Terms[i]
		if t.Sense != side {
			right = append(right, t)
			continue
		}
		if t.Force.Size == u || t.Force.Place == u {
			left = append([]*Term{t}, left...)
		} else {
			left = append(left, t)
		}
	}
	return left, right
}

// A form says how far the numbers of a moment line are worked out.
type form uint8

const (
	asFound   form = iota // 540 N × (1.50 m − 0.60 m)
	asLengths             // 540 N × 0.90 m
	asMoments             // 486 N m
)

// product writes the moment of a term.
func (w *worker) product(t *Term, f form) formula.Node {
	s := w.s
	force := s.node(t.Force, w.values)
	size := t.Force.size(w.values)
	if t.Force.Kind == Turn {
		return force
	}
	if t.Share != nil {
		force = flat(force, t.Share.node())
	}
	placed := w.has(t.Arm.Unknown) && (t.Arm.Trig == nil || w.has(t.Arm.Trig.Unknown))
	known := !math.IsNaN(size) && placed
	if f == asMoments && known {
		return s.number(size*t.Share.value()*t.Arm.Metres(), "N m")
	}
	d := w.slant(t.Arm)
	if f == asFound && t.Arm.Unknown < 0 {
		d = s.shown(t.Arm)
	}
	if f == asMoments && placed {
		return formula.Times(force, s.metres(t.Arm.Metres()))
	}
	switch {
	case t.Arm.Trig == nil:
		return formula.Times(force, d)
	case f != asFound && w.style == perpendicular && t.Arm.Trig.Unknown < 0 && !plainForce(t.Force):
		return formula.Times(force, s.metres(t.Arm.Metres()))
	case w.byComponent(t):
		return flat(force, w.trig(t.Arm.Trig), d)
	case t.Arm.Trig.Unknown < 0 && w.style == perpendicular:
		return formula.Times(force, formula.Bracket(flat(d, t.Arm.Trig.node())))
	}
	return flat(force, d, w.trig(t.Arm.Trig))
}

// has reports whether unknown u has been found; −1 is none.
func (w *worker) has(u int) bool { return u < 0 || !math.IsNaN(w.values[u]) }

// slant is the distance along the body; a place that has been found is a number by now.
func (w *worker) slant(d Distance) formula.Node {
	if d.Unknown >= 0 && w.has(d.Unknown) {
		return w.s.metres(d.Slant)
	}
	return w.s.slant(d)
}

// trig writes a sine or cosine; an angle that has been found is a number by now.
func (w *worker) trig(t *Trig) formula.Node {
	if t.Unknown >= 0 && w.has(t.Unknown) && t.Angle.Op == formula.Sym {
		return formula.Of(t.Func, w.s.number(w.values[t.Unknown], "°"))
	}
	return t.node()
}

// flat is a product without products inside.
func flat(factors ...formula.Node) formula.Node {
	var list []formula.Node
	for _, f := range factors {
		if f.Op == formula.Product {
			list = append(list, f.Args...)
		} else {
			list = append(list, f)
		}
	}
	return formula.Times(list...)
}

func (w *worker) products(terms []*Term, f form) formula.Node {
	nodes := make([]formula.Node, len(terms))
	for i, t := range terms {
		nodes[i] = w.product(t, f)
	}
	return formula.Add(nodes...)
}

// momentLines writes the equation of moments, worked out for unknown u with value v.
func (w *worker) momentLines(e *Equation, u int, v float64) {
	s := w.s
	left, right := e.sides(u)
	lines := []Line{{Formula: formula.Equal(w.products(left, asFound), w.products(right, asFound))}}
	w.mayEarn(moments, 0, e)
	if next := formula.Equal(w.products(left, asLengths), w.products(right, asLengths)); subtracts(e) && !sameText(next, lines[0].Formula) {
		lines = append(lines, Line{Formula: next})
		w.mayEarn(arms, 1, e)
	} else {
		w.mayEarn(arms, 0, e)
	}
	// The moments on each side.
	total := 0.0
	for _, t := range right {
		total += e.size(t, w.values)
	}
	carried := w.carried(left, u)
	turns := s.number(total, "N m")
	lone := len(left) == 1 && left[0].Force.Kind == Turn // a couple is a moment itself: nothing to divide by
	both := math.IsNaN(total)                            // the unknown stands on both sides: there is nothing to add up yet
	switch {
	case lone:
	case both:
		lines = append(lines, Line{Formula: formula.Equal(w.products(left, asMoments), w.products(right, asMoments))})
	case len(right) > 1:
		lines = append(lines, Line{Formula: formula.Equal(w.products(left, asMoments), w.products(right, asMoments), turns)})
	case len(carried) > 0 || len(left) > 1:
		lines = append(lines, Line{Formula: formula.Equal(w.products(left, asMoments), turns)})
	}
	w.step(Writing, nil, lines...)
	if len(right) == 0 && len(left) > 1 && s.unknowns[u].Kind != OfPlace {
		w.step(Reading, say("As drawn, all of these turn it the same way, so they cannot balance unless ", s.unknowns[u].symbol(), " comes out negative: it acts the other way."))
	}
	above := formula.Add(append([]formula.Node{turns}, carried...)...)
	if len(right) == 0 && len(carried) > 0 {
		above = formula.Add(carried...)
	}
	switch sym := s.unknowns[u].symbol(); {
	case s.unknowns[u].Kind == OfPlace:
		w.placeLines(e, u, v, left, above)
	case lone:
		w.step(Solving, nil, w.resultLine(u, v, equalTo(sym, w.products(right, asMoments))...))
	case left[0].Force.Kind == Turn:
		w.step(Solving, nil, w.resultLine(u, v, equalTo(sym, above)...))
	default:
		w.rearranged(e, u, v, above)
	}
}

// rearranged solves an equation of moments for a force: R = 1044 N m / 3.60 m = 290 N. Above is what stands on the
// other side by then; where the unknown stands in several terms, they are gathered first.
func (w *worker) rearranged(e *Equation, u int, v float64, above formula.Node) {
	s := w.s
	left, right := e.sides(u)
	factor := 0.0
	for _, t := range append(append([]*Term(nil), left...), right...) {
		if t.Force.Size != u {
			continue
		}
		c := e.coefficient(t) * t.Force.Factor * float64(left[0].Sense)
		factor += c
	}
	sym := s.unknowns[u].symbol()
	if terms(left, right, u) > 1 {
		rest := 0.0
		for _, t := range right {
			if t.Force.Size != u {
				rest += e.size(t, w.values)
			}
		}
		for _, t := range left {
			if t.Force.Size != u {
				rest -= e.size(t, w.values)
			}
		}
		above = s.number(rest, "N m")
		w.step(Solving, say("Gather the terms in ", sym, "."), Line{Formula: formula.Equal(formula.Times(sym, s.metres(factor)), above)})
	}
	w.step(Solving, nil, w.resultLine(u, v, sym, formula.Frac(above, s.metres(factor))))
}

func terms(left, right []*Term, u int) int {
	n := 0
	for _, t := range append(append([]*Term(nil), left...), right...) {
		if t.Force.Size == u {
			n++
		}
	}
	return n
}

// equalTo leaves a lone number out of a chain whose next link is that number.
func equalTo(sym, above formula.Node) []formula.Node {
	if above.Op == formula.Num {
		return []formula.Node{sym}
	}
	return []formula.Node{sym, above}
}

// carried lists the known moments on the unknown's side, with a minus: they go over to the other side.
func (w *worker) carried(left []*Term, u int) []formula.Node {
	var nodes []formula.Node
	for _, t := range left {
		if t.Force.Size != u && t.Force.Place != u {
			nodes = append(nodes, formula.Minus(w.product(t, asMoments)))
		}
	}
	return nodes
}

// size is the moment or the force of a term, without its sense.
func (e *Equation) size(t *Term, values []float64) float64 {
	return math.Abs(e.coefficient(t)) * t.Force.size(values)
}

func subtracts(e *Equation) bool {
	for i := range e.Terms {
		t := &e.Terms[i]
		if t.Arm.subtracted() || t.Arm.From != nil && t.Arm.Unknown < 0 && (t.Arm.To.Scale.Unit != "m" && !t.Arm.To.Zero || t.Arm.From.Scale.Unit != "m" && !t.Arm.From.Zero) {
			return true
		}
	}
	return false
}

// placeLines finds the place of a force from its distance to the pivot.
func (w *worker) placeLines(e *Equation, u int, v float64, left []*Term, above formula.Node) {
	s := w.s
	var t *Term
	for _, x := range left {
		if x.Force.Place == u {
			t = x
		}
	}
	force := s.node(t.Force, w.values)
	d := s.distanceSymbol(t.Arm)
	below := force
	if t.Arm.Trig != nil {
		below = flat(force, t.Arm.Trig.node())
	}
	b := &s.l.Bodies[t.Force.On]
	if e.Pivot.Mark.Zero && e.Pivot.Body == t.Force.On && v >= 0 {
		w.step(Solving, nil, w.resultLine(u, v, d, formula.Frac(above, below)))
		return
	}
	pivot := b.FromZero(e.Pivot.Mark.Along)
	w.mayEarn(solving, 0, e)
	w.step(Solving, nil, Line{Formula: formula.Equal(d, formula.Frac(above, below), s.metres(math.Abs(v-pivot)))})
	step := s.metres(math.Abs(v - pivot))
	side := "to the right of "
	if v < pivot != b.ZeroRight {
		side = "to the left of "
	}
	if !b.Level() {
		side = "beyond "
		if v < pivot {
			side = "below "
		}
	}
	if v < pivot {
		step = formula.Minus(step)
	}
	w.step(Solving, say("This is "+side+e.Pivot.Name+", so measured"+s.from(b)+":"),
		w.resultLine(u, v, s.unknowns[u].symbol(), formula.Add(s.metres(pivot), step)))
}

// balanceLines writes the balance of forces, worked out for unknown u with value v.
func (w *worker) balanceLines(e *Equation, u int, v float64) {
	s := w.s
	left, right := e.sides(u)
	symbols := formula.Equal(w.parts(left, true), w.parts(right, true))
	numbers := formula.Equal(w.parts(left, false), w.parts(right, false))
	lines := []Line{{Formula: symbols}}
	w.mayEarn(balancing, 0, e)
	if lone := len(left) == 1 && left[0].Share == nil && left[0].Force.Factor == 1; !lone && !sameText(symbols, numbers) {
		lines = append(lines, Line{Formula: numbers})
		w.mayEarn(numbered, 1, e)
	}
	w.step(Writing, nil, lines...)

	sym := s.unknowns[u].symbol()
	var rest []formula.Node
	for _, t := range right {
		if t.Force.Size != u {
			rest = append(rest, w.share(t, false))
		}
	}
	for _, t := range left {
		if t.Force.Size != u {
			rest = append(rest, formula.Minus(w.share(t, false)))
		}
	}
	above := formula.Add(rest...)
	if len(rest) == 0 {
		above = formula.Given("0", "N")
	}
	factor, single := 0.0, (*Term)(nil)
	for i := range e.Terms {
		if t := &e.Terms[i]; t.Force.Size == u {
			factor += e.coefficient(t) * t.Force.Factor * float64(left[0].Sense)
			single = t
		}
	}
	switch {
	case math.Abs(factor-1) < 1e-12:
		w.step(Solving, nil, w.resultLine(u, v, equalTo(sym, above)...))
	case terms(left, right, u) == 1 && single.Share != nil && single.Force.Factor == 1:
		w.step(Solving, nil, w.resultLine(u, v, sym, formula.Frac(above, single.Share.node())))
	default:
		w.step(Solving, nil, w.resultLine(u, v, sym, formula.Frac(above, decimal(factor, "", s.figures))))
	}
}

func sameText(a, b formula.Node) bool { return formula.Text(a) == formula.Text(b) }

// share writes the part of a force along the direction of a balance.
func (w *worker) share(t *Term, symbols bool) formula.Node {
	n := w.s.node(t.Force, w.values)
	if symbols {
		n = w.s.symbol(t.Force)
		if t.Force.Zero != "" {
			n = t.Force.Given
		}
	}
	if t.Share != nil {
		return flat(n, w.trig(t.Share))
	}
	return n
}

func (w *worker) parts(terms []*Term, symbols bool) formula.Node {
	nodes := make([]formula.Node, 0, len(terms))
	for _, t := range terms {
		if t.Force.Zero != "" {
			continue
		}
		nodes = append(nodes, w.share(t, symbols))
	}
	if len(nodes) == 0 {
		return formula.Count(0)
	}
	return formula.Add(nodes...)
}

// limiting writes F = μN.
func (w *worker) limiting(e *Equation, u int, v float64) {
	s := w.s
	r := e.relation
	f, n := s.unknowns[r.friction].symbol(), s.unknowns[r.normal].symbol()
	mu := formula.Symbol("μ", "", "the coefficient of friction", s.muOf(r))
	printed := func(k int) formula.Node {
		if k >= 0 && !math.IsNaN(w.values[k]) {
			return s.number(w.values[k], s.unknowns[k].Unit)
		}
		return s.unknowns[k].symbol()
	}
	muPrinted := r.given
	if r.mu >= 0 {
		muPrinted = printed(r.mu)
	}
	w.step(Stating, say("At "+r.support+" it is about to slip, so friction has its greatest value there: the coefficient of friction times the normal force."))
	w.mayEarn(limitingMark, 0, e)
	w.step(Writing, nil, Line{Formula: formula.Equal(f, formula.Times(mu, n))})
	switch u {
	case r.friction:
		w.step(Solving, nil, w.resultLine(u, v, f, formula.Times(muPrinted, printed(r.normal))))
	case r.normal:
		w.step(Solving, nil, w.resultLine(u, v, n, formula.Frac(printed(r.friction), muPrinted)))
	default:
		w.step(Solving, nil, w.resultLine(u, v, mu, formula.Frac(printed(r.friction), printed(r.normal))))
	}
}

// angleLines finds the angle of a leaning body from tan θ.
func (w *worker) angleLines(e *Equation, u int, v float64) {
	s := w.s
	var level, upright []*Term // forces across have arms with sin θ, weights with cos θ
	for i := range e.Terms {
		t := &e.Terms[i]
		if t.Arm.Trig != nil && t.Arm.Trig.Func == "sin" {
			level = append(level, t)
		} else {
			upright = append(upright, t)
		}
	}
	if len(level) == 0 || len(upright) == 0 {
		return
	}
	// What turns one way stands on one side, weights with cos θ on the other.
	plus := level[0].Sense
	if sum := e.signedSum(level, w.values); sum*float64(plus) < 0 {
		plus = -plus
	}
	signed := func(list []*Term, plus int, f func(*Term) formula.Node) formula.Node {
		var first, then []formula.Node
		for _, t := range list {
			if t.Sense == plus {
				first = append(first, f(t))
			} else {
				then = append(then, formula.Minus(f(t)))
			}
		}
		return formula.Add(append(first, then...)...)
	}
	found := func(t *Term) formula.Node { return w.product(t, asFound) }
	if slices.ContainsFunc(e.Terms, func(t Term) bool { return t.Share != nil }) {
		w.step(Choosing, say("A force at a slant is taken as its level and its upright part, each with its own arm about "+e.Pivot.Name+"."))
	}
	lines := []Line{{Formula: formula.Equal(signed(level, plus, found), signed(upright, -plus, found))}}
	w.mayEarn(moments, 0, e)
	w.mayEarn(arms, 0, e)
	w.step(Writing, nil, lines...)
	bare := func(t *Term) formula.Node {
		return s.number(t.Force.size(w.values)*t.Share.value()*t.Arm.Slant, "N m")
	}
	theta := s.unknowns[u].symbol()
	tan := math.Tan(v)
	w.mayEarn(solving, 0, e)
	w.step(Solving, say("Divide both sides by ", formula.Of("cos", theta), " and collect ", formula.Of("tan", theta), "."),
		Line{Formula: formula.Equal(formula.Of("tan", theta), formula.Frac(signed(upright, -plus, bare), signed(level, plus, bare)), decimal(tan, "", s.figures))})
	chain := []formula.Node{theta, formula.Of("tan⁻¹", decimal(tan, "", s.figures))}
	b := &s.l.Bodies[s.unknowns[u].Body]
	if !leansLeft(b) || u != w.target {
		w.step(Solving, nil, w.resultLine(u, v, chain...))
		return
	}
	acute := s.number(v, "°")
	w.mayEarn(passing, 0, nil)
	w.step(Solving, nil, Line{Formula: formula.Equal(append(chain, acute)...)})
	w.mayEarn(answering, 0, nil)
	w.step(Result, say(capital(s.body(s.unknowns[u].Body))+" leans to the left, so counted from the right its angle is"),
		Line{Formula: formula.Equal(formula.Add(formula.Given("180", "°"), formula.Minus(acute)), s.final(math.Pi-v, "°", w.way))})
}

// signedSum is the sum of force × length along the body, anticlockwise positive.
func (e *Equation) signedSum(list []*Term, values []float64) float64 {
	sum := 0.0
	for _, t := range list {
		sum += float64(t.Sense) * t.Force.size(values) * t.Share.value() * t.Arm.Slant
	}
	return sum
}

// resultLine is the line that ends in the value of u.
func (w *worker) resultLine(u int, v float64, chain ...formula.Node) Line {
	value := w.result(u, v)
	if n := len(chain); n > 1 && sameText(chain[n-1], value) {
		chain = chain[:n-1]
	}
	if u != w.target {
		w.mayEarn(passing, 0, nil)
	} else {
		w.mayEarn(answering, 0, nil)
		if w.way != 0 {
			more := w.s.number(v, w.s.unknowns[u].Unit)
			if w.s.unknowns[u].Kind == OfPlace {
				more = w.s.length(v)
			}
			return w.safeLine(more, value, chain)
		}
	}
	return Line{Formula: formula.Equal(append(chain, value)...)}
}

// safeLine ends in a value rounded to the safe side: a least coefficient up, a greatest load down.
func (w *worker) safeLine(more, value formula.Node, chain []formula.Node) Line {
	if sameText(more, value) || more.Exact && more.Value == value.Value { // nothing was rounded
		return Line{Formula: formula.Equal(append(chain, value)...)}
	}
	note := "rounded up, to be on the safe side: " + formula.Text(value)
	if w.way == answerDown {
		note = "rounded down, to be on the safe side: " + formula.Text(value)
	}
	return Line{Formula: formula.Equal(append(chain, more)...), Note: note}
}
