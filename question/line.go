package question

// A statement is what a line of a question file says.
type statement uint8

const (
	noStatement statement = iota // an empty line, or only a comment
	titleLine
	levelLine
	ideaLine
	trapsLine
	gLine
	textLine
	bodyLine
	pieceLine
	pointLine
	supportLine
	loadLine
	givenLine
	partLine
	varyLine
)

// statements are the words that a line may begin with.
var statements = []string{
	"question", "level", "idea", "traps", "g", "text", "body", "piece", "point",
	"support", "cable", "strut", "link", "load", "force", "couple",
	"given", "part", "vary",
}

// A line is one line of a question file as it was read: what it says, where in the question that
// is kept, and its comment.
type line struct {
	statement statement
	index     int // in Text, Bodies, Supports, …; of a piece: its number in its frame
	owner     string
	comment   string
	commented bool
}
