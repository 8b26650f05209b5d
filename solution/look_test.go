package solution_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/question"
	"steelyard/solution"
)

func TestLook(t *testing.T) {
	want := os.Getenv("LOOK")
	files, _ := filepath.Glob("../examples/*.moments")
	for _, f := range files {
		if want == "" || !strings.Contains(f, want) {
			continue
		}
		src, _ := os.ReadFile(f)
		q, err := question.Parse(filepath.Base(f), string(src))
		if err != nil {
			fmt.Println(f, err)
			continue
		}
		a, err := answer.Solve(q)
		if err != nil {
			fmt.Println(f, err)
			continue
		}
		s, err := solution.Solve(a)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Println("=====", f)
		fmt.Println(string(src))
		fmt.Println(solution.Text(s))
	}
}
