package trial

import (
	"context"
	"io"
	"net/url"
	"strings"
	"testing"

	"steelyard/bank"
	"steelyard/trial"

	"steelyard/web/page"
)

func shelved(tb testing.TB, file string) (page.Question, *tried) {
	tb.Helper()
	text, err := bank.Files.ReadFile(file)
	if err != nil {
		tb.Fatal(err)
	}
	src := page.Question{Text: string(text), From: "bank/" + strings.TrimSuffix(file, ".moments")}
	k, err := new(shelf).find(src)
	if err != nil {
		tb.Fatal(err)
	}
	return src, k
}

// Every way of trying every question of the bank makes a page; what can't be done is said in a sentence.
func TestEveryQuestionOfTheBankHasItsPage(t *testing.T) {
	for _, file := range bank.Names() {
		src, k := shelved(t, file)
		asked := []url.Values{{}, {"point": {"middle"}, "second": {"0.1, 5"}}}
		for _, c := range trial.Changes(k.answers) {
			asked = append(asked, url.Values{"see": {"away"}, "do": {string(c.Deed) + "|" + c.Thing}, "shown": {"yes"}})
		}
		for i, x := range trial.Numbers(k.answers) {
			if i < 2 {
				asked = append(asked, url.Values{"see": {"vary"}, "number": {x.Thing + "." + x.Attribute}, "shown": {"yes"}})
			}
		}
		for _, q := range asked {
			s := sightOf(src, k, q)
			var b strings.Builder
			if err := body(s).Render(context.Background(), &b); err != nil {
				t.Errorf("%s %v: %v", file, q, err)
			}
			if strings.Contains(b.String(), "NaN") || s.Fault == "." {
				t.Errorf("%s %v: the page says NaN, or a fault without words", file, q)
			}
		}
	}
}

// Aim: the equation and the picture about any point in under 2 ms, with the page around them.
func BenchmarkAnyPoint(b *testing.B) {
	src, k := shelved(b, "lock-footbridge.moments")
	for b.Loop() {
		s := sightOf(src, k, url.Values{"point": {"~1.234, 0.456 on plank"}})
		if err := body(s).Render(context.Background(), io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}

// A step of a slider.
func BenchmarkStep(b *testing.B) {
	src, k := shelved(b, "lock-footbridge.moments")
	for b.Loop() {
		s := sightOf(src, k, url.Values{"see": {"vary"}, "number": {"K.at"}, "was": {"K.at"}, "value": {"3.1"}, "shown": {"yes"}})
		if err := body(s).Render(context.Background(), io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
