package slip

import (
	"testing"

	"steelyard/bank"
	"steelyard/question"
)

// files are the question files that laws are tested on.
func files(t testing.TB) map[string]*question.Question {
	t.Helper()
	out := map[string]*question.Question{}
	for _, name := range bank.Names() {
		text, err := bank.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		q, err := question.Parse(name, string(text))
		if err != nil {
			t.Fatal(err)
		}
		out[name] = q
	}
	return out
}

// names lists them in order.
func names() []string { return bank.Names() }
