package trial

import (
	"math"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/question"
	"steelyard/statics"
)

type component struct {
	name               string
	runs               []draw.Run
	value              float64
	couple             bool
	positive, negative string
	other              string
}

// parts are the components of a support's force, as its symbols have them, named as a teacher does.
func parts(s *answer.Support, r statics.Reaction) []component {
	symbol := func(letter string) []draw.Run {
		return []draw.Run{{Text: letter, Italic: true}, {Text: s.Name, Sub: true}}
	}
	switch s.Kind {
	case question.Hinge, question.Pivot, question.Clamp:
		where := s.Name
		if s.By >= 0 { // the other body has the opposite
			where += " on " + s.Support.On.Body
		}
		list := []component{{name: "upright force at " + where, runs: symbol("Y"), value: r.Y, positive: "up", negative: "down"},
			{name: "level force at " + where, runs: symbol("X"), value: r.X, positive: "to the right", negative: "to the left"}}
		if s.Kind == question.Clamp {
			list = append(list, component{name: "couple at " + s.Name, runs: symbol("C"), value: r.Couple, couple: true, positive: answer.Sense(1), negative: answer.Sense(-1)})
		}
		return list
	}
	letter, sub := answer.Symbol(s.Support)
	one := component{runs: []draw.Run{{Text: letter, Italic: true}}, value: r.N}
	if sub != "" {
		one.runs = append(one.runs, draw.Run{Text: sub, Sub: true})
	}
	at, normal := " at "+s.Name, "normal force at "+s.Name
	switch s.Kind {
	case question.Cable:
		one.name, one.other = "tension in "+s.Name, "a push"
	case question.Link:
		one.name = "tension in " + s.Name
	case question.Strut:
		one.name = "thrust in " + s.Name
	case question.Meter:
		one.name, one.other = "pull of the force meter"+at, "a push"
	case question.Spring:
		one.name, one.other = "pull of the spring"+at, "a push"
	case question.Floor, question.Wall, question.Slope:
		what := map[question.Kind]string{question.Floor: "floor", question.Wall: "wall", question.Slope: "slope"}[s.Kind]
		one.name, one.other, normal = "push of the "+what+at, "a pull", "normal push of the "+what+at
	case question.Strap:
		one.name, one.positive, one.negative = "force of the strap"+at, answer.Direction(s.Normal.X, s.Normal.Y, 3), answer.Direction(-s.Normal.X, -s.Normal.Y, 3)
	default:
		one.name, one.other = "push"+at, "a pull"
	}
	if s.Mu == 0 || math.IsNaN(s.Mu) && r.F == 0 {
		return []component{one}
	}
	t := statics.Vec{X: s.Normal.Y, Y: -s.Normal.X}
	along, back := answer.Direction(t.X, t.Y, 3), answer.Direction(-t.X, -t.Y, 3)
	if math.Abs(t.X) > dust && math.Abs(t.Y) > dust { // its angle may change
		if along, back = "up the surface", "down the surface"; t.Y < 0 {
			along, back = back, along
		}
	}
	one.name, one.runs = normal, symbol("N")
	return []component{one, {name: "friction" + at, runs: symbol("F"), value: r.F,
		positive: along, negative: back}}
}
