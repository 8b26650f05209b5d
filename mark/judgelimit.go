package mark

import (
	"math"

	"steelyard/answer"
	"steelyard/statics"
)

// atLimit finds the forces of an arrangement in which some contacts are just about to be lost, from the equations
// alone: those contacts push with no force. It returns nil where that leaves anything open, or where something
// is about to slip.
func atLimit(l *answer.Layout, giving []statics.Giving) []statics.Reaction {
	n := len(l.System.Joints)
	lost := make([]bool, n)
	for _, g := range giving {
		if g.Slips || g.Joint < 0 || g.Joint >= n || l.System.Joints[g.Joint].Kind == statics.Face {
			return nil
		}
		lost[g.Joint] = true
	}
	s := newScene(l, make([]statics.Reaction, n))
	var unknown []int
	for i := range s.cols {
		c := &s.cols[i]
		if !c.isForce() {
			continue
		}
		p := l.SupportNamed(c.name)
		if p == nil || c.kind < reactionOf && c.kind != turnOf {
			if math.IsNaN(c.value) {
				return nil
			}
			continue
		}
		if !lost[p.Joint] {
			unknown = append(unknown, i)
		}
	}
	// Least squares by the normal equations: three rows a body, and no more unknowns than rows.
	k := len(unknown)
	a := make([][]float64, k)
	for i := range a {
		a[i] = make([]float64, k+1)
	}
	rest := make([]float64, len(s.rows))
	for r, row := range s.rows {
		for i := range s.cols {
			if s.cols[i].isForce() && s.cols[i].value != 0 {
				rest[r] += row[i] * s.cols[i].value
			}
		}
		for i, u := range unknown {
			for j, v := range unknown {
				a[i][j] += row[u] * row[v]
			}
			a[i][k] -= row[u] * rest[r]
		}
	}
	x := eliminate(a)
	if x == nil {
		return nil
	}
	for r, row := range s.rows {
		sum, size := rest[r], math.Abs(rest[r])
		for i, u := range unknown {
			sum += row[u] * x[i]
			size += math.Abs(row[u] * x[i])
		}
		if math.Abs(sum) > 1e-7*size {
			return nil
		}
	}
	out := make([]statics.Reaction, n)
	for i, u := range unknown {
		c := &s.cols[u]
		r := &out[l.SupportNamed(c.name).Joint]
		r.X, r.Y = r.X+x[i]*c.way.X, r.Y+x[i]*c.way.Y
		switch c.kind {
		case reactionOf, normalOf:
			r.N = x[i]
		case frictionOf:
			r.F = x[i]
		case turnOf:
			r.Couple = x[i] * c.turn
		}
	}
	return out
}

// eliminate solves a square system written with its right-hand side; nil if it has no one solution.
func eliminate(a [][]float64) []float64 {
	n := len(a)
	scale := 0.0
	for i := range a {
		for j := range n {
			scale = max(scale, math.Abs(a[i][j]))
		}
	}
	for c := range n {
		best := c
		for r := c + 1; r < n; r++ {
			if math.Abs(a[r][c]) > math.Abs(a[best][c]) {
				best = r
			}
		}
		if math.Abs(a[best][c]) < 1e-10*scale {
			return nil
		}
		a[c], a[best] = a[best], a[c]
		for r := range n {
			if r == c {
				continue
			}
			f := a[r][c] / a[c][c]
			for j := c; j <= n; j++ {
				a[r][j] -= f * a[c][j]
			}
		}
	}
	x := make([]float64, n)
	for i := range x {
		x[i] = a[i][n] / a[i][i]
	}
	return x
}
