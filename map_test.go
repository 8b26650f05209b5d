package steelyard

import (
	"os"
	"os/exec"
	"strings"
	"testing"
)

// knows says which of our rooms each room may import. Arrows go one way: whoever needs more from
// a room on the left passes it what it needs.
var knows = map[string]string{
	"quantity":  "",
	"statics":   "",
	"formula":   "",
	"font":      "",
	"pdf":       "font",
	"draw":      "font pdf",
	"question":  "quantity",
	"answer":    "quantity statics question",
	"solution":  "quantity statics question answer formula",
	"figure":    "quantity statics question answer draw font",
	"sheet":     "quantity statics question answer formula solution draw font pdf figure",
	"office":    "",
	"slides":    "quantity statics question answer formula solution draw font pdf figure sheet show office",
	"bank":      "",
	"variant":   "quantity statics question answer formula solution slip",
	"slip":      "quantity statics question answer formula solution",
	"review":    "quantity statics question answer formula solution slip variant",
	"class":     "quantity question slip script mark",
	"script":    "quantity formula",
	"chart":     "draw font",
	"mark":      "quantity statics question answer formula solution slip variant script",
	"hint":      "quantity statics question answer formula solution slip variant script mark",
	"account":   "",
	"homework":  "bank quantity statics question answer formula solution slip variant script mark class draw font figure sheet",
	"report":    "quantity statics question answer formula solution slip variant script mark class chart draw font figure sheet homework",
	"roster":    "class homework",
	"store":     "account homework",
	"demo":      "quantity statics question answer formula solution slip variant script mark class homework account store bank",
	"trial":     "quantity statics question answer formula solution draw font figure chart",
	"show":      "quantity statics question answer formula solution draw font figure",
	"film":      "formula draw font figure sheet show",
	"workbench": "quantity statics question answer formula solution slip variant review draw font figure bank",
}

func TestArrowsGoOneWay(t *testing.T) {
	for room, allowed := range knows {
		if _, err := os.Stat(room); err != nil {
			continue
		}
		out, err := exec.Command("go", "list", "-f", "{{join .Imports \" \"}}", "./"+room).Output()
		if err != nil {
			t.Fatalf("go list ./%s: %v", room, err)
		}
		for _, pkg := range strings.Fields(string(out)) {
			other, ours := strings.CutPrefix(pkg, "steelyard/")
			if ours && !strings.Contains(" "+allowed+" ", " "+other+" ") {
				t.Errorf("%s has come to depend on %s; pass it what it needs instead, or change the map in docs/how-it-works.md", room, other)
			}
		}
	}
}
