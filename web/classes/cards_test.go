package classes_test

import (
	"strings"
	"testing"

	"steelyard/web/webtest"
)

// Hint cards of a set are one file: a ladder for every part of every question, on A4, on Letter and in large print, for the
// class with the question's own numbers and a word about that, for one pupil with that pupil's.
func TestHintCardsOfASet(t *testing.T) {
	site := webtest.New(t)
	s := draft(t, site, "lock-footbridge", "tea-tins")
	at := "/sets/" + s.ID
	site.Teacher.Get(at + "/hint-cards.pdf").Want(409).Has("The set has not been given out yet")
	p := site.Teacher.Get(at).Submit("Give it out", nil).Want(200).Has("Hint cards")
	file := p.Follow("Hint cards").Want(200)
	said := func(p *webtest.Page) string { return strings.Join(strings.Fields(textOf(t, []byte(p.Body))), " ") }
	cards := said(file)
	for _, want := range []string{"Question 1: Lock footbridge", "Question 2: ", "1 (a) hint 1", "1 (e) hint 7", "2 (a) hint 1", "2 (c) hint 7", "not yours"} {
		if !strings.Contains(cards, want) {
			t.Errorf("no card says %q:\n%.3000s", want, cards)
		}
	}
	letter, large := site.Teacher.Get(at+"/hint-cards.pdf?paper=letter").Want(200), site.Teacher.Get(at+"/hint-cards.pdf?print=large").Want(200)
	if said(letter) == "" || letter.Body == file.Body {
		t.Error("Letter is A4")
	}
	if a, b := strings.Count(said(large), " hint "), strings.Count(cards, " hint "); a != b || large.Body == file.Body {
		t.Errorf("large print has %d cards, not %d", a, b)
	}
	own := said(site.Teacher.Get(at + "/hint-cards.pdf?pupil=" + site.Members[0].ID).Want(200))
	if strings.Contains(own, "not yours") || !strings.Contains(own, "1 (e) hint 7") {
		t.Errorf("a pupil's own cards say:\n%.3000s", own)
	}
	site.Pupils[0].Get(at + "/hint-cards.pdf").Want(404) // as of any page that is not theirs
}
