package review

import (
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/question"
	"steelyard/solution"
)

func review(t *testing.T, text string) string {
	t.Helper()
	q, err := question.Parse("test.moments", text)
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
	return Review(a, s).Error()
}

const good = `question "Lock footbridge"
level 16-18
body plank: uniform, length 4.80 m, weight 300 N, "footbridge"
support P: rest, on plank at 0.70 m, "left sill"
support Q: rest, on plank at 3.70 m, "right sill"
load K: weight 600 N, on plank at 1.25 m, "keeper"
part a: find force P marks 3
part b: find force Q marks 1
`

func TestGoodQuestionHasNoDoubts(t *testing.T) {
	if got := review(t, good); got != "" {
		t.Errorf("got %s", got)
	}
}

// Each row changes the good question in one way, and names the doubt that this must raise.
func TestDoubts(t *testing.T) {
	tests := []struct{ name, old, new, want string }{
		{"shared equally: weight and load both midway between the supports",
			"at 0.70 m", "at 1.10 m;on plank at 1.25 m;on plank at 2.40 m", "right answer can be had by a wrong method: Each support takes half"},
		{"the answer stands in the wording: P is 620 N",
			"level 16-18", "level 16-18\ntext \"A {plank.length} uniform footbridge of weight {plank.weight} on the left sill P at {P.at} and the right sill Q at {Q.at}. A keeper, {K.weight}, stands at {K.at}. Another weighs 620 N.\"", "part a: the answer, 620 N, stands in the wording"},
		{"two slips with one answer: the keeper's place read from the end, or the bridge turned the wrong way",
			"weight 300 N", "weight 280 N;on plank at 3.70 m;on plank at 3.50 m;weight 600 N, on plank at 1.25 m;weight 560 N, on plank at 1.20 m", "the answers cannot tell two slips apart: One distance read from the end"},
		{"too many marks", "marks 3", "marks 9", "part a has 9 marks for 1 equation;"},
		{"a long sentence", "level 16-18", "level 14-16\ntext \"A uniform footbridge, {plank.length} long and of weight {plank.weight}, rests on two sills, P at {P.at} and Q at {Q.at} from its left end, while the lock keeper, whose weight is {K.weight}, stands still at {K.at} and waits for a boat to come through the lock.\"", "words is long for 14-16"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			text := good
			changes := strings.Split(test.new, ";")
			text = strings.Replace(text, test.old, changes[0], 1)
			for i := 1; i+1 < len(changes); i += 2 {
				text = strings.Replace(text, changes[i], changes[i+1], 1)
			}
			if got := review(t, text); !strings.Contains(got, test.want) {
				t.Errorf("want %q, got %q", test.want, got)
			}
		})
	}
}

func TestUnused(t *testing.T) {
	text := strings.Replace(good, "part a: find force P marks 3\npart b: find force Q marks 1", "part a: find furthest K towards right marks 3", 1)
	if got := review(t, text); !strings.Contains(got, "no answer depends on P.at, 0.70 m") || strings.Contains(got, "K.at") {
		t.Errorf("the left sill does not matter where it tips about the right one; got %q", got)
	}
}

func TestTooFewMarks(t *testing.T) {
	text := `question "Ladder"
body ladder: uniform, length 4.00 m, weight 140 N, angle 68 deg
support F: floor, on ladder at foot, rough
support W: wall, on ladder at top, smooth
part a: find least coefficient F marks 1
`
	if got := review(t, text); !strings.Contains(got, "part a needs 4 equations but has 1 mark;") {
		t.Errorf("got %q", got)
	}
}

// 62.25 N to three figures could be 62.2 N or 62.3 N; 62.24 N and 62.3 N could not.
func TestTies(t *testing.T) {
	for v, want := range map[float64]bool{62.25: true, 62.24: false, 62.3: false, 0.012345: false, 1235: true, 1234: false, 2.675: true, 0: false, 99.95: true} {
		if got := tie(v, 3); got != want {
			t.Errorf("%g: got %t", v, got)
		}
	}
	text := `question "Sluice bar"
body bar: light, length 1.60 m
support P: pivot, on bar at 0.80 m
load K: weight 62.25 N, on bar at 0 m
load E: weight unknown, on bar at 1.60 m
part a: find weight E marks 3
`
	if got := review(t, text); !strings.Contains(got, "part a: the answer is a tie: 62.25 lies exactly between two values of 3 figures") {
		t.Errorf("got %q", got)
	}
}

// Doubts that would be none: what no numbers could mend, and values that a part shows itself.
func TestNoDoubtAboutWhatNoNumbersMend(t *testing.T) {
	alone := strings.Replace(good, "part b: find force Q marks 1\n", "", 1)
	if got := review(t, alone); strings.Contains(got, "Left the weight out everywhere") {
		t.Errorf("with one part asked, no numbers tell where the weight was left out; got %q", got)
	}
	held := `question "Bar held down"
level 16-18
body bar: uniform, length 6.00 m, weight 210 N, "bar"
support P: strap, on bar at 0.20 m
support Q: rest, on bar at 1.40 m
part a: find force P marks 3
`
	if got := review(t, held); strings.Contains(got, "sign") || strings.Contains(got, "minus") {
		t.Errorf("whatever the numbers are, a size has no sign; got %q", got)
	}
	shown := strings.Replace(good, "part a: find force P marks 3\npart b: find force Q marks 1",
		"part a: show force P is 620 N marks 3\npart b: find force Q marks 1 \"The sill P pushes with 620 N. Calculate the force of the sill Q.\"", 1)
	if got := review(t, shown); strings.Contains(got, "stands in the wording") {
		t.Errorf("a value that is to be shown may stand in the wording; got %q", got)
	}
}
