package trial

import (
	"encoding/csv"
	"math"
	"strconv"
	"strings"

	"steelyard/chart"
	"steelyard/draw"
	"steelyard/quantity"
	"steelyard/statics"
)

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

// inUnit is a value as it is written, in the number's unit.
func (c *Curve) inUnit(si float64) float64 {
	return quantity.Snap(quantity.Of(si, c.Number.Unit).Value)
}

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

// unit is how a unit stands in a heading.
func unit(symbol string) string {
	if symbol == "" {
		return ""
	}
	return " / " + symbol
}

// cell is a force in the table: four figures.
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
