package mark

import (
	"math"
	"strings"

	"steelyard/quantity"
	"steelyard/question"
)

// A meaning is what a pupil's name may stand for.
type meaning struct {
	key   string // "P", "H across", "K position"
	words string
	value float64 // SI, degrees
	col   int     // −1 for a number that no equation has as a column
	per   float64 // change of the value for a unit change of the column
	col2  int     // the other part of a force in two parts
	per2  float64
	open  bool    // it is found, not given
	scale float64 // SI value = value / scale, where a bare number may be in the question's own unit
	total bool    // a moment or a total that the pupil gives a name of their own
	guess bool    // a letter that means nothing else: taken for what the part asks
}

// A nameList is the names of one piece of working.
type nameList struct{ texts []string }

func (n *nameList) number(text string) int {
	for i, t := range n.texts {
		if t == text {
			return i
		}
	}
	n.texts = append(n.texts, text)
	return len(n.texts) - 1
}

// meanings lists what a name may stand for in a scene, the likeliest first. asked is the part's question.
func (s *scene) meanings(text string, part *question.Part, about string) []meaning {
	m := namer{s: s, part: part, about: about}
	if strings.Contains(text, " ") || len(text) > 4 && !strings.Contains(text, "_") || shortPhrases[text] {
		m.phrase(text)
	} else {
		m.symbol(text)
	}
	return m.list
}

// shortPhrases are words so short that they look like a letter with something below it.
var shortPhrases = map[string]bool{"acwm": true, "ccwm": true, "cwm": true, "acm": true, "wall": true}

type namer struct {
	s     *scene
	part  *question.Part
	about string
	list  []meaning
}

func (m *namer) add(x meaning) {
	for i := range m.list {
		if y := &m.list[i]; y.key == x.key && y.value == x.value && y.words == x.words {
			return
		}
	}
	if len(m.list) < 24 {
		m.list = append(m.list, x)
	}
}

// key is the name under which a column's value is kept and found.
func (s *scene) key(i int) string {
	c := &s.cols[i]
	switch c.kind {
	case weightOf:
		return c.name + " weight"
	case pushOf:
		return c.name
	case turnOf:
		return c.name + " couple"
	case normalOf:
		return c.name + " normal"
	case frictionOf:
		return c.name + " friction"
	case acrossOf:
		return c.name + " across"
	case uprightOf:
		return c.name + " upright"
	case placeOf:
		return c.name + " position"
	case angleOf:
		return c.name + " angle"
	case coefficient:
		return c.name + " coefficient"
	}
	return c.name
}

// column adds the meaning of a column; a force whose sense the pupil has to guess also with the other sign. What
// pushes up is taken to be counted upwards.
func (m *namer) column(i int) {
	if i < 0 {
		return
	}
	c := &m.s.cols[i]
	if c.kind == placeOf {
		m.place(i)
		return
	}
	x := meaning{key: m.s.key(i), words: c.words, value: c.value, col: i, per: 1, col2: -1, open: !c.known, scale: 1}
	m.add(x)
	if c.isForce() && m.s.unit[quantity.Force].Power != 0 {
		y := x
		y.scale = math.Pow10(-m.s.unit[quantity.Force].Power)
		y.value, y.per = x.value*y.scale, y.scale
		m.add(y)
	}
	if c.kind == acrossOf || c.kind == uprightOf && c.way.Y < 0 || c.kind == frictionOf || c.kind == turnOf && !c.known {
		x.value, x.per = -x.value, -1
		x.words += ", counted the other way"
		m.add(x)
	}
}

// whole adds the size of a force in two parts.
func (m *namer) whole(name string, a, b columnKind) {
	i, j := m.s.column(a, name), m.s.column(b, name)
	if i < 0 || j < 0 {
		return
	}
	x, y := m.s.cols[i].value, m.s.cols[j].value
	r := math.Hypot(x, y)
	if r == 0 {
		return
	}
	if math.Abs(x) < 1e-9*r { // it only acts upwards
		m.column(j)
		return
	}
	if math.Abs(y) < 1e-9*r {
		m.column(i)
		return
	}
	m.add(meaning{key: name, words: "the force at " + name, value: r, col: i, per: x / r, col2: j, per2: y / r, open: true, scale: 1})
}

// support adds what the force of a support may mean; comp is x or y where a component is named.
func (m *namer) support(name string, letter byte, comp byte) {
	s := m.s
	switch {
	case comp == 'x':
		m.column(s.column(acrossOf, name))
		m.column(s.column(frictionOf, name))
	case comp == 'y':
		m.column(s.column(uprightOf, name))
		m.column(s.column(normalOf, name))
	case letter == 'X' || letter == 'H':
		m.column(s.column(acrossOf, name))
	case letter == 'Y' || letter == 'V':
		m.column(s.column(uprightOf, name))
		m.column(s.column(normalOf, name))
	case letter == 'F':
		m.column(s.column(frictionOf, name))
	case letter == 'N':
		m.column(s.column(normalOf, name))
	case letter == 'C' || letter == 'M':
		m.column(s.column(turnOf, name))
		return
	}
	m.column(s.column(reactionOf, name))
	if comp != 0 || strings.IndexByte("XHYV", letter) >= 0 { // a component is never the whole force
		if letter != 'F' {
			m.column(s.column(normalOf, name))
		}
		return
	}
	m.whole(name, acrossOf, uprightOf)
	if letter != 'F' {
		m.column(s.column(normalOf, name))
	}
	if letter != 'F' && letter != 'N' {
		m.whole(name, frictionOf, normalOf)
	}
	m.column(s.column(uprightOf, name))
	m.column(s.column(acrossOf, name))
}

// place adds an unknown place, counted from wherever it may be counted.
func (m *namer) place(i int) {
	s := m.s
	c := &s.cols[i]
	b := &s.l.Bodies[c.on]
	if m.part != nil && m.part.Thing == c.name && (m.part.Ask == question.AskFurthest || m.part.Ask == question.AskRange) && s.known(c.name) {
		return // the place at the limit is meant
	}
	add := func(from string, v, per float64) {
		if math.Abs(v) < 1e-9 {
			return
		}
		if v < 0 {
			v, per = -v, -per
		}
		x := meaning{key: c.name + " position", words: "the distance of " + c.name + " from " + from, value: v, col: i, per: per, col2: -1, open: !s.known(c.name), scale: 1}
		m.add(x)
		if p := s.unit[quantity.Length].Power; p != 0 {
			x.scale = math.Pow10(-p)
			x.value, x.per = v*x.scale, per*x.scale
			m.add(x)
		}
	}
	end := "the left end"
	if b.ZeroRight {
		end = "the right end"
	}
	if b.ZeroRight {
		add(end, b.Length-c.value, -1)
	} else {
		add(end, c.value, 1)
	}
	if p, ok := s.find(m.about); ok && m.about != "" {
		add(p.name, c.value-b.Distance(p.at), 1)
	}
	for k := range s.l.Supports {
		if p := &s.l.Supports[k]; p.On == c.on || p.By == c.on {
			add(p.Name, c.value-b.Distance(p.At), 1)
		}
	}
	add("the middle", c.value-b.Length/2, 1)
	add("the left end", c.value, 1)
	add("the right end", b.Length-c.value, -1)
	for k := range s.l.Loads {
		if d := &s.l.Loads[k]; d.On == c.on && d.Name != c.name {
			add(d.Name, c.value-b.Distance(d.At), 1)
		}
	}
}

// known reports whether a load's place is given, although some part asks how far it could go.
func (s *scene) known(name string) bool {
	if s.limit {
		return false
	}
	d := s.l.LoadNamed(name)
	return d != nil && d.Load.On.At.Known()
}

// symbol reads a name of one letter or a few: R_B, FA, mu, d.
func (m *namer) symbol(text string) {
	s := m.s
	letter, sub := split(text)
	comp := byte(0)
	if n := len(sub); n > 1 && m.thing(sub) == "" {
		switch sub[n-1] {
		case 'x', 'X', 'h', 'H':
			sub, comp = strings.TrimSuffix(sub[:n-1], "_"), 'x'
		case 'y', 'Y', 'v', 'V':
			sub, comp = strings.TrimSuffix(sub[:n-1], "_"), 'y'
		}
	}
	// What the question itself calls so.
	// A letter of its own trade comes before the first letter of a label: m is a mass, though the rule is a "metre rule".
	if thing := m.thing(text); thing != "" && len(text) <= 2 && !(strings.Contains(tradeLetters, text) && !s.calls(thing, text)) {
		m.named(thing, 0, 0)
		if len(text) == 1 && text != thing && strings.EqualFold(text, thing) { // k may be something other than K
			for i := range m.list {
				m.list[i].guess = true
			}
		}
		if i := s.main(thing); i >= 0 && m.part != nil && m.part.Ask == question.AskMoment && m.part.Thing == thing { // A = 0.80 x 0.30
			m.ownMoment(i)
		}
		if len(m.list) > 0 && !strings.Contains("HVXYNFRM", text) {
			return
		}
	}
	switch letter {
	case "μ":
		for i := range s.cols {
			if s.cols[i].kind == coefficient && (sub == "" || m.thing(sub) == s.cols[i].name) {
				m.column(i)
			}
		}
		for i := range s.cols { // needed, where it isn't given
			if s.cols[i].kind == frictionOf && s.cols[i].value != 0 {
				if n := s.column(normalOf, s.cols[i].name); n >= 0 && s.cols[n].value != 0 {
					m.add(meaning{key: s.cols[i].name + " coefficient", words: "friction over normal force at " + s.cols[i].name, value: math.Abs(s.cols[i].value / s.cols[n].value), col: -1, col2: -1, open: true, scale: 1})
				}
			}
		}
		return
	case "θ", "α", "β", "φ", "λ":
		m.angles()
		return
	case "g":
		m.add(meaning{key: "g", words: "g", value: s.l.Field, col: -1, col2: -1, scale: 1})
		return
	}
	if sub != "" {
		m.subscripted(letter, sub, comp)
	}
	if sub == "" || len(m.list) == 0 {
		m.letter(letter, sub)
	}
	if len(m.list) == 0 && len(text) == 2 {
		m.span(text)
	}
	if len(m.list) == 0 && (sub == "" || len(text) <= 2) {
		m.asked()
	}
}

// tradeLetters are letters that stand for a kind of number wherever they are met.
const tradeLetters = "WwmMRNTFxdLlg"

// calls reports whether the question itself uses a name for a thing, in either case.
func (s *scene) calls(thing, text string) bool {
	if strings.EqualFold(thing, text) {
		return true
	}
	for i := range s.l.Supports {
		if p := &s.l.Supports[i]; p.Name == thing {
			return strings.EqualFold(p.Label, text)
		}
	}
	for i := range s.l.Loads {
		if d := &s.l.Loads[i]; d.Name == thing {
			return strings.EqualFold(d.Label, text)
		}
	}
	b := s.l.BodyNamed(thing)
	return b != nil && strings.EqualFold(b.Label, text)
}

// every adds all columns of a kind.
func (m *namer) every(kind columnKind) {
	for i := range m.s.cols {
		if m.s.cols[i].kind == kind {
			m.column(i)
		}
	}
}

// unknownFirst adds the columns of a kind, those that the part is about first, then the others not given.
func (m *namer) unknownFirst(kind columnKind) {
	if m.part != nil {
		m.column(m.s.column(kind, m.part.Thing))
	}
	for i := range m.s.cols {
		if c := &m.s.cols[i]; c.kind == kind && !c.known {
			m.column(i)
		}
	}
	m.every(kind)
}
