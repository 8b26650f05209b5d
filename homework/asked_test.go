package homework

import (
	"strings"
	"testing"

	"steelyard/bank"
	"steelyard/bank/banktest"
)

// Every question of the bank can be shown: its wording, its picture in words too, its parts without their answers.
func TestEveryQuestionCanBeShown(t *testing.T) {
	for _, name := range bank.Names() {
		a, err := Ask(banktest.Text(t, name))
		if err != nil {
			t.Error(name, err)
			continue
		}
		svg := a.SVG(360, 12, false, "q1")
		if !strings.HasPrefix(svg, "<svg") || strings.Contains(svg, " style=") || strings.Contains(svg, "<script") {
			t.Errorf("%s: the picture is no element that a page may hold: %.80s", name, svg)
		}
		if a.Title == "" || len(a.Wording) == 0 || len(a.Parts) == 0 || a.Marks() == 0 || a.PictureTitle == "" || a.PictureText == "" || len(a.Given) == 0 {
			t.Errorf("%s: something is missing", name)
		}
		it, err := a.Item()
		if err != nil || len(it.Parts) != len(a.Parts) || it.Solution == nil {
			t.Errorf("%s can't be printed: %v", name, err)
		}
		for _, b := range a.Parts {
			if h, err := a.Hints(b.Name); err != nil || len(h) == 0 {
				t.Errorf("%s, part %s: no hints (%v)", name, b.Name, err)
			}
		}
	}
	if _, err := Ask("question \"x\"\nbody"); err == nil {
		t.Error("half a question can be shown")
	}
	if _, err := Ask(strings.Repeat("#\n", MostText)); err == nil {
		t.Error("a question of any length is read")
	}
}

// A page of six questions: each made ready, with its picture, and each found ready.
func BenchmarkPageOfSix(b *testing.B) {
	var texts []string
	for _, name := range []string{"lock-footbridge", "mooring-plank", "choir-riser", "board-tips", "boat-hoist", "book-shelf"} {
		texts = append(texts, banktest.Text(b, name))
	}
	page := func(b *testing.B, m *Marker) {
		for _, text := range texts {
			a, err := m.Ask(text)
			if err != nil {
				b.Fatal(err)
			}
			a.SVG(360, 12, false, "q")
		}
	}
	b.Run("for the first time", func(b *testing.B) {
		for b.Loop() {
			page(b, NewMarker())
		}
	})
	b.Run("again", func(b *testing.B) {
		m := NewMarker()
		for b.Loop() {
			page(b, m)
		}
	})
}
