package show

import (
	"fmt"

	"steelyard/answer"
	"steelyard/question"
	"steelyard/solution"
)

// Explain makes the talk of a question from its notation. The error says what is not right with the question yet.
func Explain(text string) (*Talk, error) {
	q, err := question.Parse("", text)
	if err != nil {
		return nil, err
	}
	a, err := answer.Solve(q)
	if err != nil {
		return nil, err
	}
	s, err := solution.Solve(a)
	if err != nil {
		return nil, err
	}
	t, err := Make(a, s)
	if err == nil && len(t.Steps) == 0 {
		return nil, fmt.Errorf("the question asks for nothing that can be explained")
	}
	return t, err
}
