package variant

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"steelyard/bank/banktest"
)

// A tally counts simulated pupils.
type tally struct{ pupils, told, sheets, whole, seen int }

func (t *tally) add(u tally) {
	t.pupils += u.pupils
	t.told += u.told
	t.sheets += u.sheets
	t.whole += u.whole
	t.seen += u.seen
}

// share is in per cent.
func share(n, of int) float64 {
	if of == 0 {
		return math.NaN()
	}
	return 100 * float64(n) / float64(of)
}

// simulate lets one pupil make each slip on each variant, once, and looks what the answers point back to. An
// answer tells if it doesn't pass as right and fits, besides the slip itself, only slips that the certificate says
// are the same by nature.
func simulate(t *testing.T, name string, r *Result, afresh bool) tally {
	t.Helper()
	var out tally
	never := map[Pair]bool{}
	for _, p := range r.Never {
		never[p] = true
	}
	unseen := map[int]bool{}
	for _, h := range r.NeverSeen {
		unseen[h.Case] = true
	}
	for i := range r.Pupils {
		v := &r.Pupils[i]
		wrong := v.Certificate.Wrong
		if afresh { // the pupils work their own sheet, read again from its text
			wrong = anew(t, name, r.Plan, v)
		}
		all, seen := true, true
		for c := range r.Plan.Cases {
			if unseen[c] || wrong == nil || wrong[c] == nil {
				continue
			}
			out.pupils++
			told := r.Plan.Margin(wrong[c], v.Certificate.Right) >= 1
			seen = seen && r.Plan.Margin(wrong[c], v.Certificate.Right) >= Enough
			fits := false
			for _, s := range v.Certificate.Suspects(r.Plan, wrong[c]) {
				if s == c {
					fits = true
					continue
				}
				if r.Plan.Cases[s].Slip.Name == r.Plan.Cases[c].Slip.Name {
					continue
				}
				if !never[Pair{min(s, c), max(s, c)}] {
					told = false
				}
			}
			if !fits && r.Plan.Margin(wrong[c], v.Certificate.Wrong[c]) > 1e-3 {
				t.Errorf("%s, pupil %s: the answers of %s don't fit it", name, v.Name, r.Plan.Cases[c].Name())
			}
			if told {
				out.told++
			}
			all = all && told
		}
		out.sheets++
		if all {
			out.whole++
		}
		if seen {
			out.seen++
		}
	}
	return out
}

// For each family, each slip and many variants: the wrong answer points back to the slip, or to slips that are the
// same by nature, beside what ordinary random numbers give. The report is docs/separation.md.
func TestSimulatedPupils(t *testing.T) {
	n := many(100, 6)
	var b strings.Builder
	fmt.Fprintf(&b, `# What a wrong answer tells

For each family of the bank and each slip that can be made in it, pupils with numbers of their own make that slip;
we look which slips their answers fit. An answer **tells** if it does not pass as right and fits only the slip that
was made, or slips that are the same by nature: their numbers agree whatever the numbers of the question are, so that only working can
tell. A **sheet** is whole if every slip tells on it; **clear** if every slip lies at least three marking tolerances from
the right answer. The columns beside have the same question with ordinary random numbers from the same ranges, on the
same steps, of the same kind. "Slips" counts each slip for every force that it can fall on; "same by nature" the pairs
that no numbers part; "not here" what the family's ranges are too narrow for.

Written by the tests of package variant (STEELYARD_FULL=1 go test ./variant -run SimulatedPupils -update), %d pupils a
family and slip (20 where limits are searched for, which takes longer).

| family | slips | same by nature | not here | tells, random | tells, chosen | clear sheets, random | clear sheets, chosen | whole sheets, random | whole sheets, chosen |
| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |
`, n)
	var chosen, ordinary tally
	for _, name := range names() {
		q := banktest.Parsed(t, name)
		if len(q.Vary) == 0 {
			continue
		}
		k := n
		if slow[name] {
			k = many(20, 1)
		}
		o := Options{Most: many(0, 1000)}
		with, err := Choose(q, "pupils", Numbered(k), o)
		if err != nil {
			t.Fatal(name, err)
		}
		o.Ordinary = true
		without, err := Choose(q, "pupils", Numbered(k), o)
		if err != nil {
			t.Fatal(name, err)
		}
		if len(with.Plan.Cases) == 0 {
			continue
		}
		x, y := simulate(t, name, with, full), simulate(t, name, without, false)
		chosen.add(x)
		ordinary.add(y)
		fmt.Fprintf(&b, "| %s | %d | %d | %d | %s |\n", strings.TrimSuffix(name, ".moments"), len(with.Plan.Cases), len(with.Never), narrowed(with), columns(y, x))
		// Where the ranges are wide enough for everything, nearly every answer tells: rarer pairs may touch.
		if narrowed(with) == 0 && share(x.told, x.pupils) < 80 {
			t.Errorf("%s: only %.1f %% of answers tell", name, share(x.told, x.pupils))
		}
		if x.told*y.pupils < y.told*x.pupils && share(y.told, y.pupils)-share(x.told, x.pupils) > 1 {
			t.Errorf("%s: chosen numbers tell less (%.1f %%) than random ones (%.1f %%)", name, share(x.told, x.pupils), share(y.told, y.pupils))
		}
	}
	fmt.Fprintf(&b, "| **all** | | | | %s |\n\n%d simulated pupils with chosen numbers, %d with random ones.\n", columns(ordinary, chosen), chosen.pupils, ordinary.pupils)
	t.Logf("random numbers: %.1f %% of %d answers tell; chosen numbers: %.1f %% of %d", share(ordinary.told, ordinary.pupils), ordinary.pupils, share(chosen.told, chosen.pupils), chosen.pupils)
	if *update {
		if err := os.WriteFile("../docs/separation.md", []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if testing.Verbose() {
		t.Log(b.String())
	}
}

// columns are the shares with random and with chosen numbers.
func columns(y, x tally) string {
	return fmt.Sprintf("%.1f %% | %.1f %% | %.0f %% | %.0f %% | %.0f %% | %.0f %%", share(y.told, y.pupils), share(x.told, x.pupils),
		share(y.seen, y.sheets), share(x.seen, x.sheets), share(y.whole, y.sheets), share(x.whole, x.sheets))
}

// narrowed counts what the ranges of a family are too narrow for.
func narrowed(r *Result) int {
	n := 0
	for _, w := range r.TooNarrow {
		if len(w.Cases) > 0 {
			n++
		}
	}
	return n
}

// BenchmarkChoose300 chooses numbers for 300 pupils of a typical question with two supports, certificates included.
func BenchmarkChoose300(b *testing.B) {
	for _, name := range []string{"mooring-plank.moments", "lock-footbridge.moments", "choir-riser.moments"} {
		b.Run(strings.TrimSuffix(name, ".moments"), func(b *testing.B) {
			q := banktest.Parsed(b, name)
			var r *Result
			for b.Loop() {
				var err error
				if r, err = Choose(q, "bench", Numbered(300), Options{}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(len(r.Plan.Cases)), "slips")
			b.ReportMetric(float64(r.Examined), "candidates")
		})
	}
}

// BenchmarkCandidate takes one candidate through all slips and pairs.
func BenchmarkCandidate(b *testing.B) {
	for _, name := range []string{"sluice-bar.moments", "mooring-plank.moments", "lock-footbridge.moments", "choir-riser.moments"} {
		b.Run(strings.TrimSuffix(name, ".moments"), func(b *testing.B) {
			j, err := newJudge(banktest.Parsed(b, name), "bench", Options{Most: 50})
			if err != nil {
				b.Fatal(err)
			}
			points := points(j.axes, 50, stream("bench"))
			i := 0
			for b.Loop() {
				if j.take(points[i%len(points)]) {
					j.untidy()
					j.score()
				}
				i++
			}
			b.ReportMetric(float64(len(j.plan.Cases)), "slips")
			b.ReportMetric(float64(len(j.nature.pairs)), "pairs")
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "candidates/s")
		})
	}
}
