package solution

import (
	"math"

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
	return []Route{w.finish(k, r, "sum of mass × distance over sum of mass", nil)}
}

// centreLines writes the table of pieces and the two weighted means.
func (w *solver) centreLines(k *worker, b *answer.Body, asked bool) {
	s := w.s
	list := answer.PieceMasses(b.Body, s.l.Field)
	unit, letter, each := "kg", "m", "mass"
	weighs := false
	for i := range list {
		p := list[i].Piece
		weighs = weighs || p.Mass.Known() || p.Weight.Known() || p.Density.Known()
	}
	if !weighs && !b.Body.Mass.Known() && !b.Body.Weight.Known() {
		unit, letter, each = "m", "l", "length"
		for i := range list {
			if kind := list[i].Kind; kind != question.RodPiece {
				unit, letter, each = "m²", "A", "area"
			}
		}
	}
	words := "Each piece acts as if all its mass were at its own centre of mass."
	if each != "mass" {
		words += " All is of one material, so " + each + "s may stand in for masses."
	}
	for i := range list {
		if list[i].Hole {
			words += " A hole counts as negative."
			break
		}
	}
	k.step(Choosing, say(words))
	var lines []Line
	total, mx, my := 0.0, 0.0, 0.0
	var ms, xs, ys []formula.Node
	for i := range list {
		p := &list[i]
		m := w.pieceMass(p, unit)
		x, y := s.metres(p.X), s.metres(p.Y)
		name := p.Label
		if name == "" {
			name = p.Piece.Name
		}
		lines = append(lines, Line{Note: name, Formula: formula.Equal(formula.Symbol(letter, p.Piece.Name, "the "+each+" of "+name, p.Mass), m)},
			Line{Note: "its centre, across", Formula: formula.Equal(formula.Symbol("x", p.Piece.Name, "its distance across", p.X), x)},
			Line{Note: "its centre, up", Formula: formula.Equal(formula.Symbol("y", p.Piece.Name, "its distance up", p.Y), y)})
		mx1, my1 := formula.Times(absNode(m), x), formula.Times(absNode(m), y)
		if p.Mass < 0 {
			ms, xs, ys = append(ms, formula.Minus(absNode(m))), append(xs, formula.Minus(mx1)), append(ys, formula.Minus(my1))
		} else {
			ms, xs, ys = append(ms, m), append(xs, mx1), append(ys, my1)
		}
		total, mx, my = total+p.Mass, mx+p.Mass*p.X, my+p.Mass*p.Y
	}
	k.mayEarn(tabling, 0, nil)
	k.step(Setting, nil, lines...)
	k.step(Stating, say("About the corner, the moment of the whole mass at the centre of mass equals the sum of the moments of the pieces."))
	for axis, nodes := range [][]formula.Node{xs, ys} {
		v, sum, name, dir := mx/total, mx, "x", "across"
		if axis == 1 {
			v, sum, name, dir = my/total, my, "y", "up"
		}
		sym := formula.Symbol(name, "", "the distance "+dir+" of the centre of mass", v)
		k.mayEarn(moments, 0, &Equation{Kind: Moments, Pivot: Pivot{Name: "the corner"}})
		if asked {
			k.mayEarn(answering, 1, nil)
		} else {
			k.mayEarn(passing, 1, nil)
		}
		end := s.length(v)
		if asked {
			end = s.final(v, "m", answer.Nearest)
		}
		k.step(Writing, nil, Line{Formula: formula.Equal(sym, formula.Frac(formula.Add(nodes...), formula.Add(ms...)))},
			Line{Formula: formula.Equal(sym, formula.Frac(decimal(sum, perMetre(unit), s.figures), decimal(total, unit, s.figures)), end)})
	}
}

func (w *solver) pieceMass(p *answer.PieceMass, unit string) formula.Node {
	if p.Piece.Mass.Known() && !p.Hole {
		return given(p.Piece.Mass)
	}
	return decimal(p.Mass, unit, w.s.figures)
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
		m := w.pieceMass(&p, "kg")
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
