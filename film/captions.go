package film

import (
	"fmt"
	"math"
	"slices"
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
	p := prose(tie(text))
	// best[i] is the least cost of captions that end before word i, and from[i] where the last of them begins.
	n := len(p.words)
	best, from := make([]float64, n+1), make([]int, n+1)
	for i := 1; i <= n; i++ {
		best[i] = math.Inf(1)
		for j := i - 1; j >= 0; j-- {
			if p.twoLines(j, i) < 0 && i-j > 1 {
				break
			}
			cost := best[j] + 6 + 4*float64(p.stops[i-1]-p.stops[j])
			if i < n {
				cost += p.breaks[i]
			}
			if p.spoken[i]-p.spoken[j] > mostWords {
				cost += 20
			}
			if cost < best[i] {
				best[i], from[i] = cost, j
			}
		}
	}
	var out [][]string
	for i := n; i > 0; i = from[i] {
		words, at := p.words[from[i]:i], p.twoLines(from[i], i)
		lines := []string{strings.Join(words, " ")} // perhaps one word that is longer than a line
		if at > from[i] && at < i {
			lines = []string{strings.Join(p.words[from[i]:at], " "), strings.Join(p.words[at:i], " ")}
		}
		out = append(out, lines)
	}
	slices.Reverse(out)
	return out
}

// A passage is words with what is counted up to each, so that a long script is broken fast.
type passage struct {
	words  []string
	at     []int     // characters before each word, with a space after each
	spoken []float64 // words as they take time to say
	stops  []int     // words that end a sentence
	breaks []float64 // harm of a break before each word but the first
}

func prose(words []string) passage {
	p := passage{words: words, at: []int{0}, spoken: []float64{0}, stops: []int{0}, breaks: []float64{0}}
	for i, w := range words {
		stop := 0
		if ends(w) {
			stop = 1
		}
		p.at = append(p.at, p.at[i]+utf8.RuneCountInString(w)+1)
		p.spoken = append(p.spoken, p.spoken[i]+spokenWords(w))
		p.stops = append(p.stops, p.stops[i]+stop)
		if i > 0 {
			p.breaks = append(p.breaks, breakCost(words[i-1], w))
		}
	}
	return p
}

// twoLines says before which word the words from j up to i break into two lines, where it does least harm: i if they
// fit into one; -1 if they don't fit.
func (p *passage) twoLines(j, i int) int {
	length := func(from, to int) int { return p.at[to] - p.at[from] - 1 }
	if length(j, i) <= lineLength {
		return i
	}
	best, least := -1, math.Inf(1)
	for k := j + 1; k < i; k++ {
		la, lb := length(j, k), length(k, i)
		if la > lineLength || lb > lineLength {
			continue
		}
		if cost := p.breaks[k] + math.Abs(float64(la-lb))/6; cost < least {
			least, best = cost, k
		}
	}
	return best
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
