package roster

import (
	"fmt"
	"strings"
)

// A Fault is something in a file that whoever made it can mend.
type Fault struct {
	File       string // "users.csv"; "" for the file as a whole
	Line       int    // from 1; 0: none in particular
	Column     int    // from 1; 0: none in particular
	What, Mend string
}

func (f Fault) String() string {
	var b strings.Builder
	if f.File != "" {
		b.WriteString(f.File + ":")
		if f.Line > 0 {
			fmt.Fprintf(&b, "%d:", f.Line)
		}
		if f.Column > 0 {
			fmt.Fprintf(&b, "%d:", f.Column)
		}
		b.WriteString(" ")
	}
	b.WriteString(f.What)
	if f.Mend != "" {
		b.WriteString("; " + f.Mend)
	}
	return b.String()
}

// Faults are all that is wrong with a file.
type Faults []Fault

// Error lists the first twenty, one to a line.
func (f Faults) Error() string {
	var lines []string
	for i, one := range f {
		if i == 20 {
			lines = append(lines, fmt.Sprintf("and %d more", len(f)-20))
			break
		}
		lines = append(lines, one.String())
	}
	return strings.Join(lines, "\n")
}
