package solution_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"steelyard/solution"
)

func TestLook(t *testing.T) {
	want := os.Getenv("LOOK")
	if want == "" {
		t.Skip()
	}
	for _, q := range every(t) {
		if !strings.Contains(q.name, want) {
			continue
		}
		src, err := os.ReadFile("../examples/" + q.name)
		if err != nil {
			src, _ = os.ReadFile("testdata/" + q.name)
		}
		fmt.Println("=====", q.name)
		fmt.Println(string(src))
		fmt.Println(solution.Text(q.s))
	}
}
