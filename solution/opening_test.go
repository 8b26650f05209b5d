package solution

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/bank/banktest"
	"steelyard/question"
	"steelyard/statics"
)

// banked works out the questions of the bank.
func banked(t *testing.T, use func(name, src string, a *answer.Answers, s *Solution)) {
	t.Helper()
	for _, f := range banktest.All(t) {
		a := banktest.Solved(t, f.Name)
		s, err := Solve(a)
		if err != nil {
			t.Fatal(err)
		}
		use(f.Name, f.Text, a, s)
	}
}

// arranged is a question's arrangement with one line changed ("" leaves it out), without its wording, its parts and
// what it tells of the forces; ok is false where it can't be solved so.
func arranged(src, begins, line string) (a *answer.Answers, ok bool) {
	var kept []string
	for _, l := range strings.Split(src, "\n") {
		word, _, _ := strings.Cut(l, " ")
		switch {
		case word == "text" || word == "vary" || word == "part" || word == "given" || word == "idea" || word == "traps":
		case !strings.HasPrefix(l, begins):
			kept = append(kept, l)
		case line != "":
			kept = append(kept, line)
		}
	}
	if strings.Contains(strings.Join(kept, "\n"), "unknown") {
		return nil, false // which could then be anything
	}
	q, err := question.Parse("", strings.Join(kept, "\n")+"\npart z: find whether it stays  marks 1\n")
	if err != nil {
		return nil, false
	}
	a, err = answer.Solve(q)
	return a, err == nil
}

// lineOf is the line of a question that brings in a thing.
func lineOf(src, name string) (string, string) {
	for _, l := range strings.Split(src, "\n") {
		word, rest, _ := strings.Cut(l, " ")
		switch word {
		case "support", "cable", "strut", "link", "load", "force", "couple", "body":
			if strings.HasPrefix(rest, name+":") {
				return word + " " + name + ":", l
			}
		}
	}
	return "", ""
}

// What would it do if that were not there? Over the whole bank the answer is never "nothing". It is held against the
// question written again without that line, and against the work that the given forces do in the motion, from their
// moments about the point that it turns about. Source: conditions of equilibrium, OpenStax University Physics vol. 1,
// §12.1; the principle of virtual work (from memory).
func TestWithoutItsSupportTheBodyReallyMoves(t *testing.T) {
	openings, rewritten := 0, 0
	banked(t, func(name, src string, a *answer.Answers, s *Solution) {
		for i := range s.Parts {
			l := newLadder(a, s, s.Parts[i].Name, "")
			l.climb()
			r := l.removed
			if r == nil {
				continue
			}
			openings++
			at := fmt.Sprintf("%s (%s), without %s", name, s.Parts[i].Name, r.name)
			worked(t, at, l, r)
			begins, line := lineOf(src, r.name)
			if r.smooth {
				line = regexp.MustCompile(`coefficient (unknown|[0-9.]+)|rough`).ReplaceAllString(line, "smooth")
			} else {
				line = ""
			}
			other, ok := arranged(src, begins, line)
			if !ok {
				continue
			}
			rewritten++
			if other.State != statics.NoEquilibrium {
				t.Errorf("%s: it stays where it is", at)
			}
		}
	})
	t.Logf("%d openings, %d of them by the question written again", openings, rewritten)
	if openings < 100 || rewritten < 80 {
		t.Errorf("only %d openings were tried, %d of them by the question written again", openings, rewritten)
	}
}

// worked holds a motion against the given forces: they drive it, and the question that is asked about it fits.
func worked(t *testing.T, at string, l *ladder, r *removal) {
	t.Helper()
	lay := l.a.Layout
	if len(lay.Bodies) > 1 {
		return // the forces between the bodies do work on each
	}
	work := 0.0
	for _, f := range lay.Given(0) {
		if d := lay.LoadNamed(r.name); d != nil && f.At == d.At && f.Force == d.Force && f.Couple == d.Couple {
			continue // taken away
		}
		if !r.move.Turns {
			work += f.Force.X*r.move.Heads.X + f.Force.Y*r.move.Heads.Y
			continue
		}
		turn := 1.0
		if r.move.Sense == "clockwise" {
			turn = -1
		}
		work += turn * (statics.Moment(r.move.Pivot, f.At, f.Force) + f.Couple)
	}
	if work <= 0 {
		t.Errorf("%s: it would go %v, against the forces on it (%g)", at, r.move, work)
	}
	asked := ""
	for i := range l.hints {
		asked += SayText(l.hints[i].Say) + "\n"
	}
	if about := strings.Contains(asked, "About which point would it turn?"); about != (r.move.Turns && r.move.About != "") {
		t.Errorf("%s: asked about a point: %v, but %v", at, about, r.move)
	}
	if p := lay.SupportNamed(r.move.About); r.move.About != "" && (p == nil || p.Name == r.name && !r.smooth) {
		t.Errorf("%s: it would turn about %q, which isn't there", at, r.move.About)
	}
}

// Beyond a limit it really moves, and just before it it does not, over the whole bank.
func TestBeyondItsLimitTheBodyReallyMoves(t *testing.T) {
	n := 0
	amount := regexp.MustCompile(`(weight|mass|coefficient|angle|slope|:) (unknown|rough|[0-9.]+ [a-zA-Z]+|[0-9.]+)`)
	place := regexp.MustCompile(`at ([0-9.]+ m|right end|left end|unknown)`)
	banked(t, func(name, src string, a *answer.Answers, s *Solution) {
		for i := range s.Parts {
			l := newLadder(a, s, s.Parts[i].Name, "")
			l.climb()
			said := SayText(l.hints[0].Say)
			p, r := l.part, l.result
			if l.beyond() == "" || p.Ask == question.AskRange {
				continue
			}
			begins, line := lineOf(src, p.Thing)
			out := 1.0 // the way that is beyond
			if p.Ask == question.AskLeast || p.Ask == question.AskLeastCoefficient || p.Towards == question.ToLeft {
				out = -1
			}
			write := func(v float64) string {
				unit := map[string]string{"N": " N", "kg": " kg", "rad": " deg", "m": " m", "1": "", "": "", "N m": " N m"}[r.Unit]
				if r.Unit == "rad" {
					v *= 180 / math.Pi
				}
				if p.Ask == question.AskFurthest {
					return place.ReplaceAllString(line, fmt.Sprintf("at %.4f m", v))
				}
				if p.Ask == question.AskLeastCoefficient {
					return strings.Replace(line, "rough", fmt.Sprintf("coefficient %.4f", v), 1)
				}
				done := false
				return amount.ReplaceAllStringFunc(line, func(was string) string {
					word, _, _ := strings.Cut(was, " ")
					if done || r.Unit == "rad" && word != "angle" && word != "slope" {
						return was
					}
					done = true
					return fmt.Sprintf("%s %.5f%s", word, v, unit)
				})
			}
			inside, ok1 := arranged(src, begins, write(r.Value*(1-0.01*out)))
			outside, ok2 := arranged(src, begins, write(r.Value*(1+0.01*out)))
			if !ok1 || !ok2 {
				t.Errorf("%s (%s): %q can't be tried: %s", name, p.Name, said, write(r.Value))
				continue
			}
			n++
			if inside.State == statics.NoEquilibrium || outside.State != statics.NoEquilibrium {
				t.Errorf("%s (%s): %q: before the limit %v, beyond it %v", name, p.Name, said, inside.State, outside.State)
			}
		}
	})
	t.Logf("%d limits", n)
	if n < 10 {
		t.Errorf("only %d limits were tried", n)
	}
}

// Where a support could be taken away and nothing would move, something else is asked.
func TestARedundantSupportIsNotTheOpening(t *testing.T) {
	src := `question "Bench"

body bench: uniform, length 4.00 m, weight 400 N
support P: rest, on bench at left end
support Q: rest, on bench at 1.50 m
support R: force meter, on bench at right end, reading 100 N

part a: find force Q marks 3
`
	q, err := question.Parse("", src)
	if err != nil {
		t.Fatal(err)
	}
	a, err := answer.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Solve(a)
	if err != nil {
		t.Fatal(err)
	}
	l := newLadder(a, s, "a", "")
	if r := l.without("Q", false); r != nil {
		t.Fatalf("without Q the bench would %v, but P and R hold it", r.move)
	}
	l.climb()
	if said := SayText(l.hints[0].Say); strings.Contains(said, "Q were not there") || !strings.HasSuffix(said, "?") {
		t.Errorf("it opens with %q", said)
	}
	if l.removed == nil || l.removed.name != "R" {
		t.Errorf("it takes %v away", l.removed)
	}
}
