package solution

import (
	"math"
	"slices"
	"strings"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// several finds a number of unknowns one after the other and lets end write what follows from them.
func (w *solver) several(r *answer.Result, us []int, name string, end func(*worker)) []Route {
	var routes []Route
	add := func(first *plan) bool {
		start := w.free(us...)
		k := w.begin(w.s, start, -1, r, natural, nil)
		known := slices.Clone(start)
		used := uses(w.s, &plan{}, known, w.by)
		var names []string
		for i, u := range us {
			p := first
			if i > 0 || p == nil {
				list := w.s.plans(u, known, 1)
				if len(list) == 0 {
					return false
				}
				p = list[0]
			}
			if known[u] && u < len(w.by) && w.by[u] != "" && len(p.moves) == 0 {
				used = append(used, w.by[u])
			}
			if !k.plan(p) {
				return false
			}
			for _, m := range p.moves {
				known[m.gives] = true
			}
			if len(p.moves) > 0 {
				names = append(names, w.s.routeName(p, natural))
			}
			for _, x := range uses(w.s, p, start, w.by) {
				if !strings.Contains(strings.Join(used, " "), x) {
					used = append(used, x)
				}
			}
		}
		end(k)
		if name != "" {
			names = append(names, name)
		}
		routes = append(routes, w.finish(k, r, strings.Join(names, ", then "), dedupe(used)))
		return true
	}
	if len(us) == 0 {
		add(nil)
		return routes
	}
	for _, p := range w.s.plans(us[0], w.free(us...), 3) {
		add(p)
	}
	if len(routes) > 0 {
		for _, u := range us {
			w.passed(u, &routes[0])
			w.found(u, r.Part.Name)
		}
	}
	return routes
}

func dedupe(list []string) []string {
	var out []string
	for _, x := range list {
		seen := false
		for _, y := range out {
			seen = seen || x == y
		}
		if !seen {
			out = append(out, x)
		}
	}
	return out
}

// pieces of a support's force: its components, without its couple.
func (w *solver) components(name string) []*Force {
	var list []*Force
	for i := range w.s.forces {
		if f := &w.s.forces[i]; f.Name == name && isSupport(f.Kind) {
			list = append(list, f)
		}
	}
	return list
}

// force works out the force of a support, or a component or the direction of it.
func (w *solver) force(r *answer.Result) []Route {
	p := r.Part
	fs := w.components(p.Thing)
	switch p.Ask {
	case question.AskAcross:
		return w.component(r, fs, statics.Vec{X: 1}, "horizontal")
	case question.AskUpright:
		return w.component(r, fs, statics.Vec{Y: 1}, "vertical")
	case question.AskNormal, question.AskFriction:
		want := Normal
		if p.Ask == question.AskFriction {
			want = Friction
		}
		for _, f := range fs {
			if f.Kind == want || f.Kind == Reaction && want == Normal {
				return w.one(r, f)
			}
		}
		if want == Friction {
			return []Route{w.sentence(r, "Nothing pushes "+w.s.body(w.bodyOf(p.Thing))+" along the surface at "+p.Thing+", so there is no friction there.")}
		}
	case question.AskDirection:
		return w.direction(r, fs)
	}
	if len(fs) == 1 {
		return w.one(r, fs[0])
	}
	if len(fs) != 2 {
		return nil
	}
	return w.both(r, fs, false)
}

func (w *solver) bodyOf(support string) int {
	if s := w.s.l.SupportNamed(support); s != nil {
		return s.On
	}
	return statics.Ground
}

// one works out a force of one component.
func (w *solver) one(r *answer.Result, f *Force) []Route {
	if f.known() {
		return []Route{w.sentence(r, w.whyKnown(f))}
	}
	if f.Tied != "" { // a multiple of another force
		if f.Factor == 1 {
			return w.several(r, []int{f.Size}, "the equality that is given", func(k *worker) {
				k.mayEarn(answering, 0, nil)
				k.step(Result, nil, Line{Formula: formula.Equal(f.own(), w.s.unknowns[f.Size].symbol(), w.s.final(k.values[f.Size], "N", answer.Nearest))})
			})
		}
		return w.several(r, []int{f.Size}, w.tieName(f), func(k *worker) {
			chain := []formula.Node{f.own()}
			if f.Kind == Friction {
				k.step(Stating, say("At "+f.Name+" it is about to slip, so friction has its greatest value there: the coefficient of friction times the normal force."))
				chain = append(chain, formula.Times(formula.Symbol("μ", "", "the coefficient of friction", f.Factor), w.s.unknowns[f.Size].symbol()))
			}
			k.mayEarn(answering, 0, nil)
			k.step(Result, nil, Line{Formula: formula.Equal(append(chain, formula.Times(f.Times, w.s.number(k.values[f.Size], "N")), w.s.final(f.Factor*k.values[f.Size], "N", answer.Nearest))...)})
		})
	}
	routes := w.find(r, w.s, f.Size, w.known, w.by, nil)
	switch {
	case len(routes) > 0:
		w.passed(f.Size, &routes[0])
		w.found(f.Size, r.Part.Name)
	case w.a.State == statics.Limit && math.Abs(r.Value) < 1e-9*(1+total(w.s.reactions)):
		return []Route{w.sentence(r, "In this arrangement "+f.Name+" is just about to give way: the force there has just become zero.")}
	}
	return routes
}

// tieName names the route from one force to a multiple of it.
func (w *solver) tieName(f *Force) string {
	if f.Kind == Friction {
		return "limiting friction at " + f.Name
	}
	return "the ratio that is given"
}

func (w *solver) whyKnown(f *Force) string {
	switch f.Zero {
	case "given", "limit":
		return "The question says that contact at " + f.Name + " has just been lost, so the force there has just become zero."
	}
	return "The question gives it: " + formula.Text(f.Given) + "."
}

// component works out the part of a support's force along one direction.
func (w *solver) component(r *answer.Result, fs []*Force, d statics.Vec, name string) []Route {
	var along []*Force
	for _, f := range fs {
		if math.Abs(dot(f.Way, d)) > 1e-12 {
			along = append(along, f)
		}
	}
	if len(along) == 0 {
		if math.Abs(r.Value) > 1e-9*(1+total(w.s.reactions)) {
			return nil
		}
		return []Route{w.sentence(r, "All other forces on "+w.s.body(w.bodyOf(r.Part.Thing))+" are at right angles to that direction, so "+r.Part.Thing+" exerts no "+name+" force.")}
	}
	if len(along) == 1 && math.Abs(math.Abs(dot(along[0].Way, d))-1) < 1e-12 {
		return w.one(r, along[0])
	}
	var us []int
	for _, f := range along {
		if f.Size >= 0 {
			us = append(us, f.Size)
		}
	}
	return w.several(r, us, "its "+name+" component", func(k *worker) { w.componentLines(k, r, along, d, name) })
}

// componentLines adds up the parts of forces along a direction; what acts the way of the total counts as positive.
func (w *solver) componentLines(k *worker, r *answer.Result, along []*Force, d statics.Vec, name string) {
	total := 0.0
	for _, f := range along {
		total += dot(f.Way, d) * f.size(k.values)
	}
	var nodes []formula.Node
	for _, f := range along {
		c := dot(f.Way, d)
		trig := w.s.trig(c, f.On, f)
		n := flat(w.s.node(f, k.values), trigOrOne(trig))
		if c*total < 0 {
			n = formula.Minus(n)
		}
		nodes = append(nodes, n)
		if trig != nil {
			k.step(Choosing, say("The "+name+" component of "+f.Words+" is ", formula.Times(w.s.symbol(f), trig.node()), "."))
		}
	}
	letter := "X"
	if d.Y != 0 {
		letter = "Y"
	}
	k.mayEarn(answering, 0, nil)
	sym := formula.Symbol(letter, r.Part.Thing, "the "+name+" force at "+r.Part.Thing, math.Abs(total))
	k.step(Result, nil, Line{Formula: formula.Equal(sym, formula.Add(nodes...), w.s.final(math.Abs(total), "N", answer.Nearest)), Note: way(statics.Vec{X: d.X * total, Y: d.Y * total}, 3)})
}

func trigOrOne(t *Trig) formula.Node {
	if t == nil {
		return formula.Count(1)
	}
	return t.node()
}

// direction works out where a support's force points.
func (w *solver) direction(r *answer.Result, fs []*Force) []Route {
	if len(fs) == 2 {
		return w.both(r, fs, true)
	}
	if len(fs) == 1 {
		return []Route{w.oneLine(r, fs[0])}
	}
	return nil
}

// oneLine says where a force points that acts along one line, whatever its size.
func (w *solver) oneLine(r *answer.Result, f *Force) Route {
	s := w.s
	p, b := s.l.SupportNamed(f.Name), &s.l.Bodies[f.On]
	angle := math.Atan2(math.Abs(f.Way.Y), math.Abs(f.Way.X))
	why, surface := "", formula.Node{}
	switch {
	case p == nil || plainForce(f):
	case p.Kind == question.Slope && p.Support.Angle.Known():
		why, surface = "A smooth surface can only push at right angles to itself, and this one is at ", acute(given(p.Support.Angle))
	case b.Body.Angle.Known() && math.Abs(dot(b.Axis, f.Way)) < 1e-9:
		why, surface = capital(f.Words)+" acts at right angles to "+s.body(f.On)+", which is at ", acute(given(b.Body.Angle))
	case len(f.Angles) > 0 && p.To != nil:
		k := s.worker(nil)
		e := &Equation{Bodies: []int{f.On}}
		k.lines(e)
		w.sayAnswer(k, r, capital(f.Words)+" acts along that line: it points "+r.Shown+".")
		return w.finish(k, r, "the line that it acts along", nil)
	}
	if why == "" || math.Abs(angle+surface.Value-math.Pi/2) > 1e-9 {
		return w.sentence(r, capital(f.Words)+" acts along one line: it points "+r.Shown+".")
	}
	k := s.worker(nil)
	k.step(Stating, say(why, surface, " to the horizontal."))
	k.mayEarn(answering, 0, nil)
	k.step(Result, nil, Line{Formula: formula.Equal(formula.Symbol("θ", "", "the angle to the horizontal", angle), formula.Add(formula.Given("90", "°"), formula.Minus(surface)), s.final(angle, "°", answer.Nearest)), Note: shown(r)})
	return w.finish(k, r, "the line that it acts along", nil)
}

// both works out two components, and their resultant or its direction.
func (w *solver) both(r *answer.Result, fs []*Force, onlyDirection bool) []Route {
	var us []int
	for _, f := range fs {
		if f.Size >= 0 {
			us = append(us, f.Size)
		}
	}
	name := "the resultant of the two components"
	if onlyDirection {
		name = "the direction of the resultant"
	}
	return w.several(r, us, name, func(k *worker) { w.resultantOfTwo(k, r, fs, onlyDirection) })
}

// resultantOfTwo puts two components at right angles together.
func (w *solver) resultantOfTwo(k *worker, r *answer.Result, fs []*Force, onlyDirection bool) {
	s := w.s
	a, b := fs[0], fs[1]
	va, vb := a.size(k.values), b.size(k.values)
	if onlyDirection {
		k.step(Choosing, say("The two components are at right angles, so the tangent of the angle is one over the other."))
	} else {
		k.step(Choosing, say("The two components are at right angles: their resultant is the long side of a right-angled triangle."))
		k.mayEarn(answering, 0, nil)
		sum := formula.Sqrt(formula.Add(formula.Square(absNode(s.node(a, k.values))), formula.Square(absNode(s.node(b, k.values)))))
		k.step(Result, nil, Line{Formula: formula.Equal(formula.Symbol("R", r.Part.Thing, "the force at "+r.Part.Thing, math.Hypot(va, vb)), sum, s.final(math.Hypot(va, vb), "N", answer.Nearest))})
	}
	x := va*a.Way.X + vb*b.Way.X
	y := va*a.Way.Y + vb*b.Way.Y
	if math.Abs(x) < 1e-9*math.Hypot(x, y) || math.Abs(y) < 1e-9*math.Hypot(x, y) {
		k.step(Reading, say("One of the two is zero, so the force points "+way(statics.Vec{X: x, Y: y}, s.figures)+"."))
		return
	}
	level, upright := a, b
	if math.Abs(level.Way.X) < math.Abs(upright.Way.X) {
		level, upright = upright, level
	}
	if math.Abs(level.Way.Y) > 1e-12 { // components along and square to a slope
		k.step(Reading, say("It points "+way(statics.Vec{X: x, Y: y}, s.figures)+"."))
		return
	}
	angle := math.Atan2(math.Abs(y), math.Abs(x))
	if onlyDirection {
		k.mayEarn(answering, 0, nil)
	} else {
		k.mayEarn(placing, 0, nil)
	}
	theta := formula.Symbol("θ", "", "the angle to the horizontal", angle)
	k.step(Result, nil, Line{Formula: formula.Equal(theta, formula.Of("tan⁻¹", formula.Frac(absNode(s.node(upright, k.values)), absNode(s.node(level, k.values)))), s.final(angle, "°", answer.Nearest))})
	k.step(Reading, say("It points "+way(statics.Vec{X: x, Y: y}, s.figures)+"."))
}

func absNode(n formula.Node) formula.Node {
	n.Text = trimMinus(n.Text)
	n.Value = math.Abs(n.Value)
	return n
}

// sentence is a route that is said in words.
func (w *solver) sentence(r *answer.Result, words string) Route {
	k := w.s.worker(nil)
	w.sayAnswer(k, r, words)
	return w.finish(k, r, "reasoning from what is given", nil)
}

// sayAnswer states the answer in words, as the last line.
func (w *solver) sayAnswer(k *worker, r *answer.Result, words string) {
	k.mayEarn(answering, 0, nil)
	k.step(Result, say(quantity.Typeset(words)), Line{Formula: formula.Upright(shown(r))})
}

// shown is an answer as it is printed.
func shown(r *answer.Result) string { return quantity.Typeset(r.Shown) }

// pair answers with the other force of a pair.
func (w *solver) pair(r *answer.Result) []Route {
	p := r.Part
	fs := w.components(p.Thing)
	var us []int
	for _, f := range fs {
		if f.Size >= 0 {
			us = append(us, f.Size)
		}
	}
	if len(fs) == 0 {
		return nil
	}
	on := w.s.body(fs[0].On)
	support := w.supportWords(p.Thing)
	var x, y float64
	letter, sub := "F", p.Thing
	if u := w.s.l.SupportNamed(p.Thing); u != nil && u.By >= 0 && len(fs) == 1 { // equations of the other body write it so
		letter, sub = fs[0].Letter, fs[0].Sub
	}
	end := func(k *worker) {
		for _, f := range fs {
			v := f.size(k.values)
			x, y = x+v*f.Way.X, y+v*f.Way.Y
		}
		size := w.s.final(math.Hypot(x, y), "N", answer.Nearest)
		k.step(Stating, say("Forces come in pairs: "+support+" acts on "+on+", so "+on+" acts on "+support+" with a force of the same size in the opposite direction (Newton's third law)."))
		k.mayEarn(answering, 0, nil)
		k.mayEarn(pairing, 0, nil)
		k.step(Result, say("On "+on+": ", size, " "+way(statics.Vec{X: x, Y: y}, w.s.figures)+". So on "+support+", by "+on+":"), Line{
			Formula: formula.Equal(formula.Symbol(letter, sub, "the force on "+support, math.Hypot(x, y)), size),
			Note:    way(statics.Vec{X: -x, Y: -y}, w.s.figures) + ", acting on " + support})
		x, y = 0, 0
	}
	return w.several(r, us, "the other force of the pair", end)
}

// supportWords is what the text calls a support: its label, if it has one.
func (w *solver) supportWords(name string) string {
	s := w.s.l.SupportNamed(name)
	if s == nil || s.Label == "" || s.Label == name {
		if s != nil && s.By >= 0 {
			return w.s.body(s.By)
		}
		return "the support " + name
	}
	return w.s.thing(s.Label, name)
}

// mass finds a weight first, or adds up the masses of pieces.
func (w *solver) mass(r *answer.Result) []Route {
	if b := w.a.Layout.BodyNamed(r.Part.Thing); b != nil && len(b.Pieces) > 0 {
		return w.massOfPieces(r, b)
	}
	for u := range w.s.unknowns {
		x := &w.s.unknowns[u]
		if x.Name != r.Part.Thing || x.Kind != OfForce {
			continue
		}
		return w.several(r, []int{u}, "weight divided by g", func(k *worker) {
			m := x.Value / w.s.l.Field
			k.step(Stating, say("Mass is weight divided by the gravitational field strength."))
			k.mayEarn(answering, 0, nil)
			k.step(Result, nil, Line{Formula: formula.Equal(formula.Symbol("m", "", "the mass", m),
				formula.Frac(w.s.number(k.values[u], "N"), fieldNode(w.s)), w.s.final(m, "kg", answer.Nearest))})
		})
	}
	return nil
}
