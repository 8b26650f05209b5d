package answer

import (
	"errors"

	"steelyard/question"
)

// fault is something that the question's writer can mend.
func fault(at question.Span, what, mend string) error {
	return question.Faults{{Span: at, What: what, Mend: mend}}
}

// named puts the question's file into the faults of an error.
func named(q *question.Question, err error) error {
	var faults question.Faults
	if err == nil || !errors.As(err, &faults) {
		return err
	}
	out := make(question.Faults, len(faults))
	for i, f := range faults {
		f.File = q.File
		out[i] = f
	}
	return out
}
