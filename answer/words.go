package answer

import (
	"math"

	"steelyard/quantity"
	"steelyard/question"
	"steelyard/statics"
)

// GivingInWords says what is about to give: "P is about to lift off", "F is about to slip".
func GivingInWords(l *Layout, gs []statics.Giving) []string {
	var out []string
	for _, g := range gs {
		name := l.jointName(g.Joint)
		s := l.SupportNamed(name)
		switch {
		case g.Slips:
			name += " is about to slip"
		case s != nil && jointKind[s.Kind] == statics.Pull:
			name += " is about to go slack"
		case s != nil && s.HasFar && jointKind[s.Kind] == statics.Contact:
			name = "the body is about to topple on " + name
		default:
			name = "contact at " + name + " is about to be lost"
		}
		out = append(out, name)
	}
	return out
}

// JointNames are the names of the supports that are these joints.
func (l *Layout) JointNames(joints []int) []string {
	out := []string{}
	for _, j := range joints {
		out = append(out, l.jointName(j))
	}
	return out
}

// blank is a part that asks for nothing in particular.
var blank question.Part

// ForceInWords says what a support exerts: "P on plank: 455 N up".
func ForceInWords(a *Answers, f Force) string {
	q := a.Layout.Question
	newton, moment := UnitFor(q, quantity.Force), UnitFor(q, quantity.Moment)
	figures := Figures(q, nil)
	head := f.Name + " on " + f.On + ": "
	if f.Spans != nil {
		r := Result{Part: &blank}
		across := a.between(&r, f.Spans.X, quantity.Force, "to the right", "to the left")
		upright := a.between(&r, f.Spans.Y, quantity.Force, "up", "down")
		switch {
		case !fixed(f.Spans.Y) && fixed(f.Spans.X) && f.X == 0:
			return head + upright
		case !fixed(f.Spans.X) && fixed(f.Spans.Y) && f.Y == 0:
			return head + across
		case !fixed(f.Spans.X) || !fixed(f.Spans.Y):
			return head + "across: " + across + "; upright: " + upright
		}
		return head + "a couple, " + a.between(&r, f.Spans.Couple, quantity.Moment, Sense(1), Sense(-1))
	}
	words := quantity.Format(math.Hypot(f.X, f.Y), newton, figures)
	if d := Direction(f.X, f.Y, figures); d != "" {
		words += " " + d
	}
	if f.Couple != 0 {
		words += ", and a couple of " + quantity.Format(math.Abs(f.Couple), moment, figures) + " " + Sense(f.Couple)
	}
	return head + words
}
