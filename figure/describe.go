package figure

import (
	"steelyard/answer"
)

func describe(l *answer.Layout, o Options) (title, text string) { return l.Question.Title, "" }
