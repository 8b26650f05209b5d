package hint

import "testing"

func TestANoteIsReadAsItWasWritten(t *testing.T) {
	n := Note{Rung: 3, Item: 0, Part: "b"}
	if got, ok := ReadNote(n.String()); !ok || got != n {
		t.Errorf("%v is read as %v, %v", n, got, ok)
	}
	if got, ok := ReadNote("looked at work"); ok {
		t.Errorf("something else is read as %v", got)
	}
}

// FuzzReadNote: what is read is written the same again.
func FuzzReadNote(f *testing.F) {
	f.Add("hint 3 for question 1 part b")
	f.Add("hint 3 for question 1 part b c")
	f.Fuzz(func(t *testing.T, line string) {
		if n, ok := ReadNote(line); ok && n.String() != line {
			t.Errorf("%q is read as %v", line, n)
		}
	})
}
