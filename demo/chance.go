package demo

import (
	"math/rand/v2"
	"strings"
)

// A chance is a stream of chance that begins with a seed.
type chance struct{ *rand.Rand }

func newChance(seed uint64) chance { return chance{rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15))} }

// in says yes in so many of a hundred cases.
func (c chance) in(percent int) bool { return c.IntN(100) < percent }

func pick[V any](c chance, list ...V) V { return list[c.IntN(len(list))] }

// Letters that are not taken for each other, and those of identifiers.
const (
	letters   = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
	idLetters = "abcdefghijklmnopqrstuvwxyz234567"
)

func (c chance) text(letters string, n int) string {
	var b strings.Builder
	for range n {
		b.WriteByte(letters[c.IntN(len(letters))])
	}
	return b.String()
}

// id is an identifier as the store makes them.
func (c chance) id() string { return c.text(idLetters, 26) }

// code is a code in groups of four.
func (c chance) code(n int) string {
	var groups []string
	for ; n > 0; n -= 4 {
		groups = append(groups, c.text(letters, min(n, 4)))
	}
	return strings.Join(groups, "-")
}
