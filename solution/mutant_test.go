package solution_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/question"
	"steelyard/solution"
)

// Questions with a line missing are mostly not what their writer meant: fewer supports, no loads, no
// equilibrium. Whatever of them can still be answered is worked out without a fault, and no false line is printed.
func TestQuestionsWithALineMissing(t *testing.T) {
	files, _ := filepath.Glob("../bank/*.moments")
	n := 0
	for _, f := range files {
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(src), "angle unknown") {
			continue // finding the angle again for each is slow
		}
		all := strings.Split(string(src), "\n")
		for i := range all {
			if word, _, _ := strings.Cut(all[i], " "); !slices.Contains([]string{"support", "cable", "load", "force", "couple", "given", "link", "strut"}, word) {
				continue
			}
			q, err := question.Parse("mutant.moments", without(all, i))
			if err != nil {
				continue
			}
			a, err := answer.Solve(q)
			if err != nil {
				continue
			}
			s, err := solution.Solve(a)
			if err != nil {
				t.Errorf("%s without %q: %v", f, all[i], err)
				continue
			}
			n++
			lines(s, func(where string, l formula.Node) {
				if err := formula.Check(l); err != nil {
					t.Errorf("%s without %q: %s: %v", f, all[i], where, err)
				}
			})
			for _, p := range s.Parts {
				if len(p.Routes) == 0 {
					t.Errorf("%s without %q: (%s) has no route", f, all[i], p.Name)
				}
				if _, err := solution.Hints(a, s, p.Name); err != nil {
					t.Errorf("%s without %q: hints: %v", f, all[i], err)
				}
			}
			for _, name := range []string{"left end", "middle", "1.00 m"} {
				if body, at, what, err := solution.Point(a, name); err == nil {
					if r, err := solution.About(a, body, at, what); err != nil || len(r.Steps) == 0 {
						t.Errorf("%s without %q: about %s: %v", f, all[i], name, err)
					}
				}
			}
		}
	}
	if n < 60 {
		t.Errorf("only %d such questions could be answered", n)
	}
}

// without is a question without line i, the wording, and the lines that speak of what line i names.
func without(all []string, i int) string {
	name, _, _ := strings.Cut(strings.Fields(all[i])[1], ":")
	var kept []string
	for j, line := range all {
		word, rest, _ := strings.Cut(line, " ")
		speaks := slices.Contains(strings.FieldsFunc(rest, func(r rune) bool { return strings.ContainsRune(" :.,\"", r) }), name)
		if j == i || word == "text" || word == "vary" || speaks && word != "body" {
			continue
		}
		kept = append(kept, strings.Split(line, "  \"")[0])
	}
	return strings.Join(kept, "\n")
}
