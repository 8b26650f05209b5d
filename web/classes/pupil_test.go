package classes_test

import (
	"archive/zip"
	"bytes"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"steelyard/homework"
	"steelyard/store"
	"steelyard/web/webtest"
)

func storeBy(site *webtest.Site) store.By {
	return store.By{Role: site.Head.Role, Who: site.Head.ID, At: site.Clock.Now()}
}

// textOf is what a PDF says, by the poppler tools.
func textOf(t *testing.T, file []byte) string {
	t.Helper()
	if _, err := exec.LookPath("pdftotext"); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("pdftotext is missing")
		}
		t.Skip("pdftotext is not installed")
	}
	path := filepath.Join(t.TempDir(), "x.pdf")
	if err := os.WriteFile(path, file, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-layout", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	if dir := os.Getenv("STEELYARD_SHOTS"); dir != "" {
		name := strings.NewReplacer("/", "-").Replace(t.Name()) + ".pdf"
		if err := os.WriteFile(filepath.Join(dir, name), file, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return string(out)
}

var personal = regexp.MustCompile(`\b[2-9A-HJKMNP-Z]{4}-[2-9A-HJKMNP-Z]{4}\b`)

// Codes can be had once, on slips: what is kept is their hash, and it opens the pupil's work.
func TestCodesAreShownOnce(t *testing.T) {
	site := webtest.New(t)
	at := "/classes/" + site.Class.ID
	add := site.Teacher.Upload(at+"/list", webtest.Values{"names": "Nell Abara\nTove Lind-Østergaard-Winterbottom of the Very Long Name That Goes On and On"}, "other", "", nil)
	p := add.Submit("Yes, do this", nil).Has("2 pupils have no code yet").Follow("Make codes").Want(200)
	headings(t, p)
	pdf := p.Submit("Make codes: slips as PDF", nil).Want(200)
	if got := pdf.Header.Get("Content-Type"); got != "application/pdf" || !strings.Contains(pdf.Header.Get("Cache-Control"), "no-store") {
		t.Errorf("%s, %s", got, pdf.Header.Get("Cache-Control"))
	}
	text := textOf(t, []byte(pdf.Body))
	codes := personal.FindAllString(text, -1)
	if len(codes) != 2 || !strings.Contains(text, "Nell Abara") || strings.Count(text, site.Class.Code) != 2 ||
		!strings.Contains(text, strings.TrimPrefix(site.URL, "http://")) || !strings.Contains(text, "Your own code") {
		t.Fatalf("the slips say:\n%s", text)
	}
	_, pupils := classNamed(t, site, "10b")
	for i, code := range codes {
		kept := pupils[3+i].Code
		if kept != site.Desk.Codes.Hash(site.Class.ID, code) || strings.Contains(kept, code) {
			t.Errorf("%s is kept as %q", code, kept)
		}
	}
	for _, k := range append(codes, strings.ReplaceAll(codes[0], "-", "")) {
		if page := site.Teacher.Get(at + "/codes"); strings.Contains(page.Body, k) || strings.Contains(site.Log.String(), k) {
			t.Errorf("the code %s can still be read", k)
		}
	}
}

// New codes for those who have one take two clicks, say that the old ones stop working, and end them.
func TestNewCodesEndOldOnes(t *testing.T) {
	site := webtest.New(t)
	at := "/classes/" + site.Class.ID
	p := site.Teacher.Get(at+"/pupils/"+site.Members[0].ID).Want(200).Follow("New code").Want(200).Has("Ilse Hart", "stop working")
	faultAt(t, p.Submit("Make codes: slips as a page", nil), "who", "codes that were given out stop working")
	p = p.Submit("Make codes: slips as a page", webtest.Values{"sure": "yes"}).Want(200).Has("Ilse Hart", "can't be shown again").Lacks("Omar")
	if n := len(personal.FindAllString(p.Text(), -1)); n != 1 {
		t.Errorf("%d codes on the page", n)
	}
	_, pupils := classNamed(t, site, "10b")
	if pupils[0].Code == site.Members[0].Code || pupils[1].Code != site.Members[1].Code {
		t.Error("not just the one code has changed")
	}
	site.Pupils[0].Get("/work").Lacks("My work: Ilse")
	faultAt(t, site.Teacher.Post(at+"/codes", url.Values{"who": {"nobody"}}), "who", "choose pupils who are in the class")
}

// A pupil's name and arrangements can be changed; what can't be is said at its field.
func TestPupil(t *testing.T) {
	site := webtest.New(t)
	at := "/classes/" + site.Class.ID + "/pupils/" + site.Members[0].ID
	p := site.Teacher.Get(at).Want(200)
	headings(t, p)
	faultAt(t, p.Submit("Save", webtest.Values{"Name": ""}), "name", "give the pupil a name")
	faultAt(t, p.Submit("Save", webtest.Values{"Extra time": "lots"}), "extra", "a whole number from 0 to 300")
	p.Submit("Save", webtest.Values{"Name": "Ilse H.", "Size of text": "18", "Colour": "cream", "Extra time": "25", "description": "yes"}).Want(200).
		Has("Ilse H.", "text 18 pt, cream paper, 25 % more time, description first")
	_, pupils := classNamed(t, site, "10b")
	if want := (homework.Access{TextSize: 18, Tint: "cream", ExtraTime: 25, Description: true}); pupils[0].Access != want || pupils[0].Code != site.Members[0].Code {
		t.Errorf("kept: %+v", pupils[0])
	}
	site.Teacher.Get(at).Submit("Has left the class", nil).Want(200).Has("2 pupils", "1 pupil who has left")
	site.Teacher.Get(at).Has("Left the class on").Submit("Is in the class again", nil).Has("3 pupils")

	_, members, _ := site.AddClass(site.Head, "11a", "Nora Vane")
	site.Teacher.Get("/classes/" + site.Class.ID + "/pupils/" + members[0].ID).Want(404)
}

// All that is kept of a pupil can be had as a file, and erased, which takes two clicks.
func TestExportAndErase(t *testing.T) {
	site := webtest.New(t)
	at := "/classes/" + site.Class.ID + "/pupils/" + site.Members[0].ID
	p := site.Teacher.Get(at).Submit("All that is kept", nil).Want(200)
	z, err := zip.NewReader(bytes.NewReader([]byte(p.Body)), int64(len(p.Body)))
	if err != nil || len(z.File) == 0 || strings.Contains(p.Header.Get("Content-Disposition"), "Ilse") {
		t.Errorf("the file: %v, %s", err, p.Header.Get("Content-Disposition"))
	}
	p = site.Teacher.Get(at).Follow("Erase").Want(200).Has("Erase Ilse Hart?", "Backups")
	headings(t, p)
	faultAt(t, p.Submit("Erase", nil), "sure", "tick the box")
	p.Submit("Erase", webtest.Values{"sure": "yes"}).Want(200).Has("2 pupils").Lacks("Ilse")
	site.Teacher.Get(at).Want(404)
}
