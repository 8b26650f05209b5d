package mark

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"steelyard/question"
	"steelyard/script"
)

// judgeWhether reads "stays" or "tips".
func (k *Key) judgeWhether(x *partKey, j JudgedAnswer) JudgedAnswer {
	rests := strings.Contains(x.result.Shown, "stays at rest")
	says, ok := stays(j.Read.Text, x.Text)
	switch {
	case !ok:
		j.Verdict, j.Note = AnswerNotRead, "it is not clear whether the answer is that it stays or that it moves"
	case says != rests:
		j.Verdict = AnswerWrong
	default:
		j.Verdict = AnswerRight
		for _, d := range []string{"clockwise", "anticlockwise"} {
			if x.points[opposite[d]] && !x.points[d] && turnsWord(j.Read.Text) == d {
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

// A stance is what a word says of whether something stays at rest.
type stance uint8

const (
	saysNothing stance = iota
	saysMoves
	saysStays
	saysNot
)

var stances = map[string]stance{
	"not": saysNot, "doesn't": saysNot, "doesnt": saysNot, "doesn’t": saysNot, "won't": saysNot, "wont": saysNot, "won’t": saysNot, "isn't": saysNot,
	"isnt": saysNot, "isn’t": saysNot, "cannot": saysNot, "can't": saysNot, "cant": saysNot, "never": saysNot,
	"tips": saysMoves, "tip": saysMoves, "turns": saysMoves, "turn": saysMoves, "slips": saysMoves, "slip": saysMoves, "slides": saysMoves,
	"slide": saysMoves, "moves": saysMoves, "move": saysMoves, "falls": saysMoves, "fall": saysMoves, "topples": saysMoves, "rotates": saysMoves,
	"rotate": saysMoves, "lifts": saysMoves, "unbalanced": saysMoves,
	"stays": saysStays, "stay": saysStays, "rest": saysStays, "balanced": saysStays, "balances": saysStays, "balance": saysStays,
	"equilibrium": saysStays, "still": saysStays, "safe": saysStays, "stable": saysStays, "holds": saysStays,
}

// wordsOf are the words of a text, small.
func wordsOf(text string) []string {
	return strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r < 'a' && r != '\'' || r > 'z' && r != '’' })
}

// stays reads whether an answer says that it stays at rest. A bare "yes" or "no" answers the question as it is worded.
func stays(text, asked string) (stays, ok bool) {
	words := wordsOf(text)
	has := map[stance]bool{}
	for _, w := range words {
		has[stances[w]] = true
	}
	not, moves := has[saysNot], has[saysMoves]
	yes, no := slices.Contains(words, "yes"), slices.Contains(words, "no")
	switch {
	case moves && has[saysStays] && !not:
		return false, false
	case moves && has[saysStays]: // "does not stay at rest, it tips", "does not slip, stays at rest": the first word denied decides
		return firstDenied(words), true
	case moves:
		return not, true
	case has[saysStays]:
		return !not, true
	case yes != no:
		return yes == asksWhetherItStays(asked), true
	case !not && turnsWord(text) != "": // "clockwise", and no more
		return false, true
	}
	return false, false
}

// asksWhetherItStays reports whether "yes" to a question says that it stays: "Does it stay level? If not, …", and not "Show
// whether the ladder slips". The first word that says either decides.
func asksWhetherItStays(asked string) bool {
	for _, w := range wordsOf(asked) {
		switch stances[w] {
		case saysStays:
			return true
		case saysMoves:
			return false
		}
	}
	return true
}

// firstDenied reports whether the first word that is denied is one of moving.
func firstDenied(words []string) bool {
	denied := false
	for _, w := range words {
		switch stances[w] {
		case saysNot:
			denied = true
		case saysMoves:
			if denied {
				return true
			}
		case saysStays:
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
