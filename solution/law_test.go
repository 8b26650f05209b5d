package solution_test

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"steelyard/formula"
	"steelyard/question"
	"steelyard/solution"
)

// everything is all that a solution says, its routes' names and their steps in plain text.
func everything(s *solution.Solution) string {
	var b strings.Builder
	b.WriteString(solution.Text(s))
	for i := range s.Parts {
		for n := range s.Parts[i].Routes {
			b.WriteString(solution.PartText(&s.Parts[i], n))
		}
	}
	return b.String()
}

// What nothing that is printed may hold: numbers that are none, two signs in a row, names that are empty.
var never = map[string]*regexp.Regexp{
	"a number that is none":  regexp.MustCompile(`NaN|\bInf\b|∞|%!`),
	"two signs in a row":     regexp.MustCompile(`[-−+] ?[-−]\d|-- |−−|[-−+] \+|\+ −`),
	"an ASCII minus":         regexp.MustCompile(`(^|[ (=×/])-\d`),
	"an empty name":          regexp.MustCompile(`\b(about|at|of|on|to|by|from|than|and) [.,;:)]|\(\)|"":?|  +[.,;]`),
	"a letter with itself":   regexp.MustCompile(`\b([A-Z])_([A-Z])\b`), // looked at below
	"a word twice":           regexp.MustCompile(`\b(by|of|from|about|on) (at|by|of|on|about) (the|a)\b|\b(the the|by by|by from|of of|at at)\b`),
	"a force that is denied": regexp.MustCompile(`exerts no (?:horizontal|vertical) force\.\n +[^0\n]*[1-9]`),
}

func TestNothingStrangeIsPrinted(t *testing.T) {
	for _, q := range every(t) {
		text := strings.Join(strings.Fields(everything(q.s)), " ")
		raw := everything(q.s)
		for what, re := range never {
			for _, in := range []string{text, raw} {
				for _, at := range re.FindAllStringSubmatchIndex(in, 3) {
					found := in[at[0]:at[1]]
					if what == "a letter with itself" && (in[at[2]:at[3]] != in[at[4]:at[5]] || !strings.Contains("TS", in[at[2]:at[3]])) {
						continue
					}
					t.Errorf("%s: %s: %q in %q", q.name, what, found, in[max(0, at[0]-60):min(len(in), at[1]+60)])
				}
			}
		}
	}
}

// A line of an equation's working says something that the line before it does not.
func TestNoLineIsWrittenTwice(t *testing.T) {
	for _, q := range every(t) {
		for _, p := range q.s.Parts {
			for _, r := range p.Routes {
				before := ""
				for _, s := range r.Steps {
					if s.Kind != solution.Writing {
						continue
					}
					for _, l := range s.Lines {
						now := formula.Text(l.Formula) + l.Note
						if now == before {
							t.Errorf("%s (%s), %s: %q twice", q.name, p.Name, r.Name, now)
						}
						before = now
					}
				}
			}
		}
	}
}

// A route's name goes with "By": it is a noun or begins with what one does.
func TestRoutesAreNamedInEnglish(t *testing.T) {
	begins := regexp.MustCompile(`^(moments about|the |two equations|limiting friction|force times|sum of|what was found|weight divided|its |all conditions|[a-z]+ing )`)
	for _, q := range every(t) {
		for _, p := range q.s.Parts {
			for _, r := range p.Routes {
				if !begins.MatchString(r.Name) {
					t.Errorf("%s (%s): no English: By %s.", q.name, p.Name, r.Name)
				}
			}
		}
	}
}

// A sentence that says that there is no such force stands beside a value of zero only.
func TestNoForceMeansZero(t *testing.T) {
	denies := regexp.MustCompile(`exerts no |no friction there|so it has no moment there\.$`)
	for _, q := range every(t) {
		for i, p := range q.s.Parts {
			for _, r := range p.Routes {
				if r.Working == nil && denies.MatchString(solution.SayText(r.Steps[len(r.Steps)-1].Say)) && math.Abs(q.a.Results[i].Value) > 1e-9 {
					t.Errorf("%s (%s): %q beside %s", q.name, p.Name, solution.SayText(r.Steps[0].Say), q.a.Results[i].Shown)
				}
			}
		}
	}
}

// What a route calls by name is there: the bodies, supports and loads of the question.
func TestRoutesNameRealThings(t *testing.T) {
	symbol := regexp.MustCompile(`\b[A-Zμθxydm]_([A-Za-z0-9-]+)`)
	for _, q := range every(t) {
		names := realNames(q)
		for _, at := range symbol.FindAllStringSubmatch(everything(q.s), -1) {
			if !names[at[1]] {
				t.Errorf("%s: %s names nothing in the question", q.name, at[0])
			}
		}
		for _, p := range q.s.Parts {
			for _, r := range p.Routes {
				for _, st := range r.Steps {
					if v := st.View; v != nil && v.Body != "" && q.a.Layout.BodyNamed(v.Body) == nil {
						t.Errorf("%s (%s): a picture of %q, which is no body", q.name, p.Name, v.Body)
					}
				}
			}
		}
	}
}

func realNames(q solved) map[string]bool {
	names := map[string]bool{}
	for _, b := range q.a.Layout.Bodies {
		names[b.Name] = true
		for _, p := range b.Pieces {
			names[p.Name] = true
		}
	}
	for _, s := range q.a.Layout.Supports {
		names[s.Name] = true
	}
	for _, l := range q.a.Layout.Loads {
		names[l.Name] = true
	}
	return names
}

// Where a line is a limit's, "rounded" stands beside it only if something was rounded.
func TestRoundedOnlyIfRounded(t *testing.T) {
	for _, q := range every(t) {
		for _, p := range q.s.Parts {
			for _, r := range p.Routes {
				for _, st := range r.Steps {
					for _, l := range st.Lines {
						last := l.Formula
						if n := len(last.Args); last.Op == formula.Equals && n > 0 {
							last = last.Args[n-1]
						}
						if !strings.Contains(l.Note, "to be on the safe side: ") || !last.Exact {
							continue
						}
						if number := regexp.MustCompile(`[\d.]+`).FindString(l.Note); number != "" && formula.Rounded(number, last.Unit).Value == last.Value {
							t.Errorf("%s (%s): nothing was rounded: %s (%s)", q.name, p.Name, formula.Text(last), l.Note)
						}
					}
				}
			}
		}
	}
}

// Every body that a solution speaks of as a letter is called a body: a support may have the same letter.
func TestBodiesWithoutALabel(t *testing.T) {
	q := solve(t, "b.moments", `question "b"
body b: uniform, length 2.00 m, weight 100 N
support B: rest, on b at left end
support C: rest, on b at right end
part a: find force B marks 3
`)
	text := everything(q.s)
	if !strings.Contains(text, "The body b does not turn") {
		t.Errorf("the body is not called a body in\n%s", text)
	}
	if q.a.Results[0].Part.Ask != question.AskForce {
		t.Error("the part asks for something else")
	}
}

// No part takes over a value that an earlier part found by way of what is asked now.
func TestNoCircles(t *testing.T) {
	q := solve(t, "trestle.moments", `question "Trestle"
body a: uniform, length 2.00 m, weight 80 N, angle 60 deg, "left leg"
body b: uniform, length 2.00 m, weight 120 N, angle 120 deg, placed at (2.00 m, 0 m), "right leg"
support J: hinge, on b at right end, by a at right end
support F: hinge, on a at left end
support G: hinge, on b at left end
part a: find horizontal force F marks 3
part b: find horizontal force G marks 1
part c: find vertical force F marks 2
`)
	if uses := q.s.Parts[1].Routes[0].Uses; !slices.Equal(uses, []string{"a"}) {
		t.Errorf("part (b) uses %v, want (a)", uses)
	}
	if uses := q.s.Parts[2].Routes[0].Uses; len(uses) != 0 {
		t.Errorf("part (c) uses %v, but (a) was found by what it asks for", uses)
	}
}

// A crossing is named in full before it is called "that crossing", in every route and in the check.
func TestCrossingsAreNamedFirst(t *testing.T) {
	named := func(where string, steps []solution.Step) {
		var b strings.Builder
		for _, st := range steps {
			b.WriteString(solution.SayText(st.Say))
		}
		first, full := strings.Index(b.String(), "that crossing"), strings.Index(b.String(), "the point where the lines of action")
		if first >= 0 && (full < 0 || first < full) {
			t.Errorf("%s: which crossing?", where)
		}
	}
	for _, q := range every(t) {
		named(q.name+" check", q.s.Check)
		for _, p := range q.s.Parts {
			for _, r := range p.Routes {
				named(q.name+" ("+p.Name+") "+r.Name, r.Steps)
			}
		}
		for _, s := range q.a.Layout.Supports {
			body, at, name, err := solution.Point(q.a, s.Name)
			if err != nil || math.IsNaN(at.X) {
				continue
			}
			if r, err := solution.About(q.a, body, at, name); err == nil {
				named(q.name+" about "+s.Name, r.Steps)
			}
		}
	}
}

// The picture and the forces of a greatest or least angle are those at that angle.
func TestAngleLimitsAreAtTheLimit(t *testing.T) {
	for _, q := range every(t) {
		for i := range q.a.Results {
			r := &q.a.Results[i]
			if !r.Part.OfAngle || math.IsNaN(r.Value) || r.Layout.BodyNamed(r.Part.Thing) == nil {
				continue
			}
			axis := r.Layout.BodyNamed(r.Part.Thing).Axis
			if got := math.Atan2(axis.Y, axis.X); math.Abs(got-r.Value) > 1e-9 {
				t.Errorf("%s (%s): the arrangement is at %.4g rad, the limit at %.4g rad", q.name, r.Part.Name, got, r.Value)
			}
		}
	}
}

// A pupil who keys in a printed line gets the printed result, to the last digit but one.
func TestACalculatorAgrees(t *testing.T) {
	for _, q := range every(t) {
		lines(q.s, func(where string, n formula.Node) {
			if n.Op != formula.Equals || n.Text != "=" {
				return
			}
			for i := 1; i < len(n.Args); i++ {
				last := n.Args[i]
				keyed := formula.Eval(n.Args[i-1])
				if last.Op != formula.Num || math.IsNaN(keyed) || holdsSymbol(n.Args[i-1]) || math.Abs(last.Value) < 1e-6 {
					continue
				}
				unit := lastDigit(last)
				if len(strings.TrimLeft(strings.ReplaceAll(last.Text, ".", ""), "−0")) > 3 {
					unit *= 10 // a number on its way has a figure more than answers have
				}
				if math.Abs(keyed-last.Value) > 1.01*unit {
					t.Errorf("%s %s: keyed in, %s gives %.6g", q.name, where, formula.Text(n), keyed)
				}
			}
		})
	}
}

func holdsSymbol(n formula.Node) bool {
	return n.Op == formula.Sym || slices.ContainsFunc(n.Args, holdsSymbol)
}

// lastDigit is what one more in the last digit of a printed number is worth, in SI units.
func lastDigit(n formula.Node) float64 {
	digits := strings.TrimLeft(n.Text, "−")
	_, after, _ := strings.Cut(digits, ".")
	power := -len(after)
	if after == "" { // the zeros that a whole number ends in may not be meant
		power = len(digits) - len(strings.TrimRight(digits, "0"))
	}
	return formula.Rounded("1", n.Unit).Value * math.Pow10(power)
}
