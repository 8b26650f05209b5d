package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"steelyard/answer"
	"steelyard/show"
	"steelyard/slides"
	"steelyard/solution"
)

type slidesCommand struct {
	File   string   `arg:"" optional:"" help:"Question file; none or - reads standard input."`
	Output string   `short:"o" required:"" help:"File to write: .pdf, .odp or .pptx for slides, .odt or .docx for a document." placeholder:"FILE"`
	Stop   stopFlag `help:"Stop before the first arithmetic, for pupils to finish it themselves; --stop=b before that of part (b)."`
	Notes  bool     `help:"PDF: print the script below each slide, a slide to a page."`
}

// Help shows examples.
func (slidesCommand) Help() string {
	return `Examples:
  steelyard slides bridge.moments -o bridge.pdf
  steelyard slides bridge.moments -o bridge.pdf --notes
  steelyard slides bridge.moments -o bridge.odp --stop
  steelyard slides bridge.moments -o bridge.odp --stop=b
  steelyard slides bridge.moments -o handout.docx`
}

// Run writes the steps of a question's explanation for taking away.
func (c slidesCommand) Run(s streams) error {
	ending := strings.TrimPrefix(strings.ToLower(filepath.Ext(c.Output)), ".")
	if !slices.Contains(slides.Endings(), ending) {
		return usage(fmt.Sprintf("%s says no kind of file; its name has to end in .%s", c.Output, strings.Join(slides.Endings(), ", .")))
	}
	if c.Notes && ending != "pdf" {
		return usage("--notes is for .pdf; the script is in every other kind of file anyway")
	}
	q, err := s.read(c.File)
	if err != nil {
		return err
	}
	a, err := answer.Solve(q)
	if err != nil {
		return s.refuse(err)
	}
	sol, err := solution.Solve(a)
	if err != nil {
		return err
	}
	t, err := show.Make(a, sol)
	if err != nil {
		return s.refuse(err)
	}
	if t, err = c.Stop.cut(t); err != nil {
		return err
	}
	out, err := slides.Write(t, ending, slides.Options{Notes: c.Notes})
	if err != nil {
		return err
	}
	return s.write(c.Output, out)
}
