package mark

import (
	"math"
	"slices"
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

// split parts a name into its letter and what stands below it.
func split(text string) (letter, sub string) {
	r := []rune(text)
	letter = string(r[0])
	sub = strings.TrimLeft(string(r[1:]), "_")
	return letter, sub
}

// thing is the question's own name for what a subscript means: "B", "b", "plank", "left"; "" if nothing.
func (m *namer) thing(sub string) string {
	s := m.s
	l := strings.ToLower(sub)
	var loose, exact string
	see := func(name, label string) {
		switch {
		case name == sub:
			exact = name
		case strings.EqualFold(name, sub), label != "" && strings.EqualFold(label, sub):
			loose = name
		case loose == "" && len(l) > 1 && label != "" && slices.Contains(strings.Fields(strings.ToLower(label)), l):
			loose = name
		}
	}
	for i := range s.l.Supports {
		see(s.l.Supports[i].Name, s.l.Supports[i].Label)
	}
	for i := range s.l.Loads {
		see(s.l.Loads[i].Name, s.l.Loads[i].Label)
	}
	for i := range s.l.Bodies {
		see(s.l.Bodies[i].Name, s.l.Bodies[i].Label)
	}
	if exact != "" {
		return exact
	}
	if loose != "" {
		return loose
	}
	// The first letter of a body's or load's own name: W_p for the plank.
	if len(l) == 1 {
		found := ""
		try := func(name, label string) {
			for _, w := range []string{name, label} {
				if len(w) > 1 && strings.HasPrefix(strings.ToLower(w), l) && found != name {
					if found != "" {
						found = "?"
					} else {
						found = name
					}
				}
			}
		}
		for i := range s.l.Loads {
			try("", s.l.Loads[i].Label)
			if found == "" && strings.HasPrefix(strings.ToLower(s.l.Loads[i].Label), l) && s.l.Loads[i].Label != "" {
				found = s.l.Loads[i].Name
			}
		}
		for i := range s.l.Bodies {
			try(s.l.Bodies[i].Name, s.l.Bodies[i].Label)
		}
		if found != "?" {
			return found
		}
	}
	return ""
}

// named adds what belongs to a thing of the question.
func (m *namer) named(name string, letter, comp byte) {
	s := m.s
	if s.l.SupportNamed(name) != nil {
		if letter == 'd' || letter == 'x' {
			m.column(s.column(placeOf, name))
			return
		}
		m.support(name, letter, comp)
		return
	}
	if letter == 'd' || letter == 'x' || letter == 'a' || letter == 'l' || letter == 's' {
		m.column(s.column(placeOf, name))
		return
	}
	for _, k := range []columnKind{weightOf, pushOf, turnOf} {
		i := s.column(k, name)
		if i < 0 {
			continue
		}
		if letter == 'M' {
			m.ownMoment(i)
			continue
		}
		if letter == 'm' {
			m.mass(i)
			continue
		}
		m.column(i)
		if letter == 0 || letter == 'm' {
			m.mass(i)
		}
	}
}

// mass adds the mass of what has a weight.
func (m *namer) mass(i int) {
	c := &m.s.cols[i]
	g := m.s.l.Field
	if c.kind == weightOf && g != 0 {
		x := meaning{key: c.name + " mass", words: "the mass of " + strings.TrimPrefix(c.words, "the weight of "), value: c.value / g, col: i, per: 1 / g, col2: -1, open: !c.known, scale: 1}
		m.add(x)
		if p := m.s.unit[quantity.Mass].Power; p != 0 {
			x.scale = math.Pow10(-p)
			x.value, x.per = x.value*x.scale, x.per*x.scale
			m.add(x)
		}
	}
}

// kindred is the one thing that a letter with a name below it or closed up with it means: Wplank and W_plank are the
// weight of the plank, Rleft the force of the left post, Trope the tension in the rope. It is "" where nothing of that
// kind is called so; two reports that several are, so that it can't be told which is meant.
func (m *namer) kindred(letter byte, sub string) (name string, two bool) {
	s := m.s
	const (
		initial = iota + 1 // of its name or label
		word               // one word of its label
		whole              // its label, or its name in another case
		exact
	)
	best := 0
	see := func(thing, label string) {
		level := 0
		l := strings.ToLower(sub)
		switch {
		case thing == sub:
			level = exact
		case strings.EqualFold(thing, sub), label != "" && strings.EqualFold(strings.ReplaceAll(label, " ", ""), sub):
			level = whole
		case len(l) > 1 && slices.Contains(strings.Fields(strings.ToLower(label)), l):
			level = word
		case len(l) == 1 && (len(thing) > 1 && strings.HasPrefix(strings.ToLower(thing), l) || strings.HasPrefix(strings.ToLower(label), l)):
			level = initial
		}
		switch {
		case level == 0 || level < best || thing == name:
		case level == best:
			two = true
		default:
			best, name, two = level, thing, false
		}
	}
	switch letter {
	case 'W', 'w', 'm', 'M':
		for i := range s.l.Bodies {
			if s.column(weightOf, s.l.Bodies[i].Name) >= 0 {
				see(s.l.Bodies[i].Name, s.l.Bodies[i].Label)
			}
		}
		for i := range s.l.Loads {
			if s.column(weightOf, s.l.Loads[i].Name) >= 0 {
				see(s.l.Loads[i].Name, s.l.Loads[i].Label)
			}
		}
	case 'R', 'r', 'N', 'n', 'F', 'f', 'H', 'V', 'h', 'v', 'T', 't':
		for i := range s.l.Supports {
			p := &s.l.Supports[i]
			slack := p.Kind == question.Cable || p.Kind == question.Link || p.Kind == question.Meter || p.Kind == question.Strut
			if slack || letter != 'T' && letter != 't' {
				see(p.Name, p.Label)
			}
		}
	}
	if two {
		return "", true
	}
	return name, false
}

// ownMoment adds what MA may mean: the moment of A about the point that moments are taken about, a mass, or a moment
// about some other point. A mass comes first where masses are given or asked for.
func (m *namer) ownMoment(i int) {
	s := m.s
	c := &s.cols[i]
	masses := c.mass != 0 || m.part != nil && m.part.Ask == question.AskMass
	if masses {
		m.mass(i)
	}
	about := m.about
	if about == "" && m.part != nil {
		about = m.part.Other
	}
	if about == "" && len(s.l.Supports) == 1 {
		about = s.l.Supports[0].Name
	}
	if p, ok := s.find(about); ok && about != "" {
		if arm := math.Abs(s.momentRow(c.on, p.at)[i]); arm != 0 {
			m.add(meaning{key: "moment of " + c.name, words: "the moment of " + c.words + " about " + p.name, value: arm * c.value, col: i, per: arm, col2: -1, scale: 1})
		}
	}
	if !masses {
		m.mass(i)
	}
	m.total()
}

func (m *namer) subscripted(letter, sub string, comp byte) {
	thing, two := m.kindred(letter[0], sub)
	if thing != "" {
		m.named(thing, letter[0], comp)
		if s := m.s; s.l.SupportNamed(sub) != nil && sub != thing { // W_P: of the plank, or at P
			m.named(sub, letter[0], comp)
		}
		if len(m.list) > 0 {
			return
		}
	}
	if thing := m.thing(sub); thing != "" && !two {
		m.named(thing, letter[0], comp)
		if len(m.list) > 0 {
			return
		}
	}
	switch strings.ToLower(sub) {
	case "x", "h":
		m.every(acrossOf)
		m.every(frictionOf)
		return
	case "y", "v":
		m.every(uprightOf)
		m.every(normalOf)
		return
	case "left", "l", "right", "r":
		if name := m.end(strings.ToLower(sub)[0] == 'l'); name != "" {
			m.support(name, letter[0], comp)
		}
		return
	case "1", "2", "3", "4":
		n := int(sub[0] - '1')
		if strings.Contains("WwmM", letter) {
			m.nthLoad(n, letter[0])
			return
		}
		if letter == "T" {
			m.nth(n, letter[0], func(k question.Kind) bool { return k == question.Cable || k == question.Link || k == question.Meter })
			if len(m.list) > 0 {
				return
			}
		}
		m.nth(n, letter[0], func(question.Kind) bool { return true })
		return
	}
}

// nth adds the force of the nth support from the left.
func (m *namer) nth(n int, letter byte, fits func(question.Kind) bool) {
	type at struct {
		name string
		x, y float64
	}
	var list []at
	for i := range m.s.l.Supports {
		if p := &m.s.l.Supports[i]; fits(p.Kind) {
			list = append(list, at{p.Name, p.At.X, p.At.Y})
		}
	}
	slices.SortStableFunc(list, func(a, b at) int {
		switch {
		case a.x != b.x:
			return sign(a.x - b.x)
		}
		return sign(a.y - b.y)
	})
	if n >= len(list) {
		return
	}
	m.support(list[n].name, letter, 0)
	if len(list) == 2 { // R1 may be the right-hand one in the pupil's own drawing
		m.support(list[1-n].name, letter, 0)
	}
}

func sign(v float64) int {
	switch {
	case v < 0:
		return -1
	case v > 0:
		return 1
	}
	return 0
}

// nthLoad adds the nth weight, or its mass; after it the others, where there are two: m1 may be either in the pupil's
// own drawing.
func (m *namer) nthLoad(n int, letter byte) {
	var list []int
	for i := range m.s.cols {
		if m.s.cols[i].kind == weightOf {
			list = append(list, i)
		}
	}
	if n >= len(list) {
		return
	}
	add := m.column
	switch letter {
	case 'm':
		add = m.mass
	case 'M':
		add = m.ownMoment
	}
	add(list[n])
	if len(list) == 2 {
		add(list[1-n])
	}
}

// end is the support at the left or the right of two or more.
func (m *namer) end(left bool) string {
	best, name := math.Inf(1), ""
	for i := range m.s.l.Supports {
		p := &m.s.l.Supports[i]
		x := p.At.X
		if !left {
			x = -x
		}
		if x < best {
			best, name = x, p.Name
		}
	}
	return name
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
