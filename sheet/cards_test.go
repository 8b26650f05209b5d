package sheet

import (
	"bytes"
	"strings"
	"testing"

	"steelyard/font"
	"steelyard/formula"
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
		out, err := Cards("Lock footbridge", []Pack{{Title: "Lock footbridge", Ladders: []Ladder{{Part: "b", Asked: "Calculate the force at P.", Hints: hints}}}}, o)
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

// Cards of a set say which question they belong to; whose the numbers are stands on those with numbers, and only there.
func TestCardsOfASetTellTheirQuestion(t *testing.T) {
	line := formula.Equal(formula.Symbol("R", "P", "", 1), formula.Given("30", "N"))
	symbols := formula.Equal(formula.Symbol("R", "P", "", 1), formula.Symbol("W", "", "", 1))
	hints := []solution.Hint{
		{Rung: 1, Say: []solution.Piece{{Text: "Which way would it turn?"}}},
		{Rung: 2, Say: []solution.Piece{{Text: "Which do you know?"}}, Line: &solution.Line{Formula: symbols}},
		{Rung: 3, Say: []solution.Piece{{Text: "Which is missing?"}}, Line: &solution.Line{Formula: line}},
	}
	var pack []Pack
	for i := range 2 {
		pack = append(pack, Pack{Number: i + 1, Title: "Footbridge", Note: "Not your numbers.", Ladders: []Ladder{{Part: "a", Asked: "Find P.", Hints: hints}}})
	}
	all := ""
	o := Options{onText: func(_ int, _, _, _ float64, _ *font.Face, text string) { all += text + "\n" }}
	if _, err := Cards("Moments 3", pack, o); err != nil {
		t.Fatal(err)
	}
	for want, n := range map[string]int{"Question 1: Footbridge": 1, "Question 2: Footbridge": 1, "1 (a) hint 1": 1, "2 (a) hint 3": 1, "Not your numbers.": 2} {
		if got := strings.Count(all, want); got != n {
			t.Errorf("%q stands there %d times, not %d:\n%s", want, got, n, all)
		}
	}
}
