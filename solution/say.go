package solution

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"steelyard/answer"
	"steelyard/formula"
	"steelyard/question"
	"steelyard/statics"
)

// body is what the text calls a body: "the plank".
func (s *scene) body(i int) string {
	if i < 0 {
		return "the surroundings"
	}
	b := s.l.Bodies[i].Body
	name := s.thing(b.Label, b.Name)
	if name == b.Name { // a letter, which may be the name of a support too
		return "the body " + name
	}
	return name
}

// bodies is what the text calls several bodies taken together.
func (s *scene) bodies(list []int) string {
	if len(list) == 1 {
		return s.body(list[0])
	}
	names := make([]string, len(list))
	for i, b := range list {
		names[i] = s.body(b)
	}
	return and(names) + " taken together"
}

// thing is a label with its article, or a bare name where the label is only a letter.
func (s *scene) thing(label, name string) string {
	if label == "" {
		label = name
	}
	for _, article := range []string{"the ", "The ", "a ", "A ", "an ", "An "} {
		if rest, ok := strings.CutPrefix(label, article); ok {
			return "the " + rest
		}
	}
	if len([]rune(label)) <= 2 || label[0] >= '0' && label[0] <= '9' {
		return label
	}
	return "the " + label
}

// from says where a body's scale begins.
func (s *scene) from(b *answer.Body) string {
	left, right := ends(b)
	if b.ZeroRight {
		return " from " + right
	}
	return " from " + left
}

func and(list []string) string {
	switch len(list) {
	case 0:
		return "nothing"
	case 1:
		return list[0]
	}
	return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
}

// way says where a force points.
func way(v statics.Vec, figures int) string {
	if w := answer.Direction(v.X, v.Y, figures); w != "" {
		return w
	}
	return ""
}

// sense says which way a turn goes.
func sense(turn int) string {
	if turn < 0 {
		return "clockwise"
	}
	return "anticlockwise"
}

// text is a piece of plain words.
func text(words string) Piece { return Piece{Text: words} }

// maths is a piece with a formula in it.
func maths(n formula.Node) Piece { return Piece{Math: &n} }

// say makes pieces of words and formulas: strings and formula.Nodes.
func say(parts ...any) []Piece {
	pieces := make([]Piece, 0, len(parts))
	for _, p := range parts {
		switch p := p.(type) {
		case string:
			if n := len(pieces); n > 0 && pieces[n-1].Math == nil {
				pieces[n-1].Text += p
			} else {
				pieces = append(pieces, text(p))
			}
		case formula.Node:
			pieces = append(pieces, maths(p))
		case []Piece:
			pieces = append(pieces, p...)
		}
	}
	return pieces
}

// join strings pieces together with commas and an "and".
func join(list [][]Piece) []Piece {
	var out []any
	for i, p := range list {
		switch {
		case i == 0:
		case i == len(list)-1:
			out = append(out, " and ")
		default:
			out = append(out, ", ")
		}
		out = append(out, p)
	}
	return say(out...)
}

// theForces lists what acts on the bodies, with sizes and places.
func (s *scene) theForces(bodies []int, values []float64) []Piece {
	known, sought := make([][]Piece, 0, len(s.forces)), make([][]Piece, 0, len(s.forces))
	for i := range s.forces {
		f := &s.forces[i]
		side := s.acts(f, bodies)
		if side == 0 || f.Zero != "" {
			continue
		}
		p := []any{f.Words}
		if f.Label != "" {
			p = []any{f.Words + " (" + f.Label + ")"}
		}
		if side < 0 {
			p = []any{"the reaction to " + f.Words}
		}
		if f.known() || !math.IsNaN(values[f.Size]) {
			p = append(p, ", ", s.node(f, values))
			if f.Kind == Weight && s.l.Bodies[f.On].Uniform && s.angleOf(f.On) < 0 && len(s.l.Bodies[f.On].Pieces) == 0 && s.l.Bodies[f.On].Length > 0 && s.l.Bodies[f.On].Body.Shape == 0 {
				p = append(p, ", at its middle")
				if f.Mark.OnAxis {
					p = append(p, " (", f.Mark.Scale, s.from(&s.l.Bodies[f.On]), ")")
				}
			}
			known = append(known, say(p...))
			continue
		}
		if f.Kind != Turn {
			w := f.Way
			if side < 0 {
				w = statics.Vec{X: -w.X, Y: -w.Y}
			}
			if d := s.pointing(f, w); d != "" {
				p = append(p, ", "+d)
			}
		}
		sought = append(sought, say(p...))
	}
	name := s.bodies(bodies)
	var out []any
	switch {
	case len(known) > 0:
		out = append(out, "What acts on "+name+": ", joinSemi(known))
		if len(sought) > 0 {
			out = append(out, ". Not known yet: ", joinSemi(sought))
		}
	case len(sought) > 0:
		out = append(out, "What acts on "+name+", not known yet: ", joinSemi(sought))
	}
	out = append(out, ".")
	if len(bodies) > 1 {
		out = append(out, " Forces between the bodies come in equal and opposite pairs, so they drop out.")
	}
	return say(out...)
}

// pointing says where a force points; on a body whose angle is not known yet, as seen from the body.
func (s *scene) pointing(f *Force, w statics.Vec) string {
	if s.angleOf(f.On) < 0 || plainForce(f) || s.slantsOn(f) {
		return way(w, 3)
	}
	switch axis := s.l.Bodies[f.On].Axis; {
	case math.Abs(dot(axis, w)) < 1e-9:
		return "at right angles to " + s.body(f.On)
	case math.Abs(cross(axis, w)) < 1e-9:
		return "along " + s.body(f.On)
	}
	return ""
}

// sameForces says what is known by now of the forces that were listed before.
func (s *scene) sameForces(body int, values []float64) []Piece {
	var found [][]Piece
	for i := range s.forces {
		f := &s.forces[i]
		if s.acts(f, []int{body}) != 0 && f.Size >= 0 && !math.IsNaN(values[f.Size]) {
			found = append(found, say(formula.Equal(f.own(), s.node(f, values))))
		}
	}
	if len(found) == 0 {
		return say("The same forces act on " + s.body(body) + " as before.")
	}
	return say("The same forces act on "+s.body(body)+"; known by now: ", joinSemi(found), ".")
}

func joinSemi(list [][]Piece) []Piece {
	out := make([]any, 0, 2*len(list))
	for i, p := range list {
		if i > 0 {
			out = append(out, "; ")
		}
		out = append(out, p)
	}
	return say(out...)
}

// capital begins a sentence.
func capital(s string) string {
	r, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[size:]
}

// plural says "one unknown", "two unknowns".
func count(n int, one string) string {
	words := []string{"no", "one", "two", "three", "four", "five", "six"}
	w := strconv.Itoa(n)
	if n >= 0 && n < len(words) {
		w = words[n]
	}
	if n == 1 {
		return w + " " + one
	}
	return w + " " + one + "s"
}

// origin says where places in the plane are counted from.
func (s *scene) origin() string {
	b := &s.l.Bodies[0]
	switch b.Body.Shape {
	case question.Frame:
		return "the corner where the axes of " + s.body(0) + " start"
	case question.Block:
		return "the lower left corner of " + s.body(0)
	}
	left, _ := ends(b)
	return left + " of " + s.body(0)
}
