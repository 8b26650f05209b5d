package mark

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// An entry is one part of one pupil of the corpus, with what a person judged.
type entry struct {
	where  string
	hand   Hand
	marks  int
	slips  []string // any of them; empty: not judged
	none   bool     // no slip is to be suspected
	ask    bool
	mayAsk bool
}

// readCorpus reads a file of the corpus; its form is said in testdata/corpus/README.md.
func readCorpus(t *testing.T, file string) (question string, pupils [][]entry) {
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	pupil := ""
	for n, line := range strings.Split(string(text), "\n") {
		where := fmt.Sprintf("%s:%d", filepath.Base(file), n+1)
		switch {
		case strings.TrimSpace(line) == "" || strings.HasPrefix(line, "#"):
		case strings.HasPrefix(line, "question "):
			question = strings.TrimPrefix(line, "question ")
		case strings.HasPrefix(line, "pupil "):
			pupil = strings.Fields(line)[1]
			pupils = append(pupils, nil)
		case strings.HasPrefix(line, "    "):
			e := &pupils[len(pupils)-1][len(pupils[len(pupils)-1])-1]
			e.hand.Working += line[4:] + "\n"
		default:
			f := strings.Split(line, "|")
			if len(f) < 4 {
				t.Fatalf("%s: part | answer | marks | slip | ask is expected, not %q", where, line)
			}
			for i := range f {
				f[i] = strings.TrimSpace(f[i])
			}
			e := entry{where: where, hand: Hand{Pupil: pupil, Part: f[0], Answer: f[1]}}
			if e.marks, err = strconv.Atoi(f[2]); err != nil {
				t.Fatalf("%s: %v", where, err)
			}
			switch f[3] {
			case "-":
				e.none = true
			default:
				e.slips = strings.Split(f[3], "/")
				if slices.Contains(e.slips, "?") {
					e.slips = nil
				}
			}
			if len(f) > 4 {
				e.ask, e.mayAsk = f[4] == "ask", f[4] != ""
			}
			pupils[len(pupils)-1] = append(pupils[len(pupils)-1], e)
		}
	}
	return question, pupils
}

// The marker agrees with a person on the corpus. Full marks for what a person would not give them for, and valid
// physics refused, are never let pass; the rest is counted.
func TestCorpus(t *testing.T) {
	files, _ := filepath.Glob("testdata/corpus/*.txt")
	var all, agree, slips, named, asks, asked, over, refused int
	for _, file := range files {
		name, pupils := readCorpus(t, file)
		k := keyOf(t, name, Policy{})
		for _, pupil := range pupils {
			hands := make([]Hand, len(pupil))
			for i := range pupil {
				hands[i] = pupil[i].hand
			}
			for i, p := range k.Mark(hands) {
				e := pupil[i]
				all++
				say := func(what string) {
					t.Logf("%s: (%s) %q: %s: %d of %d, by hand %d\n\t%s\n\tlines: %s\n\tslips: %s", e.where, p.Part, e.hand.Answer, what, p.Marks, p.Of, e.marks,
						strings.Join(p.Why, "\n\t"), lines(p.Lines), suspects(p.Slips))
				}
				switch {
				case p.Marks == e.marks:
					agree++
				case p.Marks == p.Of && !p.AskTeacher:
					over++
					t.Errorf("%s: wrong full marks", e.where)
					say("too much")
				case e.marks == p.Of && !p.AskTeacher:
					refused++
					t.Errorf("%s: valid physics refused", e.where)
					say("too little")
				default:
					say("marks differ")
				}
				if e.slips != nil {
					slips++
					if found(&p, e.slips) {
						named++
					} else {
						say("want " + strings.Join(e.slips, "/"))
					}
				} else if e.none {
					slips++
					if len(p.Slips) == 0 || p.Slips[0].Probability < Enough || p.Slips[0].Name == NoSlip || p.Slips[0].Name == Other {
						named++
					} else {
						say("no slip is to be suspected")
					}
				}
				if e.ask || !e.mayAsk {
					asks++
					if e.ask == p.AskTeacher {
						asked++
					} else {
						say(fmt.Sprintf("asks %v, by hand %v", p.AskTeacher, e.ask))
					}
				}
			}
		}
	}
	t.Logf("%d pieces of work on %d questions: marks agree in %d (%.1f %%), slip in %d of %d, asking in %d of %d; %d with wrong full marks, %d with valid physics refused",
		all, len(files), agree, 100*float64(agree)/float64(all), named, slips, asked, asks, over, refused)
	if all < 250 || len(files) < 15 {
		t.Errorf("the corpus has only %d pieces of work on %d questions", all, len(files))
	}
	if float64(agree) < 0.95*float64(all) {
		t.Errorf("marks agree in %d of %d only", agree, all)
	}
}

// found reports whether one of the slips leads the suspicion or stands on a line.
func found(p *Part, names []string) bool {
	for _, n := range names {
		for i, s := range p.Slips {
			if i < 2 && s.Name == n {
				return true
			}
		}
		for i := range p.Lines {
			if slices.Contains(strings.Split(p.Lines[i].Slip, " + "), n) {
				return true
			}
		}
	}
	return false
}

func lines(list []Judged) string {
	var b strings.Builder
	for _, j := range list {
		fmt.Fprintf(&b, "[%s: %s, %s %s %s]", j.Line.Text, j.Verdict, j.Means, j.Slip, j.Off)
	}
	return b.String()
}

func suspects(list []Suspect) string {
	var b strings.Builder
	for _, s := range list {
		fmt.Fprintf(&b, "%s %.2f; ", s.Name, s.Probability)
	}
	return b.String()
}
