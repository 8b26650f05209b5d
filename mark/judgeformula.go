package mark

import (
	"strings"

	"steelyard/question"
	"steelyard/script"
)

// formulaOf reads a formula, a product of one force and one distance in letters or words: m1 d1, F x d, force x distance, W2 g d2.
// ok is false for anything else; of is the index that both have, if any.
func formulaOf(e *script.Expr) (of string, ok bool) {
	force, arm := "", ""
	var factors func(e *script.Expr) bool
	factors = func(e *script.Expr) bool {
		if e.Op == script.Multiply {
			return factors(&e.Args[0]) && factors(&e.Args[1])
		}
		if e.Op != script.Name {
			return false
		}
		name := e.Text
		switch name {
		case "g":
			return true
		case "force", "weight", "mass", "load":
			name = "F"
		case "distance", "perpendicular distance", "distance from pivot", "distance from the pivot":
			name = "d"
		}
		letter, sub := split(name)
		switch {
		case len(sub) > 1 || sub != "" && (sub[0] < '1' || sub[0] > '9'):
			return false
		case force == "" && strings.Contains("mMWwFf", letter):
			force = letter + sub
		case arm == "" && strings.Contains("dDxlLsra", letter):
			arm = letter + sub
		default:
			return false
		}
		return true
	}
	if !factors(e) || force == "" || arm == "" || force[1:] != arm[1:] {
		return "", false
	}
	return force[1:], true
}

// principle reports whether a line states the principle of moments in letters alone: m1 d1 = m2 d2, each force
// beside its own distance. It is no step of the working until numbers stand in it.
func principle(l *script.Line) bool {
	if len(l.Sides) != 2 || relation(l, 0) != "=" {
		return false
	}
	seen := map[string]bool{}
	var side func(e *script.Expr) bool
	side = func(e *script.Expr) bool {
		if e.Op == script.Add {
			return side(&e.Args[0]) && side(&e.Args[1])
		}
		of, ok := formulaOf(e)
		if !ok || of == "" || seen[of] {
			return false
		}
		seen[of] = true
		return true
	}
	return side(&l.Sides[0]) && side(&l.Sides[1])
}

// withoutFormula is a line without the sides that only say which formula is used: moment = F x d = 8.4 x 0.5. ok is
// false if there is none, or nothing else in the line.
func withoutFormula(l *script.Line) (rest script.Line, ok bool) {
	rest = *l
	rest.Sides, rest.Links = nil, nil
	for i := range l.Sides {
		if _, is := formulaOf(&l.Sides[i]); is && (i == 0 || relation(l, i-1) == "=") {
			ok = true
			continue
		}
		if len(rest.Sides) > 0 {
			rest.Links = append(rest.Links, relation(l, i-1))
		}
		rest.Sides = append(rest.Sides, l.Sides[i])
	}
	if len(rest.Sides) == 1 {
		rest.Kind = script.Value
	}
	return rest, ok && len(rest.Sides) > 0
}

// momentsOnly judges a line of an arrangement that moves, in which no force can be sought: sums of moments in numbers,
// under whatever name. It is false where more is in it.
func (w *working) momentsOnly(l *script.Line, j *Judged) bool {
	s := w.places[0]
	c := &w.c
	numbers, name := false, ""
	for i, root := range c.sides {
		if !c.named(root) {
			numbers = true
			continue
		}
		if c.nodes[root].op != script.Name || i > 0 && relation(l, i-1) != "=" {
			return false
		}
		name = l.Sides[i].Text
	}
	if !numbers || name == "" || !w.moment(name) && !w.answers(&l.Sides[len(l.Sides)-1]) {
		return false
	}
	w.numbers(s, usual)
	c.work()
	j.Verdict, j.Means = Right, "arithmetic"
	for k := 0; k+1 < len(c.sides); k++ {
		if c.named(c.sides[k]) || c.named(c.sides[k+1]) {
			continue
		}
		if residual, slack := c.sums(c.sides[k], c.sides[k+1]); !related(l, k, residual, slack) {
			j.Verdict, j.Off = Wrong, w.sumOff(l, k)
			return true
		}
	}
	w.numbers(s, usual)
	c.work()
	w.oneSided(j, s, -1)
	if last := c.sides[len(c.sides)-1]; w.moment(name) && !c.named(last) {
		j.Finds, j.Value = "total", c.typedValue(last)
	}
	return true
}

// answers reports whether a side is the number that the part asks for.
func (w *working) answers(e *script.Expr) bool {
	if w.part == nil || e.Op != script.Number {
		return false
	}
	i := w.k.Part(w.part.Name)
	if i < 0 {
		return false
	}
	for _, slot := range w.k.parts[i].slots {
		if near(si(&e.Quantity), w.k.Plan.Slots[slot].Right) {
			return true
		}
	}
	return false
}

// moment reports whether a name may be that of a moment.
func (w *working) moment(name string) bool {
	list := w.places[0].meanings(name, w.part, w.about)
	for i := range list {
		if list[i].total || strings.HasPrefix(list[i].key, "moment of ") {
			return true
		}
	}
	asked := w.part != nil && (w.part.Ask == question.AskMoment || w.part.Ask == question.AskTotalMoment)
	return asked && name == w.part.Thing
}
