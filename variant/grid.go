package variant

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"steelyard/quantity"
	"steelyard/question"
)

// An axis is one number that varies and the values that it may have.
type axis struct {
	thing, attribute string
	values           []quantity.Quantity
}

// grid lists the axes of a question's vary lines.
func grid(q *question.Question) ([]axis, error) {
	var list []axis
	for i := range q.Vary {
		v := &q.Vary[i]
		x, err := axisOf(q, v)
		if err != nil {
			return nil, err
		}
		list = append(list, x)
	}
	return list, nil
}

// axisOf lists the values from one end of a range to the other, with the decimals that its ends, its step and
// the question's own number have, so that all pupils' numbers look alike.
func axisOf(q *question.Question, v *question.Vary) (axis, error) {
	x := axis{thing: v.Thing, attribute: v.Attribute}
	base := q.Value(v.Thing, v.Attribute)
	if base == nil || !base.Known() {
		return x, fmt.Errorf("%s:%d:%d: %s.%s has no number to vary; give it one first", q.File, v.Span.Line, v.Span.Column, v.Thing, v.Attribute)
	}
	u := base.Unit
	from, to, step := v.From.Quantity.In(u), v.To.Quantity.In(u), v.Step.Quantity.In(u)
	if !(step.Value > 0) {
		return x, fmt.Errorf("%s:%d:%d: %s.%s varies in steps of nothing; give a step above 0", q.File, v.Span.Line, v.Span.Column, v.Thing, v.Attribute)
	}
	decimals := max(base.Decimals, from.Decimals, to.Decimals, step.Decimals)
	for k := 0; k <= 1000; k++ {
		value := quantity.Snap(from.Value + float64(k)*step.Value)
		if value > to.Value*(1+1e-12)+1e-12 {
			break
		}
		n, err := quantity.Parse(strings.TrimSpace(quantity.RoundDecimals(value, decimals)+" "+u.Symbol), u.Dimension, u)
		if err != nil {
			return x, fmt.Errorf("%s:%d:%d: %s.%s cannot be %v %s: %w", q.File, v.Span.Line, v.Span.Column, v.Thing, v.Attribute, value, u.Symbol, err)
		}
		x.values = append(x.values, n)
	}
	return x, nil
}

// stream is a source of chance that depends only on the words given.
func stream(words ...string) *rand.Rand {
	h := sha256.New()
	for _, w := range words {
		var n [8]byte
		binary.BigEndian.PutUint64(n[:], uint64(len(w)))
		h.Write(n[:])
		h.Write([]byte(w))
	}
	sum := h.Sum(nil)
	return rand.New(rand.NewPCG(binary.BigEndian.Uint64(sum), binary.BigEndian.Uint64(sum[8:])))
}

// points lists sets of numbers by their places on the axes: all of them, or most at random, each once, if
// there are more.
func points(axes []axis, most int, r *rand.Rand) [][]int {
	total := 1.0
	for i := range axes {
		total *= float64(len(axes[i].values))
	}
	if total <= float64(most) {
		list := [][]int{make([]int, len(axes))}
		for {
			next := append([]int(nil), list[len(list)-1]...)
			i := len(axes) - 1
			for ; i >= 0; i-- {
				if next[i]++; next[i] < len(axes[i].values) {
					break
				}
				next[i] = 0
			}
			if i < 0 {
				return list
			}
			list = append(list, next)
		}
	}
	seen := map[string]bool{}
	var list [][]int
	for tries := 0; len(list) < most && tries < 4*most; tries++ {
		p := make([]int, len(axes))
		key := make([]byte, 0, 4*len(axes))
		for i := range axes {
			p[i] = r.IntN(len(axes[i].values))
			key = binary.BigEndian.AppendUint32(key, uint32(p[i]))
		}
		if !seen[string(key)] {
			seen[string(key)] = true
			list = append(list, p)
		}
	}
	return list
}

// put writes the numbers of a point into a question.
func put(q *question.Question, axes []axis, point []int) {
	for i := range axes {
		if v := q.Value(axes[i].thing, axes[i].attribute); v != nil {
			v.Quantity = axes[i].values[point[i]]
		}
	}
}

func steady(v float64) float64 { return math.Round(v*1e6) / 1e6 }
