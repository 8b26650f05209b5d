package hint

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"steelyard/formula"
	"steelyard/mark"
	"steelyard/question"
	"steelyard/slip"
	"steelyard/solution"
)

// typed is a line as a pupil types it.
func typed(n formula.Node) string {
	return strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(formula.Text(n))
}

// says is what a ladder says in all.
func says(ladder []solution.Hint) string {
	all := ""
	for i := range ladder {
		all += text(&ladder[i]) + "\n"
	}
	return all
}

// without the body that several bodies make it name.
func short(means string) string { s, _, _ := strings.Cut(means, " for the "); return s }

// leavesOf are the numbers, symbols and functions of a formula in order, without its gap.
func leavesOf(n formula.Node) (list []string) {
	switch n.Op {
	case formula.Num, formula.Sym:
		return []string{formula.Text(n)}
	case formula.Func:
		list = []string{n.Text}
	}
	for _, a := range n.Args {
		list = append(list, leavesOf(a)...)
	}
	return list
}

// fits reports whether all that stands in the line with a gap stands in one line of the route, whichever its order.
func fits(gap formula.Node, r *solution.Route) bool {
	for i := range r.Steps {
		for _, l := range r.Steps[i].Lines {
			have, all := leavesOf(l.Formula), true
			for _, x := range leavesOf(gap) {
				at := slices.Index(have, x)
				if all = at >= 0; !all {
					break
				}
				have = slices.Delete(have, at, at+1)
			}
			if all {
				return true
			}
		}
	}
	return false
}

// Over the bank, each route of a part that a pupil begins (moments about the best point or about another one; a balance
// first, also along a slope; forces resolved) gets the ladder of that very route, up to its own line with a gap.
func TestALadderFollowsTheRouteThatWasBegun(t *testing.T) {
	moments, balances, other := 0, 0, 0
	for name, k := range keys(t) {
		for i := range k.Solution.Parts {
			part := &k.Solution.Parts[i]
			for j := range part.Routes {
				r := &part.Routes[j]
				line := written(r)
				if line == "" || r.Working == nil || r.Poor != "" {
					continue
				}
				m := k.Mark([]mark.Hand{{Part: part.Name, Working: line}})[0]
				said := &m.Lines[len(m.Lines)-1]
				about, turns := strings.CutPrefix(said.Means, "moments about ")
				e := r.Working.Moves[0].Equation
				switch {
				case said.Verdict != mark.Right, turns != (e.Kind == solution.Moments), turns && short(about) != e.Pivot.Name,
					!turns && (len(e.Direction.Name) < 8 || !strings.HasPrefix(said.Means, strings.ToLower(e.Direction.Name[:8]))) && !strings.HasPrefix(said.Means, "balance a"):
					continue // the line alone does not tell what it is: several points may do
				}
				ladder, err := Ladder(k, part.Name, &m)
				if err != nil {
					t.Fatal(err)
				}
				at := fmt.Sprintf("%s (%s), %s", name, part.Name, r.Name)
				for _, f := range sound(ladder) {
					t.Errorf("%s: %s", at, f)
				}
				all := says(ladder)
				want := "You have begun with the " + short(said.Means) + "."
				if turns {
					want = "You have begun with moments about " + short(about) + "."
				}
				last := &ladder[len(ladder)-1]
				switch {
				case !strings.Contains(all, want):
					t.Errorf("%s: nothing says %q:\n%s\n%s", at, want, line, all)
				case k.Question.Parts[i].Ask == question.AskForceOn: // leads to the other force of the pair, in words
				case last.Line == nil || !fits(last.Line.Formula, r):
					t.Errorf("%s: it leads to another line:\n%s\n%s", at, line, all)
				case turns && j == 0:
					moments++
				case turns:
					other++
				default:
					balances++
				}
			}
		}
	}
	t.Logf("%d ladders about the first point, %d about another, %d of a balance", moments, other, balances)
	if moments < 40 || other < 20 || balances < 40 {
		t.Errorf("too few: %d about the first point, %d about another, %d of a balance", moments, other, balances)
	}
}

// Over the bank, a line with a slip of the catalogue brings that slip's question first, then the ladder of the point
// that the line was meant about.
func TestALineWithASlipIsAskedAboutFirst(t *testing.T) {
	n, questions, kinds := 0, map[string]bool{}, map[string]bool{}
	for name, k := range keys(t) {
		plan, err := slip.NewPlan(k.Answers, k.Solution)
		if err != nil {
			t.Fatal(err)
		}
		outcomes, err := plan.Outcomes()
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range outcomes {
			for _, l := range o.Lines {
				if l.Changed == nil || l.Changed.Kind != solution.Moments {
					continue
				}
				about := l.Changed.Pivot.Name
				m := k.Mark([]mark.Hand{{Part: l.Part, Working: "Moments about " + about + ":\n" + typed(l.Formula)}})[0]
				said := &m.Lines[len(m.Lines)-1]
				s := slip.Named(said.Slip)
				if said.Verdict != mark.Wrong || s == nil || s.Name != o.Cases[0].Slip.Name || asking(s) == "" || !strings.HasPrefix(said.Means, "moments about "+about) {
					continue
				}
				ladder, err := Ladder(k, l.Part, &m)
				if err != nil {
					t.Fatal(err)
				}
				at := fmt.Sprintf("%s (%s), %s: %s", name, l.Part, o.Name(), typed(l.Formula))
				if first := solution.SayText(ladder[0].Say); first != s.Ask || ladder[0].Rung != 1 {
					t.Errorf("%s: begins with %q, not with %q", at, first, s.Ask)
				}
				plain, err := Working(k, l.Part, "Moments about "+about)
				if err != nil {
					t.Fatal(err)
				}
				if all := says(ladder[1:]); len(plain) != len(ladder)-1 || !strings.Contains(all, "begun with moments about "+about) {
					t.Errorf("%s: it does not go on about %s:\n%s", at, about, all)
				}
				n++
				questions[name], kinds[s.Name] = true, true
			}
		}
	}
	t.Logf("%d lines with slips, of %d kinds, in %d questions", n, len(kinds), len(questions))
	if n < 100 || len(kinds) < 6 || len(questions) < 30 {
		t.Errorf("too few: %d lines with slips, of %d kinds, in %d questions", n, len(kinds), len(questions))
	}
}
