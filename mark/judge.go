package mark

import (
	"math"
	"slices"
	"strings"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/script"
	"steelyard/slip"
	"steelyard/statics"
)

// A judge knows the equilibrium of a question's bodies, to hold lines of working against it.
//
// A line is right if it holds at the true values and follows from the equations of equilibrium: as a linear
// condition on the forces and places that it names, it must be a combination of the true ones (to first order,
// at the true values). So any pivot, any direction, any arrangement and any mixture counts.
type judge struct {
	main  *scene
	limit map[string][]*scene // by part
}

// newJudge makes the arrangements ready.
func newJudge(a *answer.Answers) *judge {
	j := &judge{limit: map[string][]*scene{}}
	reactions := a.Solution.Reactions
	if a.State == statics.NoEquilibrium || a.State == statics.NotFixed {
		reactions = nil
	}
	j.main = newScene(a.Layout, reactions)
	for i := range a.Results {
		r := &a.Results[i]
		for _, l := range []*answer.Layout{r.Layout, r.Other} {
			if l == nil || l == a.Layout {
				continue
			}
			sol, err := statics.Solve(&l.System)
			if err != nil {
				continue
			}
			reactions := sol.Reactions
			if sol.State == statics.NoEquilibrium || sol.State == statics.NotFixed {
				// The dust of the last digits can be enough to tip it over the limit.
				if reactions = atLimit(l, r.GivingAt); reactions == nil {
					continue
				}
			}
			s := newScene(l, reactions)
			s.limit = true
			s.given = append(s.given, j.main.given...) // what is sought at the limit may be given elsewhere
			j.limit[r.Part.Name] = append(j.limit[r.Part.Name], s)
		}
	}
	return j
}

// theJudge is the key's judge.
func (k *Key) theJudge() *judge {
	if k.judge != nil {
		return k.judge
	}
	return newJudge(k.Answers)
}

// scenes lists the arrangements that working of a part may be about.
func (j *judge) scenes(part *question.Part) []*scene {
	if part == nil {
		return []*scene{j.main}
	}
	return append(append([]*scene(nil), j.limit[part.Name]...), j.main)
}

// Judge holds lines of working against the mechanics of the question, one after another; part says what the
// working is for, found the pupil's earlier values by name (see Sought), in SI units.
//
// A line that could not be read, or whose names could mean nothing in the question, is never wrong.
func (k *Key) Judge(part *question.Part, lines []script.Line, found map[string]float64) []Judged {
	out := k.judgeLines(part, lines, found)
	for _, letter := range [...]string{"m", "N"} {
		// 42m is forty-two metres, or forty-two times the mass m where the pupil has called it so.
		again, ok := asName(lines, letter)
		if !ok {
			continue
		}
		if other := k.judgeLines(part, again, found); sounder(other, out) {
			out = other
		}
	}
	return out
}

// sounder reports whether one reading of some working makes more of it right than another.
func sounder(a, b []Judged) bool {
	count := func(list []Judged) (n int) {
		for i := range list {
			switch list[i].Verdict {
			case Right, Carried:
				n++
			case Wrong:
				n--
			}
		}
		return n
	}
	return count(a) > count(b)
}

// asName reads the unit m or N after numbers as the name that the pupil uses elsewhere in the working; false if
// they don't.
func asName(lines []script.Line, letter string) ([]script.Line, bool) {
	name, unit := false, false
	var look func(e *script.Expr)
	look = func(e *script.Expr) {
		name = name || e.Op == script.Name && e.Text == letter
		unit = unit || e.Op == script.Number && e.Quantity.Unit.Symbol == letter
		for i := range e.Args {
			look(&e.Args[i])
		}
	}
	for i := range lines {
		for k := range lines[i].Sides {
			look(&lines[i].Sides[k])
		}
	}
	if !name || !unit {
		return nil, false
	}
	var turn func(e script.Expr) script.Expr
	turn = func(e script.Expr) script.Expr {
		if e.Op == script.Number && e.Quantity.Unit.Symbol == letter {
			n := e
			n.Quantity.Unit = quantity.Unit{}
			return script.Expr{Op: script.Multiply, From: e.From, To: e.To, Args: []script.Expr{n, {Op: script.Name, Text: letter, From: e.From, To: e.To}}}
		}
		args := make([]script.Expr, len(e.Args))
		for i := range e.Args {
			args[i] = turn(e.Args[i])
		}
		e.Args = args
		return e
	}
	again := slices.Clone(lines)
	for i := range again {
		again[i].Sides = slices.Clone(again[i].Sides)
		for k := range again[i].Sides {
			again[i].Sides[k] = turn(again[i].Sides[k])
		}
	}
	return again, true
}

// judgeLines judges lines as they were read.
func (k *Key) judgeLines(part *question.Part, lines []script.Line, found map[string]float64) []Judged {
	j := k.theJudge()
	w := &working{k: k, part: part, own: map[string]float64{}, places: j.scenes(part)}
	w.bound = make([]map[int]meaning, len(w.places))
	for name, v := range found {
		if !w.truly(name, v) {
			w.own[name] = v
		}
	}
	out := make([]Judged, len(lines))
	for i := range lines {
		if a := lines[i].About; a != "" {
			w.about = a
		}
		out[i] = w.judge(&lines[i])
		if rest, ok := withoutFormula(&lines[i]); ok && (out[i].Verdict == NotRead || out[i].Means == notJudged) {
			out[i] = w.judge(&rest)
			out[i].Line = lines[i]
		}
		if word := w.passedOver(&lines[i]); out[i].Verdict == Wrong && word != "" {
			out[i] = Judged{Line: lines[i], Verdict: NotRead, Value: math.NaN(), Off: "it is not clear how “" + word + "” is meant"}
		}
		w.remember(&out[i])
		w.last = out[i].Means
	}
	return out
}

// passedOver is a word beside an equation that may be a letter closed up with a name of the question: 2.3 Wkeeper.
func (w *working) passedOver(l *script.Line) string {
	for _, word := range l.Words {
		m := namer{s: w.places[0], part: w.part}
		if m.closedUp(word) {
			return word
		}
	}
	return ""
}

// Ambiguous lists the names in some working that could mean several things in the question, in words for the
// teacher: what was taken, and what else it could be.
func (k *Key) Ambiguous(part *question.Part, lines []script.Line, found map[string]float64) []string {
	j := k.theJudge()
	w := &working{k: k, part: part, own: map[string]float64{}, places: j.scenes(part)}
	w.bound = make([]map[int]meaning, len(w.places))
	for i := range lines {
		if a := lines[i].About; a != "" {
			w.about = a
		}
		w.judge(&lines[i])
	}
	return w.doubts
}

// working is the state of judging one piece of working.
type working struct {
	k       *Key
	part    *question.Part
	places  []*scene
	about   string
	names   nameList
	bound   []map[int]meaning // by scene: what names have turned out to mean
	own     map[string]float64
	forms   []form
	c       compiled
	doubts  []string
	last    string  // what the line before was about
	raw     float64 // the value that the line just judged ends with, as typed, and its name
	rawName int
	places0 []ownPlace
	retry   *trial
	// guessed: some number of the line was taken for a force that was found.
	guessed bool
	rival   bool // two factors of a product could both be forces
	seen    []meaningsOf
}

type meaningsOf struct {
	scene, name int
	about       string
	list        []meaning
}

// meanings lists what a name may mean, from memory where it was met before.
func (w *working) meanings(scene, name int) []meaning {
	for i := range w.seen {
		if m := &w.seen[i]; m.scene == scene && m.name == name && m.about == w.about {
			return m.list
		}
	}
	list := w.places[scene].meanings(w.names.texts[name], w.part, w.about)
	w.seen = append(w.seen, meaningsOf{scene, name, w.about, list})
	return list
}

// truly reports whether a value is the true one of that name.
func (w *working) truly(key string, v float64) bool {
	for _, s := range w.places {
		if !s.limit && w.places[0].limit && strings.HasSuffix(key, " position") {
			continue // where it is at the limit is meant
		}
		if t, ok := s.value(key); ok && near(v, t) {
			return true
		}
	}
	return false
}

// value is the true value kept under a key.
func (s *scene) value(key string) (float64, bool) {
	for i := range s.cols {
		if s.key(i) == key {
			return s.cols[i].value, true
		}
		if c := &s.cols[i]; c.kind == weightOf && c.name+" mass" == key {
			return c.value / s.l.Field, true
		}
	}
	if x, y := s.column(acrossOf, key), s.column(uprightOf, key); x >= 0 && y >= 0 {
		return math.Hypot(s.cols[x].value, s.cols[y].value), true
	}
	if x, y := s.column(frictionOf, key), s.column(normalOf, key); x >= 0 && y >= 0 {
		return math.Hypot(s.cols[x].value, s.cols[y].value), true
	}
	return 0, false
}

// near reports whether v counts as t in marking, whatever its sign.
func near(v, t float64) bool {
	v, t = math.Abs(v), math.Abs(t)
	return math.Abs(v-t) <= slip.Tolerance*max(v, t)
}

// agrees reports whether a typed number is a rounded form of t, or as near to it as marking allows. One figure
// is too few to round to.
func agrees(q *quantity.Quantity, v, t float64) bool {
	d := math.Abs(v - t)
	if d <= slip.Tolerance*math.Abs(t) {
		return true
	}
	return q.Figures >= 2 && d <= half(q)*(1+1e-9) && d <= 0.05*math.Abs(t)
}

// A trial is how a line came out with one choice of meanings.
type trial struct {
	scene  int
	mode   int
	chosen []meaning // by number of the name in the line
	names  []int
	links  []link
	holds  int
	sound  bool
}

// A link joins two neighbouring sides of a line.
type link struct {
	arithmetic bool // no names on either side
	holds      bool
	total      bool // one side is a total that the pupil names
	residual   float64
	slack      float64
	grad       []float64 // by column
	sound      bool      // the structure is that of the true equations
	cancel     bool      // it holds only because slips cancel
}

// notJudged is said of a line about bodies that move, or that equilibrium leaves open: no force in it can be right or wrong.
const notJudged = "not judged: nothing here fixes the forces"

// judge judges one line.
func (w *working) judge(l *script.Line) Judged {
	j := Judged{Line: *l, Verdict: Statement, Value: math.NaN()}
	switch l.Kind {
	case script.NotRead:
		j.Verdict = NotRead
		return j
	case script.Statement:
		return j
	}
	w.c.reset()
	var nameIDs []int
	for i := range l.Sides {
		w.c.sides = append(w.c.sides, w.c.add(&l.Sides[i], &w.names, false, false))
	}
	for i := range w.c.leaves {
		if n := w.c.leaves[i].name; n >= 0 && !contains(nameIDs, n) {
			nameIDs = append(nameIDs, n)
		}
	}
	if len(nameIDs) > 6 {
		j.Verdict = NotRead
		j.Off = "too many names in one line"
		return j
	}
	if l.Kind == script.Value {
		return w.lone(l, j)
	}
	if len(nameIDs) == 0 {
		return w.arithmetic(l, j)
	}
	if principle(l) {
		j.Means = "the principle of moments, in letters"
		return j
	}
	best, unclear := w.tryAll(l, nameIDs)
	if unclear != "" {
		j.Verdict, j.Off = NotRead, "it is not clear what “"+unclear+"” stands for"
		return j
	}
	if best == nil {
		if w.momentsOnly(l, &j) {
			return j
		}
		j.Verdict = Statement
		j.Means = notJudged
		return j
	}
	return w.conclude(l, j, best)
}

func contains(list []int, x int) bool {
	for _, y := range list {
		if x == y {
			return true
		}
	}
	return false
}

// tryAll tries the meanings of the line's names, in every arrangement, until the line is right. It names the
// name that can mean nothing.
func (w *working) tryAll(l *script.Line, ids []int) (best *trial, unclear string) {
	var first *trial
	fixed := false
	for si, s := range w.places {
		if !s.fixed {
			continue
		}
		fixed = true
		lists := make([][]meaning, len(ids))
		missing := ""
		for i, id := range ids {
			if m, ok := w.bound[si][id]; ok {
				lists[i] = []meaning{m}
				continue
			}
			lists[i] = w.meanings(si, id)
			if len(lists[i]) == 0 {
				missing = w.names.texts[id]
			}
		}
		if missing != "" {
			unclear = missing
			continue
		}
		for mode := range modes {
			if mode == unitless && !w.mixed(l) || mode == literal && !w.guessed || mode == latter && !w.rival {
				continue
			}
			t := w.combine(l, si, ids, lists, mode)
			if t != nil && t.sound {
				w.bind(si, t, lists)
				return t, ""
			}
			if t != nil && mode == usual && (first == nil || t.holds > first.holds) {
				first = t
			}
		}
		// A name bound before may be used for something else now.
		rebound := false
		for i, id := range ids {
			if _, ok := w.bound[si][id]; ok {
				if list := w.meanings(si, id); len(list) > 1 {
					lists[i], rebound = list, true
				}
			}
		}
		if rebound {
			if t := w.combine(l, si, ids, lists, 0); t != nil && t.sound {
				return t, ""
			}
		}
	}
	if first == nil && !fixed {
		return nil, ""
	}
	if first == nil {
		if unclear == "" {
			return nil, ""
		}
		return nil, unclear
	}
	return first, ""
}

// The ways of reading the numbers of a line.
const (
	usual    = iota // a number near the value of a force that was found is that force, rounded
	latter          // as usual, but of two factors that could both be forces the second is
	literal         // only what the question gives is recognised
	unitless        // units are left out: 2.4 RB = 180 × 1.3 with some of it written in cm
	modes
)

// mixed reports whether numbers with a unit other than the SI's stand beside bare numbers.
func (w *working) mixed(l *script.Line) bool {
	powered, bare := false, false
	for i := range w.c.leaves {
		if lf := &w.c.leaves[i]; lf.name < 0 {
			u := lf.e.Quantity.Unit
			powered = powered || u.Dimension == quantity.Length && u.Power != 0
			bare = bare || u == quantity.Unit{}
		}
	}
	last := &l.Sides[len(l.Sides)-1]
	return powered && bare && (last.Op != script.Number || l.Sides[0].Op != script.Name)
}

// combine tries combinations of meanings, the likeliest first, and returns the first that is right, or else the
// first of all.
func (w *working) combine(l *script.Line, si int, ids []int, lists [][]meaning, mode int) *trial {
	s := w.places[si]
	w.numbers(s, mode)
	for i := range w.c.leaves {
		for k, id := range ids {
			if lf := &w.c.leaves[i]; lf.name == id && len(lists[k]) > 0 {
				lf.col, lf.col2 = lists[k][0].col, -1
			}
		}
	}
	rival := w.c.rivals(s, mode == latter)
	if mode == usual {
		w.guessed, w.rival = false, rival
		for i := range w.c.leaves {
			lf := &w.c.leaves[i]
			w.guessed = w.guessed || lf.name < 0 && lf.col >= 0 && !lf.exact
		}
	}
	pick := make([]int, len(ids))
	var first *trial
	for range 60 {
		chosen := make([]meaning, len(ids))
		for i := range ids {
			chosen[i] = lists[i][pick[i]]
		}
		t := w.try(l, si, ids, chosen)
		t.mode = mode
		if t.sound {
			return t
		}
		if first == nil || t.holds > first.holds && t.holds > 0 {
			first = t
		}
		k := len(pick) - 1
		for k >= 0 {
			if pick[k]++; pick[k] < len(lists[k]) {
				break
			}
			pick[k] = 0
			k--
		}
		if k < 0 {
			break
		}
	}
	return first
}

// bind keeps what the names of a right line have turned out to mean, and notes those that could be several things.
func (w *working) bind(si int, t *trial, lists [][]meaning) {
	if w.bound[si] == nil {
		w.bound[si] = map[int]meaning{}
	}
	for i, id := range t.names {
		if _, ok := w.bound[si][id]; ok {
			continue
		}
		w.bound[si][id] = t.chosen[i]
		if others := distinctKeys(lists[i], t.chosen[i].key); others != "" {
			w.doubts = append(w.doubts, "“"+w.names.texts[id]+"” was taken for "+t.chosen[i].words+"; it could also be "+others)
		}
	}
}

// distinctKeys lists in words the other things that a name could be.
func distinctKeys(list []meaning, key string) string {
	out := ""
	seen := map[string]bool{key: true}
	for i := range list {
		if k := list[i].key; !seen[k] {
			seen[k] = true
			if out != "" {
				out += " or "
			}
			out += list[i].words
		}
	}
	return out
}
