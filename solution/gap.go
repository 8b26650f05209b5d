package solution

import "steelyard/formula"

// blanks leaves a gap for each number of a formula.
func blanks(n formula.Node) (formula.Node, bool) {
	if n.Op == formula.Num {
		return formula.Blank(""), true
	}
	args, any := append([]formula.Node(nil), n.Args...), false
	for i := range args {
		var gap bool
		args[i], gap = blanks(args[i])
		any = any || gap
	}
	n.Args = args
	return n, any
}

// withGap takes one distance or force out of the right-hand side of an equation.
func withGap(n formula.Node) (formula.Node, bool) {
	if n.Op != formula.Equals || len(n.Args) < 2 {
		return n, false
	}
	args := append([]formula.Node(nil), n.Args...)
	right, ok := gap(args[len(args)-1])
	if !ok {
		left, ok := gap(args[0])
		if !ok {
			return n, false
		}
		args[0] = left
		n.Args = args
		return n, true
	}
	args[len(args)-1] = right
	n.Args = args
	return n, true
}

func gap(n formula.Node) (formula.Node, bool) {
	switch n.Op {
	case formula.Num:
		return formula.Blank(n.Unit), true
	case formula.Product: // the distance, which stands last
		args := append([]formula.Node(nil), n.Args...)
		for i := len(args) - 1; i >= 0; i-- {
			switch args[i].Op {
			case formula.Num:
				args[i] = formula.Blank(args[i].Unit)
			case formula.Sum: // a difference of places: the one that is taken away
				args[i].Args = append([]formula.Node(nil), args[i].Args...)
				end := len(args[i].Args) - 1
				g, ok := gap(args[i].Args[end])
				if !ok {
					continue
				}
				args[i].Args[end] = g
			default:
				continue
			}
			n.Args = args
			return n, true
		}
	case formula.Sum, formula.Neg, formula.Over, formula.Root, formula.Group:
		args := append([]formula.Node(nil), n.Args...)
		for i := range args {
			if g, ok := gap(args[i]); ok {
				args[i] = g
				n.Args = args
				return n, true
			}
		}
	case formula.Power: // never the exponent
		args := append([]formula.Node(nil), n.Args...)
		if g, ok := gap(args[0]); ok {
			args[0] = g
			n.Args = args
			return n, true
		}
	}
	return n, false
}
