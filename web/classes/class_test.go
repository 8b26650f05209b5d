package classes_test

import (
	"archive/zip"
	"bytes"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"steelyard/homework"
	"steelyard/web/webtest"
)

// faultAt checks that a form came back with the fault at its field, in its title and in the box at its head.
func faultAt(t *testing.T, p *webtest.Page, id, words string) {
	t.Helper()
	p.Want(422).Has(words)
	if title := p.All("title", "", ""); len(title) == 0 || !strings.Contains(webtest.TextOf(title[0]), "to mend: ") {
		t.Errorf("%s: the title doesn't say that there is something to mend", p.Path)
	}
	if len(p.All("a", "href", "#"+id)) == 0 || len(p.All("", "id", id)) == 0 {
		t.Errorf("%s: the box of faults doesn't lead to %s", p.Path, id)
	}
	if f := p.All("input", "id", id); len(f) == 1 && webtest.Attr(f[0], "aria-invalid") != "true" {
		t.Errorf("%s: the field %s isn't marked as faulty", p.Path, id)
	}
	headings(t, p)
}

// headings checks that a page has one first heading, and that each field has a label.
func headings(t *testing.T, p *webtest.Page) {
	t.Helper()
	if n := len(p.All("h1", "", "")); n != 1 {
		t.Errorf("%s has %d first headings", p.Path, n)
	}
	for _, kind := range []string{"input", "select", "textarea"} {
		for _, f := range p.All(kind, "", "") {
			if webtest.Attr(f, "type") != "hidden" && !labelled(p, f) {
				t.Errorf("%s: the field %q has no label", p.Path, webtest.Attr(f, "name"))
			}
		}
	}
}

func labelled(p *webtest.Page, f *html.Node) bool {
	for n := f.Parent; n != nil; n = n.Parent {
		if n.Data == "label" {
			return true
		}
	}
	return len(p.All("label", "for", webtest.Attr(f, "id"))) > 0
}

func classNamed(t *testing.T, site *webtest.Site, name string) (homework.Class, []homework.Pupil) {
	t.Helper()
	list, err := site.Store.ClassesOf(t.Context(), site.Head.ID)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range list {
		if c.Name == name {
			pupils, err := site.Store.Pupils(t.Context(), c.ID)
			if err != nil {
				t.Fatal(err)
			}
			return c, pupils
		}
	}
	t.Fatalf("there is no class %q", name)
	return homework.Class{}, nil
}

// A class is made from pasted names: what was understood is shown first, and nothing is kept before the teacher says so.
func TestClassFromPastedNames(t *testing.T) {
	site := webtest.New(t)
	p := site.Teacher.Get("/classes").Want(200).Has("10b", "3 pupils").Follow("New class").Want(200)
	headings(t, p)
	faultAt(t, p.Submit("Make the class", webtest.Values{"Name of the class": " "}), "name", "give the class a name")
	faultAt(t, p.Submit("Make the class", webtest.Values{"Name of the class": "12B", "Kept until": "2020-01-01"}), "keep", "that day is over")
	p = p.Submit("Make the class", webtest.Values{"Name of the class": "12B Physics"}).Want(200).Has("Add pupils to 12B Physics")
	headings(t, p)
	c, _ := classNamed(t, site, "12B Physics")
	list := "/classes/" + c.ID + "/list"
	faultAt(t, site.Teacher.Upload(list, webtest.Values{"names": "  "}, "other", "", nil), "names", "write or paste at least one name")
	faultAt(t, site.Teacher.Upload(list, webtest.Values{"names": "Ada\nAda"}, "other", "", nil), "names", "line 2: Ada stands in line 1 too")
	p = site.Teacher.Upload(list, webtest.Values{"names": "Nell Abara\nTove <em>Lind</em>\n=1+1"}, "other", "", nil).
		Want(200).Has("Nothing has been kept yet", "Nell Abara", "Tove <em>Lind</em>", "=1+1")
	headings(t, p)
	if _, pupils := classNamed(t, site, "12B Physics"); len(pupils) > 0 {
		t.Fatal("pupils were kept before the teacher said so")
	}
	p = p.Submit("Yes, do this", nil).Want(200).Has("3 pupils", "Nobody in the class can sign in yet", "Tove <em>Lind</em>")
	if len(p.All("em", "", "")) > 0 {
		t.Error("a pupil's name is read as HTML")
	}
	// A later list of the whole class: one new, one gone, two as they were.
	p = site.Teacher.Upload(list, webtest.Values{"names": "Nell Abara\n=1+1\nSam Reed", "whole": "yes"}, "other", "", nil).
		Has("New in 12B Physics: 1", "Have left: 1", "2 pupils stay as they are")
	p.Submit("Yes, do this", nil).Has("3 pupils", "1 pupil who has left")
	if _, pupils := classNamed(t, site, "12B Physics"); len(pupils) != 4 {
		t.Errorf("%d pupils are kept: nobody is to be erased", len(pupils))
	}
	// The same once more changes nothing.
	site.Teacher.Upload(list, webtest.Values{"names": "Nell Abara\n=1+1\nSam Reed", "whole": "yes"}, "other", "", nil).Has("The list changes nothing")
}

// A spreadsheet is read with its own headings; what is passed over is named, and not kept.
func TestClassFromSpreadsheet(t *testing.T) {
	site := webtest.New(t)
	list := "/classes/" + site.Class.ID + "/list"
	csv := "Surname;Forename;Admission No;E-mail;DOB\r\nN\xf8rrevang;Zo\xeb;a-1;zoe@harbour.example;2009-04-01\r\n"
	p := site.Teacher.Upload(list, nil, "file", "12b.csv", []byte(csv)).Want(200).Has("Zoë Nørrevang", "not kept: “E-mail”, “DOB”").Lacks("zoe@", "2009")
	p.Submit("Yes, do this", nil).Want(200).Has("Zoë Nørrevang", "4 pupils")
	faultAt(t, site.Teacher.Upload(list, nil, "file", "book.xlsx", []byte("PK\x03\x04xx")), "file", "no zip, or a broken one")
	faultAt(t, site.Teacher.Upload(list, nil, "file", "scan.png", []byte("\x89PNG\r\n\x1a\n\x00")), "file", "no text")
}

// sample is the OneRoster set of package roster as a zip, with some of its files changed.
func sample(t *testing.T, change map[string]string) []byte {
	t.Helper()
	names, err := filepath.Glob("../../roster/testdata/oneroster/*.csv")
	if err != nil || len(names) == 0 {
		t.Fatal("no sample set", err)
	}
	var to bytes.Buffer
	z := zip.NewWriter(&to)
	for _, n := range names {
		b, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		w, err := z.Create(filepath.Base(n))
		if err != nil {
			t.Fatal(err)
		}
		text := string(b)
		for old, now := range change {
			text = strings.ReplaceAll(text, old, now)
		}
		w.Write([]byte(text))
	}
	z.Close()
	return to.Bytes()
}

// A class from the school's system: the teacher picks it, and a later set finds it and its pupils again.
func TestClassFromOneRoster(t *testing.T) {
	site := webtest.New(t)
	faultAt(t, site.Teacher.Upload("/classes/read", nil, "file", "", nil), "file", "choose a file")
	faultAt(t, site.Teacher.Upload("/classes/read", nil, "file", "a.csv", []byte("name\nA")), "file", "no zip")
	faultAt(t, site.Teacher.Upload("/classes/read", nil, "file", "a.zip", sample(t, map[string]string{"u-9,,,true": "u-9,,,yes", "org-1,u-9,student": "org-1,u-99,student"})),
		"file", `users.csv:3:4: "yes" is no enabledUser`)
	p := site.Teacher.Upload("/classes/read", nil, "file", "a.zip", sample(t, nil)).Want(200).Has("Physics 12B", "2 pupils", "Addie Example", "not kept: user names")
	headings(t, p)
	p.Submit("Make the class", nil).Want(200).Has("Physics 12B", "2 pupils", "Addie Example")
	c, pupils := classNamed(t, site, "Physics 12B")
	if c.Source != "cl-12b" || len(pupils) != 2 || pupils[0].Source != "u-9" {
		t.Errorf("kept: %+v %+v", c, pupils)
	}
	later := sample(t, map[string]string{",Addie,": ",Adele,", "e3,,,cl-12b,org-1,u-10,student,,,": "e3,,,cl-12b,org-1,u-10,student,,2026-09-01,2026-10-01"})
	p = site.Teacher.Upload("/classes/"+c.ID+"/list", nil, "file", "b.zip", later).Want(200).Has("Which class?")
	p = p.Submit("Go on", nil).Want(200).Has("Addie Example becomes Adele Example", "Have left: 1")
	p.Submit("Yes, do this", nil).Has("Adele Example", "1 pupil who has left")
}

// A class made by hand is met in the school's set: names are found, and from then on identifiers.
func TestClassByHandMeetsOneRoster(t *testing.T) {
	site := webtest.New(t)
	c, _, _ := site.AddClass(site.Head, "12B", "Addie Example", "Nia Holt")
	at := "/classes/" + c.ID + "/list"
	p := site.Teacher.Upload(at, nil, "file", "a.zip", sample(t, nil)).Submit("Go on", nil).Want(200).Has("New in 12B: 1", "Have left: 1", "1 pupil was found by name")
	p.Submit("Yes, do this", nil).Want(200)
	c, pupils := classNamed(t, site, "12B")
	if c.Source != "cl-12b" || pupils[0].Source != "u-9" || pupils[0].Name != "Addie Example" {
		t.Errorf("kept: %+v %+v", c, pupils[0])
	}
	site.Teacher.Upload(at, nil, "file", "a.zip", sample(t, map[string]string{",Addie,": ",Adele,"})).Submit("Go on", nil).Has("Addie Example becomes Adele Example").Lacks("New in")
	site.Teacher.Upload(at, nil, "file", "a.zip", sample(t, map[string]string{"cl-12b": "cl-other", ",Addie,": ",Adele,"})).Submit("Go on", nil).Has("Did you pick the right one?")
}

// What a browser sends back in the hidden list is not trusted.
func TestHiddenListIsNotTrusted(t *testing.T) {
	site := webtest.New(t)
	for _, lists := range []string{"", "x", "H4sIAAAAAAAA/6uuBQBDv6ajAgAAAA=="} {
		for _, path := range []string{"/classes/take", "/classes/" + site.Class.ID + "/list/take", "/classes/" + site.Class.ID + "/list/pick"} {
			site.Teacher.Post(path, url.Values{"lists": {lists}, "pick": {"0"}}).Want(422)
		}
	}
}

// Names can be hidden for the projector: then nothing on the page tells who somebody is.
func TestNamesOff(t *testing.T) {
	site := webtest.New(t)
	p := site.Teacher.Get("/classes/"+site.Class.ID).Has("Ilse Hart", "Omar Quist").Follow("Hide names").Want(200)
	p.Has("Pupil 01", "Pupil 03").Lacks("Ilse", "Hart", "Omar", "Quist", "Pia", "Lund")
}

// A class can be renamed, kept longer, unlocked and shared; two teachers don't overwrite each other.
func TestAboutAClass(t *testing.T) {
	site := webtest.New(t)
	other, colleague := site.AddTeacher("Bram Otto")
	at := "/classes/" + site.Class.ID
	colleague.Get(at).Want(404)
	p := site.Teacher.Get(at + "/about").Want(200)
	headings(t, p)
	faultAt(t, p.Submit("Save", webtest.Values{"Name of the class": strings.Repeat("x", 90)}), "name", "80 characters")
	faultAt(t, p.Submit("Save", webtest.Values{"Kept until": "2099-01-01"}), "keep", "in the next 7 years")
	faultAt(t, p.Submit("Save", webtest.Values{"Kept until": "soon"}), "keep", "write the day as")
	p.Submit("Save", webtest.Values{"Name of the class": "10c", "plain": "yes"}).Want(200).Has("10c", "no diagnosis")
	p.Submit("Save", webtest.Values{"Name of the class": "10d"}).Want(409).Has("Somebody else has changed this")
	p = site.Teacher.Get(at+"/about").Submit("Share the class", webtest.Values{"person": other.ID}).Want(200).Has("Bram Otto")
	colleague.Get(at).Want(200).Has("10c")
	site.Teacher.Post(at+"/share", url.Values{"person": {"nobody"}}).Want(422).Has("choose a teacher from the list")
	p.Submit("No longer teaches it", webtest.Values{"person": other.ID}).Want(200)
	colleague.Get(at).Want(404)
	faultAt(t, site.Teacher.Post(at+"/unshare", url.Values{"person": {site.Head.ID}}), "person", "at least one teacher")

	c, _ := classNamed(t, site, "10c")
	c.Locked = site.Clock.Now()
	if err := site.Store.SaveClass(t.Context(), storeBy(site), c); err != nil {
		t.Fatal(err)
	}
	site.Teacher.Get("/classes").Has("sign-in is locked")
	site.Teacher.Get(at).Has("Signing in is locked").Submit("Unlock", nil).Want(200).Lacks("locked")
}
