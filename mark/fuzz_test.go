package mark

import (
	"encoding/json"
	"math"
	"strings"
	"sync"
	"testing"
)

// Whatever is typed, marking gives between nothing and all marks, a reason, and JSON; right answers stay right
// beside it.
func FuzzMark(f *testing.F) {
	f.Add("570 N", "P x 2.8 = 1596\nP = 570")
	f.Add("from 1 m to 2 m", "d = 1/0 = sin()")
	f.Add("-1e999 N at 20° below, 3 m", "0 = 0\n=\n1 = 2 = 3")
	f.Add("\x00≤;&,; 9 N", strings.Repeat("(", 500))
	f.Add("570 N", "2.8Rleft = 1.1Wplank + 2.3 Wkeeper\nWplank - W_P\nMplank = M1 + m2g")
	f.Add("4.2 N m", "ACWM = F x d = 8.4 x 0.5 = 4.2\nm1d1 = m2d2\nMB > MA; g's cancel (divide by g)")
	var keys []*Key
	for _, n := range []string{"puppet-rail", "balanced-rule", "lock-footbridge", "stall-sign", "plank-range", "jetty-deck", "rail-bracket", "bench-on-three-rests", "library-ladder", "jetty-board"} {
		keys = append(keys, keyOf(f, n, Policy{}))
	}
	f.Fuzz(func(t *testing.T, answer, working string) {
		for _, k := range keys {
			var hands []Hand
			for i := range k.parts {
				hands = append(hands, Hand{Pupil: "p", Part: k.parts[i].Name, Answer: answer, Working: working})
			}
			parts := k.Mark(hands)
			if len(parts) != len(k.parts) {
				t.Fatalf("%d parts of %d", len(parts), len(k.parts))
			}
			for _, p := range parts {
				if p.Marks < 0 || p.Marks > p.Of || len(p.Why) == 0 {
					t.Errorf("(%s) %d of %d, %q", p.Part, p.Marks, p.Of, p.Why)
				}
				if p.Answer.Verdict == AnswerNotRead && !p.AskTeacher {
					t.Errorf("(%s) %q was not read, and nobody is told", p.Part, answer)
				}
				if _, err := json.Marshal(p); err != nil {
					t.Errorf("(%s): %v", p.Part, err)
				}
			}
			total := 0.0
			for _, s := range Posterior(Evidence{k, parts}) {
				total += s.Probability
			}
			if !(math.Abs(total-1) < 1e-9) {
				t.Errorf("the probabilities add up to %v", total)
			}
		}
	})
}

// A key may be used by several goroutines at once, and a ring gives one key for one question.
func TestKeysAreShared(t *testing.T) {
	q := keyOf(t, "lock-footbridge", Policy{}).Question
	r := Ring{Policy: Policy{UnitNeeded: No}}
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			k, err := r.Key(q)
			if err != nil {
				t.Error(err)
				return
			}
			for range 20 {
				parts := k.Mark(handsOf("b 600; c 240; d 240 down"))
				if parts[0].Marks != 0 || parts[1].Marks != 1 || parts[2].Marks != 1 {
					t.Errorf("marks %d %d %d", parts[0].Marks, parts[1].Marks, parts[2].Marks)
				}
			}
		})
	}
	wg.Wait()
	a, _ := r.Key(q)
	b, _ := r.Key(q.Clone())
	if a != b {
		t.Error("the same question has two keys")
	}
}
