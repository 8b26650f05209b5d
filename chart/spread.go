package chart

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"steelyard/draw"
)

// Spread shows how many pupils have each mark, from 0 to of, with the median. Where there are more than 25
// marks, neighbours share a bar.
func Spread(marks []int, of int, o Options) *draw.Picture {
	p := newPage(o, fmt.Sprintf("How the marks are spread: %s, out of %d", plural(len(marks), "pupil", "pupils"), of))
	step := max(1, (of+25)/25)
	bars := of/step + 1
	counts := make([]int, bars)
	for _, m := range marks {
		counts[min(max(m, 0)/step, bars-1)]++
	}
	most := max(1, slices.Max(counts))
	size := p.TextSize
	top, foot := 3.2*size, 2.9*size
	height := 8 * size
	bottom := top + height
	each := (p.Width - size) / float64(bars)
	left := size / 2
	p.line(left, bottom, p.Width-size/2, bottom, thin)
	stride := int(math.Ceil((p.width(markLabel(max(0, bars-2), step, of)) + 0.8*size) / each)) // bars to a label
	words := describeSpread(counts, step, of)
	tall := func(i int) float64 { return height * float64(counts[i]) / float64(most) }
	if len(marks) > 0 {
		m := median(marks)
		x := left + each*(m/float64(step)+0.5)
		if step > 1 {
			x = left + each*m/float64(step)
		}
		end := bottom
		for i, n := range counts { // it ends above the figure of a bar that it would run through
			if w := p.width(fmt.Sprint(n)) + 0.3*size; n > 0 && math.Abs(x-(left+(float64(i)+0.5)*each)) < w/2 {
				end = bottom - tall(i) - 1.3*size
			}
		}
		p.line(x, 1.6*size, x, max(end, 1.8*size), draw.Style{Stroke: draw.Black, Width: 1, Dash: []float64{3, 2}})
		label := "middle mark " + trim(m)
		w := p.width(label)
		p.text(min(max(x, w/2+1), p.Width-w/2-1), 1.2*size, draw.Centre, label)
		words = fmt.Sprintf("The middle mark is %s. ", trim(m)) + words
	}
	for i, n := range counts {
		x := left + float64(i)*each
		h := tall(i)
		if n > 0 {
			p.box(x+0.14*each, bottom-h, 0.72*each, h, light)
			if p.width(fmt.Sprint(n)) <= each {
				p.add(draw.Text{At: draw.Point{X: x + each/2, Y: bottom - h - 0.35*size}, Anchor: draw.Centre, Size: size, Ink: draw.Black, Halo: true, Runs: []draw.Run{{Text: fmt.Sprint(n)}}})
			}
		}
		if i%stride == 0 {
			label := markLabel(i, step, of)
			w := p.width(label)
			p.text(min(max(x+each/2, w/2), p.Width-w/2), bottom+1.25*size, draw.Centre, label)
		}
	}
	p.text(p.Width/2, bottom+2.6*size, draw.Centre, "marks")
	return p.finish(bottom+foot, words)
}

func markLabel(i, step, of int) string {
	if step == 1 || i*step == of {
		return fmt.Sprint(i * step)
	}
	return fmt.Sprintf("%d–%d", i*step, min(of, (i+1)*step-1))
}

func describeSpread(counts []int, step, of int) string {
	var all []string
	for i, n := range counts {
		if n > 0 {
			all = append(all, fmt.Sprintf("%s with %s", plural(n, "pupil", "pupils"), markLabel(i, step, of)))
		}
	}
	if len(all) == 0 {
		return "There are no marks."
	}
	return strings.Join(all, ", ") + "."
}

// median is the middle of the marks, or halfway between the two in the middle.
func median(marks []int) float64 {
	sorted := slices.Sorted(slices.Values(marks))
	n := len(sorted)
	return (float64(sorted[(n-1)/2]) + float64(sorted[n/2])) / 2
}

func trim(v float64) string {
	if v == math.Trunc(v) {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.1f", v)
}
