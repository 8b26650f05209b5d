package classes_test

import (
	"net/url"
	"os"
	"path/filepath"
	"testing"

	"steelyard/web/browse"
	"steelyard/web/sign"
	"steelyard/web/webtest"
)

// Every page of the room keeps to the rules that a program can check, in every window, light and dark.
func TestPagesInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes a while")
	}
	browse.Hold(t)
	site := webtest.New(t)
	c, _, _ := site.AddClass(site.Head, "12B Physics", "Nell Abara", "Tove Lind", "Sam Reed", "Ilse Hart-Moss", "Omar Quist", "Pia Lund", "Jun Sato-Bell", "Eve Marlow")
	site.Teacher.Upload("/classes/"+c.ID+"/list", webtest.Values{"names": "Nia Holt"}, "other", "", nil).Submit("Yes, do this", nil)
	_, pupils := classNamed(t, site, "12B Physics")
	site.Teacher.Get("/classes/"+c.ID+"/pupils/"+pupils[1].ID).Submit("Save", webtest.Values{"Size of text": "18", "Colour": "cream", "Extra time": "25", "description": "yes"})
	site.Teacher.Get("/classes/"+c.ID+"/pupils/"+pupils[3].ID).Submit("Has left", nil)
	given := draft(t, site, "lock-footbridge", "boat-hoist")
	site.Teacher.Get("/sets/"+given.ID).Submit("Give it out", nil).Want(200)
	site.Teacher.Get("/classes/"+c.ID+"/sets/new?question=bank:signal-arm").Submit("Make a draft", webtest.Values{"Title": "Levers, first look"}).Want(200)
	set := lastSet(t, site, c.ID)
	for _, q := range []string{"lock-footbridge", "orchard-ladder"} {
		site.Teacher.Post("/sets/"+set.ID+"/questions", url.Values{"do": {"add"}, "question": {"bank:" + q}})
	}
	class, at := "/classes/"+c.ID, "/sets/"+set.ID
	pages := []struct{ name, path string }{
		{"classes", "/classes"}, {"class-new", "/classes/new"}, {"class", class}, {"class-names-off", class + "?names=off"}, {"about", class + "/about"},
		{"list", class + "/list"}, {"codes", class + "/codes"}, {"pupil", class + "/pupils/" + pupils[1].ID}, {"erase", class + "/pupils/" + pupils[1].ID + "/erase"},
		{"set-new", class + "/sets/new"}, {"set-which-class", "/sets/new?question=bank:tea-tins"}, {"set-draft", at}, {"set-rules", at + "/rules"},
		{"set-questions", at + "/questions"}, {"set-preview", at + "/preview"}, {"set-given", "/sets/" + given.ID},
	}
	for _, w := range []browse.Window{browse.Phone, browse.Tablet, browse.Desk, browse.Phone.InDark(), browse.Desk.InDark()} {
		tab := browse.New(t, w)
		tab.Cookie(site.URL, sign.Cookie(site.Desk), site.Token(site.Teacher))
		for _, p := range pages {
			tab.Go(site.URL + p.path)
			tab.Shot("classes-" + p.name)
			tab.Check()
		}
		tab.Go(site.URL + class + "/list")
		tab.Fill("Names", "Nell Abara\nTove Lind\nNew Pupil\nAnother One")
		tab.Click("This is the whole class")
		tab.Click("Read the list")
		tab.See("Nothing has been kept yet")
		tab.Shot("classes-plan")
		tab.Check()
		tab.Go(site.URL + class + "/list")
		tab.Click("Read the list")
		tab.See("to mend")
		tab.Shot("classes-list-faulty")
		tab.Check()
		tab.Go(site.URL + class + "/codes")
		tab.Click("everybody")
		tab.Click("Codes that these")
		tab.Click("Make codes: slips as a page")
		tab.See("Print this page now")
		tab.Shot("classes-slips")
		tab.Check()
		tab.Close()
	}
}

// The pages' small helps: ticking a pupil means some pupils; what takes a while says so.
func TestHelpsOfTheScript(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes a while")
	}
	site := webtest.New(t)
	s := draft(t, site, "lock-footbridge")
	tab := browse.New(t, browse.Desk)
	tab.Cookie(site.URL, sign.Cookie(site.Desk), site.Token(site.Teacher))
	tab.Go(site.URL + "/sets/" + s.ID + "/rules")
	tab.Click("Pupils")
	tab.Click("Omar Quist")
	tab.Wait(`document.querySelector('input[name="for"][value="chosen"]').checked`)
	tab.Click("Save")
	tab.See("For 1 pupil of the class.")
	tab.TabTo("Give it out")
	tab.Keys("Enter")
	tab.See("0 of 1 handed in")
	tab.Check()
}

// A school's file goes through a real browser: picked, looked at, carried out.
func TestSchoolFileInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes a while")
	}
	site := webtest.New(t)
	path := filepath.Join(t.TempDir(), "school.zip")
	if err := os.WriteFile(path, sample(t, nil), 0o600); err != nil {
		t.Fatal(err)
	}
	tab := browse.New(t, browse.Phone)
	tab.Cookie(site.URL, sign.Cookie(site.Desk), site.Token(site.Teacher))
	tab.Go(site.URL + "/classes/new")
	tab.Upload("File of class lists", path)
	tab.Click("Read the file")
	tab.See("1 class is in the file", "Physics 12B")
	tab.Click("Names")
	tab.See("Addie Example")
	tab.Shot("classes-pick")
	tab.Check()
	tab.Click("Make the class")
	tab.See("2 pupils", "Nobody in the class can sign in yet")
	tab.Click("New set")
	tab.Fill("Title", "Empty")
	tab.Click("Make a draft")
	tab.Click("Done")
	tab.Click("Give it out")
	tab.See("It can't be given out yet", "there is no question in the set")
	tab.Shot("classes-set-faulty")
	tab.Forgive("422")
	tab.Check()
}
