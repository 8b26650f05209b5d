package sheet

import (
	"math"
	"strings"
	"unicode/utf8"

	"steelyard/formula"
)

// A setter sets formulas. The proportions are common practice in setting mathematics: fraction bars
// on the height of the minus sign, indices seven tenths as large.
type setter struct {
	look  *look
	size  float64
	small bool // fractions small, as in a line of text
}

const (
	axis   = 0.255 // height of the fraction bar and the middle of signs, in ems
	thick  = 0.048 // of bars
	loose  = 0.28  // around = and ≤
	medium = 0.22  // around + − ×
	thin   = 1.0 / 6
)

// formula sets a formula in one line.
func (s setter) formula(n formula.Node) box {
	switch n.Op {
	case formula.Sym:
		return s.symbol(n)
	case formula.Num:
		return beside(s.upright(n.Text), s.unit(n.Unit))
	case formula.Word:
		return s.upright(n.Text)
	case formula.Sum:
		return s.sum(n)
	case formula.Product:
		return s.product(n)
	case formula.Over:
		return s.fraction(n)
	case formula.Neg:
		return beside(s.upright("−"), s.inner(n.Args[0], n.Args[0].Op == formula.Sum))
	case formula.Power:
		return s.power(s.inner(n.Args[0], n.Args[0].Op != formula.Sym), n.Args[1])
	case formula.Root:
		return s.root(n.Args[0])
	case formula.Func:
		return s.function(n)
	case formula.Group:
		return s.brackets(s.formula(n.Args[0]))
	case formula.Equals:
		return s.chain(n)
	case formula.Gap:
		blank := box{width: 2.6 * s.size, up: 0.72 * s.size, down: 0.22 * s.size}
		blank.rules = []rule{{0, 0.12 * s.size, blank.width, 0.12 * s.size, 0.05 * s.size}}
		return beside(blank, s.unit(n.Unit))
	}
	return box{}
}

func (s setter) upright(text string) box { return textBox(s.look.roman, s.size, text) }

// symbol sets a quantity's symbol, italic but in large print, with its index upright.
func (s setter) symbol(n formula.Node) box {
	b := textBox(s.look.italic, s.size, n.Text)
	if n.Sub == "" {
		return b
	}
	sub := textBox(s.look.roman, s.look.sub*s.size, n.Sub)
	b.add(sub, b.width+0.02*s.size, 0.2*s.size)
	b.width += sub.width + 0.05*s.size
	return b
}

// unit sets the space before a unit and the unit.
func (s setter) unit(unit string) box {
	switch unit {
	case "":
		return box{}
	case "°":
		return s.upright("°")
	}
	all := box{}
	for part := range strings.SplitSeq(unit, " ") {
		all = beside(all, space(thin*s.size), s.upright(part))
	}
	return all
}

func (s setter) sign(sign string, around float64) box {
	return beside(space(around*s.size), s.upright(sign), space(around*s.size))
}

func (s setter) inner(n formula.Node, brackets bool) box {
	if brackets && n.Op != formula.Group {
		return s.brackets(s.formula(n))
	}
	return s.formula(n)
}

func (s setter) sum(n formula.Node) box { return beside(s.terms(n)...) }

// terms sets the terms of a sum, each with its sign before it.
func (s setter) terms(n formula.Node) []box {
	var out []box
	for i, a := range n.Args {
		sign := "+"
		if a.Op == formula.Neg {
			sign, a = "−", a.Args[0]
		}
		term := s.inner(a, sign == "−" && a.Op == formula.Sum)
		switch {
		case i > 0:
			term = beside(s.sign(sign, medium), term)
		case sign == "−":
			term = beside(s.upright("−"), term)
		}
		out = append(out, term)
	}
	return out
}

func (s setter) product(n formula.Node) box { return beside(s.factors(n)...) }

// factors sets the factors of a product, each with what stands before it.
func (s setter) factors(n formula.Node) []box {
	var out []box
	for i, a := range n.Args {
		factor := s.inner(a, a.Op == formula.Sum || a.Op == formula.Neg)
		if i > 0 {
			before := s.sign("×", medium)
			if left := n.Args[i-1]; left.Op == formula.Sym && (a.Op == formula.Sym || a.Op == formula.Func) {
				before = space(thin * s.size)
			}
			factor = beside(before, factor)
		}
		out = append(out, factor)
	}
	return out
}

func (s setter) fraction(n formula.Node) box {
	part := s
	if s.small && !s.look.large {
		part.size = 0.78 * s.size
	}
	above, below := part.formula(n.Args[0]), part.formula(n.Args[1])
	side, gap := 0.06*s.size, 0.13*s.size
	bar := thick * s.size
	width := max(above.width, below.width) + 2*side + 0.1*s.size
	f := box{width: width + 2*side}
	f.add(above, (f.width-above.width)/2, -axis*s.size-bar/2-gap-above.down)
	f.add(below, (f.width-below.width)/2, -axis*s.size+bar/2+gap+below.up)
	f.rules = append(f.rules, rule{side, -axis * s.size, f.width - side, -axis * s.size, bar})
	return f
}

// power sets an index above, higher over a tall base.
func (s setter) power(base box, index formula.Node) box {
	small := s
	small.size, small.small = s.look.sub*s.size, true
	exponent := small.formula(index)
	base.add(exponent, base.width+0.03*s.size, -max(0.36*s.size, base.up-0.36*s.size))
	base.width += exponent.width + 0.06*s.size
	return base
}

func (s setter) function(n formula.Node) box {
	name := s.upright(n.Text)
	if stem, inverse := strings.CutSuffix(n.Text, "⁻¹"); inverse {
		name = s.power(s.upright(stem), formula.Node{Op: formula.Word, Text: "−1"})
	}
	a := n.Args[0]
	if a.Op == formula.Sym || a.Op == formula.Num || a.Op == formula.Gap || a.Op == formula.Group {
		gap := thin * s.size
		if a.Op == formula.Group {
			gap = 0
		}
		return beside(name, space(gap), s.formula(a))
	}
	return beside(name, s.brackets(s.formula(a)))
}

func (s setter) chain(n formula.Node) box {
	var all box
	for i, part := range s.links(n) {
		if i > 0 {
			part = beside(space(loose*s.size), part)
		}
		all = beside(all, part)
	}
	return all
}

// links sets the sides of a chain of relations, each but the first with its relation before it.
func (s setter) links(n formula.Node) []box {
	if n.Op != formula.Equals {
		return []box{s.formula(n)}
	}
	var out []box
	for i, a := range n.Args {
		sides := s.links(a)
		if i > 0 {
			sides[0] = beside(s.upright(n.Text), space(loose*s.size), sides[0])
		}
		out = append(out, sides...)
	}
	return out
}

// brackets sets round brackets about a box, drawn taller where the box is tall.
func (s setter) brackets(b box) box {
	if b.up <= 0.8*s.size && b.down <= 0.45*s.size {
		return beside(s.upright("("), b, s.upright(")"))
	}
	up, down := b.up+0.06*s.size, b.down+0.06*s.size
	wide := 0.2*s.size + 0.03*(up+down)
	pen := 0.06 * s.size
	left := box{width: wide + 0.1*s.size, up: up, down: down}
	left.curves = []curve{{[8]float64{
		wide, -up, 0.1 * s.size, -up + 0.28*(up+down), 0.1 * s.size, down - 0.28*(up+down), wide, down,
	}, pen}}
	right := box{width: wide + 0.1*s.size, up: up, down: down}
	right.curves = []curve{{[8]float64{
		0.1 * s.size, -up, wide, -up + 0.28*(up+down), wide, down - 0.28*(up+down), 0.1 * s.size, down,
	}, pen}}
	return beside(left, b, right)
}

// root draws the sign of a square root about a box.
func (s setter) root(n formula.Node) box {
	b := s.formula(n)
	up, down := b.up+0.16*s.size, b.down+0.02*s.size
	tall := up + down
	hook := 0.42*s.size + 0.06*(tall-s.size)
	bar := thick * s.size
	r := box{width: hook + 0.08*s.size + b.width + 0.08*s.size, up: up + bar, down: down}
	low := 0.45 * hook // where the stroke turns upwards
	r.rules = []rule{
		{0.03 * s.size, down - 0.42*tall, 0.18 * hook, down - 0.47*tall, bar},
		{0.18 * hook, down - 0.47*tall, low, down, 1.9 * bar},
		{low, down, hook, -up, bar},
		{hook, -up, r.width - 0.04*s.size, -up, bar},
	}
	r.add(b, hook+0.08*s.size, 0)
	return r
}

// lines sets a displayed formula within a width: in one line if it fits, else broken before
// relations, then before + and −, then before ×, continued lines indented below the first relation.
func (s setter) lines(n formula.Node, width float64) []box {
	for size := s.size; ; size *= 0.94 {
		at := s
		at.size = size
		for how := whole; how <= atTimes; how++ {
			if out, fits := at.breakUp(n, width, how); fits {
				return out
			}
		}
		if size < 0.6*s.size {
			out, _ := at.breakUp(n, width, atTimes)
			return out // the widest single piece is wider than the column
		}
	}
}

// A breaking says where a formula may be broken.
type breaking uint8

const (
	whole breaking = iota
	atRelations
	atPlus
	atTimes
)

func (s setter) breakUp(n formula.Node, width float64, how breaking) (lines []box, fits bool) {
	if how == whole {
		b := s.formula(n)
		return []box{b}, b.width <= width
	}
	pieces := s.pieces(n, how)
	if n.Op != formula.Equals || len(pieces) < 2 {
		return s.pack(pieces, width, 1.5*s.size)
	}
	indent := pieces[0].box.width + loose*s.size
	if indent > 0.4*width {
		indent = 1.5 * s.size
	}
	return s.pack(pieces, width, indent)
}

// A piece is a part of a formula before which it may be broken.
type piece struct {
	box
	gap float64 // before it, unless it starts a line
}

func (s setter) pieces(n formula.Node, how breaking) []piece {
	var out []piece
	switch {
	case n.Op == formula.Equals:
		for i, a := range n.Args {
			inside := s.pieces(a, how)
			if i > 0 {
				inside[0].box = beside(s.upright(n.Text), space(loose*s.size), inside[0].box)
				inside[0].gap = loose * s.size
			}
			out = append(out, inside...)
		}
	case n.Op == formula.Sum && how >= atPlus:
		for i, term := range s.terms(n) {
			a := n.Args[i]
			if how == atTimes && a.Op == formula.Product && len(a.Args) > 1 {
				for j, factor := range s.factors(a) {
					if j == 0 && i > 0 {
						factor = beside(s.sign("+", medium), factor)
					}
					out = append(out, piece{box: factor})
				}
				continue
			}
			out = append(out, piece{box: term})
		}
	case n.Op == formula.Product && how == atTimes:
		for _, factor := range s.factors(n) {
			out = append(out, piece{box: factor})
		}
	case n.Op == formula.Word && how >= atPlus:
		for i, text := range strings.Split(n.Text, " ") {
			p := piece{box: s.upright(text)}
			if i > 0 {
				p.gap = s.look.roman.Width(" ", s.size)
			}
			out = append(out, p)
		}
	default:
		out = []piece{{box: s.formula(n)}}
	}
	return out
}

// pack fills lines with pieces.
func (s setter) pack(pieces []piece, width, indent float64) (lines []box, fits bool) {
	fits = true
	var line box
	for i, p := range pieces {
		gap := p.gap
		if i > 0 && line.width+gap+p.width > width+1e-6 {
			lines = append(lines, line)
			line, gap = space(indent), 0
		}
		line = beside(line, space(gap), p.box)
		fits = fits && line.width <= width+1e-6
	}
	return append(lines, line), fits && !math.IsNaN(width)
}

// isGreek reports whether text is one Greek letter, which always stands for a quantity here.
func isGreek(text string) bool {
	r, size := utf8.DecodeRuneInString(text)
	return size == len(text) && (r >= 'α' && r <= 'ω' || r == 'Δ' || r == 'Σ' || r == '\u00b5')
}
