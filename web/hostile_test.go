package web_test

import (
	"encoding/csv"
	"encoding/json"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"golang.org/x/net/html"

	"steelyard/homework"
	"steelyard/question"
	"steelyard/store"
	"steelyard/web/webtest"
)

// hostiles are texts that try to be more than text: to end an element, to end an attribute, to turn the line round, to ring
// the bell, to be reckoned by a spreadsheet, to fill the page.
var hostiles = map[string]string{
	"element":     `</title><script>alert(1)</script>`,
	"attribute":   `" onload=alert(1) x='`,
	"turned":      "Lena \u202Egnp.exe",
	"control":     "Ada\x07\x1b[31m\x08B",
	"formula":     `=HYPERLINK("http://x","y")`,
	"drawing":     `]]></text></svg><svg onload=alert(2)>`,
	"data island": `--><!--<script>`,
	"long":        strings.Repeat("Wharf ", 666) + "ends",
	"wide":        strings.Repeat("é", 199) + strings.Repeat("梁", 60),
}

// onlyText finds what a page must not have, whatever people have typed: a script of theirs, a handler, a sign that turns
// the text round where the page's own words stand beside it.
func onlyText(t *testing.T, p *webtest.Page, what string) {
	t.Helper()
	if p.Status >= 500 {
		t.Errorf("%s: status %d", what, p.Status)
	}
	if p.Root == nil {
		return
	}
	if len(p.All("h1", "", "")) > 0 { // a whole page
		inline(t, p, what)
	}
	for n := range p.Root.Descendants() {
		if n.Type == html.ElementNode && (n.Data == "script" || n.Data == "iframe" || n.Data == "object" || n.Data == "embed" || n.Data == "base") &&
			webtest.Attr(n, "type") != "application/json" && !strings.HasPrefix(webtest.Attr(n, "src"), "/assets/") {
			t.Errorf("%s has <%s>", what, n.Data)
		}
		if n.Type != html.TextNode || alone(n) {
			continue
		}
		for _, r := range n.Data {
			if unicode.Is(unicode.Bidi_Control, r) || unicode.IsControl(r) && r != '\n' && r != '\t' && r != '\r' {
				t.Errorf("%s has %U in %q within <%s>", what, r, short(n.Data), n.Parent.Data)
				break
			}
		}
	}
}

// alone says whether a text stands where it can turn nothing else round: in a box to type in, in a block of its own, or in data.
func alone(n *html.Node) bool {
	for ; n != nil; n = n.Parent {
		if n.Data == "textarea" || n.Data == "pre" || n.Data == "script" || n.Data == "bdi" {
			return true
		}
	}
	return false
}

func short(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:60]) + "…"
	}
	return s
}

// What people type stands on every page that shows it as they typed it, and is nothing but text.
func TestHostileTextIsOnlyText(t *testing.T) {
	for name, hostile := range hostiles {
		t.Run(name, func(t *testing.T) {
			site := webtest.New(t)
			list := "/classes/" + site.Class.ID + "/list"
			p := site.Teacher.Upload(list, webtest.Values{"names": hostile}, "other", "", nil)
			onlyText(t, p, "the list as read")
			if p.Status == http.StatusOK && strings.Contains(p.Text(), "Yes, do this") {
				onlyText(t, p.Submit("Yes, do this", nil), "the class with the list")
			}
			onlyText(t, site.Teacher.Get("/account").Submit("Change name", webtest.Values{"Your name": hostile}), "the account")
			onlyText(t, site.Teacher.Get("/classes/new"), "a new class")
			onlyText(t, site.Teacher.Post("/classes", url.Values{"name": {hostile}}), "a class by that name")
			onlyText(t, site.Teacher.Post("/classes/"+site.Class.ID+"/sets", url.Values{"title": {hostile}}), "a set by that title")

			quoted := strings.ReplaceAll(hostile, `"`, "”")
			label := quoted
			if r := []rune(label); len(r) > 39 {
				label = string(r[:39])
			}
			text := "question \"" + quoted + "\"\nlevel 16-18\ng 9.81 N/kg\ntext \"" + quoted + " {plank.length}\"\n\nbody plank: uniform, length 4.80 m, weight 310 N, \"" + label + "\"\n" +
				"support P: rest, on plank at 0.60 m, \"" + label + "\"\nsupport Q: rest, on plank at 3.90 m\nload K: weight 540 N, on plank at 1.50 m, \"" + label + "\"\n\npart a: find force P  marks 3 \"" + quoted + "\"\nvary K.weight 480 N to 620 N step 20 N # " + quoted + "\n"
			q := store.Question{ID: store.NewID(), Owner: site.Head.ID, Title: "Footbridge", Text: bridge, Changed: site.Clock.Now()}
			must(t, site.Store.AddQuestion(t.Context(), by(site), q))
			onlyText(t, site.Teacher.Post("/questions/"+q.ID, url.Values{"text": {text}, "version": {"1"}}), "the workbench")
			site.Mark()
			set := homework.Set{ID: store.NewID(), Class: site.Class.ID, Title: "Beams", Seed: "s", Show: homework.UsualShow(true), Practice: true, Items: []homework.Item{{Question: "bank:none", Text: bridge}}}
			if _, err := question.Parse("", text); err == nil { // what is no question never gets into a set
				set.Items = append(set.Items, homework.Item{Question: q.ID, Text: text})
			}
			must(t, site.Store.AddSet(t.Context(), by(site), set))
			must(t, site.Store.Give(t.Context(), by(site), set.ID, nil))
			pupil, work := site.Pupils[0], "/work/"+set.ID
			p = pupil.Get(work)
			onlyText(t, p, "the work")
			values := url.Values{"do": {"keep"}}
			for _, b := range boxes.FindAllStringSubmatch(p.Body, -1) {
				answer := hostile
				if r := []rune(answer); len(r) > 200 {
					answer = string(r[:200])
				}
				values.Set("a-"+b[1], answer)
				values.Set("w-"+b[1], hostile+"\nP = 310 N\n"+label)
				if len([]rune(hostile)) > 3900 {
					values.Set("w-"+b[1], hostile[:3990]+"\nP = 1")
				}
				part := url.Values{"a": {answer}, "part": {b[1]}}
				onlyText(t, pupil.Post(work+"/read", part), "what is read")
			}
			onlyText(t, pupil.Post(work, values), "the work, filled in")
			p = pupil.Get(work + "/look")
			onlyText(t, p, "the look over")
			key := url.Values{}
			for _, m := range hidden.FindAllStringSubmatch(p.Body, -1) {
				key.Set(m[1], m[2])
			}
			onlyText(t, pupil.Post(work+"/hand-in", key), "the receipt")
			for range 60 {
				if waiting, err := site.Store.Unmarked(t.Context(), 5); err == nil && len(waiting) == 0 {
					break
				}
				time.Sleep(50 * time.Millisecond)
			}
			for _, path := range []string{"/work", work, work + "/receipt", work + "/marks", "/account"} {
				onlyText(t, pupil.Get(path), path)
			}
			s := "/sets/" + set.ID
			c := "/classes/" + site.Class.ID
			for _, path := range []string{"/today", "/classes", "/questions", "/people", "/history", c, c + "/about", c + "/codes", c + "/list", c + "/pupils/" + site.Members[0].ID, c + "/pupils/" + site.Members[0].ID + "/erase",
				s, s + "/rules", s + "/questions", s + "/preview", s + "/marks", s + "/queue", s + "/moderate", s + "/release", s + "/picture",
				"/questions/" + q.ID, "/questions/" + q.ID + "/versions/1", "/show/own/" + q.ID, "/try/own/" + q.ID, "/slides/own/" + q.ID, "/record/own/" + q.ID} {
				onlyText(t, site.Teacher.Get(path), strings.NewReplacer(set.ID, "S", q.ID, "Q", site.Class.ID, "C").Replace(path))
			}
			for _, path := range []string{"/questions/" + q.ID + "/look", "/questions/" + q.ID + "/study"} {
				body, err := json.Marshal(map[string]any{"text": text})
				must(t, err)
				onlyText(t, site.Teacher.Do(http.MethodPost, path, "application/json", strings.NewReader(string(body))), path)
			}
			table := site.Teacher.Get(s + "/marks.csv").Want(200)
			rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(table.Body, "\ufeff"))).ReadAll()
			must(t, err)
			for _, row := range rows {
				for _, cell := range row {
					// OWASP, CSV Injection: cells that begin so are reckoned by spreadsheets.
					if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
						t.Errorf("a cell of the table is %q", short(cell))
					}
					if strings.ContainsFunc(cell, func(r rune) bool { return unicode.IsControl(r) && r != '\n' || unicode.Is(unicode.Bidi_Control, r) }) {
						t.Errorf("a cell of the table is %q", short(cell))
					}
				}
			}
		})
	}
}

// The title of a question that is longer than there is room for is cut between characters: databases refuse half of one.
func TestALongTitleIsCutBetweenCharacters(t *testing.T) {
	site := webtest.New(t)
	q := store.Question{ID: store.NewID(), Owner: site.Head.ID, Title: "Footbridge", Text: bridge, Changed: site.Clock.Now()}
	must(t, site.Store.AddQuestion(t.Context(), by(site), q))
	text := strings.Replace(bridge, "Lock footbridge", "x"+strings.Repeat("é", 250), 1)
	site.Teacher.Post("/questions/"+q.ID, url.Values{"text": {text}, "version": {"1"}}).Want(http.StatusOK)
	got, err := site.Store.Question(t.Context(), q.ID)
	must(t, err)
	if !utf8.ValidString(got.Title) || utf8.RuneCountInString(got.Title) != 200 {
		t.Errorf("the title is %q", got.Title)
	}
}
