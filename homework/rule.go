package homework

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"steelyard/answer"
	"steelyard/mark"
	"steelyard/question"
)

// Bounds on a set, so that a page of it stays a page: its questions, and the bytes of one question's text.
const (
	MostItems = 40
	MostText  = 64 << 10
)

// UsualShow is what pupils see when, if the teacher doesn't say: in practice everything but the solution at once.
func UsualShow(practice bool) Show {
	if practice {
		return Show{Hints: Always, Marks: Always, Feedback: Always, Solution: HandedIn}
	}
	return Show{Hints: Never, Marks: Released, Feedback: Released, Solution: Released}
}

// IsFor says whether a set is for a pupil: for the whole class, or for some of it and they are among them.
func (s *Set) IsFor(p Pupil) bool {
	return p.Class == s.Class && (len(s.For) == 0 || slices.Contains(s.For, p.ID))
}

// Pupils lists the pupils that a set is for, in class order, without those who have left.
func (s *Set) Pupils(class []Pupil) []Pupil {
	var out []Pupil
	for _, p := range class {
		if s.IsFor(p) && p.Left.IsZero() {
			out = append(out, p)
		}
	}
	return out
}

// Opened says whether a set has been given out and its time has come. A set that has closed has opened.
//
// That it was given out counts, not when: nobody can see a set before that, and once they can, no present moment lies
// before it unless the computer's clock was put back, which takes no set away from those who are at work on it.
func (s *Set) Opened(now time.Time) bool { return !s.Given.IsZero() && !now.Before(s.Opens) }

// ClosesFor is when a set closes for a pupil: later for those with extra time, by so many per cent of the time from
// opening to closing, also where the set was given out after its opening. It is zero if the set never closes.
//
// That extra time is a share of the whole is common practice, no source.
func (s *Set) ClosesFor(p Pupil) time.Time {
	opens := s.Opens
	if opens.IsZero() {
		opens = s.Given
	}
	if s.Closes.IsZero() || opens.IsZero() || p.Access.ExtraTime <= 0 || !s.Closes.After(opens) {
		return s.Closes
	}
	span := s.Closes.Sub(opens).Seconds()
	return s.Closes.Add(time.Duration(span*float64(p.Access.ExtraTime)/100) * time.Second)
}

// closed says whether a set has closed for a pupil.
func (s *Set) closed(p Pupil, now time.Time) bool {
	at := s.ClosesFor(p)
	return !at.IsZero() && !now.Before(at)
}

// Open says whether a pupil can work at a set and hand it in.
func (s *Set) Open(p Pupil, now time.Time) bool {
	return s.IsFor(p) && s.Opened(now) && !s.closed(p, now)
}

// Closed says whether a set has closed for all of its pupils.
func (s *Set) Closed(class []Pupil, now time.Time) bool {
	if s.Closes.IsZero() || now.Before(s.Closes) {
		return false
	}
	return !slices.ContainsFunc(s.Pupils(class), func(p Pupil) bool { return !s.closed(p, now) })
}

// Shows says whether what is shown at a moment of a set's life is shown to a pupil now: Shows(s.Show.Solution, …).
// Nothing is shown before the set opens, or to a pupil whom it isn't for.
func (s *Set) Shows(when When, p Pupil, now time.Time, handedIn bool) bool {
	if !s.IsFor(p) || !s.Opened(now) {
		return false
	}
	switch when {
	case Always:
		return true
	case HandedIn:
		return handedIn
	case Closed:
		return s.closed(p, now)
	case Released:
		return !s.Released.IsZero() && !now.Before(s.Released)
	}
	return false
}

// TextFor is the notation of an item as a pupil has it: with the pupil's own numbers, where they have some. The numbers
// may be of all pupils and items.
func (s *Set) TextFor(item int, pupil string, numbers []Numbers) string {
	if s.Items[item].Own {
		for i := range numbers {
			if n := &numbers[i]; n.Item == item && n.Pupil == pupil {
				return n.Text
			}
		}
	}
	return s.Items[item].Text
}

// Faults lists what keeps a set from being given out, in words for the teacher.
func (s *Set) Faults() []string {
	var out []string
	say := func(format string, v ...any) { out = append(out, fmt.Sprintf(format, v...)) }
	if strings.TrimSpace(s.Title) == "" {
		say("the set has no title; give it one that the class will know it by")
	}
	if s.Class == "" {
		say("the set is for no class; choose one")
	}
	switch {
	case len(s.Items) == 0:
		say("there is no question in the set; add one")
	case len(s.Items) > MostItems:
		say("a set has room for %d questions, and this one has %d; make two sets of it", MostItems, len(s.Items))
	}
	if _, err := mark.ParsePolicy(s.Policy); err != nil {
		say("how it is marked can't be read: %s", err)
	}
	own := false
	for i := range s.Items[:min(len(s.Items), MostItems)] {
		for _, f := range s.Items[i].faults() {
			say("question %d: %s", i+1, f)
		}
		own = own || s.Items[i].Own
	}
	if own && s.Seed == "" {
		say("numbers of their own need a word to begin from; give the set a seed")
	}
	if opens := s.Opens; !s.Closes.IsZero() && !opens.IsZero() && !s.Closes.After(opens) {
		say("the set closes before it opens; move one of the times")
	}
	if s.Closes.IsZero() {
		for _, w := range []struct {
			what string
			when When
		}{{"hints", s.Show.Hints}, {"marks", s.Show.Marks}, {"feedback", s.Show.Feedback}, {"the solution", s.Show.Solution}} {
			if w.when == Closed {
				say("%s would be shown once the set has closed, but it never closes; set a closing time or choose another moment", w.what)
			}
		}
	}
	return out
}

// faults lists what is wrong with a question of a set.
func (it *Item) faults() []string {
	if len(it.Text) > MostText {
		return []string{fmt.Sprintf("it is longer than a question can be (%d kB)", MostText>>10)}
	}
	q, err := question.Parse("", it.Text)
	if err != nil {
		return []string{plainly(err)}
	}
	var out []string
	if len(q.Parts) == 0 {
		out = append(out, "it asks nothing; add a part")
	}
	faults, _ := answer.Check(q)
	for _, f := range faults {
		out = append(out, fault(f))
	}
	worth := 0
	for _, p := range q.Parts {
		worth += p.Marks
	}
	if worth == 0 && len(q.Parts) > 0 {
		out = append(out, "no part is worth a mark; say how many")
	}
	if it.Own && len(q.Vary) == 0 {
		out = append(out, "nothing in it may vary, so pupils can't have numbers of their own; add a vary line, or give all the same numbers")
	}
	return out
}

// plainly is an error about a question without the name of a file.
func plainly(err error) string {
	list, ok := errors.AsType[question.Faults](err)
	if !ok || len(list) == 0 {
		return err.Error()
	}
	words := fault(list[0])
	if n := len(list) - 1; n > 0 {
		words += fmt.Sprintf("; and %d more", n)
	}
	return words
}

func fault(f question.Fault) string {
	words := f.What
	if f.Span.Line > 0 {
		words = fmt.Sprintf("line %d: %s", f.Span.Line, words)
	}
	if f.Mend != "" {
		words += "; " + f.Mend
	}
	return words
}
