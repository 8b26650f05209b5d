package mark

import (
	"math"
	"slices"

	"steelyard/question"
)

// A Proposal is a question that would tell hypotheses apart.
type Proposal struct {
	Key     *Key
	Bank    int               // its number in the bank that was given
	Numbers []question.Number // what its numbers are, in the order of its vary lines
	Values  []string
	Bits    float64 // expected information about the hypothesis, in bits
	Most    float64 // what there is to know: the entropy of the hypotheses left, in bits
}

// Next proposes the question of the bank (families, each with numbers; the same family may come several times
// with different ones) whose answers are expected to tell most about which hypothesis a pupil holds. The first of
// equals is taken; ok is false if no question tells anything.
//
// The expected information is that between the hypothesis and the answers, under the model of [Posterior]: the
// answers fall into groups that the marking tolerance cannot part, or go astray.
func Next(bank []*Key, left []Suspect) (best Proposal, ok bool) {
	for i, k := range bank {
		if b := Information(k, left); b > best.Bits+1e-12 {
			best = Proposal{Key: k, Bank: i, Bits: b}
		}
	}
	if best.Key == nil {
		return best, false
	}
	best.Most = entropy(left)
	for _, v := range best.Key.Question.Vary {
		if x := best.Key.Question.Value(v.Thing, v.Attribute); x != nil && x.Known() {
			best.Numbers = append(best.Numbers, question.Number{Thing: v.Thing, Attribute: v.Attribute})
			best.Values = append(best.Values, x.Quantity.String())
		}
	}
	return best, true
}

func entropy(list []Suspect) float64 {
	h := 0.0
	for i := range list {
		if p := list[i].Probability; p > 0 {
			h -= p * math.Log2(p)
		}
	}
	return h
}

// Information is the expected information, in bits, that the answers to a question give about which hypothesis
// holds.
func Information(k *Key, left []Suspect) float64 {
	groups, chances := observations(k, left)
	all := make([]float64, groups)
	total := 0.0
	for i := range left {
		total += left[i].Probability
		for o, c := range chances[i] {
			all[o] += left[i].Probability * c
		}
	}
	if total <= 0 {
		return 0
	}
	bits := 0.0
	for i := range left {
		for o, c := range chances[i] {
			if p := left[i].Probability / total; p > 0 && c > 0 {
				bits += p * c * math.Log2(c/(all[o]/total))
			}
		}
	}
	return max(0, bits)
}

// observations groups the answers that the hypotheses lead to. Group 0 is right everywhere, the last is astray.
// chances are by hypothesis and group.
func observations(k *Key, left []Suspect) (groups int, chances [][]float64) {
	right := make([]float64, len(k.Plan.Slots))
	for i := range right {
		right[i] = k.Plan.Slots[i].Right
	}
	heads := [][]float64{right}
	of := make([][]int, len(left))
	for i := range left {
		for n := range k.outcomes {
			o := &k.outcomes[n]
			if o.name != left[i].Name {
				continue
			}
			g := slices.IndexFunc(heads, func(v []float64) bool { return k.Plan.Margin(v, o.Values) < 1 })
			if g < 0 {
				g = len(heads)
				heads = append(heads, o.Values)
			}
			of[i] = append(of[i], g)
		}
	}
	groups = len(heads) + 1
	for i := range left {
		c := make([]float64, groups)
		switch {
		case left[i].Name == Other:
			c[0] += 1 - made
			c[groups-1] += made
		case len(of[i]) == 0:
			c[0] = 1
		default:
			c[0] += 1 - made
			for _, g := range of[i] {
				c[g] += made / float64(len(of[i]))
			}
		}
		for g := range c[:groups-1] {
			c[groups-1] += astray * c[g]
			c[g] *= 1 - astray
		}
		chances = append(chances, c)
	}
	return groups, chances
}
