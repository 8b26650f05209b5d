package film_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"steelyard/film"
)

// Words that are short and many are broken into captions like others, and none is lost. Before lengths were counted once,
// one request of such words took half a minute.
func TestManyShortWords(t *testing.T) {
	f := of(t, "balanced-rule.moments")
	said := 0
	for i := range f.Talk.Steps {
		words := strings.TrimSpace(strings.Repeat("I ", 2000))
		film.Reword(&f.Talk.Steps[i], words)
		said += 2000
	}
	f.Times = film.Read(f.Talk, film.Pace)
	for _, c := range f.Cues() {
		for _, l := range c.Lines {
			if n := utf8.RuneCountInString(l); n > 40 {
				t.Fatalf("a line of %d characters: %q", n, l)
			}
			said -= len(strings.Fields(l))
		}
	}
	if said != 0 {
		t.Errorf("%d words are lost", said)
	}
}

func BenchmarkCaptionsOfShortWords(b *testing.B) {
	f := of(b, "balanced-rule.moments")
	for i := range f.Talk.Steps {
		film.Reword(&f.Talk.Steps[i], strings.Repeat("I ", 2000))
	}
	for b.Loop() {
		film.Read(f.Talk, film.Pace)
	}
}
