package class

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"steelyard/mark"
	"steelyard/script"
	"steelyard/slip"
)

// Each slip of the catalogue belongs to one cause, and each cause has its five minutes.
func TestEverySlipHasOneCause(t *testing.T) {
	of := map[string]string{}
	for _, c := range Causes() {
		if c.Title == "" || c.Try == "" || len(c.Plan) < 3 {
			t.Errorf("%s: %+v", c.Name, c)
		}
		minutes := 0
		for _, step := range c.Plan {
			n := 0
			if _, err := fmt.Sscanf(step, "%d minute", &n); err != nil {
				t.Errorf("%s: %q doesn't say how long it takes", c.Name, step)
			}
			minutes += n
		}
		if minutes != 5 {
			t.Errorf("%s takes %d minutes", c.Name, minutes)
		}
		for _, s := range c.Slips {
			if of[s] != "" || slip.Named(s) == nil {
				t.Errorf("%s stands in %s and %q", s, c.Name, of[s])
			}
			of[s] = c.Name
		}
	}
	for _, s := range slip.Catalogue() {
		if of[s.Name] == "" {
			t.Errorf("%s has no cause", s.Name)
		}
	}
}

// pupil is a result with marks for parts a, worth 3, and b, worth 1, and suspects by name.
func pupil(name string, a, b int, suspects ...mark.Suspect) Result {
	line := mark.Judged{Verdict: mark.Right, Means: "moments about Q", Line: script.Line{Text: "P x 2.8 = 308 + 1288"}}
	return Result{Code: name, Name: name, Suspects: suspects, Parts: []mark.Part{
		{Pupil: name, Part: "a", Marks: a, Of: 3, Lines: []mark.Judged{line}, Answer: mark.JudgedAnswer{Verdict: mark.AnswerWrong, Read: script.Answer{Text: "12 N"}}},
		{Pupil: name, Part: "b", Marks: b, Of: 1},
	}}
}

func suspect(name string, p float64) mark.Suspect { return mark.Suspect{Name: name, Probability: p} }

func TestGroupsAreByCause(t *testing.T) {
	var results []Result
	for i := range 11 {
		results = append(results, pupil(fmt.Sprintf("d%02d", i), 1, 0, suspect("one-from-the-end", 0.5+float64(i)/25), suspect(mark.NoSlip, 0.05)))
	}
	results = append(results,
		pupil("s1", 0, 0, suspect("equal-shares", 0.4), suspect("nearest-takes-all", 0.3)), // two slips of one cause
		pupil("s2", 0, 0, suspect("equal-shares", 0.9)),
		pupil("u1", 2, 1, suspect("unit-of-the-answer", 0.7)),
		pupil("x1", 1, 1, suspect(mark.Other, 0.9)),
		pupil("y1", 1, 1, suspect("equal-shares", 0.2), suspect("turned-the-wrong-way", 0.2)),
		pupil("f1", 3, 1),
		pupil("n1", 2, 1, suspect(mark.NoSlip, 0.9)),
	)
	p := PictureOf(results, nil)
	if len(p.Groups) != 2 || p.Groups[0].Cause.Name != "distances" || p.Groups[1].Cause.Name != "sharing" {
		t.Fatalf("groups %+v", p.Groups)
	}
	g := p.Groups[0]
	if len(g.Who) != 8 || len(g.Then) != 3 || g.Who[0].Pupil != "d10" || !g.Whole {
		t.Errorf("first group %+v", g)
	}
	if got := p.Groups[1]; got.All() != 2 || !reflect.DeepEqual(got.Slips, []string{"equal-shares", "nearest-takes-all"}) || got.Whole {
		t.Errorf("second group %+v", got)
	}
	if len(p.Single) != 1 || p.Single[0].Pupil != "u1" || !reflect.DeepEqual(p.Unclear, []string{"x1", "y1"}) || !reflect.DeepEqual(p.Small, []string{"n1"}) || p.Fine != 1 {
		t.Errorf("single %v, unclear %v, fine %d", p.Single, p.Unclear, p.Fine)
	}
	if p.Slips[0].Name != "one-from-the-end" || len(p.Slips[0].Who) != 11 || p.Slips[1].Name != "equal-shares" || len(p.Slips[1].Who) != 2 {
		t.Errorf("slips %+v", p.Slips)
	}
	// Everybody is somewhere, once.
	seen := len(p.Single) + len(p.Unclear) + len(p.Small) + p.Fine
	for _, g := range p.Groups {
		seen += g.All()
		if len(g.Who) > 8 {
			t.Errorf("%d pupils in a group", len(g.Who))
		}
	}
	if seen != len(results) || len(p.Groups) > 4 {
		t.Errorf("%d of %d pupils are somewhere, in %d groups", seen, len(results), len(p.Groups))
	}
}

// Hand-computed: marks of part a 3 3 2 2 1 1 0 0 3 1 and of b 1 1 1 0 0 1 0 0 1 0.
// Σa = 16, Σb = 5, Σa² = 38, Σb² = 5, Σab = 3+3+2+1+3 = 12, so r = (120 − 80)/√((380 − 256)(50 − 25)) = 40/√3100 = 0.7184.
func TestPartsAgainstHandComputedValues(t *testing.T) {
	var results []Result
	a := []int{3, 3, 2, 2, 1, 1, 0, 0, 3, 1}
	b := []int{1, 1, 1, 0, 0, 1, 0, 0, 1, 0}
	for i := range a {
		results = append(results, pupil(fmt.Sprint(i), a[i], b[i]))
	}
	p := PictureOf(results, nil)
	if r := p.Parts[0]; math.Abs(r.Facility-16.0/30) > 1e-12 || math.Abs(r.Mean-1.6) > 1e-12 || math.Abs(r.Discrimination-40/math.Sqrt(3100)) > 1e-12 {
		t.Errorf("part a: %+v", r)
	}
	if r := p.Parts[1]; math.Abs(r.Facility-0.5) > 1e-12 || r.Blank != 10 {
		t.Errorf("part b: %+v", r)
	}
	if r := PictureOf(results[:9], nil).Parts[0]; !math.IsNaN(r.Discrimination) {
		t.Errorf("nine pupils discriminate by %g", r.Discrimination)
	}
	// A teacher's decision counts in the picture.
	results[6].Parts[0].Override = &mark.Override{Mark: 3}
	if p := PictureOf(results, nil); p.Marks[6] != 3 || math.Abs(p.Parts[0].Facility-19.0/30) > 1e-12 {
		t.Errorf("with a decision: %+v", p.Parts[0])
	}
}

func TestMarksSurviveWriting(t *testing.T) {
	results := []Result{
		pupil("k1", 1, 0, suspect("equal-shares", 0.8)),
		pupil("=cmd()", 3, 1),
	}
	results[0].Parts[0].Slips = []mark.Suspect{suspect(mark.NoSlip, 0.1), suspect("equal-shares", 0.8)}
	results[0].Parts[0].Why = []string{"M1 for moments", "A0: “12 N” is not right"}
	results[0].Parts[1].Override = &mark.Override{Pupil: "k1", Part: "b", Mark: 1, Reason: "-says so"}
	results[1].Parts[1].AskTeacher = true
	table, err := MarksCSV(results)
	want := "pupil,name,part,marks,of,marker,decided by teacher,suggests,how sure,ask teacher,why\r\n" +
		"k1,k1,a,1,3,1,,equal-shares,0.80,,M1 for moments; A0: “12 N” is not right\r\n" +
		"k1,k1,b,1,1,0,'-says so,,,,\r\n" +
		"'=cmd(),'=cmd(),a,3,3,3,,,,,\r\n" +
		"'=cmd(),'=cmd(),b,1,1,1,,,,yes,\r\n"
	if err != nil || string(table) != want {
		t.Fatalf("got %s (%v)\nwant %s", table, err, want)
	}
	if !IsMarks(strings.NewReader(want)) || IsMarks(strings.NewReader("pupil,part,answer\n")) {
		t.Error("a table of marks isn't told from one of answers")
	}
	e, err := ReadMarks(strings.NewReader(want), "marks.csv")
	if err != nil || e.Share["k1"] != 0.5 || e.Share["=cmd()"] != 1 || !reflect.DeepEqual(e.Slips["k1"], []string{"equal-shares"}) {
		t.Errorf("read back: %+v, %v", e, err)
	}
	for text, want := range map[string]string{
		"": "nothing stands in it", "pupil,marks\n": `no column is called "of"`, "pupil,marks,of\n": "no pupil's marks",
		"pupil,marks,of\nk,4,3\n": `line 2: "4" out of "3"`,
	} {
		if _, err := ReadMarks(strings.NewReader(text), "marks.csv"); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

func TestChange(t *testing.T) {
	before := EarlierOf([]Result{pupil("k1", 0, 0, suspect("equal-shares", 0.8)), pupil("k2", 3, 1), pupil("k3", 1, 1, suspect("equal-shares", 0.9))})
	p := PictureOf([]Result{pupil("k1", 3, 1), pupil("k2", 1, 1, suspect("one-from-the-end", 0.7)), pupil("k3", 1, 1, suspect("equal-shares", 0.6)), pupil("new", 2, 1)}, before)
	c := p.Change
	if want := []Step{{"k1", 0, 1}, {"k2", 1, 0.5}, {"k3", 0.5, 0.5}}; !reflect.DeepEqual(c.Steps, want) || c.New != 1 || c.Before != 0.5 || math.Abs(c.Now-2.0/3) > 1e-12 {
		t.Errorf("change %+v", c)
	}
	if want := []SlipChange{{"Each support takes half", 2, 1, 1}, {"One distance read from the end", 0, 1, 0}}; !reflect.DeepEqual(c.Slips, want) {
		t.Errorf("slips %+v", c.Slips)
	}
}

func TestNotes(t *testing.T) {
	r := pupil("Omar", 1, 0, suspect("one-from-the-end", 0.7))
	r.Parts[0].Lines = append(r.Parts[0].Lines, mark.Judged{Verdict: mark.Wrong, Off: "The distance of the load is measured from the left end, not from Q", Line: script.Line{Text: "P x 2.8 = 308 + 672"}})
	r.Parts[1].AskTeacher = true
	n := NoteOf(&r)
	ask := slip.Named("one-from-the-end").Ask
	want := Note{Name: "Omar", Marks: 1, Of: 4, Parts: []NotePart{{"a", 1, 3}, {"b", 0, 1}},
		Good:  []string{"In part a your line of moments about Q is right."},
		Off:   &Off{"a", "P x 2.8 = 308 + 672", "It looks as if the distance of the load is measured from the left end, not from Q."},
		Think: ask, Next: causes[0].Try, Waiting: []string{"b"}}
	if !reflect.DeepEqual(n, want) {
		t.Errorf("got %+v, off %+v", n, n.Off)
	}
	// A decision takes the part off the list of what waits, and is told with its reason.
	r.Parts[1].Override = &mark.Override{Mark: 1, Reason: "the sketch says it"}
	if n := NoteOf(&r); n.Waiting != nil || !reflect.DeepEqual(n.Decided, []string{"Part b: 1 mark. The sketch says it."}) || n.Marks != 2 || n.Good[0] != "Part b is right." {
		t.Errorf("decided: %+v", n)
	}
	right := pupil("Ilse", 3, 1)
	if n := NoteOf(&right); n.Off != nil || n.Think != "" || n.Good[0] != "All of it is right. Well done." || n.Next == "" {
		t.Errorf("all right: %+v", n)
	}
	nothing := Result{Name: "Ken", Parts: []mark.Part{{Part: "a", Of: 3}}}
	if n := NoteOf(&nothing); n.Off != nil || len(n.Good) != 1 || !strings.Contains(n.Good[0], "still time") || n.Next == "" {
		t.Errorf("nothing: %+v", n)
	}
	// A slip that is hardly likely is not asked about.
	doubtful := pupil("Ada", 1, 0, suspect("equal-shares", 0.2))
	if n := NoteOf(&doubtful); n.Think == slip.Named("equal-shares").Ask || n.Think == "" {
		t.Errorf("doubtful: %q", n.Think)
	}
}

// Who forgot only a unit isn't sent back to the forces.
func TestNoteOfAForgottenUnit(t *testing.T) {
	r := pupil("Omar", 0, 0)
	r.Parts[0].Answer.Verdict = mark.AnswerUnit
	if n := NoteOf(&r); n.Off == nil || !strings.Contains(n.Think, "in what unit") || !strings.Contains(n.Next, "its unit") {
		t.Errorf("note %+v", n)
	}
}

// No note gives the answer away, or says what a pupil is like.
func TestNotesAreKind(t *testing.T) {
	for _, s := range slip.Catalogue() {
		r := pupil("Omar", 1, 0, suspect(s.Name, 0.95))
		n := NoteOf(&r)
		all := strings.Join(slices.Concat(n.Good, []string{n.Off.Words, n.Think, n.Next}), " ")
		for _, word := range []string{"wrong", "mistake", "careless", "weak", "always", "never", "fail", "you don't", "misconception"} {
			if strings.Contains(strings.ToLower(all), word) {
				t.Errorf("%s: %q is no kind word in %q", s.Name, word, all)
			}
		}
		if !strings.Contains(n.Think, "?") {
			t.Errorf("%s: %q is no question", s.Name, n.Think)
		}
	}
}
