package steelyard

import (
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

// The rooms of pages stand side by side: each knows page, and those to the left of web; web puts them together.
const besidePages = "steelyard/web/page"

func TestArrowsGoOneWay(t *testing.T) {
	out, err := exec.Command("go", "list", "-f", "{{.ImportPath}} {{join .Imports \" \"}}", "./...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	for line := range strings.Lines(string(out)) {
		imports := strings.Fields(line)
		room, ours := strings.CutPrefix(imports[0], "steelyard/")
		top, _, nested := strings.Cut(room, "/")
		switch allowed, known := knows[room]; {
		case !ours || top == "cmd" || room == "web" || room == "web/webtest" || nested && strings.HasSuffix(room, "test"):
			continue
		case top == "web":
			sidesteps(t, room, imports[1:])
		case !known && !nested:
			t.Errorf("%s is a new room; say in this table what it may know, and in docs/how-it-works.md what it is for", room)
		case known:
			onlyKnows(t, room, allowed, imports[1:])
		}
	}
}

func onlyKnows(t *testing.T, room, allowed string, imports []string) {
	for _, pkg := range imports {
		other, ours := strings.CutPrefix(pkg, "steelyard/")
		if ours && !strings.Contains(" "+allowed+" ", " "+other+" ") {
			t.Errorf("%s has come to depend on %s; pass it what it needs instead, or change the map in docs/how-it-works.md", room, other)
		}
	}
}

func sidesteps(t *testing.T, room string, imports []string) {
	for _, pkg := range imports {
		if strings.HasPrefix(pkg, "steelyard/web/") && pkg != besidePages || pkg == "steelyard/web" {
			t.Errorf("%s has come to depend on %s; what both need belongs in page or to the left of web", room, pkg)
		}
	}
}
