package solution

import (
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/statics"
)

// A sum is what the loads and weights on a body do together: one force, and its moment about the zero of the
// body's scale.
type sum struct {
	s        *scene
	k        *worker
	body     int
	from     string // the zero of the scale, in words
	equation *Equation
	acting   []*Force // forces, without couples
	terms    []*Term  // what has a moment about the zero
	total    statics.Vec
	square   float64 // the part of total at right angles to the body, positive
	sense    int     // the way that the resultant turns about the zero if it acts on the body's side of it
}

// resultant works out one force that does what the loads and weights do together, and where it acts.
func (w *solver) resultant(r *answer.Result) []Route {
	s := w.s
	body := s.l.BodyIndex(r.Part.Thing)
	if body < 0 {
		return nil
	}
	t := s.sumOn(body)
	var us []int
	for i := range s.forces {
		if f := &s.forces[i]; s.loads(f, body) && f.Size >= 0 {
			us = append(us, f.Size)
		}
	}
	name := "sum of forces, then moments about " + t.from
	if len(t.acting) == 0 {
		name = "sum of moments"
	}
	return w.several(r, us, name, func(k *worker) {
		t.k = k
		t.add()
		k.step(Choosing, say("The resultant is one force that does what all the loads and weights do together: it has their sum, and the same moment about every point."))
		if math.IsNaN(r.Direction) {
			t.coupleLines(r)
			return
		}
		t.forceLines(r)
		if !math.IsNaN(r.At) {
			t.placeLines(r)
		}
	})
}

// loads reports whether a force is a load or a weight on a body.
func (s *scene) loads(f *Force, body int) bool {
	return f.On == body && !isSupport(f.Kind) && s.l.SupportNamed(f.Name) == nil
}

// sumOn lists what is to be summed on a body.
func (s *scene) sumOn(body int) *sum {
	b := &s.l.Bodies[body]
	t := &sum{s: s, body: body}
	zero := b.At(0)
	left, right := ends(b)
	t.from = left
	if b.ZeroRight {
		zero, t.from = b.At(b.Length), right
	}
	if b.Length == 0 {
		t.from = s.origin()
	}
	t.equation = s.moments([]int{body}, s.pivotAt(t.from+" of "+s.body(body), body, zero, 0.1))
	for i := range s.forces {
		if f := &s.forces[i]; s.loads(f, body) && f.Kind != Turn {
			t.acting = append(t.acting, f)
		}
	}
	for i := range t.equation.Terms {
		if x := &t.equation.Terms[i]; s.loads(x.Force, body) {
			t.terms = append(t.terms, x)
		}
	}
	return t
}

// add adds the forces up, once all of them are known.
func (t *sum) add() {
	t.total = statics.Vec{}
	for _, f := range t.acting {
		v := f.size(t.k.values)
		t.total.X += v * f.Way.X
		t.total.Y += v * f.Way.Y
	}
	b := &t.s.l.Bodies[t.body]
	turn := cross(b.Axis, t.total)
	if b.ZeroRight {
		turn = -turn
	}
	t.square, t.sense = math.Abs(turn), 1
	if turn < 0 {
		t.sense = -1
	}
}

// part is the sum of the forces along one direction, those the other way with a minus; plus is the way that counts.
func (t *sum) part(along statics.Vec, plus float64) formula.Node {
	var nodes []formula.Node
	for _, f := range t.acting {
		c := dot(f.Way, along)
		if math.Abs(c) < 1e-12 {
			continue
		}
		n := t.s.node(f, t.k.values)
		if trig := t.s.trig(c, f.On, f); trig != nil {
			n = flat(n, trig.node())
		}
		if c*plus < 0 {
			n = formula.Minus(n)
		}
		nodes = append(nodes, n)
	}
	return formula.Add(nodes...)
}

// level reports whether some of the forces have a horizontal part.
func (t *sum) level() bool {
	return slices.ContainsFunc(t.acting, func(f *Force) bool { return math.Abs(f.Way.X) > 1e-12 })
}

// forceLines writes the resultant's size and direction.
func (t *sum) forceLines(r *answer.Result) {
	k, s := t.k, t.s
	size := math.Hypot(t.total.X, t.total.Y)
	sym := formula.Symbol("R", "", "the resultant", size)
	final := s.final(size, "N", answer.Nearest)
	if !t.level() {
		k.mayEarn(balancing, 0, &Equation{Kind: Balance, Direction: vertically})
		k.step(Writing, nil, Line{Formula: formula.Equal(sym, t.part(statics.Vec{Y: 1}, t.total.Y), final), Note: way(t.total, 3)})
		return
	}
	across := formula.Symbol("X", "", "the horizontal part of the resultant", math.Abs(t.total.X))
	up := formula.Symbol("Y", "", "the vertical part of the resultant", math.Abs(t.total.Y))
	k.step(Stating, say("Add up the horizontal parts of the forces, then the vertical ones."))
	line := func(sym formula.Node, along statics.Vec, v float64, d Direction) {
		k.mayEarn(balancing, 0, &Equation{Kind: Balance, Direction: d})
		k.step(Writing, nil, Line{Formula: formula.Equal(sym, t.part(along, v), s.number(math.Abs(v), "N")), Note: way(statics.Vec{X: along.X * v, Y: along.Y * v}, 3)})
	}
	line(across, statics.Vec{X: 1}, t.total.X, horizontally)
	line(up, statics.Vec{Y: 1}, t.total.Y, vertically)
	x, y := s.number(math.Abs(t.total.X), "N"), s.number(math.Abs(t.total.Y), "N")
	k.step(Stating, say("The two are at right angles: the resultant is the long side of a right-angled triangle."))
	k.mayEarn(answering, 0, nil)
	k.step(Result, nil, Line{Formula: formula.Equal(sym, formula.Sqrt(formula.Add(formula.Square(x), formula.Square(y))), final)})
	if x.Value == 0 || y.Value == 0 {
		k.step(Reading, say("It points "+way(t.total, s.figures)+"."))
		return
	}
	angle := math.Atan2(math.Abs(t.total.Y), math.Abs(t.total.X))
	k.mayEarn(placing, 0, nil)
	k.step(Result, nil, Line{Formula: formula.Equal(formula.Symbol("θ", "", "the angle to the horizontal", angle), formula.Of("tan⁻¹", formula.Frac(y, x)), s.final(angle, "°", answer.Nearest)),
		Note: way(t.total, s.figures)})
}

// signed is the sum of the moments about the zero of the scale, those against sense with a minus.
func (t *sum) signed(sense int, f form) formula.Node {
	var nodes []formula.Node
	for _, x := range t.terms {
		n := t.k.product(x, f)
		if x.Sense != sense {
			n = formula.Minus(n)
		}
		nodes = append(nodes, n)
	}
	return formula.Add(nodes...)
}

// moment is the total moment about the zero of the scale, positive in the sense given.
func (t *sum) moment(sense int) float64 {
	m := 0.0
	for _, x := range t.terms {
		m += float64(x.Sense*sense) * t.equation.size(x, t.k.values)
	}
	return m
}

// placeLines writes where the resultant acts.
func (t *sum) placeLines(r *answer.Result) {
	k, s := t.k, t.s
	b := &s.l.Bodies[t.body]
	k.step(Stating, say("About "+t.from+", the moment of the resultant equals the total moment of the forces."))
	k.slants(t.equation, t.terms)
	force := s.number(t.square, "N")
	if math.Abs(t.square-math.Hypot(t.total.X, t.total.Y)) > 1e-9*t.square {
		k.step(Choosing, say("Only the part of the resultant at right angles to "+s.body(t.body)+", ", force, ", has a moment about "+t.from+"."))
	}
	x := formula.Symbol("x", "", "the distance of the resultant"+s.from(b), r.At)
	m := t.moment(t.sense)
	k.mayEarn(moments, 0, t.equation)
	k.mayEarn(arms, 0, t.equation)
	k.step(Writing, nil, Line{Formula: formula.Equal(formula.Times(force, x), t.signed(t.sense, asLengths), s.number(m, "N m"))})
	k.mayEarn(answering, 0, nil)
	k.step(Result, nil, Line{Formula: formula.Equal(x, formula.Frac(s.number(m, "N m"), force), s.final(r.At, "m", answer.Nearest)), Note: s.from(b)[1:]})
}

// coupleLines writes that the forces cancel, and the couple that is left.
func (t *sum) coupleLines(r *answer.Result) {
	k, s := t.k, t.s
	if len(t.acting) > 0 {
		k.mayEarn(balancing, 0, &Equation{Kind: Balance, Direction: vertically})
		lines := []Line{{Formula: formula.Equal(formula.Symbol("R", "", "the resultant", 0), t.part(statics.Vec{Y: 1}, 1), formula.Given("0", "N")), Note: "vertically"}}
		if t.level() {
			lines = append(lines, Line{Formula: formula.Equal(formula.Symbol("R", "", "the resultant", 0), t.part(statics.Vec{X: 1}, 1), formula.Given("0", "N")), Note: "horizontally"})
		}
		k.step(Writing, say("The forces cancel:"), lines...)
	}
	if m := t.moment(1); len(t.terms) > 0 {
		sense := signOf(m)
		k.mayEarn(moments, 0, t.equation)
		k.step(Writing, say("Their moments need not; where there is no resultant force they are the same about every point:"),
			Line{Formula: formula.Equal(formula.Symbol("M", "", "the moment", math.Abs(m)), t.signed(sense, asLengths), s.number(math.Abs(m), "N m")), Note: answer.Sense(m)})
	}
	k.mayEarn(answering, 0, nil)
	k.step(Result, nil, Line{Formula: formula.Upright(shown(r))})
}
