package mark

import (
	"fmt"
	"math"
	"strings"

	"steelyard/answer"
	"steelyard/quantity"
	"steelyard/question"
	"steelyard/script"
	"steelyard/slip"
)

// A fit says how a typed number stands to a value.
type fit uint8

const (
	noFit  fit = iota
	coarse     // it rounds to the value, but at fewer figures than can be accepted
	fits
)

// tolerance is the part of a value within which a number counts as it.
func (k *Key) tolerance() float64 {
	if k.Policy.Tolerance > 0 {
		return k.Policy.Tolerance
	}
	return slip.Tolerance
}

// fit holds the size of a typed number against a value: it fits if it is within the tolerance, or is the value
// rounded to the figures that were typed (both neighbours of an exact tie). One figure is never enough; the
// zeros at the end of a whole number are read in the pupil's favour. The number is in the unit that u moves.
//
// Source: rules of docs/marking.md, common practice; the half-unit rule is that of significant figures.
func (k *Key) fit(x *partKey, a *script.Answer, typed float64, unit quantity.Unit, value float64) fit {
	v := math.Abs(value)
	t := math.Abs(quantity.Quantity{Value: typed, Unit: unit}.SI())
	d := math.Abs(t - v)
	if x.result.Unit == "rad" && v < 10*math.Pi/180 {
		if d <= 0.5*math.Pi/180*(1+1e-9) {
			return fits
		}
	} else if d <= k.tolerance()*v*(1+1e-9) || d <= 1e-12*max(1, v) {
		return fits
	}
	if t == 0 || v == 0 {
		return noFit
	}
	figures, least := a.Figures, max(2, x.figures-1)
	size := math.Floor(math.Log10(math.Abs(typed))) // of the first figure
	if a.Decimals == 0 && figures > least {         // 120 may have 2 figures or 3
		for f := least; f < figures; f++ {
			if step := math.Pow(10, size-float64(f-1)); math.Mod(math.Abs(typed), step) == 0 {
				figures = f
				break
			}
		}
	}
	step := math.Pow(10, size-float64(figures-1))
	if a.Decimals > 0 {
		step = math.Pow(10, -float64(a.Decimals))
	}
	half := math.Abs(quantity.Quantity{Value: step / 2, Unit: unit}.SI())
	if d > half*(1+1e-9) {
		return noFit
	}
	if figures < least {
		return coarse
	}
	return fits
}

// judgeAnswer holds a final answer against the key, and against what follows from the pupil's own earlier answers
// (own, by slot).
func (k *Key) judgeAnswer(x *partKey, a script.Answer, own []float64) JudgedAnswer {
	j := JudgedAnswer{Read: a, Value: math.NaN()}
	switch {
	case strings.TrimSpace(a.Text) == "":
		return j
	case x.Ask == question.AskWhether:
		return k.judgeWhether(x, j)
	case len(x.slots) == 0:
		return k.judgeOther(x, j)
	case len(x.slots) == 2:
		return k.judgeRange(x, j, own)
	case !a.Read || math.IsNaN(a.Value):
		list := pieces(a.Text)
		if len(list) == 0 {
			j.Verdict, j.Note = AnswerNotRead, "the answer could not be read"
			return j
		}
		b := list[0]
		b.Text, b.Direction = a.Text, a.Direction
		a = b
	}
	if note := several(x, &a); note != "" {
		j.Verdict, j.Note = AnswerNotRead, note
		return j
	}
	slot := x.slots[0]
	s := &k.Plan.Slots[slot]
	readings, unitWrong, missing := k.readings(x, &a)
	if len(readings) > 0 {
		j.Value = quantity.Quantity{Value: a.Value, Unit: readings[0]}.SI()
	}
	hold := func(v float64) fit {
		best := noFit
		for _, u := range readings {
			f := k.fit(x, &a, a.Value, u, v)
			if s.Unit == "rad" {
				f = max(f, k.fitAngle(x, &a, u, v))
			}
			if f > best {
				best = f
				j.Value = quantity.Quantity{Value: a.Value, Unit: u}.SI()
			}
		}
		return best
	}
	verdict := AnswerRight
	found := hold(s.Right)
	if found == noFit && !math.IsNaN(x.printed) {
		found = hold(x.printed)
	}
	value := s.Right
	if found == noFit && k.Policy.FollowThrough != No && anyOwn(own[:slot]) {
		for _, v := range k.follow(slot, own) {
			if f := hold(v); f > found {
				found, verdict, value = f, AnswerCarried, v
			}
		}
	}
	if found == noFit {
		j.Verdict, j.Note = AnswerWrong, k.near(x, &a, s.Right)
		// A place counted from elsewhere, or a letter in a number, is for the teacher to see.
		j.doubt = !a.HasUnit && a.UnitText != "" || asksPlace(x.Ask) && saysElsewhere(a.Words) ||
			s.Unit == "N" && strings.Contains(a.Text, "°")
		if j.doubt && j.Note == "" {
			j.Note = fmt.Sprintf("“%s” may mean something else", strings.TrimSpace(a.Text))
		}
		return j
	}
	j.carried = verdict == AnswerCarried
	turned := j.carried && value*s.Right < 0
	note, ok, doubt := k.directed(x, &a, value, turned)
	j.Note, j.doubt = note, doubt || turned
	if !ok && !j.carried && a.Value < 0 && k.Policy.FollowThrough != No && anyOwn(own[:slot]) {
		// The size is the right one by chance: with its sign it is what follows from their own.
		for _, v := range k.follow(slot, own) {
			if v*s.Right < 0 && hold(v) == fits {
				verdict, j.carried, j.Note, j.doubt, ok = AnswerCarried, true, "", true, true
				break
			}
		}
	}
	if !ok {
		j.Verdict, j.partly = AnswerWrong, true
		return j
	}
	short := a.Figures > 0 && a.Figures < x.figures-1 && a.Decimals > 0
	switch {
	case found == coarse || short && (x.Figures > 0 || k.Policy.FiguresNeeded == Yes):
		j.Verdict, j.Note = AnswerFigures, fmt.Sprintf("%s is given to too few figures", strings.TrimSpace(a.Text))
	case unitWrong:
		j.Verdict, j.Note = AnswerUnit, fmt.Sprintf("the number is right, but %q is no unit of %s", a.UnitText, k.kind(x))
	case missing && k.Policy.UnitNeeded != No && (s.Unit != "rad" || k.Policy.UnitNeeded == Yes):
		j.Verdict, j.Note = AnswerUnit, "the number is right, its unit is missing"
	default:
		j.Verdict = verdict
	}
	return j
}

func anyOwn(own []float64) bool {
	for _, v := range own {
		if !math.IsNaN(v) {
			return true
		}
	}
	return false
}

// kind is what the part asks for, in a word.
func (k *Key) kind(x *partKey) string { return answer.Dimension(x.result.Unit).String() }

// readings lists the units in which the typed number can be meant.
func (k *Key) readings(x *partKey, a *script.Answer) (units []quantity.Unit, wrong, missing bool) {
	d := answer.Dimension(x.result.Unit)
	si := quantity.SIUnit(d)
	both := []quantity.Unit{x.unit}
	if si != x.unit && d != quantity.Angle {
		both = append(both, si)
	}
	switch {
	case d == quantity.Number:
		return []quantity.Unit{{}}, a.HasUnit || a.UnitText != "", false
	case a.HasUnit && a.Unit.Dimension == d:
		return []quantity.Unit{a.Unit}, false, false
	case !a.HasUnit && a.UnitText == "":
		return both, false, true
	case !a.HasUnit:
		typed := closed(a.UnitText)
		for _, u := range both {
			if closed(u.Symbol) == typed { // a slip of letter case is let pass
				return []quantity.Unit{u}, false, false
			}
		}
	}
	return both, true, false
}

func closed(unit string) string {
	return strings.ToLower(strings.NewReplacer(" ", "", "·", "", ".", "", "*", "", "⋅", "").Replace(unit))
}

// fitAngle takes an angle as pupils state it: from the horizontal, or from the vertical if they say so.
func (k *Key) fitAngle(x *partKey, a *script.Answer, u quantity.Unit, v float64) fit {
	if x.Ask != question.AskDirection {
		return noFit
	}
	acute := math.Mod(math.Abs(v), math.Pi)
	if acute > math.Pi/2 {
		acute = math.Pi - acute
	}
	if strings.Contains(strings.ToLower(a.Text), "vertical") {
		acute = math.Pi/2 - acute
	}
	return k.fit(x, a, a.Value, u, acute)
}

// directed holds what is said besides the size against the right answer: the direction, the body acted on, the
// place of a resultant. turned says that what follows from the pupil's own value points the other way.
func (k *Key) directed(x *partKey, a *script.Answer, value float64, turned bool) (note string, ok, doubt bool) {
	if x.Ask == question.AskForceOn && k.namesOther(x, a) {
		return "the force is said to act on the body that exerts it", false, false
	}
	if asksPlace(x.Ask) {
		if a.Value < 0 && value > 0 {
			return "the minus sign does not belong there", false, false
		}
		return "", true, false
	}
	if x.Ask == question.AskResultant {
		return k.acting(x, a)
	}
	if len(x.points) == 0 {
		return "", true, false
	}
	d := a.Direction
	if d == "" && len(x.points) == 1 && (x.points["clockwise"] || x.points["anticlockwise"]) {
		d = turnsWord(a.Text)
	}
	if d == "" && a.Value < 0 {
		switch {
		case turned, x.points["down"] && len(x.points) == 1:
			return "", true, false
		case x.points["up"] && len(x.points) == 1:
			return "the size is right, but the minus sign turns it round", false, true
		}
		return "the minus sign is read as the pupil's own choice of sense", true, false
	}
	slanted := strings.Contains(x.result.Shown, "°") && x.Ask != question.AskDirection
	if d == "" && !(slanted && x.stated) {
		if x.stated {
			return "the size is right, but its direction is not stated", false, len(a.Words) > 0
		}
		return "", true, false
	}
	if d != "" && (x.points[d] || x.points[opposite[d]]) && x.points[d] == turned {
		return "the size is right, but the direction is not", false, false
	}
	if slanted && x.stated {
		return k.slanting(x, a)
	}
	return "", true, false
}

// slanting looks for the angle of a force whose direction is asked for.
func (k *Key) slanting(x *partKey, a *script.Answer) (note string, ok, doubt bool) {
	list := pieces(a.Text)
	if len(list) < 2 {
		return "the size is right, but the angle of its direction is not stated", false, strings.Contains(a.Text, "°")
	}
	t := strings.ToLower(a.Text)
	if x.points["up"] && strings.Contains(t, "below") || x.points["down"] && strings.Contains(t, "above") {
		return "the size is right, but the direction is not", false, false
	}
	of := math.Mod(math.Abs(x.result.Direction), math.Pi)
	if of > math.Pi/2 {
		of = math.Pi - of
	}
	if strings.Contains(t, "vertical") || strings.Contains(t, "of up") {
		of = math.Pi/2 - of
	}
	deg, _ := quantity.UnitNamed("deg")
	two := *x
	r := *x.result
	r.Unit = "rad"
	two.result = &r
	b := &list[1]
	if k.fit(&two, b, b.Value, deg, of) == noFit {
		if k.fit(&two, b, b.Value, deg, math.Pi/2-of) != noFit {
			return "the size is right; the angle may be measured from another line than is said", false, true
		}
		return "the size is right, but the angle is not", false, false
	}
	return "", true, false
}

// acting looks for the place of a resultant.
func (k *Key) acting(x *partKey, a *script.Answer) (note string, ok, doubt bool) {
	if d := a.Direction; d != "" && x.points[opposite[d]] {
		return "the size is right, but the direction is not", false, false
	}
	if math.IsNaN(x.result.At) {
		return "", true, false
	}
	list := pieces(a.Text)
	if len(list) < 2 {
		return "the size is right, but where it acts is not stated", false, false
	}
	two := *x
	r := *x.result
	r.Unit = "m"
	two.result, two.unit = &r, answer.UnitFor(k.Question, quantity.Length)
	if k.fitPiece(&two, &list[1], x.result.At) != fits {
		return "the size is right, but the place is not", false, false
	}
	return "", true, false
}

// asksPlace reports whether a part asks for a place or a number without direction, where "left" and "right" say from
// where it is counted.
func asksPlace(a question.Ask) bool {
	switch a {
	case question.AskPosition, question.AskCentre, question.AskFurthest, question.AskRange, question.AskMass,
		question.AskWeight, question.AskCoefficient, question.AskLeastCoefficient, question.AskAngle, question.AskGreatest, question.AskLeast:
		return true
	}
	return false
}

// namesOther reports whether the answer puts the force on the body that exerts it.
func (k *Key) namesOther(x *partKey, a *script.Answer) bool {
	text := strings.ToLower(a.Text)
	on := func(names ...string) bool {
		for _, n := range names {
			n = strings.ToLower(n)
			if n != "" && (strings.Contains(text, "on "+n) || strings.Contains(text, "on the "+n)) {
				return true
			}
		}
		return false
	}
	q := k.Question
	var by, to []string
	for i := range q.Bodies {
		if q.Bodies[i].Name == x.Other || q.Bodies[i].Name == x.result.By {
			by = append(by, q.Bodies[i].Name, q.Bodies[i].Label)
		}
	}
	for i := range q.Supports {
		if q.Supports[i].Name == x.Thing {
			to = append(to, q.Supports[i].Name, q.Supports[i].Label)
		}
	}
	return on(by...) && !on(to...)
}

// near says what a wrong answer may be, where the number gives it away.
func (k *Key) near(x *partKey, a *script.Answer, right float64) string {
	si := math.Abs(quantity.Quantity{Value: a.Value, Unit: x.unit}.SI())
	if a.HasUnit && a.Unit.Dimension == answer.Dimension(x.result.Unit) {
		si = math.Abs(quantity.Quantity{Value: a.Value, Unit: a.Unit}.SI())
	}
	g := k.Answers.Layout.Field
	for p := -3; p <= 3; p++ {
		if p != 0 && math.Abs(si*math.Pow(10, float64(p))-math.Abs(right)) <= k.tolerance()*math.Abs(right) {
			return "wrong by a power of ten"
		}
	}
	switch {
	case answer.Dimension(x.result.Unit) == quantity.Force && math.Abs(si*g-math.Abs(right)) <= k.tolerance()*math.Abs(right):
		return "a mass in kilograms, where a force is asked for"
	case answer.Dimension(x.result.Unit) == quantity.Mass && math.Abs(si/g-math.Abs(right)) <= k.tolerance()*math.Abs(right):
		return "a weight in newtons, where a mass is asked for"
	}
	return ""
}
