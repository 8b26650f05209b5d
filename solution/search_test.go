package solution_test

import (
	"strings"
	"testing"

	"steelyard/question"
	"steelyard/solution"
)

// The pivot that is chosen first lies on the line of action of every force that is not wanted; so its equation
// holds one unknown.
func TestChosenPivotKillsWhatIsNotWanted(t *testing.T) {
	for _, c := range []struct{ name, src, part, pivot, gone string }{
		{"two rests", `body plank: uniform, length 4.80 m, weight 310 N
support P: rest, on plank at 0.60 m
support Q: rest, on plank at 4.20 m
load K: weight 540 N, on plank at 1.50 m
part a: find force P marks 3`, "a", "Q", "R_Q"},
		{"hinge and cable", `body arm: uniform, length 1.50 m, weight 40 N
support H: hinge, on arm at left end
cable C: on arm at right end, pulls 35 deg above left
part a: find tension C marks 3`, "a", "H", "X_H Y_H"},
		{"ladder", `body ladder: uniform, length 5.00 m, weight 180 N, angle 65 deg
support F: floor, on ladder at foot, rough
support W: wall, on ladder at top, smooth
part a: find force W marks 4`, "a", "F", "N_F F_F"},
		{"about to tip", `body plank: uniform, length 4.00 m, weight 260 N
support P: rest, on plank at 0.60 m
support Q: rest, on plank at 3.00 m
load K: weight 650 N, on plank at 1.00 m
part a: find furthest K towards right marks 4`, "a", "Q", "R_Q"},
	} {
		q := solve(t, c.name, "question \"Pivot\"\n"+c.src+"\n")
		r := q.s.Parts[0].Routes[0]
		e := r.Working.Moves[0].Equation
		var gone []string
		for _, f := range e.Passing {
			if isFound(f) {
				gone = append(gone, f.Letter+"_"+f.Sub)
			}
		}
		if e.Kind != solution.Moments || e.Pivot.Name != c.pivot || strings.Join(gone, " ") != c.gone {
			t.Errorf("%s: moments about %s, where %v have no moment; want about %s, %s", c.name, e.Pivot.Name, gone, c.pivot, c.gone)
		}
	}
}

// isFound reports whether a force is one that has to be found.
func isFound(f *solution.Force) bool { return f.Size >= 0 }

// A beam has its natural routes: about each support and then the balance, about both supports, and a frank
// account of a pivot that keeps both.
func TestBeamHasItsRoutes(t *testing.T) {
	q := solve(t, "beam", `question "Beam"
body plank: uniform, length 4.80 m, weight 310 N
support P: rest, on plank at 0.60 m
support Q: rest, on plank at 4.20 m
load K: weight 540 N, on plank at 1.50 m
part a: find force P marks 3
part b: find force Q marks 3
`)
	for part, want := range [][]string{
		{"moments about Q", "moments about P, then the balance of forces vertically", "poor choice"},
		{"the balance of forces vertically", "moments about P"},
	} {
		var names []string
		for _, r := range q.s.Parts[part].Routes {
			names = append(names, r.Name)
		}
		for _, w := range want {
			if !strings.Contains(strings.Join(names, "\n"), w) {
				t.Errorf("part %d has no route %q, only\n%s", part, w, strings.Join(names, "\n"))
			}
		}
	}
	if r := q.s.Parts[0].Routes; r[len(r)-1].Poor == "" {
		t.Error("no route says why its pivot is poor")
	}
}

// Every kind of thing that a part can ask for is worked out somewhere in the questions of these tests.
func TestEveryAskIsWorkedOut(t *testing.T) {
	seen := map[question.Ask]bool{}
	for _, q := range every(t) {
		for i, p := range q.s.Parts {
			if len(p.Routes) > 0 && len(p.Routes[0].Steps) > 0 {
				seen[q.a.Results[i].Part.Ask] = true
			}
		}
	}
	for ask := question.AskForce; ask <= question.AskWhether; ask++ {
		if !seen[ask] {
			t.Errorf("no question asks for kind %d", ask)
		}
	}
}
