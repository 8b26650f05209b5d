package variant

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/bank/banktest"
	"steelyard/question"
	"steelyard/slip"
	"steelyard/statics"
)

// Each variant is of the same kind as the question, its numbers lie in their ranges and on their steps, and its
// answers are those of the question with these numbers read again from its text.
func TestVariantsStayWhatTheyAre(t *testing.T) {
	for _, name := range names() {
		q := banktest.Parsed(t, name)
		if len(q.Vary) == 0 {
			continue
		}
		base, err := answer.Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		n := many(200, 25)
		if slow[name] {
			n = many(200, 5)
		}
		r, err := Choose(q, "laws", Numbered(n), Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if len(r.Pupils) != n {
			t.Errorf("%s: %d of %d pupils: %v", name, len(r.Pupils), n, r.TooNarrow)
		}
		for _, v := range r.Pupils {
			again, err := question.Parse(name, v.Question.String())
			if err != nil {
				t.Errorf("%s, pupil %s: %v", name, v.Name, err)
				continue
			}
			a, err := answer.Solve(again)
			if err != nil {
				t.Errorf("%s, pupil %s: %v", name, v.Name, err)
				continue
			}
			sameKind(t, name+", pupil "+v.Name, base, a)
			for i := range q.Vary {
				x := &q.Vary[i]
				u := x.Step.Unit
				got := again.Value(x.Thing, x.Attribute).Quantity.In(u).Value
				from, to := x.From.Quantity.In(u).Value, x.To.Quantity.In(u).Value
				steps := (got - from) / x.Step.Value
				if got < from-1e-9 || got > to+1e-9 || math.Abs(steps-math.Round(steps)) > 1e-6 {
					t.Errorf("%s, pupil %s: %s.%s is %v, not from %v to %v in steps of %v", name, v.Name, x.Thing, x.Attribute, got, from, to, x.Step.Value)
				}
			}
			for i := range r.Plan.Slots {
				want := r.Plan.Slots[i].Of(a)
				if got := v.Certificate.Right[i]; r.Plan.Worked(i) && !(math.Abs(got-want) <= 1e-6*math.Abs(want)+1e-9) {
					t.Errorf("%s, pupil %s, part (%s): %v in the certificate, %v", name, v.Name, r.Plan.Slots[i].Part, got, want)
				}
			}
		}
	}
}

// sameKind compares, on its own, state, contacts and what is about to give.
func sameKind(t *testing.T, name string, a, b *answer.Answers) {
	t.Helper()
	if a.State != b.State {
		t.Errorf("%s: state %v, want %v", name, b.State, a.State)
	}
	push := func(x *answer.Answers) string {
		out := ""
		for _, f := range x.Forces {
			switch s := f.N + f.Y; {
			case s > 1e-9:
				out += "+"
			case s < -1e-9:
				out += "-"
			default:
				out += "0"
			}
		}
		return out
	}
	if push(a) != push(b) {
		t.Errorf("%s: supports %s, want %s", name, push(b), push(a))
	}
	for i := range a.Results {
		if !slices.Equal(a.Results[i].Giving, b.Results[i].Giving) {
			t.Errorf("%s: %v, want %v", name, b.Results[i].Giving, a.Results[i].Giving)
		}
	}
	if a.State == statics.NoEquilibrium && answer.MotionInWords(a.Layout, a.Solution.Motion) == "" {
		t.Errorf("%s does not move", name)
	}
}

// No two pupils share their answers, and neighbours differ in every part, unless the result says otherwise.
func TestAnswersOfTheirOwn(t *testing.T) {
	r, err := Choose(banktest.Parsed(t, "lock-footbridge.moments"), "own", Numbered(120), Options{})
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]string{}
	for i, v := range r.Pupils {
		key := strings.Join(v.Shown, "|")
		if other, ok := seen[key]; ok || v.Again {
			t.Errorf("pupils %s and %s share their answers %s", v.Name, other, key)
		}
		seen[key] = v.Name
		for k := range v.Shown {
			if i > 0 && v.Shown[k] == r.Pupils[i-1].Shown[k] {
				t.Errorf("pupils %s and %s share the answer to part (%s)", r.Pupils[i-1].Name, v.Name, r.Plan.Slots[k].Part)
			}
		}
	}
}

// So it is in every family: who shares answers, or one with the pupil before, is marked so, and the shared answers
// are reported; most families have no such pupil in a class of 16.
func TestAnswersOfTheirOwnInEveryFamily(t *testing.T) {
	whole, looked := 0, 0
	for _, name := range names() {
		if slow[name] || len(banktest.Parsed(t, name).Vary) == 0 {
			continue
		}
		r, err := Choose(banktest.Parsed(t, name), "own", Numbered(16), Options{Most: 600})
		if err != nil {
			t.Fatal(name, err)
		}
		if len(r.Plan.Slots) == 0 {
			continue
		}
		looked++
		seen := map[string]bool{}
		flawless := true
		for i, v := range r.Pupils {
			key := strings.Join(v.Shown, "|")
			near := false
			for k := range v.Shown {
				near = near || i > 0 && v.Shown[k] == r.Pupils[i-1].Shown[k]
			}
			if seen[key] && !v.Again {
				t.Errorf("%s: pupil %s shares the answers %s, and nothing says so", name, v.Name, key)
			}
			if near && !v.Near && !v.Again {
				t.Errorf("%s: pupil %s has an answer of the pupil before, and nothing says so", name, v.Name)
			}
			if v.Again && len(r.TooNarrow) == 0 {
				t.Errorf("%s: answers are shared, and no range is said to be too narrow", name)
			}
			seen[key] = true
			flawless = flawless && !near && !v.Again
		}
		if flawless {
			whole++
		}
	}
	if looked < 40 || whole < looked*4/5 {
		t.Errorf("only %d of %d families give 16 pupils answers of their own in every part", whole, looked)
	}
	t.Logf("%d of %d families", whole, looked)
}

// A pupil's numbers hang on the question, the seed, the pupil and the pupils before, and on nothing else.
func TestALostSheetCanBeMadeAgain(t *testing.T) {
	q := banktest.Parsed(t, "choir-riser.moments")
	class := []string{"Ada", "Ben", "Cleo", "Dai", "Eve", "Fay"}
	all, err := Choose(q, "2026-11", append(slices.Clone(class), "Gus", "Hal"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	some, err := Choose(banktest.Parsed(t, "choir-riser.moments"), "2026-11", class, Options{})
	if err != nil {
		t.Fatal(err)
	}
	other, err := Choose(q, "2026-12", class, Options{})
	if err != nil {
		t.Fatal(err)
	}
	differ := 0
	for i := range class {
		if a, b := all.Pupils[i].Certificate.Hash(), some.Pupils[i].Certificate.Hash(); a != b {
			t.Errorf("%s: %s in a class of 8, %s in one of 6", class[i], a, b)
		}
		if all.Pupils[i].Question.String() != some.Pupils[i].Question.String() {
			t.Errorf("%s has another question in a smaller class", class[i])
		}
		if !slices.Equal(all.Pupils[i].Shown, other.Pupils[i].Shown) {
			differ++
		}
	}
	if differ < 4 {
		t.Errorf("another seed gives other numbers to only %d of %d", differ, len(class))
	}
}

// The same question, seed and pupil give the same numbers and margins on every machine and in every year. The
// questions are kept beside the test, so that the bank may change.
func TestGoldenCertificates(t *testing.T) {
	const path = "testdata/certificates.txt"
	var b strings.Builder
	list, err := filepath.Glob("testdata/*.moments")
	if err != nil || len(list) == 0 {
		t.Fatal("no questions in testdata", err)
	}
	for _, file := range list {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		name := filepath.Base(file)
		q, err := question.Parse(name, string(text))
		if err != nil {
			t.Fatal(err)
		}
		r, err := Choose(q, "golden", Numbered(3), Options{Most: 600})
		if err != nil {
			t.Fatal(name, err)
		}
		fmt.Fprint(&b, strings.TrimSuffix(name, ".moments"))
		for _, v := range r.Pupils {
			fmt.Fprint(&b, " ", v.Certificate.Hash())
		}
		fmt.Fprintln(&b)
	}
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for i, line := range strings.Split(b.String(), "\n") {
		if w := strings.Split(string(want), "\n"); i >= len(w) || w[i] != line {
			t.Errorf("certificates have changed; if the question, the catalogue or the search was meant to change, run go test -update\ngot  %s", line)
		}
	}
}

// Answers can be asked to come out exactly.
func TestExact(t *testing.T) {
	r, err := Choose(banktest.Parsed(t, "lock-footbridge.moments"), "exact", Numbered(8), Options{Exact: 3})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Pupils) == 0 {
		t.Fatal("no pupil has exact answers")
	}
	for _, v := range r.Pupils {
		for k, x := range v.Certificate.Right {
			x = math.Abs(x)
			unit := math.Pow(10, math.Floor(math.Log10(x))-2)
			if n := x / unit; math.Abs(n-math.Round(n)) > 1e-6 {
				t.Errorf("pupil %s, part (%s): %v is not exact in three figures", v.Name, r.Plan.Slots[k].Part, x)
			}
		}
	}
}

// No answer is near a rounding tie, so that rounding on the way doesn't turn it.
func TestNoTies(t *testing.T) {
	for _, name := range []string{"choir-riser.moments", "stall-sign.moments", "signal-arm.moments"} {
		q := banktest.Parsed(t, name)
		r, err := Choose(q, "ties", Numbered(30), Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range r.Pupils {
			for k, x := range v.Certificate.Right {
				n := answer.Figures(q, q.Part(r.Plan.Slots[k].Part))
				unit := math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-float64(n-1))
				if f := math.Abs(x) / unit; math.Abs(f-math.Floor(f)-0.5) < 0.029 && r.Plan.Slots[k].Unit != "rad" {
					t.Errorf("%s, pupil %s, part (%s): %v lies near a tie at %d figures", name, v.Name, r.Plan.Slots[k].Part, x, n)
				}
			}
		}
	}
}

// What cannot be had is said, with what to widen.
func TestTooNarrow(t *testing.T) {
	parse := func(vary string) *question.Question {
		q, err := question.Parse("narrow.moments", `question "Midway"
body bar: uniform, length 4.00 m, weight 200 N
support P: rest, on bar at 0.80 m
support Q: rest, on bar at 3.20 m
load K: weight 150 N, on bar at 1.20 m
part a: find force Q  marks 3
`+vary)
		if err != nil {
			t.Fatal(err)
		}
		return q
	}
	if _, err := Choose(parse(""), "s", Numbered(3), Options{}); err == nil || !strings.Contains(err.Error(), "vary K.weight") {
		t.Errorf("without a vary line: %v", err)
	}
	r, err := Choose(parse("vary K.weight 140 N to 160 N step 1 N\n"), "s", Numbered(60), Options{})
	if err != nil {
		t.Fatal(err)
	}
	var words []string
	for _, n := range r.TooNarrow {
		words = append(words, n.Words)
	}
	all := strings.Join(words, "\n")
	for _, want := range []string{
		// The weight acts midway, so putting it midway is no slip that shows.
		`"midway-between-supports (the weight of the bar)" gives an answer that passes as right: the weight acts midway between P and Q, so move one of them`,
		"different sets of answers",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("not said: %s\n%s", want, all)
		}
	}
	moved := false
	for _, n := range r.TooNarrow {
		moved = moved || n.Attribute == "at" && strings.Contains(n.Words, "midway-between-supports")
	}
	if !moved {
		t.Error("no place to move is named")
	}
	// Moments about the end with one support forgotten is the same mistake as measuring all from the end.
	never := false
	for _, p := range r.Never {
		a, b := r.Plan.Cases[p.A].Slip.Name, r.Plan.Cases[p.B].Slip.Name
		never = never || a == "all-from-the-end" && b == "other-push-forgotten-end"
	}
	if !never {
		t.Error("two slips that are the same by nature are not told to be")
	}
}

// Every certificate is re-checked by working each variant anew: its question read again, its routes found again,
// each slip put into its equations, every pair compared.
func TestCertificatesByBruteForce(t *testing.T) {
	checked := 0
	for _, name := range names() {
		q := banktest.Parsed(t, name)
		if len(q.Vary) == 0 {
			continue
		}
		n := many(30, 3)
		if slow[name] {
			n = many(30, 1)
		}
		r, err := Choose(q, "brute", Numbered(n), Options{Most: many(4000, 800)})
		if err != nil {
			t.Fatal(name, err)
		}
		for _, v := range r.Pupils {
			checked += bruteForce(t, name, r, &v)
		}
	}
	t.Logf("%d pairs checked", checked)
	if checked < 10000 {
		t.Errorf("only %d pairs checked", checked)
	}
}

func bruteForce(t *testing.T, name string, r *Result, v *Variant) (checked int) {
	t.Helper()
	wrong := anew(t, name, r.Plan, v)
	if wrong == nil {
		return 0
	}
	c := &v.Certificate
	unparted := map[Pair]bool{}
	for _, u := range c.Unparted {
		unparted[u.Pair] = true
	}
	hidden := map[int]bool{}
	for _, h := range c.Hidden {
		hidden[h.Case] = true
	}
	gap := func(a, b []float64) float64 { // of our own: the largest over all parts, in tolerances of 1 %
		most := 0.0
		for k := range a {
			x, y := math.Abs(a[k]), math.Abs(b[k])
			if math.IsNaN(x) || math.IsNaN(y) || math.IsInf(x, 0) || math.IsInf(y, 0) || !r.Plan.Worked(k) {
				continue
			}
			most = math.Max(most, math.Abs(x-y)/math.Max(0.01*math.Max(x, y), r.Plan.Slots[k].Floor))
		}
		return most
	}
	for i := range r.Plan.Cases {
		if wrong[i] == nil {
			continue
		}
		for k := range wrong[i] {
			got, want := c.Wrong[i][k], wrong[i][k]
			if !r.Plan.Worked(k) || math.IsNaN(got) || math.IsInf(got, 0) {
				continue
			}
			if !(math.Abs(got-want) <= 1e-6*math.Abs(want)+1e-7) {
				t.Errorf("%s, pupil %s, %s, part (%s): %v in the certificate, %v anew", name, v.Name, r.Plan.Cases[i].Name(), r.Plan.Slots[k].Part, got, want)
			}
		}
		if m := gap(wrong[i], c.Right); m < Enough-1e-6 && !hidden[i] {
			t.Errorf("%s, pupil %s: %s lies only %.2f tolerances from the right answer", name, v.Name, r.Plan.Cases[i].Name(), m)
		}
		for k := range i {
			if wrong[k] == nil || r.Plan.Cases[k].Slip.Name == r.Plan.Cases[i].Slip.Name {
				continue
			}
			checked++
			if m := gap(wrong[i], wrong[k]); (m < 1-1e-6) != unparted[Pair{k, i}] && math.Abs(m-1) > 1e-6 {
				t.Errorf("%s, pupil %s: %s and %s lie %.2f tolerances apart, which the certificate denies", name, v.Name, r.Plan.Cases[k].Name(), r.Plan.Cases[i].Name(), m)
			}
		}
	}
	return checked
}

// anew works out the wrong answers of a variant from its own text, by case of the class's plan.
func anew(t *testing.T, name string, p *slip.Plan, v *Variant) [][]float64 {
	t.Helper()
	q, err := question.Parse(name, v.Question.String())
	if err != nil {
		t.Fatal(name, err)
	}
	own, _, err := slip.Make(q)
	if err != nil {
		t.Fatal(name, err)
	}
	list, err := own.Outcomes()
	if err != nil {
		t.Fatal(name, err)
	}
	byName := map[string][]float64{}
	for i := range list {
		byName[list[i].Name()] = list[i].Values
	}
	out := make([][]float64, len(p.Cases))
	for i := range p.Cases {
		out[i] = byName[p.Cases[i].Name()]
	}
	return out
}
