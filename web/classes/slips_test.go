package classes

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"steelyard/homework"
	"steelyard/pdf/uacheck"
)

// Slips are a tagged file: each has the pupil's name as its heading, and cutting lines are no part of the text.
func TestSlipsAreTagged(t *testing.T) {
	var made []newCode
	for i := range 9 {
		made = append(made, newCode{homework.Pupil{Name: fmt.Sprintf("Pupil <%d> “Ø”", i)}, "4F7K-29QR"})
	}
	made = append(made, newCode{homework.Pupil{Name: strings.Repeat("Very Long ", 12), Access: homework.Access{TextSize: 18}}, "4F7K-29QR"})
	file, err := slips(homework.Class{Name: "12B", Code: "K7M2QD"}, "https://physics.harbour.example", made)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range uacheck.Check(file) {
		t.Error(f)
	}
	again, _ := slips(homework.Class{Name: "12B", Code: "K7M2QD"}, "https://physics.harbour.example", made)
	if string(again) != string(file) {
		t.Error("the same slips are other bytes")
	}
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not installed")
	}
	path := filepath.Join(t.TempDir(), "slips.pdf")
	if err := os.WriteFile(path, file, 0o600); err != nil {
		t.Fatal(err)
	}
	text, err := exec.Command("pdftotext", path, "-").Output()
	if err != nil || strings.Count(string(text), "physics.harbour.example") != 10 || strings.Contains(string(text), "https") || strings.Count(string(text), "\f") != 3 {
		t.Errorf("the slips say %v:\n%s", err, text)
	}
}
