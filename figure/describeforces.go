package figure

import (
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
)

// forceWords describes a force diagram, and about a pivot each force's perpendicular distance and sense; of a stage, no
// more than it shows.
func forceWords(l *answer.Layout, o Options) (title, text string) {
	i := bodyNumber(l, o)
	b := &l.Bodies[i]
	name := bodyCalled(b.Body)
	if o.Together {
		name = "bodies taken together"
	}
	st := o.Stage
	about := o.View == Moment && (st == nil || st.Pivot)
	title, head := "Free-body diagram of the "+name, "Forces on the "+name+":"
	if about {
		title, head = "Moments on the "+name+" about "+o.PivotName, "About "+o.PivotName+", the forces on the "+name+":"
	}
	if st != nil && !st.Arrows {
		return limited(title + "."), "The " + name + " alone, without forces yet."
	}
	s := scene{o: o, l: l}
	var out, lit []string
	for _, f := range forcesDrawn(l, o) {
		parts := []string{f.kind}
		switch {
		case o.HideValues:
		case s.unsized(&f):
			parts = append(parts, "size not found yet")
		case f.text != "":
			parts = append(parts, quantity.Plain(f.text))
		}
		if f.couple != 0 {
			parts = append(parts, answer.Sense(float64(f.couple)))
		} else {
			parts = append(parts, answer.Direction(f.dir.X, -f.dir.Y, 3))
			if about && (st == nil || s.throughPivot(&f) || f.among(st.Arms)) {
				parts = append(parts, s.turningWords(&f))
			} else if !o.Together {
				parts = append(parts, where(l, b, &f))
			}
		}
		if st != nil && f.among(st.Lit) {
			lit = append(lit, "the "+f.kind)
		}
		parts = slices.DeleteFunc(parts, func(p string) bool { return p == "" })
		out = append(out, sentence(strings.Join(parts, ", ")))
	}
	if len(lit) > 0 && len(lit) < len(out) {
		out = append(out, "Set off from the others: "+list(lit)+".")
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
	if s.o.Stage != nil && len(s.armNow(f, nil)) > 0 {
		return "perpendicular distance not found yet, " + answer.Sense(s.arm(f))
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
