package pupil

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"steelyard/homework"
	"steelyard/web/page"
)

// What fits into an answer box and into the working of a part, in characters.
const (
	mostAnswer  = 200
	mostWorking = 4000
)

// tidy makes line breaks alike, however a browser sends them, and takes out what no keyboard has: commands, and signs that
// turn the rest of a line round, which would make a teacher read something else than what is marked.
func tidy(s string) string {
	s = strings.ReplaceAll(strings.ReplaceAll(strings.ToValidUTF8(s, "\ufffd"), "\r\n", "\n"), "\r", "\n")
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) && r != '\n' && r != '\t' || r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069' {
			return -1
		}
		return r
	}, s)
}

func fits(answer, working string) error {
	if utf8.RuneCountInString(answer) > mostAnswer || utf8.RuneCountInString(working) > mostWorking {
		return &page.Refusal{Status: http.StatusUnprocessableEntity, What: "that is more than fits",
			Mend: fmt.Sprintf("go back and shorten it: an answer has room for %d characters, the working of a part for %d", mostAnswer, mostWorking)}
	}
	return nil
}

// fill takes what a form holds for each part.
func (w *work) fill(req *http.Request) error {
	if err := req.ParseForm(); err != nil {
		return &page.Refusal{Status: http.StatusBadRequest, What: "the form did not arrive whole", Mend: "go back and send it again"}
	}
	for _, p := range w.each() {
		if _, ok := req.PostForm["a-"+p.ID()]; !ok {
			continue
		}
		answer, working := tidy(req.PostForm.Get("a-"+p.ID())), tidy(req.PostForm.Get("w-"+p.ID()))
		if err := fits(answer, working); err != nil {
			return err
		}
		p.Answer, p.Working = answer, working
	}
	return nil
}

// save takes the form of the page and goes where its button says.
func (r room) save(w http.ResponseWriter, req *http.Request, v *page.Viewer) error {
	k, err := r.loadBare(req, v)
	if err != nil {
		return err
	}
	before := map[string]part{}
	for _, p := range k.each() {
		before[p.ID()] = *p
	}
	if err := k.fill(req); err != nil {
		return err
	}
	var list []homework.Draft
	for _, p := range k.each() {
		was := before[p.ID()]
		// What was not touched on this page may have been changed on another since.
		if seen := req.PostForm.Get("o-" + p.ID()); p.Seen() == seen || p.Seen() == was.Seen() {
			continue
		}
		list = append(list, k.draft(p, max(was.Rev+1, k.Now.UnixMilli())))
	}
	if len(list) > 0 {
		if err := r.Store.SaveDrafts(req.Context(), list); err != nil {
			return fmt.Errorf("keeping drafts: %w", err)
		}
	}
	to := "/work/" + k.Set.ID
	switch do := req.PostForm.Get("do"); {
	case do == "look":
		return page.Go(w, req, to+"/look")
	case strings.HasPrefix(do, "hint-"):
		id := strings.TrimPrefix(do, "hint-")
		if err := r.openHint(req, v, id); err != nil {
			return err
		}
		return page.Go(w, req, to+"#h-"+k.anchor(id))
	case strings.HasPrefix(do, "read-"):
		return page.Go(w, req, to+"#p-"+k.anchor(strings.TrimPrefix(do, "read-")))
	}
	return page.Go(w, req, to+"#kept")
}

// anchor is the ID of a part that there is, else nothing, so that nothing typed comes into an address.
func (w *work) anchor(id string) string {
	if p := w.named(id); p != nil {
		return p.ID()
	}
	return ""
}

func (w *work) draft(p *part, rev int64) homework.Draft {
	return homework.Draft{Set: w.Set.ID, Pupil: w.Pupil.ID, Rev: rev, At: w.Now,
		Answer: homework.Answer{Item: p.Item, Part: p.Name, Answer: p.Answer, Working: p.Working}}
}

// A typed is a part as an open page sends it while it is being typed, and as it is told to one that doesn't know it.
type typed struct {
	ID      string `json:"id"`
	Answer  string `json:"answer"`
	Working string `json:"working"`
	Rev     int64  `json:"rev"`
	Base    int64  `json:"base,omitempty"` // the last change that the page knew of
}

// kept is what the page is told: what the database has now, and what was changed elsewhere in between and stays.
type kept struct {
	Kept   []typed `json:"kept"`  // without their texts
	Newer  []typed `json:"newer"` // changed on another page; what was sent for them is not kept
	Closed bool    `json:"closed"`
}

// ahead is how far in the future the count of a change may lie: counts begin from the page's clock.
const ahead = time.Hour

// drafts keeps what is being typed. It keeps it after the set has closed too: the teacher decides what it is worth.
func (r room) drafts(w http.ResponseWriter, req *http.Request, v *page.Viewer) error {
	var sent struct {
		Parts []typed `json:"parts"`
	}
	if err := json.NewDecoder(req.Body).Decode(&sent); err != nil {
		return &page.Refusal{Status: http.StatusBadRequest, What: "what was sent did not arrive whole", Mend: "it will be sent again"}
	}
	k, err := r.loadBare(req, v)
	if err != nil {
		return err
	}
	answer := kept{Kept: []typed{}, Newer: []typed{}, Closed: !k.Open()}
	var list []homework.Draft
	for _, t := range sent.Parts {
		p := k.named(t.ID)
		if p == nil {
			continue
		}
		t.Answer, t.Working = tidy(t.Answer), tidy(t.Working)
		if err := fits(t.Answer, t.Working); err != nil {
			return err
		}
		same := p.Answer == t.Answer && p.Working == t.Working
		if !same && p.Rev > t.Base {
			answer.Newer = append(answer.Newer, typed{ID: t.ID, Answer: p.Answer, Working: p.Working, Rev: p.Rev})
			continue
		}
		rev := max(min(t.Rev, k.Now.Add(ahead).UnixMilli()), p.Rev)
		answer.Kept = append(answer.Kept, typed{ID: t.ID, Rev: rev})
		if !same {
			p.Answer, p.Working = t.Answer, t.Working
			list = append(list, k.draft(p, rev))
		}
	}
	if len(list) > 0 {
		if err := r.Store.SaveDrafts(req.Context(), list); err != nil {
			return fmt.Errorf("keeping drafts: %w", err)
		}
	}
	w.Header().Set("Content-Type", "application/json")
	return json.NewEncoder(w).Encode(answer)
}
