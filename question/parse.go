package question

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"steelyard/quantity"
)

// Bounds of a question file. A question is a page; these are far beyond one.
const (
	largestFile  = 256 << 10 // bytes
	longestLine  = 4000      // bytes
	mostLines    = 600       // with a statement on them
	mostFaults   = 50
	longestName  = 40   // characters
	longestTitle = 200  // characters
	longestText  = 3000 // characters
	longestIdea  = 200  // characters
	mostTraps    = 30
	mostBodies   = 16
	mostSupports = 30
	mostLoads    = 40
	mostParts    = 26 // as many as there are letters
)

// Parse reads a question file; its name is u in faults only. The error is Faults: all that its
// writer can mend, up to fifty.
func Parse(file, src string) (*Question, error) {
	p := &parser{q: &Question{File: file}}
	if p.readable(src) {
		p.lines(src)
		p.check()
	}
	if len(p.faults) > 0 {
		return nil, p.faults.sorted()
	}
	return p.q, nil
}

// A parser reads one file line by line.
type parser struct {
	q      *Question
	text   string // the line
	ascii  bool   // whether its columns are its bytes
	number int    // of the line, from 1
	toks   []token
	i      int // next token
	buf    [48]token
	titled bool
	source []string // the lines, kept for faults found at the end
	lost   []string // names on lines that cannot be read
	things []named  // all that has a name
	faults Faults
}

// readable refuses what is no question file before any work is done on it.
func (p *parser) readable(src string) bool {
	if len(src) > largestFile {
		p.faults = Faults{{File: p.q.File, What: fmt.Sprintf("this file has %d kB, far more than a question", len(src)>>10),
			Mend: fmt.Sprintf("keep one question to a file, of %d kB at most", largestFile>>10)}}
		return false
	}
	if !utf8.ValidString(src) {
		before := src[:firstInvalid(src)]
		n := strings.Count(before, "\n") + 1
		column := utf8.RuneCountInString(before[strings.LastIndexByte(before, '\n')+1:]) + 1
		p.faults = Faults{{File: p.q.File, Span: Span{n, column, column + 1}, What: "this is not UTF-8 text",
			Mend: "save the file as UTF-8 (plain text)"}}
		return false
	}
	return true
}

func firstInvalid(s string) int {
	for i := 0; i < len(s); {
		r, n := utf8.DecodeRuneInString(s[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return len(s)
}

func (p *parser) lines(src string) {
	src = strings.TrimPrefix(src, "\ufeff")
	p.reserve(src)
	said := 0
	for more := true; more && len(p.faults) < mostFaults; {
		p.text, src, more = strings.Cut(src, "\n")
		p.text = strings.TrimSuffix(p.text, "\r")
		p.number++
		p.source = append(p.source, p.text)
		if len(p.text) > longestLine {
			p.faults = append(p.faults, Fault{File: p.q.File, Span: Span{p.number, 1, 2}, Line: p.text[:0],
				What: "this line is too long", Mend: "write one statement a line"})
			p.q.lines = append(p.q.lines, line{})
			continue
		}
		l := p.line()
		if l.statement != noStatement {
			said++
		}
		if said > mostLines || p.number > 10*mostLines {
			p.faultAt(0, 1, "this file has too many lines for a question", "keep one question to a file")
			return
		}
		if p.tooMany() {
			return
		}
		p.q.lines = append(p.q.lines, l)
	}
	for n := len(p.q.lines); n > 0 && p.q.lines[n-1] == (line{}); n-- {
		p.q.lines = p.q.lines[:n-1]
	}
	if !p.titled && len(p.faults) < mostFaults {
		p.faults = append(p.faults, Fault{File: p.q.File, Span: Span{1, 1, 2}, Line: p.source[0],
			What: "a title is missing", Mend: `begin with a line such as question "Lock footbridge"`})
	}
}

// tooMany refuses what no question for pupils has, before anybody works it out: what that takes grows with the cube of how
// many things there are.
func (p *parser) tooMany() bool {
	for _, of := range []struct {
		have, most int
		what       string
	}{{len(p.q.Bodies), mostBodies, "bodies"}, {len(p.q.Supports), mostSupports, "supports"}, {len(p.q.Loads), mostLoads, "loads"}, {len(p.q.Parts), mostParts, "parts"}} {
		if of.have > of.most {
			p.faultAt(0, 1, fmt.Sprintf("this question has more than %d %s", of.most, of.what), "make two questions of it, or leave some out")
			return true
		}
	}
	return false
}

// reserve makes room for what the file will hold, so that nothing is copied as it grows. The
// first letters of the lines tell nearly enough.
func (p *parser) reserve(src string) {
	var bodies, supports, loads, parts, vary, lines int
	for more := true; more && lines < 10*mostLines; lines++ {
		var l string
		l, src, more = strings.Cut(src, "\n")
		if len(l) < 2 {
			continue
		}
		switch l[:2] {
		case "bo":
			bodies++
		case "su", "ca", "st", "li":
			supports++
		case "lo", "fo", "co":
			loads++
		case "pa":
			parts++
		case "va":
			vary++
		}
	}
	room := func(n int) int { return min(n, mostLines) }
	q := p.q
	q.Bodies = make([]Body, 0, room(bodies))
	q.Supports = make([]Support, 0, room(supports))
	q.Loads = make([]Load, 0, room(loads))
	q.Parts = make([]Part, 0, room(parts))
	q.Vary = make([]Vary, 0, room(vary))
	q.lines = make([]line, 0, room(lines))
	p.source = make([]string, 0, room(lines))
}

// line reads p.text.
func (p *parser) line() line {
	p.ascii = isASCII(p.text)
	toks, comment, commented, bad, why := scan(p.text, p.buf[:0])
	l := line{comment: comment, commented: commented}
	if why != "" {
		mend := "take it out"
		if p.text[bad] == '"' || strings.HasPrefix(p.text[bad:], "“") {
			mend = "close it before the line ends"
		}
		p.faultAt(bad, len(p.text), why, mend)
		p.toks, p.i = toks, min(1, len(toks))
		p.lose()
		if len(toks) > 0 && toks[0].is("question") {
			p.titled = true
		}
		return l
	}
	p.toks, p.i = toks, 0
	if len(toks) == 0 {
		return l
	}
	before := len(p.faults)
	l.statement, l.index, l.owner = p.statement()
	if len(p.faults) == before && p.i < len(p.toks) {
		p.extra("end of the line")
	}
	return l
}

// lose notes the name on a line that cannot be read, so that its absence is no second fault.
func (p *parser) lose() {
	if t := p.peek(); t.kind == wordToken && isName(t.text) {
		p.lost = append(p.lost, t.text)
	}
}

// statement reads one statement; the first word says what it is.
func (p *parser) statement() (statement, int, string) {
	first := p.next()
	if first.kind != wordToken {
		p.faultTok(first, "a line begins with a word that says what it is", "such as body, support, load or part")
		p.i = len(p.toks)
		return noStatement, 0, ""
	}
	word := first.text
	if !slices.Contains(statements, word) {
		p.faultTok(first, strconv.Quote(clip(word))+" is no word that a line begins with", didYouMean(word, statements))
		word = nearest(word, statements) // read it as what was meant, for what else is at fault
	}
	switch word {
	case "question":
		p.title(first)
		return titleLine, 0, ""
	case "level":
		p.level(first)
		return levelLine, 0, ""
	case "idea":
		p.idea(first)
		return ideaLine, 0, ""
	case "traps":
		p.traps(first)
		return trapsLine, 0, ""
	case "g":
		p.field(first)
		return gLine, 0, ""
	case "text":
		return textLine, p.paragraph(first), ""
	case "body":
		return bodyLine, p.body(), ""
	case "piece":
		i, owner := p.piece()
		return pieceLine, i, owner
	case "point":
		return pointLine, p.point(), ""
	case "support":
		return supportLine, p.support(Rest), ""
	case "cable":
		return supportLine, p.support(Cable), ""
	case "strut":
		return supportLine, p.support(Strut), ""
	case "link":
		return supportLine, p.support(Link), ""
	case "load":
		return loadLine, p.load(Weight), ""
	case "force":
		return loadLine, p.load(Force), ""
	case "couple":
		return loadLine, p.load(Couple), ""
	case "given":
		return givenLine, p.condition(first), ""
	case "part":
		return partLine, p.part(), ""
	case "vary":
		return varyLine, p.vary(first), ""
	}
	p.lose()
	p.i = len(p.toks)
	return noStatement, 0, ""
}

func (p *parser) title(first token) {
	if p.titled {
		p.faultTok(first, "there are two titles", "keep one question to a file")
	}
	p.titled = true
	t, ok := p.quoted(`the title is missing`, `write it in quotation marks: question "Lock footbridge"`)
	if !ok {
		return
	}
	p.q.Title = strings.Join(strings.Fields(t.text), " ")
	if p.q.Title == "" {
		p.faultTok(t, "the title is empty", "give the question a title of a few words")
	}
	if utf8.RuneCountInString(p.q.Title) > longestTitle {
		p.faultTok(t, "the title is too long", "a few words are enough; the wording goes on text lines")
	}
}

var levels = []string{"14-16", "16-18", "first year"}

func (p *parser) level(first token) {
	if p.q.Level != "" {
		p.faultTok(first, "the level is given twice", "keep one of the two")
	}
	from := p.here()
	p.i = len(p.toks)
	end := len(p.text)
	if n := len(p.toks); n > 0 {
		end = p.toks[n-1].to
	}
	typed := strings.TrimSpace(p.text[min(from, end):end])
	for _, l := range levels {
		if strings.ReplaceAll(typed, "–", "-") == l {
			p.q.Level = l
			return
		}
	}
	p.faultAt(from, end, strconv.Quote(clip(typed))+" is no level", "write level 14-16, level 16-18 or level first year")
}

func (p *parser) field(first token) {
	if p.q.Field.Status != Absent {
		p.faultTok(first, "g is given twice", "keep one of the two")
	}
	v, ok := p.value(quantity.Field, "g", false)
	if ok && p.positive(v, "g") {
		p.q.Field = v
	}
}

func (p *parser) paragraph(first token) int {
	t, ok := p.quoted("the wording is missing", `write it in quotation marks: text "A plank rests on two sills."`)
	if ok && utf8.RuneCountInString(t.text) > longestText {
		p.faultTok(t, "this paragraph is too long", "break it into shorter ones, each on a text line")
	}
	p.q.Text = append(p.q.Text, strings.Join(strings.Fields(t.text), " "))
	return len(p.q.Text) - 1
}

// Reading tokens.

func (p *parser) peek() token {
	if p.i < len(p.toks) {
		return p.toks[p.i]
	}
	return token{kind: endToken, from: p.here(), to: p.here()}
}

func (p *parser) next() token {
	t := p.peek()
	if p.i < len(p.toks) {
		p.i++
	}
	return t
}

// here is where the next token stands, or where the last one ends.
func (p *parser) here() int {
	switch n := len(p.toks); {
	case p.i < n:
		return p.toks[p.i].from
	case n > 0:
		return p.toks[n-1].to
	}
	return 0
}

// accept takes the words if they come next.
func (p *parser) accept(words ...string) bool {
	if p.i+len(words) > len(p.toks) {
		return false
	}
	for k, w := range words {
		if !p.toks[p.i+k].is(w) {
			return false
		}
	}
	p.i += len(words)
	return true
}

func (p *parser) acceptMark(m byte) bool {
	if p.peek().mark(m) {
		p.i++
		return true
	}
	return false
}

func (p *parser) quoted(what, mend string) (token, bool) {
	t := p.peek()
	if t.kind != textToken {
		p.faultTok(t, what, mend)
		p.i = len(p.toks)
		return t, false
	}
	p.i++
	return t, true
}

// clause ends one clause: it wants a comma or the end of the line, and after a fault it goes on
// at the next comma. It reports whether another clause follows.
func (p *parser) clause(ok bool) bool {
	if ok {
		t := p.peek()
		if t.kind == endToken {
			return false
		}
		if p.acceptMark(',') {
			if p.peek().kind == endToken {
				p.faultTok(t, "nothing follows this comma", "leave it out")
				return false
			}
			return true
		}
		mend := "put a comma between clauses"
		if t.mark(';') {
			mend = "write a comma in place of the semicolon"
		}
		p.faultTok(t, strconv.Quote(clip(p.text[t.from:t.to]))+" was not expected here", mend)
	}
	depth := 0
	for p.i < len(p.toks) {
		t := p.next()
		switch {
		case t.mark('('):
			depth++
		case t.mark(')'):
			depth--
		case t.mark(',') && depth <= 0 || t.mark(';'):
			return p.i < len(p.toks)
		}
	}
	return false
}

func (p *parser) extra(expected string) {
	t := p.peek()
	p.faultTok(t, strconv.Quote(clip(p.text[t.from:t.to]))+" was not expected here", "the statement is complete before it")
	p.i = len(p.toks)
}

// name reads the name of a new thing and the colon after it.
func (p *parser) name(thing, example string) (string, Span, bool) {
	t := p.peek()
	span := p.span(t.from, t.to)
	if t.kind != wordToken && !(thing == "part" && t.kind == numberToken) {
		p.faultTok(t, "the name of the "+thing+" is missing", "write it before a colon: "+example)
		p.i = len(p.toks)
		return "", span, false
	}
	p.i++
	if t.text == "unknown" || t.text == "the" {
		p.faultTok(t, strconv.Quote(t.text)+" has a meaning of its own and cannot be a name", "choose another word")
		p.i = len(p.toks)
		return "", span, false
	}
	if !isName(t.text) && thing != "part" {
		p.faultTok(t, strconv.Quote(clip(t.text))+" cannot be a name", "a name is one word of letters and digits and begins with a letter, such as "+nameOf(example))
		p.i = len(p.toks)
		return "", span, false
	}
	if !p.acceptMark(':') {
		u := p.peek()
		what, mend := "a colon is missing after the name "+clip(t.text), "write "+thing+" "+clip(t.text)+":"
		if u.kind == wordToken && p.i+1 < len(p.toks) && p.toks[p.i+1].mark(':') {
			what, mend = "a name is one word", "write "+example
		}
		p.faultTok(u, what, mend)
		p.i = len(p.toks)
		p.lost = append(p.lost, t.text)
		return "", span, false
	}
	return t.text, span, true
}

func nameOf(example string) string {
	f := strings.Fields(example)
	return strings.TrimSuffix(f[1], ":")
}

// ref reads the name of a thing that is described elsewhere.
func (p *parser) ref(what string) (string, Span, bool) {
	t := p.peek()
	span := p.span(t.from, t.to)
	if t.kind == wordToken && t.text == "the" && p.i+1 < len(p.toks) && p.toks[p.i+1].kind == wordToken {
		p.i++
		t = p.peek()
		span = p.span(t.from, t.to)
	}
	if t.kind != wordToken || !isName(t.text) {
		p.faultTok(t, "the name of "+what+" is missing", "")
		return "", span, false
	}
	p.i++
	return t.text, span, true
}

func isName(s string) bool {
	for i, r := range s {
		if !unicode.IsLetter(r) && (i == 0 || !unicode.IsDigit(r) && r != '_' && r != '-' && r != '\'') {
			return false
		}
	}
	return s != "" && utf8.RuneCountInString(s) <= longestName
}

// Faults.

func isASCII(s string) bool {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

func (p *parser) span(from, to int) Span {
	if p.ascii {
		return Span{p.number, from + 1, to + 1}
	}
	return Span{p.number, utf8.RuneCountInString(p.text[:from]) + 1, utf8.RuneCountInString(p.text[:to]) + 1}
}

func (p *parser) faultAt(from, to int, what, mend string) {
	p.faultSpan(p.span(from, min(to, len(p.text))), what, mend)
}

func (p *parser) faultTok(t token, what, mend string) { p.faultAt(t.from, t.to, what, mend) }

func (p *parser) faultSpan(s Span, what, mend string) {
	if len(p.faults) >= mostFaults {
		return
	}
	f := Fault{File: p.q.File, Span: s, What: what, Mend: mend}
	if s.Line >= 1 && s.Line <= len(p.source) {
		f.Line = p.source[s.Line-1]
	}
	p.faults = append(p.faults, f)
}

// clip shortens what is quoted in a fault.
func clip(s string) string {
	if utf8.RuneCountInString(s) <= longestName {
		return s
	}
	r := []rune(s)
	return string(r[:longestName]) + "…"
}
