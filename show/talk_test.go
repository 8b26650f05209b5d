package show_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/bank"
	"steelyard/draw"
	"steelyard/figure"
	"steelyard/formula"
	"steelyard/question"
	"steelyard/show"
	"steelyard/solution"
)

// all are the questions of the bank, and odd ones: some that move, some whose forces are not fixed.
var all = func() []string {
	odd, _ := filepath.Glob("../solution/testdata/*.moments")
	odder, _ := filepath.Glob("../solution/testdata/odd/*.moments")
	return slices.Concat(bank.Names(), odd, odder)
}()

// talk makes the talk of a question.
func talk(t testing.TB, name string) *show.Talk {
	t.Helper()
	src, err := bank.Files.ReadFile(name)
	if strings.Contains(name, "/") {
		src, err = os.ReadFile(name)
	}
	if err != nil {
		t.Fatal(err)
	}
	q, err := question.Parse(name, string(src))
	if err != nil {
		t.Fatal(err)
	}
	a, err := answer.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	s, err := solution.Solve(a)
	if err != nil {
		t.Fatal(err)
	}
	k, err := show.Make(a, s)
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// numbers finds numbers as they are printed and as they are said.
var numbers = regexp.MustCompile(`\d+(?:\.\d+)?`)

func TestEveryQuestionIsExplained(t *testing.T) {
	for _, name := range all {
		k := talk(t, name)
		seen := map[string]bool{}
		for i, s := range k.Steps {
			if seen[s.ID] || s.ID == "" {
				t.Errorf("%s: step %d has the ID %q, which is taken or empty", name, i, s.ID)
			}
			seen[s.ID] = true
			if s.Title == "" || s.Say == "" {
				t.Errorf("%s %s: no title or nothing to say", name, s.ID)
			}
			if s.New > len(s.Lines) {
				t.Errorf("%s %s: %d new lines of %d", name, s.ID, s.New, len(s.Lines))
			}
		}
		if len(k.Steps) < 3 {
			t.Errorf("%s: only %d steps", name, len(k.Steps))
		}
	}
}

// unsaid finds a unit left as a symbol behind its number.
var unsaid = regexp.MustCompile(`\d (?:N|kN|m|mm|cm|kg|g|N m)\b`)

// A teacher reads the script aloud; whoever only hears it hears every number that is shown.
func TestTheWordsHoldEveryNewNumberInOrderAndNoSymbol(t *testing.T) {
	for _, name := range all {
		for _, s := range talk(t, name).Steps {
			if i := strings.IndexAny(s.Say, "=×÷−_°²³√μθαβ±≤≥<>/^*\\·"); i >= 0 {
				t.Errorf("%s %s: a symbol is left in the words: %q", name, s.ID, s.Say)
			}
			if m := unsaid.FindString(s.Say); m != "" {
				t.Errorf("%s %s: the unit of %q is not said", name, s.ID, m)
			}
			said := numbers.FindAllString(s.Say, -1)
			for _, l := range s.Lines[len(s.Lines)-s.New:] {
				if l.Grows {
					continue // said as it grows, whole when it is whole
				}
				for _, n := range numbers.FindAllString(strings.NewReplacer("\u2009", "", "\u202f", "").Replace(formula.Text(l.Formula)), -1) {
					i := slices.Index(said, n)
					if i < 0 {
						t.Errorf("%s %s: %s of %q is not said in its turn: %q", name, s.ID, n, formula.Text(l.Formula), s.Say)
						break
					}
					said = said[i+1:]
				}
			}
		}
	}
}

// What isn't shown yet keeps its room: the bodies stand where they stood.
func TestThePictureHoldsStill(t *testing.T) {
	for _, name := range all {
		k := talk(t, name)
		o := figure.Options{Width: 440, TextSize: 12}
		first := k.Picture(0, o)
		bodies := map[string]string{}
		for i, s := range k.Steps {
			p := k.Picture(i, o)
			if p.Width != first.Width || p.Height != first.Height {
				t.Errorf("%s %s: the picture's size changes from %v × %v to %v × %v", name, s.ID, first.Width, first.Height, p.Width, p.Height)
			}
			if s.Kind != show.Moment && s.Kind != show.Numbers {
				clear(bodies)
				continue
			}
			for _, m := range p.Marks {
				if g, ok := m.(draw.Group); ok && strings.HasPrefix(g.ID, "body") {
					now := fmt.Sprint(g.Marks)
					if was := bodies[g.ID]; was != "" && was != now {
						t.Errorf("%s %s: %s moves", name, s.ID, g.ID)
					}
					bodies[g.ID] = now
				}
			}
		}
	}
}

func TestATalkThatStopsGivesNoArithmeticAway(t *testing.T) {
	for _, name := range all {
		k := talk(t, name).Stopped()
		for _, s := range k.Steps {
			if s.Sum {
				t.Errorf("%s %s: arithmetic is left", name, s.ID)
			}
			for _, l := range s.Lines[len(s.Lines)-s.New:] { // F = 3 N × 2 is a sum; F = 3 N is what is given
				if n := l.Formula; n.Op == formula.Equals && len(n.Args) > 2 && n.Args[len(n.Args)-1].Op == formula.Num && s.Kind != show.Forces {
					t.Errorf("%s %s: %s is worked out", name, s.ID, formula.Text(n))
				}
			}
		}
		if last := k.Steps[len(k.Steps)-1]; last.Ask == "" {
			t.Errorf("%s: it ends without a question", name)
		}
	}
}

func BenchmarkTalk(b *testing.B) {
	for b.Loop() {
		k := talk(b, "lock-footbridge.moments")
		for i := range k.Steps {
			k.Picture(i, figure.Options{Width: 440, TextSize: 12})
		}
	}
}

// A part is explained in as many steps as a teacher would take; what another part has found, or what is a limit that
// nothing sets, takes fewer.
func TestEveryKindOfPartHasItsSteps(t *testing.T) {
	least := map[question.Ask]int{
		question.AskMoment: 4, question.AskTotalMoment: 5, question.AskResultant: 5, question.AskForceOn: 3, question.AskWhether: 4,
		question.AskRange: 10, question.AskFurthest: 8, question.AskGreatest: 6, question.AskLeast: 7, question.AskCentre: 7, question.AskPosition: 7,
	}
	for _, name := range bank.Names() {
		src, _ := bank.Files.ReadFile(name)
		q, err := question.Parse(name, string(src))
		if err != nil {
			t.Fatal(err)
		}
		k := talk(t, name)
		for _, p := range q.Parts {
			steps := slices.DeleteFunc(slices.Clone(k.Steps), func(s show.Step) bool { return s.Part != p.Name })
			if len(steps) < least[p.Ask] {
				t.Errorf("%s, part %s: %d steps, not %d", name, p.Name, len(steps), least[p.Ask])
			}
		}
	}
}

// The moment of a force: the point, the force with its distance and sense, the product in symbols, in numbers, worked out.
func TestAMomentIsBuiltUp(t *testing.T) {
	var kinds []show.Kind
	var lines []string
	for _, s := range talk(t, "rail-resultant.moments").Steps {
		if s.Part != "a" {
			continue
		}
		kinds = append(kinds, s.Kind)
		for _, l := range s.Lines[len(s.Lines)-s.New:] {
			lines = append(lines, formula.Text(l.Formula))
		}
	}
	if want := []show.Kind{show.Pivot, show.Moment, show.Moment, show.Moment, show.Moment, show.Numbers, show.Result}; !slices.Equal(kinds, want) {
		t.Errorf("the steps are of the kinds %v, not %v", kinds, want)
	}
	want := []string{"M = W_A d_A", "M = W_A d_A + W_B d_B", "M = W_A d_A + W_B d_B − F_E d_E", "M = W_A d_A + W_B d_B − F_E d_E + C",
		"M = 60 N × 0.40 m + 90 N × 1.30 m − 30 N × 2.20 m + 12 N m", "M = 24 N m + 117 N m − 66 N m + 12 N m = 87.0 N m"}
	for i := range lines {
		lines[i] = strings.NewReplacer("\u00a0", " ", "\u2009", " ", "\u202f", "").Replace(lines[i])
	}
	if !slices.Equal(lines, want) {
		t.Errorf("the lines are\n%s\nnot\n%s", strings.Join(lines, "\n"), strings.Join(want, "\n"))
	}
}

// Where pupils finish a part themselves, no line of that part has been worked out, and the parts before are whole.
func TestATalkStopsInTheNamedPart(t *testing.T) {
	whole := talk(t, "lock-footbridge.moments")
	k := whole.StoppedIn("b")
	last := k.Steps[len(k.Steps)-1]
	if last.ID != show.Yours || last.Part != "b" || last.Ask == "" {
		t.Fatalf("it ends with %+v", last)
	}
	answered := map[string]bool{}
	for _, s := range k.Steps {
		answered[s.Part] = answered[s.Part] || s.Kind == show.Result
		if s.Part == "b" && s.Sum {
			t.Errorf("%s is arithmetic of part b", s.ID)
		}
	}
	if !answered["a"] || answered["b"] || answered["c"] {
		t.Errorf("answered are %v", answered)
	}
	if got := whole.StoppedIn("nowhere"); len(got.Steps) != len(whole.Stopped().Steps) {
		t.Error("a part that isn't there does not stop at the first arithmetic")
	}
}

// turnsWords finds how the script says that a force turns a body.
var turnsWords = regexp.MustCompile(`^(.+?) turns .*?\b(clockwise|anticlockwise)\b`)

// The picture turns a force the way that the script says, while it is only taken to act so as well as when it is known.
func TestThePictureTurnsAsTheScriptSays(t *testing.T) {
	looked, taken := 0, 0
	for _, name := range all {
		k := talk(t, name)
		for i, s := range k.Steps {
			m := turnsWords.FindStringSubmatch(s.Say)
			if s.Kind != show.Moment || m == nil {
				continue
			}
			words := k.Picture(i, figure.Options{Width: 400}).Description
			_, lit, yes := strings.Cut(words, "Set off from the others: the ")
			if !yes || strings.Contains(lit, ",") {
				continue // taken together, or one of several that share a name
			}
			lit = strings.TrimSuffix(strings.TrimSpace(lit), ".")
			said := strings.ToLower(lit[:1]) + lit[1:]
			for sentence := range strings.SplitSeq(words, ". ") {
				if !strings.HasPrefix(strings.ToLower(sentence), strings.ToLower(said)+",") {
					continue
				}
				looked++
				clockwise := (m[2] == "clockwise") != strings.Contains(s.Say, "came out negative, so in truth it turns it the other way")
				if strings.HasSuffix(strings.TrimSuffix(sentence, "."), " clockwise") != clockwise {
					t.Errorf("%s, %s: %q, but drawn is %q", name, s.ID, m[0], sentence)
				}
			}
		}
	}
	for _, name := range []string{"awning-arm.moments"} {
		k := talk(t, name)
		for i, s := range k.Steps {
			words, way := k.Picture(i, figure.Options{Width: 400}).Description, "up"
			if s.Part == "" && s.Kind != show.Check || s.Kind == show.Arrangement || s.Kind == show.Points {
				continue
			}
			if s.ID == "c-4" || s.Part == "" {
				way = "down"
			}
			_, after, _ := strings.Cut(words, "ertical force of H")
			if first, _, _ := strings.Cut(after, "."); !strings.Contains(after, way) || way == "up" && !strings.Contains(first, "not found yet, up") {
				t.Errorf("%s: the force at H should point %s: %q", s.ID, way, words)
			} else {
				taken++
			}
		}
	}
	if looked < 100 || taken < 15 {
		t.Errorf("%d moments and %d steps were looked at: the test looks in the wrong place", looked, taken)
	}
}
