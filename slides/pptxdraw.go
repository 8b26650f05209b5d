package slides

import (
	"math"
	"strconv"

	"steelyard/draw"
)

// A pptxDrawer draws shapes of a presentation.
type pptxDrawer struct{ *tree }

func (d pptxDrawer) begin(name, words string, at box) {
	d.Open("p:grpSp").Open("p:nvGrpSpPr")
	d.properties(name, words)
	d.Empty("p:cNvGrpSpPr").Empty("p:nvPr").Shut(1)
	d.Open("p:grpSpPr").Open("a:xfrm")
	d.frame(at)
	// The same again for what is inside: nothing is scaled.
	d.Empty("a:chOff", "x", emu(at.left), "y", emu(at.top)).Empty("a:chExt", "cx", emu(at.width()), "cy", emu(at.height()))
	d.Shut(2)
}

func (d pptxDrawer) end() { d.Shut(1) }

func (d pptxDrawer) properties(name, words string) {
	if words == "" {
		d.Empty("p:cNvPr", "id", d.id(), "name", name)
		return
	}
	d.Empty("p:cNvPr", "id", d.id(), "name", name, "descr", words)
}

func (d pptxDrawer) arrow(tail, tip draw.Point, s draw.Style, _ float64) {
	d.connect(tail, tip, s, true)
}

// connect draws a straight line, which keeps its head when it is pulled about.
func (d pptxDrawer) connect(from, to draw.Point, s draw.Style, head bool) {
	name := "line"
	if head {
		name = "arrow"
	}
	d.Open("p:cxnSp").Open("p:nvCxnSpPr")
	d.properties(name, "")
	d.Empty("p:cNvCxnSpPr").Empty("p:nvPr").Shut(1)
	var flips []string
	if to.X < from.X {
		flips = append(flips, "flipH", "1")
	}
	if to.Y < from.Y {
		flips = append(flips, "flipV", "1")
	}
	d.Open("p:spPr").Open("a:xfrm", flips...)
	d.frame(aroundPoints([]draw.Point{from, to}))
	d.Shut(1).Raw(`<a:prstGeom prst="line"><a:avLst/></a:prstGeom>`)
	d.outline(s, head)
	d.Shut(2)
}

func (d pptxDrawer) path(points []draw.Point, closed bool, s draw.Style) {
	if len(points) == 2 && s.Fill == draw.None {
		d.connect(points[0], points[1], s, false)
		return
	}
	at := aroundPoints(points)
	name := "shape"
	if behind(s) {
		name = "paper behind a label"
	}
	d.shape(name, at)
	d.Open("a:custGeom").Raw(`<a:avLst/><a:gdLst/><a:ahLst/><a:cxnLst/><a:rect l="0" t="0" r="r" b="b"/>`).Open("a:pathLst")
	d.Open("a:path", "w", emu(at.width()), "h", emu(at.height()))
	for i, p := range points {
		step := "a:lnTo"
		if i == 0 {
			step = "a:moveTo"
		}
		d.Open(step).Empty("a:pt", "x", emu(p.X-at.left), "y", emu(p.Y-at.top)).Shut(1)
	}
	if closed {
		d.Empty("a:close")
	}
	d.Shut(3)
	d.fill(s.Fill)
	d.outline(s, false)
	d.Shut(2)
}

func (d pptxDrawer) circle(c draw.Point, r float64, s draw.Style) {
	d.shape("circle", box{c.X - r, c.Y - r, c.X + r, c.Y + r})
	d.Raw(`<a:prstGeom prst="ellipse"><a:avLst/></a:prstGeom>`)
	d.fill(s.Fill)
	d.outline(s, false)
	d.Shut(2)
}

// shape opens a shape and its properties.
func (d pptxDrawer) shape(name string, at box) {
	d.Open("p:sp").Open("p:nvSpPr")
	d.properties(name, "")
	d.Empty("p:cNvSpPr").Empty("p:nvPr").Shut(1)
	d.Open("p:spPr").Open("a:xfrm")
	d.frame(at)
	d.Shut(1)
}

func (d pptxDrawer) fill(i draw.Ink) {
	if i == draw.None {
		d.Empty("a:noFill")
		return
	}
	d.solid(i)
}

func (d pptxDrawer) outline(s draw.Style, head bool) {
	if s.Stroke == draw.None || s.Width <= 0 {
		d.Open("a:ln").Empty("a:noFill").Shut(1)
		return
	}
	end := "flat"
	if s.Round {
		end = "rnd"
	}
	d.Open("a:ln", "w", emu(s.Width), "cap", end)
	d.solid(s.Stroke)
	if len(s.Dash) > 0 {
		d.Open("a:custDash")
		for i := 0; i+1 < len(s.Dash); i += 2 {
			d.Empty("a:ds", "d", share(s.Dash[i]/s.Width), "sp", share(s.Dash[i+1]/s.Width))
		}
		d.Shut(1)
	}
	if s.Round {
		d.Empty("a:round")
	} else {
		d.Empty("a:miter", "lim", "800000")
	}
	if head {
		d.Empty("a:tailEnd", "type", "triangle", "w", "med", "len", "lg")
	}
	d.Shut(1)
}

// share writes a part in thousandths of a percent.
func share(v float64) string { return strconv.Itoa(int(math.Round(100000 * v))) }

func (d pptxDrawer) label(t draw.Text, at box) {
	d.Open("p:sp").Open("p:nvSpPr")
	d.properties("label", "")
	d.Empty("p:cNvSpPr", "txBox", "1").Empty("p:nvPr").Shut(1)
	d.Open("p:spPr").Open("a:xfrm")
	d.frame(at)
	d.Shut(1).Raw(`<a:prstGeom prst="rect"><a:avLst/></a:prstGeom><a:noFill/>`).Shut(1)
	d.Open("p:txBody").Empty("a:bodyPr", "wrap", "none", "lIns", "0", "tIns", "0", "rIns", "0", "bIns", "0", "anchor", "t").Empty("a:lstStyle")
	side := map[draw.Anchor]string{draw.Start: "l", draw.Centre: "ctr", draw.Finish: "r"}[t.Anchor]
	d.Open("a:p").Empty("a:pPr", "algn", side)
	for _, r := range t.Runs {
		look := []string{"lang", language, "sz", hundredths(t.Size)}
		if r.Bold {
			look = append(look, "b", "1")
		}
		if r.Italic {
			look = append(look, "i", "1")
		}
		if r.Sub {
			look = append(look, "baseline", "-25000")
		}
		d.Open("a:r").Open("a:rPr", look...)
		d.solid(t.Ink)
		d.Empty("a:latin", "typeface", "+mn-lt") // a text box alone would take the program's own
		d.Shut(1).Leaf("a:t", r.Text).Shut(1)
	}
	d.Shut(3)
}
