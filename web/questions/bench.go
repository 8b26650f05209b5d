package questions

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/a-h/templ"

	"steelyard/question"
	"steelyard/store"
	"steelyard/web/page"
	"steelyard/workbench"
)

// A bench is a question on the workbench.
type bench struct {
	store.Question
	View    *workbench.View
	Study   *workbench.Study
	Refused string   // why the last change was not made
	Other   string   // the text that somebody else, or another window, has saved in between
	Said    []string // what the last change did
}

// sight is what the page's script needs of a view.
type sight struct {
	Text    string             `json:"text"`
	Title   string             `json:"title"`
	SVG     string             `json:"svg"`
	Width   float64            `json:"width"`
	Height  float64            `json:"height"`
	Scale   float64            `json:"scale"`
	Origin  [2]float64         `json:"origin"`
	Handles []workbench.Handle `json:"handles"`
	State   string             `json:"state"`            // HTML
	Things  string             `json:"things,omitempty"` // HTML; left out of quick looks
	Faults  int                `json:"faults"`
	Said    string             `json:"said,omitempty"`
	Also    []string           `json:"also,omitempty"`
	Made    string             `json:"made,omitempty"`    // the thing that was added
	Refused string             `json:"refused,omitempty"` // why an edit was not made; the rest is as before
}

// mine finds a teacher's own question; a colleague's can only be read.
func (d *desk) mine(r *http.Request, v *page.Viewer) (store.Question, error) {
	q, err := d.Store.Question(r.Context(), r.PathValue("question"))
	if err != nil {
		return q, err
	}
	if q.Owner != v.ID {
		return q, &page.Refusal{Status: http.StatusForbidden, What: "this is a colleague's question, which you can read but not change", Mend: "make it yours first"}
	}
	return q, nil
}

// bench shows a question on the workbench, or a colleague's to be read.
func (d *desk) bench(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	q, err := d.Store.Question(r.Context(), r.PathValue("question"))
	if err != nil {
		return err
	}
	if q.Owner != v.ID {
		return d.read(w, r, v, d.seen.entry(q, "shared"), q.Text)
	}
	return d.show(w, r, v, http.StatusOK, bench{Question: q})
}

func (d *desk) show(w http.ResponseWriter, r *http.Request, v *page.Viewer, status int, b bench) error {
	b.View = lookAt(b.Text, workbench.Options{ID: "bench"})
	b.Study = studyOf(b.View)
	title := b.Title
	if b.Refused != "" {
		title = "Not changed: " + title
	}
	return page.Write(w, r, v, status, page.Page{Title: title, Here: "questions", Wide: true, Bare: true,
		Styles: []string{"workbench.css"}, Scripts: []string{"workbench.js"},
		Crumbs: []page.Crumb{{Name: "Questions", Href: "/questions"}}, Body: benchPage(b)})
}

// sightOf is a view as the page's script takes it.
func sightOf(ctx context.Context, text string, v *workbench.View, quick bool) (sight, error) {
	s := sight{Text: text, Title: titleOf(text), SVG: string(v.SVG()), Scale: v.Scale, Origin: [2]float64{v.Origin.X, v.Origin.Y},
		Handles: v.Handles, Faults: len(v.Faults)}
	if v.Picture != nil {
		s.Width, s.Height = v.Picture.Width, v.Picture.Height
	}
	if s.Handles == nil {
		s.Handles = []workbench.Handle{}
	}
	var err error
	if s.State, err = written(ctx, state(v)); err != nil || quick {
		return s, err
	}
	s.Things, err = written(ctx, thingsList(v))
	return s, err
}

func written(ctx context.Context, c templ.Component) (string, error) {
	var b strings.Builder
	err := c.Render(ctx, &b)
	return b.String(), err
}

// asked is what the script asks for: a look at a text, perhaps after an edit.
type asked struct {
	Text  string          `json:"text"`
	Edit  *workbench.Edit `json:"edit"`
	Width float64         `json:"width"`
	Size  float64         `json:"size"`
	Scale float64         `json:"scale"`
	Quick bool            `json:"quick"`
}

// look works out what a text, or the text after an edit, looks like. Nothing is saved.
func (d *desk) look(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	var a asked
	if err := json.NewDecoder(r.Body).Decode(&a); err != nil {
		return unreadable(err)
	}
	text, c := a.Text, workbench.Change{}
	refused := ""
	if a.Edit != nil {
		var err error
		if c, err = apply(text, *a.Edit); err != nil {
			refused = sentence(err.Error())
		} else {
			text = c.Text
		}
	}
	o := workbench.Options{Width: within(a.Width, 200, 1600), TextSize: within(a.Size, 9, 40), Scale: within(a.Scale, 0.01, 1e5), Quick: a.Quick, ID: "bench"}
	s, err := sightOf(r.Context(), text, lookAt(text, o), a.Quick)
	if err != nil {
		return err
	}
	s.Said, s.Also, s.Refused = c.Said, c.Also, refused
	if a.Edit != nil && a.Edit.Do == "add" && refused == "" {
		s.Made = made(a.Text, text)
	}
	return answerJSON(w, http.StatusOK, s)
}

// apply makes an edit; the engine's own faults refuse it.
func apply(text string, e workbench.Edit) (c workbench.Change, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			err = errors.New("the program has a fault with this change; please report it")
		}
	}()
	return workbench.Apply(text, e)
}

// made names the thing that one text has and the other has not.
func made(was, is string) string {
	a, b := lookThings(was), lookThings(is)
	for _, n := range b {
		if !slices.Contains(a, n) {
			return n
		}
	}
	return ""
}

func lookThings(text string) (names []string) {
	q, err := question.Parse("", text)
	if err != nil {
		return nil
	}
	for i := range q.Bodies {
		names = append(names, q.Bodies[i].Name)
	}
	for i := range q.Supports {
		names = append(names, q.Supports[i].Name)
	}
	for i := range q.Loads {
		names = append(names, q.Loads[i].Name)
	}
	for i := range q.Points {
		names = append(names, q.Points[i].Name)
	}
	return names
}

// within is v between bounds; 0, for "as usual", where there is none.
func within(v, low, high float64) float64 {
	if !(v > 0) {
		return 0
	}
	return min(max(v, low), high)
}

func unreadable(err error) error {
	if big, ok := errors.AsType[*http.MaxBytesError](err); ok {
		return &page.Refusal{Status: http.StatusRequestEntityTooLarge, What: "this is far more than a question: " + strconv.FormatInt(big.Limit>>10, 10) + " kB is the most", Mend: "keep one question to a text"}
	}
	return &page.Refusal{Status: http.StatusBadRequest, What: "the page sent something that can't be read", Mend: "open it again"}
}

func answerJSON(w http.ResponseWriter, status int, v any) error {
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// study works out what takes longer, as a part of the page.
func (d *desk) study(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	var a asked
	if err := json.NewDecoder(r.Body).Decode(&a); err != nil {
		return unreadable(err)
	}
	view := lookAt(a.Text, workbench.Options{})
	return page.Part(w, r, http.StatusOK, studied(view, studyOf(view)))
}

// work takes the form of a page without script: it makes the edit that was asked for, if any, and saves.
func (d *desk) work(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	q, err := d.mine(r, v)
	if err != nil {
		return err
	}
	if err := r.ParseForm(); err != nil {
		return unreadable(err)
	}
	b := bench{Question: q}
	text := newlines(r.PostFormValue("text"))
	if !r.PostForm.Has("text") {
		text = q.Text
	}
	version, _ := strconv.Atoi(r.PostFormValue("version"))
	edits := editsOf(r.PostForm, text, text == q.Text)
	for _, e := range edits {
		c, err := apply(text, e)
		if err != nil {
			b.Text, b.Version, b.Title, b.Refused = text, version, titleOf(text), sentence(err.Error())
			return d.show(w, r, v, http.StatusUnprocessableEntity, b)
		}
		text = c.Text
	}
	if version != q.Version && text != q.Text {
		b.Other, b.Text, b.Title = q.Text, text, titleOf(text) // saved over only once the reader has seen it
		return d.show(w, r, v, http.StatusConflict, b)
	}
	if text != q.Text {
		q.Text, q.Title = text, titleOf(text)
		if _, err := d.Store.SaveQuestion(r.Context(), d.By(v), q); errors.Is(err, store.ErrChanged) {
			now, err := d.Store.Question(r.Context(), q.ID)
			if err != nil {
				return err
			}
			b.Question, b.Other, b.Text, b.Title = now, now.Text, text, titleOf(text)
			return d.show(w, r, v, http.StatusConflict, b)
		} else if err != nil {
			return err
		}
	}
	return page.Go(w, r, "/questions/"+q.ID)
}

// editsOf reads the edits that a form asks for: the one of the button that was pressed ("step|P|at|1"); else each field
// that was changed, where the notation itself was not.
func editsOf(f map[string][]string, text string, same bool) []workbench.Edit {
	get := func(k string) string {
		if v := f[k]; len(v) > 0 {
			return v[0]
		}
		return ""
	}
	do := strings.Split(get("do"), "|")
	arg := func(i int) string {
		if i < len(do) {
			return do[i]
		}
		return ""
	}
	switch do[0] {
	case "step":
		n, _ := strconv.Atoi(arg(3))
		up, _ := strconv.Atoi(arg(4))
		return []workbench.Edit{{Do: "step", Thing: arg(1), What: arg(2), X: float64(n), Y: float64(up)}}
	case "set":
		return []workbench.Edit{{Do: "set", Thing: arg(1), What: arg(2), To: get("set|" + arg(1) + "|" + arg(2))}}
	case "remove":
		return []workbench.Edit{{Do: "remove", Thing: arg(1)}}
	case "rename":
		return []workbench.Edit{{Do: "rename", Thing: arg(1), To: get("rename|" + arg(1))}}
	case "add":
		return []workbench.Edit{{Do: "add", What: get("add-kind"), Thing: get("add-body")}}
	case "ask":
		return []workbench.Edit{{Do: "add", What: "part", To: get("add-ask")}}
	case "vary":
		return []workbench.Edit{{Do: "add", What: "vary", To: get("add-vary")}}
	}
	if !same {
		return nil
	}
	var list []workbench.Edit
	for _, t := range lookAt(text, workbench.Options{Quick: true}).Things {
		for _, x := range t.Fields {
			k := "set|" + t.Name + "|" + x.What
			if v, ok := f[k]; ok && len(v) > 0 && strings.TrimSpace(v[0]) != x.Value {
				list = append(list, workbench.Edit{Do: "set", Thing: t.Name, What: x.What, To: v[0]})
			}
		}
	}
	return list
}

// rows is how many lines a box for a text shows.
func rows(text string) string { return strconv.Itoa(min(max(strings.Count(text, "\n")+2, 12), 30)) }

// fieldID is the id of a field on the page.
func fieldID(t workbench.Thing, f workbench.Field) string { return "f-" + plain(t.Name) + "-" + f.What }

// plain is a name as part of an id.
func plain(name string) string { return strings.NewReplacer(" ", "_", ".", "_").Replace(name) }

// grip is the handle that goes with a field.
func grip(f workbench.Field) string {
	if f.What == "weight-acts" {
		return "centre"
	}
	return f.What
}

func heading(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// varying lists the numbers that could differ from pupil to pupil and don't yet.
func varying(q *question.Question) []string {
	var list []string
	for _, n := range q.Numbers() {
		if v := q.Value(n.Thing, n.Attribute); v == nil || !v.Known() {
			continue
		}
		if !slices.ContainsFunc(q.Vary, func(y question.Vary) bool { return y.Thing == n.Thing && y.Attribute == n.Attribute }) {
			list = append(list, n.Thing+"."+n.Attribute)
		}
	}
	return list
}

// sightHandles is what the script begins with; the rest stands on the page already.
func sightHandles(b bench) sight {
	s := sight{Scale: b.View.Scale, Origin: [2]float64{b.View.Origin.X, b.View.Origin.Y}, Handles: b.View.Handles, Faults: len(b.View.Faults)}
	if b.View.Picture != nil {
		s.Width, s.Height = b.View.Picture.Width, b.View.Picture.Height
	}
	if s.Handles == nil {
		s.Handles = []workbench.Handle{}
	}
	return s
}
