package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/figure"
	"steelyard/pdf"
	"steelyard/question"
	"steelyard/solution"
)

type drawCommand struct {
	File     string  `arg:"" optional:"" help:"Question file; none or - reads standard input."`
	View     string  `enum:"sketch,forces,moment" default:"sketch" help:"sketch: what the pupil is given; forces: the free-body diagram of one body; moment: the same with lines of action and perpendicular distances from a pivot."`
	Body     string  `help:"Body for --view forces and moment; the first if not given."`
	About    string  `help:"Pivot for --view moment: a name, or a place such as 2.00m." placeholder:"POINT"`
	Output   string  `short:"o" help:"File to write: .svg, .pdf or .png; SVG on standard output if not given." placeholder:"FILE"`
	Width    float64 `default:"400" help:"Width in points (1/72 inch)."`
	TextSize float64 `default:"10" help:"Size of the labels in points."`
	Dpi      float64 `default:"150" help:"Dots an inch, for PNG."`
	Describe bool    `help:"Print the description in words in place of the drawing."`
}

// Help shows examples.
func (drawCommand) Help() string {
	return `Examples:
  steelyard draw bridge.moments -o bridge.svg
  steelyard draw bridge.moments --view forces -o forces.pdf
  steelyard draw bridge.moments --view moment --about Q -o about-q.png
  steelyard draw bridge.moments --describe`
}

// Run draws one view of a question.
func (c drawCommand) Run(s streams) error {
	if !(c.Width >= 100 && c.Width <= 3000 && c.TextSize >= 4 && c.TextSize <= 72 && c.Dpi >= 20 && c.Dpi <= 1200) { // NaN too
		return usage("the width must be from 100 to 3000 points, the text from 4 to 72 points, and PNG from 20 to 1200 dots an inch")
	}
	q, err := s.read(c.File)
	if err != nil {
		return err
	}
	a, err := answer.Solve(q)
	if err != nil {
		return s.refuse(err)
	}
	o := figure.Options{Body: c.Body, Width: c.Width, TextSize: c.TextSize, Forces: a.Forces}
	if c.Body != "" && a.Layout.BodyNamed(c.Body) == nil {
		return usage(fmt.Sprintf("no body is called %s; there is %s", c.Body, strings.Join(bodyNames(q), ", ")))
	}
	switch c.View {
	case "forces":
		o.View = figure.Forces
	case "moment":
		o.View = figure.Moment
		if err := c.pivot(a, &o); err != nil {
			return err
		}
	default:
		o.Forces = nil
	}
	return c.write(s, figure.Draw(a.Layout, o))
}

func (c drawCommand) write(s streams, p *draw.Picture) error {
	if c.Describe {
		_, err := fmt.Fprintf(s.out, "%s\n\n%s\n", p.Title, p.Description)
		return err
	}
	switch ext := strings.ToLower(filepath.Ext(c.Output)); ext {
	case ".svg":
		return s.write(c.Output, onPaper(p))
	case "":
		if c.Output != "" && c.Output != "-" {
			return usage(fmt.Sprintf("what kind of picture is %s? end its name in .svg, .pdf or .png", c.Output))
		}
		return s.write("-", onPaper(p))
	case ".png":
		png, err := draw.PNG(p, c.Dpi)
		if err != nil {
			return err
		}
		return s.write(c.Output, png)
	case ".pdf":
		file, err := pagePDF(p)
		if err != nil {
			return err
		}
		return s.write(c.Output, file)
	default:
		return usage(fmt.Sprintf("a drawing is written as .svg, .pdf or .png, not as %s", ext))
	}
}

// pagePDF is a page as large as the picture.
func pagePDF(p *draw.Picture) ([]byte, error) {
	d := pdf.New(pdf.Info{Title: p.Title, Language: "en-GB"})
	page := d.AddPage(p.Width, p.Height)
	figure := d.Root().Child(pdf.Figure)
	figure.Alt = p.Title + " " + p.Description
	figure.Box = [4]float64{0, 0, p.Width, p.Height}
	page.Begin(figure)
	draw.PDF(page, 0, 0, p)
	page.End()
	return d.Bytes()
}

func bodyNames(q *question.Question) []string {
	var names []string
	for i := range q.Bodies {
		names = append(names, q.Bodies[i].Name)
	}
	return names
}

// pivot puts the point that --about names into o; the first support if it names none.
func (c drawCommand) pivot(a *answer.Answers, o *figure.Options) error {
	about := c.About
	if about == "" {
		if len(a.Layout.Supports) == 0 {
			return usage("say what to take moments about, such as --about 2.00m")
		}
		about = a.Layout.Supports[0].Name
	}
	if c.Body != "" && !strings.Contains(about, " on ") {
		if _, named := a.Layout.Named(about); !named {
			about += " on " + c.Body
		}
	}
	body, at, name, err := solution.Point(a, about)
	if err != nil {
		return usage("--about: " + err.Error())
	}
	if o.Body == "" {
		o.Body = body
	}
	o.Pivot, o.PivotName = at, name
	return nil
}

// onPaper is a drawing as an SVG file with paper behind it: black lines on a dark page would not be seen.
func onPaper(p *draw.Picture) []byte {
	paper := draw.Line{Points: []draw.Point{{}, {X: p.Width}, {X: p.Width, Y: p.Height}, {Y: p.Height}}, Closed: true, Style: draw.Style{Fill: draw.Paper}}
	whole := *p
	whole.Marks = append([]draw.Mark{paper}, p.Marks...)
	return draw.SVG(&whole)
}
