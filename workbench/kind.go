package workbench

import (
	"math"
	"slices"

	"steelyard/answer"
	"steelyard/question"
	"steelyard/statics"
)

// Kinds are the kinds of arrangement, the simplest first. One question can be of several.
var Kinds = []string{
	"one-pivot", "two-supports", "more-supports", "overhang", "tipping", "spread-load", "couple", "built-in",
	"angle", "ladder", "friction", "composite", "several-bodies",
}

// KindsOf finds what kinds a question is of from its arrangement and what it asks.
func KindsOf(a *answer.Answers) []string {
	l := a.Layout
	is := map[string]bool{
		"angle":          !upright(l),
		"several-bodies": len(l.Bodies) > 1,
		"overhang":       overhangs(l),
		"tipping":        tips(l.Question),
	}
	held := 0
	floor, wall := false, false
	for i := range l.Supports {
		s := &l.Supports[i]
		if s.By == statics.Ground {
			held++
		}
		is["built-in"] = is["built-in"] || s.Kind == question.Clamp
		is["friction"] = is["friction"] || s.Mu != 0 && s.Kind != question.Clamp
		floor = floor || s.Kind == question.Floor
		wall = wall || s.Kind == question.Wall
	}
	is["ladder"] = floor && wall
	if upright(l) {
		is["one-pivot"] = held == 1 && !is["built-in"]
		is["two-supports"] = held == 2
		is["more-supports"] = held > 2
	}
	for i := range l.Loads {
		is["spread-load"] = is["spread-load"] || l.Loads[i].Kind == question.Spread
		is["couple"] = is["couple"] || l.Loads[i].Kind == question.Couple
	}
	for i := range l.Bodies {
		is["composite"] = is["composite"] || len(l.Bodies[i].Pieces) > 1
	}
	var list []string
	for _, k := range Kinds {
		if is[k] {
			list = append(list, k)
		}
	}
	return list
}

// upright reports whether all bodies are level and all forces upright.
func upright(l *answer.Layout) bool {
	const tiny = 1e-9
	for i := range l.Bodies {
		if b := &l.Bodies[i]; math.Abs(b.Axis.Y) > tiny || b.Angle.Status == question.Unknown {
			return false
		}
	}
	for i := range l.Loads {
		if f := &l.Loads[i]; f.Kind == question.Force && math.Abs(f.Unit.X) > tiny {
			return false
		}
	}
	for i := range l.Supports {
		switch s := &l.Supports[i]; s.Kind {
		case question.Pivot, question.Hinge, question.Clamp:
		case question.Wall, question.Slope:
			return false
		default:
			if math.Abs(s.Normal.X) > tiny {
				return false
			}
		}
	}
	return true
}

// overhangs reports whether a load or the centre of mass of a level body lies outside its two supports.
func overhangs(l *answer.Layout) bool {
	if !upright(l) {
		return false
	}
	for b := range l.Bodies {
		low, high, n := math.Inf(1), math.Inf(-1), 0
		for i := range l.Supports {
			if s := &l.Supports[i]; s.On == b {
				low, high, n = min(low, s.At.X), max(high, s.At.X), n+1
			}
		}
		if n < 2 {
			continue
		}
		const tiny = 1e-9
		outside := func(x float64) bool { return x < low-tiny || x > high+tiny }
		if outside(l.Bodies[b].Centre.X) {
			return true
		}
		for i := range l.Loads {
			if f := &l.Loads[i]; f.On == b && f.Kind == question.Weight && outside(f.At.X) ||
				f.On == b && f.Kind == question.Spread && (outside(f.From.X) || outside(f.To.X)) {
				return true
			}
		}
	}
	return false
}

// tips reports whether a question is about how far equilibrium lasts, or is at its end, by tipping.
func tips(q *question.Question) bool {
	if slices.ContainsFunc(q.Conditions, func(c question.Condition) bool {
		return c.Kind == question.AboutToTip || c.Kind == question.AboutToLift
	}) {
		return true
	}
	for i := range q.Supports {
		if s := &q.Supports[i]; s.Kind == question.Wall || s.Kind == question.Floor && q.Body(s.On.Body).Shape == question.Bar {
			return false // a ladder slips
		}
	}
	return slices.ContainsFunc(q.Parts, func(p question.Part) bool {
		switch p.Ask {
		case question.AskFurthest, question.AskRange, question.AskGreatest, question.AskLeast, question.AskWhether:
			return true
		}
		return false
	})
}

// UnknownsOf counts the unknown numbers of an arrangement as a pupil would who has drawn it.
func UnknownsOf(a *answer.Answers) int {
	l := a.Layout
	level := upright(l)
	n := 0
	unknown := func(v question.Value) {
		if v.Status == question.Unknown {
			n++
		}
	}
	for i := range l.Supports {
		s := &l.Supports[i]
		unknown(s.Support.On.At)
		unknown(s.Support.By.At)
		unknown(s.Angle)
		unknown(s.Support.Mu)
		switch {
		case s.Reading.Known():
		case s.Kind == question.Clamp && level, (s.Kind == question.Pivot || s.Kind == question.Hinge) && !level:
			n += 2
		case s.Kind == question.Clamp:
			n += 3
		case s.Mu != 0 && s.Kind != question.Pivot && s.Kind != question.Hinge && !level:
			n += 2
		default:
			n++
		}
		if s.HasFar && (s.Kind == question.Floor || s.Kind == question.Slope) {
			n++ // where under the block its force acts
		}
	}
	for i := range l.Bodies {
		b := &l.Bodies[i]
		unknown(b.Body.Weight)
		unknown(b.Mass)
		unknown(b.Body.Centre.At)
		unknown(b.Angle)
	}
	for i := range l.Loads {
		f := &l.Loads[i]
		unknown(f.Size)
		unknown(f.Weight)
		unknown(f.Mass)
		unknown(f.Load.On.At)
	}
	return n
}
