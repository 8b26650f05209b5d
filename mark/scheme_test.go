package mark

import (
	"math"
	"strings"
	"testing"

	"steelyard/bank"
	"steelyard/formula"
)

// The worked solution of every question, each part by each of its routes, gets full marks when it is typed in as
// working, and the teacher is not asked in vain more than rarely.
func TestWorkedSolutionsGetFullMarks(t *testing.T) {
	all, lost, asked := 0, 0, 0
	for _, name := range bank.Names() {
		k := keyOf(t, strings.TrimSuffix(name, ".moments"), Policy{})
		for i := range k.parts {
			for _, route := range k.Solution.Parts[i].Routes {
				var b strings.Builder
				for _, s := range route.Steps {
					for _, l := range s.Lines {
						b.WriteString(formula.Text(l.Formula) + "\n")
					}
				}
				p := k.Mark([]Hand{{Pupil: "1", Part: k.parts[i].Name, Answer: k.parts[i].result.Shown, Working: b.String()}})[0]
				all++
				if p.AskTeacher {
					asked++
				}
				if p.Marks != p.Of {
					lost++
					t.Logf("%s (%s) by %s: %d of %d, ask %v\n\t%s\n\t%s", name, p.Part, route.Name, p.Marks, p.Of, p.AskTeacher, strings.Join(p.Why, "\n\t"), lines(p.Lines))
					if !p.AskTeacher {
						t.Errorf("%s (%s) by %s: valid physics refused", name, p.Part, route.Name)
					}
				}
			}
		}
	}
	t.Logf("%d routes: %d without full marks, %d sent to the teacher", all, lost, asked)
	if lost > all/50 {
		t.Errorf("%d of %d routes do not get full marks", lost, all)
	}
}

// The wrong lines of every slip, with the answers that they lead to, never get full marks in the part where the
// slip is made, and most are found.
func TestWrongLinesOfSlips(t *testing.T) {
	all, named := 0, 0
	for _, name := range bank.Names() {
		k := keyOf(t, strings.TrimSuffix(name, ".moments"), Policy{})
		for i := range k.outcomes {
			o := &k.outcomes[i]
			for s := range k.Plan.Slots {
				slot := &k.Plan.Slots[s]
				x := &k.parts[k.Part(slot.Part)]
				if !o.lines[slot.Part] || len(x.slots) != 1 || math.IsNaN(o.Values[s]) || slot.Margin(o.Values[s], slot.Right) < 3 {
					continue
				}
				var b strings.Builder
				for _, l := range o.Lines {
					if l.Part == slot.Part {
						b.WriteString(l.Plain() + "\n")
					}
				}
				p := k.Mark([]Hand{{Pupil: "1", Part: slot.Part, Answer: k.Plan.Shown(o.Values[s], s), Working: b.String()}})[0]
				all++
				if p.Marks == p.Of {
					t.Errorf("%s: %s: (%s) has full marks:\n%s\t%s", name, o.Name(), p.Part, b.String(), strings.Join(p.Why, "\n\t"))
				}
				if found(&p, []string{o.name}) {
					named++
				}
				break
			}
		}
	}
	t.Logf("%d wrong lines with their answers: the slip is found or among the two likeliest in %d (%.1f %%)", all, named, 100*float64(named)/float64(all))
	if float64(named) < 0.75*float64(all) {
		t.Errorf("only %d of %d slips are found", named, all)
	}
}

// A right answer under the wrong line of a slip doesn't get full marks without the teacher being asked: it cannot
// come from that line. A few of these lines are right in another reading (moments about the other end, the
// distance from another point, numbers that happen to agree): they are counted. Lines that were not read don't
// count against a pupil.
func TestRightAnswersUnderWrongLines(t *testing.T) {
	all, let := 0, 0
	for _, name := range bank.Names() {
		k := keyOf(t, strings.TrimSuffix(name, ".moments"), Policy{})
		for i := range k.outcomes {
			o := &k.outcomes[i]
			for s := range k.Plan.Slots {
				slot := &k.Plan.Slots[s]
				x := &k.parts[k.Part(slot.Part)]
				if !o.lines[slot.Part] || len(x.slots) != 1 || math.IsNaN(o.Values[s]) || slot.Margin(o.Values[s], slot.Right) < 3 || onlyInValues(o.name) {
					continue
				}
				var b strings.Builder
				for _, l := range o.Lines {
					if l.Part == slot.Part && l.Move >= 0 {
						b.WriteString(l.Plain() + "\n")
					}
				}
				if b.Len() == 0 {
					break
				}
				p := k.Mark([]Hand{{Pupil: "1", Part: slot.Part, Answer: x.result.Shown, Working: b.String()}})[0]
				all++
				unread := false
				for _, j := range p.Lines {
					unread = unread || j.Verdict == NotRead
					if j.Verdict == Wrong && p.Marks == p.Of && !p.AskTeacher {
						t.Errorf("%s: %s: (%s) a wrong line, and full marks: %s", name, o.Name(), p.Part, lines(p.Lines))
					}
				}
				if p.Marks == p.Of && !p.AskTeacher && !unread {
					let++
					t.Logf("%s: %s: (%s) %s has full marks: %s", name, o.Name(), p.Part, x.result.Shown, lines(p.Lines))
				}
				break
			}
		}
	}
	t.Logf("%d wrong lines over right answers: %d get full marks unasked", all, let)
	if let > all/100 {
		t.Errorf("%d wrong lines get full marks", let)
	}
}
