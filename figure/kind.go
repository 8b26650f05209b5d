package figure

import (
	"steelyard/answer"
	"steelyard/question"
)

func supportKind(u *answer.Support) string {
	switch u.Kind {
	case question.Rest:
		if u.Above {
			return "a rest on top"
		}
		return "a rest"
	case question.Pivot:
		return "a pivot"
	case question.Hinge:
		return "a hinge"
	case question.Clamp:
		return "a fixing that the body is built into"
	case question.Strap:
		return "a strap, which can push up or pull down"
	case question.Meter:
		return "a force meter that the body hangs from"
	case question.Spring:
		return "a spring that the body hangs from"
	case question.Floor:
		return "a level floor under the body"
	case question.Wall:
		return "an upright wall beside the body"
	case question.Slope:
		rises := "that rises to the right"
		if u.Normal.X > 0 {
			rises = "that rises to the left"
		}
		if a := said(u.Support.Angle); a != "" {
			return "a slope at " + a + " to the horizontal " + rises + ", under the body"
		}
		return "a slope " + rises + ", at an unknown angle, under the body"
	case question.Roller:
		return "a roller"
	case question.Cable:
		return "a cable"
	case question.Strut:
		return "a light strut"
	}
	return "a light link"
}

func loadKind(d *answer.Load) string {
	switch d.Kind {
	case question.Weight:
		if d.Hung {
			return "a load hanging from it"
		}
		return "a load standing on it"
	case question.Force:
		return "a force"
	case question.Spread:
		return "a load spread evenly"
	}
	if d.Anticlockwise {
		return "an anticlockwise couple"
	}
	return "a clockwise couple"
}

func loadSize(d *answer.Load) string {
	switch d.Kind {
	case question.Weight:
		if w := said(d.Load.Weight); w != "" {
			return "weight " + w
		}
		if m := said(d.Load.Mass); m != "" {
			return "mass " + m
		}
	default:
		if v := said(d.Load.Size); v != "" {
			return v
		}
	}
	return "its size not given"
}
