package classes

import (
	"mime"
	"net/http"
	"slices"
	"strconv"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/web/page"
)

// A newCode is a code that has just been made: it is printed once, and only its hash is kept.
type newCode struct {
	homework.Pupil
	Personal string
}

func (m *room) codes(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	return m.sendCodes(w, r, v, page.Field{Name: "who", Label: "For whom"})
}

func (m *room) sendCodes(w http.ResponseWriter, r *http.Request, v *page.Viewer, who page.Field) error {
	c, pupils, err := m.classAndPupils(r)
	if err != nil {
		return err
	}
	view := codesView{Class: c, Pupils: present(pupils), Who: who, Host: m.Host, One: r.FormValue("pupil")}
	for _, p := range view.Pupils {
		if p.Code == "" {
			view.Codeless++
		}
		if p.ID == view.One {
			view.Pupil = p.Name
		}
	}
	if view.Pupil == "" {
		view.One = ""
	}
	return page.Write(w, r, v, status(who), page.Page{Title: titled("Codes of "+c.Name, who), Here: "classes", Styles: styles, Scripts: scripts, Bare: true, Crumbs: classCrumb(c), Body: codesPage(view)})
}

// A codesView is what stands on the page about a class's codes.
type codesView struct {
	homework.Class
	Pupils     []homework.Pupil
	Codeless   int
	Who        page.Field
	Host       string
	One, Pupil string // a single pupil whose code is asked for, and the name
}

// makeCodes makes codes and answers with the slips: there is no other time at which they can be had.
func (m *room) makeCodes(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	c, pupils, err := m.classAndPupils(r)
	if err != nil {
		return err
	}
	who := page.Field{Name: "who", Label: "For whom", Value: r.PostFormValue("who")}
	var chosen []homework.Pupil
	for _, p := range present(pupils) {
		if who.Value == "all" || who.Value == "new" && p.Code == "" || who.Value == p.ID {
			chosen = append(chosen, p)
		}
	}
	if len(chosen) == 0 {
		who.Fault = "choose pupils who are in the class"
	}
	again := slices.ContainsFunc(chosen, func(p homework.Pupil) bool { return p.Code != "" })
	if again && r.PostFormValue("sure") == "" {
		who.Fault = "codes that were given out stop working; tick that you want that"
	}
	if who.Fault != "" {
		return m.sendCodes(w, r, v, who)
	}
	slices.SortStableFunc(chosen, func(a, b homework.Pupil) int { // those in large print last: their slips are larger
		return large(a) - large(b)
	})
	made := make([]newCode, len(chosen))
	for i, p := range chosen {
		if err := r.Context().Err(); err != nil {
			return err
		}
		made[i] = newCode{p, account.NewCode()}
		made[i].Code = m.Codes.Hash(c.ID, made[i].Personal)
	}
	as := r.PostFormValue("as")
	var file []byte
	if as != "page" { // before anything is kept: a slip that can't be printed must not end an old code
		if file, err = slips(c, m.Host, made); err != nil {
			return err
		}
	}
	for _, n := range made {
		if err := m.Store.SavePupil(r.Context(), m.By(v), n.Pupil); err != nil {
			return err
		}
	}
	if as == "page" {
		return page.Write(w, r, v, 200, page.Page{Title: "Slips to cut out", Here: "classes", Styles: styles, Scripts: scripts, Crumbs: classCrumb(c), Body: slipsPage(c, m.Host, made)})
	}
	return sendPDF(w, "codes.pdf", file)
}

// large is 1 for a pupil who has large print, else 0.
func large(p homework.Pupil) int {
	if p.Access.TextSize >= 16 {
		return 1
	}
	return 0
}

// sendPDF sends a file to keep or print. Its name says nothing of anybody.
func sendPDF(w http.ResponseWriter, name string, file []byte) error {
	w.Header().Set("Content-Type", "application/pdf")
	w.Header().Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": name}))
	w.Header().Set("Content-Length", strconv.Itoa(len(file)))
	_, err := w.Write(file)
	return err
}
