package question

// A line is one line of a question file as it was read.
type line struct {
	text string
}
