package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"

	"steelyard/answer"
	"steelyard/bank"
	"steelyard/figure"
	"steelyard/question"
	"steelyard/sheet"
	"steelyard/solution"
)

type bankGallery struct {
	Output string `short:"o" default:"steelyard-gallery" help:"Folder to write into; it is made if need be." placeholder:"DIR"`
}

// Help shows examples.
func (bankGallery) Help() string {
	return `Examples:
  steelyard bank gallery
  steelyard bank gallery -o out`
}

// Run takes every question of the bank through the whole of the engine: the question file, its answers
// and solution, the drawings, and one sheet, scheme and booklet of solutions for all.
func (c bankGallery) Run(s streams) error {
	set := sheet.Set{Title: "Bodies in equilibrium"}
	var index gallery
	for _, name := range bank.Names() {
		text, err := fs.ReadFile(bank.Files, name)
		if err != nil {
			return err
		}
		it, err := c.one(s, strings.TrimSuffix(name, ".moments"), string(text), &index)
		if err != nil {
			return err
		}
		set.Items = append(set.Items, it)
	}
	for _, sheetFile := range []struct {
		name  string
		write func(sheet.Set, sheet.Options) ([]byte, error)
		size  float64
	}{
		{"sheet.pdf", sheet.Questions, 11},
		{"sheet-18pt.pdf", sheet.Questions, 18},
		{"scheme.pdf", sheet.Scheme, 11},
		{"solutions.pdf", sheet.Solutions, 11},
	} {
		file, err := sheetFile.write(set, sheet.Options{Size: sheetFile.size})
		if err != nil {
			return fmt.Errorf("printing %s: %w", sheetFile.name, err)
		}
		if err := s.write(filepath.Join(c.Output, sheetFile.name), file); err != nil {
			return err
		}
	}
	if err := s.write(filepath.Join(c.Output, "index.html"), index.page()); err != nil {
		return err
	}
	_, err := fmt.Fprintf(s.out, `%d questions taken through everything. Open

  %[2]s    all of them: picture, answers, worked solution
  %[3]s     the question sheet; sheet-18pt.pdf in large print
  %[4]s    the mark scheme
  %[5]s the worked solutions

or try one: steelyard explain %[6]s
`, len(set.Items), filepath.Join(c.Output, "index.html"), filepath.Join(c.Output, "sheet.pdf"),
		filepath.Join(c.Output, "scheme.pdf"), filepath.Join(c.Output, "solutions.pdf"), filepath.Join(c.Output, "lock-footbridge.moments"))
	return err
}

// one writes what belongs to one question, and adds it to the index.
func (c bankGallery) one(s streams, name, text string, index *gallery) (sheet.Item, error) {
	q, err := question.Parse(name+".moments", text)
	if err != nil {
		return sheet.Item{}, s.refuse(err)
	}
	a, err := answer.Solve(q)
	if err != nil {
		return sheet.Item{}, s.refuse(err)
	}
	it, err := item(q)
	if err != nil {
		return sheet.Item{}, err
	}
	sketch := onPaper(figure.Draw(a.Layout, figure.Options{}))
	forces := onPaper(figure.Draw(a.Layout, figure.Options{View: figure.Forces, Forces: a.Forces}))
	var answers bytes.Buffer
	if err := writeAnswers(&answers, a); err != nil {
		return sheet.Item{}, err
	}
	for suffix, content := range map[string][]byte{
		".moments":      []byte(text),
		".svg":          sketch,
		"-forces.svg":   forces,
		"-answers.txt":  answers.Bytes(),
		"-solution.txt": []byte(solution.Text(it.Solution)),
	} {
		if err := s.write(filepath.Join(c.Output, name+suffix), content); err != nil {
			return sheet.Item{}, err
		}
	}
	index.add(name, q, it, answers.String())
	return it, nil
}

// A gallery is one page with every question on it.
type gallery struct{ body strings.Builder }

func (g *gallery) add(name string, q *question.Question, it sheet.Item, answers string) {
	fmt.Fprintf(&g.body, "<section>\n<h2 id=\"%s\">%s</h2>\n", name, escape(q.Title))
	for _, p := range it.Wording {
		fmt.Fprintf(&g.body, "<p>%s</p>\n", escape(p))
	}
	fmt.Fprintf(&g.body, "<p><img src=\"%s.svg\" alt=\"%s\"></p>\n<ol type=\"a\">\n", name, escapeAttribute(it.Picture(sheet.Drawing{Width: 400, TextSize: 10}).Description))
	for _, p := range it.Parts {
		fmt.Fprintf(&g.body, "<li>%s [%d]</li>\n", escape(p.Text), p.Marks)
	}
	fmt.Fprintf(&g.body, "</ol>\n<details><summary>Forces and answers</summary>\n<p><img src=\"%s-forces.svg\" alt=\"Forces on the body\"></p>\n<pre>%s</pre></details>\n",
		name, escape(answers))
	fmt.Fprintf(&g.body, "<details><summary>Worked solution</summary>\n%s</details>\n<p><a href=\"%s.moments\">%s.moments</a></p>\n</section>\n",
		solution.HTML(it.Solution, 3), name, name)
}

func escapeAttribute(s string) string { return strings.ReplaceAll(escape(s), `"`, "&quot;") }

func (g *gallery) page() []byte {
	return []byte(`<!DOCTYPE html>
<html lang="en-GB">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Bodies in equilibrium</title>
<style>
body { font: 1rem/1.5 "Liberation Serif", "Times New Roman", serif; max-width: 44rem; margin: 2rem auto; padding: 0 1rem; color: #111; }
section { border-top: 1px solid #999; margin-top: 2rem; }
img { max-width: 100%; height: auto; }
pre { overflow-x: auto; font-size: 0.9rem; }
summary { cursor: pointer; padding: 0.3rem 0; }
math { font-size: 1.05em; }
</style>
<h1>Bodies in equilibrium</h1>
<p>Results are for teaching, never for building.</p>
` + g.body.String() + "</html>\n")
}
