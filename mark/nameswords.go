package mark

import (
	"math"
	"slices"
	"strings"
	"unicode"

	"steelyard/question"
)

// phrase reads a name in words: "force at the left support", "weight of plank", "tension".
func (m *namer) phrase(text string) {
	s := m.s
	words := strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) || r == '\'' })
	has := func(list ...string) bool {
		for _, w := range words {
			if slices.Contains(list, strings.ToLower(w)) {
				return true
			}
		}
		return false
	}
	comp := byte(0)
	switch {
	case has("horizontal"):
		comp = 'x'
	case has("vertical"):
		comp = 'y'
	}
	if has("moment", "moments", "cwm", "acwm", "ccwm", "acm", "clockwise", "anticlockwise", "torque", "total", "sum") {
		m.total()
		return
	}
	if has("coefficient") {
		m.symbol("μ")
		return
	}
	if has("angle") {
		m.angles()
		return
	}
	if len(words) == 1 && m.closedUp(words[0]) {
		return
	}
	thing := ""
	for _, w := range words {
		if t := m.thing(w); t != "" && (len(w) > 1 || unicode.IsUpper(rune(w[0]))) {
			if s.l.SupportNamed(t) != nil || thing == "" {
				thing = t
			}
		}
	}
	if thing == "" && has("left") {
		thing = m.end(true)
	}
	if thing == "" && has("right") {
		thing = m.end(false)
	}
	if thing == "" {
		for i := range s.l.Supports {
			if w := kindWords[s.l.Supports[i].Kind]; w != "" && has(w, w+"s") || has("ground") && s.l.Supports[i].Kind == question.Floor {
				thing = s.l.Supports[i].Name
			}
		}
	}
	switch {
	case has("distance", "position", "place"):
		if thing != "" {
			m.column(s.column(placeOf, thing))
		}
		m.every(placeOf)
	case has("friction"):
		if thing != "" {
			m.column(s.column(frictionOf, thing))
		}
		m.every(frictionOf)
	case has("normal"):
		if thing != "" {
			m.column(s.column(normalOf, thing))
			m.column(s.column(reactionOf, thing))
		}
		m.every(normalOf)
	case has("mass"):
		if thing != "" {
			m.named(thing, 'm', 0)
		} else {
			m.letter("m", "")
		}
	case has("weight"):
		if thing != "" {
			m.named(thing, 'W', 0)
		} else {
			m.unknownFirst(weightOf)
		}
	case has("length"):
		m.letter("L", "")
	case thing != "":
		m.named(thing, 0, comp)
	case has("tension"):
		m.letter("T", "")
	case has("force", "reaction", "push", "thrust", "support", "reading", "contact"):
		if m.part != nil {
			m.named(m.part.Thing, 0, comp)
		}
		if comp != 0 {
			m.symbol(map[byte]string{'x': "X", 'y': "Y"}[comp])
		}
	}
}

// closedUp reads a letter closed up with the name of a thing, Wplank or Tcord, where only one thing is called so and
// the word is no name of its own.
func (m *namer) closedUp(text string) bool {
	if len(text) < 3 || m.thing(text) != "" || nameWords[strings.ToLower(text)] {
		return false
	}
	letter := text[0]
	if letter != 'm' { // a typed word comes in small letters; m alone is a letter of its own in either case
		letter = strings.ToUpper(text[:1])[0]
	}
	name, _ := m.kindred(letter, text[1:])
	if name == "" {
		return false
	}
	m.named(name, letter, 0)
	if i := m.s.main(name); letter == 'm' && i >= 0 && m.part != nil && (m.part.Ask == question.AskMoment || m.part.Ask == question.AskTotalMoment) { // Mplank
		m.ownMoment(i)
	}
	return len(m.list) > 0
}

// nameWords are words that mean a kind of number by themselves.
var nameWords = map[string]bool{"tension": true, "friction": true, "normal": true, "mass": true, "weight": true, "force": true, "reaction": true,
	"reading": true, "thrust": true, "push": true, "support": true, "contact": true, "distance": true, "position": true, "place": true, "length": true}

// Sought is the name under which a judged line's Finds would give what a part asks for; "" where the part asks
// for no single number of the arrangement.
func (k *Key) Sought(part *question.Part) string {
	j := k.theJudge()
	s := j.main
	switch part.Ask {
	case question.AskAcross:
		return part.Thing + " across"
	case question.AskUpright:
		return part.Thing + " upright"
	case question.AskNormal, question.AskFriction:
		kind, word := normalOf, " normal"
		if part.Ask == question.AskFriction {
			kind, word = frictionOf, " friction"
		}
		if s.column(kind, part.Thing) >= 0 {
			return part.Thing + word
		}
		return part.Thing
	case question.AskWeight, question.AskGreatest, question.AskLeast:
		if part.OfAngle {
			return part.Thing + " angle"
		}
		if s.column(pushOf, part.Thing) >= 0 {
			return part.Thing
		}
		return part.Thing + " weight"
	case question.AskMass:
		return part.Thing + " mass"
	case question.AskPosition, question.AskCentre, question.AskFurthest, question.AskRange:
		return part.Thing + " position"
	case question.AskAngle, question.AskDirection:
		return part.Thing + " angle"
	case question.AskCoefficient, question.AskLeastCoefficient:
		return part.Thing + " coefficient"
	case question.AskCouple:
		return part.Thing + " couple"
	case question.AskMoment, question.AskTotalMoment:
		return "total"
	case question.AskForce, question.AskForceOn, question.AskSize:
		if i := s.column(uprightOf, part.Thing); i >= 0 {
			if x := s.column(acrossOf, part.Thing); x >= 0 && math.Abs(s.cols[x].value) < 1e-9*(1+math.Abs(s.cols[i].value)) {
				return part.Thing + " upright"
			}
		}
		return part.Thing
	}
	return ""
}
