package trial

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"steelyard/quantity"
	"steelyard/statics"
)

// Say describes the curve: where it rests, what gives at the ends, how each force goes.
func (c *Curve) Say() []string {
	list := c.sayLimits()
	for i := range c.Lines {
		if text := c.sayLine(&c.Lines[i]); text != "" {
			list = append(list, text)
		}
	}
	if c.Cut > 0 {
		list = append(list, "Where equilibrium all but fails, forces grow without end; what is beyond "+newtons(c.Cut)+" is left out.")
	}
	if slices.Contains(c.State, statics.NotFixed) {
		list = append(list, "Where a line is missing though it rests, equilibrium does not fix that force.")
	}
	return list
}

func (c *Curve) sayLimits() (list []string) {
	limits := c.Limits
	if len(limits) == 2 && math.Abs(limits[0].At-limits[1].At) <= c.near() {
		return []string{fmt.Sprintf("It stays at rest only at %s: just below that, and just above it, it moves.", Written(limits[0].At, c.Number.Unit))}
	}
	for _, l := range limits {
		side, at := "above", Written(l.At, c.Number.Unit)
		if l.Lower {
			side = "below"
		}
		if len(l.Giving) == 0 {
			beyond := "nothing could hold it"
			if forces := c.reversed(&l); len(forces) > 0 {
				beyond = strings.Join(forces, " and ")
			}
			list = append(list, fmt.Sprintf("Equilibrium ends at %s: just %s that, %s.", at, side, beyond))
			continue
		}
		list = append(list, fmt.Sprintf("At %s it stays at rest only just: %s. Just %s that it does not stay at rest.", at, strings.Join(l.Giving, " and "), side))
	}
	return list
}

// reversed says which forces would have to act the other way just beyond a limit.
func (c *Curve) reversed(l *Limit) (list []string) {
	beyond := -1 // the value tried next to the limit
	for i, at := range c.At {
		if (l.Lower && at < l.At-c.near()) || (!l.Lower && at > l.At+c.near() && beyond < 0) {
			beyond = i
		}
	}
	for i := range c.Lines {
		x := &c.Lines[i]
		if beyond >= 0 && beyond < len(x.Beyond) && x.Other != "" && x.Beyond[beyond] < -dust {
			list = append(list, "the "+x.Name+" would have to be "+x.Other)
		}
	}
	return list
}

// sayLine tells how one force goes, a stretch at a time, and what it would have to be where it can't rest.
func (c *Curve) sayLine(l *Line) string {
	var ways []string
	for from := 0; from < len(c.At); from++ {
		to := from
		for to < len(c.At) && !math.IsNaN(l.Value[to]) {
			to++
		}
		if to > from && c.At[to-1]-c.At[from] > c.near() {
			ways = append(ways, c.way(l, from, to-1))
		}
		from = to
	}
	text := ""
	if len(ways) > 0 {
		text = "The " + l.Name + " " + strings.Join(ways, ", then ") + "."
	}
	worst := -1
	for i, v := range l.Beyond {
		if v < -1e-9 && !math.IsInf(v, 0) && (worst < 0 || v < l.Beyond[worst]) {
			worst = i
		}
	}
	if worst >= 0 && l.Other != "" {
		text = strings.TrimSpace(text + fmt.Sprintf(" Where it can’t rest, the %s would have to be %s, such as %s at %s.", l.Name, l.Other, newtons(-l.Beyond[worst]), Written(c.At[worst], c.Number.Unit)))
	}
	return text
}

// way is one stretch of a line in words.
func (c *Curve) way(l *Line, from, to int) string {
	least, most := math.Inf(1), math.Inf(-1)
	for _, v := range l.Value[from : to+1] {
		least, most = min(least, v), max(most, v)
	}
	first, last := l.size(l.Value[from]), l.size(l.Value[to])
	if most-least <= 1e-6*max(math.Abs(most), math.Abs(least)) {
		return fmt.Sprintf("stays %s from %s to %s", first, Written(c.At[from], c.Number.Unit), Written(c.At[to], c.Number.Unit))
	}
	text := fmt.Sprintf("goes from %s at %s to %s at %s", first, Written(c.At[from], c.Number.Unit), last, Written(c.At[to], c.Number.Unit))
	ends := []float64{l.Value[from], l.Value[to]}
	near := 1e-3 * (most - least)
	for _, turn := range []struct {
		v    float64
		name string
		ends float64
	}{{most, "greatest", max(ends[0], ends[1])}, {least, "least", min(ends[0], ends[1])}} {
		if math.Abs(turn.v-turn.ends) > near && l.Positive == "" {
			i := from + slices.Index(l.Value[from:to+1], turn.v)
			text += fmt.Sprintf(", %s near %s with %s", turn.name, Written(c.At[i], c.Number.Unit), l.size(turn.v))
		}
	}
	return text
}

// size is a value of a line with its unit and what its sign means.
func (l *Line) size(v float64) string {
	write := newtons
	if l.Couple {
		write = func(v float64) string { return Written(v, quantity.SIUnit(quantity.Moment)) }
	}
	switch {
	case v == 0 || l.Positive == "":
		return write(v)
	case v > 0:
		return write(v) + " " + l.Positive
	}
	return write(-v) + " " + l.Negative
}

func newtons(v float64) string { return Written(v, quantity.SIUnit(quantity.Force)) }
