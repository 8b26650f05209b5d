package workbench

import (
	"strings"
	"unicode/utf8"

	"steelyard/question"
)

// A draft is a question file that can be read, with its lines at hand for editing.
type draft struct {
	q     *question.Question
	mark  string // a byte order mark, if there is one
	lines []string
}

// open reads a text. What can't be read can't be edited by pointing at it.
func open(text string) (*draft, error) {
	q, err := question.Parse("", text)
	if err != nil {
		return nil, unread(err, "mend the notation first")
	}
	d := &draft{q: q}
	if rest, ok := strings.CutPrefix(text, "\ufeff"); ok {
		d.mark, text = "\ufeff", rest
	}
	d.lines = strings.Split(text, "\n")
	return d, nil
}

func (d *draft) String() string { return d.mark + strings.Join(d.lines, "\n") }

// offset is the byte at which a column of a line begins; columns count characters from 1.
func offset(line string, column int) int {
	for i := range line {
		if column--; column == 0 {
			return i
		}
	}
	return len(line)
}

// at is what stands at a span.
func (d *draft) at(s question.Span) string {
	if s.Line < 1 || s.Line > len(d.lines) {
		return ""
	}
	l := d.lines[s.Line-1]
	from, to := offset(l, s.Column), offset(l, s.End)
	return l[from:max(from, to)]
}

// put replaces what stands at a span.
func (d *draft) put(s question.Span, with string) {
	if s.Line < 1 || s.Line > len(d.lines) {
		return
	}
	l := d.lines[s.Line-1]
	from, to := offset(l, s.Column), offset(l, s.End)
	d.lines[s.Line-1] = l[:from] + with + l[max(from, to):]
}

// insert puts lines before line n, counted from 1; far ones go to the end.
func (d *draft) insert(n int, lines ...string) {
	for len(d.lines) > 0 && strings.TrimSpace(d.lines[len(d.lines)-1]) == "" && n > len(d.lines)-1 {
		d.lines = d.lines[:len(d.lines)-1]
		n = min(n, len(d.lines)+1)
	}
	if n > len(d.lines) {
		d.lines = append(append(d.lines, lines...), "")
		return
	}
	d.lines = append(d.lines[:n-1], append(append([]string{}, lines...), d.lines[n-1:]...)...)
}

// A clause is what stands between two commas of a line, without the spaces round it: bytes from and to.
type clause struct{ from, to int }

// A statement is a line in its clauses. The head is "support P:".
type statement struct {
	line    string
	head    int // where the clauses begin
	clauses []clause
	end     int // where the last clause ends, before a comment
}

// cut takes a line of a thing with a name apart.
func cut(line string) statement {
	s := statement{line: line, head: -1}
	depth, from := 0, 0
	take := func(to int) {
		a, b := from, to
		for a < b && isSpace(line[a]) {
			a++
		}
		for b > a && isSpace(line[b-1]) {
			b--
		}
		if a < b {
			s.clauses = append(s.clauses, clause{a, b})
			s.end = b
		}
		from = to + 1
	}
	i := 0
scan:
	for i < len(line) {
		switch c := line[i]; {
		case c == '"':
			i = closing(line, i+1, `"`)
			continue
		case strings.HasPrefix(line[i:], "“"):
			i = closing(line, i+len("“"), "”")
			continue
		case c == '#':
			break scan
		case c == ':' && s.head < 0:
			s.head, from = i+1, i+1
		case c == '(':
			depth++
		case c == ')':
			depth--
		case c == ',' && depth == 0 && s.head >= 0 && !decimal(line, i):
			take(i)
		}
		_, n := utf8.DecodeRuneInString(line[i:])
		i += n
	}
	if s.head < 0 {
		s.head, from = 0, 0
	}
	s.end = s.head
	take(i)
	for _, c := range s.clauses {
		s.end = max(s.end, c.to)
	}
	return s
}

func isSpace(b byte) bool { return b == ' ' || b == '\t' || b == '\r' }

// decimal reports whether the comma at i stands inside a number.
func decimal(line string, i int) bool {
	digit := func(k int) bool { return k >= 0 && k < len(line) && line[k] >= '0' && line[k] <= '9' }
	return digit(i-1) && digit(i+1)
}

// closing is the byte after a quotation mark that closes a text; \ takes the next character as it is.
func closing(line string, i int, mark string) int {
	for ; i < len(line); i++ {
		if line[i] == '\\' {
			i++
		} else if strings.HasPrefix(line[i:], mark) {
			return i + len(mark)
		}
	}
	return len(line)
}

// text is a clause as it is written.
func (s statement) text(i int) string { return s.line[s.clauses[i].from:s.clauses[i].to] }

// find is the first clause that begins with one of the words, or with a quotation mark for `"`; −1 if there is none.
func (s statement) find(words ...string) int {
	for i := range s.clauses {
		t := s.text(i)
		for _, w := range words {
			if w == `"` && (strings.HasPrefix(t, `"`) || strings.HasPrefix(t, "“")) {
				return i
			}
			if t == w || strings.HasPrefix(t, w+" ") {
				return i
			}
		}
	}
	return -1
}

// with is the line with a clause in place of another one; without it, where i is −1: before the label, else at the end.
func (s statement) with(i int, text string) string {
	if i >= 0 {
		c := s.clauses[i]
		return s.line[:c.from] + text + s.line[c.to:]
	}
	if label := s.find(`"`); label > 0 && label == len(s.clauses)-1 {
		to := s.clauses[label].from
		return s.line[:to] + text + ", " + s.line[to:]
	}
	if len(s.clauses) == 0 {
		return s.line[:s.head] + " " + text + s.line[s.head:]
	}
	return s.line[:s.end] + ", " + text + s.line[s.end:]
}

// without is the line without a clause and the comma that goes with it.
func (s statement) without(i int) string {
	c := s.clauses[i]
	switch {
	case i > 0:
		return s.line[:s.clauses[i-1].to] + s.line[c.to:]
	case len(s.clauses) > 1:
		return s.line[:c.from] + s.line[s.clauses[1].from:]
	}
	return s.line[:c.from] + s.line[c.to:]
}
