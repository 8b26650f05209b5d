package classes

import (
	"bytes"
	"fmt"
	"mime"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"steelyard/homework"
	"steelyard/web/page"
)

// Sizes of text in points that may be chosen, tints of paper, and the most extra time in per cent.
var (
	textSizes = []int{14, 16, 18, 20, 24, 28, 36}
	tints     = []string{"cream", "blue", "green", "rose"}
)

const (
	mostExtra   = 300
	mostLetters = 120 // of a pupil's name, as in lists
)

// pupilForm are the fields about a pupil.
type pupilForm struct {
	Name, Extra page.Field
	Access      homework.Access
}

func pupilFormOf(p homework.Pupil) pupilForm {
	f := pupilForm{
		Name:   page.Field{Name: "name", Label: "Name", Hint: "As it is printed on sheets; a nickname will do", Value: p.Name, Need: true, Most: mostLetters, Autocomplete: "off"},
		Extra:  page.Field{Name: "extra", Label: "Extra time, per cent", Hint: "Of the time from opening to closing; 25 is a quarter more", Inputmode: "numeric", Most: 4, Autocomplete: "off"},
		Access: p.Access,
	}
	if p.Access.ExtraTime > 0 {
		f.Extra.Value = strconv.Itoa(p.Access.ExtraTime)
	}
	return f
}

func (f *pupilForm) read(r *http.Request) {
	f.Name.Value, f.Extra.Value = plain(r.PostFormValue("name")), plain(r.PostFormValue("extra"))
	f.Name.Fault = named(f.Name.Value, "the pupil a name", mostLetters)
	f.Access = homework.Access{Description: r.PostFormValue("description") != ""}
	if n, err := strconv.Atoi(r.PostFormValue("size")); err == nil && slices.Contains(textSizes, n) {
		f.Access.TextSize = n
	}
	if t := r.PostFormValue("tint"); slices.Contains(tints, t) {
		f.Access.Tint = t
	}
	if f.Extra.Value == "" {
		return
	}
	n, err := strconv.Atoi(strings.TrimSuffix(f.Extra.Value, "%"))
	if f.Access.ExtraTime = n; err != nil || n < 0 || n > mostExtra {
		f.Extra.Fault = fmt.Sprintf("write a whole number from 0 to %d", mostExtra)
	}
}

func (f *pupilForm) fields() []page.Field { return []page.Field{f.Name, f.Extra} }

// pupilOf finds the pupil of an address, within the class of it.
func (m *room) pupilOf(r *http.Request) (c homework.Class, p homework.Pupil, err error) {
	if c, err = m.Store.Class(r.Context(), r.PathValue("class")); err != nil {
		return c, p, err
	}
	if p, err = m.Store.Pupil(r.Context(), r.PathValue("pupil")); err == nil && p.Class != c.ID {
		err = page.NotFound
	}
	return c, p, err
}

func (m *room) pupil(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	c, p, err := m.pupilOf(r)
	if err != nil {
		return err
	}
	return m.sendPupil(w, r, v, c, p, pupilFormOf(p))
}

func (m *room) sendPupil(w http.ResponseWriter, r *http.Request, v *page.Viewer, c homework.Class, p homework.Pupil, f pupilForm) error {
	return page.Write(w, r, v, status(f.fields()...), page.Page{Title: titled(p.Name, f.fields()...), Here: "classes", Styles: styles, Bare: true,
		Crumbs: classCrumb(c), Body: pupilPage(c, p, f)})
}

func (m *room) savePupil(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	c, p, err := m.pupilOf(r)
	if err != nil {
		return err
	}
	f := pupilFormOf(p)
	f.read(r)
	if faulty(f.fields()...) {
		return m.sendPupil(w, r, v, c, p, f)
	}
	p.Name, p.Access = f.Name.Value, f.Access
	if err := m.Store.SavePupil(r.Context(), m.By(v), p); err != nil {
		return err
	}
	return page.Go(w, r, "/classes/"+c.ID)
}

func (m *room) leftPupil(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	return m.leave(w, r, v, m.Now())
}

func (m *room) backPupil(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	return m.leave(w, r, v, time.Time{})
}

func (m *room) leave(w http.ResponseWriter, r *http.Request, v *page.Viewer, at time.Time) error {
	c, p, err := m.pupilOf(r)
	if err != nil {
		return err
	}
	if p.Left.IsZero() != at.IsZero() {
		p.Left = at
		if err := m.Store.SavePupil(r.Context(), m.By(v), p); err != nil {
			return err
		}
	}
	return page.Go(w, r, "/classes/"+c.ID)
}

// exportPupil sends all that is kept of a pupil. It is asked for by a form, since the history tells it.
func (m *room) exportPupil(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	_, p, err := m.pupilOf(r)
	if err != nil {
		return err
	}
	var file bytes.Buffer // whole before it goes: half a file would look like all there is
	if err := m.Store.ExportPupil(r.Context(), m.By(v), p.ID, &file); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/zip")
	w.Header().Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": "pupil-" + p.ID + ".zip"}))
	_, err = w.Write(file.Bytes())
	return err
}

func (m *room) askErase(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	return m.sendErase(w, r, v, page.Field{Name: "sure", Label: "Erase"})
}

func (m *room) sendErase(w http.ResponseWriter, r *http.Request, v *page.Viewer, sure page.Field) error {
	c, p, err := m.pupilOf(r)
	if err != nil {
		return err
	}
	return page.Write(w, r, v, status(sure), page.Page{Title: titled("Erase "+p.Name, sure), Here: "classes", Styles: styles, Bare: true,
		Crumbs: append(classCrumb(c), page.Crumb{Name: p.Name, Href: "/classes/" + c.ID + "/pupils/" + p.ID}), Body: erasePage(c, p, sure)})
}

func (m *room) erasePupil(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	c, p, err := m.pupilOf(r)
	if err != nil {
		return err
	}
	if r.PostFormValue("sure") == "" {
		return m.sendErase(w, r, v, page.Field{Name: "sure", Label: "Erase", Fault: "tick the box, if you are sure"})
	}
	if err := m.Store.ErasePupil(r.Context(), m.By(v), p.ID); err != nil {
		return err
	}
	m.Marker.Forget()
	return page.Go(w, r, "/classes/"+c.ID)
}
