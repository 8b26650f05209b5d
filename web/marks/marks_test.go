package marks_test

import (
	"os"
	"strings"
	"testing"
	"time"

	"steelyard/account"
	"steelyard/bank"
	"steelyard/homework"
	"steelyard/store"
	"steelyard/web/webtest"
)

// A room is a site with a class of eight and a set of the bank's questions that they have been given.
type room struct {
	*webtest.Site
	class  homework.Class
	pupils []homework.Pupil
	set    homework.Set
}

// Names of pupils are invented. One begins as a formula does.
var names = []string{"Tamsel Overby", "Ilka Wendover", "Oduro Lint", "Brannoc Ferrow", "Wenna Quillan", "Jorun Maddern", "Pell Toft", "=Sabra Wick"}

// open starts the site, with a marker at work.
func open(t testing.TB, questions ...string) *room {
	t.Helper()
	s := &room{Site: webtest.New(t)}
	s.class, s.pupils, _ = s.AddClass(s.Head, "11b", names...)
	s.set = s.give(t, "Planks and sills", questions...)
	s.Mark()
	return s
}

func (s *room) by() store.By {
	return store.By{Role: account.Head, Who: s.Head.ID, At: s.Clock.Now()}
}

// give gives a set of the bank's questions out, with the same numbers for all.
func (s *room) give(t testing.TB, title string, questions ...string) homework.Set {
	t.Helper()
	h := homework.Set{ID: store.NewID(), Class: s.class.ID, Title: title, Seed: "a1", Closes: s.Clock.Now().Add(48 * time.Hour), Show: homework.UsualShow(false)}
	for _, q := range questions {
		text, err := bank.Files.ReadFile(q + ".moments")
		must(t, err)
		h.Items = append(h.Items, homework.Item{Question: "bank:" + q, Text: string(text)})
	}
	must(t, s.Store.AddSet(t.Context(), s.by(), h))
	must(t, s.Store.Give(t.Context(), s.by(), h.ID, nil))
	h, err := s.Store.Set(t.Context(), h.ID)
	must(t, err)
	return h
}

// handIn hands in for a pupil, as their page does.
func (s *room) handIn(t testing.TB, pupil int, answers ...homework.Answer) homework.HandIn {
	t.Helper()
	p := s.pupils[pupil]
	h, err := s.Store.HandIn(t.Context(), store.By{Role: account.PupilOf, Who: p.ID, At: s.Clock.Now()},
		homework.HandIn{Set: s.set.ID, Pupil: p.ID, Key: store.NewID(), Receipt: "R", At: s.Clock.Now(), Answers: answers})
	must(t, err)
	select {
	case s.Desk.HandedIn <- struct{}{}:
	default:
	}
	return h
}

// marked waits until the marker has come to everything.
func (s *room) marked(t testing.TB) {
	t.Helper()
	for range 1000 {
		list, err := s.Store.Unmarked(t.Context(), 1)
		must(t, err)
		if len(list) == 0 {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatal("the marker has not come to everything in ten seconds")
}

func (s *room) path(rest string) string { return "/sets/" + s.set.ID + rest }

// corpus are the answers of the marker's corpus to a question of the bank, by pupil.
func corpus(t testing.TB, question string, item int) (list [][]homework.Answer) {
	t.Helper()
	text, err := os.ReadFile("../../mark/testdata/corpus/" + question + ".txt")
	must(t, err)
	for line := range strings.Lines(string(text)) {
		line = strings.TrimRight(line, "\n")
		switch {
		case strings.HasPrefix(line, "pupil "):
			list = append(list, nil)
		case len(list) > 0 && strings.HasPrefix(line, " "):
			hand := list[len(list)-1]
			a := &hand[len(hand)-1]
			a.Working = strings.TrimPrefix(a.Working+"\n"+strings.TrimSpace(line), "\n")
		case len(list) > 0 && strings.Contains(line, "|"):
			f := strings.Split(line, "|")
			list[len(list)-1] = append(list[len(list)-1], homework.Answer{Item: item, Part: strings.TrimSpace(f[0]), Answer: strings.TrimSpace(f[1])})
		}
	}
	return list
}

// doubtful is work of lock-footbridge about which the marker asks: a right answer under a wrong line.
func doubtful(answer string) homework.Answer {
	return homework.Answer{Item: 0, Part: "b", Answer: answer, Working: "P x 2.8 = 560 x 2.3"}
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}
