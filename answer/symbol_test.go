package answer

import (
	"testing"

	"steelyard/question"
)

// A cable called T has the tension T, not T with another T below it.
func TestSymbols(t *testing.T) {
	for _, want := range []struct {
		kind              question.Kind
		name, letter, sub string
	}{
		{question.Cable, "T", "T", ""},
		{question.Cable, "P", "T", "P"},
		{question.Link, "T", "T", ""},
		{question.Strut, "S", "S", ""},
		{question.Strut, "T", "S", "T"},
		{question.Rest, "R", "R", "R"},
		{question.Rest, "S", "R", "S"},
		{question.Meter, "T", "R", "T"},
	} {
		if letter, sub := Symbol(&question.Support{Kind: want.kind, Name: want.name}); letter != want.letter || sub != want.sub {
			t.Errorf("the force of a %v called %s is %q below %q, want %q below %q", want.kind, want.name, letter, sub, want.letter, want.sub)
		}
	}
	for _, want := range []struct {
		kind              question.LoadKind
		name, letter, sub string
	}{
		{question.Weight, "W", "W", ""},
		{question.Weight, "F", "W", "F"},
		{question.Force, "F", "F", ""},
		{question.Couple, "C", "C", ""},
		{question.Spread, "K", "W", "K"},
	} {
		if letter, sub := LoadSymbol(&question.Load{Kind: want.kind, Name: want.name}); letter != want.letter || sub != want.sub {
			t.Errorf("load %s is %q below %q, want %q below %q", want.name, letter, sub, want.letter, want.sub)
		}
	}
}
