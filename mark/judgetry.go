package mark

import (
	"math"
	"strconv"
	"strings"

	"steelyard/quantity"
	"steelyard/script"
	"steelyard/slip"
)

// try works a line out with one choice of meanings for its names.
func (w *working) try(l *script.Line, si int, ids []int, chosen []meaning) *trial {
	s := w.places[si]
	t := &trial{scene: si, chosen: chosen, names: ids}
	c := &w.c
	for i := range c.leaves {
		lf := &c.leaves[i]
		if lf.name < 0 {
			continue
		}
		for k, id := range ids {
			if id == lf.name {
				m := &chosen[k]
				lf.value, lf.typed, lf.col, lf.per, lf.col2, lf.per2, lf.slack = m.value, m.value, m.col, m.per, m.col2, m.per2, 0
				if m.total {
					lf.col, lf.col2 = -1, -1
				}
			}
		}
	}
	c.work()
	t.sound = true
	for k := 0; k+1 < len(c.sides); k++ {
		t.links = append(t.links, w.link(l, s, c.sides[k], c.sides[k+1], k))
		x := &t.links[k]
		if x.holds || x.total {
			t.holds++
		} else {
			t.sound = false
		}
		if !x.sound {
			t.sound = false
		}
	}
	return t
}

// rivals settles which factor of a product is a force, where two could be: a name or a number with a unit before
// a bare number, else the first, or the second if latter is set. It reports whether there was such a choice.
func (c *compiled) rivals(s *scene, latter bool) (choice bool) {
	// How surely a factor is a force: 4 by its name or unit, 2 by its value in newtons, 1 as a mass.
	force := func(root int) (rank int) {
		for i := c.under(root); i <= root; i++ {
			if n := &c.nodes[i]; n.leaf >= 0 {
				lf := &c.leaves[n.leaf]
				if lf.col < 0 || !s.cols[lf.col].isForce() {
					continue
				}
				switch {
				case lf.name >= 0 || lf.e.Quantity.Unit != quantity.Unit{}:
					rank = 4
				case math.Abs(lf.per) != 1:
					rank = max(rank, 1)
				case lf.exact && math.Abs(lf.typed) == s.l.Field:
					rank = max(rank, 1)
				default:
					rank = max(rank, 2)
				}
			}
		}
		return rank
	}
	drop := func(root int) {
		for i := c.under(root); i <= root; i++ {
			if n := &c.nodes[i]; n.leaf >= 0 {
				if lf := &c.leaves[n.leaf]; lf.name < 0 && lf.col >= 0 {
					lf.col, lf.value = -1, lf.typed
					if !lf.exact {
						lf.slack = min(half(&lf.e.Quantity), 0.005*math.Abs(lf.typed))
					}
				}
			}
		}
	}
	for i := range c.nodes {
		n := &c.nodes[i]
		if n.op != script.Multiply {
			continue
		}
		a, b := force(n.a), force(n.b)
		switch {
		case a == 0 || b == 0:
		case a > b:
			drop(n.b)
		case b > a:
			drop(n.a)
		case a < 4:
			choice = true
			if latter {
				drop(n.a)
			} else {
				drop(n.b)
			}
		}
	}
	return choice
}

// span is the range of nodes under a node.
func (c *compiled) under(root int) int {
	n := root
	for c.nodes[n].a >= 0 {
		n = c.nodes[n].a
	}
	return n
}

// names reports whether a side has names in it.
func (c *compiled) named(root int) bool {
	for i := c.under(root); i <= root; i++ {
		if n := &c.nodes[i]; n.leaf >= 0 && c.leaves[n.leaf].name >= 0 {
			return true
		}
	}
	return false
}

// link holds two sides against each other.
func (w *working) link(l *script.Line, s *scene, left, right, k int) link {
	c := &w.c
	x := link{sound: true}
	if !c.named(left) && !c.named(right) {
		x.arithmetic = true
		x.residual, x.slack = c.sums(left, right)
		x.holds = related(l, k, x.residual, x.slack)
		return x
	}
	x.residual = c.val[left] - c.val[right]
	if math.IsNaN(x.residual) {
		// A total that the pupil names is whatever it is said to be.
		x.total = c.total(left) || c.total(right)
		return x
	}
	c.back(left, right)
	x.grad = make([]float64, len(s.cols))
	scale := 0.0
	for i := c.under(left); i <= right; i++ {
		n := &c.nodes[i]
		if n.leaf < 0 || c.adj[i] == 0 {
			continue
		}
		lf := &c.leaves[n.leaf]
		x.slack += math.Abs(c.adj[i]) * lf.slack
		scale = max(scale, math.Abs(c.adj[i]*lf.value))
		if lf.col >= 0 {
			x.grad[lf.col] += c.adj[i] * lf.per
		}
		if lf.col2 >= 0 {
			x.grad[lf.col2] += c.adj[i] * lf.per2
		}
	}
	x.slack += 1e-9 * scale
	// A name that is said to be a number: as near as marking allows.
	if v, t, ok := c.result(left, right); ok {
		q := &c.leaves[c.nodes[t].leaf].e.Quantity
		typed := c.leaves[c.nodes[t].leaf].typed
		if agrees(q, typed, c.val[v]) || rounded(q, typed, c.val[v]) {
			x.slack = max(x.slack, math.Abs(x.residual)*1.001)
			x.residual = 0
		} else if lf := &c.leaves[c.nodes[t].leaf]; math.Abs(lf.typed-lf.value) > 0 {
			x.residual = c.val[v] - typed
		}
	}
	x.holds = related(l, k, x.residual, x.slack)
	if x.holds && relation(l, k) == "=" {
		x.sound = s.follows(x.grad, nil)
		if !x.sound && !s.idle(x.grad) {
			x.sound = s.follows(c.certain(s, left, right), nil)
		}
		if !x.sound {
			x.holds, x.cancel = false, true
		}
		if c.mixes(s, left, right) {
			x.holds, x.sound = false, false
		}
	}
	return x
}

// mixes reports whether bare forces of a link are some in newtons and some in the question's own unit: 12000 x 2 = 8 x 3
// holds only by chance where the 8 is in kilonewtons.
func (c *compiled) mixes(s *scene, left, right int) bool {
	k := s.perForce()
	if k == 1 {
		return false
	}
	plain, scaled := false, false
	for i := c.under(left); i <= right; i++ {
		if n := &c.nodes[i]; n.leaf >= 0 && c.adj[i] != 0 {
			lf := &c.leaves[n.leaf]
			if lf.col < 0 || !s.cols[lf.col].isForce() || s.cols[lf.col].kind == turnOf || lf.name < 0 && lf.e.Quantity.Unit != (quantity.Unit{}) {
				continue
			}
			per := math.Hypot(lf.per, lf.per2)
			plain = plain || near(per, 1)
			scaled = scaled || near(per, k)
		}
	}
	return plain && scaled
}

// rounded reports whether a whole number that ends in zeros is t to two figures.
func rounded(q *quantity.Quantity, v, t float64) bool {
	if q.Decimals != 0 || q.Figures < 3 || !strings.HasSuffix(q.Digits, "0") || q.Value == 0 {
		return false
	}
	w, err := strconv.ParseFloat(quantity.RoundFigures(math.Abs(t), 2), 64)
	return err == nil && math.Abs(math.Abs(v)-w) <= 1e-9*w && v*t > 0
}

// idle reports whether a force that is nothing here stands in a line: its factor shows only in the structure.
func (s *scene) idle(g []float64) bool {
	for i := range g {
		if c := &s.cols[i]; g[i] != 0 && c.isForce() && math.Abs(c.value) < 1e-6*s.largest {
			return true
		}
	}
	return false
}

// related reports whether two sides stand in the line's relation.
func related(l *script.Line, k int, residual, slack float64) bool {
	if math.IsNaN(residual) || math.IsInf(residual, 0) {
		return false
	}
	switch relation(l, k) {
	case "<", "≤":
		return residual <= slack
	case ">", "≥":
		return residual >= -slack
	}
	return math.Abs(residual) <= slack
}

// relation is what stands between two sides.
func relation(l *script.Line, k int) string {
	if k < len(l.Links) {
		return l.Links[k]
	}
	return l.Relation
}

// total reports whether a side is just a total that the pupil names.
func (c *compiled) total(root int) bool {
	n := &c.nodes[root]
	return n.op == script.Name && math.IsNaN(c.leaves[n.leaf].value)
}

// result reports whether a link says that a name is a number: the node of the name, and of the number.
func (c *compiled) result(left, right int) (name, num int, ok bool) {
	a, b := c.nodes[left].op, c.nodes[right].op
	switch {
	case a == script.Name && b == script.Number:
		return left, right, true
	case a == script.Number && b == script.Name:
		return right, left, true
	}
	return 0, 0, false
}

// sums is the difference of two sides without names, as typed, and how large it may be for rounding.
func (c *compiled) sums(left, right int) (residual, slack float64) {
	for i := c.under(left); i <= right; i++ {
		if n := &c.nodes[i]; n.leaf >= 0 {
			lf := &c.leaves[n.leaf]
			lf.value = lf.typed
		}
	}
	c.work()
	residual = c.val[left] - c.val[right]
	c.back(left, right)
	scale := 0.0
	for i := c.under(left); i <= right; i++ {
		n := &c.nodes[i]
		if n.leaf < 0 || c.adj[i] == 0 {
			continue
		}
		lf := &c.leaves[n.leaf]
		q := &lf.e.Quantity
		scale = max(scale, math.Abs(c.adj[i]*lf.value))
		switch {
		case lf.exact || lf.exponent:
		case i == right || i == left:
			slack += math.Abs(c.adj[i]) * min(half(q), 0.05*math.Abs(lf.value))
		default:
			slack += math.Abs(c.adj[i]) * min(half(q), 0.005*math.Abs(lf.value))
		}
	}
	return residual, slack*(1+1e-9) + 1e-9*scale
}

// certain is the gradient by what is certain only: names, and forces of the question as factors.
func (c *compiled) certain(s *scene, left, right int) []float64 {
	g := make([]float64, len(s.cols))
	for i := c.under(left); i <= right; i++ {
		n := &c.nodes[i]
		if n.leaf < 0 || c.adj[i] == 0 {
			continue
		}
		lf := &c.leaves[n.leaf]
		if lf.col < 0 || lf.name < 0 && (!lf.product || !lf.exact || lf.own) {
			continue
		}
		g[lf.col] += c.adj[i] * lf.per
		if lf.col2 >= 0 {
			g[lf.col2] += c.adj[i] * lf.per2
		}
	}
	return g
}

// weigh makes columns comparable: a change of each by its whole value.
func (s *scene) weigh(i int) float64 {
	c := &s.cols[i]
	v := math.Abs(c.value)
	switch {
	case c.kind == placeOf:
		v = max(v, s.l.Bodies[c.on].Length/4)
	case c.isForce() && c.kind != turnOf: // one that is nothing counts too
		if v = max(v, 0.5*s.largest); math.Abs(c.value) < 1e-6*s.largest {
			v = 2 * s.largest
		}
	}
	if v == 0 {
		v = 1
	}
	return v
}

// follows reports whether a gradient is a combination of the true equations, in the columns that it touches. The
// combination is put into lambda if that isn't nil.
func (s *scene) follows(g []float64, lambda []float64) bool {
	var buf [24]int
	present := buf[:0]
	for i := range g {
		if g[i] != 0 && s.cols[i].kind != angleOf {
			present = append(present, i)
		}
	}
	if len(present) < 2 {
		return true
	}
	return s.spans(s.rows, g, present)
}

// spans reports whether g, in the columns present, lies in the span of the rows to within the marking tolerance.
func (s *scene) spans(rows [][]float64, g []float64, present []int) bool {
	var target, spare [24]float64
	n := len(present)
	if n > 24 {
		return true
	}
	big := 0.0
	for k, i := range present {
		target[k] = g[i] * s.weigh(i)
		big = max(big, math.Abs(target[k]))
	}
	if big == 0 {
		return true
	}
	var basis [24][24]float64
	count := 0
	for _, row := range rows {
		size := 0.0
		for k, i := range present {
			spare[k] = row[i] * s.weigh(i)
			size += spare[k] * spare[k]
		}
		if size == 0 || count == n {
			continue
		}
		for range 2 {
			for b := range count {
				d := dotN(spare[:n], basis[b][:n])
				for k := range n {
					spare[k] -= d * basis[b][k]
				}
			}
		}
		left := dotN(spare[:n], spare[:n])
		if left < 1e-16*size {
			continue
		}
		r := 1 / math.Sqrt(left)
		for k := range n {
			basis[count][k] = spare[k] * r
		}
		count++
	}
	for b := range count {
		d := dotN(target[:n], basis[b][:n])
		for k := range n {
			target[k] -= d * basis[b][k]
		}
	}
	for k, i := range present {
		if math.Abs(target[k]) > 1.5*slip.Tolerance*math.Abs(g[i]*s.weigh(i))+0.1*slip.Tolerance*big {
			return false
		}
	}
	return true
}

func dotN(a, b []float64) float64 {
	d := 0.0
	for i := range a {
		d += a[i] * b[i]
	}
	return d
}
