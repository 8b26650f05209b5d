package homework

import (
	"bytes"
	"testing"

	"steelyard/bank/banktest"
	"steelyard/pdf/uacheck"
	"steelyard/sheet"
)

// Paper from a set is whole: a sheet for each pupil in the class with their numbers and their size of print, a scheme
// with everyone's answers, solutions.
func TestPaperFromASet(t *testing.T) {
	s := spring(Item{Text: banktest.Text(t, "lock-footbridge"), Own: true}, Item{Text: footbridge}, Item{Text: banktest.Text(t, "board-tips"), Own: true})
	list := pupils(4)
	list[1].Access = Access{TextSize: 18, Description: true}
	list[3].Left = at(4, 8)
	numbers, _, err := Choose(s, list, nil)
	if err != nil {
		t.Fatal(err)
	}
	sheets, err := Sheets(s, list, numbers, sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	scheme, err := SchemeSheet(s, list, numbers, sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	empty, err := SchemeSheet(s, nil, nil, sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	solutions, err := SolutionSheet(s, list[0], numbers, sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for name, file := range map[string][]byte{"sheets": sheets, "scheme": scheme, "scheme without a class": empty, "solutions": solutions} {
		if !bytes.HasPrefix(file, []byte("%PDF")) {
			t.Errorf("%s is no PDF", name)
		}
		for _, fault := range uacheck.Check(file) {
			t.Errorf("%s: %s", name, fault)
		}
	}
	if again, _ := Sheets(s, list, numbers, sheet.Options{}); !bytes.Equal(sheets, again) {
		t.Error("the same set makes other bytes")
	}
	if _, err := Sheets(s, nil, nil, sheet.Options{}); err == nil {
		t.Error("sheets for nobody were printed")
	}
	if got := s.FileName("sheets.pdf"); got != "spring-sheets.pdf" {
		t.Error(got)
	}
	if got := (&Set{Title: "Brücke?! 7/8"}).FileName("x.pdf"); got != "br-cke-7-8-x.pdf" {
		t.Error(got)
	}
}
