package film

import (
	"fmt"
	"strings"

	"steelyard/formula"
	"steelyard/show"
)

// seen says what the picture of a kind of step shows, for those who don't see it.
var seen = map[show.Kind]string{
	show.Arrangement: "a drawing of the arrangement",
	show.Points:      "the arrangement, its points named and its distances given",
	show.Forces:      "the body by itself, an arrow for each force on it",
	show.Pivot:       "the forces, with the point that moments are taken about",
	show.Moment:      "the line of action of one force, its perpendicular distance, and the sense in which it turns",
	show.Symbols:     "the forces with their perpendicular distances",
	show.Numbers:     "the forces with their perpendicular distances",
	show.Solving:     "the forces with what has been found",
	show.Result:      "the forces with what has been found",
	show.Balance:     "the forces on the body",
	show.Reaction:    "the forces on each of the two bodies",
	show.Check:       "all forces as found, about another point",
}

// Transcript is all that is said and seen, as plain text.
func (f *Film) Transcript() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\n", f.Talk.Title)
	for i := range f.Talk.Steps {
		s := &f.Talk.Steps[i]
		fmt.Fprintf(&b, "[%s] %s\n%s\n", clock(f.Times.Start[i]), chapterTitle(s.Part, s.Title), s.Say)
		if s.Ask != "" && Script(s) != s.Say {
			fmt.Fprintf(&b, "Question: %s\n", s.Ask)
		}
		fmt.Fprintf(&b, "Seen: %s.\n", seen[s.Kind])
		for _, l := range newLines(s) {
			b.WriteString("    " + strings.TrimSpace(formula.Text(l.Formula)+"  "+l.Note) + "\n")
		}
		b.WriteByte('\n')
	}
	fmt.Fprintf(&b, "%s\n", f.Talk.Safety)
	return b.String()
}

// newLines are the lines of working that a step brings.
func newLines(s *show.Step) []show.Line { return s.Lines[max(0, len(s.Lines)-s.New):] }
