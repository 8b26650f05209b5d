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
	"steelyard/bank/banktest"
	"steelyard/trial"

	"steelyard/web/page"
)

func shelved(tb testing.TB, file string) (page.Question, *tried) {
	tb.Helper()
	src := page.Question{Text: banktest.Text(tb, file), From: "bank/" + strings.TrimSuffix(file, ".moments")}
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

// everyWay tries a question in every way: moments about every named point and two points, each thing taken away or made
// smooth, each number at its ends and in between. No sentence on any of the pages may be broken. It counts the pages.
func everyWay(t *testing.T, name string, src page.Question, k *tried) (pages int) {
	t.Helper()
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
			t.Errorf("%s %v: %v", name, q, err)
		}
		if strings.Contains(b.String(), "NaN") {
			t.Errorf("%s %v: the page says NaN", name, q)
		}
		for _, text := range sentences(t, b.String()) {
			for _, f := range faulty {
				if bad := f.FindString(text); bad != "" {
					t.Errorf("%s %v: %q in %q", name, q, bad, text)
				}
			}
		}
	}
	return pages
}

// Every way of trying every question of the bank makes a page.
func TestEveryQuestionOfTheBankHasItsPage(t *testing.T) {
	pages := 0
	for _, file := range bank.Names() {
		src, k := shelved(t, file)
		pages += everyWay(t, file, src, k)
	}
	t.Logf("%d pages", pages)
	if pages < 1000 {
		t.Errorf("only %d pages were made", pages)
	}
}

// odd are arrangements that a teacher may well write, and that the bank has none of.
var odd = map[string]string{
	"load beyond support": `body plank: uniform, length 5.00 m, weight 200 N
support P: rest, on plank at 1.00 m
support Q: rest, on plank at 3.50 m
load K: weight 400 N, on plank at 4.00 m`,
	"uplift with strap": `body board: uniform, length 3.00 m, weight 120 N
support S: strap, on board at 0.20 m
support R: rest, on board at 1.20 m
load K: weight 500 N, on board at 2.80 m`,
	"rest above": `body board: uniform, length 3.00 m, weight 120 N
support S: rest, above, on board at 0.20 m
support R: rest, on board at 1.20 m
load K: weight 500 N, on board at 2.80 m`,
	"cable to wall": `body boom: uniform, length 3.00 m, weight 200 N, angle 30 deg
support H: hinge, on boom at foot
cable T: on boom at top, pulls 10 deg above left
load K: weight 300 N, hung from boom at 2.50 m`,
	"two body ladder": `body left: uniform, length 3.00 m, weight 80 N, angle 70 deg
body right: uniform, length 3.00 m, weight 40 N, angle 110 deg
support A: floor, on left at foot, coefficient 0.6
support B: floor, on right at foot, coefficient 0.6
support H: hinge, on left at top, by right at top
load K: weight 600 N, on left at 2.00 m`,
	"three supports": `body bench: uniform, length 4.00 m, weight 200 N
support P: rest, on bench at 0 m
support Q: rest, on bench at 2.00 m
support R: rest, on bench at 4.00 m
load K: weight 300 N, on bench at 1.00 m`,
	"cables": `body bar: uniform, length 2.00 m, weight 100 N
cable A: on bar at left end, pulls 60 deg above left
cable B: on bar at right end, pulls 60 deg above right`,
	"ladder rough wall": `body ladder: uniform, length 4.00 m, weight 150 N, angle 60 deg
support F: floor, on ladder at foot, coefficient 0.5
support W: wall, on ladder at top, coefficient 0.3
load K: weight 200 N, on ladder at 1.00 m`,
	"couple": `body bar: uniform, length 2.00 m, weight 60 N
support P: rest, on bar at 0.20 m
support Q: rest, on bar at 1.80 m
couple C: 20 N m clockwise, on bar at 1.00 m`,
	"spread": `body deck: uniform, length 4.00 m, weight 300 N
support P: hinge, on deck at left end
support Q: rest, on deck at 3.00 m
load S: 120 N/m, on deck from 2.00 m to 4.00 m`,
	"pushed up": `body bar: uniform, length 2.00 m, weight 60 N
support P: rest, on bar at 0.50 m
support Q: rest, on bar at 1.50 m
force E: 20 N up, on bar at 1.90 m`,
	"strut shelf": `body shelf: uniform, length 1.20 m, weight 50 N
support H: hinge, on shelf at left end
strut S: on shelf at 0.80 m, pushes 45 deg above right
load K: weight 80 N, on shelf at right end`,
	"block tipping": `body box: block 0.40 m by 1.00 m, uniform, weight 200 N
support F: floor, on box, rough
force E: 30 N right, on box at (0 m, 0.90 m)`,
	"slope angle": `body box: block 0.40 m by 1.20 m, uniform, weight 200 N
support F: slope 15 deg, on box, coefficient 0.6`,
}

func TestOddQuestionsHaveTheirPages(t *testing.T) {
	for name, text := range odd {
		src := page.Question{Text: "question \"" + name + "\"\n" + text, From: "own/odd"}
		k, err := new(shelf).find(src)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		everyWay(t, name, src, k)
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
