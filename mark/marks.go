package mark

import (
	"fmt"
	"math"
	"strings"

	"steelyard/script"
)

// Mark marks what one pupil handed in for the question, in the order of its parts whatever the order of hands.
// Parts that are not in the question are marked with a reason and the teacher is asked; of two hands for one
// part the last counts, and the teacher is asked.
func (k *Key) Mark(hands []Hand) []Part {
	own := make([]float64, len(k.Plan.Slots))
	for i := range own {
		own[i] = math.NaN()
	}
	m := marker{k: k, own: own, found: map[string]float64{}, shown: make([]bool, len(own))}
	parts := make([]Part, 0, len(hands))
	for i := range k.parts {
		var hand *Hand
		twice := false
		for h := range hands {
			if k.Part(hands[h].Part) == i {
				twice, hand = hand != nil, &hands[h]
			}
		}
		if hand == nil {
			continue
		}
		p := m.part(&k.parts[i], hand)
		if twice {
			p.AskTeacher = true
			p.Why = append(p.Why, "there are two answers for this part; the last was marked")
		}
		parts = append(parts, p)
	}
	for h := range hands {
		if k.Part(hands[h].Part) < 0 {
			parts = append(parts, Part{Pupil: hands[h].Pupil, Part: hands[h].Part, AskTeacher: true, Answer: JudgedAnswer{Value: math.NaN()},
				Why: []string{fmt.Sprintf("the question has no part %q; it has %s", hands[h].Part, k.partNames())}})
		}
	}
	m.suspect(parts)
	return parts
}

func (k *Key) partNames() string {
	names := make([]string, len(k.parts))
	for i := range k.parts {
		names[i] = "(" + k.parts[i].Name + ")"
	}
	return strings.Join(names, ", ")
}

// A marker goes through one pupil's parts.
type marker struct {
	k       *Key
	own     []float64          // by slot: the pupil's answers where they are not right, with the sign of the right ones
	charged bool               // a unit has cost a mark
	found   map[string]float64 // the pupil's earlier values by name
	shown   []bool             // by slot: working showed a method
}

// part marks one part.
func (m *marker) part(x *partKey, h *Hand) Part {
	k := m.k
	p := Part{Pupil: h.Pupil, Part: x.Name, Of: x.Marks}
	g := ground{x: x, lines: k.judged(x, h.Working, m.found)}
	p.Lines = g.lines
	g.sort(k)
	g.answer = k.judgeAnswer(x, readAnswer(h.Answer), m.own)
	if g.answer.Verdict == NoAnswer {
		m.fromLines(&g)
	}
	if g.answer.carried && !m.mayCarry(&p, &g) {
		g.answer.carried, g.answer.Verdict = false, AnswerWrong
	}
	m.byAnswer(&g)
	p.Answer = g.answer
	m.award(&p, &g)
	p.Why = append(p.Why, g.notes()...)
	m.ambiguous(&p, h.Working)
	m.remember(&g)
	return p
}

// ambiguous says how names that could mean several things were taken, where marks were lost. A line counts as right in
// any reading that makes it so, and as wrong only if none does, so the teacher need not be asked.
func (m *marker) ambiguous(p *Part, working string) {
	if p.Marks == p.Of || len(p.Lines) == 0 {
		return
	}
	p.Why = append(p.Why, m.k.Ambiguous(m.k.parts[m.k.Part(p.Part)].Part, script.Read(working), m.found)...)
}

// fromLines takes the answer from the last line that gives a value, where the answer's own place is empty.
func (m *marker) fromLines(g *ground) {
	for i := len(g.lines) - 1; i >= 0; i-- {
		j := &g.lines[i]
		if j.Finds == "" || math.IsNaN(j.Value) || j.Verdict == NotRead || j.Verdict == Statement {
			continue
		}
		a := readAnswer(lastValue(j.Line.Text))
		if !a.Read {
			return
		}
		v := m.k.judgeAnswer(g.x, a, m.own)
		if v.Verdict == AnswerNotRead || v.Verdict == NoAnswer {
			return
		}
		if v.Note == "" {
			v.Note = "taken from the working"
		}
		g.answer = v
		return
	}
}

// lastValue is what stands after the last sign of equality.
func lastValue(text string) string {
	if i := strings.LastIndexAny(text, "=≈"); i >= 0 {
		return strings.TrimLeft(text[i:], "=≈ ")
	}
	return text
}

// remember keeps the pupil's own answer for later parts, if it isn't the right one.
func (m *marker) remember(g *ground) {
	x, a := g.x, &g.answer
	for i := range g.lines {
		if j := &g.lines[i]; j.Finds != "" && !math.IsNaN(j.Value) {
			m.found[j.Finds] = j.Value
		}
	}
	if len(x.slots) != 1 || math.IsNaN(a.Value) {
		return
	}
	s := &m.k.Plan.Slots[x.slots[0]]
	if a.Verdict == AnswerNotRead || a.Verdict == NoAnswer {
		return
	}
	if !math.IsNaN(x.printed) { // a printed value takes the place of theirs
		m.own[x.slots[0]] = x.printed
		return
	}
	v := math.Abs(a.Value)
	if s.Right < 0 {
		v = -v
	}
	if d := a.Read.Direction; a.Value < 0 && s.Right > 0 || d != "" && x.points[opposite[d]] && !x.points[d] {
		v = -v
	}
	m.own[x.slots[0]] = v
	for _, j := range g.methods {
		m.shown[x.slots[0]] = m.shown[x.slots[0]] || named(&j.Line)
	}
	if name := m.k.Sought(x.Part); name != "" {
		m.found[name] = v
	}
}
