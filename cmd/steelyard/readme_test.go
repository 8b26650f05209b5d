package main

import (
	"os"
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
