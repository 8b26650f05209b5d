package film

import (
	"bufio"
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode"

	"steelyard/show"
)

// Pace is the usual pace of a script read aloud, in words a minute. Common practice, no source.
const Pace = 150

// What follows the words of a step: a moment to look, and longer where a question has been asked.
const (
	look  = 1200 * time.Millisecond
	think = 3 * time.Second
)

// Times are when the steps of a talk begin, from the start of the film, to the millisecond.
type Times struct {
	Start []time.Duration // of each step, rising from 0
	Spoke []time.Duration // when the words of each step have been said
	End   time.Duration
}

// Read gives the times at which the script would be read aloud at a pace, in words a minute.
func Read(t *show.Talk, pace float64) Times {
	var out Times
	var now time.Duration
	for i := range t.Steps {
		s := &t.Steps[i]
		out.Start = append(out.Start, now)
		words := 0.0
		for _, lines := range captions(Script(s)) {
			words += weight(lines)
		}
		now += max(time.Second, time.Duration(words/pace*60_000)*time.Millisecond)
		out.Spoke = append(out.Spoke, now)
		now += look
		if s.Ask != "" {
			now += think
		}
	}
	out.End = now
	return out
}

// between is the silence that follows a step's own clip.
const between = 400 * time.Millisecond

// Spoken gives the times of a talk some of whose steps have been spoken. Clips are how long that took, by the steps'
// IDs; a silence of 0.4 s follows each. Other steps keep the pace, in words a minute.
func Spoken(t *show.Talk, clips map[string]time.Duration, pace float64) Times {
	read := Read(t, pace)
	var out Times
	var now time.Duration
	for i := range t.Steps {
		end := read.End
		if i+1 < len(read.Start) {
			end = read.Start[i+1]
		}
		spoke, whole := read.Spoke[i]-read.Start[i], end-read.Start[i]
		if clip, ok := clips[t.Steps[i].ID]; ok {
			spoke = (clip + time.Millisecond - 1).Truncate(time.Millisecond) // so that the clip has room
			whole = spoke + between
		}
		out.Start, out.Spoke = append(out.Start, now), append(out.Spoke, now+spoke)
		now += whole
	}
	out.End = now
	return out
}

// spokenWords counts words as they take time to say: of a number each digit is one, and so is its point.
func spokenWords(text string) float64 {
	n := 0
	for word := range strings.FieldsSeq(text) {
		if strings.IndexFunc(word, unicode.IsDigit) < 0 {
			n++
			continue
		}
		for _, r := range strings.TrimRight(word, ".,;:?") {
			if unicode.IsDigit(r) || r == '.' {
				n++
			}
		}
	}
	return float64(n)
}

// longest is the most that a film may last.
const longest = 3 * time.Hour

// ParseTimes reads when the steps of a talk were taken: a line for each step, with its ID and the second at which it
// begins, such as "a-1 12.35", and a last line "end 183.2". The first step begins at 0. What follows "say" after a time is
// said in place of the prepared words; the talk is changed to say it. Empty lines and lines that begin with # are left out.
func ParseTimes(t *show.Talk, text string) (Times, error) {
	var out Times
	var words []string
	lines := bufio.NewScanner(strings.NewReader(text))
	for n := 1; lines.Scan(); n++ {
		fields := strings.Fields(lines.Text())
		if len(fields) == 0 || strings.HasPrefix(fields[0], "#") {
			continue
		}
		said := ""
		if len(fields) > 2 && fields[2] == "say" && len(out.Start) < len(t.Steps) {
			said, fields = strings.Join(fields[3:], " "), fields[:2]
		}
		if err := out.take(t, fields); err != nil {
			return Times{}, fmt.Errorf("line %d: %w", n, err)
		}
		words = append(words, said)
	}
	if err := lines.Err(); err != nil {
		return Times{}, fmt.Errorf("reading the times: %w", err)
	}
	if out.End == 0 {
		return Times{}, fmt.Errorf(`there are times of %d steps and the talk has %d; after the last there must be a line such as "end 183.2"`, len(out.Start), len(t.Steps))
	}
	out.Spoke = append(append([]time.Duration{}, out.Start[1:]...), out.End)
	for i := range t.Steps {
		Reword(&t.Steps[i], words[i])
	}
	return out, nil
}

// take takes a line of times.
func (out *Times) take(t *show.Talk, fields []string) error {
	if out.End > 0 {
		return fmt.Errorf(`nothing can follow the line "end"`)
	}
	want := "end"
	if len(out.Start) < len(t.Steps) {
		want = t.Steps[len(out.Start)].ID
	}
	if len(fields) != 2 || fields[0] != want {
		return fmt.Errorf("%q: step %s comes here, with its time in seconds, such as \"%s 12.35\"", strings.Join(fields, " "), want, want)
	}
	seconds, err := strconv.ParseFloat(fields[1], 64)
	if err != nil || !(seconds >= 0 && seconds <= longest.Seconds()) {
		return fmt.Errorf("%q is no time in seconds from 0 to %.0f", fields[1], longest.Seconds())
	}
	at := time.Duration(seconds*1000+0.5) * time.Millisecond
	switch n := len(out.Start); {
	case n == 0 && at != 0:
		return fmt.Errorf("the first step begins at 0, not at %s", fields[1])
	case n > 0 && at < out.Start[n-1]+100*time.Millisecond:
		return fmt.Errorf("%s s is not a tenth of a second after the step before", fields[1])
	}
	if want == "end" {
		out.End = at
		return nil
	}
	out.Start = append(out.Start, at)
	return nil
}
