package script

import (
	"slices"
	"strings"
	"unicode/utf8"

	"steelyard/quantity"
)

// longest is how long a line of working may be, in bytes; longer ones are not read.
const longest = 1000

// Read reads working: lines are separated by line breaks, semicolons, and words such as "so" between two
// equations. A line that begins with an equals sign goes on from the line before: its first side is that line's
// last one, after the name that the line gives, if it gives one.
//
// Empty lines are left out. It takes time in proportion to the length of the text, whatever it holds.
func Read(text string) []Line {
	var lines []Line
	list := make([]token, 0, min(24, 4+len(text)/2))
	for text != "" {
		i := strings.IndexAny(text, "\n\r;\u2028\u2029")
		piece, rest := text, ""
		if i >= 0 {
			_, w := utf8.DecodeRuneInString(text[i:])
			piece, rest = text[:i], text[i+w:]
		}
		text = rest
		piece = strings.TrimSpace(piece)
		if piece == "" {
			continue
		}
		if len(piece) > longest {
			lines = append(lines, Line{Text: piece, Kind: NotRead, Unread: clip(piece)})
			continue
		}
		if !utf8.ValidString(piece) {
			piece = strings.ToValidUTF8(piece, "\ufffd")
		}
		list = tokens(piece, list)
		for _, part := range pieces(list) {
			l := read(piece, part)
			if part[0].kind == relation {
				l.opening = part[0].text
			}
			if len(l.Sides) > 0 && len(lines) > 0 && part[0].kind == relation {
				l = l.after(&lines[len(lines)-1])
			}
			lines = append(lines, l)
		}
	}
	return lines
}

func clip(s string) string {
	if len(s) <= 40 {
		return s
	}
	i := 40
	for !utf8.RuneStart(s[i]) {
		i--
	}
	return s[:i] + "…"
}

// after joins a line that begins with an equals sign to the one before it.
func (l Line) after(before *Line) Line {
	if len(before.Sides) == 0 || before.Kind == NotRead || l.Kind == NotRead {
		return l
	}
	var sides []Expr
	if first := before.Sides[0]; len(before.Sides) > 1 && first.Op == Name {
		sides = append(sides, first)
	}
	sides = append(sides, before.Sides[len(before.Sides)-1])
	links := make([]string, 0, len(sides)+len(l.Sides)-1)
	for range len(sides) - 1 {
		links = append(links, "=")
	}
	links = append(links, l.opening)
	l.Links = append(links, l.Links...)
	l.Sides = append(sides, l.Sides...)
	if l.Relation == "" {
		l.Relation = "="
	}
	if l.Kind == Value {
		l.Kind = Equation
	}
	if l.About == "" {
		l.About = before.About
	}
	return l
}

// joins are words that stand between two equations on one line.
var joins = set("so therefore hence thus giving gives → then")

// pieces cuts the tokens of a typed line where one equation ends and the next begins.
func pieces(list []token) [][]token {
	list = unlabelled(list)
	var out [][]token
	from := 0
	related := func(t []token) bool {
		for i := range t {
			if t[i].kind == relation {
				return true
			}
		}
		return false
	}
	for i := range list {
		t := &list[i]
		if i > from+2 && t.kind == symbol && i+1 < len(list) && list[i+1].kind == relation && t.spaced {
			// P = 570 Q = 270
			if b := &list[i-1]; b.kind == number && list[i-2].kind == relation && (b.q.Unit != quantity.Unit{} || b.q.Value >= 20) {
				out, from = append(out, list[from:i]), i
				continue
			}
		}
		join := t.kind == word && joins[t.text]
		if !join && t.kind != comma && !(t.kind == word && (t.text == "and" || t.text == "." || t.text == "or")) {
			continue
		}
		head := list[from:i]
		if len(head) == 0 || !related(head) {
			continue
		}
		tail := list[i+1:]
		if len(tail) == 0 {
			continue
		}
		if !join {
			// Up to the next comma or "and" there must be a relation too.
			k := 0
			for k < len(tail) && tail[k].kind != comma && !(tail[k].kind == word && tail[k].text == "and") {
				k++
			}
			if !related(tail[:k]) || tail[0].kind == relation {
				continue
			}
		} else if !related(tail) && !hasOperand(tail) {
			continue
		}
		out, from = append(out, head), i+1
	}
	if from < len(list) {
		out = append(out, list[from:])
	}
	return out
}

func hasOperand(t []token) bool {
	for i := range t {
		if t[i].kind == number || t[i].kind == symbol && !t[i].cross {
			return true
		}
	}
	return false
}

// unlabelled leaves out the name of a part at the start: (a) … or b) … or 1. …
func unlabelled(t []token) []token {
	if len(t) > 3 && t[0].kind == opening && t[2].kind == closing && short(&t[1]) && t[3].spaced && t[3].kind != operator {
		return t[3:]
	}
	if len(t) > 2 && t[1].kind == word && t[1].text == "." && short(&t[0]) && t[2].spaced {
		return t[2:]
	}
	if len(t) > 2 && t[1].kind == closing && (short(&t[0]) || t[0].kind == number) {
		return t[2:]
	}
	return t
}

func short(t *token) bool {
	return (t.kind == symbol || t.kind == word) && len(t.text) == 1 && t.text >= "a" && t.text <= "i"
}

// read reads the tokens of one line.
func read(piece string, t []token) Line {
	l := Line{Text: strings.TrimSpace(piece[t[0].from:t[len(t)-1].to])}
	p := parser{src: piece, line: &l}
	t = p.heading(t)
	t = p.about(t)
	// Sides, cut at relations outside brackets.
	start, depth := 0, 0
	for i := 0; i <= len(t); i++ {
		if i < len(t) {
			switch t[i].kind {
			case opening:
				depth++
			case closing:
				depth--
			case word:
				if t[i].text == "is" && depth == 0 && p.isRelation(t, start, i) {
					t[i].kind, t[i].text = relation, "="
				}
			}
			if t[i].kind != relation || depth > 0 {
				continue
			}
			if l.Relation == "" || l.Relation == "=" {
				l.Relation = t[i].text
			}
		}
		n := len(l.Sides)
		p.more = i < len(t)
		p.side(t[start:i])
		if len(l.Sides) > n && n > 0 && start > 0 {
			l.Links = append(l.Links, t[start-1].text)
		}
		start = i + 1
	}
	p.finish()
	return l
}

// isRelation reports whether "is" stands between what is named and a number.
func (p *parser) isRelation(t []token, start, i int) bool {
	return i > start && i+1 < len(t) && t[i+1].kind == number
}

// ratio reports whether the colons of a line divide: RA : RB = 1 : 2.
func ratio(t []token) bool {
	before, after, equals := 0, 0, false
	for i := range t {
		switch {
		case t[i].kind == relation:
			equals = true
		case t[i].kind == colon || t[i].kind == operator && t[i].text == "/" && i > 0 && t[i].to-t[i].from == 1:
			if equals {
				after++
			} else {
				before++
			}
		case t[i].kind == word:
			return false
		}
	}
	return before == 1 && after == 1 && equals
}

// heading takes what stands before a colon off the line, unless the colon divides.
func (p *parser) heading(t []token) []token {
	for i := range t {
		if t[i].kind != colon {
			continue
		}
		head := t[:i]
		if ratio(t) {
			t[i].kind, t[i].text = operator, "/"
			continue
		}
		sums, words, total := false, false, false
		for k := range head {
			sums = sums || head[k].kind == number || head[k].kind == relation || head[k].kind == operator
			words = words || head[k].kind == word
			total = total || head[k].kind == word && head[k].text == "sum"
		}
		if !total && (sums && !words || i+1 < len(t) && i > 0 && head[i-1].kind == number) {
			if i > 0 && i+1 < len(t) { // 364.5 : 2.4
				t[i].kind, t[i].text = operator, "/"
			}
			continue
		}
		if len(head) > 0 && !words { // "A:" or "M(A):" says what moments are taken about
			for k := len(head) - 1; k >= 0; k-- {
				if head[k].kind == symbol {
					p.line.About = head[k].text
					break
				}
			}
			if len(head) > 1 && head[0].kind == symbol && (head[0].text == "R" || head[0].text == "F") {
				p.line.About = ""
			}
		}
		if n := len(p.line.Words); len(p.about(head)) < len(head) && len(p.line.Words) > n {
			return t[i+1:]
		}
		for k := range head {
			if head[k].kind == word || head[k].kind == symbol {
				p.say(&head[k])
			}
		}
		return t[i+1:]
	}
	return t
}

// about finds what "moments about …" names and takes it off the line.
func (p *parser) about(t []token) []token {
	for i := range t {
		if t[i].kind == symbol && t[i].text == "M" && i+3 < len(t) && t[i+1].kind == opening && t[i+2].kind == symbol && t[i+3].kind == closing && i == 0 && len(t) > 4 && t[4].kind != relation {
			p.line.About = t[2].text
			return t[4:]
		}
		if t[i].kind != word || t[i].text != "about" && t[i].text != "abt" && t[i].text != "around" {
			continue
		}
		k := i + 1
		for k < len(t) && t[k].kind == word && (t[k].text == "the" || t[k].text == "point" || t[k].text == "support" || t[k].text == "pivot" || t[k].text == "hinge" || t[k].text == "end") && k+1 < len(t) && (t[k+1].kind == symbol || t[k+1].kind == word) {
			k++
		}
		if k >= len(t) {
			return t
		}
		from := k
		switch {
		case t[k].kind == symbol || t[k].kind == word && len(t[k].text) == 1:
			p.line.About = t[k].text
			if t[k].kind == word {
				p.line.About = strings.ToUpper(t[k].text)
			}
			k++
		case t[k].kind == word:
			for k < len(t) && t[k].kind == word && !joins[t[k].text] && t[k].text != "." {
				k++
			}
			p.line.About = strings.TrimSpace(p.src[t[from].from:t[k-1].to])
		case t[k].kind == number && t[k].q.Unit.Dimension == quantity.Length:
			k++
			p.line.About = p.src[t[from].from:t[from].to]
		}
		for j := range t[:k] {
			if t[j].kind == word {
				p.say(&t[j])
			}
		}
		if hasNumbers(t[:i]) { // it stands behind the equation
			return t[:i]
		}
		return t[k:]
	}
	return t
}

func hasNumbers(t []token) bool {
	for i := range t {
		if t[i].kind == number || t[i].kind == relation {
			return true
		}
	}
	return false
}

// say notes a word that stood beside the equation.
func (p *parser) say(t *token) {
	switch t.text {
	case ".", "!", "?", "'", "\"", "✓":
		return
	case "→":
		p.line.Words = append(p.line.Words, "right")
		return
	}
	p.line.Words = append(p.line.Words, t.text)
}

// side reads one side of a line and adds it to the line's sides, if there is anything in it.
func (p *parser) side(t []token) {
	l := p.line
	if l.Unread != "" {
		return
	}
	t = p.plain(t)
	if len(t) == 0 {
		return
	}
	p.t, p.at, p.depth = t, 0, 0
	e, ok := p.sum()
	if ok && p.at < len(t) {
		ok = false
		p.refuse()
	}
	if !ok {
		if l.Unread == "" {
			l.Unread = clip(strings.TrimSpace(p.src[t[0].from:t[len(t)-1].to]))
		}
		return
	}
	l.Sides = append(l.Sides, e)
}

// finish says what kind of line it was.
func (p *parser) finish() {
	l := p.line
	if p.phrases && len(l.Sides) > 2 {
		for i := len(l.Sides) - 1; i >= 0; i-- {
			if e := &l.Sides[i]; e.definition() {
				e.words(&l.Words)
				l.Sides = slices.Delete(l.Sides, i, i+1)
				if n := len(l.Links); n > 0 {
					l.Links = slices.Delete(l.Links, max(i-1, 0), max(i-1, 0)+1)
				}
			}
		}
	}
	switch {
	case l.Unread != "":
		if !p.sums && len(l.Words) > 0 {
			l.Kind, l.Sides, l.Unread = Statement, nil, ""
			return
		}
		l.Kind, l.Sides = NotRead, nil
	case len(l.Sides) == 0:
		l.Kind = Statement
		if len(l.Words) == 0 && l.About == "" {
			l.Kind, l.Unread = NotRead, clip(l.Text)
		}
	case len(l.Sides) == 1:
		l.Kind = Value
		if e := &l.Sides[0]; e.definition() {
			e.words(&l.Words)
			l.Kind, l.Sides = Statement, nil
		} else if !p.sums && e.Op == Name && (phrase(e.Text) || len(l.Words) > 0 || l.About != "") {
			if phrase(e.Text) {
				l.Words = append(l.Words, strings.Fields(e.Text)...)
			}
			l.Kind, l.Sides = Statement, nil
		}
		l.Relation = ""
	case l.zeroSum():
		l.Kind, l.Sides, l.Relation = Statement, nil, ""
	case !p.sums && p.phrases:
		for i := range l.Sides {
			l.Sides[i].words(&l.Words)
		}
		l.Kind, l.Sides, l.Relation = Statement, nil, ""
	case l.Relation != "=":
		l.Kind = Inequality
	default:
		l.Kind = Equation
	}
}

// zeroSum reports whether the line only says that a sum is nothing: ΣM = 0.
func (l *Line) zeroSum() bool {
	if len(l.Sides) != 2 || l.Sides[0].Op != Name || l.Sides[1].Op != Number || l.Sides[1].Quantity.Value != 0 {
		return false
	}
	for _, w := range l.Words {
		if w == "sum" || w == "total" || w == "net" {
			return true
		}
	}
	return false
}

// definition reports whether a side only says a rule in words: force x distance.
func (e *Expr) definition() bool {
	if e.Op != Multiply && e.Op != Divide {
		return false
	}
	for i := range e.Args {
		if a := &e.Args[i]; !(a.Op == Name && phrase(a.Text)) && !a.definition() {
			return false
		}
	}
	return true
}

func phrase(s string) bool {
	return strings.Contains(s, " ") || len(s) > 4 && !strings.Contains(s, "_")
}

// words lists the names of an expression.
func (e *Expr) words(list *[]string) {
	if e.Op == Name {
		*list = append(*list, strings.Fields(e.Text)...)
	}
	for i := range e.Args {
		e.Args[i].words(list)
	}
}
