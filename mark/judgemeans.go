package mark

import (
	"math"
	"strings"

	"steelyard/quantity"
	"steelyard/question"
	"steelyard/script"
	"steelyard/slip"
)

// conclude says what is to be said of a line whose names have been given their meanings.
func (w *working) conclude(l *script.Line, j Judged, t *trial) Judged {
	s := w.places[t.scene]
	mode := t.mode
	w.numbers(s, mode)
	w.c.rivals(s, mode == latter)
	t = w.try(l, t.scene, t.names, t.chosen) // the compiled leaves hold this trial again
	j.Verdict = Right
	w.finds(&j, l, t)
	bad := -1
	for k := range t.links {
		x := &t.links[k]
		switch {
		case x.total:
			w.oneSided(&j, s, k)
		case x.arithmetic:
			if !x.holds && bad < 0 {
				bad = k
			}
		case x.holds && x.sound:
			if j.Means == "" || j.Means == "a value" {
				j.Means = w.means(l, s, t, k)
			}
		default:
			if bad < 0 || t.links[bad].arithmetic {
				bad = k
			}
		}
	}
	if j.Verdict != Right {
		return j
	}
	if bad < 0 {
		if j.Means == "" {
			j.Means = "arithmetic"
		}
		if j.method() && w.inMasses(s) {
			j.Note = gCancels
		}
		return j
	}
	x := &t.links[bad]
	if x.arithmetic {
		j.Verdict = Wrong
		j.Slip, j.Off = "", w.sumOff(l, bad)
		if j.Means == "" {
			j.Means = "arithmetic"
		}
		return j
	}
	if relation(l, bad) != "=" {
		j.Verdict = Wrong
		j.Means, j.Off = "a comparison", "this does not hold"
		return j
	}
	if x.cancel {
		j.Verdict, j.Off = Wrong, "the numbers agree, but the forces and distances do not belong together"
		w.explain(&j, s, w.c.certain(s, w.c.sides[bad], w.c.sides[bad+1]), 0, t)
		return j
	}
	if w.stillPushes(&j, s) {
		j.Verdict = Wrong
		w.forms = append(w.forms, form{scene: t.scene, wrong: true, grad: w.c.namesOnly(s, w.c.sides[bad], w.c.sides[bad+1]), rest: x.residual, slack: x.slack})
		return j
	}
	if w.carried(&j, l, s, t, bad) {
		j.Verdict = Carried
		for k := range t.links {
			if t.links[k].arithmetic && !t.links[k].holds {
				j.Verdict, j.Off = Wrong, w.sumOff(l, k)
			}
		}
		return j
	}
	for i := range t.chosen {
		if t.chosen[i].guess {
			return Judged{Line: *l, Verdict: NotRead, Value: math.NaN(), Off: "it is not clear what “" + w.names.texts[t.names[i]] + "” stands for"}
		}
	}
	j.Verdict = Wrong
	w.explain(&j, s, x.grad, x.residual, t)
	if j.Slip == "" && j.Off == "" {
		w.bySlips(&j)
	}
	return j
}

// arithmetic judges a line without names.
func (w *working) arithmetic(l *script.Line, j Judged) Judged {
	s := w.places[0]
	w.numbers(s, 0)
	w.c.work()
	j.Verdict, j.Means = Right, "arithmetic"
	for k := 0; k+1 < len(w.c.sides); k++ {
		residual, slack := w.c.sums(w.c.sides[k], w.c.sides[k+1])
		if related(l, k, residual, slack) {
			continue
		}
		if w.mixed(l) { // 10 + 27 = 37 cm
			w.numbers(s, unitless)
			residual, slack = w.c.sums(w.c.sides[k], w.c.sides[k+1])
			w.numbers(s, usual)
			if related(l, k, residual, slack) {
				continue
			}
		}
		if relation(l, k) != "=" {
			j.Means, j.Verdict, j.Off = "a comparison", Wrong, "this does not hold"
			return j
		}
		j.Verdict = Wrong
		j.Off = w.sumOff(l, k)
		return j
	}
	w.numbers(s, 0)
	w.c.work()
	w.oneSided(&j, s, -1)
	return j
}

// oneSided says what moments a sum of products adds up, where it is one side only.
func (w *working) oneSided(j *Judged, s *scene, k int) {
	c := &w.c
	for i := range c.sides {
		if k >= 0 && i != k && i != k+1 || c.total(c.sides[i]) || c.nodes[c.sides[i]].op == script.Number {
			continue
		}
		c.back(c.sides[i], -1)
		g := c.certain(s, c.sides[i], c.sides[i])
		asked := w.part != nil && (w.part.Ask == question.AskMoment || w.part.Ask == question.AskTotalMoment)
		if zero(g) {
			continue
		}
		forces := true
		for n := c.under(c.sides[i]); n <= c.sides[i]; n++ {
			if lf := c.nodes[n].leaf; lf >= 0 && c.leaves[lf].name >= 0 {
				forces = false
			}
		}
		if !forces {
			continue
		}
		var want *natural
		about := w.about
		if asked && about == "" {
			about = w.part.Other
		}
		p, named := s.find(about)
		for n := range s.natural {
			e := &s.natural[n]
			if !e.turns {
				continue
			}
			if named && math.Hypot(e.at.X-p.at.X, e.at.Y-p.at.Y) < 1e-9 {
				if want == nil {
					want = e
				}
				if s.oneSide(e, g, asked) && !(asked && w.part.Ask == question.AskTotalMoment && s.leavesOut(e, g, w, c.sides[i])) {
					j.Means = e.means
					return
				}
			}
		}
		if asked && want != nil && w.part.Ask == question.AskTotalMoment {
			j.Verdict, j.Means = Wrong, want.means
			signed := make([]float64, len(g))
			for x := range g {
				signed[x] = math.Copysign(g[x], want.row[x])
			}
			w.explainAs(j, s, signed, want, 1)
			return
		}
		for n := range s.natural {
			if e := &s.natural[n]; e.turns && s.oneSide(e, g, false) {
				j.Means = e.means
				return
			}
		}
	}
}

// leavesOut reports whether a sum of the moments of all loads lacks one, and has no number in its place.
func (s *scene) leavesOut(e *natural, g []float64, w *working, root int) bool {
	for i := range g {
		if c := &s.cols[i]; c.kind < reactionOf && c.known && e.row[i] != 0 && g[i] == 0 {
			sum, c := 0.0, &w.c
			for k := range g {
				sum += g[k] * s.cols[k].value
			}
			return math.Abs(sum-c.val[root]) < 1e-6*math.Abs(sum)
		}
	}
	return false
}

// oneSide reports whether the factors of forces in a sum are their arms about a point; signed: with their senses.
func (s *scene) oneSide(e *natural, g []float64, signed bool) bool {
	sense := 0.0
	for i := range g {
		if g[i] == 0 {
			continue
		}
		if !near(g[i], e.row[i]) && !near(g[i], e.row[i]*s.perLength()) || e.row[i] == 0 {
			return false
		}
		d := float64(sign(g[i] * e.row[i]))
		if signed && sense != 0 && d != sense {
			return false
		}
		sense = d
	}
	return sense != 0
}

// sumOff says what a sum that was worked out wrongly comes to.
func (w *working) sumOff(l *script.Line, k int) string {
	c := &w.c
	c.sums(c.sides[k], c.sides[k+1])
	left, right := c.val[c.sides[k]], c.val[c.sides[k+1]]
	text := func(e *script.Expr) string {
		if e.To <= e.From || e.To > len(l.Text)+1 {
			return e.String()
		}
		return e.String()
	}
	if l.Sides[k].Op == script.Number {
		return text(&l.Sides[k+1]) + " is " + quantity.RoundFigures(right, 4) + ", not " + text(&l.Sides[k])
	}
	return text(&l.Sides[k]) + " is " + quantity.RoundFigures(left, 4) + ", not " + text(&l.Sides[k+1])
}

// lone judges one expression without a relation.
func (w *working) lone(l *script.Line, j Judged) Judged {
	if l.Sides[0].Op != script.Number && len(w.c.leaves) > 0 {
		for i := range w.c.leaves {
			if w.c.leaves[i].name >= 0 {
				return j
			}
		}
		w.numbers(w.places[0], 0)
		w.c.work()
		w.oneSided(&j, w.places[0], -1)
		j.Verdict = Statement
	}
	return j
}

// finds notes what value a line ends by giving.
func (w *working) finds(j *Judged, l *script.Line, t *trial) {
	c := &w.c
	name, num := -1, -1
	for i, root := range c.sides {
		switch n := &c.nodes[root]; {
		case n.op == script.Name && name < 0:
			name = i
		case n.op == script.Number || n.op == script.Negate && c.nodes[n.a].op == script.Number:
			num = i
		case !c.named(root) && num < 0 && i == len(c.sides)-1:
			num = i
		}
	}
	if name < 0 || num < 0 {
		return
	}
	if c.nodes[c.sides[num]].op != script.Number && c.nodes[c.sides[num]].op != script.Negate && len(c.sides) > 2 && num != len(c.sides)-1 {
		return
	}
	id := c.leaves[c.nodes[c.sides[name]].leaf].name
	for k := range t.names {
		if t.names[k] != id {
			continue
		}
		m := &t.chosen[k]
		if !m.open && !m.total {
			return
		}
		v := c.typedValue(c.sides[num])
		if m.scale != 0 {
			v /= m.scale
		}
		if c.hasUnit(c.sides[num]) && m.scale != 1 {
			v *= m.scale
		}
		if strings.HasSuffix(m.words, ", counted the other way") {
			v = -v
		}
		j.Finds, j.Value = m.key, v
		w.raw, w.rawName = v*max(m.scale, 1e-300), id
		if m.col >= 0 && w.places[t.scene].cols[m.col].kind == placeOf && m.per != 0 {
			// As a place from the zero of the scale.
			s := w.places[t.scene]
			b := &s.l.Bodies[s.cols[m.col].on]
			at := s.cols[m.col].value + (v*m.scale-m.value)/m.per
			j.Value = b.FromZero(at)
		}
		return
	}
}

func (c *compiled) hasUnit(root int) bool {
	for i := c.under(root); i <= root; i++ {
		if n := &c.nodes[i]; n.leaf >= 0 && c.leaves[n.leaf].name < 0 && c.leaves[n.leaf].e.Quantity.Unit != (quantity.Unit{}) {
			return true
		}
	}
	return false
}

// typedValue is the value of a side without names as it was typed.
func (c *compiled) typedValue(root int) float64 {
	n := &c.nodes[root]
	switch n.op {
	case script.Number:
		return c.leaves[n.leaf].typed
	case script.Negate:
		return -c.typedValue(n.a)
	}
	for i := c.under(root); i <= root; i++ {
		if k := c.nodes[i].leaf; k >= 0 {
			c.leaves[k].value = c.leaves[k].typed
		}
	}
	c.work()
	return c.val[root]
}

// means says which condition of equilibrium a right link is.
func (w *working) means(l *script.Line, s *scene, t *trial, k int) string {
	x := &t.links[k]
	if relation(l, k) != "=" {
		return "a comparison"
	}
	if _, _, ok := w.c.result(w.c.sides[k], w.c.sides[k+1]); ok {
		return "a value"
	}
	g := x.grad
	c := &w.c
	forces, others := 0, 0
	big := 0.0
	for i := range g {
		big = max(big, math.Abs(g[i])*s.weigh(i))
	}
	for i := range g {
		if math.Abs(g[i])*s.weigh(i) > 1e-6*big && g[i] != 0 {
			if s.cols[i].isForce() {
				forces++
			} else {
				others++
			}
		}
	}
	for i := range c.nodes {
		if n := &c.nodes[i]; n.leaf >= 0 && c.leaves[n.leaf].name >= 0 {
			if id := c.leaves[n.leaf]; id.col2 >= 0 {
				return "the resultant of two components"
			}
		}
	}
	for i := range t.chosen {
		if strings.HasPrefix(t.chosen[i].words, "friction over normal") {
			return "friction over normal force"
		}
	}
	if forces+others == 0 {
		return "a value"
	}
	if e := w.bestNatural(s, g); e != nil {
		return e.means
	}
	if m := w.oddPivot(s, g); m != "" {
		return m
	}
	if len(s.l.Bodies) > 1 {
		return "equations of several bodies together"
	}
	return "moments and a balance, the two together"
}

// bestNatural finds the condition that a person would call a right line by.
func (w *working) bestNatural(s *scene, g []float64) *natural {
	var best *natural
	score := math.Inf(1)
	about, named := s.find(w.about)
	for n := range s.natural {
		e := &s.natural[n]
		scale, ok := s.proportional(e.row, g)
		if !ok || scale == 0 {
			continue
		}
		x := 0.0
		for i := range e.row {
			if g[i] == 0 && e.row[i] != 0 && s.cols[i].isForce() && s.cols[i].value != 0 {
				if s.cols[i].known {
					x++
				} else {
					x += 10
				}
			}
		}
		if named && e.turns && math.Hypot(e.at.X-about.at.X, e.at.Y-about.at.Y) < 1e-9 {
			x -= 5
		}
		if e.means == w.last {
			x -= 3
		}
		if x < score {
			best, score = e, x
		}
	}
	return best
}

// proportional reports whether a row is a multiple of g in the columns of forces that g touches.
func (s *scene) proportional(row, g []float64) (scale float64, ok bool) {
	top, bottom, big := 0.0, 0.0, 0.0
	for i := range g {
		if g[i] == 0 || s.cols[i].kind == angleOf {
			continue
		}
		u := s.weigh(i)
		top += g[i] * row[i] * u * u
		bottom += row[i] * row[i] * u * u
		big = max(big, math.Abs(g[i])*u)
	}
	if bottom == 0 {
		return 0, false
	}
	scale = top / bottom
	for i := range g {
		if g[i] == 0 || s.cols[i].kind == angleOf {
			continue
		}
		if math.Abs(g[i]-scale*row[i])*s.weigh(i) > 1.2*slip.Tolerance*big {
			return 0, false
		}
	}
	return scale, true
}

// oddPivot finds the point along a bar that a right line takes moments about, if it is one.
func (w *working) oddPivot(s *scene, g []float64) string {
	for b := range s.l.Bodies {
		body := &s.l.Bodies[b]
		if body.Shape != question.Bar || body.Length == 0 || math.IsNaN(body.Axis.X) {
			continue
		}
		// Moments about the two ends span the moments about every point of the bar.
		p, q := s.momentRow(b, body.At(0)), s.momentRow(b, body.At(body.Length))
		var pp, pq, qq, pg, qg float64
		for i := range g {
			touched := g[i] != 0 || s.cols[i].isForce() && !s.cols[i].known && p[i] != q[i]
			if !touched || s.cols[i].kind == angleOf {
				continue
			}
			u := s.weigh(i) * s.weigh(i)
			pp, pq, qq = pp+p[i]*p[i]*u, pq+p[i]*q[i]*u, qq+q[i]*q[i]*u
			pg, qg = pg+p[i]*g[i]*u, qg+q[i]*g[i]*u
		}
		det := pp*qq - pq*pq
		if det <= 1e-12*pp*qq {
			continue
		}
		a, c := (pg*qq-qg*pq)/det, (qg*pp-pg*pq)/det
		row := make([]float64, len(g))
		for i := range g {
			row[i] = a*p[i] + c*q[i]
		}
		if _, ok := s.proportional(row, g); !ok || math.Abs(a+c) < 1e-6*(math.Abs(a)+math.Abs(c)) {
			continue
		}
		at := body.Length * c / (a + c)
		if at < -body.Length || at > 2*body.Length {
			continue
		}
		u := s.unit[quantity.Length]
		end := "left end"
		if body.ZeroRight {
			end = "right end"
		}
		return "moments about the point " + quantity.Format(body.FromZero(at), u, 3) + " from the " + end + " of the " + plainName(body.Label, body.Name)
	}
	return ""
}
