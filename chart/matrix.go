package chart

import (
	"fmt"
	"strings"

	"steelyard/draw"
)

// A Row is a pupil's line of a matrix: how sure each slip is, from 0 to 1, by column.
type Row struct {
	Name string
	Sure []float64
}

// How sure it takes for each of the three dots of a matrix.
const (
	Possible = 0.3
	Likely   = 0.6
	Strong   = 0.9
)

// Sure says in words what a probability is shown as; "" below [Possible].
func Sure(p float64) string {
	switch {
	case p >= Strong:
		return "fits well"
	case p >= Likely:
		return "likely"
	case p >= Possible:
		return "possible"
	}
	return ""
}

// Matrix shows which pupil's working suggests which slip, as dots: full where it fits well, half as large and
// ringed where likely, an open ring where possible. Columns are named by short keys, such as letters, which the
// caller explains beside the chart; their long names go into the description.
func Matrix(columns, long []string, rows []Row, o Options) *draw.Picture {
	p := newPage(o, "What the working suggests, by pupil")
	size := p.TextSize
	name := 0.0
	for _, r := range rows {
		name = max(name, p.width(r.Name))
	}
	name = min(name+size, 0.42*p.Width)
	pitch := 1.55 * size
	each := min((p.Width-name)/float64(max(1, len(columns))), 3.2*size)
	radius := min(0.46*size, 0.45*each)
	top := 4.1 * size
	p.legend(radius)
	right := name + each*float64(len(columns))
	bottom := top + pitch*float64(len(rows))
	for k, c := range columns {
		x := name + each*(float64(k)+0.5)
		p.write(x, top-0.5*size, draw.Centre, c, true)
		p.line(x, top, x, bottom, faint)
	}
	p.line(0, top, right, top, thin)
	var words []string
	for i, r := range rows {
		y := top + pitch*(float64(i)+0.5)
		p.text(0, y+0.36*size, draw.Start, p.short(r.Name, name-0.6*size))
		if i%5 == 4 && i < len(rows)-1 {
			p.line(0, y+pitch/2, right, y+pitch/2, draw.Style{Stroke: draw.Faint, Width: 0.4})
		}
		var said []string
		for k := range columns {
			if k < len(r.Sure) && p.dot(name+each*(float64(k)+0.5), y, radius, r.Sure[k]) {
				said = append(said, fmt.Sprintf("%s %s", long[k], Sure(r.Sure[k])))
			}
		}
		if len(said) > 0 {
			words = append(words, r.Name+": "+strings.Join(said, ", "))
		}
	}
	p.line(0, bottom, right, bottom, thin)
	if len(words) == 0 {
		words = []string{"Nobody's working suggests a slip"}
	}
	return p.finish(bottom+0.4*size, strings.Join(words, "; ")+".")
}

// dot puts the dot of a probability, and reports whether there is one.
func (p *page) dot(x, y, radius, sure float64) bool {
	switch Sure(sure) {
	case "fits well":
		p.disc(x, y, radius, draw.Style{Stroke: draw.Black, Width: 0.8, Fill: draw.Black})
	case "likely":
		p.disc(x, y, radius, open)
		p.disc(x, y, 0.5*radius, draw.Style{Stroke: draw.Black, Width: 0.6, Fill: draw.Black})
	case "possible":
		p.disc(x, y, radius, open)
	default:
		return false
	}
	return true
}

// legend explains the dots at the top.
func (p *page) legend(radius float64) {
	size := p.TextSize
	x := radius + 1
	for _, l := range []struct {
		sure float64
		text string
	}{{1, "fits well"}, {Likely, "likely"}, {Possible, "possible"}} {
		p.dot(x, 0.9*size, radius, l.sure)
		p.text(x+radius+0.4*size, 1.26*size, draw.Start, l.text)
		x += 2*radius + 1.6*size + p.width(l.text)
	}
}
