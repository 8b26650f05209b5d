package solution_test

import (
	"encoding/xml"
	"flag"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/question"
	"steelyard/solution"
)

var update = flag.Bool("update", false, "rewrite the golden files")

type solved struct {
	name string
	a    *answer.Answers
	s    *solution.Solution
}

// solve works a question out.
func solve(t testing.TB, name, src string) solved {
	t.Helper()
	q, err := question.Parse(name, src)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	a, err := answer.Solve(q)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	s, err := solution.Solve(a)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return solved{name, a, s}
}

var all []solved

// every works out all example questions, and those in testdata, once.
func every(t testing.TB) []solved {
	t.Helper()
	if all != nil {
		return all
	}
	var files []string
	for _, dir := range []string{"../bank", "testdata", "testdata/odd", "../answer/testdata/published", "../question/testdata/good"} {
		list, _ := filepath.Glob(dir + "/*.moments")
		files = append(files, list...)
	}
	var list []solved
	for _, f := range files {
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if q, err := question.Parse(f, string(src)); err == nil && strings.Contains(f, "good") {
			if _, err := answer.Solve(q); err != nil {
				continue // good notation, of what no forces can hold
			}
		}
		list = append(list, solve(t, filepath.Base(f), string(src)))
	}
	if len(list) == 0 {
		t.Fatal("no question files were found")
	}
	all = list
	return list
}

// lines calls f for each displayed line of a solution, and for each formula in a sentence.
func lines(s *solution.Solution, f func(where string, n formula.Node)) {
	steps := func(where string, list []solution.Step) {
		for _, st := range list {
			for _, p := range st.Say {
				if p.Math != nil {
					f(where, *p.Math)
				}
			}
			for _, l := range st.Lines {
				f(where, l.Formula)
			}
		}
	}
	for _, p := range s.Parts {
		for _, r := range p.Routes {
			steps("("+p.Name+") "+r.Name, r.Steps)
		}
	}
	steps("check", s.Check)
}

// Every printed line is true when its numbers are put back, at the digits printed.
func TestEveryLineIsTrue(t *testing.T) {
	for _, q := range every(t) {
		lines(q.s, func(where string, n formula.Node) {
			if err := formula.Check(n); err != nil {
				t.Errorf("%s %s: %v", q.name, where, err)
			}
		})
	}
}

func TestWordsHoldNoSymbol(t *testing.T) {
	numbers := regexp.MustCompile(`\d+(\.\d+)?`)
	for _, q := range every(t) {
		lines(q.s, func(where string, n formula.Node) {
			words := formula.Words(n)
			if n.Op != formula.Word && strings.ContainsAny(words, "_=×−+/()√²°⁻≤≥≠μθ") {
				t.Errorf("%s %s: a symbol is left in %q", q.name, where, words)
			}
			text := strings.ReplaceAll(strings.ReplaceAll(formula.Text(n), "⁻¹", ""), "\u202f", "")
			if got, want := numbers.FindAllString(words, -1), numbers.FindAllString(text, -1); n.Op != formula.Word && !slices.Equal(got, want) {
				t.Errorf("%s %s: numbers said %v, printed %v in %q", q.name, where, got, want, text)
			}
		})
		for _, p := range q.s.Parts {
			for _, r := range p.Routes {
				for _, st := range r.Steps {
					if words := solution.Spoken(st.Say); strings.ContainsAny(words, "_=×−√²°⁻≤≥≠μθ") {
						t.Errorf("%s (%s): a symbol is left in %q", q.name, p.Name, words)
					}
				}
			}
		}
	}
}

// The marks on the lines of a part's first route add up to the marks of the part.
func TestMarksAddUp(t *testing.T) {
	for _, q := range every(t) {
		for i, p := range q.s.Parts {
			if p.Marks != q.a.Results[i].Part.Marks {
				t.Errorf("%s (%s): %d marks, want %d", q.name, p.Name, p.Marks, q.a.Results[i].Part.Marks)
			}
			for _, r := range p.Routes {
				got, method := 0, false
				for _, st := range r.Steps {
					for _, l := range st.Lines {
						got += len(l.Marks)
						for _, m := range l.Marks {
							method = method || m.Code == "M1"
							if m.Code == "A1" && !method {
								t.Errorf("%s (%s) %s: an A1 stands before any M1", q.name, p.Name, r.Name)
							}
							if m.For == "" || m.Guidance == "" {
								t.Errorf("%s (%s) %s: a mark without a reason: %+v", q.name, p.Name, r.Name, m)
							}
						}
					}
				}
				if r.Poor == "" && got != p.Marks {
					t.Errorf("%s (%s) %s: marks add up to %d, want %d", q.name, p.Name, r.Name, got, p.Marks)
				}
			}
		}
	}
}

// Every part is worked out by equations or argued; none is left to all conditions solved together.
func TestEveryPartIsReasoned(t *testing.T) {
	for _, q := range every(t) {
		for _, p := range q.s.Parts {
			if len(p.Routes) == 0 || strings.HasPrefix(p.Routes[0].Name, "all conditions") {
				t.Errorf("%s (%s) %s: no route was found", q.name, p.Name, p.Asked)
			}
		}
	}
}

// Every route's chain of equations gives what statics gives.
func TestRoutesAgreeWithStatics(t *testing.T) {
	n := 0
	for _, q := range every(t) {
		for _, p := range q.s.Parts {
			for _, r := range p.Routes {
				n += agree(t, q.name+" ("+p.Name+") "+r.Name, r)
			}
		}
	}
	if n < 100 {
		t.Errorf("only %d equations were compared", n)
	}
}

func agree(t *testing.T, where string, r solution.Route) int {
	t.Helper()
	if r.Working == nil {
		return 0
	}
	values := r.Working.Values(nil)
	us := r.Working.Unknowns()
	scale := 0.0
	for _, u := range us {
		scale = math.Max(scale, math.Abs(u.Value))
	}
	for _, m := range r.Working.Moves {
		want, got := us[m.Gives].Value, values[m.Gives]
		tolerance := 1e-9
		for _, u := range us {
			if u.Kind == solution.OfAngle {
				tolerance = 1e-6 // the angle itself was found by halving an interval
			}
		}
		if math.IsNaN(got) || math.Abs(got-want) > tolerance*math.Max(math.Abs(want), 1e-3*scale) {
			t.Errorf("%s: %s is %.12g, statics says %.12g", where, us[m.Gives].Words, got, want)
		}
	}
	return len(r.Working.Moves)
}

// The line that ends a route prints the same digits as the answer.
func TestTheLastLineIsTheAnswer(t *testing.T) {
	number := regexp.MustCompile(`\d[\d\x{202f}]*(\.\d+)?`)
	for _, q := range every(t) {
		for i, p := range q.s.Parts {
			want := number.FindString(q.a.Results[i].Shown)
			for _, r := range p.Routes {
				if want == "" || r.Poor != "" {
					continue
				}
				said := plain(solution.RouteText(&r))
				if !slices.Contains(number.FindAllString(said, -1), want) {
					t.Errorf("%s (%s) %s: %s is nowhere in\n%s", q.name, p.Name, r.Name, want, said)
				}
			}
		}
	}
}

func plain(s string) string { return strings.ReplaceAll(s, "\u202f", "") }

// A line stands in pieces for the eye and whole for a screen reader.
func TestALineInHTML(t *testing.T) {
	for _, q := range every(t) {
		page := solution.HTML(q.s, 3)
		lines := strings.Count(page, `<div class="line">`)
		if said := strings.Count(page, `<div class="line"><span role="math" aria-label="`); lines == 0 || said != lines {
			t.Errorf("%s: %d of %d lines are said", q.name, said, lines)
		}
		if strings.Contains(page, `aria-label=""`) {
			t.Errorf("%s: a line without words", q.name)
		}
	}
}

func TestHTMLIsWellFormed(t *testing.T) {
	for _, q := range every(t) {
		d := xml.NewDecoder(strings.NewReader("<div>" + solution.HTML(q.s, 3) + "</div>"))
		for {
			_, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", q.name, err)
			}
		}
	}
}

func TestHintsClimb(t *testing.T) {
	for _, q := range every(t) {
		for _, p := range q.s.Parts {
			hints, err := solution.Hints(q.a, q.s, p.Name)
			if err != nil {
				t.Fatal(err)
			}
			if len(hints) < 7 {
				t.Errorf("%s (%s): %d hints, want at least seven", q.name, p.Name, len(hints))
			}
			seen := map[string]bool{}
			for i, h := range hints {
				words := solution.SayText(h.Say)
				if h.Rung != i+1 || words == "" || seen[words] {
					t.Errorf("%s (%s): rung %d is empty, repeated or misnumbered: %q", q.name, p.Name, h.Rung, words)
				}
				seen[words] = true
			}
		}
	}
}

// golden files are read by a person when they change: go test -update, then look.
func TestTexts(t *testing.T) {
	files, _ := filepath.Glob("testdata/*.moments")
	for _, f := range files {
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		got := solution.Text(solve(t, filepath.Base(f), string(src)).s)
		path := strings.TrimSuffix(f, ".moments") + ".txt"
		if *update {
			if err := os.WriteFile(path, []byte(got), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil || string(want) != got {
			t.Errorf("%s has changed (%v); if you meant it, run go test -update and read the solution", path, err)
		}
	}
}
