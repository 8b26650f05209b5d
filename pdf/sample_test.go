package pdf_test

import (
	"math"

	"steelyard/font"
	"steelyard/pdf"
)

// sample makes a two-page file with every kind of element and mark.
func sample() *pdf.Document {
	info := pdf.Info{Title: "Gangway (set 3)", Language: "en-GB", Author: "A. Teacher", Subject: "Moments – ½ hour"}
	d := pdf.New(info)
	p := d.AddPage(595.28, 841.89)
	root := d.Root()
	put := func(e *pdf.Element, face *font.Face, size, x, y float64, text string) {
		p.Begin(e)
		p.Text(face, size, x, y, text)
		p.End()
	}
	put(root.Child(pdf.H1), font.SerifBold, 18, 56, 70, "Quay gangway")
	sect := root.Child(pdf.Sect)
	put(sect.Child(pdf.H2), font.SansBold, 12, 56, 100, "Question 1")
	para := sect.Child(pdf.P)
	put(para, font.Serif, 11, 56, 120, "A uniform plank of weight 260\u00a0N rests on")
	put(para, font.Serif, 11, 56, 134, "trestles P and Q, 3.00\u00a0m apart. AVATAR ⊥ ∴")
	fig := sect.Child(pdf.Figure)
	fig.Alt, fig.Box = "A plank on two trestles – P left, Q right", [4]float64{56, 150, 356, 220}
	p.Begin(fig)
	p.Save()
	p.Shift(56, 150)
	p.Fill(pdf.Grey(0.85))
	p.LineWidth(1.2)
	p.Rectangle(0, 20, 300, 8, pdf.Both)
	p.Fill(pdf.Colour{})
	p.Path([][2]float64{{40, 28}, {32, 46}, {48, 46}}, true, pdf.Both)
	p.Stroke(pdf.Colour{R: 0.1, G: 0.2, B: 0.6})
	p.Dash(3, 2)
	p.Arc(240, 36, 8, 0, 2*math.Pi, pdf.Stroked)
	p.Arc(150, 60, 20, -math.Pi, 0, pdf.Stroked)
	p.Dash()
	p.Round(true)
	p.Curve(0, 60, 20, 40, 40, 80, 60, 60, pdf.Stroked)
	p.Stroke(pdf.Grey(1))
	p.Halo(font.Sans, 9, 140, 15, 1.5, "260 N")
	p.Restore()
	p.End()
	list := sect.Child(pdf.L)
	list.Numbered = "LowerAlpha"
	item := list.Child(pdf.LI)
	put(item.Child(pdf.Lbl), font.Serif, 11, 56, 250, "(a)")
	body := item.Child(pdf.LBody)
	put(body, font.Serif, 11, 80, 250, "Find the force of trestle Q on the plank.")
	formula := sect.Child(pdf.Formula)
	formula.Alt = "Q equals 286 newtons"
	put(formula, font.SerifItalic, 11, 80, 270, "Q = 286 N")
	table := sect.Child(pdf.Table)
	row := table.Child(pdf.THead).Child(pdf.TR)
	for i, text := range []string{"Mark for", "Mark"} {
		th := row.Child(pdf.TH)
		th.Scope = "Column"
		put(th, font.SansBold, 10, 56+float64(i)*200, 300, text)
	}
	row = table.Child(pdf.TBody).Child(pdf.TR)
	put(row.Child(pdf.TD), font.Sans, 10, 56, 314, "Moments about P")
	put(row.Child(pdf.TD), font.Sans, 10, 256, 314, "M1")
	foot := func() {
		p.Artifact("Pagination")
		p.Text(font.Sans, 8, 56, 810, "page")
		p.Line(56, 800, 540, 800)
		p.End()
	}
	foot()
	p = d.AddPage(595.28, 841.89)
	put(para, font.Serif, 11, 56, 70, "The paragraph goes on overleaf.")
	foot()
	return d
}
