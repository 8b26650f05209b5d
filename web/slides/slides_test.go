package slides_test

import (
	"strings"
	"testing"
	"time"

	"steelyard/store"
	"steelyard/web/browse"
	"steelyard/web/sign"
	"steelyard/web/webtest"
)

const here = "/slides/bank/lock-footbridge"

func TestEveryFileCanBeTaken(t *testing.T) {
	site := webtest.New(t)
	p := site.Teacher.Get(here).Want(200).Has("Slides and documents: Lock footbridge", "Slides with the script, PDF", "As far as the arithmetic")
	for file, begins := range map[string]string{"slides.pdf": "%PDF-1.7", "script.pdf": "%PDF-1.7", "slides.odp": "PK", "slides.pptx": "PK", "handout.odt": "PK", "handout.docx": "PK", "to-finish-slides.odp": "PK"} {
		if !strings.Contains(string(p.Body), `href="`+here+"/"+file+`"`) {
			t.Errorf("no link to %s", file)
		}
		got := site.Teacher.Get(here + "/" + file).Want(200)
		if !strings.HasPrefix(string(got.Body), begins) || !strings.Contains(got.Header.Get("Content-Disposition"), file) {
			t.Errorf("%s begins with %.8q, %s", file, got.Body, got.Header.Get("Content-Disposition"))
		}
	}
	site.Teacher.Get(here + "/slides.exe").Want(404)
	site.Teacher.Get("/slides/bank/no-such").Want(404)
	site.Pupils[0].Get(here + "/slides.pdf").Want(404)
}

// From the board, the files that stop do so in the part that was shown; another can be chosen, and the first.
func TestFilesStopInThePartThatWasShown(t *testing.T) {
	site := webtest.New(t)
	site.Teacher.Get("/show/bank/lock-footbridge/b-4").Want(200).Has("Slides and documents").Follow("Slides and documents").Want(200).
		Has("As far as the arithmetic of part (b)", "part (a)", "the first there is")
	first := site.Teacher.Get(here + "/to-finish-handout.odt").Want(200).Body
	inB := site.Teacher.Get(here + "/to-finish-handout.odt?stop=b").Want(200).Body
	if len(inB) < len(first)+1000 {
		t.Errorf("stopped in (b) it has %d bytes, at the first arithmetic %d", len(inB), len(first))
	}
	site.Teacher.Get(here + "?stop=zz").Want(200).Lacks("of part (zz)")
}

func TestAQuestionWithAFaultSaysSo(t *testing.T) {
	site := webtest.New(t)
	q := store.Question{ID: store.NewID(), Owner: site.Head.ID, Title: "Half", Text: "question \"Half\"\nbody plank: uniform, length 4 m\n", Changed: time.Now()}
	if err := site.Store.AddQuestion(t.Context(), store.By{Who: site.Head.ID, At: time.Now()}, q); err != nil {
		t.Fatal(err)
	}
	site.Teacher.Get("/slides/own/" + q.ID).Want(409).Has("nothing to take away")
	site.Teacher.Get("/slides/own/" + q.ID + "/slides.pdf").Want(409)
}

func TestThePageInEveryWindow(t *testing.T) {
	site := webtest.New(t)
	browse.Hold(t)
	for _, w := range []browse.Window{browse.Phone, browse.Tablet, browse.Desk, browse.Desk.InDark()} {
		tab := browse.New(t, w)
		tab.Cookie(site.URL, sign.Cookie(site.Desk), site.Token(site.Teacher))
		tab.Go(site.URL + here)
		tab.Check()
	}
}
