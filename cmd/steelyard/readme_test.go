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
