package solution

import (
	"slices"

	"steelyard/formula"
)

// blanks leaves a gap for each number of a formula; false where it has none.
func blanks(n formula.Node) (formula.Node, bool) {
	if n.Op == formula.Num {
		return formula.Blank(""), true
	}
	args, any := slices.Clone(n.Args), false
	for i := range args {
		var gap bool
		args[i], gap = blanks(args[i])
		any = any || gap
	}
	n.Args = args
	return n, any
}

// withGap takes one distance or force out of the right-hand side of an equation, or else out of its left-hand side.
func withGap(n formula.Node) (formula.Node, bool) {
	if n.Op != formula.Equals || len(n.Args) < 2 {
		return n, false
	}
	if e, ok := gapIn(n, len(n.Args)-1); ok {
		return e, true
	}
	return gapIn(n, 0)
}

// gap takes one number out of a formula; false where there is none to take.
func gap(n formula.Node) (formula.Node, bool) {
	switch n.Op {
	case formula.Num:
		return formula.Blank(n.Unit), true
	case formula.Product: // the distance, which stands last
		for i, a := range slices.Backward(n.Args) {
			switch a.Op {
			case formula.Num:
				return gapIn(n, i)
			case formula.Sum: // a difference of places: the one that is taken away
				if g, ok := gapIn(a, len(a.Args)-1); ok {
					return with(n, i, g), true
				}
			}
		}
	case formula.Sum, formula.Neg, formula.Over, formula.Root, formula.Group:
		for i := range n.Args {
			if g, ok := gapIn(n, i); ok {
				return g, true
			}
		}
	case formula.Power: // never the exponent
		return gapIn(n, 0)
	}
	return n, false
}

// gapIn takes a number out of one argument of a formula.
func gapIn(n formula.Node, i int) (formula.Node, bool) {
	g, ok := gap(n.Args[i])
	if !ok {
		return n, false
	}
	return with(n, i, g), true
}

// with is a formula with another argument in one place; the formula itself stays as it is.
func with(n formula.Node, i int, arg formula.Node) formula.Node {
	n.Args = slices.Clone(n.Args)
	n.Args[i] = arg
	return n
}
