package sheet

import (
	"fmt"
	"strings"
	"testing"

	"steelyard/font"
	"steelyard/pdf/uacheck"
)

func TestKeyIsOnOnePage(t *testing.T) {
	for _, n := range []int{1, 30, 60} {
		key := Key{Note: "Everyone's answers.", Columns: []string{"(a) N", "(b) N", "(c) m"}}
		for i := range n {
			key.Rows = append(key.Rows, KeyRow{fmt.Sprintf("Pupil %02d", i+1), []string{"480", fmt.Sprint(300 + i), "4.05"}})
		}
		pages := map[int]int{} // names on each page
		o := Options{onText: func(page int, x, y, size float64, face *font.Face, text string) {
			if strings.HasPrefix(text, "Pupil 0") || strings.HasPrefix(text, "Pupil 1") || strings.HasPrefix(text, "Pupil 2") ||
				strings.HasPrefix(text, "Pupil 3") || strings.HasPrefix(text, "Pupil 4") || strings.HasPrefix(text, "Pupil 5") || strings.HasPrefix(text, "Pupil 6") {
				pages[page]++
				if size < smallestKey {
					t.Errorf("%d pupils: text of %g points", n, size)
				}
			}
		}}
		file, err := SchemeWithKey(Set{Title: "Own numbers", Items: []Item{footbridge()}}, key, o)
		if err != nil {
			t.Fatal(err)
		}
		if len(pages) != 1 || pages[1] != n {
			t.Errorf("%d pupils: names on pages %v, want all on the first", n, pages)
		}
		for _, fault := range uacheck.Check(file) {
			t.Errorf("%d pupils: %v", n, fault)
		}
	}
}

func TestKeyRefusesRaggedRows(t *testing.T) {
	_, err := SchemeWithKey(Set{Title: "Own numbers", Items: []Item{footbridge()}}, Key{Columns: []string{"a"}, Rows: []KeyRow{{"A", nil}}}, Options{})
	if err == nil || !strings.Contains(err.Error(), "A has 0 answers") {
		t.Errorf("got %v", err)
	}
}

// A pupil's name stands on the line for it, cut where it is too long for it.
func TestPupilsNameIsOnTheSheet(t *testing.T) {
	for name, want := range map[string]string{"Ilse Hart": "Ilse Hart", strings.Repeat("Longname ", 12): "…"} {
		for _, size := range []float64{11, 24} {
			found := false
			o := Options{Size: size, onText: func(page int, x, y, size float64, face *font.Face, text string) {
				found = found || page == 1 && strings.HasSuffix(text, want) && (want != "…" || strings.HasPrefix(text, "Longname"))
			}}
			if _, err := Questions(Set{Title: "Own numbers", Pupil: name, Items: []Item{footbridge()}}, o); err != nil {
				t.Fatal(err)
			}
			if !found {
				t.Errorf("%q at %g points: the name is not on the first page", name, size)
			}
		}
	}
}
