package mark

import (
	"fmt"
	"math"
	"strings"

	"steelyard/question"
	"steelyard/slip"
	"steelyard/solution"
)

// award gives the marks of one part and says why.
func (m *marker) award(p *Part, g *ground) {
	x, a := g.x, &g.answer
	right := a.Verdict == AnswerRight || a.Verdict == AnswerCarried || a.Verdict == AnswerUnit || a.Verdict == AnswerFigures || a.partly
	say := func(format string, v ...any) { p.Why = append(p.Why, fmt.Sprintf(format, v...)) }
	switch {
	case a.Verdict == NoAnswer && len(g.lines) == 0:
		say("nothing was handed in")
		return
	case a.Verdict == AnswerNotRead:
		p.AskTeacher = true
		say("please look at the answer: %s", orElse(a.Note, "it could not be read"))
	}
	if a.doubt {
		p.AskTeacher = true
	}
	if right && g.spoilt != nil && m.excused(g) {
		g.spoilt = nil
	}
	bare := len(g.good) == 0 && len(g.lines) == g.unread+g.open
	switch {
	case right && g.spoilt != nil:
		// A right value that the working does not lead to.
		p.AskTeacher = true
		say("the answer is right, but the working has a wrong line: “%s”%s; please look", g.spoilt.Line.Text, off(g.spoilt))
		m.byLines(p, g, false)
	case right && m.contradicts(g):
		p.AskTeacher = true
		say("the working ends with another value than the answer; please look")
		m.full(p, g)
	case right && x.Show.Known():
		m.byLines(p, g, g.finds(m.k))
	case right && bare && m.k.Policy.BareAnswer == No && x.method:
		say("working is asked for, and there is none that could be read")
		p.AskTeacher = g.unread > 0
	case right:
		m.full(p, g)
		m.unjudged(p, g)
	case a.Verdict == AnswerWrong && m.again(g) != "":
		p.AskTeacher = true
		say("the same slip as before (%s) leads to this answer, and is not punished again; please look", m.again(g))
		m.full(p, g)
	default:
		m.byLines(p, g, false)
		if g.unread > 0 && p.Marks < p.Of && len(x.scheme) > 1 {
			p.AskTeacher = true
			say("%s could not be read and may earn marks; please look", count(g.unread, "line"))
		}
		if g.open > 0 && p.Marks < p.Of && len(x.scheme) > 1 {
			p.AskTeacher = true
			say("%s could not be judged, since no equilibrium fixes the forces, and may earn marks; please look", count(g.open, "line"))
		}
	}
}

// unjudged asks the teacher about working that stands under a right answer and that nothing was said of: it may hold
// what no person would let pass.
func (m *marker) unjudged(p *Part, g *ground) {
	ask := func(why string) {
		p.AskTeacher = true
		p.Why = append(p.Why, "the answer is right, "+why+"; please look")
	}
	bornOut := g.x.guessable() && m.bornOut(g)
	switch {
	case len(g.good) > 0 || bornOut:
	case g.x.guessable() && len(g.lines) > g.unread:
		ask("and one of two; no line of the working bears it out")
	case g.open > 0 && len(g.methods) == 0:
		ask("but " + count(g.open, "line") + " of the working could not be judged, since no equilibrium fixes the forces")
	case g.equated != nil:
		ask("but the working sets equal what is not: “" + g.equated.Line.Text + "”" + off(g.equated))
	}
}

// notes says why right lines are right that look otherwise, each reason once.
func (g *ground) notes() []string {
	var list []string
	said := ""
	for i := range g.lines {
		if j := &g.lines[i]; j.Note != "" && j.Note != said {
			said = j.Note
			list = append(list, "“"+j.Line.Text+"”: "+j.Note)
		}
	}
	return list
}

func orElse(a, b string) string {
	if a == "" {
		return b
	}
	return a
}

func count(n int, what string) string {
	if n == 1 {
		return "one " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func off(j *Judged) string {
	switch {
	case j.Off != "":
		return " (" + j.Off + ")"
	case j.Slip != "":
		if s := slip.Named(j.Slip); s != nil {
			return " (" + strings.ToLower(s.Title[:1]) + s.Title[1:] + ")"
		}
	}
	return ""
}

// contradicts reports whether the last line that gives the force asked for gives another value than the answer.
func (m *marker) contradicts(g *ground) bool {
	name := m.k.Sought(g.x.Part)
	if name == "" || g.x.result.Unit != "N" && g.x.Ask != question.AskMoment || math.IsNaN(g.answer.Value) {
		return false
	}
	for i := len(g.lines) - 1; i >= 0; i-- {
		if j := &g.lines[i]; j.Finds == name && !math.IsNaN(j.Value) {
			v, a := math.Abs(j.Value), math.Abs(g.answer.Value)
			if g.x.Ask == question.AskMoment && v > 0 && a > 0 { // 420 may be in N cm
				v /= math.Pow10(int(math.Round(math.Log10(v / a))))
			}
			return math.Abs(v-a) > 0.03*max(v, a)
		}
	}
	return false
}

// finds reports whether a right line ends with the value that is to be shown.
func (g *ground) finds(k *Key) bool {
	if len(g.x.slots) != 1 {
		return false
	}
	want := math.Abs(k.Plan.Slots[g.x.slots[0]].Right)
	for _, j := range g.lines {
		if (j.Verdict == Right || j.Verdict == Carried) && j.Finds != "" && math.Abs(math.Abs(j.Value)-want) <= 0.005*want {
			return true
		}
	}
	return false
}

func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// full gives every mark that a right final answer shows to be earned, less what its unit, figures or missing
// direction cost.
func (m *marker) full(p *Part, g *ground) {
	x, a := g.x, &g.answer
	lost := ""
	switch {
	case a.partly:
		lost = a.Note
	case a.Verdict == AnswerFigures && m.k.Policy.FiguresNeeded != No:
		lost = a.Note
	case a.Verdict == AnswerUnit && m.k.Policy.UnitNeeded != No && !x.Show.Known():
		if m.charged {
			p.Why = append(p.Why, a.Note+"; this has cost a mark once already")
			break
		}
		m.charged = true
		lost = a.Note
	}
	for i, s := range x.scheme {
		switch {
		case lost != "" && i == len(x.scheme)-1:
			p.Why = append(p.Why, withheld(s, lost))
		case s.Kind == solution.ForAnswer || i == len(x.scheme)-1:
			how := "the answer is right"
			if a.Verdict == AnswerWrong {
				how = "the answer follows"
			}
			if a.carried {
				how = "the answer is right for their own earlier answer"
			}
			p.Marks++
			p.Why = append(p.Why, given(s, how))
		default:
			p.Marks++
			p.Why = append(p.Why, given(s, "implied by the answer"))
		}
	}
	if a.Note != "" && lost == "" && a.Verdict != AnswerUnit {
		p.Why = append(p.Why, a.Note)
	}
}

func given(s solution.Mark, why string) string { return s.Code + " for " + s.For + ": " + why }
func withheld(s solution.Mark, why string) string {
	return s.Code[:1] + "0 for " + s.For + ": " + why
}

// byLines gives the marks that lines of working earn; answered says that the last value counts too.
func (m *marker) byLines(p *Part, g *ground, answered bool) {
	x := g.x
	methods, arms := distinct(g.methods), 0
	for _, s := range x.scheme {
		if s.Kind == solution.ForArms || s.Kind == solution.ForForces {
			arms++
		}
	}
	// Each right line earns its share of the marks for lines that are right throughout.
	good := min(arms, (arms*distinct(g.good)+x.methods()-1)/max(1, x.methods()))
	any := len(g.methods) > 0
	earned := false
	for _, s := range x.scheme {
		ok, why := false, ""
		switch s.Kind {
		case solution.ForMoments, solution.ForBalance, solution.ForLimit:
			if ok = methods > 0; ok {
				why = line(g.methods[max(0, min(len(g.methods), distinct(g.methods))-methods)])
				methods--
			}
			earned = earned || ok
		case solution.ForArms, solution.ForForces:
			if ok = good > 0; ok {
				good--
				why = line(g.good[0])
			}
		case solution.ForZero:
			ok, why = any, "implied by the line without that force"
		case solution.ForWeight, solution.ForPieces:
			ok, why = len(g.good) > 0, "implied by a right line"
			if !ok && any && !weighing(g.methods[0].Slip) {
				ok, why = true, "implied by the line"
			}
		case solution.ForSolving, solution.ForValue, solution.ForPlace:
			for _, j := range g.good {
				if j.Finds != "" && s.Kind != solution.ForPlace {
					ok, why = true, line(j)
				}
			}
		default:
			ok, why = answered && (earned || !x.method), "reached in the working"
		}
		if ok {
			p.Marks++
			p.Why = append(p.Why, given(s, why))
			continue
		}
		p.Why = append(p.Why, withheld(s, m.lacking(g, s)))
	}
	if p.Marks < p.Of && g.answer.Verdict == AnswerWrong && m.valueInLines(g) {
		p.AskTeacher = true
		p.Why = append(p.Why, "the working reaches the right value, the answer given is another; please look")
	}
}

// weighing reports whether a slip is about how a weight is found.
func weighing(name string) bool {
	switch name {
	case "mass-as-force", "one-mass-as-force", "times-g-again", "per-metre-as-force", "spread-from-the-pivot":
		return true
	}
	return false
}

// methods is how many lines of a method the scheme wants.
func (x *partKey) methods() int {
	n := 0
	for _, s := range x.scheme {
		if s.Kind == solution.ForMoments || s.Kind == solution.ForBalance || s.Kind == solution.ForLimit {
			n++
		}
	}
	return n
}

// lacking says in plain words what a mark wants.
func (m *marker) lacking(g *ground, s solution.Mark) string {
	a := &g.answer
	switch {
	case s.Kind == solution.ForAnswer && a.Verdict == NoAnswer:
		return "no answer"
	case s.Kind == solution.ForAnswer && a.Verdict == AnswerNotRead:
		return "the answer could not be read"
	case s.Kind == solution.ForAnswer && a.Note != "":
		return a.Note
	case s.Kind == solution.ForAnswer && (a.Verdict == AnswerRight || a.Verdict == AnswerCarried):
		return "the working does not lead to it"
	case s.Kind == solution.ForAnswer:
		return fmt.Sprintf("“%s” is not right", strings.TrimSpace(a.Read.Text))
	case g.spoilt != nil:
		return "“" + g.spoilt.Line.Text + "”" + off(g.spoilt)
	case len(g.lines) == 0:
		return "no working"
	}
	return "not found in the working"
}

func line(j *Judged) string {
	s := "“" + j.Line.Text + "”"
	if j.Verdict == Wrong {
		return s + " has every force; one slip is let pass" + off(j)
	}
	if j.Verdict == Carried {
		return s + " follows from their own earlier line"
	}
	return s + ", " + j.Means
}

// distinct counts lines that say different things.
func distinct(list []*Judged) int {
	n := 0
	for i, j := range list {
		seen := false
		for _, l := range list[:i] {
			seen = seen || l.Means == j.Means
		}
		if !seen {
			n++
			if strings.Contains(j.Means, "together") {
				n++
			}
		}
	}
	return n
}

// valueInLines reports whether a right line gives the right value.
func (m *marker) valueInLines(g *ground) bool {
	if len(g.x.slots) != 1 {
		return false
	}
	s := &m.k.Plan.Slots[g.x.slots[0]]
	for _, j := range g.good {
		if j.Finds != "" && s.Margin(j.Value, s.Right) < 1 {
			return true
		}
	}
	return false
}
