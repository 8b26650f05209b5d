// Package mark judges pupils' answers and working, gives marks with reasons, and says which slips they fit.
//
// Any valid method counts; an early slip costs once; nothing is claimed beyond the evidence. What cannot be read
// is reported as not read, never as wrong, and the teacher is asked.
package mark

import (
	"sync"

	"steelyard/answer"
	"steelyard/question"
	"steelyard/script"
	"steelyard/slip"
	"steelyard/solution"
)

// A Key is a question made ready for marking.
type Key struct {
	Question *question.Question
	Answers  *answer.Answers
	Solution *solution.Solution
	Plan     *slip.Plan
	Policy   Policy
	judge    *judge
	parts    []partKey // by part of the question
	outcomes []outcome // what each slip leads to
	names    []prior   // the slips among them, each once
	ways     []*slip.Plan
	pool     *sync.Pool // of followers
}

// A Hand is what one pupil handed in for one part.
type Hand struct {
	Pupil   string
	Part    string
	Answer  string
	Working string // lines separated by line breaks
}

// A Verdict is what is said of one line.
type Verdict uint8

const (
	NotRead Verdict = iota
	Right           // follows from the equilibrium of the bodies
	Carried         // follows rightly from an earlier wrong line
	Wrong
	Statement // words, a heading, a definition
)

// A Judged line is a line of working with what is said of it.
type Judged struct {
	Line    script.Line
	Verdict Verdict
	Means   string  // "moments about Q", "vertical balance", "the two together", "arithmetic"
	Slip    string  // name of the slip whose line it is, if one fits
	Of      string  // what the slip falls on
	Off     string  // the term that is off, in words: "the distance of the 45 N load is measured from the left end, not from A"
	Finds   string  // the force or place that the line ends by giving, as the question calls it; ""
	Value   float64 // its value, SI
	Note    string  // why a right line is right, where that is not plain: masses in place of weights
}

// A Part is the marking of one part of one pupil.
type Part struct {
	Pupil, Part string
	Marks, Of   int
	Lines       []Judged
	Answer      JudgedAnswer
	Slips       []Suspect // hypotheses, the likeliest first
	AskTeacher  bool
	Why         []string // a reason for each mark given or withheld, and for asking
	Override    *Override
}

// A JudgedAnswer is the final answer with what is said of it.
type JudgedAnswer struct {
	Read    script.Answer
	Value   float64 // SI; NaN if none
	Verdict AnswerVerdict
	Note    string
	partly  bool      // the size is right, what else is asked for is not
	carried bool      // it follows from the pupil's own earlier answer
	doubt   bool      // the teacher should look
	ends    []float64 // of a range, SI
}

// An AnswerVerdict says how a final answer stands to the key.
type AnswerVerdict uint8

const (
	NoAnswer AnswerVerdict = iota
	AnswerNotRead
	AnswerRight
	AnswerCarried // right for the pupil's own earlier value
	AnswerWrong
	AnswerUnit    // the number is right, the unit missing or wrong
	AnswerFigures // right, but to too few figures
)

// A Suspect is a slip that the evidence fits, and how sure that is.
type Suspect struct {
	Name, Of    string
	Probability float64
	Evidence    []string
}

// An Override is a teacher's decision; it wins over the marker and is listed as such.
type Override struct {
	Pupil, Part string
	Mark        int
	Reason      string
}

// A Policy says how a question is marked where awarding bodies differ. The zero Policy is the default.
type Policy struct {
	UnitNeeded    Choice  // a missing or wrong unit costs the answer's mark; default yes, once a question
	FiguresNeeded Choice  // too few figures cost; default no, unless the part asks for figures
	BareAnswer    Choice  // a right answer alone earns full marks; default yes, but for "show that"
	FollowThrough Choice  // default yes
	Tolerance     float64 // 0: slip.Tolerance, or agreement at the figures given
}

// A Choice is yes, no or the default.
type Choice uint8

const (
	Default Choice = iota
	Yes
	No
)
