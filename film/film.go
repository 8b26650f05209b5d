package film

import (
	"strings"

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
