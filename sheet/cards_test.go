package sheet

import (
	"bytes"
	"strings"
	"testing"

	"steelyard/font"
	"steelyard/solution"
)

// Every hint has a card, which says whose it is, in small and in large print.
func TestEveryHintHasACard(t *testing.T) {
	var hints []solution.Hint
	for i := range 9 {
		hints = append(hints, solution.Hint{Rung: i + 1, Say: []solution.Piece{{Text: "Which way would it turn?"}}})
	}
	for _, size := range []float64{11, 18} {
		heads := 0
		o := Options{Size: size, onText: func(_ int, _, _, _ float64, _ *font.Face, text string) {
			if strings.Contains(text, "hint") {
				heads++
			}
		}}
		out, err := Cards("Lock footbridge", []Ladder{{Part: "b", Asked: "Calculate the force at P.", Hints: hints}}, o)
		if err != nil || !bytes.HasPrefix(out, []byte("%PDF")) {
			t.Fatal(err)
		}
		if heads != 9 {
			t.Errorf("at %g points there are %d cards, want 9", size, heads)
		}
	}
	if _, err := Cards("Empty", nil, Options{}); err == nil {
		t.Error("cards without hints are printed")
	}
}
