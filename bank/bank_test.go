package bank_test

import (
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/bank"
	"steelyard/bank/banktest"
	"steelyard/question"
)

var update = flag.Bool("update", false, "write the questions in standard form")

func TestNamesAreTheFiles(t *testing.T) {
	entries, err := bank.Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	var files []string
	for _, e := range entries {
		files = append(files, e.Name())
	}
	if got := slices.Sorted(slices.Values(bank.Names())); !slices.Equal(got, files) {
		t.Errorf("Names gives\n%q\nthe folder holds\n%q", got, files)
	}
}

func TestQuestionsAreInStandardForm(t *testing.T) {
	for _, f := range banktest.All(t) {
		file, q := f.Name, f.Question
		if q.String() == f.Text {
			continue
		}
		t.Errorf("%s: run go test -update ./bank, or write\n%s", file, q)
		if *update {
			if err := os.WriteFile(file, []byte(q.String()), 0o644); err != nil {
				t.Error(err)
			}
		}
	}
}

func TestQuestionsHaveNoFaults(t *testing.T) {
	for _, f := range banktest.All(t) {
		file, q := f.Name, f.Question
		faults, warnings := answer.Check(q)
		if len(faults) > 0 {
			t.Errorf("%s: %v", file, faults)
		}
		// Three rests under one bench are not fixed by equilibrium: that is the point of it.
		if doubts := q.Warnings(); len(doubts) > 0 {
			t.Errorf("%s: the wording: %v", file, doubts)
		}
		if want := file == "bench-on-three-rests.moments"; want != (len(warnings) > 0) {
			t.Errorf("%s: warnings %v", file, warnings)
		}
		for _, p := range q.Parts {
			if p.Marks == 0 {
				t.Errorf("%s: part %s has no marks", file, p.Name)
			}
		}
	}
}

// variants calls f with the numbers of q at all ends of their ranges, and at many chosen at random.
func variants(t *testing.T, q *question.Question, f func(name string, v *question.Question)) {
	t.Helper()
	random := rand.New(rand.NewPCG(3, 14))
	chosen, seen := 200, map[string]bool{}
	for _, p := range q.Parts {
		if p.OfAngle || p.Ask == question.AskLeastCoefficient {
			chosen = 8 // such limits are searched for, in many solutions
		}
	}
	for pick := range 1<<len(q.Vary) + chosen {
		c := q.Clone()
		name := ""
		for i, v := range q.Vary {
			number := c.Value(v.Thing, v.Attribute)
			steps := int(math.Round((v.To.SI() - v.From.SI()) / v.Step.SI()))
			k := random.IntN(steps + 1)
			if pick < 1<<len(q.Vary) {
				k = steps * (pick >> i & 1)
			}
			from, to := v.From.Quantity, v.To.Quantity
			number.Quantity = from
			decimals := max(from.Decimals, v.Step.Decimals)
			number.Quantity = from
			number.Digits = strconv.FormatFloat(from.Value+float64(k)*(to.In(from.Unit).Value-from.Value)/float64(steps), 'f', decimals, 64)
			number.Quantity.Value, _ = strconv.ParseFloat(number.Digits, 64)
			name += fmt.Sprintf(" %s.%s=%s", v.Thing, v.Attribute, number.Quantity)
		}
		f(name, c)
		seen[name] = true
	}
	if len(seen) < 1<<len(q.Vary) {
		t.Errorf("only %d variants were tried", len(seen))
	}
}

// Whatever numbers a pupil gets, the question stays what it is: the same state, every answer of the same
// sign, the same support giving way at a limit.
func TestVariantsStayTheSameQuestion(t *testing.T) {
	for _, file := range bank.Names() {
		t.Run(file, func(t *testing.T) {
			t.Parallel()
			usual := banktest.Solved(t, file)
			variants(t, banktest.Parsed(t, file), func(name string, v *question.Question) {
				a, err := answer.Solve(v)
				if err != nil || a.State != usual.State || len(a.Warnings) > 0 {
					t.Errorf("%s: state %d, as written %d; warnings %v (%v)", name, a.State, usual.State, a.Warnings, err)
					return
				}
				for i := range a.Results {
					got, want := &a.Results[i], &usual.Results[i]
					if math.Signbit(got.Value) != math.Signbit(want.Value) || math.IsNaN(got.Value) != math.IsNaN(want.Value) {
						t.Errorf("%s: part %s is %s, as written %s", name, got.Part.Name, got.Shown, want.Shown)
					}
					if !slices.Equal(got.Giving, want.Giving) {
						t.Errorf("%s: part %s: %v, as written %v", name, got.Part.Name, got.Giving, want.Giving)
					}
				}
			})
		})
	}
}

// Ranges are worth choosing from, go in tidy steps and hold the number as it is written.
func TestRanges(t *testing.T) {
	for _, f := range banktest.All(t) {
		file, q := f.Name, f.Question
		choices := 1
		text := strings.Join(q.Text, " ")
		for _, v := range q.Vary {
			number := q.Value(v.Thing, v.Attribute)
			if number == nil || !number.Known() {
				t.Fatalf("%s: %s.%s is no number that is given", file, v.Thing, v.Attribute)
			}
			whole := func(x float64) bool { return math.Abs(x-math.Round(x)) < 1e-9 }
			step := v.Step.SI()
			if !whole((v.To.SI()-v.From.SI())/step) || !whole((number.SI()-v.From.SI())/step) || number.SI() < v.From.SI() || number.SI() > v.To.SI() {
				t.Errorf("%s: %s.%s is %s, no step of %s to %s", file, v.Thing, v.Attribute, number.Quantity, v.From.Quantity, v.To.Quantity)
			}
			if v.From.Figures != number.Figures && v.To.Figures != number.Figures {
				t.Errorf("%s: %s.%s is typed with other figures than its range", file, v.Thing, v.Attribute)
			}
			if !strings.Contains(text, "{"+v.Thing+"."+v.Attribute+"}") {
				t.Errorf("%s: the wording has no {%s.%s}", file, v.Thing, v.Attribute)
			}
			choices *= int(math.Round((v.To.SI()-v.From.SI())/step)) + 1
		}
		if len(q.Vary) < 3 || choices < 240 {
			t.Errorf("%s: %d numbers vary, %d choices; three numbers and a few hundred choices are wanted", file, len(q.Vary), choices)
		}
	}
}

// Each question says for whom it is, what it tests and what to look out for, in its own wording.
func TestEachQuestionSaysWhatItIsFor(t *testing.T) {
	titles, ideas := map[string]string{}, map[string]string{}
	for _, f := range banktest.All(t) {
		file, q := f.Name, f.Question
		if q.Level == "" || q.Idea == "" || len(q.Traps) == 0 || len(q.Text) == 0 {
			t.Errorf("%s lacks its level, idea, traps or wording", file)
		}
		if strings.HasSuffix(q.Idea, ".") || titles[q.Title] != "" || ideas[q.Idea] != "" {
			t.Errorf("%s: its title and its idea are its own, without a full stop; see %s %s", file, titles[q.Title], ideas[q.Idea])
		}
		titles[q.Title], ideas[q.Idea] = file, file
	}
	if len(titles) < 40 {
		t.Errorf("there are %d families; at least 40 are promised", len(titles))
	}
}

func TestPlaceholdersAreFilled(t *testing.T) {
	n := 0
	for _, f := range banktest.All(t) {
		file, q := f.Name, f.Question
		texts := slices.Clone(q.Text)
		for _, p := range q.Parts {
			texts = append(texts, p.Text)
		}
		for _, text := range texts {
			n += strings.Count(text, "{")
			if filled := q.Fill(text); strings.ContainsAny(filled, "{}") {
				t.Errorf("%s: not all is filled in: %s", file, filled)
			}
		}
	}
	if n == 0 {
		t.Error("no question has a placeholder")
	}
}

// A want is what a part's answer should be, in the unit named: SI, or degrees. Working is how it was
// worked out by hand, apart from this program, with sines and tangents of degrees.
type want struct {
	File, Part, Unit                        string
	Value, Low, High, At, Second, Direction *float64
	Working                                 map[string]string
}

// Source: our own working, written out beside each number in testdata/expected.json.
func TestQuestionsGiveTheAnswersWorkedByHand(t *testing.T) {
	src, err := os.ReadFile("testdata/expected.json")
	if err != nil {
		t.Fatal(err)
	}
	var wants []want
	if err := json.Unmarshal(src, &wants); err != nil {
		t.Fatal(err)
	}
	compared := map[string]int{}
	for _, w := range wants {
		t.Run(w.File+"/"+w.Part, func(t *testing.T) {
			a := banktest.Solved(t, w.File)
			i := slices.IndexFunc(a.Results, func(r answer.Result) bool { return r.Part.Name == w.Part })
			if i < 0 {
				t.Fatalf("there is no part %s", w.Part)
			}
			compare(t, &a.Results[i], w)
		})
		compared[w.File+".moments"]++
	}
	for _, f := range banktest.All(t) {
		if n := len(f.Question.Parts); compared[f.Name] != n {
			t.Errorf("%s has %d parts, and answers to %d of them are expected", f.Name, n, compared[f.Name])
		}
	}
}

func compare(t *testing.T, r *answer.Result, w want) {
	t.Helper()
	const degree = 180 / math.Pi
	scale, unit := 1.0, r.Unit
	if unit == "rad" {
		scale, unit = degree, "deg"
	}
	if w.Unit != "" && unit != w.Unit {
		t.Errorf("the unit is %s, want %s", unit, w.Unit)
	}
	for _, c := range []struct {
		name string
		got  float64
		want *float64
	}{
		{"value", r.Value * scale, w.Value}, {"low", r.Low * scale, w.Low}, {"high", r.High * scale, w.High},
		{"at", r.At, w.At}, {"second", r.Second, w.Second}, {"direction", r.Direction * degree, w.Direction},
	} {
		if c.want != nil && !(math.Abs(c.got-*c.want) <= 1e-8*(1+math.Abs(*c.want))) {
			t.Errorf("%s is %.9g (%s), want %.9g %s = %s", c.name, c.got, r.Shown, *c.want, w.Unit, w.Working[c.name])
		}
	}
	if r.Shown == "" {
		t.Error("nothing is shown")
	}
}

// Every kind of body, support, load, condition and thing to be asked has its question.
func TestEveryCaseOfTheNotationIsUsed(t *testing.T) {
	used := map[string]bool{}
	use := func(kind string, n any) { used[fmt.Sprint(kind, " ", n)] = true }
	for _, f := range banktest.All(t) {
		q := f.Question
		use("level", q.Level)
		for _, b := range q.Bodies {
			use("shape", b.Shape)
			for _, p := range b.Pieces {
				use("piece", p.Kind)
			}
		}
		for _, s := range q.Supports {
			use("support", s.Kind)
		}
		for _, l := range q.Loads {
			use("load", l.Kind)
		}
		for _, c := range q.Conditions {
			use("condition", c.Kind)
		}
		for _, p := range q.Parts {
			use("ask", int(p.Ask))
		}
	}
	want := func(kind string, last int, name func(int) any) {
		for i := 0; i <= last; i++ {
			if k := fmt.Sprint(kind, " ", name(i)); !used[k] {
				t.Errorf("no question has %s", k)
			}
		}
	}
	want("level", 2, func(i int) any { return []string{"14-16", "16-18", "first year"}[i] })
	want("shape", int(question.Frame), func(i int) any { return question.Shape(i) })
	want("piece", int(question.PointMass), func(i int) any { return question.PieceKind(i) })
	want("support", int(question.Link), func(i int) any { return question.Kind(i) })
	want("load", int(question.Couple), func(i int) any { return question.LoadKind(i) })
	want("condition", int(question.AboutToLift), func(i int) any { return question.ConditionKind(i) })
	want("ask", int(question.AskWhether), func(i int) any { return i })
}
