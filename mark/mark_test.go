package mark

import (
	"math"
	"strings"
	"testing"

	"steelyard/bank"
	"steelyard/question"
)

// keyOf makes the key of a question of the bank.
func keyOf(t testing.TB, name string, p Policy) *Key {
	t.Helper()
	text, err := bank.Files.ReadFile(name + ".moments")
	if err != nil {
		t.Fatal(err)
	}
	q, err := question.Parse(name, string(text))
	if err != nil {
		t.Fatal(err)
	}
	k, err := NewKey(q, p)
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// handsOf puts answers, written "a 570 N; b 270 N", into hands.
func handsOf(text string) []Hand {
	var hands []Hand
	for s := range strings.SplitSeq(text, ";") {
		part, answer, _ := strings.Cut(strings.TrimSpace(s), " ")
		hands = append(hands, Hand{Pupil: "1", Part: part, Answer: answer})
	}
	return hands
}

// Every right answer of the bank, as the key shows it, gets full marks.
func TestRightAnswersGetFullMarks(t *testing.T) {
	for _, name := range bank.Names() {
		k := keyOf(t, strings.TrimSuffix(name, ".moments"), Policy{})
		var hands []Hand
		for i := range k.parts {
			hands = append(hands, Hand{Pupil: "1", Part: k.parts[i].Name, Answer: k.parts[i].result.Shown})
		}
		for i, p := range k.Mark(hands) {
			if p.Marks != p.Of && !k.parts[i].Show.Known() {
				t.Errorf("%s (%s): %q has %d of %d: %s", name, p.Part, hands[i].Answer, p.Marks, p.Of, strings.Join(p.Why, "; "))
			}
		}
	}
}

// Every wrong answer that a slip leads to, and that is far enough from the right one, gets less than full marks
// where it first goes off, and what follows from it rightly is not punished again.
// An answer that a slip leads to takes nothing back from a right line that doesn't lead to it: a pupil may have left an old
// answer standing, or pressed a wrong key. A line that gives that answer only seems right.
func TestARightLineStaysRight(t *testing.T) {
	for _, x := range []struct {
		key, part, working, answer string
		marks                      int
	}{
		{"stall-sign", "a", "T sin40 * 1.4 = 60*0.7+80*1.1", "92.9 N", 2}, // as if the whole of T turned
		{"stall-sign", "a", "T * 1.4 = 60*0.7+80*1.1", "92.9 N", 0},
		{"lock-footbridge", "b", "P x 2.8 = 280 x 1.1 + 560 x 2.3", "420 N", 1},         // equal shares
		{"lock-footbridge", "b", "P x 2.8 = 280 x 1.1 + 560 x 2.3 = 1596", "1596 N", 1}, // not divided
		{"lock-footbridge", "b", "P = (280 + 560)/2 = 420", "420 N", 0},
		{"spanner", "a", "M = 80 x 250 x sin65 = 18126", "18126 N m", 1}, // millimetres left as they were: the method is there
	} {
		got := keyOf(t, x.key, Policy{}).Mark([]Hand{{Pupil: "1", Part: x.part, Working: x.working, Answer: x.answer}})
		if got[0].Marks != x.marks {
			t.Errorf("%s (%s), %q with %q: %d marks, want %d: %v", x.key, x.part, x.working, x.answer, got[0].Marks, x.marks, got[0].Why)
		}
	}
}

func TestSlipsCostOnce(t *testing.T) {
	for _, name := range bank.Names() {
		k := keyOf(t, strings.TrimSuffix(name, ".moments"), Policy{})
		for i := range k.outcomes {
			o := &k.outcomes[i]
			var hands []Hand
			first, clear := -1, true
			for s := range k.Plan.Slots {
				slot := &k.Plan.Slots[s]
				off := slot.Margin(o.Values[s], slot.Right)
				x := &k.parts[k.Part(slot.Part)]
				if math.IsNaN(o.Values[s]) || len(x.slots) != 1 || !asksPlace(x.Ask) && (x.stated || o.Values[s] < 0) {
					clear = clear && first >= 0
					continue
				}
				if o.Values[s]*slot.Right < 0 {
					off, clear = 100, clear && asksPlace(x.Ask) // a moment is often given as a size
				}
				if first < 0 && off > 0.01 {
					first, clear = len(hands), clear && off > 6
				}
				hands = append(hands, Hand{Pupil: "1", Part: slot.Part, Answer: k.Plan.Shown(o.Values[s], s)})
			}
			if first < 0 || !clear {
				continue
			}
			got := k.Mark(hands)
			if p := got[first]; p.Marks == p.Of {
				t.Errorf("%s: %s: (%s) %q has full marks", name, o.Name(), p.Part, hands[first].Answer)
			}
		}
	}
}

func TestAnswers(t *testing.T) {
	tests := []struct {
		key, answers string
		marks        string
		ask          bool
		policy       Policy
	}{
		{"mooring-plank", "a 100 N; b 220 N", "3 1", false, Policy{}},
		{"mooring-plank", "a 0.1 kN; b 0.22 kN", "3 1", false, Policy{}},
		{"mooring-plank", "a 100; b 220", "2 1", false, Policy{}}, // a unit costs once a question
		{"mooring-plank", "a 100; b 220", "3 1", false, Policy{UnitNeeded: No}},
		{"mooring-plank", "a 100 m; b 220 N", "2 1", false, Policy{}},
		{"mooring-plank", "a 120 N; b 200 N", "0 1", false, Policy{}}, // 320 − 120
		{"mooring-plank", "a 120 N; b 200 N", "0 0", false, Policy{FollowThrough: No}},
		{"mooring-plank", "a 160 N; b 160 N", "0 0", true, Policy{}}, // equal shares: the same assumption twice
		{"mooring-plank", "a 100 N down; b 220 N", "2 1", false, Policy{}},
		{"mooring-plank", "a -100 N; b 220 N", "2 1", true, Policy{}},
		{"mooring-plank", "a 100 kN; b 220 N", "0 1", false, Policy{}},
		{"mooring-plank", "a 100.6 N; b 222.3 N", "3 0", false, Policy{}}, // 0.6 %, 1.05 % and not the rounded value
		{"lock-footbridge", "d 270 N down", "1", false, Policy{}},
		{"lock-footbridge", "d 270 N up", "0", false, Policy{}},
		{"lock-footbridge", "d 270 N", "0", false, Policy{}},
		{"lock-footbridge", "d -270 N", "1", false, Policy{}},
		{"lock-footbridge", "c 300 N; d 300 N down", "0 1", false, Policy{}},
		{"lock-footbridge", "e 4.05 m", "3", false, Policy{}},
		{"lock-footbridge", "e 405 cm", "3", false, Policy{}},
		{"lock-footbridge", "e 4.0 m", "3", false, Policy{}}, // an exact tie: both neighbours
		{"lock-footbridge", "e 4.1 m", "3", false, Policy{}},
		{"lock-footbridge", "e 4.2 m", "0", false, Policy{}},
		{"lock-footbridge", "e 0.55 m", "0", false, Policy{}},
		{"lock-footbridge", "a 1600 N m anticlockwise", "2", false, Policy{}},
		{"lock-footbridge", "a 1600 N m clockwise", "1", false, Policy{}},
		{"lock-footbridge", "b", "0", false, Policy{}},
		{"lock-footbridge", "b banana", "0", true, Policy{}},
		{"lock-footbridge", "z 4", "0", true, Policy{}},
		{"lock-footbridge", "b 570 N", "0", false, Policy{BareAnswer: No}},
		// What is not one plain number is for the teacher.
		{"lock-footbridge", "b 570 N or 600 N", "0", true, Policy{}},
		{"lock-footbridge", "b 570 N 600 N", "0", true, Policy{}},
		{"lock-footbridge", "b not 570 N", "0", true, Policy{}},
		{"lock-footbridge", "b 57O N", "0", true, Policy{}},
		{"lock-footbridge", "b 5.7 x 10^2 N", "2", false, Policy{}},
		{"lock-footbridge", "b P = 1596/2.8 = 570 N", "2", false, Policy{}},
		{"lock-footbridge", "b 570,0 N", "2", false, Policy{}},
		{"lock-footbridge", "b 570 J", "1", false, Policy{}},
		{"lock-footbridge", "b 58.1 kg", "0", false, Policy{}},
		{"lock-footbridge", "d 270 N towards the ground", "0", true, Policy{}},
		{"lock-footbridge", "d 270 N down on the plank", "0", false, Policy{}},
		{"lock-footbridge", "e 0.75 m from the right-hand end", "0", true, Policy{}},
		{"lock-footbridge", "e 0.55 m from Q", "0", true, Policy{}},
		{"lock-footbridge", "e 4 m", "2", false, Policy{}}, // a single figure
		{"stall-sign", "d 120 N at 23° below the horizontal", "2", false, Policy{}},
		{"stall-sign", "d 120 N at 67° to the vertical", "3", false, Policy{}},
		{"stall-sign", "d 120 N", "2", false, Policy{}},
		{"jetty-deck", "a 636 N, 2.94 m", "3", false, Policy{}},
		{"jetty-deck", "a 636 N", "2", false, Policy{}},
		{"launching-board", "b 960 N down", "2", false, Policy{}},
		{"launching-board", "b 960 N", "1", false, Policy{}},
		{"leaning-pole", "a 18.7 N; b 0.31", "3 3", false, Policy{}},
		{"leaning-pole", "b 0.3", "2", false, Policy{}}, // one figure only
		{"leaning-pole", "b 0.31 N", "2", false, Policy{}},
		{"leaning-pole", "a 37.5 N; b 0.625", "0 3", false, Policy{}},
		{"spanner", "a 18.1 N m; b 18.1 N m", "2 1", false, Policy{}},
		{"spanner", "a 1810 N cm", "2", false, Policy{}},
		{"plank-range", "a 0.6 m to 3.12 m", "5", false, Policy{}},
		{"plank-range", "a between 0.60 and 3.12 m", "5", false, Policy{}},
		{"plank-range", "a 0.6 m", "0", true, Policy{}},
		{"library-ladder", "d it stays", "2", false, Policy{}},
		{"library-ladder", "d no, it slips", "0", false, Policy{}},
		{"library-ladder", "d does not slip", "2", false, Policy{}},
		{"library-ladder", "d no", "2", false, Policy{}}, // whether it slips
		{"library-ladder", "d yes", "0", false, Policy{}},
		{"library-ladder", "d unbalanced", "0", false, Policy{}},
		{"library-ladder", "d it is not unbalanced", "2", false, Policy{}},
		{"puppet-rail", "c no", "2", false, Policy{}}, // "Does the rail stay level? If not, …": the scheme has no mark for the way
		{"puppet-rail", "c yes", "0", false, Policy{}},
		{"mass-of-a-rule", "a 100 g", "3", false, Policy{}},
		{"mass-of-a-rule", "a 0.1 kg", "3", false, Policy{}},
		{"mass-of-a-rule", "a 0.98 N", "0", false, Policy{}},
		{"mass-of-a-rule", "a 110 g; b 1.08 N", "0 1", false, Policy{}},
		{"bench-on-three-rests", "a cannot be found", "2", false, Policy{}},
		{"bench-on-three-rests", "a 167 N", "0", false, Policy{}},
		{"rail-bracket", "a 0.63 m, 0.12 m", "4", false, Policy{}},
		{"stall-sign", "d 120 N at 23.1° above the horizontal", "3", false, Policy{}},
	}
	for _, x := range tests {
		k := keyOf(t, x.key, x.policy)
		got := k.Mark(handsOf(x.answers))
		var marks []string
		ask := false
		var why []string
		for _, p := range got {
			marks = append(marks, string(rune('0'+p.Marks)))
			ask = ask || p.AskTeacher
			why = append(why, p.Why...)
		}
		if s := strings.Join(marks, " "); s != x.marks || ask != x.ask {
			t.Errorf("%s, %q: marks %s, ask %v; want %s, %v\n\t%s", x.key, x.answers, s, ask, x.marks, x.ask, strings.Join(why, "\n\t"))
		}
	}
}
