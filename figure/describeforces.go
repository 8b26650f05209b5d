package figure

import (
	"math"
	"strings"
	"unicode/utf8"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
)

// forceWords describes a force diagram, and about a pivot each force's perpendicular distance and sense.
func forceWords(l *answer.Layout, o Options) (title, text string) {
	i := bodyNumber(l, o)
	b := &l.Bodies[i]
	name := bodyCalled(b.Body)
	if o.Together {
		name = "bodies taken together"
	}
	forces := forcesDrawn(l, o)
	title = "Free-body diagram of the " + name
	if o.View == Moment {
		title = "Moments on the " + name + " about " + o.PivotName
	}
	s := scene{o: o, l: l}
	var out []string
	for k := range forces {
		f := &forces[k]
		parts := []string{f.kind}
		if f.text != "" && !o.HideValues {
			parts = append(parts, quantity.Plain(f.text))
		}
		if f.couple != 0 {
			parts = append(parts, answer.Sense(float64(f.couple)))
		} else {
			parts = append(parts, answer.Direction(f.dir.X, -f.dir.Y, 3))
			if o.View == Moment {
				parts = append(parts, s.turningWords(f))
			} else {
				if !o.Together {
					parts = append(parts, where(l, b, f))
				}
			}
		}
		out = append(out, sentence(strings.Join(parts, ", ")))
	}
	head := "Forces on the " + name + ":"
	if o.View == Moment {
		head = "About " + o.PivotName + ", the forces on the " + name + ":"
	}
	return limited(title + ", with every force on it."), head + " " + strings.Join(out, " ")
}

func sentence(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return strings.ToUpper(string(r)) + s[n:] + "."
}

// turningWords is a force's perpendicular distance from the pivot and its sense.
func (s *scene) turningWords(f *force) string {
	if s.throughPivot(f) {
		return "through the pivot, so that its perpendicular distance is zero"
	}
	return "perpendicular distance " + quantity.Plain(s.armText(f)[0][0].Text) + ", " + answer.Sense(s.arm(f))
}

// where is the place of a force on a straight body.
func where(l *answer.Layout, b *answer.Body, f *force) string {
	if b.Shape != question.Bar || b.Length == 0 {
		return ""
	}
	at := b.FromZero(b.Distance(f.at))
	if math.Abs(at) < 1e-9*b.Length {
		return "at the " + zeroEnd(b)
	}
	return quantity.Plain(length(l, at)) + " from the " + zeroEnd(b)
}
