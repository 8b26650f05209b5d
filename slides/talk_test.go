package slides_test

import (
	"os"
	"path/filepath"
	"testing"

	"steelyard/answer"
	"steelyard/bank"
	"steelyard/question"
	"steelyard/show"
	"steelyard/slides"
	"steelyard/solution"
)

// five are questions of the bank that differ in what is drawn and worked out.
var five = []string{"lock-footbridge.moments", "allotment-gate.moments", "library-ladder.moments", "puppet-plate.moments", "crate-on-ramp.moments"}

// talk makes the talk of a question of the bank, after its text has been changed.
func talk(t testing.TB, name string, change func(string) string) *show.Talk {
	t.Helper()
	src, err := bank.Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	text := string(src)
	if change != nil {
		text = change(text)
	}
	q, err := question.Parse(name, text)
	if err != nil {
		t.Fatal(err)
	}
	a, err := answer.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	s, err := solution.Solve(a)
	if err != nil {
		t.Fatal(err)
	}
	k, err := show.Make(a, s)
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// With STEELYARD_SLIDES set to a folder, five questions are written there in every kind to be looked at.
func TestWriteSamples(t *testing.T) {
	folder := os.Getenv("STEELYARD_SLIDES")
	if folder == "" {
		t.Skip("STEELYARD_SLIDES names no folder, so no sample slides were written")
	}
	for _, name := range five {
		k := talk(t, name, nil)
		for _, ending := range slides.Endings() {
			b, err := slides.Write(k, ending, slides.Options{})
			if err != nil {
				t.Error(err)
				continue
			}
			if err := os.WriteFile(filepath.Join(folder, name[:len(name)-len("moments")]+ending), b, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		b, err := slides.Write(k.Stopped(), "pdf", slides.Options{Notes: true})
		if err != nil {
			t.Error(err)
			continue
		}
		if err := os.WriteFile(filepath.Join(folder, name[:len(name)-len(".moments")]+"-notes.pdf"), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
