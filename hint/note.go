package hint

import "fmt"

// note is how the history tells of a hint that was opened.
const note = "hint %d for question %d part %s"

// A Note says which rung of which ladder was opened; what it is about is the set.
type Note struct {
	Rung int // from 1
	Item int // from 0
	Part string
}

// String is the note as the history keeps it.
func (n Note) String() string { return fmt.Sprintf(note, n.Rung, n.Item+1, n.Part) }

// ReadNote reads a line of the history; ok is false where it tells of something else.
func ReadNote(line string) (n Note, ok bool) {
	if _, err := fmt.Sscanf(line, note, &n.Rung, &n.Item, &n.Part); err != nil {
		return Note{}, false
	}
	n.Item--
	return n, n.String() == line
}
