package question

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// A Fault is something in a question file that its writer can mend.
type Fault struct {
	File string
	Span Span
	What string // the fault in the writer's own words
	Mend string // the smallest change that puts it right; may be ""
	Line string // the line that it stands on
}

// Error writes the fault as file:line:column: what; mend. Without a file it is line 3, column 12: what; mend.
func (f Fault) Error() string {
	s := f.What
	if f.Mend != "" {
		s += "; " + f.Mend
	}
	if f.File == "" { // a text that no file holds
		if f.Span.Line == 0 {
			return s
		}
		return "line " + strconv.Itoa(f.Span.Line) + ", column " + strconv.Itoa(f.Span.Column) + ": " + s
	}
	if f.Span.Line == 0 {
		return f.File + ": " + s
	}
	return f.File + ":" + strconv.Itoa(f.Span.Line) + ":" + strconv.Itoa(f.Span.Column) + ": " + s
}

// Shown is Error, then the line itself with carets under the place.
func (f Fault) Shown() string {
	if f.Span.Line == 0 || strings.TrimSpace(f.Line) == "" {
		return f.Error() + "\n"
	}
	const widest = 160
	line, column := strings.Map(shown, f.Line), f.Span.Column
	if n := utf8.RuneCountInString(line); n > widest { // a window of a very long line
		r := []rune(line)
		start := min(max(0, column-widest/2), n-widest)
		line, column = string(r[start:start+widest]), column-start
	}
	var under strings.Builder
	for i, r := range []rune(line) {
		if i+1 >= column {
			break
		}
		if r == '\t' {
			under.WriteByte('\t')
		} else {
			under.WriteByte(' ')
		}
	}
	carets := max(1, min(f.Span.End-f.Span.Column, utf8.RuneCountInString(line)-column+1))
	return f.Error() + "\n    " + line + "\n    " + under.String() + strings.Repeat("^", carets) + "\n"
}

// shown stands in for characters that would command a terminal.
func shown(r rune) rune {
	if unprintable(r) || r == utf8.RuneError {
		return '\uFFFD'
	}
	return r
}

// Faults are all faults of one file, in the order of its lines.
type Faults []Fault

// Error writes one fault a line.
func (f Faults) Error() string {
	var b strings.Builder
	for i, x := range f {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(x.Error())
	}
	return b.String()
}

// Shown writes each fault with its line and a caret under the place.
func (f Faults) Shown() string {
	var b strings.Builder
	for _, x := range f {
		b.WriteString(x.Shown())
	}
	return b.String()
}

// sorted puts the faults in the order of the file and drops repetitions.
func (f Faults) sorted() Faults {
	slices.SortStableFunc(f, func(a, b Fault) int {
		if a.Span.Line != b.Span.Line {
			return a.Span.Line - b.Span.Line
		}
		return a.Span.Column - b.Span.Column
	})
	return slices.Compact(f)
}

// nearest returns the word of words that is most like typed, or "" if none is.
func nearest(typed string, words []string) string {
	if len(typed) > 40 {
		return ""
	}
	best, distance := "", 1+max(1, utf8.RuneCountInString(typed)/3)
	for _, w := range words {
		if strings.EqualFold(w, typed) {
			return w
		}
		if d := letters(strings.ToLower(typed), strings.ToLower(w)); d < distance && d < utf8.RuneCountInString(w) {
			best, distance = w, d
		}
	}
	return best
}

// letters counts the letters to change, add, leave out or exchange with their neighbour to get
// from a to b.
func letters(a, b string) int {
	s, t := []rune(a), []rune(b)
	before, last, row := make([]int, len(t)+1), make([]int, len(t)+1), make([]int, len(t)+1)
	for j := range last {
		last[j] = j
	}
	for i := range s {
		row[0] = i + 1
		for j := range t {
			change := last[j]
			if s[i] != t[j] {
				change++
			}
			row[j+1] = min(change, last[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && s[i] == t[j-1] && s[i-1] == t[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(t)]
}

// didYouMean is the mend for a word that is not known: the nearest one, else what there is.
func didYouMean(typed string, words []string) string {
	if w := nearest(typed, words); w != "" {
		return "did you mean " + strconv.Quote(w) + "?"
	}
	if len(words) == 0 {
		return ""
	}
	return "there is " + list(words, "and")
}

// list joins words as in a sentence: "a, b and c".
func list(words []string, last string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " " + last + " " + words[n-1]
	}
}
