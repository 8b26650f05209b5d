package solution

import (
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/question"
)

// centre works out where a centre of mass is: from the forces, or for a body made of pieces from theirs.
func (w *solver) centre(r *answer.Result) []Route {
	b := w.a.Layout.BodyNamed(r.Part.Thing)
	switch {
	case b == nil:
		return nil
	case len(b.Pieces) > 0:
		return w.pieces(r, b)
	case b.Body.Centre.At.Status == question.Unknown:
		return w.seek(r, func(u *Unknown) bool { return u.Name == r.Part.Thing && u.Kind == OfPlace })
	case b.Uniform:
		return []Route{w.sentence(r, "The body is uniform, so its centre of mass is at its middle.")}
	}
	return nil
}

// pieces finds the centre of mass of a body made of pieces: sum of m x over sum of m, a row for each piece.
func (w *solver) pieces(r *answer.Result, b *answer.Body) []Route {
	k := w.s.worker(nil)
	w.centreLines(k, b, true)
	w.centred[b.Name] = r.Part.Name
	k.step(Result, say("Measured from the corner that the frame's axes start from."), Line{Formula: formula.Upright(shown(r))})
	return []Route{w.finish(k, r, "the mean place of the pieces, each counted by its "+w.s.tableOf(b).each, nil)}
}

// A table is the pieces of a body with what stands for their masses: masses, lengths or areas.
type table struct {
	s            *scene
	rows         []answer.PieceMass
	unit, letter string
	each         string // "mass", "length" or "area"
}

// tableOf makes the table of a body's pieces. Where no piece has a mass of its own, all is of one material, and
// lengths or areas stand in for masses.
func (s *scene) tableOf(b *answer.Body) *table {
	t := &table{s: s, unit: "kg", letter: "m", each: "mass"}
	for i := range b.Pieces {
		if p := &b.Pieces[i]; p.Mass.Known() || p.Weight.Known() || p.Density.Known() {
			t.rows = answer.PieceMasses(b.Body, s.l.Field)
			return t
		}
	}
	bare := *b.Body
	bare.Mass, bare.Weight = question.Value{}, question.Value{}
	t.rows = answer.PieceMasses(&bare, s.l.Field)
	t.unit, t.letter, t.each = "m", "l", "length"
	for i := range t.rows {
		if t.rows[i].Kind != question.RodPiece {
			t.unit, t.letter, t.each = "m²", "A", "area"
		}
	}
	return t
}

// centreLines writes the table of pieces and the two weighted means.
func (w *solver) centreLines(k *worker, b *answer.Body, asked bool) {
	s := w.s
	t := s.tableOf(b)
	words := "Each piece acts as if all its mass were at its own centre of mass."
	if t.each != "mass" {
		words += " All is of one material, so " + t.each + "s may stand in for masses."
	}
	if slices.ContainsFunc(t.rows, func(p answer.PieceMass) bool { return p.Hole }) {
		words += " A hole counts as negative."
	}
	k.step(Choosing, say(words))
	k.mayEarn(tabling, 0, nil)
	k.step(Setting, nil, t.lines()...)
	k.step(Stating, say("About the corner, the moment of the whole mass at the centre of mass equals the sum of the moments of the pieces."))
	t.mean(k, "x", "across", asked, func(p *answer.PieceMass) float64 { return p.X })
	t.mean(k, "y", "up", asked, func(p *answer.PieceMass) float64 { return p.Y })
}

// lines are three for each piece: its mass, and where its own centre is.
func (t *table) lines() []Line {
	var lines []Line
	for i := range t.rows {
		p := &t.rows[i]
		name := p.Label
		if name == "" {
			name = p.Piece.Name
		}
		chain := []formula.Node{formula.Symbol(t.letter, p.Piece.Name, "the "+t.each+" of "+name, p.Mass)}
		if size, ok := t.size(p); ok {
			chain = append(chain, size)
		}
		lines = append(lines, Line{Note: name, Formula: formula.Equal(append(chain, t.mass(p))...)},
			Line{Note: "its centre, across", Formula: formula.Equal(formula.Symbol("x", p.Piece.Name, "its distance across", p.X), t.s.metres(p.X))},
			Line{Note: "its centre, up", Formula: formula.Equal(formula.Symbol("y", p.Piece.Name, "its distance up", p.Y), t.s.metres(p.Y))})
	}
	return lines
}

// mass is what stands for the mass of a piece, negative for a hole.
func (t *table) mass(p *answer.PieceMass) formula.Node {
	if t.each == "mass" {
		return t.s.pieceMass(p, t.unit)
	}
	return decimal(p.Mass, t.unit, t.s.figures)
}

// size is how the area of a piece is found; false where a length or a mass needs no working.
func (t *table) size(p *answer.PieceMass) (formula.Node, bool) {
	if t.each != "area" {
		return formula.Node{}, false
	}
	var size formula.Node
	switch p.Kind {
	case question.Rectangle:
		size = formula.Times(t.s.metres(p.Width.SI()), t.s.metres(p.Height.SI()))
	case question.Disc:
		size = formula.Times(formula.Symbol("π", "", "pi", math.Pi), formula.Square(t.s.metres(p.Width.SI())))
	case question.Triangle:
		base, height, ok := baseAndHeight(p.Piece)
		if !ok {
			return formula.Node{}, false
		}
		size = formula.Times(formula.Frac(formula.Count(1), formula.Count(2)), t.s.metres(base), t.s.metres(height))
	default:
		return formula.Node{}, false
	}
	if p.Hole {
		size = formula.Minus(size)
	}
	return size, true
}

// baseAndHeight are those of a triangle with a level or an upright side.
func baseAndHeight(p *question.Piece) (base, height float64, ok bool) {
	corners := []question.XY{p.From, p.To, p.Third}
	for i := range corners {
		a, b, c := corners[i], corners[(i+1)%3], corners[(i+2)%3]
		switch {
		case a.Y.SI() == b.Y.SI():
			return math.Abs(a.X.SI() - b.X.SI()), math.Abs(c.Y.SI() - a.Y.SI()), true
		case a.X.SI() == b.X.SI():
			return math.Abs(a.Y.SI() - b.Y.SI()), math.Abs(c.X.SI() - a.X.SI()), true
		}
	}
	return 0, 0, false
}

// mean writes the weighted mean of the places of the pieces in one direction.
func (t *table) mean(k *worker, name, direction string, asked bool, of func(*answer.PieceMass) float64) {
	s := t.s
	total, moment := 0.0, 0.0
	var masses, products []formula.Node
	for i := range t.rows {
		p := &t.rows[i]
		at := of(p)
		m := absNode(t.mass(p))
		product := formula.Times(m, s.metres(at))
		if p.Mass < 0 {
			m, product = formula.Minus(m), formula.Minus(product)
		}
		masses, products = append(masses, m), append(products, product)
		total, moment = total+p.Mass, moment+p.Mass*at
	}
	v := moment / total
	sym := formula.Symbol(name, "", "the distance "+direction+" of the centre of mass", v)
	k.mayEarn(moments, 0, &Equation{Kind: Moments, Pivot: Pivot{Name: "the corner"}})
	end := s.length(v)
	if asked {
		k.mayEarn(answering, 1, nil)
		end = s.final(v, "m", answer.Nearest)
	} else {
		k.mayEarn(passing, 1, nil)
	}
	k.step(Writing, nil, Line{Formula: formula.Equal(sym, formula.Frac(formula.Add(products...), formula.Add(masses...)))},
		Line{Formula: formula.Equal(sym, formula.Frac(decimal(moment, perMetre(t.unit), s.figures), decimal(total, t.unit, s.figures)), end)})
}

func (s *scene) pieceMass(p *answer.PieceMass, unit string) formula.Node {
	if p.Piece.Mass.Known() && !p.Hole {
		return given(p.Piece.Mass)
	}
	return decimal(p.Mass, unit, s.figures)
}

// angle works out the angle at which a body rests.
func (w *solver) angle(r *answer.Result) []Route {
	if routes := w.seek(r, func(u *Unknown) bool { return u.Name == r.Part.Thing && u.Kind == OfAngle }); len(routes) > 0 {
		return routes
	}
	return w.hung(r)
}

// hung works out how a body hangs from a point: its centre of mass is straight below.
func (w *solver) hung(r *answer.Result) []Route {
	s := w.s
	b := s.l.BodyNamed(r.Part.Thing)
	if b == nil || len(b.Pieces) == 0 {
		return nil
	}
	var pin *answer.Support
	for i := range s.l.Supports {
		p := &s.l.Supports[i]
		if s.l.Bodies[p.On].Name != r.Part.Thing || pin != nil {
			return nil
		}
		pin = p
	}
	if pin == nil || len(s.l.Loads) > 0 {
		return nil
	}
	k := s.worker(nil)
	k.step(Stating, say("Only two forces act: the weight and the force at "+pin.Name+". They balance, and have no moment about "+pin.Name+", only if the centre of mass is straight below "+pin.Name+"."))
	var used []string
	if by := w.centred[b.Name]; by != "" {
		used = []string{by}
		k.step(Setting, say("The centre of mass was found in part ("+by+")."))
	} else {
		w.centreLines(k, b, false)
	}
	// In the body's own axes.
	d := sub(b.Centre, pin.At)
	x, y := dot(d, b.Axis), cross(b.Axis, d)
	theta := formula.Symbol("θ", "", "the angle between the vertical and the body's upright side", math.Atan2(math.Abs(x), math.Abs(y)))
	k.mayEarn(moments, 0, &Equation{Kind: Moments, Pivot: Pivot{Name: pin.Name}})
	angle := math.Atan2(math.Abs(x), math.Abs(y))
	k.step(Writing, say("From "+pin.Name+" the centre of mass is ", s.length(math.Abs(x)), " along the body's x axis and ", s.length(math.Abs(y)), " along its y axis. The line between them is vertical, so for the angle of the y axis to the vertical:"),
		Line{Formula: formula.Equal(formula.Of("tan", theta), formula.Frac(s.length(math.Abs(x)), s.length(math.Abs(y))))})
	k.mayEarn(answering, 0, nil)
	k.step(Result, nil, Line{Formula: formula.Equal(theta, s.final(angle, "°", answer.Nearest))})
	k.step(Reading, say("The body's x axis then points "+r.Shown+"."))
	return []Route{w.finish(k, r, "the centre of mass straight below "+pin.Name, used)}
}

// massOfPieces adds up the masses of the pieces, each from its length or area where it has a density.
func (w *solver) massOfPieces(r *answer.Result, b *answer.Body) []Route {
	s := w.s
	k := s.worker(nil)
	var lines []Line
	var sum []formula.Node
	total := 0.0
	for _, p := range answer.PieceMasses(b.Body, s.l.Field) {
		m := s.pieceMass(&p, "kg")
		name := p.Label
		if name == "" {
			name = p.Piece.Name
		}
		chain := []formula.Node{formula.Symbol("m", p.Piece.Name, "the mass of "+name, math.Abs(p.Mass))}
		if d := p.Piece.Density; d.Known() {
			unit := "m²"
			if p.Kind == question.RodPiece {
				unit = "m"
			}
			chain = append(chain, formula.Times(given(d), decimal(math.Abs(p.Mass)/d.SI(), unit, s.figures)))
		}
		lines = append(lines, Line{Formula: formula.Equal(append(chain, absNode(m))...), Note: name})
		if p.Mass < 0 {
			sum = append(sum, formula.Minus(absNode(m)))
		} else {
			sum = append(sum, m)
		}
		total += p.Mass
	}
	for i := range lines {
		k.mayEarn(tabling, i, nil)
	}
	k.step(Setting, say("Mass is density times length or area; a hole takes mass away."), lines...)
	k.mayEarn(answering, 0, nil)
	k.step(Result, nil, Line{Formula: formula.Equal(formula.Symbol("m", "", "the mass", total), formula.Add(sum...), s.final(total, "kg", answer.Nearest))})
	return []Route{w.finish(k, r, "adding up the masses of the pieces", nil)}
}

// perMetre is the unit of mass (length, area) times distance.
func perMetre(unit string) string {
	switch unit {
	case "m":
		return "m²"
	case "m²":
		return "m³"
	}
	return unit + " m"
}
