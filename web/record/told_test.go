package record

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

// Whatever a page tells, words that are taken can be seen, are in order, and are not too long.
func FuzzRead(f *testing.F) {
	f.Add(`{"stop":true,"steps":{"a-1":{"clip":1.5,"words":"Now  you\u202e.\n"}}}`)
	f.Add(`{"steps":{"":{"clip":1e308}}}`)
	f.Add(`{"steps":null}`)
	f.Fuzz(func(t *testing.T, text string) {
		got, err := read([]byte(text))
		if err != nil {
			return
		}
		for id, s := range got.Steps {
			if !(s.Clip >= 0 && s.Clip <= 3600) || utf8.RuneCountInString(s.Words) > wordsMost || !utf8.ValidString(s.Words) {
				t.Errorf("%q: %v", id, s)
			}
			if s.Words != strings.TrimSpace(s.Words) || strings.Contains(s.Words, "  ") || strings.ContainsFunc(s.Words, unicode.IsControl) || strings.ContainsRune(s.Words, '\u202e') {
				t.Errorf("%q: %q", id, s.Words)
			}
		}
	})
}
