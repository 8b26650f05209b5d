package questions

import (
	"encoding/json"
	"errors"
	"net/http"
	"strconv"
	"strings"
	"time"

	"steelyard/store"
	"steelyard/web/page"
)

// A draft is what the page's script saves.
type draft struct {
	Text    string `json:"text"`
	Version int    `json:"version"` // that it began from
}

// A saved draft has a new version; where somebody else was faster, their text and version come back and nothing is
// written.
type saved struct {
	Version int    `json:"version"`
	Other   string `json:"other,omitempty"`
	Changed bool   `json:"changed,omitempty"`
}

// save keeps what the page has, finished or not.
func (d *desk) save(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	var a draft
	if err := json.NewDecoder(r.Body).Decode(&a); err != nil {
		return unreadable(err)
	}
	q, err := d.mine(r, v)
	if err != nil {
		return err
	}
	if q.Text == a.Text {
		return answerJSON(w, http.StatusOK, saved{Version: q.Version})
	}
	other := q
	q.Text, q.Title, q.Version = a.Text, titleOf(a.Text), a.Version
	version, err := d.Store.SaveQuestion(r.Context(), d.By(v), q)
	if errors.Is(err, store.ErrChanged) {
		if other.Version == a.Version { // it changed between our reading and our writing
			if other, err = d.Store.Question(r.Context(), q.ID); err != nil {
				return err
			}
		}
		return answerJSON(w, http.StatusConflict, saved{Version: other.Version, Other: other.Text, Changed: true})
	}
	if err != nil {
		return err
	}
	return answerJSON(w, http.StatusOK, saved{Version: version})
}

// change changes something of a question besides its text, whatever its version.
func (d *desk) change(w http.ResponseWriter, r *http.Request, v *page.Viewer, to string, do func(*store.Question)) error {
	for range 3 {
		q, err := d.mine(r, v)
		if err != nil {
			return err
		}
		do(&q)
		_, err = d.Store.SaveQuestion(r.Context(), d.By(v), q)
		if err == nil {
			if to == "" {
				to = "/questions/" + q.ID
			}
			return page.Go(w, r, to)
		}
		if !errors.Is(err, store.ErrChanged) {
			return err
		}
	}
	return &page.Refusal{Status: http.StatusConflict, What: "the question is being changed somewhere else", Mend: "try again in a moment"}
}

// share lets colleagues read and copy a question, or ends that.
func (d *desk) share(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	on := r.FormValue("shared") == "yes"
	return d.change(w, r, v, "", func(q *store.Question) { q.Shared = on })
}

// away puts a question away, or takes it out again. Nothing is lost by it.
func (d *desk) away(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	back := r.FormValue("back") == "yes"
	to := "/questions"
	if back {
		to = ""
	}
	return d.change(w, r, v, to, func(q *store.Question) {
		if q.Gone = d.Now(); back {
			q.Gone = time.Time{}
		}
	})
}

// copy makes a question of one's own from one's own or a colleague's; with a text, from that.
func (d *desk) copy(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	q, err := d.Store.Question(r.Context(), r.PathValue("question"))
	if err != nil {
		return err
	}
	text := q.Text
	if t := newlines(r.FormValue("text")); strings.TrimSpace(t) != "" {
		text = t
	}
	id, err := d.add(r, v, text)
	if err != nil {
		return err
	}
	return page.Go(w, r, "/questions/"+id)
}

// versions lists the versions of a question ("all"), or shows one of them.
func (d *desk) versions(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	q, err := d.mine(r, v)
	if err != nil {
		return err
	}
	list, err := d.Store.Versions(r.Context(), q.ID)
	if err != nil {
		return err
	}
	p := page.Page{Title: "Versions of " + q.Title, Here: "questions", Styles: []string{"workbench.css"},
		Crumbs: []page.Crumb{{Name: "Questions", Href: "/questions"}, {Name: q.Title, Href: "/questions/" + q.ID}}}
	if which := r.PathValue("version"); which != "all" {
		one, ok := versionOf(list, which)
		if !ok {
			return page.NotFound
		}
		p.Title = "Version " + which + " of " + q.Title
		p.Crumbs = append(p.Crumbs, page.Crumb{Name: "Versions", Href: "/questions/" + q.ID + "/versions/all"})
		p.Body = versionPage(q, one, list[0].N == one.N)
		return page.Write(w, r, v, http.StatusOK, p)
	}
	p.Body = versionsPage(q, list)
	return page.Write(w, r, v, http.StatusOK, p)
}

func versionOf(list []store.Version, n string) (store.Version, bool) {
	for _, x := range list {
		if strconv.Itoa(x.N) == n {
			return x, true
		}
	}
	return store.Version{}, false
}

// version names the text as it stands, or makes an earlier one stand again.
func (d *desk) version(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	q, err := d.mine(r, v)
	if err != nil {
		return err
	}
	all := "/questions/" + q.ID + "/versions/all"
	if n := r.FormValue("restore"); n != "" {
		list, err := d.Store.Versions(r.Context(), q.ID)
		if err != nil {
			return err
		}
		one, ok := versionOf(list, n)
		if !ok {
			return page.NotFound
		}
		// The text that gives way is kept under a name, so that going back can be gone back on.
		if err := d.Store.NameVersion(r.Context(), d.By(v), q.ID, "before going back to version "+n); err != nil {
			return err
		}
		return d.change(w, r, v, "", func(q *store.Question) { q.Text, q.Title = one.Text, titleOf(one.Text) })
	}
	name := strings.Join(strings.Fields(r.FormValue("name")), " ")
	if name == "" || len(name) > 100 {
		return &page.Refusal{Status: http.StatusUnprocessableEntity, What: "a version is named in up to a hundred characters", Mend: "go back and write a few words, such as: before the mock exam"}
	}
	if err := d.Store.NameVersion(r.Context(), d.By(v), q.ID, name); err != nil {
		return err
	}
	return page.Go(w, r, all)
}
