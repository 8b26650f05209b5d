package figure

import (
	"slices"
	"strings"

	"steelyard/draw"
)

// key is a length as it stands beside its line: itself, or in a crowded picture a letter that the key
// below explains. Equal lengths have one letter.
func (s *scene) key(text string) string {
	if s.crowding < byLetters || text == "" {
		return text
	}
	k := slices.Index(s.keys, text)
	if k < 0 {
		k = len(s.keys)
		s.keys = append(s.keys, text)
	}
	if letters := s.freeLetters(); k < len(letters) {
		return letters[k]
	}
	return text
}

// freeLetters are the small letters that the question uses for nothing else, without l and o, which look
// like digits, and those of quantities in the trade.
func (s *scene) freeLetters() []string {
	var out []string
	for _, letter := range strings.Split("abcdefhijknpqsuvwyz", "") {
		if !s.named(letter) {
			out = append(out, letter)
		}
	}
	return out
}

// named reports whether something of the question has a name.
func (s *scene) named(name string) bool {
	q := s.l.Question
	for i := range q.Bodies {
		if strings.EqualFold(q.Bodies[i].Name, name) {
			return true
		}
	}
	for i := range q.Supports {
		if strings.EqualFold(q.Supports[i].Name, name) {
			return true
		}
	}
	for i := range q.Loads {
		if strings.EqualFold(q.Loads[i].Name, name) {
			return true
		}
	}
	for i := range q.Points {
		if strings.EqualFold(q.Points[i].Name, name) {
			return true
		}
	}
	return false
}

// writeKeys writes the key under the picture, as many letters in a line as there is room for.
func (s *scene) writeKeys() {
	letters := s.freeLetters()
	var line []draw.Run
	wide, apart := 0.0, 1.4*s.size
	x, y := (s.low.X+s.high.X)/2, s.high.Y+1.1*s.size
	flush := func() {
		if len(line) > 0 {
			s.write(boxAt(pt{X: x, Y: y}, wide, 0.98*s.size), [][]draw.Run{line}, draw.Black, draw.Centre, false)
		}
		line, wide, y = nil, 0, y+1.3*s.size
	}
	s.begin(words, "key", "key", "")
	for k, text := range s.keys[:min(len(s.keys), len(letters))] {
		one := []draw.Run{{Text: letters[k]}, after(text)}
		w := draw.RunsWidth(one, s.size)
		if wide > 0 && wide+apart+w > s.o.Width-2*margin {
			flush()
		}
		if wide > 0 {
			line = append(line, draw.Run{Text: "\u2003"})
			wide += draw.RunsWidth([]draw.Run{{Text: "\u2003"}}, s.size)
		}
		line, wide = append(line, one...), wide+w
	}
	flush()
	s.end()
}
