package mark

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// An Item is what a class made of one part.
type Item struct {
	Part          string
	Of            int     // its marks
	N             int     // pupils who were marked on it
	Mean          float64 // marks
	Facility      float64 // mean mark as a part of the most, 0 to 1; NaN without pupils or marks
	Full          Rate    // pupils with full marks
	Upper, Lower  float64 // facility in the upper and the lower third by total mark
	Discriminates float64 // Upper − Lower, −1 to 1; NaN with fewer than three pupils
	Correlation   float64 // of its mark with the rest of the total (point-biserial for a part of one mark); NaN where either doesn't vary
}

// A Rate is a share of pupils with its interval of 95 %.
type Rate struct {
	Count, Of int
	Value     float64 // NaN of none
	Low, High float64
}

// NewRate is a rate with Wilson's interval.
//
// Source: E. B. Wilson, J. Amer. Statist. Assoc. 22 (1927) 209-212; formula from memory.
func NewRate(count, of int) Rate {
	r := Rate{Count: count, Of: of, Value: math.NaN(), Low: 0, High: 1}
	if of <= 0 {
		return r
	}
	const z = 1.959963984540054 // 97.5 % of the normal distribution
	n, p := float64(of), float64(count)/float64(of)
	r.Value = p
	mid := (p + z*z/(2*n)) / (1 + z*z/n)
	half := z / (1 + z*z/n) * math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
	r.Low, r.High = max(0, mid-half), min(1, mid+half)
	return r
}

// Score is the mark that counts: the teacher's, where there is one.
func (p *Part) Score() int {
	if p.Override != nil {
		return p.Override.Mark
	}
	return p.Marks
}

// Items are the statistics of each part, in the order in which parts are first met; pupils holds the parts of
// each pupil. A pupil who handed nothing in for a part counts with no mark.
func Items(pupils [][]Part) []Item {
	var items []Item
	at := map[string]int{}
	for _, parts := range pupils {
		for i := range parts {
			if _, ok := at[parts[i].Part]; !ok && parts[i].Of > 0 {
				at[parts[i].Part] = len(items)
				items = append(items, Item{Part: parts[i].Part, Of: parts[i].Of})
			}
		}
	}
	n := len(pupils)
	marks := make([][]float64, len(items)) // by item and pupil
	for i := range marks {
		marks[i] = make([]float64, n)
	}
	total := make([]float64, n)
	for k, parts := range pupils {
		for i := range parts {
			if j, ok := at[parts[i].Part]; ok {
				marks[j][k] = float64(parts[i].Score())
			}
		}
		for j := range items {
			total[k] += marks[j][k]
		}
	}
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case total[a] > total[b]:
			return -1
		case total[a] < total[b]:
			return 1
		}
		return a - b
	})
	for j := range items {
		items[j].count(marks[j], total, order)
	}
	return items
}

func (x *Item) count(marks, total []float64, order []int) {
	x.N = len(marks)
	x.Mean, x.Facility, x.Upper, x.Lower, x.Discriminates, x.Correlation = math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN()
	full := 0
	for _, m := range marks {
		if m >= float64(x.Of) {
			full++
		}
	}
	x.Full = NewRate(full, x.N)
	if x.N == 0 {
		return
	}
	x.Mean = stat.Mean(marks, nil)
	x.Facility = x.Mean / float64(x.Of)
	third := x.N / 3
	if third == 0 {
		return
	}
	x.Upper, x.Lower = 0, 0
	for i := range third {
		x.Upper += marks[order[i]] / float64(third*x.Of)
		x.Lower += marks[order[x.N-1-i]] / float64(third*x.Of)
	}
	x.Discriminates = x.Upper - x.Lower
	rest := make([]float64, x.N)
	for i := range rest {
		rest[i] = total[i] - marks[i]
	}
	x.Correlation = stat.Correlation(marks, rest, nil)
}

// A Tally is how many pupils of a class a slip is likely in.
type Tally struct {
	Name     string
	Pupils   []int   // by number, those in whom it is likely
	Expected float64 // the sum of its probabilities over all pupils
	Rate     Rate    // of those in whom it is likely
}

// Tallies counts slips over a class; posteriors holds one list for each pupil, nil for pupils about whom nothing
// is known. The slip expected most comes first; NoSlip and Other are not among them.
func Tallies(posteriors [][]Suspect) []Tally {
	at := map[string]int{}
	var list []Tally
	for k, suspects := range posteriors {
		for _, s := range suspects {
			if s.Name == NoSlip || s.Name == Other || s.Probability < 0.02 {
				continue
			}
			j, ok := at[s.Name]
			if !ok {
				j = len(list)
				at[s.Name] = j
				list = append(list, Tally{Name: s.Name})
			}
			list[j].Expected += s.Probability
			if s.Probability >= Enough {
				list[j].Pupils = append(list[j].Pupils, k)
			}
		}
	}
	for j := range list {
		list[j].Rate = NewRate(len(list[j].Pupils), len(posteriors))
	}
	slices.SortStableFunc(list, func(a, b Tally) int {
		switch {
		case a.Expected > b.Expected+1e-12:
			return -1
		case b.Expected > a.Expected+1e-12:
			return 1
		}
		return 0
	})
	return list
}
