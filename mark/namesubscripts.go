package mark

import (
	"math"
	"slices"
	"strings"

	"steelyard/quantity"
	"steelyard/question"
)

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
