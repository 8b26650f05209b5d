package slip

import (
	"math"

	"steelyard/formula"
	"steelyard/quantity"
	"steelyard/solution"
)

// A Line is a wrong line of working.
type Line struct {
	Part    string
	Move    int                // number of the equation in the part's working, from 0; −1 for a last line or a moment that is asked for
	Changed *solution.Equation // the equation as the slip leaves it; nil where no equation is changed
	Gives   int                // the unknown that it gives
	Formula formula.Node
}

// Plain is the line in plain text.
func (l *Line) Plain() string { return formula.Text(l.Formula) }

// Spoken is the line as it is said.
func (l *Line) Spoken() string { return formula.Words(l.Formula) }

type wrongLine = formula.Node

// note records a wrong line with the numbers that stand in it.
func (r *Reckoner) note(part int, x *sum, k *Case) {
	line := Line{Part: r.p.parts[part].Name, Move: x.index, Gives: x.gives}
	values := append([]float64(nil), r.local[x.scene]...)
	if x.m == r.p.parts[part].moment {
		values = r.values
	}
	w := x.s.working
	switch {
	case x.how != nil:
		line.Formula = x.how(x)
	case x.gives < 0:
		line.Move = -1
		line.Changed = x.changed()
		line.Formula = x.momentLine()
	default:
		line.Changed = x.changed()
		if !math.IsNaN(values[x.gives]) {
			values[x.gives] = math.NaN()
		}
		line.Formula = w.Line(line.Changed, x.gives, values)
	}
	*r.record = append(*r.record, line)
}

// changed is the line's equation as the slip leaves it.
func (x *sum) changed() *solution.Equation {
	e := x.m.eq.Copy()
	w := x.s.working
	var terms []solution.Term
	for i := range x.terms {
		t := &x.terms[i]
		if t.out || t.extra {
			continue
		}
		var u solution.Term
		if i < x.m.own {
			u = e.Terms[i]
		} else {
			f := *x.s.forces[t.f].Force
			u = solution.Term{Force: &f, Arm: solution.Distance{Unknown: -1}, Other: t.side < 0}
		}
		x.fill(&u, t, w, i < x.m.own)
		terms = append(terms, u)
	}
	e.Terms = terms
	return e
}

// fill puts the changed numbers of a term into it.
func (x *sum) fill(u *solution.Term, t *term, w *solution.Working, own bool) {
	u.Sense = 1
	if t.sense < 0 {
		u.Sense = -1
	}
	n := &x.r.numbers[x.scene][t.f]
	if u.Force.Size < 0 && changes(n.value, t.size) || u.Force.Size >= 0 && t.u < 0 {
		unit := "N"
		if t.turn {
			unit = "N m"
		}
		u.Force.Size, u.Force.Value, u.Force.Given = -1, t.size, w.Number(t.size, unit)
	}
	if t.turn {
		return
	}
	trig := &u.Share
	if x.kind == solution.Moments {
		if u.Arm.Unknown < 0 && (!own || changes(u.Arm.Slant, t.slant)) {
			if old := u.Arm.Trig; old != nil && !t.on {
				t.trig = 1 // a distance from the plan
			}
			u.Arm.From, u.Arm.To, u.Arm.Plan, u.Arm.Sum, u.Arm.Slant = nil, nil, nil, false, t.slant
		}
		if u.Arm.Unknown >= 0 && !math.IsNaN(t.slant) {
			u.Arm.Slant = t.slant
		}
		trig = &u.Arm.Trig
	}
	switch old := *trig; {
	case old == nil || old.Unknown >= 0:
	case t.trig >= 1:
		*trig = nil
	case changes(old.Value, t.trig):
		c := *old
		sin, cos := math.Sincos(c.Angle.Value)
		other := cos
		c.Func = "cos"
		if old.Func == "cos" {
			other, c.Func = sin, "sin"
		}
		c.Value = t.trig
		if changes(math.Abs(other), t.trig) { // not the other function: degrees taken for radians, or a rounded sine
			c = *old
			c.Value = t.trig
			degrees := old.Angle.Value * 180 / math.Pi
			c.Angle = formula.Rounded(quantity.RoundFigures(degrees, 3), "rad")
			if v := trigSigned(old.Func, degrees); changes(v, t.trig) && x.kind == solution.Moments {
				u.Arm.From, u.Arm.To, u.Arm.Slant = nil, nil, t.slant*t.trig
				*trig = nil
				return
			}
		}
		*trig = &c
	}
}

func trigSigned(fn string, angle float64) float64 {
	if fn == "sin" {
		return math.Sin(angle)
	}
	return math.Cos(angle)
}

// momentLine writes the moments of given forces about a point.
func (x *sum) momentLine() formula.Node {
	w := x.s.working
	var nodes []formula.Node
	first := 0.0
	for i := range x.terms {
		t := &x.terms[i]
		if t.out || t.extra || t.slant*t.trig == 0 {
			continue
		}
		if first == 0 {
			first = t.sense
		}
		n := w.Number(t.size, "N m")
		if !t.turn {
			n = formula.Times(w.Number(t.size, "N"), w.Metres(t.slant*t.trig))
		}
		if t.sense != first {
			n = formula.Minus(n)
		}
		nodes = append(nodes, n)
	}
	return formula.Equal(formula.Symbol("M", "", "the moment", math.NaN()), formula.Add(nodes...), w.Number(math.Abs(x.total(nil)), "N m"))
}

// symbol is that of the unknown which the line gives.
func (x *sum) symbol() formula.Node { return x.s.unknowns[x.gives].Symbol() }

// shareLine writes a force as a sum of parts of the loads.
func (x *sum) shareLine(part func(f int) float64) formula.Node {
	w := x.s.working
	var nodes []formula.Node
	half := true
	for i := range x.s.forces {
		f := &x.s.forces[i]
		if isSupport(f.Kind) || f.Kind == solution.Turn {
			continue
		}
		half = half && part(i) == 0.5
	}
	for i := range x.s.forces {
		f := &x.s.forces[i]
		p := part(i)
		if isSupport(f.Kind) || f.Kind == solution.Turn || p == 0 {
			continue
		}
		size := w.Number(math.Abs(x.size(i)), "N")
		n := size
		switch {
		case half || p == 1:
		case p == 0.5:
			n = formula.Frac(size, formula.Count(2))
		default:
			v := x.r.numbers[0][x.r.p.two.q].along - x.r.numbers[0][x.r.p.two.p].along
			n = formula.Frac(formula.Times(size, w.Metres(math.Abs(p)*v)), w.Metres(v))
		}
		if p*x.r.numbers[x.scene][i].way.Y > 0 {
			n = formula.Minus(n)
		}
		nodes = append(nodes, n)
	}
	sum := formula.Add(nodes...)
	if half {
		sum = formula.Frac(sum, formula.Count(2))
	}
	return formula.Equal(x.symbol(), sum, w.Number(x.value, "N"))
}

// valueLine writes what the unknown is taken to be.
func (x *sum) valueLine() formula.Node {
	return formula.Equal(x.symbol(), x.s.working.Number(x.value, "N"))
}

func (x *sum) productLine(mu, normal float64) formula.Node {
	w := x.s.working
	return formula.Equal(x.symbol(), formula.Times(formula.Rounded(quantity.RoundFigures(mu, 2), ""), w.Number(normal, "N")), w.Number(x.value, "N"))
}

// sumLine writes force plus distance on both sides.
func (x *sum) sumLine(u, t *term, unit, length float64) formula.Node {
	plain := func(v float64) formula.Node { return formula.Rounded(quantity.RoundFigures(v, 3), "") }
	return formula.Equal(formula.Add(x.symbol(), plain(u.slant*length)), formula.Add(plain(t.size/unit), plain(t.slant*length)))
}

// noteAnswer records a wrong last line.
func (r *Reckoner) noteAnswer(z *reply, k *Case) {
	*r.record = append(*r.record, Line{Part: z.x.Name, Move: -1, Gives: -1,
		Formula: formula.Equal(formula.Upright("answer"), r.p.shown(z.v, z.x.result.Unit))})
}
