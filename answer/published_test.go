package answer_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/question"
)

// Every case of a collection of sixty published examples and problems stands as a question file in
// testdata/published, its source and the licence of the source in comments at its head. What the
// source printed is in expected.json beside them, with the value recomputed by another program: a
// general solver of three equations, or exact arithmetic.
//
// Nothing had to be left out. Two answers are no numbers, and a volume, three ratios to a weight and
// three gains in force are a factor on one of our answers; the rows say which factor.

// A published answer is compared with times × (ours - less), or over / ours where over is given.
// Ours is in SI units, but in degrees where unit is deg.
type published struct {
	Case, File, Part, Asked string
	Field                   string // value (if empty), second, at or direction of the result
	Times, Over             *float64
	Less                    float64
	Published               string // as printed, with its zeros
	Figures                 int    // significant figures that the print can be trusted for
	Unit                    string
	Recomputed              float64
	Trusted                 bool // else the print is wrong, and Note says how; Recomputed holds
	Note                    string
}

func (p published) ours(r *answer.Result) (float64, error) {
	v, angle := r.Value, r.Unit == "rad"
	switch p.Field {
	case "":
	case "second":
		v = r.Second
	case "at":
		v, angle = r.At, false
	case "direction":
		v, angle = r.Direction, true
	default:
		return 0, fmt.Errorf("a result has no field %q", p.Field)
	}
	if angle {
		v *= 180 / math.Pi
	}
	v -= p.Less
	if p.Times != nil {
		v *= *p.Times
	}
	if p.Over != nil {
		v = *p.Over / v
	}
	return v, nil
}

// atPrintedDigits rounds v, halves away from zero as these books do, to the last figure that was printed.
func atPrintedDigits(v, printed float64, figures int) float64 {
	unit := math.Pow(10, math.Floor(math.Log10(math.Abs(printed)))+1-float64(figures))
	// Snapped first, so that 710.5 is a half however its last bit fell.
	snapped, _ := strconv.ParseFloat(strconv.FormatFloat(v/unit, 'g', 10, 64), 64)
	return math.Round(snapped) * unit
}

func TestPublishedAnswers(t *testing.T) {
	var rows []published
	read, err := os.ReadFile("testdata/published/expected.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(read, &rows); err != nil {
		t.Fatal(err)
	}
	solved := map[string]*answer.Answers{}
	for _, row := range rows {
		t.Run(row.Case+"/"+row.Asked, func(t *testing.T) {
			a := solved[row.File]
			if a == nil {
				a = solveFile(t, row.File)
				solved[row.File] = a
			}
			ours, err := row.ours(resultOf(t, a, row.Part))
			if err != nil {
				t.Fatal(err)
			}
			if row.Trusted {
				printed, err := strconv.ParseFloat(row.Published, 64)
				if err != nil {
					t.Fatal(err)
				}
				if got := atPrintedDigits(ours, printed, row.Figures); !(math.Abs(got-printed) <= 1e-9*math.Abs(printed)) { // NaN is no answer either
					t.Errorf("%s: ours is %.7g %s, printed is %s", row.File, ours, row.Unit, row.Published)
				}
			}
			// Six figures were kept of what the other program found.
			if !(math.Abs(ours-row.Recomputed) <= 6e-6*math.Abs(row.Recomputed)) {
				t.Errorf("%s: ours is %.7g %s, another program has %.7g (%s)", row.File, ours, row.Unit, row.Recomputed, row.Note)
			}
		})
	}
}

// Some sources print a formula. We put two sets of numbers of our own into each.
func TestPublishedFormulas(t *testing.T) {
	const g = 9.8
	sin := func(deg float64) float64 { return math.Sin(deg * math.Pi / 180) }
	tan := func(deg float64) float64 { return math.Tan(deg * math.Pi / 180) }
	tests := []struct {
		file, part, formula string
		want                float64
	}{
		{"ostp-q261-1", "a", "(3m/4 + M/2) g / sin θ", (3*12./4 + 20./2) * g / sin(35)},
		{"ostp-q261-2", "a", "(3m/4 + M/2) g / sin θ", (3*30./4 + 8./2) * g / sin(50)},
		{"ostp-sign-1", "a", "3 g (m + M/2) / (2 sin θ)", 3 * g * (8 + 10./2) / (2 * sin(35))},
		{"ostp-sign-1", "b", "3 g (m + M/2) / (2 tan θ)", 3 * g * (8 + 10./2) / (2 * tan(35))},
		{"ostp-sign-1", "c", "(M/4 - m/2) g", (10./4 - 8./2) * g},
		{"ostp-sign-2", "a", "3 g (m + M/2) / (2 sin θ)", 3 * g * (5 + 24./2) / (2 * sin(50))},
		{"ostp-sign-2", "b", "3 g (m + M/2) / (2 tan θ)", 3 * g * (5 + 24./2) / (2 * tan(50))},
		{"ostp-sign-2", "c", "(M/4 - m/2) g", (24./4 - 5./2) * g},
		{"osup1-12-cyu5-1", "a", "0.5 cot β", 0.5 / tan(53)},
		{"osup1-12-cyu5-2", "a", "0.5 cot β", 0.5 / tan(66)},
		{"osup1-12-p75-1", "a", "M g tan θ", 2 * g * tan(25)},
		{"osup1-12-p75-1", "b", "0", 0},
		{"osup1-12-p75-2", "a", "M g tan θ", 5 * g * tan(40)},
		{"osup1-12-p75-2", "b", "0", 0},
		{"dh-056-1", "a", "7a/9", 7 * 0.90 / 9},
		{"dh-056-1", "a second", "4a/9", 4 * 0.90 / 9},
		{"dh-056-2", "a", "7a/9", 7 * 0.36 / 9},
		{"dh-056-2", "a second", "4a/9", 4 * 0.36 / 9},
	}
	for _, test := range tests {
		name, second := strings.CutSuffix(test.part, " second")
		r := resultOf(t, solveFile(t, test.file), name)
		ours := r.Value
		if second {
			ours = r.Second
		}
		// The point of contact on a slope is written with ten decimals.
		if !(math.Abs(ours-test.want) <= 1e-8*(1+math.Abs(test.want))) {
			t.Errorf("%s, part %s: ours is %.10g, %s gives %.10g", test.file, test.part, ours, test.formula, test.want)
		}
	}
}

// Source: College Physics 2e (OpenStax), chapter 9, problem 39: the second child would have to sit beyond the end of the board.
func TestPublishedBalanceIsImpossible(t *testing.T) {
	a := solveFile(t, "oscp2-09-p39")
	if len(a.Warnings) != 1 || !strings.Contains(a.Warnings[0], "beyond its end") {
		t.Errorf("want one warning that B is beyond the end of the board, got %q", a.Warnings)
	}
}

// Source: University Physics Volume 1 (OpenStax), chapter 12, problem 41: the hinge force is not along the boom.
func TestPublishedHingeForceIsNotAlongTheBoom(t *testing.T) {
	r := resultOf(t, solveFile(t, "osup1-12-p41"), "c")
	if boom := 20 * math.Pi / 180; !(math.Abs(r.Value-boom) > 0.1) {
		t.Errorf("the hinge force is at %.4g rad, along the boom", r.Value)
	}
}

func TestEveryPublishedFileIsUsed(t *testing.T) {
	this, err := os.ReadFile("published_test.go")
	if err != nil {
		t.Fatal(err)
	}
	rows, err := os.ReadFile("testdata/published/expected.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range publishedFiles(t) {
		name := `"` + strings.TrimSuffix(filepath.Base(path), ".moments") + `"`
		if !strings.Contains(string(this), name) && !strings.Contains(string(rows), name) {
			t.Errorf("%s is compared with nothing", path)
		}
	}
}

func TestPublishedFilesNameTheirSource(t *testing.T) {
	for _, path := range publishedFiles(t) {
		read, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if s := string(read); !strings.HasPrefix(s, "# Source: ") || !strings.Contains(s, "\n# Licence of the source: ") {
			t.Errorf("%s does not begin with its source and licence", path)
		}
	}
}

func publishedFiles(t *testing.T) []string {
	t.Helper()
	paths, err := filepath.Glob("testdata/published/*.moments")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no published files: %v", err)
	}
	return paths
}

func solveFile(t *testing.T, name string) *answer.Answers {
	t.Helper()
	file := name + ".moments"
	read, err := os.ReadFile(filepath.Join("testdata/published", file))
	if err != nil {
		t.Fatal(err)
	}
	q, err := question.Parse(file, string(read))
	if err != nil {
		t.Fatal(err)
	}
	a, err := answer.Solve(q)
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	return a
}

func resultOf(t *testing.T, a *answer.Answers, part string) *answer.Result {
	t.Helper()
	for i := range a.Results {
		if a.Results[i].Part.Name == part {
			return &a.Results[i]
		}
	}
	t.Fatalf("there is no part %s", part)
	return nil
}
