package mark

import (
	"math"

	"steelyard/quantity"
	"steelyard/script"
)

// A leaf is a number or a name of a line.
type leaf struct {
	e        *script.Expr
	name     int // among the names of the working; −1 of a number
	value    float64
	typed    float64 // SI value as typed
	slack    float64 // by how much it may be off for its rounding
	col      int     // the column that it is, or −1
	per      float64 // change of the leaf for a unit change of the column
	col2     int     // of the size of a force in two parts: the other column
	per2     float64
	exact    bool // it stands in the question
	product  bool // it is a factor of a product
	own      bool // it may as well be a length
	exponent bool
}

// A node of a compiled line; arguments stand before it.
type node struct {
	op   script.Op
	fn   string
	a, b int
	leaf int
}

// A formula is a line's side, ready to be worked out many times.
type compiled struct {
	nodes  []node
	leaves []leaf
	val    []float64
	adj    []float64
	sides  []int // the node of each side
}

func (c *compiled) reset() { c.nodes, c.leaves, c.sides = c.nodes[:0], c.leaves[:0], c.sides[:0] }

// add compiles an expression and returns its node.
func (c *compiled) add(e *script.Expr, names *nameList, product, exponent bool) int {
	n := node{op: e.Op, fn: e.Text, a: -1, b: -1, leaf: -1}
	switch e.Op {
	case script.Number:
		n.leaf = len(c.leaves)
		c.leaves = append(c.leaves, leaf{e: e, name: -1, col: -1, col2: -1, product: product, exponent: exponent})
	case script.Name:
		n.leaf = len(c.leaves)
		c.leaves = append(c.leaves, leaf{e: e, name: names.number(e.Text), col: -1, col2: -1, product: product, exponent: exponent})
	default:
		inner := product
		switch e.Op {
		case script.Multiply, script.Divide:
			inner = true
		case script.Add, script.Subtract:
			// a bracket in a product is a factor as a whole
		}
		n.a = c.add(&e.Args[0], names, inner, exponent)
		if len(e.Args) > 1 {
			n.b = c.add(&e.Args[1], names, inner, exponent || e.Op == script.Power)
		}
	}
	c.nodes = append(c.nodes, n)
	return len(c.nodes) - 1
}

const radian = math.Pi / 180

// work works all nodes out.
func (c *compiled) work() {
	if cap(c.val) < len(c.nodes) {
		c.val, c.adj = make([]float64, 2*len(c.nodes)), make([]float64, 2*len(c.nodes))
	}
	c.val, c.adj = c.val[:len(c.nodes)], c.adj[:len(c.nodes)]
	for i := range c.nodes {
		n := &c.nodes[i]
		v := 0.0
		switch n.op {
		case script.Number, script.Name:
			v = c.leaves[n.leaf].value
		case script.Add:
			v = c.val[n.a] + c.val[n.b]
		case script.Subtract:
			v = c.val[n.a] - c.val[n.b]
		case script.Multiply:
			v = c.val[n.a] * c.val[n.b]
		case script.Divide:
			v = c.val[n.a] / c.val[n.b]
		case script.Negate:
			v = -c.val[n.a]
		case script.Power:
			v = math.Pow(c.val[n.a], c.val[n.b])
		case script.Root:
			v = math.Sqrt(c.val[n.a])
		case script.Function:
			v = apply(n.fn, c.val[n.a])
		}
		c.val[i] = v
	}
}

// apply takes degrees and gives degrees.
func apply(fn string, x float64) float64 {
	switch fn {
	case "sin":
		return math.Sin(x * radian)
	case "cos":
		return math.Cos(x * radian)
	case "tan":
		return math.Tan(x * radian)
	case "asin":
		return math.Asin(x) / radian
	case "acos":
		return math.Acos(x) / radian
	case "atan":
		return math.Atan(x) / radian
	}
	return math.NaN()
}

// back finds how the difference of two sides changes with each node.
func (c *compiled) back(left, right int) {
	for i := range c.adj {
		c.adj[i] = 0
	}
	c.adj[left]++
	if right >= 0 {
		c.adj[right]--
	}
	for i := len(c.nodes) - 1; i >= 0; i-- {
		n, g := &c.nodes[i], c.adj[i]
		if g == 0 {
			continue
		}
		switch n.op {
		case script.Add:
			c.adj[n.a] += g
			c.adj[n.b] += g
		case script.Subtract:
			c.adj[n.a] += g
			c.adj[n.b] -= g
		case script.Multiply:
			c.adj[n.a] += g * c.val[n.b]
			c.adj[n.b] += g * c.val[n.a]
		case script.Divide:
			c.adj[n.a] += g / c.val[n.b]
			c.adj[n.b] -= g * c.val[i] / c.val[n.b]
		case script.Negate:
			c.adj[n.a] -= g
		case script.Power:
			if b := c.val[n.b]; b != 0 && c.val[n.a] != 0 {
				c.adj[n.a] += g * b * c.val[i] / c.val[n.a]
			}
		case script.Root:
			if c.val[i] != 0 {
				c.adj[n.a] += g / (2 * c.val[i])
			}
		case script.Function:
			x := c.val[n.a]
			switch n.fn {
			case "sin":
				c.adj[n.a] += g * math.Cos(x*radian) * radian
			case "cos":
				c.adj[n.a] -= g * math.Sin(x*radian) * radian
			case "tan":
				t := c.val[i]
				c.adj[n.a] += g * (1 + t*t) * radian
			case "asin", "acos":
				d := g / math.Sqrt(max(1e-12, 1-x*x)) / radian
				if n.fn == "acos" {
					d = -d
				}
				c.adj[n.a] += d
			case "atan":
				c.adj[n.a] += g / (1 + x*x) / radian
			}
		}
	}
}

// si is the value of a typed number: in SI units, an angle in degrees.
func si(q *quantity.Quantity) float64 {
	switch {
	case q.Unit.Symbol == "°":
		return q.Value
	case q.Unit.Symbol == "rad":
		return q.Value / radian
	case q.Unit.Power == 0:
		return q.Value
	}
	return q.SI()
}

// half is half a unit of the last place that was typed, in SI units. Zeros at the end of a whole number may be
// there only to fill: down to three figures they are not taken to be exact.
//
// Source: common practice (a value of 1600 is read as three or four figures, in the pupil's favour).
func half(q *quantity.Quantity) float64 {
	if q.Value == 0 {
		return 0
	}
	h := 0.5 * math.Pow10(-q.Decimals)
	if q.Decimals == 0 {
		v := math.Abs(q.Value)
		for h*2000 <= v && math.Mod(v, 20*h) == 0 { // keeps three figures at least
			h *= 10
		}
	}
	if q.Value != 0 && q.Unit.Power != 0 {
		h *= math.Abs(q.SI() / q.Value)
	}
	return h
}
