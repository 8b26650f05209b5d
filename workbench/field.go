package workbench

import (
	"strconv"
	"strings"

	"steelyard/question"
)

// A Field is something of a thing that can be set in place.
type Field struct {
	What    string   `json:"what"` // as Set takes it
	Name    string   `json:"name"` // as a person reads it
	Value   string   `json:"value"`
	Choices []string `json:"choices,omitempty"` // it is one of these; else it is typed
	Hint    string   `json:"hint,omitempty"`
	Moves   bool     `json:"moves,omitempty"` // it has a handle, and steps
	Steps   string   `json:"steps,omitempty"` // the number that steps make more or less, where it is no place
}

// A Thing is a body, support, load or named point, with what can be set of it. The question as a whole is the thing
// without a name; parts are called "part a", and numbers that vary "vary K.weight".
type Thing struct {
	Name   string  `json:"name"`
	Called string  `json:"called"`
	Kind   string  `json:"kind"` // "question", "body", "support", "load", "point", "part", "vary"
	Line   int     `json:"line"` // of the notation
	Fields []Field `json:"fields"`
}

// fieldName is what a field is called on the page.
func fieldName(what string) string {
	switch what {
	case "at":
		return "place"
	case "by":
		return "place on the other body"
	case "from":
		return "start"
	case "to":
		return "end"
	case "far":
		return "other end"
	case "weight-acts":
		return "where its weight acts"
	case "size":
		return "size"
	case "hung":
		return "stands or hangs"
	case "sense":
		return "turns"
	case "placed":
		return "placed at"
	case "label":
		return "what the wording calls it"
	case "reading":
		return "its force, if given"
	}
	return what
}

// things lists what there is, with its fields.
func (d *draft) things() []Thing {
	q := d.q
	var list []Thing
	add := func(name, kind string, line int, fields ...Field) {
		for i := range fields {
			f := &fields[i]
			if f.Name == "" {
				f.Name = fieldName(f.What)
			}
			attribute := f.What
			if attribute == "surface" {
				attribute = "coefficient"
			}
			if v := q.Value(name, attribute); v != nil && v.Known() && !f.Moves && kind != "vary" {
				f.Steps = attribute
			}
		}
		list = append(list, Thing{Name: name, Called: thingName(q, name), Kind: kind, Line: line, Fields: fields})
	}
	value := func(what string, v question.Value) Field { return Field{What: what, Value: d.written(v)} }
	add("", "question", 1, d.wholeFields()...)
	for i := range q.Bodies {
		b := &q.Bodies[i]
		f := []Field{}
		if b.Shape != question.Frame {
			l := value("length", b.Length)
			l.Moves = true
			f = append(f, l)
		}
		if b.Shape == question.Block {
			h := value("height", b.Height)
			h.Moves = true
			f = append(f, h)
		}
		if !b.Light && (b.Shape != question.Frame || b.Weight.Status != question.Absent || b.Mass.Status != question.Absent) {
			f = append(f, d.weight(b.Weight, b.Mass))
		}
		if b.Shape != question.Frame {
			acts := ""
			switch {
			case b.Uniform:
				acts = "uniform"
			case b.Light:
				acts = "light"
			case b.Centre.At.Known():
				acts = d.at(b.Centre.At.Span)
			case b.Centre.Set():
				acts = "unknown"
			}
			f = append(f, Field{What: "weight-acts", Value: acts, Hint: "uniform, light, or a distance such as 1.70 m", Moves: b.Centre.At.Known()})
			a := value("angle", b.Angle)
			a.Hint = "above the horizontal, such as 65 deg; empty if level"
			f = append(f, a)
		}
		label := b.Label
		if label == b.Name {
			label = ""
		}
		add(b.Name, "body", b.Span.Line, append(f, Field{What: "label", Value: label})...)
	}
	for i := range q.Supports {
		s := &q.Supports[i]
		add(s.Name, "support", s.Span.Line, d.supportFields(s)...)
	}
	for i := range q.Loads {
		l := &q.Loads[i]
		add(l.Name, "load", l.Span.Line, d.loadFields(l)...)
	}
	for i := range q.Points {
		p := &q.Points[i]
		add(p.Name, "point", p.Span.Line, Field{What: "at", Value: d.placeText(&p.Place), Moves: true}, Field{What: "label", Value: p.Label})
	}
	for i := range q.Parts {
		p := &q.Parts[i]
		add("part "+p.Name, "part", p.Span.Line, Field{What: "marks", Value: count(p.Marks)},
			Field{What: "figures", Name: "significant figures", Value: count(p.Figures), Hint: "empty: as the numbers given"},
			Field{What: "wording", Name: "own wording", Value: p.Text, Hint: "empty: written for you"})
	}
	for i := range q.Vary {
		y := &q.Vary[i]
		add("vary "+y.Thing+"."+y.Attribute, "vary", y.Span.Line, Field{What: "from", Name: "least", Value: d.written(y.From)},
			Field{What: "to", Name: "greatest", Value: d.written(y.To)}, Field{What: "step", Name: "step", Value: d.written(y.Step)})
	}
	return list
}

func count(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// wholeFields are those of the question as a whole.
func (d *draft) wholeFields() []Field {
	q := d.q
	return []Field{
		{What: "title", Value: q.Title},
		{What: "level", Value: q.Level, Choices: []string{"", "14-16", "16-18", "first year"}},
		{What: "idea", Value: q.Idea, Hint: "what it tests, for you and colleagues; never shown to pupils"},
		{What: "g", Value: d.written(q.Field), Hint: "9.81 N/kg if empty"},
	}
}

func (d *draft) written(v question.Value) string {
	if v.Status == question.Absent {
		return ""
	}
	return d.at(v.Span)
}

// weight is the field of a weight or mass.
func (d *draft) weight(w, m question.Value) Field {
	if m.Status != question.Absent {
		return Field{What: "mass", Value: d.at(m.Span), Hint: "a mass such as 55 kg, a weight such as 540 N, or unknown"}
	}
	return Field{What: "weight", Value: d.written(w), Hint: "a weight such as 540 N, a mass such as 55 kg, or unknown"}
}

func (d *draft) supportFields(s *question.Support) []Field {
	kinds := kindWords
	if isLine(s.Kind) {
		kinds = []string{"cable", "strut", "link"}
	}
	f := []Field{{What: "kind", Value: s.Kind.String(), Choices: kinds}}
	if s.On.Set() {
		f = append(f, Field{What: "at", Value: d.placeText(&s.On), Moves: true, Hint: placeHint})
	}
	switch {
	case isLine(s.Kind):
		far := s.ToPoint
		if far == "" && s.To != nil {
			far = d.at(s.To.Span)
		} else if far == "" && s.By.Body != "" {
			far = d.at(s.By.Span)
		}
		f = append(f, Field{What: "far", Value: far, Moves: far != "", Hint: "such as (0 m, 1.05 m), or empty if it has a direction"})
		f = append(f, Field{What: "direction", Value: d.directionText(s.Direction), Hint: "such as 35 deg above left"})
	case s.By.Body != "":
		f = append(f, Field{What: "by", Value: d.placeText(&s.By), Moves: true, Hint: placeHint})
	}
	if s.Kind == question.Slope {
		f = append(f, Field{What: "angle", Value: d.written(s.Angle), Hint: "such as 20 deg"})
	}
	switch s.Kind {
	case question.Rest, question.Floor, question.Wall, question.Slope, question.Roller:
		surface := ""
		switch {
		case s.Smooth:
			surface = "smooth"
		case s.Rough:
			surface = "rough"
		default:
			surface = d.written(s.Mu)
		}
		f = append(f, Field{What: "surface", Value: surface, Hint: "smooth, rough, or a coefficient such as 0.40"})
	}
	if s.Kind == question.Rest {
		f = append(f, Field{What: "above", Name: "lies on top", Value: yes(s.Above), Choices: []string{"no", "yes"}})
	}
	if s.Kind != question.Hinge && s.Kind != question.Clamp && s.Kind != question.Pivot {
		f = append(f, Field{What: "reading", Value: d.written(s.Reading), Hint: "such as 6.4 N; empty if it is to be found"})
	}
	return append(f, Field{What: "label", Value: s.Label})
}

const placeHint = "such as 1.50 m, left end, middle, or unknown"

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

func (d *draft) loadFields(l *question.Load) []Field {
	var f []Field
	switch l.Kind {
	case question.Weight:
		f = append(f, d.weight(l.Weight, l.Mass))
		f = append(f, Field{What: "at", Value: d.placeText(&l.On), Moves: true, Hint: placeHint})
		hung := "on"
		if l.Hung {
			hung = "hung from"
		}
		f = append(f, Field{What: "hung", Value: hung, Choices: []string{"on", "hung from"}})
	case question.Spread:
		f = append(f, Field{What: "size", Value: d.written(l.Size), Hint: "such as 120 N/m or 12 kg/m"})
		a, b := d.endsText(l)
		f = append(f, Field{What: "from", Value: a, Moves: true}, Field{What: "to", Value: b, Moves: true})
	case question.Force:
		f = append(f, Field{What: "size", Value: d.written(l.Size), Hint: "such as 40 N, or unknown"},
			Field{What: "direction", Value: d.directionText(l.Direction), Hint: "such as up, or 35 deg above left"},
			Field{What: "at", Value: d.placeText(&l.On), Moves: true, Hint: placeHint})
	case question.Couple:
		sense := "clockwise"
		if l.Anticlockwise {
			sense = "anticlockwise"
		}
		f = append(f, Field{What: "size", Value: d.written(l.Size), Hint: "such as 8 N m, or unknown"},
			Field{What: "sense", Value: sense, Choices: []string{"clockwise", "anticlockwise"}})
		if l.On.Set() {
			f = append(f, Field{What: "at", Value: d.placeText(&l.On), Moves: true, Hint: placeHint})
		}
	}
	return append(f, Field{What: "label", Value: l.Label})
}

// placeText is a place as it is written, without the body.
func (d *draft) placeText(p *question.Place) string {
	switch {
	case p.At.Status != question.Absent:
		return d.at(p.At.Span)
	case p.XY != nil:
		return d.at(p.XY.Span)
	case p.Point != "":
		return p.Point
	}
	t := d.at(p.Span)
	if _, after, ok := strings.Cut(t, " at "); ok {
		return after
	}
	return strings.TrimPrefix(t, p.Body+" ")
}

// endsText are the two ends of a spread load as they are written.
func (d *draft) endsText(l *question.Load) (from, to string) {
	s := cut(d.lines[l.Span.Line-1])
	i := s.find("on", "hung from")
	if i < 0 {
		return "", ""
	}
	_, rest, _ := strings.Cut(s.text(i), " from ")
	if k := strings.LastIndex(rest, " to "); k >= 0 {
		return rest[:k], rest[k+len(" to "):]
	}
	return rest, ""
}

func (d *draft) directionText(dir *question.Direction) string {
	if dir == nil {
		return ""
	}
	return d.at(dir.Span)
}
