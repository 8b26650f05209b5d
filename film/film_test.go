package film_test

import (
	"testing"

	"steelyard/answer"
	"steelyard/bank"
	"steelyard/film"
	"steelyard/question"
	"steelyard/show"
	"steelyard/solution"
)

// talk makes the talk of a question of the bank.
func talk(t testing.TB, name string) *show.Talk {
	t.Helper()
	src, err := bank.Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	q, err := question.Parse(name, string(src))
	if err != nil {
		t.Fatal(err)
	}
	a, err := answer.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	s, err := solution.Solve(a)
	if err != nil {
		t.Fatal(err)
	}
	k, err := show.Make(a, s)
	if err != nil {
		t.Fatal(err)
	}
	return k
}

func of(t testing.TB, name string) *film.Film { return film.New(talk(t, name), film.Pace) }
