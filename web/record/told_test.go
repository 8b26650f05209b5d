package record

import (
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"steelyard/show"
)

// Whatever a page tells, what is taken makes a film whose words can be seen, are in order, and are not too long.
func FuzzRead(f *testing.F) {
	whole, err := show.Explain("question \"Plank\"\nlevel 14-16\n\nbody plank: uniform, length 4 m, weight 300 N\n" +
		"support P: rest, on plank at 1 m\nsupport Q: rest, on plank at 3 m\n\npart a: find force P\n")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(`{"stop":true,"steps":{"a-1":{"clip":1.5,"words":"Now  you\u202e.\n"}}}`)
	f.Add(`{"steps":{"start":{"words":"\u0000 x \ud800"}}}`)
	f.Add(`{"steps":{"":{"clip":1e308}}}`)
	f.Add(`{"steps":null}`)
	f.Fuzz(func(t *testing.T, text string) {
		talk := &show.Talk{Title: whole.Title, Steps: slices.Clone(whole.Steps)}
		made, err := (source{talk: talk}).film([]byte(text))
		if err != nil {
			return
		}
		if n := len(made.Talk.Steps); len(made.Times.Start) != n || made.Times.End <= made.Times.Start[n-1] {
			t.Errorf("%d steps at %v", n, made.Times)
		}
		for _, s := range made.Talk.Steps {
			if utf8.RuneCountInString(s.Say) > wordsMost || !utf8.ValidString(s.Say) || s.Say != strings.TrimSpace(s.Say) || strings.Contains(s.Say, "  ") ||
				strings.ContainsFunc(s.Say, unicode.IsControl) || strings.ContainsRune(s.Say, '\u202e') {
				t.Errorf("step %s says %q", s.ID, s.Say)
			}
		}
	})
}
