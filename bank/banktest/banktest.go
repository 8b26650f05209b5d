// Package banktest gives tests the questions of the bank. A question that can't be had ends the test.
package banktest

import (
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/bank"
	"steelyard/question"
)

// A File is a question of the bank, for one test, which may change it.
type File struct {
	Name     string // as bank.Names has it, "tea-tins.moments"
	Text     string // its notation
	Question *question.Question
}

// All returns all files, in the order of bank.Names.
func All(t testing.TB) []File {
	t.Helper()
	var list []File
	for _, name := range bank.Names() {
		list = append(list, File{name, Text(t, name), Parsed(t, name)})
	}
	return list
}

// Text is the notation of a question, named with or without ".moments".
func Text(t testing.TB, name string) string {
	t.Helper()
	text, err := bank.Files.ReadFile(strings.TrimSuffix(name, ".moments") + ".moments")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// Parsed is a question as it is written.
func Parsed(t testing.TB, name string) *question.Question {
	t.Helper()
	q, err := question.Parse(name, Text(t, name))
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// Solved is a question with its answers.
func Solved(t testing.TB, name string) *answer.Answers {
	t.Helper()
	a, err := answer.Solve(Parsed(t, name))
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return a
}
