package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// The question that the README shows is the one that its pictures are made from.
func TestREADMEShowsTheQuestionOfItsPictures(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	q, err := os.ReadFile("../../docs/pictures/bridge.moments")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(readme), "```\n"+string(q)+"```\n") {
		t.Error("the README's question is not docs/pictures/bridge.moments; change one, then run make pictures")
	}
}

// Every link of the README and the docs to a file of ours leads to one.
func TestLinksLeadSomewhere(t *testing.T) {
	link := regexp.MustCompile(`\]\(([^)#]+)`)
	pages := []string{"../../README.md"}
	for _, pattern := range []string{"../../docs/*.md", "../../docs/decisions/*.md"} {
		found, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		pages = append(pages, found...)
	}
	links := 0
	for _, page := range pages {
		text, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range link.FindAllStringSubmatch(string(text), -1) {
			if strings.Contains(m[1], "://") {
				continue
			}
			links++
			if _, err := os.Stat(filepath.Join(filepath.Dir(page), m[1])); err != nil {
				t.Errorf("%s: the link to %s leads nowhere", page, m[1])
			}
		}
	}
	if links < 20 {
		t.Errorf("only %d links were looked at", links)
	}
}

// The README's figures of how well chosen numbers tell slips apart are those of the last count.
func TestREADMEHasTheFiguresOfTheLastCount(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	count, err := os.ReadFile("../../docs/separation.md")
	if err != nil {
		t.Fatal(err)
	}
	// The last row: … | clear sheets, random | clear sheets, chosen | whole sheets, random | whole sheets, chosen |
	row := regexp.MustCompile(`\| \*\*all\*\* .*\| (\d+) % \| (\d+) % \| \d+ % \| \d+ % \|`).FindStringSubmatch(string(count))
	if row == nil {
		t.Fatal("docs/separation.md has no row for all families")
	}
	if want := row[2] + " sheets in 100, against " + row[1] + " with ordinary random numbers"; !strings.Contains(string(readme), want) {
		t.Errorf("docs/separation.md has been counted anew; the README should say: every slip … on %s", want)
	}
}
