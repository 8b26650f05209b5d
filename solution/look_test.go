package solution_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"steelyard/solution"
)

func TestLook(t *testing.T) {
	for _, q := range every(t) {
		if w := os.Getenv("LOOK"); w != "" && strings.Contains(q.name, w) {
			fmt.Println(solution.Text(q.s))
			for _, p := range q.s.Parts {
				for i := range p.Routes {
					if i > 0 && os.Getenv("ALL") != "" {
						fmt.Println("("+p.Name+")", solution.RouteText(&p.Routes[i]))
					}
				}
			}
		}
	}
}
