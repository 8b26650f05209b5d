package film

import (
	"fmt"
	"math"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// Measures of captions, common practice, no source: two lines of at most 40 characters, up to 7 s, 80 ms between one and the next.
const (
	lineLength = 40
	gap        = 80 * time.Millisecond
	mostWords  = 17 // 7 s, at the usual pace
)

// A Cue is a caption, or the title of a chapter.
type Cue struct {
	ID         string
	Start, End time.Duration
	Lines      []string
	Step       int // from 0
}

// Cues are the captions of a film: the script, fitted to the times of its steps by how long its words take to say.
func (f *Film) Cues() []Cue {
	var out []Cue
	for i := range f.Talk.Steps {
		s := &f.Talk.Steps[i]
		texts := captions(Script(s))
		total := 0.0
		for _, t := range texts {
			total += weight(t)
		}
		from, whole := f.Times.Start[i], float64(f.Times.Spoke[i]-f.Times.Start[i])
		said := 0.0
		for n, t := range texts {
			start := from + time.Duration(whole*said/total)
			said += weight(t)
			end := from + time.Duration(whole*said/total)
			if end-start > 3*gap {
				end -= gap
			}
			start, end = start.Truncate(time.Millisecond), end.Truncate(time.Millisecond)
			out = append(out, Cue{ID: fmt.Sprintf("%s.%d", s.ID, n+1), Start: start, End: max(end, start+time.Millisecond), Lines: t, Step: i})
		}
	}
	return out
}

// weight is how long a caption takes to say, in words; long words count for more.
func weight(lines []string) float64 {
	text := strings.Join(lines, " ")
	return max(spokenWords(text), float64(utf8.RuneCountInString(text))/7, 2.5)
}

// Chapters are the titles of a film's steps; steps that follow each other with one title are one chapter.
func (f *Film) Chapters() []Cue {
	var out []Cue
	for i := range f.Talk.Steps {
		s := &f.Talk.Steps[i]
		end := f.Times.End
		if i+1 < len(f.Times.Start) {
			end = f.Times.Start[i+1]
		}
		title := chapterTitle(s.Part, s.Title)
		if n := len(out); n > 0 && out[n-1].Lines[0] == title {
			out[n-1].End = end
			continue
		}
		out = append(out, Cue{ID: s.ID, Start: f.Times.Start[i], End: end, Lines: []string{title}, Step: i})
	}
	return out
}

func chapterTitle(part, title string) string {
	title = strings.Join(strings.Fields(title), " ")
	if title == "" {
		title = "Step"
	}
	if part == "" || strings.Contains(title, "("+part+")") {
		return title
	}
	return "(" + part + ") " + title
}

// captions breaks a script into captions of one or two lines.
func captions(text string) [][]string {
	words := tie(text)
	// best[i] is the least cost of captions that end before word i, and from[i] where the last of them begins.
	best, from := make([]float64, len(words)+1), make([]int, len(words)+1)
	for i := 1; i <= len(words); i++ {
		best[i] = math.Inf(1)
		for j := i - 1; j >= 0; j-- {
			lines := twoLines(words[j:i])
			if lines == nil && i-j > 1 {
				break
			}
			cost := best[j] + 6
			if i < len(words) {
				cost += breakCost(words[i-1], words[i])
			}
			if spokenWords(strings.Join(words[j:i], " ")) > mostWords {
				cost += 20
			}
			for k := j; k < i-1; k++ {
				if ends(words[k]) {
					cost += 4
				}
			}
			if cost < best[i] {
				best[i], from[i] = cost, j
			}
		}
	}
	var out [][]string
	for i := len(words); i > 0; i = from[i] {
		lines := twoLines(words[from[i]:i])
		if lines == nil { // one word that is longer than a line
			lines = words[from[i]:i]
		}
		out = append([][]string{lines}, out...)
	}
	return out
}

// twoLines breaks words into one line, or two where the break does least harm; nil if they don't fit.
func twoLines(words []string) []string {
	if all := strings.Join(words, " "); utf8.RuneCountInString(all) <= lineLength {
		return []string{all}
	}
	var out []string
	least := math.Inf(1)
	for i := 1; i < len(words); i++ {
		a, b := strings.Join(words[:i], " "), strings.Join(words[i:], " ")
		la, lb := utf8.RuneCountInString(a), utf8.RuneCountInString(b)
		if la > lineLength || lb > lineLength {
			continue
		}
		if cost := breakCost(words[i-1], words[i]) + math.Abs(float64(la-lb))/6; cost < least {
			least, out = cost, []string{a, b}
		}
	}
	return out
}

// openers are words that a new line may well begin with.
var openers = map[string]bool{"and": true, "or": true, "but": true, "so": true, "of": true, "to": true, "in": true, "at": true,
	"about": true, "is": true, "from": true, "which": true, "that": true, "times": true, "equals": true, "plus": true,
	"minus": true, "over": true, "for": true, "with": true, "on": true, "because": true, "where": true}

// breakCost is the harm of a break between two words.
func breakCost(before, after string) float64 {
	switch {
	case ends(before):
		return 0
	case strings.ContainsAny(before[len(before)-1:], ",;:"):
		return 1
	case openers[strings.ToLower(before)] || before == "the" || before == "a" || before == "The" || before == "A":
		return 8
	case openers[after]:
		return 3
	}
	return 6
}

func ends(word string) bool { return strings.ContainsAny(word[len(word)-1:], ".?!") }

// units are the words that units are said in.
var units = map[string]bool{"newton": true, "newtons": true, "kilonewton": true, "kilonewtons": true, "millinewton": true,
	"millinewtons": true, "meganewton": true, "meganewtons": true, "metre": true, "metres": true, "centimetre": true,
	"centimetres": true, "millimetre": true, "millimetres": true, "kilometre": true, "kilometres": true, "gram": true,
	"grams": true, "kilogram": true, "kilograms": true, "tonne": true, "tonnes": true, "degree": true, "degrees": true, "radian": true,
	"radians": true, "second": true, "seconds": true, "percent": true, "per": true, "square": true, "cubic": true, "squared": true, "cubed": true}

// tie splits a text into words, joined by no-break spaces where no line may end: number and unit, "part a", and a name
// with its preposition's noun ("about L").
func tie(text string) []string {
	var out []string
	number := false // the last word is a number, perhaps with part of its unit
	for word := range strings.FieldsFuncSeq(text, unicode.IsSpace) {
		bare := strings.TrimRight(word, ".,;:?!")
		n := len(out)
		switch {
		case number && units[strings.ToLower(bare)]:
			out[n-1] += "\u00a0" + word
			number = bare == word
			continue
		case n > 0 && (isName(bare) || strings.EqualFold(out[n-1], "part")) && !strings.ContainsAny(out[n-1][len(out[n-1])-1:], ".,;:?!") && utf8.RuneCountInString(out[n-1])+len(word) < lineLength:
			out[n-1] += "\u00a0" + word
			number = false
			continue
		}
		out = append(out, word)
		number = bare == word && strings.IndexFunc(word, unicode.IsDigit) >= 0
	}
	return out
}

// isName says whether a word is a name of one letter, such as a point's or a part's.
func isName(word string) bool {
	r, size := utf8.DecodeRuneInString(word)
	return size > 0 && size == len(word) && unicode.IsLetter(r) && word != "a" && word != "A" && word != "I"
}
