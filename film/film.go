package film

import (
	"strings"
	"unicode"

	"steelyard/show"
)

// A Film is a talk with the times of its steps, and perhaps a voice.
type Film struct {
	Talk  *show.Talk
	Times Times
	Voice []byte // a sound file as Sound knows it; none if empty
}

// New is a film without a voice, at the pace given in words a minute.
func New(t *show.Talk, pace float64) *Film { return &Film{Talk: t, Times: Read(t, pace)} }

// Script is what is said at a step, with the question that it ends on.
func Script(s *show.Step) string {
	if s.Ask == "" || strings.HasSuffix(s.Say, s.Ask) {
		return s.Say
	}
	return s.Say + " " + s.Ask
}

// Reword has a step say the teacher's words, with or without the question that it ended on; none leave it as it is. What
// can't be seen, or would turn the text that follows round, is taken out.
func Reword(s *show.Step, words string) {
	if words = clean(words); words == "" {
		return
	}
	if s.Say = words; !strings.HasSuffix(words, s.Ask) {
		s.Ask = ""
	}
}

func clean(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.IsControl(r), r >= '\u202a' && r <= '\u202e', r >= '\u2066' && r <= '\u2069', r == '\ufeff':
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
	return strings.Join(strings.Fields(s), " ")
}
