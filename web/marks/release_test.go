package marks_test

import (
	"encoding/csv"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/web/webtest"
)

func TestADecisionChangesTheMarkAndIsSeenOnlyAfterTheRelease(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.handIn(t, 0, doubtful("570 N"))
	s.marked(t)
	s.Teacher.Get(s.path("/queue")).Submit("2 of 2", webtest.Values{"reason": "Right by another way."}).Want(200)
	pupil := s.SignIn(account.PupilOf, s.pupils[0].ID)
	pupil.Get("/work/" + s.set.ID + "/marks").Lacks("Right by another way.")
	p := s.Teacher.Get(s.path("/release")).Has("Marks: with the release").Submit("Release to 1 pupil", early).Want(200).Has("Marks were released today")
	pupil.Get("/work/"+s.set.ID+"/marks").Want(200).Has("2 of 9", "Right by another way.")
	p.Submit("Take the release back", nil).Want(200)
	pupil.Get("/work/" + s.set.ID + "/marks").Lacks("Right by another way.")
}

func TestAReleaseWhileSomethingWaitsHasToBeSaidTwice(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.handIn(t, 0, doubtful("570 N"))
	s.marked(t)
	p := s.Teacher.Get(s.path("/release")).Has("1 part still waits for you").Submit("Release to 1 pupil", early).Want(422).Has("Decide first")
	if h, err := s.Store.Set(t.Context(), s.set.ID); err != nil || !h.Released.IsZero() {
		t.Fatalf("released all the same (%v)", err)
	}
	p.Submit("Release to 1 pupil", webtest.Values{"Release all the same": "yes", "Release before they have handed in": "yes"}).Want(200).Has("Marks were released")
}

// early says that marks are released before all have handed in.
var early = webtest.Values{"Release before they have handed in": "yes"}

func TestAReleaseOfAnOpenSetSaysWhoHasNotHandedInAndAsks(t *testing.T) {
	s := open(t, "lock-footbridge")
	for i := range 6 {
		s.handIn(t, i, corpus(t, "lock-footbridge", 0)[0]...)
	}
	s.marked(t)
	p := s.Teacher.Get(s.path("/release")).Has("2 pupils have not handed in", "Pell Toft", "=Sabra Wick", "2 pupils can still hand in").Lacks("has not handed in")
	if n := len(p.All("input", "name", "missing")); n != 1 {
		t.Fatalf("it asks %d times", n)
	}
	p.Submit("Release to 6 pupils", nil).Want(422).Has("2 pupils can still hand in. Wait until the set has closed")
	if h, err := s.Store.Set(t.Context(), s.set.ID); err != nil || !h.Released.IsZero() {
		t.Fatalf("released without asking (%v)", err)
	}
	// Once it has closed nobody can learn anything from the others: it is said, and not asked.
	s.Clock.Pass(72 * time.Hour)
	p = s.SignIn(account.Head, s.Head.ID).Get(s.path("/release")).Has("2 pupils have not handed in", "Pell Toft").Lacks("can still hand in")
	if n := len(p.All("input", "name", "missing")); n != 0 {
		t.Errorf("a closed set asks %d times", n)
	}
	p.Submit("Release to 6 pupils", nil).Want(200).Has("Marks were released")
}

// Who has left has a line apart and is in no count, on any page.
func TestThoseWhoHaveLeftAreShownApartAndNotCounted(t *testing.T) {
	s := open(t, "lock-footbridge")
	for i := range 3 {
		s.handIn(t, i, corpus(t, "lock-footbridge", 0)[0]...)
	}
	s.marked(t)
	for _, i := range []int{2, 5} { // one who had handed in, one who had not
		left := s.pupils[i]
		left.Left = s.Clock.Now()
		must(t, s.Store.SavePupil(t.Context(), s.by(), left))
	}
	s.Teacher.Get(s.path("/marks")).Has("2 of 6 pupils handed in, and 1 who has left", "Have left, and are not counted", "Oduro Lint", "Mean 2 of 6").Lacks("Jorun Maddern")
	s.Teacher.Get(s.path("")).Has("2 of 6 handed in")
	s.Teacher.Get("/today").Has("2 of 6 handed in")
	s.Teacher.Get(s.path("/picture")).Has("1 pupil who has left is not in these numbers", "2 pupils have full marks")
	s.Teacher.Get(s.path("/release")).Has("4 pupils have not handed in", "Release to 2 pupils", "nothing: has left").Lacks("Jorun Maddern")
	rows := table(t, s, "/marks.csv")
	if last := rows[len(rows)-1]; len(rows) != 2+7 || last[1] != "Oduro Lint" || last[2] != "has left" || last[len(last)-2] != "9" {
		t.Errorf("the table is %q", rows)
	}
}

// table is a table of marks as a spreadsheet reads it.
func table(t *testing.T, s *room, path string) [][]string {
	t.Helper()
	p := s.Teacher.Get(s.path(path)).Want(200)
	if got := p.Header.Get("Content-Type"); got != "text/csv; charset=utf-8" {
		t.Errorf("%s is sent as %s", path, got)
	}
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(p.Body, "\ufeff"))).ReadAll()
	must(t, err)
	for _, row := range rows {
		for _, cell := range row {
			// OWASP, CSV Injection: cells that begin so are reckoned by spreadsheets.
			if strings.ContainsAny(cell[:min(1, len(cell))], "=+-@\t\r") {
				t.Errorf("a spreadsheet takes %q for a formula", cell)
			}
		}
	}
	return rows
}

func TestTheMarkBookAsCSVHasALineForEverybody(t *testing.T) {
	s := open(t, "lock-footbridge", "tea-tins")
	s.handIn(t, 0, append(corpus(t, "lock-footbridge", 0)[0], homework.Answer{Item: 1, Part: "b", Answer: "0.60 N"})...)
	s.handIn(t, 7, doubtful("=1+1"))
	s.marked(t)
	must(t, s.Store.SaveDrafts(t.Context(), []homework.Draft{{Set: s.set.ID, Pupil: s.pupils[1].ID, Answer: homework.Answer{Item: 0, Part: "b", Answer: "57"}, At: s.Clock.Now()}}))
	rows := table(t, s, "/marks.csv")
	if got := strings.Join(rows[0], ","); got != "pupil,name,status,handed in,1a,1b,1c,1d,1e,2a,2b,2c,total,waits" {
		t.Errorf("its heading is %s", got)
	}
	if got := strings.Join(rows[1], ","); got != ",out of,,,2,2,1,1,3,1,2,1,13," {
		t.Errorf("what the parts are worth is %s", got)
	}
	if len(rows) != 2+8 {
		t.Fatalf("%d lines for 8 pupils", len(rows)-2)
	}
	at := map[string][]string{}
	for _, row := range rows[2:] {
		at[row[1]] = row
		if len(row) != len(rows[0]) {
			t.Errorf("%q has %d cells", row[1], len(row))
		}
	}
	for name, want := range map[string]string{
		"Tamsel Overby": "handed in,2026-11-30 08:00,2,2,1,1,3,0,2,0,11,0",
		"Ilka Wendover": "begun, not handed in,,,,,,,,,,,",
		"Oduro Lint":    "not handed in,,,,,,,,,,,",
		"'=Sabra Wick":  "handed in,2026-11-30 08:00,0,0,0,0,0,0,0,0,0,0",
	} {
		if row := at[name]; row == nil || strings.Join(row[2:], ",") != want {
			t.Errorf("%s has %q, want %s", name, row, want)
		}
	}
	if !strings.HasPrefix(s.Teacher.Get(s.path("/marks.csv")).Body, "\ufeff") {
		t.Error("without a byte-order mark spreadsheets take names for Latin letters")
	}
}

// A spreadsheet itself is asked, where there is one: names come out as text, marks as numbers. 76 is UTF-8, which its
// dialog finds out by the byte-order mark.
func TestASpreadsheetOpensTheMarkBook(t *testing.T) {
	office, err := exec.LookPath("soffice")
	if err != nil || testing.Short() {
		t.Skip("no spreadsheet program here")
	}
	s := open(t, "lock-footbridge")
	for i, name := range []string{"=1+1", "+2", "-3+4", "@SUM(1;2)", "Zoë Łuk", "=HYPERLINK(\"x\";\"y\")", "\t=5", "Ann, \"Bo\"; Cy"} {
		p := s.pupils[i]
		p.Name = name
		must(t, s.Store.SavePupil(t.Context(), s.by(), p))
	}
	s.handIn(t, 4, corpus(t, "lock-footbridge", 0)[0]...)
	s.marked(t)
	dir := t.TempDir()
	must(t, os.WriteFile(filepath.Join(dir, "marks.csv"), []byte(s.Teacher.Get(s.path("/marks.csv")).Want(200).Body), 0o600))
	cmd := exec.CommandContext(t.Context(), office, "-env:UserInstallation=file://"+dir+"/profile", "--headless", "--infilter=CSV:44,34,76", "--convert-to", "fods", "--outdir", dir, filepath.Join(dir, "marks.csv"))
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	if _, err := os.Stat(filepath.Join(dir, "marks.fods")); err != nil {
		t.Skip("no spreadsheet in the office program here (package libreoffice-calc-nogui)")
	}
	text, err := os.ReadFile(filepath.Join(dir, "marks.fods"))
	must(t, err)
	for _, want := range []string{"<text:p>pupil</text:p>", "Zoë Łuk", "Ann, &quot;Bo&quot;; Cy", "1e", "not handed in", `office:value="9"`} {
		if !strings.Contains(string(text), want) && !strings.Contains(string(text), strings.ReplaceAll(want, "&quot;", "\"")) {
			t.Errorf("the spreadsheet has no %s", want)
		}
	}
	if strings.Contains(string(text), "table:formula") {
		t.Error("the spreadsheet has taken a name for a formula")
	}
}

func TestTheTableOfMarksCannotBeTakenForFormulas(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.handIn(t, 7, doubtful("=1+1"))
	s.marked(t)
	p := s.Teacher.Get(s.path("/parts.csv")).Want(200)
	if got := p.Header.Get("Content-Type"); got != "text/csv; charset=utf-8" {
		t.Errorf("sent as %s", got)
	}
	rows, err := csv.NewReader(strings.NewReader(p.Body)).ReadAll()
	must(t, err)
	if len(rows) != 6 || rows[1][1] != "'=Sabra Wick" {
		t.Fatalf("the table is %q", rows)
	}
	for _, row := range rows {
		for _, cell := range row {
			if strings.ContainsAny(cell[:min(1, len(cell))], "=+-@") {
				t.Errorf("a spreadsheet takes %q for a formula", cell)
			}
		}
	}
}

func TestFeedbackForPaperIsAPDF(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.Teacher.Get(s.path("/feedback.pdf")).Want(409).Has("Nobody has handed in yet")
	s.handIn(t, 0, corpus(t, "lock-footbridge", 0)[1]...)
	s.marked(t)
	if p := s.Teacher.Get(s.path("/feedback.pdf")).Want(200); !strings.HasPrefix(p.Body, "%PDF-") {
		t.Errorf("it begins with %.20q", p.Body)
	}
}

func TestSecondMarksAreBlindAndTheirAgreementIsTold(t *testing.T) {
	s := open(t, "lock-footbridge")
	for i, hand := range corpus(t, "lock-footbridge", 0)[:5] {
		s.handIn(t, i, hand...)
	}
	s.marked(t)
	other, colleague := s.AddTeacher("Ada Fenn")
	must(t, s.Store.Share(t.Context(), s.by(), s.class.ID, other.ID))
	p := colleague.Get(s.path("/moderate?n=1")).Want(200).Has("No second marks yet", "0 of 5 marked")
	same := colleague.Get(s.path("/moderate?n=1"))
	if same.Text() != p.Text() {
		t.Error("the same set gives another sample")
	}
	p = p.Follow("Mark it").Want(200).Lacks("✓", "✗", "of 9")
	p.Submit("Keep these marks", webtest.Values{"mark-1a": "2"}).Want(422).Has("4 marks are missing or out of range")
	all := webtest.Values{}
	for _, part := range []string{"1a", "1b", "1c", "1d", "1e"} {
		all["mark-"+part] = "1"
	}
	p = p.Submit("Keep these marks", all).Want(200).Has("Parts marked twice 5", "Ada Fenn", "5 of 5 marked")
	list, err := s.Store.SecondMarks(t.Context(), s.set.ID)
	must(t, err)
	first, err := s.Store.MarkingsOf(t.Context(), s.set.ID, list[0].Pupil)
	must(t, err)
	agree := 0
	for _, m := range first {
		if m.Marks == 1 {
			agree++
		}
	}
	p.Has("The same mark " + string(rune('0'+agree)) + ", that is")
	if h, err := s.Store.DecisionsOf(t.Context(), s.set.ID); err != nil || len(h) > 0 {
		t.Errorf("second marks changed the first: %v (%v)", h, err)
	}
}

func TestASetToFollowIsTwoClicksAway(t *testing.T) {
	s := open(t, "mooring-plank")
	for i := range 8 {
		s.handIn(t, i, corpus(t, "mooring-plank", 0)[9+i%3]...)
	}
	s.marked(t)
	p := s.Teacher.Get(s.path("/picture")).Want(200).Has("Five minutes for a group")
	p = p.Submit("Make a set to follow", nil).Want(200).Has("After Planks and sills")
	sets, err := s.Store.SetsOf(t.Context(), s.class.ID)
	must(t, err)
	for _, h := range sets {
		if h.Follows != s.set.ID {
			continue
		}
		if !h.Given.IsZero() || len(h.For) == 0 || len(h.Items) == 0 || p.Path != "/sets/"+h.ID {
			t.Errorf("the draft that follows is %+v", h)
		}
		p.Submit("Give it out", nil).Want(200)
		h, err := s.Store.Set(t.Context(), h.ID)
		must(t, err)
		if h.Given.IsZero() {
			t.Error("the second click did not give it out")
		}
		return
	}
	t.Errorf("there is no draft that follows: %+v", sets)
}

func TestAPlainClassIsToldNothingOfSlips(t *testing.T) {
	s := open(t, "mooring-plank")
	for i := range 8 {
		s.handIn(t, i, corpus(t, "mooring-plank", 0)[9+i%3]...)
	}
	s.marked(t)
	c, err := s.Store.Class(t.Context(), s.class.ID)
	must(t, err)
	c.Plain = true
	must(t, s.Store.SaveClass(t.Context(), s.by(), c))
	s.Teacher.Get(s.path("/picture")).Want(200).Has("How each part went").Lacks("suggests", "Five minutes")
	s.Teacher.Get(s.path("/marks/" + s.pupils[0].ID)).Want(200).Lacks("suggests")
	s.Teacher.Get(s.path("/queue")).Lacks("suggests")
}

func TestTheFirstPageTellsWhatWaits(t *testing.T) {
	s := open(t, "lock-footbridge")
	s.Teacher.Get("/today").Want(200).Has("Closing soon", "Planks and sills")
	s.handIn(t, 0, doubtful("570 N"))
	s.marked(t)
	s.Teacher.Get("/today").Has("Waiting for you", "Decide 1", "1 pupil today")
	s.Teacher.Get(s.path("/queue")).Submit("2 of 2", nil)
	s.Teacher.Get("/today").Lacks("Waiting for you")
	s.Clock.Pass(72 * time.Hour)
	s.SignIn(account.Head, s.Head.ID).Get("/today").Has("Ready to release").Lacks("Closing soon")
}
