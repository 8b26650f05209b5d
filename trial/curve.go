package trial

import (
	"fmt"
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/chart"
	"steelyard/draw"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// A Curve is how the forces depend on one number.
type Curve struct {
	Number Number
	At     []float64 // SI, ascending
	State  []statics.State
	Lines  []Line
	Limits []Limit
	Cut    float64 // N; forces beyond it are left out, for they grow without end; 0 for none
}

// A Line is one force, or the couple of a clamp, against the number. What no equilibrium gives is NaN.
type Line struct {
	Name   string // "push of the wall at W", "friction at F"
	Symbol []draw.Run
	Couple bool      // N m, and not drawn among forces
	Value  []float64 // N; where equilibrium fixes it
	// Beyond is what would be needed if every contact could pull and every cable could push: it shows where a force
	// would have to become negative. NaN where there is equilibrium, and where it can't be told.
	Beyond []float64
	// What a positive and a negative value are: "up" and "down"; both "" where the sign is all there is to say.
	Positive, Negative string
	Other              string // what a force of this kind would have to be below nought, "a pull"; "" if it may be
}

// Vary works the forces out for about n round values of a number from low to high, and finds exactly where equilibrium ends. An
// error says that there is no such number, or that the range is empty.
func Vary(a *answer.Answers, x Number, low, high float64, n int) (*Curve, error) {
	if !(low < high) || n < 2 || n > 1000 {
		return nil, fmt.Errorf("from %g to %g in %d values there is nothing to draw; give a lower and a higher end", low, high, n)
	}
	q := Settled(a)
	if err := Put(q, x.Thing, x.Attribute, x.Now); err != nil {
		return nil, err
	}
	c := &Curve{Number: x}
	c.findLimits(q, low, high)
	c.At = steps(low, high, n, x.Unit)
	if x.Now > low && x.Now < high {
		c.At = append(c.At, x.Now)
	}
	for _, l := range c.Limits { // where the lines end stands among the values
		c.At = append(c.At, l.At)
	}
	slices.Sort(c.At)
	dust := 1e-9 * (high - low) // the two ends of a single value, and the value now, may differ by roundings
	c.At = slices.CompactFunc(c.At, func(s, t float64) bool { return math.Abs(t-s) <= dust })
	for i := range c.Limits {
		if t := c.At[c.nearest(c.Limits[i].At)]; math.Abs(t-c.Limits[i].At) <= dust {
			c.Limits[i].At = t
		}
	}
	c.State = make([]statics.State, len(c.At))
	for i, t := range c.At {
		c.State[i] = statics.NoEquilibrium
		if l, err := layAt(q, x, t); err == nil {
			c.take(i, l)
		}
	}
	c.Limits = slices.DeleteFunc(c.Limits, c.spurious)
	c.clip()
	if len(c.Limits) > manyLimits {
		return nil, fmt.Errorf("friction is only just enough here, whatever %s is, so no line could be drawn that a hair would not change; give friction a little more than it needs, and look again", x.Words)
	}
	c.Lines = slices.DeleteFunc(c.Lines, func(l Line) bool { return !l.seen() })
	if len(c.Lines) == 0 {
		if a.State == statics.NotFixed {
			return nil, fmt.Errorf("equilibrium does not fix the forces here, so there is no graph of them against %s", x.Words)
		}
		return nil, fmt.Errorf("it does not stay at rest, whatever %s is, so there are no forces to draw", x.Words)
	}
	return c, nil
}

// steps are about n values from low to high, round in their unit.
func steps(low, high float64, n int, unit quantity.Unit) []float64 {
	a, b := quantity.Of(low, unit).Value, quantity.Of(high, unit).Value
	raw := (b - a) / float64(n-1)
	step := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, k := range []float64{5, 2.5, 2} {
		if k*step <= raw*(1+1e-9) {
			step *= k
			break
		}
	}
	list := []float64{low}
	for k := math.Floor(a/step) + 1; k*step < b-0.01*step; k++ {
		if k*step > a+0.01*step {
			list = append(list, quantity.Quantity{Value: quantity.Snap(k * step), Unit: unit}.SI())
		}
	}
	return append(list, high)
}

// manyLimits is more ends than an arrangement has: equilibrium then comes and goes with roundings.
const manyLimits = 4

// layAt is the arrangement with a number at t, SI, which it writes into q.
func layAt(q *question.Question, x Number, t float64) (*answer.Layout, error) {
	if err := Put(q, x.Thing, x.Attribute, t); err != nil {
		return nil, err
	}
	return answer.Lay(q)
}

// near is what counts as one value of the number.
func (c *Curve) near() float64 { return 1e-6 * (c.At[len(c.At)-1] - c.At[0]) }

// seen says whether a line is anything but nothing.
func (l *Line) seen() bool {
	for i := range l.Value {
		if math.Abs(l.Value[i]) > 1e-9 || math.Abs(l.Beyond[i]) > 1e-9 {
			return true
		}
	}
	return false
}

// take notes the forces at the i-th value; where nothing is at rest, those that would be needed.
func (c *Curve) take(i int, l *answer.Layout) {
	sol, err := statics.Solve(&l.System)
	if err != nil {
		return
	}
	limit := slices.ContainsFunc(c.Limits, func(l Limit) bool { return l.At == c.At[i] }) // a rounding beyond it
	fixed := sol.State == statics.Unique || sol.State == statics.Limit
	if c.State[i] = sol.State; limit {
		c.State[i] = statics.Limit
	}
	r := sol.Reactions
	if sol.State == statics.NoEquilibrium {
		if loose, ok := relaxed(&l.System); ok {
			r = loose
		}
	} else if !fixed {
		return
	}
	if r == nil {
		return
	}
	for j := range l.Supports {
		s := &l.Supports[j]
		for _, p := range parts(s, r[s.Joint]) {
			line := c.line(p)
			if fixed || limit {
				line.Value[i] = p.value
			} else {
				line.Beyond[i] = p.value
			}
		}
	}
}

// clip leaves out what is far beyond the forces that there are just now, as where two supports all but meet, and takes
// dust for nothing.
func (c *Curve) clip() {
	now := c.nearest(c.Number.Now)
	most, here := 0.0, 0.0
	for _, l := range c.Lines {
		for i, v := range l.Value {
			if !math.IsNaN(v) && !l.Couple {
				most = max(most, math.Abs(v))
				if i == now {
					here = max(here, math.Abs(v))
				}
			}
		}
	}
	grows := c.Number.Attribute == "at" || c.Number.Attribute == "angle"
	if grows && here > 0 && most > 12*here {
		c.Cut, most = 5*here, 5*here
	}
	for _, l := range c.Lines {
		for i := range l.Value {
			if math.Abs(l.Value[i]) < 1e-9*most {
				l.Value[i] = 0
			}
			if c.Cut > 0 && math.Abs(l.Value[i]) > c.Cut {
				l.Value[i] = math.NaN()
			}
			if most > 0 && math.Abs(l.Beyond[i]) > 1.5*most {
				l.Beyond[i] = math.Inf(int(math.Copysign(1, l.Beyond[i])))
			}
		}
	}
}

// line finds a line by its name, or begins it.
func (c *Curve) line(p component) *Line {
	for i := range c.Lines {
		if c.Lines[i].Name == p.name {
			return &c.Lines[i]
		}
	}
	l := Line{Name: p.name, Symbol: p.runs, Couple: p.couple, Positive: p.positive, Negative: p.negative, Other: p.other,
		Value: make([]float64, len(c.At)), Beyond: make([]float64, len(c.At))}
	for i := range c.At {
		l.Value[i], l.Beyond[i] = math.NaN(), math.NaN()
	}
	c.Lines = append(c.Lines, l)
	return &c.Lines[len(c.Lines)-1]
}

// relaxed is what would hold the bodies if smooth contacts and cables could act either way.
func relaxed(s *statics.System) ([]statics.Reaction, bool) {
	t := *s
	t.Joints = slices.Clone(s.Joints)
	for i := range t.Joints {
		if j := &t.Joints[i]; j.Kind == statics.Contact && j.Mu == 0 || j.Kind == statics.Pull {
			j.Kind = statics.Rod
		}
	}
	sol, err := statics.Solve(&t)
	return sol.Reactions, err == nil && sol.State == statics.Unique
}

// nearest is which of the values is nearest to t.
func (c *Curve) nearest(t float64) int {
	best := 0
	for i := range c.At {
		if math.Abs(c.At[i]-t) < math.Abs(c.At[best]-t) {
			best = i
		}
	}
	return best
}

// Forces are the lines' values, in newtons, at the value of the number nearest to at (SI). Couples are left out.
func (c *Curve) Forces(at float64) []chart.Size {
	best := c.nearest(at)
	var list []chart.Size
	for i := range c.Lines {
		l := &c.Lines[i]
		if l.Couple {
			continue
		}
		s := chart.Size{Symbol: l.Symbol, Name: l.Name, Value: l.Value[best]}
		if math.IsNaN(s.Value) && !math.IsNaN(l.Beyond[best]) {
			s.Value, s.Beyond = l.Beyond[best], true
		}
		switch {
		case math.IsInf(s.Value, 0):
			s.Value, s.Said = math.NaN(), "beyond the graph"
		case !math.IsNaN(s.Value):
			s.Said = newtons(s.Value)
		case c.State[best] == statics.NoEquilibrium:
			s.Said = "it does not rest"
		case c.State[best] == statics.NotFixed:
			s.Said = "not fixed by equilibrium"
		case c.Cut > 0:
			s.Said = "beyond the graph"
		}
		list = append(list, s)
	}
	return list
}

// Greatest is the largest force of the curve, in newtons.
func (c *Curve) Greatest() float64 {
	most := 0.0
	for _, l := range c.Lines {
		for i := range l.Value {
			for _, v := range []float64{l.Value[i], l.Beyond[i]} {
				if !math.IsNaN(v) && !math.IsInf(v, 0) && !l.Couple {
					most = max(most, math.Abs(v))
				}
			}
		}
	}
	return most
}
