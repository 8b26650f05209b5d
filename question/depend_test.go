package question

import (
	"os/exec"
	"strings"
	"testing"
)

// question knows quantity and nothing else of ours.
func TestDependsOnQuantityOnly(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", ".").Output()
	if err != nil {
		t.Skipf("go list is not to be had: %v", err)
	}
	for pkg := range strings.FieldsSeq(string(out)) {
		if room, ours := strings.CutPrefix(pkg, "steelyard/"); ours && room != "question" && room != "quantity" {
			t.Errorf("question has come to depend on %s; pass it what it needs instead", room)
		}
	}
}
