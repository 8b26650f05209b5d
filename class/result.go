package class

import (
	"cmp"
	"slices"

	"steelyard/mark"
	"steelyard/slip"
)

// How sure it takes to name a slip at all, and to act on it.
const (
	worthNaming = 0.3
	worthActing = 0.5
)

// A Result is what one pupil's work came to.
type Result struct {
	Code, Name string
	Parts      []mark.Part    // in the question's order
	Suspects   []mark.Suspect // over all parts, the likeliest first; what the work suggests, never more
}

// Marks are the marks that count, and what the parts are worth.
func (r *Result) Marks() (marks, of int) {
	for i := range r.Parts {
		marks += r.Parts[i].Score()
		of += r.Parts[i].Of
	}
	return marks, of
}

// share is the marks as a part of what could be had.
func (r *Result) share() float64 {
	marks, of := r.Marks()
	if of == 0 {
		return 0
	}
	return float64(marks) / float64(of)
}

// named are the suspects that are worth naming, one for each slip.
func (r *Result) named() []mark.Suspect {
	var out []mark.Suspect
	for _, s := range r.Suspects {
		if s.Probability < worthNaming || slip.Named(s.Name) == nil {
			continue
		}
		i := slices.IndexFunc(out, func(o mark.Suspect) bool { return o.Name == s.Name })
		switch {
		case i < 0:
			out = append(out, s)
		case s.Probability > out[i].Probability:
			out[i] = s
		}
	}
	slices.SortStableFunc(out, func(a, b mark.Suspect) int { return cmp.Compare(b.Probability, a.Probability) })
	return out
}

// cause is the cause that the work suggests most, and how sure that is; −1 if none is worth acting on.
func (r *Result) cause() (cause int, sure float64) {
	sums := make([]float64, len(causes))
	for _, s := range r.Suspects {
		if k := causeOf(s.Name); k >= 0 {
			// Slips of one pupil exclude each other only within a part, so a sum may pass 1.
			sums[k] = min(1, sums[k]+s.Probability)
		}
	}
	cause = -1
	for k, v := range sums {
		if v >= worthActing && v > sure {
			cause, sure = k, v
		}
	}
	return cause, sure
}

// noSlip reports whether the work suggests that no slip was made.
func (r *Result) noSlip() bool {
	return len(r.Suspects) > 0 && r.Suspects[0].Name == mark.NoSlip && r.Suspects[0].Probability >= mark.Enough
}

// Asked reports whether something of a part still waits for the teacher.
func Asked(p *mark.Part) bool { return p.AskTeacher && p.Override == nil }

// blank reports whether nothing was handed in for a part.
func blank(p *mark.Part) bool { return len(p.Lines) == 0 && p.Answer.Verdict == mark.NoAnswer }
