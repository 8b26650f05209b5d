package trial

import (
	"net/url"
	"slices"
	"strconv"
	"strings"

	"steelyard/answer"
	"steelyard/trial"
)

// A poll is what might happen, and how many of the class say so.
type poll struct {
	Key, Words, Count string
	Verdict           string // "yes", or nothing
}

// away takes a thing away, or makes it smooth.
func (s *sight) away(q url.Values) {
	s.Changes, s.Already = trial.Changes(s.Answers), trial.Already(s.Answers)
	do := q.Get("do")
	if do == "" {
		return
	}
	deed, thing, _ := strings.Cut(do, "|")
	for i := range s.Changes {
		if c := &s.Changes[i]; string(c.Deed) == deed && c.Thing == thing {
			s.Chosen = c
		}
	}
	if s.Chosen == nil {
		s.Fault = "There is nothing here that can be taken away so. Choose one of the buttons."
		return
	}
	o, err := trial.Without(s.Answers, *s.Chosen)
	if err != nil {
		s.fail(err)
		s.Chosen = nil
		return
	}
	s.Outcome = o
	s.Polls = polls(q, o)
	if s.Shown {
		s.scene(o)
	}
}

// polls are the ways in which it may go on, with what the class said.
func polls(q url.Values, o *trial.Outcome) []poll {
	list := []poll{{Key: "cw", Words: "It turns clockwise"}, {Key: "acw", Words: "It turns anticlockwise"},
		{Key: "slides", Words: "It slides, falls or rises without turning"}, {Key: "rests", Words: "It stays at rest"}}
	for i := range list {
		p := &list[i]
		if n, err := strconv.Atoi(q.Get(p.Key)); err == nil && n >= 0 && n <= 999 {
			p.Count = strconv.Itoa(n)
		}
		does := o.Rests && p.Key == "rests"
		if !o.Rests {
			for _, m := range answer.Moves(o.After.Layout, o.Motion) {
				does = does || m.Turns && (p.Key == "cw" && m.Sense == "clockwise" || p.Key == "acw" && m.Sense == "anticlockwise") || !m.Turns && p.Key == "slides"
			}
		}
		if does {
			p.Verdict = "yes"
		}
	}
	return list
}

// guessed says whether anybody has said anything.
func guessed(list []poll) bool {
	return slices.ContainsFunc(list, func(p poll) bool { return p.Count != "" })
}
