package variant

import (
	"fmt"
	"strconv"

	"steelyard/answer"
	"steelyard/question"
	"steelyard/slip"
)

// Options say how numbers are chosen.
type Options struct {
	Exact    int                // 2 or 3: every answer comes out exactly in so many figures; 0: it need not
	Most     int                // candidates examined at most; 0: 8000
	Ordinary bool               // random numbers of the same kind, without regard to slips: to compare with
	Progress func(done, of int) // called after each pupil; nil: not
}

// Enough is how far the right answer and that of a slip must lie apart, in marking tolerances.
const Enough = 3

// A Result is the numbers of a class.
type Result struct {
	Plan      *slip.Plan
	Pupils    []Variant
	Never     []Pair   // slips that no numbers tell apart in this arrangement: only working can
	NeverSeen []Hidden // slips that no numbers bring far enough from the right answer
	TooNarrow []Narrow // what these ranges can't do, and which of them to widen
	Examined  int      // sets of numbers
	Fit       int      // of them, those of the same kind, tidy, with every slip visible that can be
	judge     *judge
}

// A Variant is one pupil's question.
type Variant struct {
	Name        string
	Question    *question.Question // shared with an earlier pupil where Again is set; not to be changed
	Answers     *answer.Answers
	Numbers     []Number // what varies, in the order of the question's vary lines
	Shown       []string // the answers, by slot of the plan
	Certificate Certificate
	Again       bool // an earlier pupil has the same answers: the ranges give no more
	Near        bool // an answer of the pupil before is the same in some part
}

// A Number is a number that varies.
type Number struct{ Thing, Attribute, Text string }

// A Pair is two slips, by number among the plan's cases.
type Pair struct{ A, B int }

// A Hidden is a slip too near the right answer.
type Hidden struct {
	Case   int
	Margin float64 // the most that could be had, in marking tolerances
}

// A Narrow is something that the ranges are too narrow for.
type Narrow struct {
	Cases            []int  // the slip or the two slips concerned; none: it is about all pupils
	Thing, Attribute string // the number to widen or to let vary; "" if none alone would do
	Words            string
}

// Choose chooses numbers for pupils by name, in class order. The question's vary lines say what may vary.
func Choose(q *question.Question, seed string, pupils []string, o Options) (res *Result, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			res, err = nil, fmt.Errorf("choosing numbers: the program has a fault (%v); please report this question", fault)
		}
	}()
	if len(q.Vary) == 0 {
		return nil, fmt.Errorf("choosing numbers for %q: the question has no vary line; add one for each number that may differ, such as: vary K.weight 480 N to 620 N step 20 N", q.Title)
	}
	j, err := newJudge(q, seed, o)
	if err != nil {
		return nil, err
	}
	return j.choose(pupils), nil
}

// Numbered names n pupils "1", "2", …
func Numbered(n int) []string {
	names := make([]string, n)
	for i := range names {
		names[i] = strconv.Itoa(i + 1)
	}
	return names
}
