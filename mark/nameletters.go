package mark

import (
	"math"
	"strings"

	"steelyard/quantity"
	"steelyard/question"
)

// letter adds what a letter alone may mean.
func (m *namer) letter(letter, sub string) {
	s := m.s
	switch letter {
	case "R", "r", "N", "n":
		m.every(normalOf)
		if letter == "R" || letter == "N" {
			for i := range s.l.Supports {
				if k := s.l.Supports[i].Kind; k != question.Cable && k != question.Link && m.part != nil && m.part.Thing == s.l.Supports[i].Name {
					m.support(s.l.Supports[i].Name, 'R', 0)
				}
			}
			for i := range s.l.Supports {
				if k := s.l.Supports[i].Kind; k != question.Cable && k != question.Link {
					m.support(s.l.Supports[i].Name, 'R', 0)
				}
			}
		}
	case "T", "t":
		for i := range s.l.Supports {
			switch s.l.Supports[i].Kind {
			case question.Cable, question.Link, question.Meter, question.Strut:
				m.column(s.column(reactionOf, s.l.Supports[i].Name))
			}
		}
	case "S":
		m.unknownFirst(reactionOf)
	case "F", "f", "P", "Q", "E":
		if sub == "" || strings.EqualFold(sub, "r") || strings.EqualFold(sub, "f") {
			m.every(frictionOf)
		}
		if sub == "" || len(m.list) == 0 {
			m.unknownFirst(pushOf)
			m.unknownFirst(reactionOf)
		}
	case "H", "X":
		m.every(acrossOf)
	case "V", "Y":
		m.every(uprightOf)
	case "W", "w":
		m.unknownFirst(weightOf)
	case "C":
		m.unknownFirst(turnOf)
	case "m", "M":
		for i := range s.cols {
			if c := &s.cols[i]; c.kind == weightOf && (!c.known || c.mass != 0) {
				m.mass(i)
			}
		}
		if letter == "M" {
			m.total()
		}
	case "L", "l":
		for i := range s.l.Bodies {
			if b := &s.l.Bodies[i]; b.Length > 0 {
				m.length(b.Length, "the length of the "+plainName(b.Label, b.Name))
			}
		}
	case "x", "d", "y", "z", "s", "a", "b", "D":
		m.every(placeOf)
		if letter == "y" && len(m.list) == 0 {
			m.every(uprightOf)
		}
	}
}

func (m *namer) length(v float64, words string) {
	x := meaning{key: words, words: words, value: v, col: -1, col2: -1, scale: 1}
	m.add(x)
	if p := m.s.unit[quantity.Length].Power; p != 0 {
		x.scale = math.Pow10(-p)
		x.value *= x.scale
		m.add(x)
	}
}

// span reads PQ as the distance between P and Q.
func (m *namer) span(text string) {
	a, ok := m.s.find(text[:1])
	b, ok2 := m.s.find(text[1:])
	if ok && ok2 {
		m.length(math.Hypot(a.at.X-b.at.X, a.at.Y-b.at.Y), "the distance from "+a.name+" to "+b.name)
	}
}

func (m *namer) angles() {
	for i := range m.s.cols {
		if m.s.cols[i].kind == angleOf {
			m.column(i)
		}
	}
	for _, a := range m.s.angles() {
		x := meaning{key: a.of + " angle", words: a.words, value: a.value, col: -1, col2: -1, open: !a.known, scale: 1}
		m.add(x)
	}
	for _, a := range m.s.angles() {
		m.add(meaning{key: a.of + " angle", words: a.words + ", from the upright", value: 90 - a.value, col: -1, col2: -1, open: !a.known, scale: 1})
	}
}

// total adds a moment or a total that the pupil names.
func (m *namer) total() {
	m.add(meaning{key: "total", words: "a total", value: math.NaN(), col: -1, col2: -1, total: true, scale: 1})
}

// asked adds what the part asks for, under a letter that means nothing else.
func (m *namer) asked() {
	if m.part == nil {
		return
	}
	defer func() {
		for i := range m.list {
			m.list[i].guess = true
		}
	}()
	s := m.s
	switch m.part.Ask {
	case question.AskPosition, question.AskFurthest, question.AskRange, question.AskCentre:
		m.column(s.column(placeOf, m.part.Thing))
	case question.AskWeight, question.AskGreatest, question.AskLeast:
		m.named(m.part.Thing, 'W', 0)
	case question.AskMass:
		m.named(m.part.Thing, 'm', 0)
	case question.AskForce, question.AskForceOn, question.AskSize, question.AskCouple:
		m.named(m.thingAsked(), 0, 0)
	case question.AskMoment, question.AskTotalMoment:
		m.total()
	}
}

// thingAsked is the support or load that the part is about.
func (m *namer) thingAsked() string {
	return m.part.Thing
}
