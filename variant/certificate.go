package variant

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strconv"
	"strings"

	"steelyard/slip"
)

// A Certificate says how far each pupil's numbers keep the slips apart, in marking tolerances.
type Certificate struct {
	Seed     string
	Pupil    string
	Numbers  []Number
	Right    []float64   // the right answers, by slot
	Wrong    [][]float64 // by case of the plan and slot
	Seen     []float64   // by case: from the right answer
	Unparted []Unparted  // pairs of different slips less than one tolerance apart
	Hidden   []Hidden    // slips less than Enough from the right answer
	Apart    int         // pairs of different slips that are told apart
	Pairs    int         // pairs of different slips in all
}

// An Unparted is a pair that these numbers don't tell apart.
type Unparted struct {
	Pair
	Margin float64
	Never  bool // no numbers do in this arrangement: only working can tell
	Why    string
}

// Margin is how far two cases lie apart, in marking tolerances.
func (c *Certificate) Margin(p *slip.Plan, a, b int) float64 { return p.Margin(c.Wrong[a], c.Wrong[b]) }

// Suspects lists the cases that a pupil's answers fit, by number: within one tolerance in every part that the
// pupil answered; NaN for those that are blank. The common ones come in the order of the catalogue.
func (c *Certificate) Suspects(p *slip.Plan, answers []float64) []int {
	var list []int
	for i := range c.Wrong {
		if p.Margin(c.Wrong[i], answers) < 1 {
			list = append(list, i)
		}
	}
	return list
}

// Hash is a fingerprint of the certificate: of the numbers, and of all margins to four figures, so that it is the
// same on every machine.
func (c *Certificate) Hash() string {
	var b strings.Builder
	fmt.Fprintln(&b, c.Seed, c.Pupil)
	for _, n := range c.Numbers {
		fmt.Fprintln(&b, n.Thing, n.Attribute, n.Text)
	}
	figure := func(v float64) string { return strconv.FormatFloat(v, 'e', 3, 64) }
	for _, v := range c.Right {
		fmt.Fprint(&b, figure(v), " ")
	}
	for _, v := range c.Seen {
		fmt.Fprint(&b, figure(v), " ")
	}
	for _, u := range c.Unparted {
		fmt.Fprint(&b, u.A, " ", u.B, " ", u.Never, " ")
	}
	sum := sha256.Sum256([]byte(b.String()))
	return hex.EncodeToString(sum[:8])
}

// certify writes the certificate of the candidate in hand.
func (j *judge) certify(name string, numbers []Number) Certificate {
	c := Certificate{Seed: j.seed, Pupil: name, Numbers: numbers, Right: append([]float64(nil), j.right...)}
	n, k := len(j.wrong), len(j.right)
	flat := make([]float64, n*k)
	for i := range j.wrong {
		row := flat[i*k : (i+1)*k : (i+1)*k]
		copy(row, j.wrong[i])
		c.Wrong = append(c.Wrong, row)
		m := j.margin(j.wrong[i], j.right)
		c.Seen = append(c.Seen, m)
		if m < Enough {
			c.Hidden = append(c.Hidden, Hidden{i, m})
		}
	}
	c.Pairs = len(j.nature.pairs) + len(j.nature.never)
	for _, p := range j.nature.never {
		if m := j.margin(j.wrong[p.A], j.wrong[p.B]); m < 1 {
			c.Unparted = append(c.Unparted, Unparted{p, m, true, "they lead to the same answers in this arrangement, whatever its numbers are: only working can tell"})
		}
	}
	for i, p := range j.nature.pairs {
		if j.apart(j.wrong[p.A], j.wrong[p.B], 1) {
			continue
		}
		why := "other numbers within these ranges tell them apart"
		if !j.ever[i] {
			why = "not within these ranges"
		}
		c.Unparted = append(c.Unparted, Unparted{p, j.margin(j.wrong[p.A], j.wrong[p.B]), false, why})
	}
	c.Apart = c.Pairs - len(c.Unparted)
	return c
}
