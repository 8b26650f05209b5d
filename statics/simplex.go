package statics

import "math/big"

// A dictionary writes some variables (basic) as a constant and factors times the others, in exact
// rationals. Variables below n are components, free of sign; the others are what is left before a
// limit is reached, never negative. Rules of least index (Bland), after some quicker steps, keep it from going in
// circles, which three rests under a beam would otherwise make it do.
type dictionary struct {
	row      [][]*big.Rat // constant, then a factor for each of nonbasic
	basic    []int
	nonbasic []int
	n        int
	bits     int // what is below 2^-bits is nothing, because the numbers given were irrational; 0: all digits count
}

// equation marks a row that must stay zero.
const equation = -1

var zero = new(big.Rat) // never written to

// isDust reports whether v is nothing but the rounding of irrational numbers.
func (d *dictionary) isDust(v *big.Rat) bool {
	return d.bits > 0 && v.Sign() != 0 && v.Num().BitLen()-v.Denom().BitLen() < -d.bits
}

// size ranks pivots: large ones where there is dust, simple ones where there is none.
func (d *dictionary) size(v *big.Rat) int {
	if d.bits > 0 {
		return v.Num().BitLen() - v.Denom().BitLen()
	}
	return -v.Num().BitLen() - v.Denom().BitLen()
}

// pivot exchanges the variable of row r and that of column c.
func (d *dictionary) pivot(r, c int) {
	row := d.row[r]
	p := new(big.Rat).Inv(row[c+1])
	m := new(big.Rat).Neg(p)
	turned := make([]*big.Rat, len(row))
	for j, v := range row {
		switch {
		case j == c+1:
			turned[j] = p
		case v.Sign() == 0:
			turned[j] = zero
		default:
			turned[j] = new(big.Rat).Mul(v, m)
		}
	}
	d.row[r] = turned
	for i, other := range d.row {
		f := other[c+1]
		if i == r || f.Sign() == 0 {
			continue
		}
		for j, v := range turned {
			switch {
			case j == c+1:
				other[j] = new(big.Rat).Mul(f, v)
			case v.Sign() != 0:
				x := new(big.Rat).Mul(f, v)
				x.Add(x, other[j])
				if d.isDust(x) {
					x = zero
				}
				other[j] = x
			}
		}
	}
	d.basic[r], d.nonbasic[c] = d.nonbasic[c], d.basic[r]
}

// eliminate solves the equations; it reports false if they contradict each other.
func (d *dictionary) eliminate() bool {
	for {
		r, c := -1, -1
		for i, row := range d.row {
			if d.basic[i] != equation {
				continue
			}
			for j := range d.nonbasic {
				if v := row[j+1]; v.Sign() != 0 && (r < 0 || d.size(v) > d.size(d.row[r][c+1])) {
					r, c = i, j
				}
			}
		}
		if r < 0 {
			break
		}
		d.pivot(r, c)
		d.drop(c)
	}
	kept := 0
	for i, row := range d.row {
		if d.basic[i] == equation {
			if row[0].Sign() != 0 {
				return false
			}
			continue
		}
		d.row[kept], d.basic[kept] = row, d.basic[i]
		kept++
	}
	d.row, d.basic = d.row[:kept], d.basic[:kept]
	return true
}

// drop leaves out column c, whose variable is zero.
func (d *dictionary) drop(c int) {
	last := len(d.nonbasic) - 1
	for i, row := range d.row {
		row[c+1] = row[last+1]
		d.row[i] = row[:last+1]
	}
	d.nonbasic[c] = d.nonbasic[last]
	d.nonbasic = d.nonbasic[:last]
}

// free makes basic every component that some limit depends on. Those left can be anything.
func (d *dictionary) free() {
	for c := range d.nonbasic {
		r := -1
		for i, row := range d.row {
			if v := row[c+1]; d.basic[i] >= d.n && v.Sign() != 0 && (r < 0 || d.size(v) > d.size(d.row[r][c+1])) {
				r = i
			}
		}
		if r >= 0 {
			d.pivot(r, c)
		}
	}
}

// hurried is how many steps are taken by the largest factor, which needs fewer of them, before
// Bland's rule, which is sure to end, takes over.
const hurried = 24

// before reports whether variable i, with factor a, is to be taken before variable j with factor b.
func before(steps int, a, b *big.Rat, i, j int) bool {
	if steps < hurried {
		x, y := a.Num().BitLen()-a.Denom().BitLen(), b.Num().BitLen()-b.Denom().BitLen()
		if x != y {
			return x > y
		}
	}
	return i < j
}

// A proof that no forces do: the limits, each times its factor (none negative), add up to
// something that is negative whatever the forces. It is empty where the equations contradict
// each other by themselves.
type proof map[int]*big.Rat

// feasible moves to forces within all limits, or returns the proof that there are none.
func (d *dictionary) feasible() proof {
	steps := 0
	for {
		r := -1
		for i, row := range d.row {
			if d.basic[i] >= d.n && row[0].Sign() < 0 && (r < 0 || before(steps, row[0], d.row[r][0], d.basic[i], d.basic[r])) {
				r = i
			}
		}
		steps++
		if r < 0 {
			return nil
		}
		c := -1
		for j, v := range d.nonbasic {
			if v >= d.n && d.row[r][j+1].Sign() > 0 && (c < 0 || v < d.nonbasic[c]) {
				c = j
			}
		}
		if c < 0 {
			y := proof{d.basic[r] - d.n: big.NewRat(1, 1)}
			for j, v := range d.nonbasic {
				if f := d.row[r][j+1]; f.Sign() != 0 {
					y[v-d.n] = new(big.Rat).Neg(f)
				}
			}
			return y
		}
		d.pivot(r, c)
	}
}

// A weight is a factor of a variable in what is made as large as possible.
type weight struct {
	of     int
	factor *big.Rat
}

// greatest moves to where the weighted sum is greatest and returns that value, or nil if it can
// grow without end. The dictionary must be feasible and remains so.
func (d *dictionary) greatest(ws ...weight) *big.Rat {
	d.row = append(d.row, d.sum(ws))
	d.basic = append(d.basic, equation)
	last := len(d.row) - 1
	defer func() { d.row, d.basic = d.row[:last], d.basic[:last] }()
	steps := 0
	for {
		goal := d.row[last]
		c := -1
		for j, v := range d.nonbasic {
			sign := goal[j+1].Sign()
			if v < d.n && sign != 0 {
				return nil
			}
			if sign > 0 && (c < 0 || before(steps, goal[j+1], goal[c+1], v, d.nonbasic[c])) {
				c = j
			}
		}
		steps++
		if c < 0 {
			return goal[0]
		}
		r := d.blocking(last, c)
		if r < 0 {
			return nil
		}
		d.pivot(r, c)
	}
}

// blocking returns the row, below end, whose limit is reached first as column c grows; -1 if none is.
func (d *dictionary) blocking(end, c int) int {
	r := -1
	var least *big.Rat
	for i, row := range d.row[:end] {
		if d.basic[i] < d.n || row[c+1].Sign() >= 0 {
			continue
		}
		ratio := new(big.Rat).Quo(row[0], row[c+1])
		ratio.Neg(ratio)
		if r >= 0 {
			if k := ratio.Cmp(least); k > 0 || k == 0 && d.basic[i] > d.basic[r] {
				continue
			}
		}
		r, least = i, ratio
	}
	return r
}

// sum returns the weighted sum as a row.
func (d *dictionary) sum(ws []weight) []*big.Rat {
	out := make([]*big.Rat, len(d.nonbasic)+1)
	for j := range out {
		out[j] = new(big.Rat)
	}
	for _, w := range ws {
		if row := d.of(w.of); row != nil {
			for j, v := range row {
				if v.Sign() != 0 {
					out[j].Add(out[j], new(big.Rat).Mul(v, w.factor))
				}
			}
			continue
		}
		for j, v := range d.nonbasic {
			if v == w.of {
				out[j+1].Add(out[j+1], w.factor)
			}
		}
	}
	for j, v := range out {
		if d.isDust(v) {
			out[j] = zero
		}
	}
	return out
}

// of returns the row of a basic variable, or nil.
func (d *dictionary) of(v int) []*big.Rat {
	for i, b := range d.basic {
		if b == v {
			return d.row[i]
		}
	}
	return nil
}

// value returns a variable where the nonbasic ones are zero.
func (d *dictionary) value(v int) *big.Rat {
	if row := d.of(v); row != nil {
		return row[0]
	}
	return zero
}
