package mark

import (
	"fmt"
	"math"
	"steelyard/answer"
	"strconv"
	"strings"

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
func (k *Key) kind(x *partKey) string { return dimension(x.result.Unit).String() }

// readings lists the units in which the typed number can be meant.
func (k *Key) readings(x *partKey, a *script.Answer) (units []quantity.Unit, wrong, missing bool) {
	d := dimension(x.result.Unit)
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
	if a.HasUnit && a.Unit.Dimension == dimension(x.result.Unit) {
		si = math.Abs(quantity.Quantity{Value: a.Value, Unit: a.Unit}.SI())
	}
	g := k.Answers.Layout.Field
	for p := -3; p <= 3; p++ {
		if p != 0 && math.Abs(si*math.Pow(10, float64(p))-math.Abs(right)) <= k.tolerance()*math.Abs(right) {
			return "wrong by a power of ten"
		}
	}
	switch {
	case dimension(x.result.Unit) == quantity.Force && math.Abs(si*g-math.Abs(right)) <= k.tolerance()*math.Abs(right):
		return "a mass in kilograms, where a force is asked for"
	case dimension(x.result.Unit) == quantity.Mass && math.Abs(si/g-math.Abs(right)) <= k.tolerance()*math.Abs(right):
		return "a weight in newtons, where a mass is asked for"
	}
	return ""
}

// judgeWhether reads "stays" or "tips".
func (k *Key) judgeWhether(x *partKey, j JudgedAnswer) JudgedAnswer {
	stays := strings.Contains(x.result.Shown, "stays at rest")
	says, ok := saysStays(j.Read.Text)
	switch {
	case !ok:
		j.Verdict, j.Note = AnswerNotRead, "it is not clear whether the answer is that it stays or that it moves"
	case says != stays:
		j.Verdict = AnswerWrong
	default:
		j.Verdict = AnswerRight
		for _, d := range []string{"clockwise", "anticlockwise"} {
			if x.points[opposite[d]] && x.points[d] == false && turnsWord(j.Read.Text) == d {
				j.Verdict, j.Note = AnswerWrong, "it turns the other way"
			}
		}
	}
	return j
}

// turnsWord is the sense of turning that the words name.
func turnsWord(text string) string {
	t := strings.ToLower(text)
	for _, w := range []string{"anticlockwise", "anti-clockwise", "anti clockwise", "counterclockwise", "counter-clockwise", "acw"} {
		if strings.Contains(t, w) {
			return "anticlockwise"
		}
	}
	if strings.Contains(t, "clockwise") {
		return "clockwise"
	}
	return ""
}

// saysStays reads whether the words say that it stays at rest.
func saysStays(text string) (stays, ok bool) {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r < 'a' && r != '\'' || r > 'z' && r != '’' })
	not, moves, stay, yes, no := false, false, false, false, false
	for _, w := range words {
		switch w {
		case "not", "doesn't", "doesnt", "doesn’t", "won't", "wont", "won’t", "isn't", "isnt", "isn’t", "cannot", "can't", "cant", "never", "unbalanced":
			not = true
		}
		switch w {
		case "no":
			no = true
		case "yes":
			yes = true
		case "tips", "tip", "turns", "turn", "slips", "slip", "slides", "slide", "moves", "move", "falls", "fall", "topples", "rotates", "rotate", "lifts", "unbalanced":
			moves = true
		case "stays", "stay", "rest", "balanced", "balances", "balance", "equilibrium", "still", "safe", "stable", "holds":
			stay = true
		}
	}
	switch {
	case moves && stay && !not:
		return false, false
	case moves && stay: // "does not stay at rest, it tips", "does not slip, stays at rest": the first word denied decides
		return firstDenied(words), true
	case moves:
		return not, true
	case stay:
		return !not, true
	case yes != no:
		return yes, true
	}
	return false, false
}

// firstDenied reports whether the word after "not" is one of moving.
func firstDenied(words []string) bool {
	denied := false
	for _, w := range words {
		switch w {
		case "not", "doesn't", "doesnt", "doesn’t", "won't", "wont", "won’t", "isn't", "isnt", "isn’t", "cannot", "can't", "cant", "never":
			denied = true
		case "tips", "tip", "turns", "turn", "slips", "slip", "slides", "slide", "moves", "move", "falls", "fall", "topples", "rotates", "rotate", "lifts":
			if denied {
				return true
			}
		case "stays", "stay", "rest", "balanced", "balances", "balance", "equilibrium", "still", "safe", "stable", "holds":
			if denied {
				return false
			}
		}
	}
	return true
}

// judgeRange reads two numbers: from … to ….
func (k *Key) judgeRange(x *partKey, j JudgedAnswer, own []float64) JudgedAnswer {
	list := pieces(j.Read.Text)
	if len(list) != 2 {
		j.Verdict, j.Note = AnswerNotRead, "two ends of a range are asked for; they could not be read"
		return j
	}
	if !list[0].HasUnit && list[0].UnitText == "" {
		list[0].HasUnit, list[0].Unit, list[0].UnitText = list[1].HasUnit, list[1].Unit, list[1].UnitText
	}
	if list[0].Value > list[1].Value {
		list[0], list[1] = list[1], list[0]
	}
	j.Verdict = AnswerRight
	right := 0
	for i, a := range list {
		one := *x
		one.slots = x.slots[i : i+1]
		v := k.judgeAnswer(&one, a, own)
		j.ends = append(j.ends, v.Value)
		if v.Verdict == AnswerRight {
			right++
			continue
		}
		j.Verdict = v.Verdict
		j.Note = v.Note
	}
	if right == 1 && j.Verdict == AnswerWrong {
		j.Note = "one end of the range is right"
	}
	return j
}

// pieces reads the numbers of an answer that has several.
func pieces(text string) []script.Answer {
	t := text
	for _, s := range []string{" to ", " and ", " up to ", "–", "—", "..", ";", " - ", " at ", ", ", " acting ", "<", ">", "≤", "≥"} {
		t = strings.ReplaceAll(t, s, "\x00")
	}
	t = dashed(t)
	var list []script.Answer
	for p := range strings.SplitSeq(t, "\x00") {
		p = strings.Trim(p, " ()≤=")
		for _, w := range []string{"from ", "between ", "acting ", "at ", "and "} {
			p = strings.TrimSpace(strings.TrimPrefix(p, w))
		}
		if a := readAnswer(p); a.Read && !math.IsNaN(a.Value) {
			list = append(list, a)
		}
	}
	return list
}

// dashed parts a range written with a hyphen: 0.6-3.12 m.
func dashed(t string) string {
	for i := 1; i+1 < len(t); i++ {
		before, after := t[i-1], t[i+1]
		if t[i] == '-' && (before >= '0' && before <= '9' || before == 'm') && (after >= '0' && after <= '9' || after == '.') {
			return t[:i] + "\x00" + t[i+1:]
		}
	}
	return t
}

// several says why an answer that should be one number may be more than one: right plus wrong is for the teacher.
func several(x *partKey, a *script.Answer) string {
	for _, w := range a.Words {
		switch w {
		case "not", "isn't", "or", "either", "maybe":
			return "the answer says “" + w + "”"
		}
	}
	if x.Ask == question.AskResultant || strings.Contains(x.result.Shown, "°") || strings.Contains(a.Text, "°") {
		return ""
	}
	clauses := 0
	var first float64
	apart := strings.ContainsAny(a.Text, ";\n&") || strings.Contains(a.Text, ", ")
	for c := range strings.FieldsFuncSeq(strings.ReplaceAll(a.Text, ", ", ";"), func(r rune) bool { return r == ';' || r == '\n' || r == '&' }) {
		if !apart {
			break
		}
		if b := readAnswer(c); b.Read && !math.IsNaN(b.Value) {
			if clauses++; clauses == 1 {
				first = b.Value
			} else if b.Value != first {
				return "there is more than one number"
			}
		}
	}
	text := a.Text
	if i := strings.LastIndexAny(text, "=≈"); i >= 0 {
		text = text[i:]
	}
	// A number, then letters that are no power of ten, then a number again: 570 N 600 N, 4 m 5 cm. Or a fraction
	// that was not worked out.
	digit, letters := false, false
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case c >= '0' && c <= '9':
			if letters {
				return "there is more than one number"
			}
			digit = true
		case digit && (c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z') && c != 'x' && c != 'X' && c != 'e' && c != 'E' && c != 's':
			letters = true
		case digit && c == '/' && i+1 < len(text) && text[i+1] >= '0' && text[i+1] <= '9' && fraction(text, i, a.Value):
			return "the fraction could not be read"
		case c == '^', c == '*':
			letters = false
		}
	}
	return ""
}

// fraction reports whether what was read is only the number before the stroke at i.
func fraction(text string, i int, value float64) bool {
	from := i
	for from > 0 && (text[from-1] >= '0' && text[from-1] <= '9' || text[from-1] == '.') {
		from--
	}
	top, err := strconv.ParseFloat(text[from:i], 64)
	return err == nil && top == value
}

// saysElsewhere reports whether a place is said to be counted from somewhere.
func saysElsewhere(words []string) bool {
	_, rest, ok := strings.Cut(strings.Join(words, " ")+" ", "from ")
	return ok && !strings.Contains(rest, "left")
}

// judgeOther is for answers that are no single number: a force with what is not fixed, a centre of mass with two
// distances, a resultant with its place.
func (k *Key) judgeOther(x *partKey, j JudgedAnswer) JudgedAnswer {
	list := pieces(j.Read.Text)
	r := x.result
	switch {
	case x.Ask == question.AskCentre && !math.IsNaN(r.Second):
		if len(list) != 2 {
			j.Verdict, j.Note = AnswerNotRead, "two distances are asked for; they could not be read"
			return j
		}
		at := r.Value
		j.Verdict = AnswerRight
		for i, v := range []float64{at, r.Second} {
			if k.fitPiece(x, &list[i], v) != fits {
				j.Verdict = AnswerWrong
			}
		}
	case r.Low < r.High:
		t := strings.ToLower(j.Read.Text)
		for _, w := range []string{"not fixed", "cannot", "can't", "can’t", "not determined", "indeterminate", "not enough", "impossible", "undetermined"} {
			if strings.Contains(t, w) {
				j.Verdict = AnswerRight
				return j
			}
		}
		if len(list) == 2 && k.fitPiece(x, &list[0], r.Low) == fits && k.fitPiece(x, &list[1], r.High) == fits {
			j.Verdict = AnswerRight
			return j
		}
		j.Verdict, j.Note = AnswerWrong, "equilibrium alone does not fix this force"
	default:
		j.Verdict, j.Note = AnswerNotRead, "the marker cannot judge an answer of this kind"
	}
	return j
}

// fitPiece holds one number of several against its value.
func (k *Key) fitPiece(x *partKey, a *script.Answer, v float64) fit {
	best := noFit
	units, wrong, _ := k.readings(x, a)
	if wrong {
		return noFit
	}
	for _, u := range units {
		if f := k.fit(x, a, a.Value, u, v); f > best && (v >= 0) == (a.Value >= 0) {
			best = f
		}
	}
	return best
}
