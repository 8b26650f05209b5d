package chart

import (
	"fmt"
	"math"
	"strings"

	"steelyard/draw"
)

// A Bar is how one part of a question went.
type Bar struct {
	Name           string
	Facility       float64 // the mean mark as a share of what the part is worth, 0 to 1
	Discrimination float64 // from −1 to 1; NaN where it can't be told
}

// Parts shows the facility and the discrimination of each part side by side. Values stand beside their bars.
func Parts(bars []Bar, o Options) *draw.Picture {
	p := newPage(o, "How each part went: facility and discrimination")
	size := p.TextSize
	name := 0.0
	for _, b := range bars {
		name = max(name, p.width(b.Name))
	}
	name = min(name+size, 0.3*p.Width)
	gap := 1.5 * size
	value := p.width("100 %") + 0.6*size
	least := 0.0 // a negative discrimination gets room to the left of nought
	for _, b := range bars {
		if b.Discrimination < 0 {
			least = min(least, b.Discrimination)
		}
	}
	panel := (p.Width - name - gap) / 2
	first, second := name, name+panel+gap
	scale := panel - value
	nought := second + (scale)*(-least)/(1-least)
	p.write(first, 1.1*size, draw.Start, "facility", true)
	p.write(second, 1.1*size, draw.Start, p.short("discrimination", panel), true)
	pitch := 1.9 * size
	top := 1.9 * size
	bottom := top + pitch*float64(len(bars))
	for _, x := range []float64{first + scale/2, first + scale} {
		p.line(x, top, x, bottom, faint)
	}
	p.line(first, top, first, bottom, thin)
	p.line(nought, top, nought, bottom, thin)
	var words []string
	for i, b := range bars {
		y := top + pitch*float64(i)
		base := y + pitch/2 + 0.36*size
		p.text(0, base, draw.Start, p.short(b.Name, name-0.5*size))
		if w := scale * clamp(b.Facility, 0, 1); w > 0.5 {
			p.box(first, y+0.2*pitch, w, 0.6*pitch, light)
		}
		p.text(first+scale*clamp(b.Facility, 0, 1)+0.4*size, base, draw.Start, percent(b.Facility))
		said := fmt.Sprintf("%s: facility %s, ", b.Name, percent(b.Facility))
		if math.IsNaN(b.Discrimination) {
			p.text(nought+0.4*size, base, draw.Start, p.short("can't be told", panel-0.4*size))
			words = append(words, said+"discrimination can't be told")
			continue
		}
		w := scale / (1 - least) * clamp(b.Discrimination, -1, 1)
		if math.Abs(w) > 0.5 {
			p.box(min(nought, nought+w), y+0.2*pitch, math.Abs(w), 0.6*pitch, solid)
		}
		p.text(max(nought, nought+w)+0.4*size, base, draw.Start, signed(b.Discrimination))
		words = append(words, said+"discrimination "+signed(b.Discrimination))
	}
	return p.finish(bottom+0.3*size, strings.Join(words, "; ")+".")
}

func clamp(v, low, high float64) float64 { return min(max(v, low), high) }

// signed writes a number to two decimals with a true minus sign.
func signed(v float64) string {
	s := fmt.Sprintf("%.2f", math.Abs(v))
	if v < 0 && s != "0.00" {
		return "−" + s
	}
	return s
}
