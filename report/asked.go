package report

import (
	"fmt"
	"strings"

	"steelyard/class"
	"steelyard/homework"
)

// Asking lists what waits for the teacher, with the reason, part by part; pupils with the same reason in a part stand
// together.
func Asking(results []class.Result) []string {
	var order []string
	who := map[string][]string{}
	for k := range parts(results) {
		for i := range results {
			if p := &results[i].Parts[k]; class.Asked(p) {
				what := fmt.Sprintf("part %s (%d of %d so far): %s", p.Part, p.Marks, p.Of, homework.WhyAsked(p))
				if who[what] == nil {
					order = append(order, what)
				}
				who[what] = append(who[what], results[i].Name)
			}
		}
	}
	out := make([]string, len(order))
	for i, what := range order {
		out[i] = strings.Join(who[what], ", ") + ", " + what
	}
	return out
}

// parts is how many parts all of the results have.
func parts(results []class.Result) int {
	n := 0
	for i := range results {
		if k := len(results[i].Parts); i == 0 || k < n {
			n = k
		}
	}
	return n
}

// Decided lists a teacher's decisions.
func Decided(results []class.Result) []string {
	var out []string
	for i := range results {
		for k := range results[i].Parts {
			if p := &results[i].Parts[k]; p.Override != nil {
				out = append(out, fmt.Sprintf("%s, part %s: %d of %d (the marker gave %d): %s", results[i].Name, p.Part, p.Override.Mark, p.Of, p.Marks, p.Override.Reason))
			}
		}
	}
	return out
}
