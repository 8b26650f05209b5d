package show

import (
	"slices"
	"strings"

	"steelyard/formula"
)

// A fraction with more letters than this above or below its line is too wide beside the picture.
const widest = 32

// long says whether a line has such a fraction: the terms of its sums are stacked, and what is still too wide scrolls.
func long(n formula.Node) bool {
	if n.Op == formula.Over {
		return max(letters(n.Args[0]), letters(n.Args[1])) > widest
	}
	return slices.ContainsFunc(n.Args, long)
}

// wide says whether a line has a piece, between two places where it may break, that a phone is too narrow for: it scrolls.
func wide(n formula.Node) bool {
	if n.Op == formula.Equals || n.Op == formula.Sum {
		return slices.ContainsFunc(n.Args, wide)
	}
	return long(n) || letters(n) > 24
}

func letters(n formula.Node) int { return len([]rune(formula.Text(n))) }

// mathematics is a line in pieces that it may break between, for the eye; words say it.
func mathematics(n formula.Node) []string {
	switch {
	case n.Op == formula.Over && long(n):
		return []string{math("<mfrac>" + stacked(n.Args[0]) + stacked(n.Args[1]) + "</mfrac>")}
	case n.Op != formula.Equals || !long(n):
		return formula.Pieces(n)
	}
	var list []string
	for i, side := range n.Args {
		switch {
		case i == 0:
			list = append(list, mathematics(side)...)
		case side.Op == formula.Over && long(side):
			list = append(list, math(`<mo form="infix">`+"=</mo>"+inside(mathematics(side)[0])))
		default:
			both := formula.Pieces(formula.Equal(n.Args[i-1], side))
			list = append(list, both[len(formula.Pieces(n.Args[i-1])):]...)
		}
	}
	return list
}

// stacked is what stands above or below a line: the terms of a long sum one under the other.
func stacked(n formula.Node) string {
	pieces := formula.Pieces(n)
	if len(pieces) == 1 || letters(n) <= widest {
		return inside(formula.MathML(n, false))
	}
	var b strings.Builder
	b.WriteString("<mtable>")
	for _, p := range pieces {
		b.WriteString("<mtr><mtd>" + inside(p) + "</mtd></mtr>")
	}
	b.WriteString("</mtable>")
	return b.String()
}

func math(inside string) string {
	return `<math xmlns="http://www.w3.org/1998/Math/MathML" display="inline"><mrow>` + inside + "</mrow></math>"
}

// inside is what a math element holds.
func inside(math string) string {
	_, rest, _ := strings.Cut(math, ">")
	return strings.TrimSuffix(rest, "</math>")
}
