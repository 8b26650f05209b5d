package mark

import (
	"math"
	"strings"

	"steelyard/quantity"
	"steelyard/script"
)

// A form is a line as a linear condition on what it names, at the true values: gradient and what is left over.
type form struct {
	scene int
	grad  []float64
	rest  float64
	slack float64
	wrong bool
}

// An ownPlace is a wrong value of a distance: from where it is counted may not be known.
type ownPlace struct {
	value float64
	name  int
}

// remember keeps what a judged line says for the lines after it.
func (w *working) remember(j *Judged) {
	if j.Finds == "" || math.IsNaN(j.Value) {
		return
	}
	switch j.Verdict {
	case Wrong, Carried:
		if w.truly(j.Finds, j.Value) {
			delete(w.own, j.Finds)
			return
		}
		w.own[j.Finds] = j.Value
		if strings.HasSuffix(j.Finds, " position") {
			w.places0 = append(w.places0, ownPlace{w.raw, w.rawName})
		}
	case Right:
		delete(w.own, j.Finds)
	}
}

// carried reports whether a link follows from the pupil's earlier lines or values.
func (w *working) carried(j *Judged, l *script.Line, s *scene, t *trial, bad int) bool {
	c := &w.c
	left, right := c.sides[bad], c.sides[bad+1]
	f := form{scene: t.scene, wrong: true, rest: c.val[left] - c.val[right], slack: t.links[bad].slack}
	f.grad = c.namesOnly(s, left, right)
	defer func() { w.forms = append(w.forms, f) }()
	if len(w.own) == 0 && len(w.forms) == 0 {
		return false
	}
	if w.withOwnNumbers(l, s, t, bad) {
		if j.Means == "" {
			j.Means = w.means(l, s, w.retry, bad)
		}
		return true
	}
	if w.withOwnPlace(l, s, t, bad) {
		if j.Means == "" {
			j.Means = "their own distance put in"
		}
		return true
	}
	if w.withOwnNames(l, s, t, bad) {
		if j.Means == "" || j.Means == "a value" {
			j.Means = "their own values put in"
		}
		return true
	}
	if w.rearranged(s, &f) {
		if j.Means == "" {
			j.Means = "rearranged"
		}
		return true
	}
	return w.oneStep(j, s, t, bad)
}

// namesOnly is the gradient by the names of a link; numbers stay numbers.
func (c *compiled) namesOnly(s *scene, left, right int) []float64 {
	c.back(left, right)
	g := make([]float64, len(s.cols))
	for i := c.under(left); i <= right; i++ {
		n := &c.nodes[i]
		if n.leaf < 0 {
			continue
		}
		lf := &c.leaves[n.leaf]
		if lf.name < 0 {
			continue
		}
		if lf.col >= 0 {
			g[lf.col] += c.adj[i] * lf.per
		}
		if lf.col2 >= 0 {
			g[lf.col2] += c.adj[i] * lf.per2
		}
	}
	return g
}

// ownColumn is the column whose own value a number is; −1 if none.
func (w *working) ownColumn(s *scene, q *quantity.Quantity, v float64) int {
	for i := range s.cols {
		x, ok := w.own[s.key(i)]
		if !ok {
			c := &s.cols[i]
			if c.kind == uprightOf {
				x, ok = w.own[c.name]
			}
		}
		if ok && x != 0 && math.Abs(math.Abs(v)-math.Abs(x)) <= max(half(q)*(1+1e-9), 0.005*math.Abs(x)) {
			return i
		}
	}
	return -1
}

// withOwnNumbers puts the true values where the pupil's own stand, and asks whether the line is right then.
func (w *working) withOwnNumbers(l *script.Line, s *scene, t *trial, bad int) bool {
	c := &w.c
	used := false
	for i := range c.leaves {
		lf := &c.leaves[i]
		if lf.name >= 0 {
			continue
		}
		q := &lf.e.Quantity
		if lf.exact && lf.col >= 0 {
			continue
		}
		if k := w.ownColumn(s, q, lf.typed); k >= 0 {
			lf.col, lf.per, lf.slack = k, 1, 0
			lf.value = s.cols[k].value
			if lf.typed < 0 != (w.own[s.key(k)] < 0) {
				lf.value, lf.per = -lf.value, -1
			}
			used = true
		}
	}
	if !used {
		return false
	}
	again := w.try(l, t.scene, t.names, t.chosen)
	w.retry = again
	x := &again.links[bad]
	ok := x.holds && x.sound
	w.numbers(s, 0)
	w.try(l, t.scene, t.names, t.chosen)
	return ok
}

// withOwnPlace puts a true distance, from wherever it may be counted, where the pupil's own stands.
func (w *working) withOwnPlace(l *script.Line, s *scene, t *trial, bad int) bool {
	c := &w.c
	for i := range c.leaves {
		lf := &c.leaves[i]
		if lf.name >= 0 {
			continue
		}
		for _, p := range w.places0 {
			if math.Abs(lf.typed-p.value) > 1e-9*math.Abs(p.value) {
				continue
			}
			before := *lf
			for _, m := range w.meanings(t.scene, p.name) {
				if m.col < 0 {
					continue
				}
				lf.value, lf.col, lf.per, lf.slack = m.value, m.col, m.per, 0
				again := w.try(l, t.scene, t.names, t.chosen)
				if x := &again.links[bad]; x.holds && x.sound {
					w.numbers(s, usual)
					w.try(l, t.scene, t.names, t.chosen)
					return true
				}
			}
			*lf = before
		}
	}
	w.try(l, t.scene, t.names, t.chosen)
	return false
}

// withOwnNames puts the pupil's own values for the names.
func (w *working) withOwnNames(l *script.Line, s *scene, t *trial, bad int) bool {
	chosen := append([]meaning(nil), t.chosen...)
	used := false
	for i := range chosen {
		m := &chosen[i]
		v, ok := w.own[m.key]
		if !ok || m.col >= 0 && s.cols[m.col].kind == placeOf {
			continue
		}
		m.value, used = v*m.scale, true
	}
	if !used {
		return false
	}
	for i := range w.c.leaves { // numbers as they were typed
		if lf := &w.c.leaves[i]; lf.name < 0 {
			lf.value = lf.typed
		}
	}
	again := w.try(l, t.scene, t.names, chosen)
	x := &again.links[bad]
	ok := math.Abs(x.residual) <= max(x.slack, 0.004*w.size(bad))
	w.numbers(s, 0)
	w.try(l, t.scene, t.names, t.chosen)
	return ok
}

// size is how large the sides of a link are.
func (w *working) size(bad int) float64 {
	return max(math.Abs(w.c.val[w.c.sides[bad]]), math.Abs(w.c.val[w.c.sides[bad+1]]))
}

// rearranged reports whether a condition is a multiple of an earlier wrong one, or two of them together.
func (w *working) rearranged(s *scene, f *form) bool {
	for i := range w.forms {
		a := &w.forms[i]
		if a.scene != f.scene || !a.wrong {
			continue
		}
		if s.combined(f, a, nil) {
			return true
		}
	}
	for i := range w.forms {
		for k := range i {
			a, b := &w.forms[i], &w.forms[k]
			if a.scene == f.scene && b.scene == f.scene && (a.wrong || b.wrong) && s.combined(f, a, b) {
				return true
			}
		}
	}
	return false
}

// combined reports whether f is a combination of a and b.
func (s *scene) combined(f, a, b *form) bool {
	n := len(f.grad)
	vector := func(x *form) []float64 {
		v := make([]float64, n+1)
		for i := range n {
			v[i] = x.grad[i] * s.weigh(i)
		}
		v[n] = x.rest
		return v
	}
	t := vector(f)
	big := 0.0
	for _, v := range t[:n] {
		big = max(big, math.Abs(v))
	}
	if big == 0 {
		return false
	}
	var basis [][]float64
	for _, x := range []*form{a, b} {
		if x == nil {
			continue
		}
		v := vector(x)
		size := math.Sqrt(dotN(v, v))
		for _, e := range basis {
			d := dotN(v, e)
			for i := range v {
				v[i] -= d * e[i]
			}
		}
		r := math.Sqrt(dotN(v, v))
		if r < 1e-3*size || size == 0 {
			return false
		}
		for i := range v {
			v[i] /= r
		}
		// A combination that says only that a number is nothing is a contradiction: all would follow.
		if math.Abs(v[n]) > 0.999 {
			return false
		}
		basis = append(basis, v)
	}
	for _, e := range basis {
		d := dotN(t, e)
		for i := range t {
			t[i] -= d * e[i]
		}
	}
	for i := range t {
		if math.Abs(t[i]) > 0.006*big {
			return false
		}
	}
	return true
}

// oneStep reports whether a value follows from the pupil's own by one condition of equilibrium that was not
// written out.
func (w *working) oneStep(j *Judged, s *scene, t *trial, bad int) bool {
	c := &w.c
	name, num, ok := c.result(c.sides[bad], c.sides[bad+1])
	if !ok {
		return false
	}
	lf := &c.leaves[c.nodes[name].leaf]
	if lf.col < 0 || lf.col2 >= 0 || lf.per == 0 {
		return false
	}
	i := lf.col
	v := c.leaves[c.nodes[num].leaf].typed
	delta := (v - lf.value) / lf.per
	for n := range s.natural {
		e := &s.natural[n]
		if e.row[i] == 0 {
			continue
		}
		sum, used := 0.0, false
		for k := range s.cols {
			x, ok := w.own[s.key(k)]
			if !ok || k == i || e.row[k] == 0 {
				continue
			}
			sum += e.row[k] * (x - s.cols[k].value)
			used = true
		}
		if !used || math.Abs(sum) < 1e-9 {
			continue
		}
		want := -sum / e.row[i]
		if math.Abs(want-delta) <= max(half(&c.leaves[c.nodes[num].leaf].e.Quantity), 0.005*math.Abs(v)) {
			j.Means = e.means
			return true
		}
	}
	return false
}
