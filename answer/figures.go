package answer

import (
	"iter"
	"math"
	"strconv"

	"steelyard/quantity"
	"steelyard/question"
)

// Figures is how many significant figures an answer is given to: as many as the part asks for; else
// as many as the most precise number of the question that has decimals, but 2 at least and 3 at
// most, and 3 where no number has any.
//
// Common practice, no source; see docs/decisions/004-figures.md.
func Figures(q *question.Question, p *question.Part) int {
	if p != nil && p.Figures > 0 {
		return p.Figures
	}
	most, any := 2, false
	for v := range data(q) {
		if v.Decimals > 0 {
			most, any = max(most, min(v.Figures, 3)), true
		}
	}
	if !any {
		return 3
	}
	return most
}

// data goes through the given numbers of a question.
func data(q *question.Question) iter.Seq[*question.Value] {
	return func(yield func(*question.Value) bool) {
		each := func(vs ...*question.Value) bool {
			for _, v := range vs {
				if v.Known() && !yield(v) {
					return false
				}
			}
			return true
		}
		for i := range q.Bodies {
			b := &q.Bodies[i]
			if !each(&b.Length, &b.Height, &b.Weight, &b.Mass, &b.Centre.At, &b.Angle) {
				return
			}
			for j := range b.Pieces {
				if p := &b.Pieces[j]; !each(&p.Mass, &p.Weight, &p.Width, &p.Height, &p.Density) {
					return
				}
			}
		}
		for i := range q.Supports {
			if s := &q.Supports[i]; !each(&s.On.At, &s.By.At, &s.Mu, &s.Angle, &s.Reading) {
				return
			}
		}
		for i := range q.Loads {
			if d := &q.Loads[i]; !each(&d.On.At, &d.To.At, &d.Size, &d.Weight, &d.Mass) {
				return
			}
		}
	}
}

// unitOf is the unit that a question uses for a dimension: that of its first number of it, or the SI unit.
func unitOf(q *question.Question, d quantity.Dimension) quantity.Unit {
	for v := range data(q) {
		if v.Unit.Dimension == d {
			return v.Unit
		}
	}
	return quantity.SIUnit(d)
}

// Dimension is what the SI unit of a result measures; a plain number for "1" and "".
func Dimension(si string) quantity.Dimension {
	u, _ := quantity.UnitNamed(si)
	return u.Dimension
}

// UnitFor is the unit in which a question's answers of a dimension are written.
func UnitFor(q *question.Question, d quantity.Dimension) quantity.Unit {
	switch d {
	case quantity.Angle:
		u, _ := quantity.UnitNamed("deg")
		return u
	case quantity.Moment:
		// In newton metres, whatever the lengths are in: the trade's habit; in kilonewton metres
		// where the forces are in kilonewtons.
		if unitOf(q, quantity.Force).Symbol == "kN" {
			u, _ := quantity.UnitNamed("kN m")
			return u
		}
		return quantity.SIUnit(quantity.Moment)
	}
	return unitOf(q, d)
}

// plain writes a number for a message, to three figures.
func plain(v float64, unit string) string {
	u, _ := quantity.UnitNamed(unit)
	return quantity.Format(v, u, 3)
}

// Way says how a number is rounded.
type Way uint8

const (
	Nearest Way = iota // half away from zero
	Up                 // a least value that must suffice
	Down               // a greatest value that must not be passed
)

// Round writes an SI value in a unit to so many figures; Up and Down round to the safe side.
func Round(v float64, u quantity.Unit, figures int, way Way) string {
	if way == Nearest || v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return quantity.Format(v, u, figures)
	}
	inUnit, err := strconv.ParseFloat(quantity.RoundFigures(quantity.Of(v, u).Value, 12), 64)
	if err != nil {
		return quantity.Format(v, u, figures)
	}
	step := math.Pow(10, math.Floor(math.Log10(math.Abs(inUnit)))-float64(figures-1))
	n := inUnit / step
	if way == Up {
		n = math.Ceil(n - 1e-9)
	} else {
		n = math.Floor(n + 1e-9)
	}
	return joined(quantity.RoundFigures(n*step, figures), u)
}

func joined(number string, u quantity.Unit) string {
	if u.Symbol == "" {
		return number
	}
	if u.Symbol == "°" {
		return number + u.Symbol
	}
	return number + " " + u.Symbol
}

// Decimals is the most decimals that a length of the question has, in unit u: as many as a sum or
// difference of its lengths is written with.
func Decimals(q *question.Question, u quantity.Unit) int {
	most := 0
	look := func(vs ...question.Value) {
		for _, v := range vs {
			if v.Known() && v.Unit.Dimension == quantity.Length && v.Unit.Symbol == u.Symbol {
				most = max(most, v.Decimals)
			}
		}
	}
	for i := range q.Bodies {
		b := &q.Bodies[i]
		look(b.Length, b.Height, b.Centre.At)
		for j := range b.Pieces {
			p := &b.Pieces[j]
			look(p.Width, p.Height, p.From.X, p.From.Y, p.To.X, p.To.Y)
		}
	}
	for i := range q.Supports {
		look(q.Supports[i].On.At, q.Supports[i].By.At)
	}
	for i := range q.Loads {
		look(q.Loads[i].On.At, q.Loads[i].To.At)
	}
	return most
}
