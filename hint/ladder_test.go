package hint

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"unicode"

	"steelyard/bank/banktest"
	"steelyard/formula"
	"steelyard/mark"
	"steelyard/question"
	"steelyard/slip"
	"steelyard/solution"
)

func keys(t *testing.T) map[string]*mark.Key {
	t.Helper()
	all := map[string]*mark.Key{}
	for _, f := range banktest.All(t) {
		k, err := mark.NewKey(f.Question, mark.Policy{})
		if err != nil {
			t.Fatal(err)
		}
		all[f.Name] = k
	}
	return all
}

// text is a rung as it is read, its line included.
func text(h *solution.Hint) string {
	s := solution.SayText(h.Say)
	if h.Line != nil {
		s += "\n" + formula.Text(h.Line.Formula)
	}
	return s
}

// leaves lists the numbers and the symbols of a formula, as they are printed.
func leaves(n formula.Node) (numbers, symbols []string) {
	if n.Op == formula.Num {
		return []string{formula.Text(n)}, nil
	}
	if n.Op == formula.Sym {
		return nil, []string{formula.Text(n)}
	}
	for _, a := range n.Args {
		x, y := leaves(a)
		numbers, symbols = append(numbers, x...), append(symbols, y...)
	}
	return numbers, symbols
}

// holds says whether a text has a word or a number, whole.
func holds(s, word string) bool {
	for rest := s; ; {
		i := strings.Index(rest, word)
		if i < 0 {
			return false
		}
		before, after := rune(' '), rune(' ')
		if i > 0 {
			before = rune(rest[i-1])
		}
		if end := i + len(word); end < len(rest) {
			after = rune(rest[end])
		}
		if part := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) || r == '.' || r == '_' }; !part(before) && !part(after) {
			return true
		}
		rest = rest[i+1:]
	}
}

// asks are the questions of slips, which are another room's.
var asks = func() map[string]bool {
	list := map[string]bool{}
	for _, s := range slip.Catalogue() {
		list[s.Ask] = true
	}
	return list
}()

// sound holds a ladder against what every ladder promises.
func sound(ladder []solution.Hint) (faults []string) {
	fault := func(format string, args ...any) { faults = append(faults, fmt.Sprintf(format, args...)) }
	if len(ladder) < 7 {
		fault("has %d rungs, not seven", len(ladder))
	}
	seen := map[string]bool{}
	for i := range ladder {
		h := &ladder[i]
		words := solution.SayText(h.Say)
		switch {
		case h.Rung != i+1:
			fault("rung %d is numbered %d", i+1, h.Rung)
		case seen[words]:
			fault("rung %d is asked twice: %s", i+1, words)
		case !strings.HasSuffix(words, "?"):
			fault("rung %d is no question: %s", i+1, words)
		case !asks[words] && strings.Count(words, "?") != 1:
			fault("rung %d asks more than one thing: %s", i+1, words)
		}
		seen[words] = true
		if h.Line == nil {
			continue
		}
		numbers, symbols := leaves(h.Line.Formula)
		for k := range ladder[:i] {
			for _, term := range append(numbers, symbols...) {
				if ladder[k].Line != nil && !strings.ContainsAny(term, "0123456789") {
					continue // symbols are on the last rungs together
				}
				if len(term) > 1 && holds(text(&ladder[k]), term) {
					fault("rung %d has %q, which belongs to rung %d: %s", k+1, term, i+1, text(&ladder[k]))
				}
			}
		}
	}
	last := &ladder[len(ladder)-1]
	if last.Line != nil && !strings.Contains(formula.Text(last.Line.Formula), formula.Text(formula.Blank(""))) {
		fault("the last rung has no gap: %s", text(last))
	}
	if before := &ladder[len(ladder)-2]; before.Line != nil {
		if numbers, _ := leaves(before.Line.Formula); len(numbers) > 0 {
			fault("the last rung but one has numbers already: %s", text(before))
		}
	}
	return faults
}

// Over the whole bank rungs come in order, each is a question, none has a number or a term of a later one, and the
// last but one still leaves every number to be found.
func TestEveryLadderOfTheBankIsSound(t *testing.T) {
	n, out := 0, os.Getenv("STEELYARD_LADDERS") == "1"
	for name, k := range keys(t) {
		for i := range k.Question.Parts {
			p := &k.Question.Parts[i]
			ladder, err := Working(k, p.Name, "")
			if err != nil {
				t.Fatal(err)
			}
			n++
			for _, f := range sound(ladder) {
				t.Errorf("%s (%s): %s", name, p.Name, f)
			}
			shown := k.Answers.Results[i].Shown
			for _, h := range ladder {
				if strings.ContainsAny(shown, "0123456789") && holds(text(&h), shown) {
					t.Errorf("%s (%s): a rung gives the answer %s: %s", name, p.Name, shown, text(&h))
				}
			}
			if out {
				fmt.Println("##", name, p.Name, k.Solution.Parts[i].Asked)
				for _, h := range ladder {
					fmt.Println("  ", h.Rung, text(&h))
				}
			}
		}
	}
	t.Logf("%d ladders", n)
}

// Every ladder is about its own arrangement: no two parts of the bank have the same one, and each names things of its
// question.
func TestEveryLadderIsAboutItsOwnThings(t *testing.T) {
	whose := map[string]string{}
	for name, k := range keys(t) {
		for i := range k.Question.Parts {
			ladder, err := Working(k, k.Question.Parts[i].Name, "")
			if err != nil {
				t.Fatal(err)
			}
			at := name + " (" + k.Question.Parts[i].Name + ")"
			all, named := "", 0
			for j := range ladder {
				words := text(&ladder[j])
				all += words + "\n"
				if slices.ContainsFunc(called(k), func(thing string) bool { return holds(words, thing) }) {
					named++
				}
			}
			if other := whose[all]; other != "" {
				t.Errorf("%s has the ladder of %s:\n%s", at, other, all)
			}
			whose[all] = at
			if named < 4 {
				t.Errorf("%s: only %d rungs name anything of the question:\n%s", at, named, all)
			}
		}
	}
}

// called lists what a question's things are called.
func called(k *mark.Key) (list []string) {
	add := func(name, label string) {
		list = append(list, name)
		if label != "" {
			list = append(list, strings.TrimPrefix(label, "the "))
		}
	}
	for i := range k.Question.Bodies {
		b := &k.Question.Bodies[i]
		add(b.Name, b.Label)
		for j := range b.Pieces {
			add(b.Pieces[j].Name, b.Pieces[j].Label)
		}
	}
	for i := range k.Question.Supports {
		add(k.Question.Supports[i].Name, k.Question.Supports[i].Label)
	}
	for i := range k.Question.Loads {
		add(k.Question.Loads[i].Name, k.Question.Loads[i].Label)
	}
	return list
}

// A pupil who takes moments about another point is led on about that point, and is never told that it is wrong.
func TestALadderKeepsToThePupilsOwnPoint(t *testing.T) {
	n, questions := 0, map[string]bool{}
	for name, k := range keys(t) {
		for i := range k.Question.Parts {
			p := &k.Question.Parts[i]
			if p.Ask == question.AskForceOn || len(k.Solution.Parts[i].Routes) == 0 || k.Solution.Parts[i].Routes[0].Working == nil {
				continue
			}
			for _, about := range append(named(k), "left end", "right end") {
				body, at, called, err := solution.Point(k.Answers, about)
				if err != nil || math.IsNaN(at.X) {
					continue
				}
				route, err := solution.About(k.Answers, body, at, called)
				if err != nil {
					continue
				}
				line := written(&route)
				if line == "" {
					continue
				}
				typed := "Moments about " + about + ":\n" + line
				m := k.Mark([]mark.Hand{{Part: p.Name, Working: typed}})[0]
				said := m.Lines[len(m.Lines)-1]
				if said.Verdict != mark.Right || !strings.HasPrefix(said.Means, "moments about "+called) {
					continue
				}
				called, _, _ = strings.Cut(strings.TrimPrefix(said.Means, "moments about "), " for the ")
				ladder, err := Ladder(k, p.Name, &m)
				if err != nil {
					t.Fatal(err)
				}
				for _, f := range sound(ladder) {
					t.Errorf("%s (%s) about %s: %s", name, p.Name, about, f)
				}
				all := ""
				for j := range ladder {
					all += text(&ladder[j]) + "\n"
				}
				if f := strings.Fields(k.Answers.Results[i].Shown); len(f) > 1 && !strings.Contains(k.Question.String(), f[0]) && holds(all, f[0]+" "+f[1]) {
					t.Errorf("%s (%s) about %s: gives the answer:\n%s", name, p.Name, about, all)
				}
				if strings.Contains(strings.ToLower(all), "wrong") {
					t.Errorf("%s (%s) about %s: says that something is wrong:\n%s", name, p.Name, about, all)
				}
				if !strings.Contains(all, "begun with moments about "+called+".") {
					t.Errorf("%s (%s): the ladder leaves %s:\n%s\n%s", name, p.Name, about, typed, all)
				}
				if strings.Contains(all, "ake moments about "+called+".") {
					n++
					questions[name] = true
				}
			}
		}
	}
	t.Logf("%d ladders from own lines, in %d questions", n, len(questions))
	if len(questions) < 30 {
		t.Errorf("own lines were tried in %d questions only", len(questions))
	}
}

// named lists the supports of a question.
func named(k *mark.Key) (list []string) {
	for i := range k.Answers.Layout.Supports {
		list = append(list, k.Answers.Layout.Supports[i].Name)
	}
	return list
}

// written is the route's first equation as a pupil types it.
func written(r *solution.Route) string {
	for _, s := range r.Steps {
		if s.Kind == solution.Writing && len(s.Lines) > 0 {
			return strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(formula.Text(s.Lines[0].Formula))
		}
	}
	return ""
}

// A line that shows a slip brings the slip's own question first; the ladder then goes on.
func TestTheQuestionOfASlipComesFirst(t *testing.T) {
	k := keys(t)["lock-footbridge.moments"]
	plain, err := Working(k, "b", "Moments about Q")
	if err != nil {
		t.Fatal(err)
	}
	ladder, err := Working(k, "b", "Moments about Q:\n280*1.1 + 560*1.2 = 2.8 RP")
	if err != nil {
		t.Fatal(err)
	}
	if len(ladder) != len(plain)+1 || !strings.HasSuffix(text(&ladder[0]), "?") || text(&ladder[0]) == text(&plain[0]) {
		t.Errorf("the ladder begins with %q", text(&ladder[0]))
	}
	for _, f := range sound(ladder) {
		t.Error(f)
	}
}
