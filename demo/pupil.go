package demo

import (
	"math"
	"slices"
	"strings"

	"steelyard/formula"
	"steelyard/homework"
	"steelyard/mark"
	"steelyard/quantity"
	"steelyard/slip"
	"steelyard/solution"
)

// A pupil is somebody who works questions out.
type pupil struct {
	homework.Pupil
	hand
	able  int    // how many of a hundred questions go right
	habit string // a slip that is made again and again; "" is none
	late  int    // how many of a hundred sets are not handed in
}

// habits are slips that a class has several times over, so that there is something to teach again.
var habits = []string{"one-from-the-end", "one-from-the-end", "all-from-the-end", "equal-shares", "equal-shares", "weight-left-out-of-moments",
	"turned-the-wrong-way", "arm-to-other-support", "other-push-forgotten-end", "weight-left-out", "wrong-edge", "added-not-subtracted"}

func newPupil(c chance, p homework.Pupil) pupil {
	out := pupil{Pupil: p, hand: newHand(c), able: 15 + c.IntN(80), late: pick(c, 0, 0, 0, 5, 15, 40)}
	if c.in(65) {
		out.habit = pick(c, habits...)
	}
	return out
}

// work is what a pupil writes for one item.
func (p *pupil) work(c chance, k *mark.Key, item int) []homework.Answer {
	w := worker{pupil: p, chance: c, key: k, item: item, found: map[string]float64{}}
	if !c.in(p.able) {
		w.slip = p.choose(c, k)
	}
	var out []homework.Answer
	for i := range k.Question.Parts {
		a := w.part(i)
		a.Item, a.Part = item, k.Question.Parts[i].Name
		if a.Answer != "" || a.Working != "" {
			out = append(out, a)
		}
	}
	return out
}

// choose is the slip that this pupil makes here: their own if it can be made, else one of those that are met often. Nil is
// none after all.
func (p *pupil) choose(c chance, k *mark.Key) *slip.Outcome {
	var list []*slip.Outcome
	total := 0.0
	for _, o := range k.Outcomes() {
		if o.Hidden || len(o.Cases) != 1 {
			continue
		}
		if o.Cases[0].Slip.Name == p.habit && c.in(80) {
			return o
		}
		list = append(list, o)
		total += o.Cases[0].Slip.Frequency.Weight()
	}
	at := c.Float64() * total
	for _, o := range list {
		if at -= o.Cases[0].Slip.Frequency.Weight(); at < 0 {
			return o
		}
	}
	return nil
}

// A worker works one question out, part after part.
type worker struct {
	*pupil
	chance
	key   *mark.Key
	item  int
	slip  *slip.Outcome      // nil: none
	found map[string]float64 // what this pupil has found so far, SI, by name
}

// part is what is written for part i.
func (w *worker) part(i int) (a homework.Answer) {
	r := &w.key.Answers.Results[i]
	shown, off := w.shown(i)
	a.Answer = w.hand.answer(w.chance, shown)
	lines := w.rightly(i)
	if off {
		lines = w.wrongly(i, shown)
	}
	w.remember(i)
	if w.in(w.silent) {
		lines = nil
	}
	a.Working = strings.Join(lines, "\n")
	if r.Part.Marks > 1 && w.in(20) {
		return w.untidy(a, i, shown)
	}
	if !off && w.slot(i) >= 0 && w.in(5) { // a sum that goes wrong at the end
		a.Answer = w.hand.answer(w.chance, w.key.Plan.Shown(1.1*w.value(i), w.slot(i)))
	}
	return a
}

// slot is the plan's slot of part i; −1 if none.
func (w *worker) slot(i int) int {
	name := w.key.Question.Parts[i].Name
	return slices.IndexFunc(w.key.Plan.Slots, func(s slip.Slot) bool { return s.Part == name })
}

// value is the pupil's own value for part i, SI; NaN if it is none.
func (w *worker) value(i int) float64 {
	s := w.slot(i)
	if s < 0 {
		return math.NaN()
	}
	if w.slip != nil && !math.IsNaN(w.slip.Values[s]) && w.slip.Shown[s] != "" {
		return w.slip.Values[s]
	}
	return w.key.Plan.Slots[s].Right
}

// shown is the pupil's answer to part i as a careful person would write it, and whether a slip has touched it.
func (w *worker) shown(i int) (text string, off bool) {
	right := quantity.Plain(w.key.Answers.Results[i].Shown)
	name := w.key.Question.Parts[i].Name
	if w.slip == nil {
		return right, false
	}
	var wrong []string
	for s := range w.key.Plan.Slots {
		if w.key.Plan.Slots[s].Part == name && w.slip.Shown[s] != "" {
			wrong = append(wrong, strings.TrimPrefix(strings.TrimPrefix(quantity.Plain(w.slip.Shown[s]), "-"), "−"))
		}
	}
	if len(wrong) == 0 {
		return right, false
	}
	text = strings.Join(wrong, " to ")
	for _, sense := range []string{" up", " down", " to the left", " to the right", " clockwise", " anticlockwise"} {
		if strings.HasSuffix(right, sense) && w.in(70) {
			text += sense
		}
	}
	return text, true
}

// rightly is the working of part i as the solution has it.
func (w *worker) rightly(i int) []string {
	route := w.route(i)
	if route == nil {
		return nil
	}
	var lines []string
	for _, s := range route.Steps {
		for _, l := range s.Lines {
			lines = append(lines, w.hand.line(formula.Text(l.Formula)))
		}
	}
	if w.brief && len(lines) > 2 {
		lines = append(lines[:1:1], lines[len(lines)-1])
	}
	return w.headed(route, lines)
}

// headed puts what moments are taken about before the lines.
func (w *worker) headed(route *solution.Route, lines []string) []string {
	if !w.heads || route.Working == nil || len(route.Working.Moves) == 0 || len(lines) == 0 {
		return lines
	}
	e := route.Working.Moves[0].Equation
	if e.Kind != solution.Moments || e.Pivot.Name == "" {
		return lines
	}
	return append([]string{pick(w.chance, "moments about ", "Moments about ", "taking moments about ", "about ") + e.Pivot.Name}, lines...)
}

func (w *worker) route(i int) *solution.Route {
	if r := w.key.Solution.Parts[i].Routes; len(r) > 0 {
		return &r[0]
	}
	return nil
}

// wrongly is working with the slip in it, or that goes on from where the slip has led.
func (w *worker) wrongly(i int, shown string) []string {
	var lines []string
	for k := range w.slip.Lines {
		if l := &w.slip.Lines[k]; l.Part == w.key.Question.Parts[i].Name && (l.Move >= 0 || l.Changed != nil) {
			lines = append(lines, w.hand.line(l.Plain()))
		}
	}
	route := w.route(i)
	if len(lines) == 0 {
		if line, ok := w.goesOn(i); ok {
			lines = append(lines, w.hand.line(line))
		}
		return lines
	}
	if !w.brief && route != nil && !strings.Contains(lines[len(lines)-1], "M") {
		if last := lastLine(route); len(last.Args) > 0 && !strings.Contains(shown, " to ") {
			size, _, _ := strings.Cut(shown, " ")
			lines = append(lines, w.hand.line(formula.Text(last.Args[0]))+" = "+size)
		}
	}
	if route == nil {
		return lines
	}
	return w.headed(route, lines)
}

func lastLine(route *solution.Route) formula.Node {
	for k := len(route.Steps) - 1; k >= 0; k-- {
		if lines := route.Steps[k].Lines; len(lines) > 0 {
			return lines[len(lines)-1].Formula
		}
	}
	return formula.Node{}
}

// goesOn is the one equation of a part, with the values that the pupil has found before in it.
func (w *worker) goesOn(i int) (string, bool) {
	route := w.route(i)
	if w.slip == nil || route == nil || route.Working == nil || len(route.Working.Moves) != 1 || route.Working.Moves[0].With != nil {
		return "", false
	}
	work := route.Working
	found := slices.Clone(work.Start())
	uses := false
	for k, u := range work.Unknowns() {
		if v, ok := w.found[u.Name+u.Letter]; ok && k < len(found) && !math.IsNaN(found[k]) {
			found[k] = v
			uses = true
		}
	}
	if !uses {
		return "", false
	}
	m := work.Moves[0]
	return formula.Text(work.Line(m.Equation, m.Gives, found)), true
}

// remember keeps what the pupil has found in part i for later ones.
func (w *worker) remember(i int) {
	route := w.route(i)
	if route == nil || route.Working == nil {
		return
	}
	if v := w.value(i); !math.IsNaN(v) {
		if u := work(route.Working); u != nil {
			w.found[u.Name+u.Letter] = v
		}
	}
}

// work is the unknown that a working ends with.
func work(w *solution.Working) *solution.Unknown {
	list, at := w.Unknowns(), w.Target()
	if at < 0 || at >= len(list) {
		return nil
	}
	return &list[at]
}

// untidy makes an answer into what a marker can't read or had better not judge alone.
func (w *worker) untidy(a homework.Answer, i int, shown string) homework.Answer {
	size, _, _ := strings.Cut(shown, " ")
	switch w.IntN(9) {
	case 0, 8:
		a.Answer = pick(w.chance, "idk", "idk", "?", "half of it", "see my drawing")
	case 1:
		a.Answer = "about " + size + " ish"
	case 2:
		a.Answer = size // no unit
	case 3:
		a.Working = pick(w.chance, "did it on my calculator", "clockwise = anticlockwise\nF1d1=F2d2+F3d3 -> ans", "see sketch in my book (p 14)")
	case 4:
		a.Working += "\n" + pick(w.chance, "=> cancel the d's??", "W*d/l ~~ half of it", "{ both sides / 2 }", "this one goes the other way ↻")
	case 5: // the right answer under a line that doesn't lead to it
		w.spoil(&a, i)
	case 6:
		a.Answer = size + pick(w.chance, " Nm", " kg", " Newtons or so", "n")
	default:
		a.Answer = ""
	}
	return a
}

// spoil puts the line of a slip over the answer of part i.
func (w *worker) spoil(a *homework.Answer, i int) {
	o := w.choose(w.chance, w.key)
	if o == nil || w.slip != nil {
		return
	}
	for k := range o.Lines {
		if l := &o.Lines[k]; l.Part == w.key.Question.Parts[i].Name {
			a.Working = w.hand.line(l.Plain())
			return
		}
	}
}
