package trial

import (
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strings"

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
	Lines  []Line
	Limits []Limit
}

// A Line is one force against the number. What no equilibrium gives is NaN.
type Line struct {
	Name   string // "P", or "P, friction"
	Symbol []draw.Run
	Value  []float64 // N; where equilibrium fixes it
	// Beyond is what would be needed if every contact could pull and every cable could push: it shows where a force
	// would have to become negative. NaN where there is equilibrium, and where it can't be told.
	Beyond []float64
}

// A Limit is a value of the number up to which, or from which, it stays at rest.
type Limit struct {
	At     float64
	Lower  bool     // it rests above, not below
	Giving []string // "P is about to lift off"
}

// Vary works the forces out for n values of a number from low to high, and finds exactly where equilibrium ends. An
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
	limits(c, q, low, high)
	for i := range n {
		c.At = append(c.At, quantity.Snap(low+(high-low)*float64(i)/float64(n-1)))
	}
	for _, l := range c.Limits { // where the lines end stands among the values
		c.At = append(c.At, l.At)
	}
	slices.Sort(c.At)
	c.At = slices.Compact(c.At)
	for i, t := range c.At {
		l, err := layAt(q, x, t)
		if err != nil {
			continue
		}
		c.take(i, l)
	}
	c.clip()
	c.Lines = slices.DeleteFunc(c.Lines, func(l Line) bool { return !l.seen() })
	if len(c.Lines) == 0 {
		if a.State == statics.NotFixed {
			return nil, fmt.Errorf("equilibrium does not fix the forces here, so there is no graph of them against %s", x.Words)
		}
		return nil, fmt.Errorf("it does not stay at rest, whatever %s is, so there are no forces to draw", x.Words)
	}
	return c, nil
}

func layAt(q *question.Question, x Number, t float64) (*answer.Layout, error) {
	if err := Put(q, x.Thing, x.Attribute, t); err != nil {
		return nil, err
	}
	return answer.Lay(q)
}

// seen says whether a line is anything but nothing.
func (l *Line) seen() bool {
	for i := range l.Value {
		if math.Abs(l.Value[i]) > 1e-9 || math.Abs(l.Beyond[i]) > 1e-9 {
			return true
		}
	}
	return false
}

func (c *Curve) take(i int, l *answer.Layout) {
	sol, err := statics.Solve(&l.System)
	if err != nil {
		return
	}
	limit := slices.ContainsFunc(c.Limits, func(l Limit) bool { return l.At == c.At[i] }) // a rounding beyond it
	fixed := sol.State == statics.Unique || sol.State == statics.Limit
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
			line := c.line(p.name, p.runs)
			if fixed || limit {
				line.Value[i] = p.value
			} else {
				line.Beyond[i] = p.value
			}
		}
	}
}

// clip leaves out what is far beyond the forces that there can be, as where two supports all but meet, and takes dust for
// nothing.
func (c *Curve) clip() {
	most := 0.0
	for _, l := range c.Lines {
		for _, v := range l.Value {
			if !math.IsNaN(v) {
				most = max(most, math.Abs(v))
			}
		}
	}
	for _, l := range c.Lines {
		for i := range l.Value {
			if math.Abs(l.Value[i]) < 1e-9*most {
				l.Value[i] = 0
			}
			if most > 0 && math.Abs(l.Beyond[i]) > 1.5*most {
				l.Beyond[i] = math.NaN()
			}
		}
	}
}

// line finds a line by its name, or begins it.
func (c *Curve) line(name string, runs []draw.Run) *Line {
	for i := range c.Lines {
		if c.Lines[i].Name == name {
			return &c.Lines[i]
		}
	}
	l := Line{Name: name, Symbol: runs, Value: make([]float64, len(c.At)), Beyond: make([]float64, len(c.At))}
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

type component struct {
	name  string
	runs  []draw.Run
	value float64
}

// parts are the components of a support's force, as its symbols have them.
func parts(s *answer.Support, r statics.Reaction) []component {
	symbol := func(letter string) []draw.Run {
		return []draw.Run{{Text: letter, Italic: true}, {Text: s.Name, Sub: true}}
	}
	switch s.Kind {
	case question.Hinge, question.Pivot, question.Clamp:
		return []component{{s.Name + ", upright", symbol("Y"), r.Y}, {s.Name + ", level", symbol("X"), r.X}}
	}
	letter, sub := answer.Symbol(s.Support)
	one := []draw.Run{{Text: letter, Italic: true}}
	if sub != "" {
		one = append(one, draw.Run{Text: sub, Sub: true})
	}

	if s.Mu == 0 || math.IsNaN(s.Mu) && r.F == 0 {
		return []component{{s.Name, one, r.N}}
	}
	return []component{{s.Name + ", normal", symbol("N"), r.N}, {s.Name + ", friction", symbol("F"), r.F}}
}

// limits finds where equilibrium begins and ends between low and high.
func limits(c *Curve, q *question.Question, low, high float64) {
	build := func(t float64) *answer.Layout {
		l, err := layAt(q, c.Number, t)
		if err != nil {
			return nil
		}
		return l
	}
	if build(low) == nil || build(high) == nil {
		return
	}
	list, err := extents(q, c.Number, low, high, build)
	if err != nil {
		return
	}
	near := 1e-9 * (high - low)
	for _, e := range list {
		if !e.Possible {
			continue
		}
		if e.Span.Least > low+near {
			c.Limits = append(c.Limits, Limit{At: e.Span.Least, Lower: true, Giving: answer.GivingInWords(build(e.Span.Least), e.LeastGiving)})
		}
		if e.Span.Greatest < high-near {
			c.Limits = append(c.Limits, Limit{At: e.Span.Greatest, Giving: answer.GivingInWords(build(e.Span.Greatest), e.GreatestGiving)})
		}
	}
}

// extents uses that a load's place and size enter linearly, and tries many values of anything else.
func extents(q *question.Question, x Number, low, high float64, build func(float64) *answer.Layout) ([]statics.Extent, error) {
	if d := q.Load(x.Thing); d != nil && (x.Attribute == "at" || x.Attribute == "weight") {
		if e, ok := linear(q, x, low, high); ok {
			return []statics.Extent{e}, nil
		}
	}
	return statics.Extents(func(t float64) statics.System {
		if l := build(t); l != nil {
			return l.System
		}
		return statics.System{}
	}, low, high)
}

func linear(q *question.Question, x Number, low, high float64) (statics.Extent, bool) {
	free := q.Clone()
	free.Value(x.Thing, x.Attribute).Status = question.Unknown
	l, err := answer.Lay(free)
	if err != nil || len(l.System.Unknowns) != 1 {
		return statics.Extent{}, false
	}
	u, b := &l.System.Unknowns[0], (*answer.Body)(nil)
	u.Least, u.Greatest = low, high
	if x.Attribute == "at" {
		b = &l.Bodies[l.LoadNamed(x.Thing).On]
		one, two := b.FromZero(low), b.FromZero(high)
		u.Least, u.Greatest = min(one, two), max(one, two)
	}
	e, err := statics.Range(&l.System, 0)
	if err != nil || !e.Possible {
		return e, err == nil
	}
	if b != nil && b.ZeroRight {
		e.Span.Least, e.Span.Greatest = b.FromZero(e.Span.Greatest), b.FromZero(e.Span.Least)
		e.LeastGiving, e.GreatestGiving = e.GreatestGiving, e.LeastGiving
	}
	return e, true
}

// Forces are the lines' values at one value of the number, nearest to it.
func (c *Curve) Forces(at float64) []chart.Size {
	best := 0
	for i, t := range c.At {
		if math.Abs(t-at) < math.Abs(c.At[best]-at) {
			best = i
		}
	}
	var list []chart.Size
	for _, l := range c.Lines {
		s := chart.Size{Symbol: l.Symbol, Name: l.Name, Value: l.Value[best]}
		if math.IsNaN(s.Value) && !math.IsNaN(l.Beyond[best]) {
			s.Value, s.Beyond = l.Beyond[best], true
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
				if !math.IsNaN(v) {
					most = max(most, math.Abs(v))
				}
			}
		}
	}
	return most
}

// Picture is the graph, with the value marked that the number has just now.
func (c *Curve) Picture(now float64, o chart.Options) *draw.Picture {
	g := chart.Graph{Title: "Forces against " + c.Number.Words, Across: c.Number.Words, Unit: c.Number.Unit.Symbol, Up: "force", UpUnit: "N", Words: strings.Join(c.Say(), " "), Here: c.inUnit(now)}
	for _, t := range c.At {
		g.At = append(g.At, c.inUnit(t))
	}
	for _, l := range c.Lines {
		g.Lines = append(g.Lines, chart.Series{Name: l.Name, Symbol: l.Symbol, Value: l.Value, Beyond: l.Beyond})
	}
	for _, l := range c.Limits {
		g.Marks = append(g.Marks, chart.Upright{At: c.inUnit(l.At), Words: Written(l.At, c.Number.Unit)})
	}
	return chart.Draw(g, o)
}

func (c *Curve) inUnit(si float64) float64 {
	return quantity.Snap(quantity.Of(si, c.Number.Unit).Value)
}

// Say describes the curve: where it rests, what gives at the ends, how each force goes.
func (c *Curve) Say() []string {
	var list []string
	limits := c.Limits
	if len(limits) == 2 && math.Abs(limits[0].At-limits[1].At) <= 1e-9*math.Abs(limits[0].At) {
		list, limits = append(list, fmt.Sprintf("It stays at rest only at %s: just below that and just above it turns.", Written(limits[0].At, c.Number.Unit))), nil
	}
	for _, l := range limits {
		side := "above"
		if l.Lower {
			side = "below"
		}
		text := fmt.Sprintf("At %s it stays at rest only just", Written(l.At, c.Number.Unit))
		if len(l.Giving) > 0 {
			text += ": " + strings.Join(l.Giving, " and ")
		}
		list = append(list, text+". Just "+side+" that it does not stay at rest.")
	}
	for _, l := range c.Lines {
		first, last := -1, -1
		for i, v := range l.Value {
			if math.IsNaN(v) {
				continue
			}
			if first < 0 {
				first = i
			}
			last = i
		}
		if first < 0 || last == first {
			continue
		}
		list = append(list, fmt.Sprintf("%s goes from %s at %s to %s at %s.", l.Name, newtons(l.Value[first]), Written(c.At[first], c.Number.Unit), newtons(l.Value[last]), Written(c.At[last], c.Number.Unit)))
		worst := 0
		for i, v := range l.Beyond {
			if v < -1e-9 && !(l.Beyond[worst] < v) {
				worst = i
			}
		}
		if v := l.Beyond[worst]; v < -1e-9 {
			list = append(list, fmt.Sprintf("At %s, where it can't rest, %s would have to be %s: less than nothing.", Written(c.At[worst], c.Number.Unit), l.Name, newtons(v)))
		}
	}
	return list
}

func newtons(v float64) string { return Written(v, quantity.SIUnit(quantity.Force)) }

// Table is the numbers: a heading, then a row for each value. What no equilibrium gives is empty.
func (c *Curve) Table() [][]string {
	head := []string{c.Number.Words + unit(c.Number.Unit.Symbol)}
	for _, l := range c.Lines {
		head = append(head, l.Name+" / N")
	}
	rows := [][]string{append(head, "at rest")}
	for i, t := range c.At {
		row := []string{cell(c.inUnit(t))}
		rests := "no"
		for _, l := range c.Lines {
			row = append(row, cell(l.Value[i]))
			if !math.IsNaN(l.Value[i]) {
				rests = "yes"
			}
		}
		rows = append(rows, append(row, rests))
	}
	return rows
}

func unit(symbol string) string {
	if symbol == "" {
		return ""
	}
	return " / " + symbol
}

func cell(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return quantity.Plain(quantity.RoundFigures(v, 4))
}

// CSV is the table, for a spreadsheet.
func (c *Curve) CSV() []byte {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.WriteAll(c.Table())
	return []byte(b.String())
}
