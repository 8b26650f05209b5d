package slip

import (
	"testing"

	"steelyard/bank"
	"steelyard/bank/banktest"
	"steelyard/question"
)

// files are the question files that laws are tested on.
func files(t testing.TB) map[string]*question.Question {
	t.Helper()
	out := map[string]*question.Question{}
	for _, f := range banktest.All(t) {
		out[f.Name] = f.Question
	}
	return out
}

// names lists them in order.
func names() []string { return bank.Names() }
