package mark

import (
	"fmt"
	"math"
	"slices"
	"steelyard/script"
	"strings"

	"steelyard/question"
	"steelyard/slip"
	"steelyard/solution"
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

// A ground is what the marks of one part rest on.
type ground struct {
	x       *partKey
	answer  JudgedAnswer
	lines   []Judged
	methods []*Judged // lines that earn a method mark
	good    []*Judged // of them, those without any slip
	spoilt  *Judged   // the last wrong line, if no right line of a method comes after it
	first   *Judged   // the first wrong line that is more than arithmetic
	unread  int
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
	m.remember(&g)
	return p
}

// sort finds the lines that earn something.
func (g *ground) sort(k *Key) {
	for i := range g.lines {
		j := &g.lines[i]
		switch j.Verdict {
		case NotRead:
			g.unread++
		case Right, Carried:
			if !j.method() {
				continue
			}
			switch {
			case named(&j.Line):
				g.spoilt = nil
				g.methods, g.good = append(g.methods, j), append(g.good, j)
			case g.x.asksMoment(): // numbers alone show a method only where a moment is asked for
				g.methods = append(g.methods, j)
			}
		case Wrong:
			if j.Means == "arithmetic" {
				if g.x.asksMoment() && k.begins(g.x, j) {
					g.methods = append(g.methods, j)
				}
				continue
			}
			if len(g.good) == 0 || j.Slip != "" {
				g.spoilt = j
			}
			if g.first == nil {
				g.first = j
			}
			if permitted(j.Slip) && (j.method() || j.Means == "") && (named(&j.Line) || g.x.asksMoment()) {
				g.methods = append(g.methods, j)
			}
		}
	}
}

// asksMoment reports whether a part asks for a moment of given forces.
func (x *partKey) asksMoment() bool {
	return x.Ask == question.AskMoment || x.Ask == question.AskTotalMoment
}

// named reports whether a line names something that is sought or given, not numbers alone.
func named(l *script.Line) bool {
	for i := range l.Sides {
		if hasName(&l.Sides[i]) {
			return true
		}
	}
	return false
}

func hasName(e *script.Expr) bool {
	if e.Op == script.Name {
		return true
	}
	for i := range e.Args {
		if hasName(&e.Args[i]) {
			return true
		}
	}
	return false
}

// begins reports whether the first side of a line with a wrong sum is a sum of moments as it should be.
func (k *Key) begins(x *partKey, j *Judged) bool {
	if len(j.Line.Sides) < 2 {
		return false
	}
	l := j.Line
	l.Sides = []script.Expr{l.Sides[0], l.Sides[0]}
	first := k.Judge(x.Part, []script.Line{l}, nil)
	return first[0].Verdict == Right && first[0].method()
}

// byAnswer lets the answer tell which slip the lines have, where it is the answer that one leads to: it names a
// wrong line that is still without a name, and takes back the marks of lines that only seem right.
func (m *marker) byAnswer(g *ground) {
	a := &g.answer
	if len(g.lines) == 0 || a.Verdict != AnswerWrong || a.partly || len(g.x.slots) != 1 || math.IsNaN(a.Value) {
		return
	}
	slot := g.x.slots[0]
	s := &m.k.Plan.Slots[slot]
	var fit []*outcome
	var names []string
	for i := range m.k.outcomes {
		o := &m.k.outcomes[i]
		if !o.Cases[0].Touches[slot] || !o.lines[g.x.Name] || math.IsNaN(o.Values[slot]) || s.Margin(o.Values[slot], a.Value) >= 1 || s.Margin(o.Values[slot], s.Right) < 1 {
			continue
		}
		fit = append(fit, o)
		if !slices.Contains(names, o.name) {
			names = append(names, o.name)
		}
	}
	if len(fit) == 0 {
		return
	}
	best, all := fit[0], true
	for _, o := range fit {
		all = all && !o.Cases[0].Slip.TakesMethod()
	}
	for _, o := range fit[1:] {
		if o.Cases[0].Slip.Frequency > best.Cases[0].Slip.Frequency {
			best = o
		}
	}
	all = all && permitted(best.name)
	switch {
	case g.spoilt == nil && g.first == nil && len(g.methods) > 0:
		if len(names) == 1 && onlyInValues(best.name) {
			return
		}
		g.good = nil
		if !all {
			g.methods = nil
		}
	case g.spoilt == nil && len(g.methods) == 0 && g.x.asksMoment() && all:
		for i := range g.lines {
			if j := &g.lines[i]; j.Means == "arithmetic" {
				g.methods = []*Judged{j}
				break
			}
		}
	case g.spoilt != nil && !slices.Contains(names, g.spoilt.Slip):
		j := g.first
		if len(names) == 1 {
			j.Slip, j.Of = best.name, best.of
		}
		g.methods = slices.DeleteFunc(g.methods, func(l *Judged) bool { return l == j })
		if all && (named(&j.Line) || g.x.asksMoment()) {
			g.methods = append(g.methods, j)
		}
	}
}

// method reports whether the line sets up moments, a balance or another relation of the mechanics.
func (j *Judged) method() bool {
	switch m := j.Means; {
	case strings.HasPrefix(m, "moment"), strings.Contains(m, "balance"), strings.Contains(m, "together"), strings.Contains(m, "friction"):
		return true
	}
	return false
}

// permitted reports whether a line with just this slip still shows the method: every force is there, at one
// point. A missing force, a rule put in the place of mechanics, or two slips at once show none.
//
// Source: common practice of mechanics schemes; docs/marking.md has the table.
func permitted(name string) bool {
	s := slip.Named(name)
	if s == nil || s.TakesMethod() {
		return false
	}
	switch name {
	case "weight-left-out", "weight-left-out-of-moments", "load-left-out", "load-left-out-of-moments",
		"other-push-forgotten-end", "other-push-forgotten-middle", "all-from-the-end", "two-pivots", "couple-of-one-force",
		"missing-from-balance", "hinge-only-up", "cable-out-of-balance", "pivot-force-given-moment", "all-turn-one-way",
		"slant-lengths", "whole-force-turns", "normal-is-the-weight", "friction-at-its-limit", "both-still-push", "wrong-edge", "components-added", "multiplied-not-divided":
		return false
	}
	return true
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
	bare := len(g.good) == 0 && len(g.lines) == g.unread
	switch {
	case right && g.spoilt != nil:
		// A right value that the working does not lead to.
		p.AskTeacher = true
		say("the answer is right, but the working has a wrong line: “%s”%s; please look", g.spoilt.Line.Text, off(g.spoilt))
		m.byLines(p, g, false)
	case right && x.Show.Known():
		m.byLines(p, g, g.finds(m.k))
	case right && bare && m.k.Policy.BareAnswer == No && x.method:
		say("working is asked for, and there is none that could be read")
		p.AskTeacher = g.unread > 0
	case right:
		m.full(p, g)
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
	}
}

// excused reports whether a wrong line is none for this pupil: it goes on from an own earlier value, or it counts
// a force the other way whose direction the answer states.
func (m *marker) excused(g *ground) bool {
	j := g.spoilt
	if j.Slip == "turned-the-wrong-way" && g.x.against {
		return true
	}
	if !g.answer.carried {
		return false
	}
	for i := range j.Line.Sides {
		if m.mentions(&j.Line.Sides[i]) {
			return true
		}
	}
	return false
}

// mentions reports whether an expression has one of the pupil's own earlier values in it.
func (m *marker) mentions(e *script.Expr) bool {
	if e.Op == script.Number {
		v := math.Abs(e.Quantity.SI())
		for _, own := range m.own {
			if own = math.Abs(own); own > 0 && math.Abs(v-own) <= 0.005*own {
				return true
			}
		}
	}
	for i := range e.Args {
		if m.mentions(&e.Args[i]) {
			return true
		}
	}
	return false
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

// mayCarry reports whether a value that follows from the pupil's own earlier answer earns the marks. A rule that
// takes the place of mechanics, such as equal shares, would give the same value in both parts: without working
// nobody can tell that it was followed through.
func (m *marker) mayCarry(p *Part, g *ground) bool {
	if len(g.good) > 0 || g.x.Ask == question.AskForceOn {
		return true
	}
	if !m.goesOn(g) {
		p.AskTeacher = true
		p.Why = append(p.Why, "the answer would follow from their own earlier one, but the working doesn't use that; please look")
		return false
	}
	k, slot := m.k, g.x.slots[0]
	for i := range k.outcomes {
		o := &k.outcomes[i]
		if !o.Cases[0].Slip.TakesMethod() || k.Plan.Slots[slot].Margin(g.answer.Value, o.Values[slot]) >= 1 || !o.Cases[0].Touches[slot] ||
			o.Cases[0].Slip.OnLines() && !o.lines[g.x.Name] {
			continue
		}
		for s := range slot {
			if !math.IsNaN(m.own[s]) && !m.shown[s] && o.Cases[0].Touches[s] && k.Plan.Slots[s].Margin(m.own[s], o.Values[s]) < 1 &&
				(g.spoilt != nil || !m.likelier(s, o.Cases[0].Slip.Frequency)) {
				p.AskTeacher = true
				p.Why = append(p.Why, fmt.Sprintf("the answer would follow from their own earlier one, but also from the same assumption (%s); please look",
					lower(o.Cases[0].Slip.Title)))
				return false
			}
		}
	}
	return true
}

// likelier reports whether a slip in a line of mechanics, met more often than f, leads to the pupil's own answer.
func (m *marker) likelier(slot int, f slip.Frequency) bool {
	for i := range m.k.outcomes {
		o := &m.k.outcomes[i]
		s := &o.Cases[0].Slip
		if !s.TakesMethod() && s.Frequency > f && o.Cases[0].Touches[slot] && !math.IsNaN(o.Values[slot]) &&
			m.k.Plan.Slots[slot].Margin(m.own[slot], o.Values[slot]) < 1 {
			return true
		}
	}
	return false
}

// goesOn reports whether an answer that would follow from an own earlier one can have come from it: where it is the
// same number again, working in numbers has to use an own value or a name.
func (m *marker) goesOn(g *ground) bool {
	any := false
	for i := range g.lines {
		j := &g.lines[i]
		if j.Verdict == NotRead || j.Verdict == Statement {
			continue
		}
		any = true
		sides := j.Line.Sides
		if len(sides) > 1 {
			sides = sides[:len(sides)-1]
		}
		for n := range sides {
			if m.mentions(&sides[n]) || hasName(&sides[n]) {
				return true
			}
		}
	}
	// The same number again needs a reason; another one has been worked out.
	for _, own := range m.own {
		if math.Abs(math.Abs(own)-math.Abs(g.answer.Value)) <= 0.005*math.Abs(own) {
			return !any
		}
	}
	return true
}

// again names the slip that an earlier part of this pupil shows and that leads to this answer too.
func (m *marker) again(g *ground) string {
	if len(g.x.slots) != 1 || math.IsNaN(g.answer.Value) || g.spoilt != nil || len(g.lines) == 0 || m.k.Policy.FollowThrough == No {
		return ""
	}
	for _, s := range g.x.scheme { // moments taken anew are judged by themselves
		if s.Kind == solution.ForMoments {
			return ""
		}
	}
	k, slot := m.k, g.x.slots[0]
	title := ""
	for i := range k.outcomes {
		o := &k.outcomes[i]
		if math.IsNaN(o.Values[slot]) || k.Plan.Slots[slot].Margin(o.Values[slot], g.answer.Value) >= 1 {
			continue
		}
		for s := range slot {
			p := &k.Plan.Slots[s]
			if !math.IsNaN(m.own[s]) && p.Margin(m.own[s], p.Right) >= 1 && p.Margin(m.own[s], o.Values[s]) < 1 {
				if o.Cases[0].Slip.TakesMethod() {
					return ""
				}
				if title == "" {
					title = lower(o.Cases[0].Slip.Title)
				}
			}
		}
	}
	return title
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
