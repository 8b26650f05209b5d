package statics

import "math"

// The float64 path answers only where nothing hangs on a rounding. All its numbers are scaled
// (see lowered), so these are relative to the largest load, the greatest distance, a whole column.
const (
	pivotClear = 1e-5  // a pivot this large costs at most five of the sixteen digits
	signClear  = 1e-8  // a force this large has a sign
	dustClear  = 1e-11 // what is smaller is nothing, where numbers are irrational anyway
)

// quick tries to tell the state in float64. With ok false it could not be told with certainty.
// For Unique, x holds the value of every component.
func (l *lowered) quick(x []float64) (state State, ok bool) {
	g := gauss{l: l, w: len(l.cols) + 1}
	rank, consistent, ok := g.eliminate()
	if !ok {
		return 0, false
	}
	if !consistent {
		return NoEquilibrium, true
	}
	if rank < g.matter {
		return g.pursue(rank)
	}
	return g.judge(x)
}

// gauss eliminates the equations of a lowered system in place, with full pivoting.
type gauss struct {
	l      *lowered
	w      int
	matter int   // columns that are in some equation
	where  []int // row whose pivot is in the column; -1
	taken  []bool
}

func (g *gauss) eliminate() (rank int, consistent, ok bool) {
	l, w := g.l, g.w
	n, rows := w-1, l.rows()
	g.where = make([]int, n)
	g.taken = make([]bool, rows)
	for j := range n {
		g.where[j] = -1
		for i := range rows {
			if l.a[i*w+j] != 0 {
				g.matter++
				break
			}
		}
	}
	for {
		r, c, high := -1, -1, 0.0
		for i := range rows {
			if g.taken[i] {
				continue
			}
			for j, v := range l.a[i*w : i*w+n] {
				if v = math.Abs(v); v > high && g.where[j] < 0 {
					r, c, high = i, j, v
				}
			}
		}
		if high < pivotClear {
			consistent, ok = g.rest(high)
			return rank, consistent, ok
		}
		g.pivot(r, c)
		rank++
	}
}

func (g *gauss) pivot(r, c int) {
	w := g.w
	a := g.l.a
	row := a[r*w : (r+1)*w]
	p := 1 / row[c]
	for j := range row {
		row[j] *= p
	}
	row[c] = 1
	for i := range g.taken {
		f := a[i*w+c]
		if i == r || f == 0 {
			continue
		}
		other := a[i*w : (i+1)*w]
		for j, v := range row {
			other[j] -= f * v
		}
		other[c] = 0
	}
	g.taken[r], g.where[c] = true, r
}

// rest judges the equations in which no unknown is left.
func (g *gauss) rest(high float64) (consistent, ok bool) {
	left := 0.0
	for i, taken := range g.taken {
		if !taken {
			left = max(left, math.Abs(g.l.a[(i+1)*g.w-1]))
		}
	}
	switch {
	case high == 0 && left == 0:
		return true, true
	case high > dustClear:
		return false, false
	case left > signClear:
		return false, true
	}
	return true, left < dustClear && !g.l.strict && g.l.dusty()
}

// judge looks at the limits where the equations fix every component.
func (g *gauss) judge(x []float64) (State, bool) {
	l := g.l
	for j := range x {
		x[j] = 0
		if r := g.where[j]; r >= 0 {
			x[j] = -l.a[(r+1)*g.w-1]
		}
	}
	state, ok := Unique, true
	for i := range l.limits {
		m := &l.limits[i]
		if g.where[m.col] < 0 && m.joint < 0 {
			continue // an unknown that adds nothing
		}
		v := l.slack(m, func(j int) float64 { return x[j] })
		if v < -signClear {
			return NoEquilibrium, true
		}
		if v < signClear {
			ok = false
		}
	}
	for j := range x {
		x[j] = clean(math.Ldexp(x[j], l.colExp[j]+l.loadExp))
		if l.unknown(j) >= 0 && g.where[j] < 0 {
			x[j] = l.idle(j)
		}
	}
	return state, ok
}

// unknown returns the number of the unknown in column j, or -1.
func (l *lowered) unknown(j int) int { return max(j-l.first[len(l.Joints)], -1) }

// idle returns the value of an unknown that adds nothing: the one nearest to 0 that is allowed.
func (l *lowered) idle(j int) float64 {
	u := &l.Unknowns[l.unknown(j)]
	return min(max(0, u.Least), u.Greatest)
}

// slack returns how far a limit is from being reached, from scaled components.
func (l *lowered) slack(m *limit, x func(col int) float64) float64 {
	v := x(m.col)
	switch m.kind {
	case atLeast:
		return v - math.Ldexp(m.bound, -l.colExp[m.col]-l.loadExp)
	case atMost:
		return math.Ldexp(m.bound, -l.colExp[m.col]-l.loadExp) - v
	}
	v = math.Ldexp(v, l.colExp[m.col])
	if m.kind == slipAlong {
		v = -v
	}
	j := &l.Joints[m.joint]
	for k := range j.presses() {
		c := l.first[m.joint] + k
		v += j.Mu * math.Ldexp(x(c), l.colExp[c])
	}
	return v
}

// pursue looks for forces within the limits where the equations leave rank < matter, by writing
// the limits in what is left free.
func (g *gauss) pursue(rank int) (State, bool) {
	l := g.l
	free := make([]int, 0, g.matter-rank)
	n := g.w - 1
	for j := range n {
		if g.where[j] < 0 && l.appears(j) {
			free = append(free, j)
		}
	}
	w := len(free) + 1 // of a row: constant, then a factor for each
	t := make([]float64, 0, len(l.limits)*w)
	for i := range l.limits {
		m := &l.limits[i]
		if m.joint < 0 && g.where[m.col] < 0 && !l.appears(m.col) {
			continue
		}
		base := l.slack(m, func(j int) float64 {
			if r := g.where[j]; r >= 0 {
				return -l.a[(r+1)*g.w-1]
			}
			return 0
		})
		t = append(t, base)
		for _, f := range free {
			t = append(t, l.slack(m, func(j int) float64 {
				v := 0.0
				if r := g.where[j]; r >= 0 {
					v = -l.a[(r+1)*g.w-1] - l.a[r*g.w+f]
				} else if j == f {
					v = 1
				}
				return v
			})-base)
		}
	}
	return roomiest(t, w)
}

// appears reports whether component j was in any equation before elimination: an unknown that
// adds nothing is in none.
func (l *lowered) appears(j int) bool {
	if c := &l.cols[j]; l.unknown(j) < 0 || c.on >= 0 && (c.force != (Vec{}) || c.couple != 0) {
		return true
	}
	for _, tie := range l.Ties {
		for _, t := range tie.Terms {
			if t.Joint == -1-l.unknown(j) && t.Factor != 0 {
				return true
			}
		}
	}
	return false
}

// roomiest tells whether rows of constant + factors × z ≥ 0 have a common z, by looking for the
// one that keeps farthest from all of them. If that is by a clear distance, z and so the forces
// can be moved about: they are not fixed. If it is past some by a clear distance there are none.
func roomiest(rows []float64, w int) (State, bool) {
	n := len(rows) / w
	if n == 0 {
		return NotFixed, true // nothing limits them
	}
	// One more column: the distance, kept from every limit alike.
	r := room{w: w + 1, n: n, t: make([]float64, n*(w+1)), free: make([]bool, n)}
	least := 0
	for i := range n {
		copy(r.t[i*r.w:], rows[i*w:(i+1)*w])
		r.t[i*r.w+w] = -1
		if rows[i*w] < rows[least*w] {
			least = i
		}
	}
	r.goal = least
	turn(r.t, r.w, least, w)
	r.free[least] = true
	for c := 1; c < w; c++ { // z of any sign comes in the way that makes room
		sign := 1.0
		if r.t[r.goal*r.w+c] < 0 {
			sign = -1
		}
		b := r.blocking(c, sign)
		if b < 0 && math.Abs(r.t[r.goal*r.w+c]) <= dustClear {
			sign = -sign
			b = r.blocking(c, sign)
		}
		if b >= 0 {
			turn(r.t, r.w, b, c)
			r.free[b] = true
		} else if math.Abs(r.t[r.goal*r.w+c]) > pivotClear {
			return NotFixed, true // room without end
		}
	}
	for range 20 * (n + w) {
		room := r.t[r.goal*r.w]
		if room > 1e-6 {
			return NotFixed, true
		}
		c, high := -1, dustClear
		for j := 1; j < r.w; j++ {
			if v := r.t[r.goal*r.w+j]; v > high {
				c, high = j, v
			}
		}
		if c < 0 {
			return NoEquilibrium, room < -signClear
		}
		b := r.blocking(c, 1)
		if b < 0 {
			return NotFixed, high > pivotClear
		}
		turn(r.t, r.w, b, c)
	}
	return 0, false
}

// A room is a table of limits in float64, with the row of the distance that is kept from them.
type room struct {
	t    []float64
	n, w int
	goal int
	free []bool // rows of variables without a sign
}

// blocking returns the row that reaches its limit first as column c grows in the sense of sign; -1 if none.
func (r *room) blocking(c int, sign float64) int {
	b, least, pivot := -1, math.Inf(1), 0.0
	for i := range r.n {
		v := sign * r.t[i*r.w+c]
		if r.free[i] || v > -dustClear {
			continue
		}
		ratio := math.Max(r.t[i*r.w], 0) / -v
		if ratio < least-1e-12 || ratio < least+1e-12 && -v > pivot {
			b, least, pivot = i, ratio, -v
		}
	}
	return b
}

// turn exchanges row r and column c of a table of float64.
func turn(t []float64, w, r, c int) {
	row := t[r*w : (r+1)*w]
	p := 1 / row[c]
	for j := range row {
		row[j] *= -p
	}
	row[c] = p
	for i := 0; i*w < len(t); i++ {
		f := t[i*w+c]
		if i == r || f == 0 {
			continue
		}
		other := t[i*w : (i+1)*w]
		other[c] = 0
		for j, v := range row {
			other[j] += f * v
		}
	}
}
