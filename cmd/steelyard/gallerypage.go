package main

import (
	"fmt"
	"math"
	"strings"

	"steelyard/figure"
	"steelyard/question"
)

// A pageFile is a file of the gallery page; its name has slashes.
type pageFile struct {
	name    string
	content []byte
}

// galleryPage makes the page of the documentation that shows every question of the bank with its
// picture, its idea and what varies: gallery.md, and a drawing for each in gallery/.
func galleryPage() ([]pageFile, error) {
	const width, textSize = 360, 10 // points
	var page strings.Builder
	var files []pageFile
	page.WriteString("# The bank of questions\n\n" +
		"Made by the program: `make gallery`. `steelyard bank show NAME` prints a question with its answers;\n" +
		"`steelyard bank copy NAME` copies it out, to be changed. The numbers are for teaching, never for building.\n")
	level := ""
	for _, name := range familyNames() {
		f, err := openFamily(name)
		if err != nil {
			return nil, err
		}
		q := f.question
		if q.Level != level {
			level = q.Level
			fmt.Fprintf(&page, "\n## %s%s\n", strings.ToUpper(level[:1]), level[1:])
		}
		picture := figure.Draw(f.answers.Layout, figure.Options{Width: width, TextSize: textSize})
		files = append(files, pageFile{"gallery/" + name + ".svg", onPaper(picture)})
		fmt.Fprintf(&page, "\n### %s\n\n`%s` · %s · %s · %s\n\n![%s](gallery/%s.svg)\n\n%s.\n",
			q.Title, name, strings.Join(f.kinds, ", "), counted(f.unknowns, "unknown"), counted(choices(q), "choice")+" of numbers",
			picture.Title, name, capital(q.Idea))
	}
	return append(files, pageFile{"gallery.md", []byte(page.String())}), nil
}

// choices counts the sets of numbers that a question can have.
func choices(q *question.Question) int {
	n := 1
	for _, v := range q.Vary {
		n *= int(math.Round((v.To.SI()-v.From.SI())/v.Step.SI())) + 1
	}
	return n
}

func counted(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
