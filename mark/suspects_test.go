package mark

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"steelyard/script"
	"steelyard/slip"
)

// The posterior is that of an enumeration of everything that is hidden: the hypothesis, whether the slip was made
// in each question, on what, and whether each answer went astray and fell where it stands by chance.
func TestPosteriorAgainstEnumeration(t *testing.T) {
	a, b := keyOf(t, "mooring-plank", Policy{}), keyOf(t, "signal-arm", Policy{})
	hands := [][2]string{
		{"a 100 N; b 220 N", ""},
		{"a 120 N; b 200 N", ""},
		{"a 160 N; b 160 N", "b 2.40 N; c 7.40 N"},
		{"a 200 N; b 220 N", "a 1.2 N m; b 1.6 N; c 3 N"},
		{"b 999 N", "b 7 N"},
		{"a 160 N; b 160 N", "c 3.4 N"},
	}
	for _, h := range hands {
		evidence := []Evidence{{a, a.Mark(handsOf(h[0]))}}
		if h[1] != "" {
			evidence = append(evidence, Evidence{b, b.Mark(handsOf(h[1]))})
		}
		want := enumerate(evidence)
		total := 0.0
		for _, s := range Posterior(evidence...) {
			total += s.Probability
			if w := want[s.Name]; math.Abs(s.Probability-w) > 1e-12 {
				t.Errorf("%v: %s has %.15f, by enumeration %.15f", h, s.Name, s.Probability, w)
			}
		}
		if math.Abs(total-1) > 1e-12 {
			t.Errorf("%v: the probabilities add up to %.15f", h, total)
		}
	}
}

// enumerate sums the joint probability over all that is hidden, one world at a time.
func enumerate(evidence []Evidence) map[string]float64 {
	weights, sum := map[string]float64{}, 0.0
	for _, e := range evidence {
		for _, o := range e.Key.Outcomes() {
			s := o.Cases[0].Slip
			if weights[s.Name] == 0 {
				weights[s.Name] = s.Frequency.Weight()
				sum += s.Frequency.Weight()
			}
		}
	}
	prior := map[string]float64{NoSlip: 0.55, Other: 0.10}
	for n, w := range weights {
		prior[n] = 0.35 * w / sum
	}
	joint, total := map[string]float64{}, 0.0
	for h, p := range prior {
		for _, e := range evidence {
			question := 0.0
			for _, w := range worlds(e.Key, h) {
				for errs := range 1 << len(e.Parts) { // which answers went astray
					q := w.p
					for i := range e.Parts {
						q *= world(e.Key, &e.Parts[i], w, errs>>i&1 == 1)
					}
					question += q
				}
			}
			p *= question
		}
		joint[h] = p
		total += p
	}
	for h := range joint {
		joint[h] /= total
	}
	return joint
}

type oneWorld struct {
	p     float64
	made  *slip.Outcome
	other bool
}

func worlds(k *Key, h string) []oneWorld {
	list := []oneWorld{{p: 1}}
	var can []*slip.Outcome
	for _, o := range k.Outcomes() {
		if o.Cases[0].Slip.Name == h {
			can = append(can, o)
		}
	}
	switch {
	case h == Other:
		list[0].p = 0.15
		return append(list, oneWorld{p: 0.85, other: true})
	case len(can) > 0:
		list[0].p = 0.15
		for _, o := range can {
			list = append(list, oneWorld{p: 0.85 / float64(len(can)), made: o})
		}
	}
	return list
}

// world is the probability of one part's answer in one world, and of its having gone astray or not.
func world(k *Key, p *Part, w oneWorld, strayed bool) float64 {
	a := p.Answer
	stray := 0.9
	if strayed {
		stray = 0.1
	}
	if a.Verdict == NoAnswer {
		return stray
	}
	right := a.Verdict == AnswerRight || a.Verdict == AnswerCarried
	if w.other {
		switch {
		case strayed: // its own chances say all there is to say
			return 0
		case right:
			return 0.3
		}
		return 0.7 * 0.02
	}
	due := right
	if w.made != nil {
		for s := range k.Plan.Slots {
			if slot := &k.Plan.Slots[s]; slot.Part == p.Part {
				due = slot.Margin(w.made.Values[s], a.Value) < 1 && !math.IsNaN(w.made.Values[s])
				fresh := false
				for _, l := range w.made.Lines {
					fresh = fresh || l.Part == p.Part && l.Changed != nil || l.Part == p.Part && l.Move >= 0
				}
				due = due || a.Verdict == AnswerCarried && !fresh
			}
		}
	}
	switch {
	case strayed:
		return stray * 0.02
	case due:
		return stray
	}
	return 0
}

func TestTell(t *testing.T) {
	k := keyOf(t, "lock-footbridge", Policy{})
	tests := []struct{ answers, starts string }{
		{"a 1600 N m; b 570 N; c 270 N", "no slip that keeps coming back"},
		{"b 420 N; c 420 N; d 420 N down", "very probably: each support takes half"},
		{"b 431 N", "not enough to tell"},
	}
	for _, x := range tests {
		list := Posterior(Evidence{k, k.Mark(handsOf(x.answers))})
		if got := Tell(list); !strings.HasPrefix(got, x.starts) {
			t.Errorf("%q: %s (%v), want %s", x.answers, got, list[:3], x.starts)
		}
	}
	if got := Tell(nil); got != "not enough to tell" {
		t.Errorf("of nothing: %s", got)
	}
}

// A wrong line that is that of a slip settles what the answers leave open.
func TestLinesTell(t *testing.T) {
	k := keyOf(t, "lock-footbridge", Policy{})
	parts := k.Mark(handsOf("b 210 N"))
	before := Posterior(Evidence{k, parts})
	parts[0].Lines = []Judged{{Line: script.Line{Text: "P x 2.8 = 280 x 1.1 + 560 x 0.5"}, Verdict: Wrong, Means: "moments about Q", Slip: "gap-to-neighbour", Of: "the weight of the lock keeper"}}
	after := Posterior(Evidence{k, parts})
	if after[0].Name != "gap-to-neighbour" || after[0].Probability < 0.9 || len(after[0].Evidence) != 2 || after[0].Of == "" {
		t.Errorf("with the line: %v; without it: %v", after[0], before[:3])
	}
	if before[0].Probability > 0.9 {
		t.Errorf("without the line it should be open: %v", before[0])
	}
}

// Information is checked against a table of the joint distribution, made one world at a time.
func TestInformationAgainstEnumeration(t *testing.T) {
	k := keyOf(t, "mooring-plank", Policy{})
	left := []Suspect{{Name: NoSlip, Probability: 0.2}, {Name: "equal-shares", Probability: 0.4}, {Name: "one-from-the-end", Probability: 0.3}, {Name: Other, Probability: 0.1}}
	joint := map[string]map[string]float64{}
	margin := map[string]float64{}
	for _, h := range left {
		joint[h.Name] = map[string]float64{}
		for _, w := range worlds(k, h.Name) {
			name := "right"
			switch {
			case w.other:
				name = "astray"
			case w.made != nil && k.Plan.Margin(w.made.Values, rights(k)) >= 1:
				name = fmt.Sprintf("%.0f", w.made.Values)
			}
			stray := 0.1
			if name == "astray" {
				stray = 1
			}
			for _, x := range []struct {
				o string
				p float64
			}{{name, 1 - stray}, {"astray", stray}} {
				joint[h.Name][x.o] += h.Probability * w.p * x.p
				margin[x.o] += h.Probability * w.p * x.p
			}
		}
	}
	want := 0.0
	for _, h := range left {
		for o, p := range joint[h.Name] {
			if p > 0 {
				want += p * math.Log2(p/(h.Probability*margin[o]))
			}
		}
	}
	if got := Information(k, left); math.Abs(got-want) > 1e-12 {
		t.Errorf("information %.15f bits, by enumeration %.15f", got, want)
	}
	if got := Information(k, []Suspect{{Name: NoSlip, Probability: 1}}); got != 0 {
		t.Errorf("of a certainty there is nothing to learn, but %g bits", got)
	}
}

func rights(k *Key) []float64 {
	v := make([]float64, len(k.Plan.Slots))
	for i := range v {
		v[i] = k.Plan.Slots[i].Right
	}
	return v
}

func TestNextTellsMost(t *testing.T) {
	var keys []*Key
	for _, n := range []string{"mooring-plank", "spanner", "lock-footbridge", "puppet-rail"} {
		keys = append(keys, keyOf(t, n, Policy{}))
	}
	left := []Suspect{{Name: "midway-between-supports", Probability: 0.5}, {Name: "weight-left-out-of-moments", Probability: 0.5}}
	p, ok := Next(keys, left)
	most := 0.0
	for _, k := range keys {
		most = max(most, Information(k, left))
	}
	if !ok || p.Bits != most || p.Bits < 0.5 || p.Bits > p.Most || math.Abs(p.Most-1) > 1e-12 || len(p.Numbers) != len(p.Key.Question.Vary) {
		t.Errorf("Next gives %v, %v bits of %v, numbers %v", p.Bank, p.Bits, p.Most, p.Values)
	}
	if _, ok := Next(keys[1:2], []Suspect{{Name: "equal-shares", Probability: 0.5}, {Name: "wrong-edge", Probability: 0.5}}); ok {
		t.Error("a spanner cannot tell slips about two supports apart")
	}
}

// Classes with slips planted at known rates: what is recovered lies within the interval of what was planted, and
// pupils are rarely said to hold a slip that they don't.
func TestPlantedSlipsAreRecovered(t *testing.T) {
	for _, n := range []int{30, 300} {
		c := plant(t, n, 7)
		for name, real := range c.planted {
			found, false_ := 0, 0
			for k, list := range c.posteriors {
				if list[0].Name == name && list[0].Probability >= Enough {
					if c.holds[k] == name {
						found++
					} else {
						false_++
					}
				}
			}
			got := NewRate(found+false_, n)
			truth := float64(real) / float64(n)
			t.Logf("%d pupils: %s planted in %d, found in %d of them and %d others; rate %.3f (%.3f to %.3f), true %.3f", n, name, real, found, false_, got.Value, got.Low, got.High, truth)
			if truth < got.Low || truth > got.High {
				t.Errorf("%d pupils: %s: the true rate %.3f is outside %.3f to %.3f", n, name, truth, got.Low, got.High)
			}
			if float64(false_) > 0.03*float64(n)+1 {
				t.Errorf("%d pupils: %s: %d pupils who don't hold it are said to", n, name, false_)
			}
		}
	}
}

type planted struct {
	holds      []string
	planted    map[string]int
	posteriors [][]Suspect
}

// plant makes a class that answers two questions. One pupil in ten of its answers goes astray by more than the
// tolerance; a pupil who holds a slip makes it in 85 of 100 questions.
func plant(t testing.TB, n int, seed uint64) planted {
	keys := []*Key{keyOf(t, "lock-footbridge", Policy{}), keyOf(t, "mooring-plank", Policy{}), keyOf(t, "stage-bar", Policy{})}
	r := rand.New(rand.NewPCG(seed, 1))
	c := planted{planted: map[string]int{}}
	rates := []struct {
		name string
		rate float64
	}{{"equal-shares", 0.15}, {"weight-left-out", 0.12}, {"one-from-the-end", 0.15}, {"all-from-the-end", 0.08}}
	for range n {
		holds, u := NoSlip, r.Float64()
		for _, x := range rates {
			if u -= x.rate; u < 0 {
				holds = x.name
				break
			}
		}
		c.holds = append(c.holds, holds)
		if holds != NoSlip {
			c.planted[holds]++
		}
		var evidence []Evidence
		for _, k := range keys {
			values := rights(k)
			var can []*slip.Outcome
			for _, o := range k.Outcomes() {
				if o.Cases[0].Slip.Name == holds {
					can = append(can, o)
				}
			}
			if len(can) > 0 && r.Float64() < 0.85 {
				values = can[r.IntN(len(can))].Values
			}
			var hands []Hand
			for s, v := range values {
				if math.IsNaN(v) {
					continue
				}
				if r.Float64() < 0.08 {
					v *= 1.03 + 0.5*r.Float64()
				}
				hands = append(hands, Hand{Part: k.Plan.Slots[s].Part, Answer: k.Plan.Shown(v, s)})
			}
			evidence = append(evidence, Evidence{k, k.Mark(hands)})
		}
		c.posteriors = append(c.posteriors, Posterior(evidence...))
	}
	return c
}

func BenchmarkPlanted3000(b *testing.B) {
	for b.Loop() {
		c := plant(b, 3000, 7)
		found := 0
		for k, list := range c.posteriors {
			if list[0].Name == c.holds[k] {
				found++
			}
		}
		b.ReportMetric(float64(found)/3000, "found")
	}
}
