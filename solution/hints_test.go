package solution_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/question"
	"steelyard/solution"
)

// Arrangements that nobody has looked at have ladders too: seven rungs at least, each of one question, none asked twice.
func TestLaddersOfRandomArrangements(t *testing.T) {
	n := 0
	for seed := range uint64(400) {
		src := arrangement(rand.New(rand.NewPCG(seed, 5)))
		q, err := question.Parse("", src)
		if err != nil {
			continue
		}
		a, err := answer.Solve(q)
		if err != nil {
			continue
		}
		s, err := solution.Solve(a)
		if err != nil {
			t.Fatal(err)
		}
		for i := range s.Parts {
			for _, means := range []string{"", "moments about P", "moments about the left end of the plank", "vertical balance", "horizontal balance", "balance along the pole", "nonsense"} {
				hints, err := solution.HintsFrom(a, s, s.Parts[i].Name, means)
				if err != nil {
					t.Fatalf("%v\n%s", err, src)
				}
				n++
				seen := map[string]bool{}
				for j := range hints {
					words := solution.SayText(hints[j].Say)
					if strings.Count(words, "?") != 1 || !strings.HasSuffix(words, "?") || seen[words] || hints[j].Rung != j+1 {
						t.Errorf("(%s) begun with %q, rung %d: %q\n%s", s.Parts[i].Name, means, j+1, words, src)
					}
					seen[words] = true
				}
				if len(hints) < 7 {
					t.Errorf("(%s) begun with %q: %d rungs\n%s", s.Parts[i].Name, means, len(hints), src)
				}
			}
		}
		if t.Failed() {
			return
		}
	}
	t.Logf("%d ladders", n)
	if n < 3000 {
		t.Errorf("only %d ladders", n)
	}
}
