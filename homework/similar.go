package homework

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"steelyard/mark"
	"steelyard/script"
	"steelyard/slip"
)

// A Bundle is parts of several pupils that wait for the teacher and can be decided together, since they say the same.
// The first of them stands for all; a bundle may hold one part only.
type Bundle struct {
	Item  int
	Part  string
	Parts []Part
	Why   string // what is the same about them, in a sentence; "" of one alone
}

// Similar puts parts that wait for the teacher into bundles: of the same item and part, with the marker's same mark and
// reason, and with the same work. Work that was read is the same if its lines differ in numbers only and the same is
// said of each, as where pupils have numbers of their own; an answer alone, if the same slip is likely in it. What was
// not read is the same letter by letter, but for spaces and capitals. What was decided once already stays alone.
// Bundles come in the order of items and parts, the largest first.
func Similar(parts []Part) []Bundle {
	var out []Bundle
	at := map[string]int{}
	for i := range parts {
		p := parts[i]
		if !p.Waits() {
			continue
		}
		name, why := sameness(&p)
		k, ok := at[name]
		if !ok {
			k = len(out)
			at[name] = k
			out = append(out, Bundle{Item: p.Item, Part: p.Part.Part})
		}
		out[k].Parts = append(out[k].Parts, p)
		if len(out[k].Parts) > 1 {
			out[k].Why = why
		}
	}
	slices.SortStableFunc(out, func(a, b Bundle) int {
		return cmp.Or(cmp.Compare(a.Item, b.Item), cmp.Compare(a.Part, b.Part), cmp.Compare(len(b.Parts), len(a.Parts)))
	})
	return out
}

// sameness is a name that all parts of a bundle have, and why they are together.
func sameness(p *Part) (name, why string) {
	head := fmt.Sprintf("%d\x00%s\x00%d\x00%s\x00%d", p.Item, p.Part.Part, p.Marks, kindOfReason(&p.Part), p.Answer.Verdict)
	if p.Earlier != nil { // decided once already: each is looked at by itself
		return head + "\x00alone\x00" + p.HandIn, ""
	}
	read := p.Answer.Verdict != mark.AnswerNotRead
	var lines, shapes []string
	for i := range p.Lines {
		l := &p.Lines[i]
		read = read && l.Verdict != mark.NotRead
		lines = append(lines, fmt.Sprint(l.Verdict), l.Slip, asRead(&l.Line))
		shapes = append(shapes, fmt.Sprint(l.Verdict), l.Slip, l.Of, numberless(l.Off), shape(&l.Line))
	}
	likely := likely(&p.Part)
	if read && (len(lines) > 0 || likely != "") {
		why := "the same lines, but for the numbers in them"
		switch {
		case likely != "" && len(lines) > 0:
			why += fmt.Sprintf("; all fit “%s”", slip.Named(likely).Title)
		case likely != "":
			why = fmt.Sprintf("no working, and all answers fit “%s”", slip.Named(likely).Title)
		}
		answer := p.Answer.Read.Direction + " " + p.Answer.Read.Unit.Symbol
		return head + "\x00shape\x00" + likely + "\x00" + answer + "\x00" + strings.Join(shapes, "\x00"), why
	}
	answer := squeezed(p.Answer.Read.Text)
	if p.Answer.Read.Read {
		a := &p.Answer.Read
		answer = fmt.Sprintf("%g %s %s", a.Value, a.Unit.Symbol, a.Direction)
		if len(a.Words) > 0 {
			answer += squeezed(a.Text)
		}
	}
	return head + "\x00text\x00" + answer + "\x00" + strings.Join(lines, "\x00"), "the same answer and the same lines"
}

// asRead is a line in the form in which it was read; letter by letter, but for spaces and capitals, where it wasn't.
func asRead(l *script.Line) string {
	if l.Kind == script.NotRead || l.Kind == script.Statement || l.Unread != "" {
		return squeezed(l.Text)
	}
	return l.String()
}

func squeezed(text string) string { return strings.Join(strings.Fields(strings.ToLower(text)), " ") }

// shape is a line as it was read, whatever its numbers are and in whatever order its terms, factors and sides stand.
func shape(l *script.Line) string {
	if l.Kind == script.NotRead || l.Kind == script.Statement || l.Unread != "" {
		return numberless(asRead(l))
	}
	sides := make([]string, len(l.Sides))
	for i := range l.Sides {
		sides[i] = shapeOf(&l.Sides[i])
	}
	if l.Kind == script.Equation {
		slices.Sort(sides)
	}
	return strings.Join(sides, " "+l.Relation+" ")
}

func shapeOf(e *script.Expr) string {
	switch e.Op {
	case script.Number:
		return "#" + e.Quantity.Unit.Symbol
	case script.Name:
		return e.Text
	case script.Add, script.Multiply:
		args := operands(e, e.Op, nil)
		slices.Sort(args)
		return fmt.Sprintf("%d(%s)", e.Op, strings.Join(args, " "))
	}
	args := make([]string, len(e.Args))
	for i := range e.Args {
		args[i] = shapeOf(&e.Args[i])
	}
	return fmt.Sprintf("%d%s(%s)", e.Op, e.Text, strings.Join(args, " "))
}

// operands are the terms of a sum, or the factors of a product.
func operands(e *script.Expr, op script.Op, out []string) []string {
	for i := range e.Args {
		if a := &e.Args[i]; a.Op == op {
			out = operands(a, op, out)
		} else {
			out = append(out, shapeOf(a))
		}
	}
	return out
}

// numberless is a text with every number taken out.
func numberless(text string) string {
	var b strings.Builder
	number := false
	for _, r := range text {
		if r >= '0' && r <= '9' || number && r == '.' {
			if !number {
				b.WriteByte('#')
			}
			number = true
			continue
		}
		number = false
		b.WriteRune(r)
	}
	return b.String()
}

// kindOfReason is why a part waits, without what it quotes: the pupils' own words and numbers differ.
func kindOfReason(p *mark.Part) string {
	var b strings.Builder
	quoted := false
	for _, r := range WhyAsked(p) {
		switch {
		case r == '“':
			quoted = true
		case r == '”':
			quoted = false
		case !quoted:
			b.WriteRune(r)
		}
	}
	return numberless(b.String())
}

// WhyAsked is the reason why a part waits for the teacher.
func WhyAsked(p *mark.Part) string {
	for _, w := range p.Why {
		if strings.Contains(w, "please look") {
			return strings.TrimSuffix(strings.TrimPrefix(w, "please look at the answer: "), "; please look")
		}
	}
	for _, w := range p.Why {
		if strings.Contains(w, "could not be read") || strings.Contains(w, "doubt") {
			return w
		}
	}
	if len(p.Why) > 0 {
		return p.Why[len(p.Why)-1]
	}
	return "the marker is not sure"
}
