package solution

import (
	"slices"

	"steelyard/answer"
)

// answerDown rounds to the safe side of a greatest value.
const answerDown = answer.Down

// An earning says for what a line could earn a mark.
type earning uint8

const (
	answering    earning = iota // the value that is asked for
	moments                     // moments about one point, all forces there
	balancing                   // forces along one direction
	limitingMark                // friction is limiting
	zeroing                     // a force has just become zero
	arms                        // every distance right
	numbered                    // every force of a balance right
	passing                     // a value on the way
	solving                     // rearranged
	weighing                    // weight from mass
	pairing                     // third law
	tabling                     // masses and places of pieces
	placing                     // the last step from a distance to a place
)

// An earner is a line that could earn a mark.
type earner struct {
	step, line int
	kind       earning
	equation   *Equation
}

// mayEarn notes that line i of the step about to be added could earn a mark.
func (w *worker) mayEarn(kind earning, i int, e *Equation) {
	w.earn = append(w.earn, earner{len(w.steps), i, kind, e})
}

// award shares the part's marks out among the lines: the answer and the method first, then the lines
// between them. uses names the parts whose answers are taken over.
//
// Shapes: common practice, no source (M for a method, A for a right line or value that depends on it, B for
// what stands by itself).
func (w *worker) award(total int, uses []string, names func(*Equation) string) {
	if total <= 0 || len(w.earn) == 0 {
		return
	}
	rank := func(e earner) int {
		switch e.kind {
		case answering:
			return 0
		case moments, balancing:
			if w.firstMethod(e) {
				return 1
			}
			return 5
		case zeroing, pairing:
			return 2
		case weighing, tabling:
			return 3
		case arms:
			return 4
		case limitingMark:
			return 5
		case passing, placing:
			return 6
		case numbered:
			return 7
		}
		return 8
	}
	order := slices.Clone(w.earn)
	slices.SortStableFunc(order, func(a, b earner) int { return rank(a) - rank(b) })
	marks := make([]earner, 0, total)
	for len(marks) < total {
		n := min(total-len(marks), len(order))
		marks = append(marks, order[:n]...)
		// More marks than lines: the lines with several terms, then the methods, earn another.
		order = slices.DeleteFunc(slices.Clone(w.earn), func(e earner) bool { return e.kind == moments || e.kind == balancing || e.kind == solving })
		slices.SortStableFunc(order, func(a, b earner) int { return b.spread() - a.spread() })
		if len(order) == 0 {
			order = w.earn
		}
	}
	w.codes = total
	if !slices.ContainsFunc(marks, func(e earner) bool { return e.method() }) {
		w.codes = 1 // nothing for a method: each mark stands by itself
	}
	slices.SortStableFunc(marks, func(a, b earner) int {
		if a.step != b.step {
			return a.step - b.step
		}
		if a.line != b.line {
			return a.line - b.line
		}
		return methodFirst(a) - methodFirst(b)
	})
	for _, m := range marks {
		if m.step >= len(w.steps) || m.line >= len(w.steps[m.step].Lines) {
			continue
		}
		line := &w.steps[m.step].Lines[m.line]
		line.Marks = append(line.Marks, w.mark(m, uses, names))
	}
}

func (w *worker) firstMethod(e earner) bool {
	for _, x := range w.earn {
		if x.kind == moments || x.kind == balancing {
			return x == e
		}
	}
	return false
}

// spread is how many terms a line has to get right.
func (e earner) spread() int {
	if e.kind == arms && e.equation != nil {
		return 10 + len(e.equation.Terms)
	}
	return 0
}

// mark writes one mark of the scheme.
func (w *worker) mark(m earner, uses []string, names func(*Equation) string) Mark {
	ft := ""
	if len(uses) > 0 {
		ft = "; follow through their answer to (" + andNames(uses) + ")"
	}
	what := names(m.equation)
	code := "A1"
	if w.codes == 1 {
		code = "B1"
	}
	switch m.kind {
	case moments:
		return Mark{"M1", "moments about " + what + ", with every force that has an arm there",
			"moments about any other point earn the same if the other unknown is dealt with; a force left out: M0" + ft, m.kind.kind()}
	case balancing:
		return Mark{"M1", what + ", with every force", "or moments about another point; a force left out: M0" + ft, m.kind.kind()}
	case limitingMark:
		return Mark{"M1", "friction = coefficient × normal force", "only because it is about to slip" + ft, m.kind.kind()}
	case zeroing:
		return Mark{"B1", "the force that is about to be lost is zero", "may be implied by a line without that force", m.kind.kind()}
	case arms:
		return Mark{code, "every distance and sense right", "all measured from the same point; one wrong: A0" + ft, m.kind.kind()}
	case numbered:
		return Mark{code, "every force right, with its sign", "or equivalent" + ft, m.kind.kind()}
	case passing:
		return Mark{code, "this value", "may be implied by a right answer; more figures than shown are fine" + ft, m.kind.kind()}
	case solving:
		return Mark{code, "rearranged rightly", "may be implied by a right answer", m.kind.kind()}
	case placing:
		return Mark{code, "measured from the right point", "the distance from the pivot alone: A0", m.kind.kind()}
	case tabling:
		return Mark{"B1", "masses (lengths, areas) and distances of the pieces right", "relative masses are fine; a hole counted as positive: B0", m.kind.kind()}
	case weighing:
		return Mark{"B1", "weight = mass × g", "seen, or implied by a right product", m.kind.kind()}
	case pairing:
		return Mark{"B1", "the named part of the pair", "a contradiction loses the mark" + ft, m.kind.kind()}
	}
	return Mark{code, "the value with its unit", "within 1 % of the unrounded value; unit needed" + ft, m.kind.kind()}
}

// kind is the exported name of what a mark is earned for.
func (k earning) kind() MarkKind {
	return [...]MarkKind{answering: ForAnswer, moments: ForMoments, balancing: ForBalance, limitingMark: ForLimit, zeroing: ForZero,
		arms: ForArms, numbered: ForForces, passing: ForValue, solving: ForSolving, weighing: ForWeight, pairing: ForPair,
		tabling: ForPieces, placing: ForPlace}[k]
}

// methodFirst puts the method before what depends on it.
func methodFirst(e earner) int {
	if e.method() {
		return 0
	}
	return 1
}

// method reports whether a mark is for a method.
func (e earner) method() bool {
	return e.kind == moments || e.kind == balancing || e.kind == limitingMark
}

func andNames(list []string) string {
	s := list[0]
	for _, n := range list[1:] {
		s += ", " + n
	}
	return s
}
