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
