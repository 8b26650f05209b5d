package trial

import (
	"context"
	"io"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/net/html"

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

// faulty are texts that no sentence has: a number that is none, a name or a direction that is missing.
var faulty = []*regexp.Regexp{
	regexp.MustCompile(`NaN|Inf\b|%!|undefined|\+−|\+-|−−|--`),
	regexp.MustCompile(`(^|[\s(])[-−]0(\.0*)?([^.\d]|$)`),
	regexp.MustCompile(`\d\.\d{6}|\d{8}|× 10|\b[A-Z]_`),
	regexp.MustCompile(`\b(at|of|about|to|and|the) *[.,;:]( |$)`),
	regexp.MustCompile(`\b(the the|a a|at at|of of|is is|and and|to to)\b`),
	regexp.MustCompile(` [.,;]|\.\.|  +\.|\(\)|""|“”`),
}

// sentences are the texts of a page that are read as such: without the working, whose notation has rules of its own.
func sentences(t *testing.T, page string) (list []string) {
	t.Helper()
	root, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	var text func(n *html.Node) string
	text = func(n *html.Node) string {
		if n.Type == html.TextNode {
			return n.Data
		}
		all := ""
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			all += text(c)
		}
		return all
	}
	var walk func(n *html.Node)
	walk = func(n *html.Node) {
		switch n.Data {
		case "p", "li", "h2", "h3", "title", "desc", "td", "th", "caption", "label", "option", "figcaption", "button":
			list = append(list, strings.Join(strings.Fields(text(n)), " "))
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c)
		}
	}
	walk(root)
	return list
}

// Every way of trying every question of the bank makes a page: moments about every named point and two points, each thing
// taken away or made smooth, each number at its ends and in between. No sentence on any of them is broken.
func TestEveryQuestionOfTheBankHasItsPage(t *testing.T) {
	pages := 0
	for _, file := range bank.Names() {
		src, k := shelved(t, file)
		asked := []url.Values{{}, {"point": {"middle"}, "second": {"0.1, 5"}}, {"see": {"away"}}, {"see": {"vary"}}}
		for _, p := range trial.Places(k.answers) {
			asked = append(asked, url.Values{"point": {p.Key}})
		}
		for _, c := range trial.Changes(k.answers) {
			do := doing(&c)
			asked = append(asked, url.Values{"see": {"away"}, "do": {do}}, url.Values{"see": {"away"}, "do": {do}, "shown": {"yes"}, "cw": {"3"}})
		}
		for _, x := range trial.Numbers(k.answers) {
			name := x.Thing + "." + x.Attribute
			for _, v := range []float64{x.Low, x.Now, x.High, x.Low + 0.73*(x.High-x.Low)} {
				s := sight{Number: x}
				asked = append(asked, url.Values{"see": {"vary"}, "number": {name}, "was": {name}, "value": {s.inUnit(v)}, "shown": {"yes"}, "guess": {s.inUnit(x.High)}})
			}
		}
		for _, q := range asked {
			pages++
			s := sightOf(src, k, q)
			var b strings.Builder
			if err := body(s).Render(context.Background(), &b); err != nil {
				t.Errorf("%s %v: %v", file, q, err)
			}
			if strings.Contains(b.String(), "NaN") {
				t.Errorf("%s %v: the page says NaN", file, q)
			}
			for _, text := range sentences(t, b.String()) {
				for _, f := range faulty {
					if bad := f.FindString(text); bad != "" {
						t.Errorf("%s %v: %q in %q", file, q, bad, text)
					}
				}
			}
		}
	}
	t.Logf("%d pages", pages)
	if pages < 1000 {
		t.Errorf("only %d pages were made", pages)
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
