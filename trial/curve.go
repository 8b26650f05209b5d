package trial

import (
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
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

// A Limit is a value of the number up to which, or from which, it stays at rest.
type Limit struct {
	At     float64
	Lower  bool     // it rests above, not below
	Giving []string // "contact at P is about to be lost"
	Short  string   // the same for a graph: "P lifts"
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
	limits(c, q, low, high)
	c.At = steps(low, high, n, x.Unit)
	if x.Now > low && x.Now < high {
		c.At = append(c.At, x.Now)
	}
	for _, l := range c.Limits { // where the lines end stands among the values
		c.At = append(c.At, l.At)
	}
	slices.Sort(c.At)
	c.At = slices.Compact(c.At)
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

func layAt(q *question.Question, x Number, t float64) (*answer.Layout, error) {
	if err := Put(q, x.Thing, x.Attribute, t); err != nil {
		return nil, err
	}
	return answer.Lay(q)
}

// spurious says whether it rests just beyond a limit all the same, as roundings may have it at the end of a range.
func (c *Curve) spurious(l Limit) bool {
	i, near := slices.Index(c.At, l.At), c.near()
	if l.Lower {
		for i >= 0 && c.At[i] > l.At-near {
			i--
		}
	} else {
		for i < len(c.At) && c.At[i] < l.At+near {
			i++
		}
	}
	return i >= 0 && i < len(c.At) && c.State[i] != statics.NoEquilibrium
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
	now := 0
	for i, t := range c.At {
		if math.Abs(t-c.Number.Now) < math.Abs(c.At[now]-c.Number.Now) {
			now = i
		}
	}
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

type component struct {
	name               string
	runs               []draw.Run
	value              float64
	couple             bool
	positive, negative string
	other              string
}

// parts are the components of a support's force, as its symbols have them, named as a teacher does.
func parts(s *answer.Support, r statics.Reaction) []component {
	symbol := func(letter string) []draw.Run {
		return []draw.Run{{Text: letter, Italic: true}, {Text: s.Name, Sub: true}}
	}
	switch s.Kind {
	case question.Hinge, question.Pivot, question.Clamp:
		list := []component{{name: "upright force at " + s.Name, runs: symbol("Y"), value: r.Y, positive: "up", negative: "down"},
			{name: "level force at " + s.Name, runs: symbol("X"), value: r.X, positive: "to the right", negative: "to the left"}}
		if s.Kind == question.Clamp {
			list = append(list, component{name: "couple at " + s.Name, runs: symbol("C"), value: r.Couple, couple: true, positive: answer.Sense(1), negative: answer.Sense(-1)})
		}
		return list
	}
	letter, sub := answer.Symbol(s.Support)
	one := component{runs: []draw.Run{{Text: letter, Italic: true}}, value: r.N}
	if sub != "" {
		one.runs = append(one.runs, draw.Run{Text: sub, Sub: true})
	}
	at, normal := " at "+s.Name, "normal force at "+s.Name
	switch s.Kind {
	case question.Cable:
		one.name, one.other = "tension in "+s.Name, "a push"
	case question.Link:
		one.name = "tension in " + s.Name
	case question.Strut:
		one.name = "thrust in " + s.Name
	case question.Meter:
		one.name, one.other = "pull of the force meter"+at, "a push"
	case question.Spring:
		one.name, one.other = "pull of the spring"+at, "a push"
	case question.Floor, question.Wall, question.Slope:
		what := map[question.Kind]string{question.Floor: "floor", question.Wall: "wall", question.Slope: "slope"}[s.Kind]
		one.name, one.other, normal = "push of the "+what+at, "a pull", "normal push of the "+what+at
	case question.Strap:
		one.name, one.positive, one.negative = "force of the strap"+at, answer.Direction(s.Normal.X, s.Normal.Y, 3), answer.Direction(-s.Normal.X, -s.Normal.Y, 3)
	default:
		one.name, one.other = "push"+at, "a pull"
	}
	if s.Mu == 0 || math.IsNaN(s.Mu) && r.F == 0 {
		return []component{one}
	}
	t := statics.Vec{X: s.Normal.Y, Y: -s.Normal.X}
	along, back := answer.Direction(t.X, t.Y, 3), answer.Direction(-t.X, -t.Y, 3)
	if math.Abs(t.X) > dust && math.Abs(t.Y) > dust { // its angle may change
		if along, back = "up the surface", "down the surface"; t.Y < 0 {
			along, back = back, along
		}
	}
	one.name, one.runs = normal, symbol("N")
	return []component{one, {name: "friction" + at, runs: symbol("F"), value: r.F,
		positive: along, negative: back}}
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
			c.Limits = append(c.Limits, limitOf(build(e.Span.Least), e.Span.Least, true, e.LeastGiving))
		}
		if e.Span.Greatest < high-near {
			c.Limits = append(c.Limits, limitOf(build(e.Span.Greatest), e.Span.Greatest, false, e.GreatestGiving))
		}
	}
}

func limitOf(l *answer.Layout, at float64, lower bool, giving []statics.Giving) Limit {
	x := Limit{At: at, Lower: lower}
	if l == nil {
		return x
	}
	x.Giving = answer.GivingInWords(l, giving)
	var short []string
	for _, g := range giving {
		i := slices.IndexFunc(l.Supports, func(s answer.Support) bool { return s.Joint == g.Joint })
		if i < 0 {
			continue
		}
		verb := " lifts"
		switch s := &l.Supports[i]; {
		case g.Slips:
			verb = " slips"
		case l.System.Joints[g.Joint].Kind == statics.Pull:
			verb = " slack"
		case l.System.Joints[g.Joint].Kind == statics.Face:
			verb = " tips"
		case s.Kind == question.Wall:
			verb = " parts"
		}
		short = append(short, l.Supports[i].Name+verb)
	}
	x.Short = strings.Join(short, ", ")
	return x
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

// Picture is the graph, with the value marked that the number has just now.
func (c *Curve) Picture(now float64, o chart.Options) *draw.Picture {
	g := chart.Graph{Title: "Forces against " + c.Number.Words, Across: c.Number.Words, Unit: c.Number.Unit.Symbol, Up: "force", UpUnit: "N", Words: strings.Join(c.Say(), " "), Here: c.inUnit(now)}
	for _, t := range c.At {
		g.At = append(g.At, c.inUnit(t))
	}
	for _, l := range c.Lines {
		if l.Couple {
			continue
		}
		g.Lines = append(g.Lines, chart.Series{Name: l.Name, Symbol: l.Symbol, Value: l.Value, Beyond: l.Beyond})
	}
	for i, l := range c.Limits {
		words := Written(l.At, c.Number.Unit)
		if l.Short != "" {
			words = l.Short + ": " + words
		}
		if n := len(g.Marks); i > 0 && l.At-c.Limits[i-1].At <= c.near() { // at one value only
			g.Marks[n-1].Words = Written(l.At, c.Number.Unit)
			continue
		}
		g.Marks = append(g.Marks, chart.Upright{At: c.inUnit(l.At), Words: words})
	}
	return chart.Draw(g, o)
}

func (c *Curve) inUnit(si float64) float64 {
	return quantity.Snap(quantity.Of(si, c.Number.Unit).Value)
}

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
			list = append(list, fmt.Sprintf("Equilibrium ends at %s: just %s that, nothing could hold it.", at, side))
			continue
		}
		list = append(list, fmt.Sprintf("At %s it stays at rest only just: %s. Just %s that it does not stay at rest.", at, strings.Join(l.Giving, " and "), side))
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

// Table is the numbers: a heading, then a row for each value. What no equilibrium gives is empty.
func (c *Curve) Table() [][]string {
	head := []string{c.Number.Words + unit(c.Number.Unit.Symbol)}
	for _, l := range c.Lines {
		unit := " / N"
		if l.Couple {
			unit = " / N m"
		}
		head = append(head, l.Name+unit)
	}
	rows := [][]string{append(head, "at rest")}
	for i, t := range c.At {
		row := []string{figures(c.inUnit(t))}
		rests := "yes"
		if c.State[i] == statics.NoEquilibrium {
			rests = "no"
		}
		for _, l := range c.Lines {
			row = append(row, cell(l.Value[i]))
		}
		rows = append(rows, append(row, rests))
	}
	return rows
}

// figures is a number to five figures at most, without noughts at its end.
func figures(v float64) string {
	short, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 4, 64), 64)
	if err != nil {
		short = v
	}
	return strconv.FormatFloat(short+0, 'f', -1, 64)
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
	return quantity.Plain(quantity.RoundFigures(v+0, 4))
}

// CSV is the table, for a spreadsheet.
func (c *Curve) CSV() []byte {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.WriteAll(c.Table())
	return []byte(b.String())
}
