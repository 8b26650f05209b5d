package sign

import (
	"fmt"
	"net/http"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/store"
	"steelyard/web/page"
)

// A pupilPage is the form with which pupils sign in.
type pupilPage struct {
	Class, Code page.Field
	To          string
}

func pupilFields(class, code string) pupilPage {
	return pupilPage{
		Class: page.Field{Name: "class", Label: "Class code", Hint: "Six letters and digits", Value: class, Autocomplete: "organization", Most: 40},
		Code:  page.Field{Name: "code", Label: "Your own code", Hint: "Two groups of four. You may also paste both codes here together.", Value: code, Autocomplete: "current-password", Most: 40},
	}
}

func (d *room) pupilForm(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	if v.Signed() {
		return page.Go(w, r, home(v.Role))
	}
	p := pupilFields("", "")
	p.To = within(r.URL.Query().Get("to"), "")
	return d.sendPupil(w, r, v, http.StatusOK, p)
}

func (d *room) sendPupil(w http.ResponseWriter, r *http.Request, v *page.Viewer, status int, p pupilPage) error {
	return send(w, r, v, status, page.Page{Title: titled("Sign in as a pupil", p.Class, p.Code), Here: "sign-in", Body: pupilIn(p)})
}

const (
	wrongCodes  = "these two codes do not go together: check them against your slip. No code has the letters O, I or L, or the digits 0 or 1."
	lockedClass = "too many wrong codes were tried for this class: ask your teacher to let you in again"
)

// pupilIn checks a class code and a personal code. Wrong tries are counted for the code, the class and the address; a
// class code that no class has is treated as one that some class has, to the last wait.
func (d *room) pupilIn(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	p := pupilFields(r.PostFormValue("class"), r.PostFormValue("code"))
	p.To = within(r.PostFormValue("to"), "")
	code, personal := account.ReadPair(p.Class.Value, p.Code.Value)
	if code == "" || personal == "" {
		p.Class.Fault, p.Code.Fault = missing(code, "type the code of your class"), missing(personal, "type your own code")
		return d.sendPupil(w, r, v, http.StatusUnprocessableEntity, p)
	}
	class, err := d.Store.ClassByCode(r.Context(), code)
	if unless(err, store.ErrNotFound) != nil {
		return err
	}
	targets := targetsOf(class, code, personal, addressOf(r))
	if fault := d.held(w, class, d.tries.Holds(d.Now(), targets...)); fault != "" {
		p.Code.Fault = fault
		return d.sendPupil(w, r, v, http.StatusTooManyRequests, p)
	}
	pupil, err := d.pupilWith(r, class, personal)
	if err != nil {
		return err
	}
	h, wrong := d.tries.Judge(d.Now(), pupil.ID != "", targets...)
	if fault := d.held(w, class, h); fault != "" {
		p.Code.Fault = fault
		return d.sendPupil(w, r, v, http.StatusTooManyRequests, p)
	}
	if pupil.ID == "" {
		if err := d.lock(r, class, wrong); err != nil {
			return err
		}
		p.Code.Fault = wrongCodes
		return d.sendPupil(w, r, v, http.StatusUnprocessableEntity, p)
	}
	if err := d.start(w, r, account.PupilOf, pupil.ID); err != nil {
		return err
	}
	return page.Go(w, r, within(p.To, home(account.PupilOf)))
}

// targetsOf are what wrong tries are counted for. A class that the teacher has let in again starts anew.
func targetsOf(class homework.Class, code, personal, from string) []account.Target {
	named := "no class " + account.HashToken(code)
	if class.ID != "" {
		named = fmt.Sprint("class ", class.ID, " ", class.Version)
	}
	return []account.Target{{What: named, Pace: account.OfClass}, {What: account.HashToken("code " + personal), Pace: account.OfCode},
		{What: "pupils from " + from, Pace: account.OfAddress}}
}

// held says why no try is taken now; "" if one is.
func (d *room) held(w http.ResponseWriter, class homework.Class, h account.Hold) string {
	switch {
	case h.Locked || !class.Locked.IsZero():
		return lockedClass
	case h.Wait > 0:
		return slowed(w, h.Wait)
	}
	return ""
}

// pupilWith finds the pupil of a class with a code, or none; a class that is none costs the same.
func (d *room) pupilWith(r *http.Request, class homework.Class, personal string) (homework.Pupil, error) {
	pupils, err := d.Store.Pupils(r.Context(), class.ID)
	if unless(err, store.ErrNotFound) != nil {
		return homework.Pupil{}, err
	}
	codes := make([]string, len(pupils))
	for i, p := range pupils {
		if p.Left.IsZero() {
			codes[i] = p.Code
		}
	}
	i := account.Find(d.Codes.Hash(class.ID, personal), codes)
	if i < 0 {
		return homework.Pupil{}, nil
	}
	return pupils[i], nil
}

// lock locks the sign-in of a class when there have been too many wrong tries.
func (d *room) lock(r *http.Request, class homework.Class, wrong int) error {
	if wrong < account.OfClass.Lock || class.ID == "" {
		return nil
	}
	class.Locked = d.Now()
	err := d.Store.SaveClass(r.Context(), store.By{At: class.Locked}, class)
	return unless(err, store.ErrChanged) // by the teacher, just now
}
