package mark

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"steelyard/quantity"
	"steelyard/question"
	"steelyard/script"
	"steelyard/statics"
)

// bankKeys are the keys of all questions of the bank, by file name in order.
func bankKeys(t testing.TB) (names []string, keys map[string]*Key) {
	t.Helper()
	files, err := filepath.Glob("../bank/*.moments")
	if err != nil || len(files) == 0 {
		t.Fatalf("no bank: %v", err)
	}
	keys = map[string]*Key{}
	for _, f := range files {
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		q, err := question.Parse(f, string(src))
		if err != nil {
			t.Fatal(err)
		}
		k, err := NewKey(q, Policy{})
		if err != nil {
			t.Fatal(err)
		}
		name := strings.TrimSuffix(filepath.Base(f), ".moments")
		names = append(names, name)
		keys[name] = k
	}
	return names, keys
}

// rounds is how many random lines of each kind are tried: STEELYARD_LINES=100000 for all.
func rounds(t *testing.T) int {
	if n, err := strconv.Atoi(os.Getenv("STEELYARD_LINES")); err == nil {
		return n
	}
	if testing.Short() {
		return 300
	}
	return 2000
}

// A writtenTerm is one force of a random line.
type writtenTerm struct {
	factor float64
	text   string // of the force
	value  float64
}

// pupilName is a name that pupils give to a column.
func pupilName(r *rand.Rand, s *scene, c *column) string {
	pick := func(list ...string) string { return list[r.IntN(len(list))] }
	switch c.kind {
	case reactionOf:
		if p := s.l.SupportNamed(c.name); p.Kind == question.Cable || p.Kind == question.Link {
			return "T_" + c.name
		}
		return pick("R_", "R", "F_") + c.name
	case normalOf:
		return pick("N_", "N") + c.name
	case frictionOf:
		return "F_" + c.name
	case acrossOf:
		return pick("X_", "H_") + c.name
	case uprightOf:
		return pick("Y_", "V_") + c.name
	case turnOf:
		return "C_" + c.name
	case pushOf:
		return "F_" + c.name
	}
	return "W_" + c.name
}

// weightName is a name that pupils give to a weight that is given: W_plank, Wplank, Wp; "" where it could be another's.
func weightName(r *rand.Rand, s *scene, c *column) string {
	if c.kind != weightOf {
		return ""
	}
	called := []string{c.name}
	if b := s.l.BodyNamed(c.name); b != nil && b.Label != "" {
		called = append(called, strings.Fields(b.Label)...)
	}
	if d := s.l.LoadNamed(c.name); d != nil && d.Label != "" {
		called = append(called, strings.Fields(d.Label)...)
	}
	word := called[r.IntN(len(called))]
	m := namer{s: s}
	if name, two := m.kindred('W', word); two || name != c.name {
		return ""
	}
	return []string{"W_", "W"}[r.IntN(2)] + word
}

// randomLine makes a random combination of the true equations of one arrangement.
func randomLine(r *rand.Rand, s *scene) []writtenTerm {
	b := r.IntN(len(s.l.Bodies))
	body := &s.l.Bodies[b]
	pivot := statics.Vec{X: round2(body.Origin.X + (2*r.Float64()-0.5)*max(body.Length, 1)*body.Axis.X), Y: round2(body.Origin.Y + (2*r.Float64()-0.5)*max(body.Length, 1)*body.Axis.Y)}
	if r.IntN(2) == 0 && len(s.points) > 0 {
		pivot = s.points[r.IntN(len(s.points))].at
	}
	across, up, turn := 0.0, 0.0, 1.0
	switch r.IntN(4) {
	case 0:
		turn = 0
		across, up = float64(r.IntN(2)), 1
	case 1:
		up = round2(2*r.Float64() - 1)
	}
	x, y, m := s.balanceRow(b, statics.Vec{X: 1}), s.balanceRow(b, statics.Vec{Y: 1}), s.momentRow(b, pivot)
	var list []writtenTerm
	sought := 0
	for i := range s.cols {
		if !s.cols[i].known {
			sought++
		}
	}
	for i := range s.cols {
		c := &s.cols[i]
		f := across*x[i] + up*y[i] + turn*m[i]
		if !c.isForce() || f == 0 || c.value == 0 {
			continue
		}
		t := writtenTerm{factor: f, value: c.value}
		switch name := weightName(r, s, c); {
		case name != "" && sought < 5 && r.IntN(5) == 0: // more than six names in a line are not read
			t.text = name
		case c.known && !(c.kind >= reactionOf):
			t.text = strconv.FormatFloat(quantity.Snap(c.value), 'f', -1, 64)
			if r.IntN(3) == 0 {
				t.text += " N"
				if c.kind == turnOf {
					t.text += " m"
				}
			}
		default:
			t.text = pupilName(r, s, c)
		}
		list = append(list, t)
	}
	return list
}

func round2(v float64) float64 { return math.Round(v*100) / 100 }

// write writes terms as an equation in a random style.
func write(r *rand.Rand, terms []writtenTerm) string {
	var sides [2][]string
	times := []string{" x ", "*", " × ", "·", "x", " * "}[r.IntN(6)]
	scale := []float64{1, 1, 1, 2, -1, 0.5}[r.IntN(6)]
	comma := r.IntN(6) == 0
	for _, i := range r.Perm(len(terms)) {
		t := terms[i]
		f := t.factor * scale
		side := 0
		if f < 0 {
			side = 1
		}
		minus := r.IntN(5) == 0
		if minus {
			side = 1 - side
		}
		f = math.Abs(f)
		num := quantity.RoundFigures(f, 5+r.IntN(2))
		if v, _ := strconv.ParseFloat(num, 64); v == math.Trunc(v) && v < 1e6 {
			num = strconv.FormatFloat(v, 'f', -1, 64)
		}
		if _, after, _ := strings.Cut(num, "."); comma && len(after) != 3 { // 14,020 is fourteen thousand
			num = strings.Replace(num, ".", ",", 1)
		}
		letter := t.text[0] >= 'A' && t.text[0] <= 'Z' || t.text[0] == 'm'
		text := ""
		switch {
		case f == 1:
			text = t.text
		case letter && r.IntN(3) == 0:
			text = num + t.text
		case r.IntN(2) == 0 && !(letter && strings.HasPrefix(times, "x")):
			text = t.text + times + num
		default:
			text = num + times + t.text
		}
		if minus {
			text = "-" + text
		}
		sides[side] = append(sides[side], text)
	}
	join := func(list []string) string {
		if len(list) == 0 {
			return "0"
		}
		out := list[0]
		for _, x := range list[1:] {
			if rest, ok := strings.CutPrefix(x, "-"); ok {
				out += " - " + rest
			} else {
				out += " + " + x
			}
		}
		return out
	}
	line := join(sides[0]) + " = " + join(sides[1])
	if r.IntN(2) == 0 {
		line = join(sides[1]) + " = " + join(sides[0])
	}
	return line
}

// arrangement is a scene with the part that it belongs to.
type arrangement struct {
	name string
	k    *Key
	part *question.Part
	s    *scene
}

func arrangements(t testing.TB) []arrangement {
	names, keys := bankKeys(t)
	var list []arrangement
	for _, n := range names {
		k := keys[n]
		for i := range k.Question.Parts {
			p := &k.Question.Parts[i]
			for _, s := range k.judge.scenes(p) {
				if s.fixed {
					list = append(list, arrangement{n, k, p, s})
				}
			}
		}
	}
	return list
}

// Any combination of the true equations of equilibrium, at any pivot, however it is written, is right.
func TestAnyTrueLineIsRight(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 1))
	list := arrangements(t)
	n, bad := 0, 0
	for n < rounds(t) {
		a := &list[r.IntN(len(list))]
		terms := randomLine(r, a.s)
		if len(terms) < 2 {
			continue
		}
		n++
		line := write(r, terms)
		read := script.Read(line)
		if len(read) != 1 || read[0].Kind != script.Equation {
			t.Errorf("%s: %q is not read: %v", a.name, line, read)
			bad++
			continue
		}
		j := a.k.Judge(a.part, read, nil)[0]
		if j.Verdict != Right {
			bad++
			if bad < 20 {
				t.Errorf("%s (%s): %s\n  judged %d: %s %s", a.name, a.part.Name, line, j.Verdict, j.Means, j.Off)
			}
		}
	}
	t.Logf("%d true lines, %d not judged right", n, bad)
}

// turnedTrue reports whether a line holds if some forces, of those whose sense a pupil has to guess, are counted
// the other way.
func turnedTrue(terms []writtenTerm) bool {
	for set := range 1 << len(terms) {
		sum, size := 0.0, 0.0
		for i, x := range terms {
			v := x.factor * x.value
			size += math.Abs(v)
			if set>>i&1 == 1 {
				if !strings.Contains("XHYVFC", x.text[:1]) {
					size = 0 // its sense is plain
					break
				}
				v = -v
			}
			sum += v
		}
		if math.Abs(sum) < 0.005*size {
			return true
		}
	}
	return false
}

// A line with one coefficient changed, by more than the tolerance, is never right.
func TestNoChangedLineIsRight(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 2))
	list := arrangements(t)
	n, bad, unread := 0, 0, 0
	for n < rounds(t) {
		a := &list[r.IntN(len(list))]
		terms := randomLine(r, a.s)
		if len(terms) < 2 {
			continue
		}
		// The tolerance is 1 % of what a side comes to; the change is at least twice that.
		total := 0.0
		for _, x := range terms {
			total += math.Abs(x.factor*x.value) / 2
		}
		i := r.IntN(len(terms))
		by := []float64{0.3 + 0.66*r.Float64(), 1.04 + r.Float64(), -1}[r.IntN(3)]
		if math.Abs(terms[i].factor*terms[i].value*(by-1)) < 0.02*total {
			continue
		}
		terms[i].factor *= by
		if turnedTrue(terms) {
			continue // a pupil may count a force of unknown sense the other way
		}
		n++
		line := write(r, terms)
		j := a.k.Judge(a.part, script.Read(line), nil)[0]
		switch j.Verdict {
		case Right, Carried:
			bad++
			if bad < 20 {
				t.Errorf("%s (%s): %s (term %s changed by %g)\n  judged right: %s", a.name, a.part.Name, line, terms[i].text, by, j.Means)
			}
		case NotRead, Statement:
			unread++
		}
	}
	t.Logf("%d changed lines, %d judged right, %d not read", n, bad, unread)
}

// inMassesOnly makes moments about a point in which every force is a weight: those of one body about where all its
// other forces go, or of a balance on one support. It is nil where there is no such point.
func inMassesOnly(r *rand.Rand, s *scene) []writtenTerm {
	var turns []*natural
	for n := range s.natural {
		e := &s.natural[n]
		weights, others := 0, 0
		for i := range e.row {
			switch c := &s.cols[i]; {
			case e.row[i] == 0 || !c.isForce():
			case c.kind == weightOf && (c.mass != 0 || !c.known):
				weights++
			case math.Abs(c.value) > 1e-9*s.largest:
				others++
			}
		}
		if e.turns && weights > 1 && others == 0 {
			turns = append(turns, e)
		}
	}
	if len(turns) == 0 {
		return nil
	}
	e := turns[r.IntN(len(turns))]
	var list []writtenTerm
	for i := range e.row {
		c := &s.cols[i]
		if e.row[i] == 0 || c.kind != weightOf {
			continue
		}
		m := c.value / s.l.Field
		t := writtenTerm{factor: e.row[i], value: m, text: "m_" + c.name}
		if named := len(list) == 0; c.known && !named && r.IntN(4) > 0 {
			t.text = strconv.FormatFloat(quantity.Snap(c.mass*s.perMass()), 'f', -1, 64)
		}
		list = append(list, t)
	}
	return list
}

// massLines are arrangements with an equation of weights alone, where masses are given.
func massLines(t testing.TB) (list []arrangement) {
	r := rand.New(rand.NewPCG(4, 1))
	for _, a := range arrangements(t) {
		masses := false
		for i := range a.s.cols {
			masses = masses || a.s.cols[i].mass != 0
		}
		if masses && inMassesOnly(r, a.s) != nil {
			list = append(list, a)
		}
	}
	if len(list) < 4 {
		t.Fatalf("only %d arrangements have an equation of weights alone", len(list))
	}
	return list
}

// Where every term is a weight, masses may stand for all of them, in kilograms or all in grams; never for some.
func TestMassesStandForWeightsWhereAllAre(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 3))
	list := massLines(t)
	bad := 0
	say := func(format string, v ...any) {
		if bad++; bad < 20 {
			t.Errorf(format, v...)
		}
	}
	for range rounds(t) {
		a := &list[r.IntN(len(list))]
		terms := inMassesOnly(r, a.s)
		line := write(r, terms)
		j := a.k.Judge(a.part, script.Read(line), nil)[0]
		if j.Verdict != Right || j.Note == "" {
			say("%s (%s): %s\n  judged %s: %s %s (note %q)", a.name, a.part.Name, line, j.Verdict, j.Means, j.Off, j.Note)
		}
		// One of them with g, or as a weight in newtons: the others are masses still.
		i := r.IntN(len(terms))
		mixed := append([]writtenTerm(nil), terms...)
		if r.IntN(2) == 0 {
			mixed[i].factor *= a.s.l.Field
		} else {
			mixed[i].text = strconv.FormatFloat(quantity.Snap(terms[i].value*a.s.l.Field), 'f', -1, 64) + " N"
		}
		line = write(r, mixed)
		if j := a.k.Judge(a.part, script.Read(line), nil)[0]; j.Verdict == Right || j.Verdict == Carried {
			say("%s (%s): %s (one term as a weight)\n  judged right: %s", a.name, a.part.Name, line, j.Means)
		}
	}
}

// Where a force that is no weight stands in the equation, masses may never stand for the weights.
func TestMassesNeverStandBesideAForce(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	var list []arrangement
	for _, a := range arrangements(t) {
		for i := range a.s.cols {
			if a.s.cols[i].mass != 0 {
				list = append(list, a)
				break
			}
		}
	}
	n, bad := 0, 0
	for n < rounds(t) {
		a := &list[r.IntN(len(list))]
		terms := randomLine(r, a.s)
		total, change := 0.0, 0.0
		forces := 0
		for i := range terms {
			x := &terms[i]
			total += math.Abs(x.factor*x.value) / 2
			mass := 0.0
			for k := range a.s.cols {
				if c := &a.s.cols[k]; c.mass != 0 && c.value == x.value {
					mass = c.mass
				}
			}
			if mass == 0 {
				forces++
				continue
			}
			change += math.Abs(x.factor * x.value)
			x.text, x.value = strconv.FormatFloat(quantity.Snap(mass*a.s.perMass()), 'f', -1, 64), mass*a.s.perMass()
		}
		if forces == 0 || change < 0.05*total || turnedTrue(terms) {
			continue
		}
		sum := 0.0
		for _, x := range terms {
			sum += x.factor * x.value
		}
		if math.Abs(sum) < 0.02*total {
			continue
		}
		n++
		line := write(r, terms)
		j := a.k.Judge(a.part, script.Read(line), nil)[0]
		if j.Verdict == Right || j.Verdict == Carried {
			if bad++; bad < 20 {
				t.Errorf("%s (%s): %s (masses beside forces)\n  judged right: %s", a.name, a.part.Name, line, j.Means)
			}
		}
	}
}

func ExampleKey_Judge() {
	src, _ := os.ReadFile("../bank/lock-footbridge.moments")
	q, _ := question.Parse("lock-footbridge", string(src))
	k, _ := NewKey(q, Policy{})
	for _, j := range k.Judge(q.Part("b"), script.Read("RP x 2.8 = 280 x 1.1 + 560 x 1.2\nRP = 350 N"), nil) {
		fmt.Println(j.Means+":", j.Off)
	}
	// Output:
	// moments about Q: the distance of the 560 N of the lock keeper is measured from the left end, not from Q
	// rearranged:
}
