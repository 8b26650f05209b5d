package slip

import (
	"math"
	"strings"
	"testing"

	"steelyard/answer"
	"steelyard/question"
	"steelyard/solution"
)

// differ is how a slip's equation may differ from the right one: a and A for one arm or several (its sine or
// cosine included), s and S for senses, d and D for terms left out, n and N for terms put in, f and F for forces.
var differ = map[string]string{
	"all-from-the-end": "AS", "one-from-the-end": "a", "midway-between-supports": "asdn", "arm-to-other-support": "a",
	"gap-to-neighbour": "a", "length-for-span": "a", "mark-for-span": "a", "weight-at-far-end": "asn", "uniform-after-all": "asdn",
	"counted-from-other-end": "asdn", "slant-lengths": "A", "one-slant-length": "a", "diameter-for-radius": "A",
	"weight-left-out-of-moments": "d", "weight-left-out": "d", "load-left-out-of-moments": "d", "load-left-out": "d",
	"pivot-force-given-moment": "n", "other-push-forgotten-end": "ASDN", "other-push-forgotten-middle": "ASDN", "two-pivots": "asd",
	"half-the-weight-each-side": "a", "long-side-carries-weight": "asn", "spread-at-far-edge": "asn", "per-metre-as-force": "f",
	"spread-from-the-pivot": "asfn", "couple-of-one-force": "d", "couple-halved": "f", "couple-doubled": "f", "couple-given-arm": "f",
	"turned-the-wrong-way": "s", "all-turn-one-way": "S", "pan-matches-pan": "A", "direct-proportion": "A",
	"mass-as-force": "F", "one-mass-as-force": "f", "times-g-again": "f", "another-g": "F", "length-not-converted": "a", "kilo-lost": "f",
	"radians": "A", "sine-for-cosine": "A", "whole-force-turns": "a", "cable-out-of-balance": "d", "whole-tension-in-balance": "A",
	"normal-is-the-weight": "D", "both-still-push": "NF", "wrong-edge": "ASDN", "added-not-subtracted": "S", "missing-from-balance": "d",
	"rounded-too-soon": "A",
}

// Every changed equation differs from the right one in just the way that the slip says.
func TestEquationsDifferAsDescribed(t *testing.T) {
	fs := files(t)
	for name, text := range bases {
		fs[name] = parse(t, text)
	}
	seen := map[string]int{}
	for name, q := range fs {
		p, s, err := Make(q)
		if err != nil {
			t.Fatal(name, err)
		}
		outcomes, err := p.Outcomes()
		if err != nil {
			t.Fatal(name, err)
		}
		for _, o := range outcomes {
			slip := o.Cases[0].Slip.Name
			for _, l := range o.Lines {
				right := rightEquation(s, &l)
				if l.Changed == nil || right == nil {
					continue
				}
				seen[slip]++
				got := compare(right, l.Changed)
				allowed := differ[slip]
				for kind, n := range got {
					one := strings.ContainsRune(allowed, kind)
					many := strings.ContainsRune(allowed, kind-'a'+'A')
					if n > 1 && !many || n == 1 && !one && !many {
						t.Errorf("%s: %s changes %d × %c in part (%s): %s", name, o.Name(), n, kind, l.Part, l.Plain())
					}
				}
				if len(got) == 0 {
					t.Errorf("%s: %s changes nothing in part (%s): %s", name, o.Name(), l.Part, l.Plain())
				}
				if of := o.Cases[0].of; of >= 0 && len(got) > 0 {
					fallsOn(t, p, name, &o, &l, right)
				}
			}
		}
	}
	for slip := range differ {
		if seen[slip] == 0 {
			t.Errorf("%s changes no equation anywhere", slip)
		}
	}
}

// fallsOn checks that a slip which falls on one force changes only that force's term.
func fallsOn(t *testing.T, p *Plan, name string, o *Outcome, l *Line, right *solution.Equation) {
	of := p.scenes[0].forces[o.Cases[0].of]
	for i := range right.Terms {
		a := &right.Terms[i]
		if a.Force.Name == of.Name && a.Force.Kind == of.Kind {
			continue
		}
		if b := termOf(l.Changed, a.Force); b == nil || differs(a, b) != "" {
			t.Errorf("%s: %s also changes the term of %s: %s", name, o.Name(), a.Force.Words, l.Plain())
		}
	}
}

func rightEquation(s *solution.Solution, l *Line) *solution.Equation {
	for i := range s.Parts {
		if s.Parts[i].Name != l.Part || len(s.Parts[i].Routes) == 0 || s.Parts[i].Routes[0].Working == nil {
			continue
		}
		if m := s.Parts[i].Routes[0].Working.Moves; l.Move >= 0 && l.Move < len(m) && m[l.Move].With == nil {
			return m[l.Move].Equation
		}
	}
	return nil
}

func termOf(e *solution.Equation, f *solution.Force) *solution.Term {
	for i := range e.Terms {
		if e.Terms[i].Force.Name == f.Name && e.Terms[i].Force.Kind == f.Kind {
			return &e.Terms[i]
		}
	}
	return nil
}

// differs lists in which ways two terms differ.
func differs(a, b *solution.Term) string {
	out := ""
	near := func(x, y float64) bool { return math.Abs(x-y) <= 1e-9*(1+math.Abs(x)) }
	trig := func(t *solution.Trig) float64 {
		if t == nil {
			return 1
		}
		return t.Value
	}
	if !near(a.Arm.Metres(), b.Arm.Metres()) || !near(trig(a.Share), trig(b.Share)) {
		out += "a"
	}
	if a.Sense != b.Sense {
		out += "s"
	}
	if a.Force.Size != b.Force.Size || !near(a.Force.Value, b.Force.Value) {
		out += "f"
	}
	return out
}

func compare(right, wrong *solution.Equation) map[rune]int {
	got := map[rune]int{}
	for i := range right.Terms {
		a := &right.Terms[i]
		b := termOf(wrong, a.Force)
		if b == nil {
			got['d']++
			continue
		}
		for _, c := range differs(a, b) {
			got[c]++
		}
	}
	for i := range wrong.Terms {
		if termOf(right, wrong.Terms[i].Force) == nil {
			got['n']++
		}
	}
	return got
}

// The quick way and the way through package solution agree: the right answers of every part, and where a
// slip changes an equation of the first part that it touches, what solution makes of the changed equation.
func TestQuickWayAgrees(t *testing.T) {
	compared, rights := 0, 0
	for _, name := range names() {
		q := files(t)[name]
		a, err := answer.Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		s, err := solution.Solve(a)
		if err != nil {
			t.Fatal(err)
		}
		p, err := NewPlan(a, s)
		if err != nil {
			t.Fatal(err)
		}
		r := p.Reckoner()
		if err := r.Take(q); err != nil {
			t.Fatal(err)
		}
		for i, v := range r.Right() {
			if strings.Contains(" "+strings.Join(p.Without, " ")+" ", " "+p.Slots[i].Part+" ") {
				continue
			}
			rights++
			if want := p.Slots[i].Right; !(math.Abs(v-want) <= 1e-6*math.Abs(want)+1e-9) {
				t.Errorf("%s (%s): %v, want %v", name, p.Slots[i].Part, v, want)
			}
		}
		outcomes, err := p.Outcomes()
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range outcomes {
			if len(o.Lines) == 0 {
				continue
			}
			part := o.Lines[0].Part
			var work *solution.Working
			slot := -1
			for i := range s.Parts {
				if s.Parts[i].Name == part && len(s.Parts[i].Routes) > 0 {
					work = s.Parts[i].Routes[0].Working
				}
			}
			for i := range p.Slots {
				if p.Slots[i].Part == part {
					slot = i
				}
			}
			if work == nil || slot < 0 || o.Lines[0].Move < 0 || o.Cases[0].Slip.found != nil || o.Cases[0].Slip.answer != nil {
				continue
			}
			x := &p.parts[p.Slots[slot].part]
			if x.finish != size && x.finish != unknown && x.finish != target || x.Ask == question.AskMass || x.result.Unit == "kg" {
				continue
			}
			changed := map[int]*solution.Equation{}
			simple := true
			for _, l := range o.Lines {
				if l.Part == part {
					changed[l.Move] = l.Changed
					simple = simple && l.Changed != nil
				}
			}
			for _, m := range work.Moves {
				simple = simple && m.With == nil && work.Unknowns()[m.Gives].Kind == solution.OfForce
			}
			if !simple || o.Cases[0].Slip.Name == "pivot-force-given-moment" {
				continue
			}
			values := work.Values(func(i int, e *solution.Equation) {
				if c := changed[i]; c != nil {
					e.Terms = c.Terms
				}
			})
			compared++
			if got, want := math.Abs(o.Values[slot]), math.Abs(values[work.Target()]); !(math.Abs(got-want) <= 1e-9*want+1e-9) && !(math.IsNaN(got) && math.IsNaN(want)) {
				t.Errorf("%s: %s gives %v, package solution %v", name, o.Name(), got, want)
			}
		}
	}
	t.Logf("%d right answers, %d wrong ones compared", rights, compared)
	if compared < 300 || rights < 100 {
		t.Errorf("only %d right and %d wrong answers were compared", rights, compared)
	}
}

// Two slips at once lead to what both changes together give.
func TestPairs(t *testing.T) {
	p, _, err := Make(parse(t, bases["A"]))
	if err != nil {
		t.Fatal(err)
	}
	pairs, err := p.Pairs()
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range pairs {
		if o.Cases[0].Slip.Name == "weight-left-out" && o.Cases[1].Slip.Name == "turned-the-wrong-way" && strings.HasSuffix(o.Cases[1].Of, " J") {
			// Q × 3.00 = 84 + 120; P = 220 − 68
			if math.Abs(o.Values[0]-68) > 1e-9 || math.Abs(o.Values[1]-152) > 1e-9 {
				t.Errorf("%s: %v", o.Name(), o.Values)
			}
			return
		}
	}
	t.Error("no pair of a weight left out and a load turned the wrong way")
}

// A slip that changes nothing in the number is told.
func TestHidden(t *testing.T) {
	// The load stands midway between the supports, and so does the middle of the bar.
	p, _, err := Make(parse(t, `question "Symmetrical"
body bar: uniform, length 4.00 m, weight 200 N
support P: rest, on bar at 1.00 m
support Q: rest, on bar at 3.00 m
load K: weight 100 N, on bar at 2.00 m
part a: find force Q  marks 3
`))
	if err != nil {
		t.Fatal(err)
	}
	outcomes, err := p.Outcomes()
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range outcomes {
		if o.Cases[0].Slip.Name == "equal-shares" {
			if !o.Hidden {
				t.Errorf("equal shares give the right answer here, but are not told to be hidden: %v", o.Values)
			}
			return
		}
	}
	t.Error("equal shares can be made here, but are not listed")
}

func BenchmarkSlips(b *testing.B) {
	p, _, err := Make(files(b)["lock-footbridge.moments"])
	if err != nil {
		b.Fatal(err)
	}
	r := p.Reckoner()
	out := make([]float64, len(p.Slots))
	b.ReportAllocs()
	for b.Loop() {
		if err := r.Take(p.Question); err != nil {
			b.Fatal(err)
		}
		r.Right()
		for i := range p.Cases {
			r.Wrong(out, &p.Cases[i])
		}
	}
	b.ReportMetric(float64(len(p.Cases)), "slips")
}
