package chart

import (
	"fmt"
	"math"
	"strings"

	"steelyard/draw"
)

// A Graph is lines against one number.
type Graph struct {
	Title        string
	Across, Unit string // what goes to the right, and its unit
	Up, UpUnit   string
	At           []float64 // ascending, of every line
	Lines        []Series
	Marks        []Upright
	Here         float64 // the value that is looked at just now: a thin line; NaN for none
	Words        string  // what the graph shows, for whoever does not see it
}

// A Series is one line of a graph; NaN where it has no value. Beyond goes on, dashed, where it would need what can't be.
type Series struct {
	Name          string
	Symbol        []draw.Run
	Value, Beyond []float64
}

// An Upright is a value marked across the whole height.
type Upright struct {
	At    float64
	Words string
}

// dashes keep the lines of a graph apart in black and white.
var dashes = [][]float64{nil, {7, 2.5}, {3, 2}, {9, 2, 1.5, 2}, {1.5, 2}}

var seriesInks = []draw.Ink{draw.Deep, draw.Second, draw.Black, draw.Grey}

// ends are the least and the greatest value drawn, nought among them.
func (g *Graph) ends() (low, high float64) {
	for _, s := range g.Lines {
		for i := range s.Value {
			for _, v := range []float64{s.Value[i], s.Beyond[i]} {
				if !math.IsNaN(v) && !math.IsInf(v, 0) {
					low, high = min(low, v), max(high, v)
				}
			}
		}
	}
	if high == low {
		high = low + 1
	}
	return low, high
}

// Draw draws a graph. Each line carries its symbol at its end, and has dashes of its own.
func Draw(g Graph, o Options) *draw.Picture {
	p := newPage(o, g.Title)
	size := p.TextSize
	low, high := g.ends()
	step := tick(high-low, 6)
	low, high = math.Floor(low/step+1e-9)*step+0, math.Ceil(high/step-1e-9)*step
	left := 1.2*size + max(p.width(figures(low, step)), p.width(figures(high, step)))
	right := p.Width - 3.4*size
	from, to := g.At[0], g.At[len(g.At)-1]
	x := func(v float64) float64 { return left + (right-left)*(v-from)/(to-from) }
	labels, rows := p.rows(g.Marks, x)
	top := (2.9 + 1.15*float64(max(rows, 1))) * size
	bottom := top + 0.52*p.Width
	y := func(v float64) float64 { return bottom - (bottom-top)*(v-low)/(high-low) }
	for k := math.Round(low / step); k <= math.Round(high/step); k++ {
		v := k * step
		p.line(left, y(v), right, y(v), faint)
		p.text(left-0.5*size, y(v)+0.35*size, draw.Finish, figures(v, step))
	}
	across := tick(to-from, max(3, int((right-left)/(3.2*size))))
	for k := math.Ceil(from/across - 1e-9); k*across <= to+1e-9*across; k++ {
		p.line(x(k*across), bottom, x(k*across), bottom+0.35*size, thin)
		p.text(x(k*across), bottom+1.5*size, draw.Centre, figures(k*across, across))
	}
	p.line(left, y(0), right, y(0), draw.Style{Stroke: draw.Black, Width: 1})
	p.line(left, top, left, bottom, draw.Style{Stroke: draw.Black, Width: 1})
	p.text(0, 1.1*size, draw.Start, named(g.Up, g.UpUnit))
	p.text(right, bottom+2.9*size, draw.Finish, named(g.Across, g.Unit))
	if g.Here >= from && g.Here <= to {
		p.line(x(g.Here), top, x(g.Here), bottom, draw.Style{Stroke: draw.Grey, Width: 0.7})
		p.add(draw.Line{Closed: true, Style: draw.Style{Fill: draw.Grey}, Points: []draw.Point{
			{X: x(g.Here), Y: bottom}, {X: x(g.Here) - 0.4*size, Y: bottom + 0.6*size}, {X: x(g.Here) + 0.4*size, Y: bottom + 0.6*size}}})
	}
	for i, m := range g.Marks {
		l := labels[i]
		base := top - (0.95+1.15*float64(l.row))*size
		p.line(x(m.At), top-0.5*size, x(m.At), bottom, draw.Style{Stroke: draw.Black, Width: 0.8, Dash: []float64{4, 2}})
		p.text(l.left, base, draw.Start, l.words)
	}
	p.series(g, x, y, right, top, bottom)
	return p.finish(bottom+3.5*size, g.Words)
}

func named(what, unit string) string {
	if unit == "" {
		return what
	}
	return what + " / " + unit
}

// A label is the words of an upright, on one of several lines above the graph.
type label struct {
	words string
	left  float64
	row   int // from the graph upwards
}

// rows puts the words of uprights on as few lines as keep them apart, each over its upright as far as the picture goes.
func (p *page) rows(marks []Upright, x func(float64) float64) (list []label, rows int) {
	gap := 0.6 * p.TextSize
	for _, m := range marks {
		words := p.short(m.Words, p.Width)
		wide := p.width(words)
		l := label{words: words, left: clamp(x(m.At)-wide/2, 0, p.Width-wide)}
		free := func() bool {
			for _, o := range list {
				if o.row == l.row && l.left < o.left+p.width(o.words)+gap && o.left < l.left+wide+gap {
					return false
				}
			}
			return true
		}
		for !free() {
			l.row++
		}
		list, rows = append(list, l), max(rows, l.row+1)
	}
	return list, rows
}

func (p *page) series(g Graph, x, y func(float64) float64, right, top, bottom float64) {
	var taken []float64
	for n, s := range g.Lines {
		style := draw.Style{Stroke: seriesInks[n%len(seriesInks)], Width: 1.8, Dash: dashes[n%len(dashes)]}
		beyond := draw.Style{Stroke: style.Stroke, Width: 0.8, Dash: []float64{1, 2.5}}
		var marks []draw.Mark
		last := math.NaN()
		for _, run := range runsOf(g.At, s.Value, x, y) {
			marks = append(marks, draw.Line{Points: run, Style: style})
			last = run[len(run)-1].Y
		}
		for i, v := range s.Value { // a value that stands alone
			alone := !math.IsNaN(v) && (i == 0 || math.IsNaN(s.Value[i-1])) && (i == len(s.Value)-1 || math.IsNaN(s.Value[i+1]))
			if alone {
				marks = append(marks, draw.Arc{Centre: draw.Point{X: x(g.At[i]), Y: y(v)}, Radius: 3, To: 2 * math.Pi, Style: draw.Style{Stroke: style.Stroke, Width: 1, Fill: style.Stroke}})
				last = y(v)
			}
		}
		for _, run := range runsOf(g.At, joined(s.Value, s.Beyond), x, y) {
			marks = append(marks, draw.Line{Points: run, Style: beyond})
			last = run[len(run)-1].Y
		}
		if math.IsNaN(last) {
			continue
		}
		p.add(draw.Group{ID: fmt.Sprintf("line-%d", n+1), Class: "series", Title: s.Name, Marks: marks})
		at := p.apart(last, taken, top, bottom)
		taken = append(taken, at)
		p.add(draw.Text{At: draw.Point{X: right + 0.5*p.TextSize, Y: at + 0.35*p.TextSize}, Size: p.TextSize * 1.1, Ink: style.Stroke, Runs: s.Symbol})
	}
}

// apart is a height near one that is wanted, apart from those that are taken.
func (p *page) apart(want float64, taken []float64, top, bottom float64) float64 {
	line := 1.25 * p.TextSize
	best, far := want, math.Inf(1)
	try := func(at float64) {
		for _, t := range taken {
			if math.Abs(t-at) < line*(1-1e-9) {
				return
			}
		}
		if d := math.Abs(at - want); d < far && at >= top-line/2 && at <= bottom+line/2 {
			best, far = at, d
		}
	}
	try(want)
	for _, t := range taken {
		try(t - line)
		try(t + line)
	}
	return best
}

// joined are the values beyond, with the last ones of the line at either side, so that they meet.
func joined(value, beyond []float64) []float64 {
	out := make([]float64, len(value))
	for i := range value {
		out[i] = beyond[i]
		next := i+1 < len(value) && !math.IsNaN(beyond[i+1])
		before := i > 0 && !math.IsNaN(beyond[i-1])
		if math.IsNaN(beyond[i]) && (next || before) {
			out[i] = value[i]
		}
	}
	return out
}

// runsOf are the stretches of a line without gaps, of two points at least.
func runsOf(at, value []float64, x, y func(float64) float64) (list [][]draw.Point) {
	var run []draw.Point
	end := func() {
		if len(run) > 1 {
			list = append(list, run)
		}
		run = nil
	}
	for i, v := range value {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			end()
			continue
		}
		run = append(run, draw.Point{X: x(at[i]), Y: y(v)})
	}
	end()
	return list
}

// tick is a round step that divides a span into about so many.
func tick(span float64, parts int) float64 {
	raw := span / float64(parts)
	p := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, k := range []float64{1, 2, 5} {
		if k*p >= raw*(1-1e-9) {
			return k * p
		}
	}
	return 10 * p
}

// figures writes a value with as many decimals as its step has.
func figures(v, step float64) string {
	decimals := max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
	s := fmt.Sprintf("%.*f", decimals, v+0)
	if strings.Trim(s, "-0.") == "" {
		return "0"
	}
	return strings.Replace(s, "-", "−", 1)
}

// A Size is one bar: a force that may be negative, or NaN.
type Size struct {
	Name   string
	Symbol []draw.Run
	Value  float64
	Beyond bool   // it can't be: drawn open and dashed
	Said   string // the value as it is written, or why there is none; "" writes it to the whole unit
}

// Sizes shows forces as bars from a common nought. Most is the largest that may come, so that bars of one arrangement
// after another can be compared.
func Sizes(bars []Size, most float64, unit string, o Options) *draw.Picture {
	p := newPage(o, "Forces as bars")
	size := p.TextSize
	negative := false
	for _, b := range bars {
		if !math.IsNaN(b.Value) {
			most = max(most, math.Abs(b.Value))
		}
		negative = negative || b.Value < 0
	}
	if !(most > 0) {
		most = 1
	}
	name, value := 3.6*size, 5.2*size
	left, right := name, p.Width-value
	nought := left
	if negative {
		nought = left + 0.35*(right-left)
	}
	at := func(v float64) float64 { return nought + (right-nought)*max(v/most, -0.54) }
	pitch := 2.1 * size
	var words []string
	for i, b := range bars {
		top := float64(i)*pitch + 0.3*size
		p.add(draw.Text{At: draw.Point{X: 0, Y: top + 1.05*size}, Size: 1.1 * size, Ink: draw.Black, Runs: b.Symbol})
		if math.IsNaN(b.Value) {
			said := b.Said
			if said == "" {
				said = "no single value"
			}
			p.text(nought+0.4*size, top+1.05*size, draw.Start, said)
			words = append(words, b.Name+": "+said)
			continue
		}
		style, said := draw.Style{Stroke: draw.Black, Width: 0.8, Fill: draw.Deep}, fmt.Sprintf("%.0f %s", b.Value, unit)
		said = strings.Replace(said, "-", "−", 1)
		if said == "−0 "+unit {
			said = "0 " + unit
		}
		if b.Said != "" {
			said = b.Said
		}
		if b.Beyond {
			style = draw.Style{Stroke: draw.Black, Width: 0.8, Fill: draw.Paper, Dash: []float64{2, 2}}
		}
		a, z := min(nought, at(b.Value)), max(nought, at(b.Value))
		if z > a {
			p.box(a, top, z-a, 1.4*size, style)
		}
		p.text(z+0.4*size, top+1.05*size, draw.Start, said)
		words = append(words, b.Name+" "+said)
	}
	bottom := float64(len(bars))*pitch + 0.2*size
	p.line(nought, 0, nought, bottom, draw.Style{Stroke: draw.Black, Width: 1})
	return p.finish(bottom, strings.Join(words, ", ")+".")
}
