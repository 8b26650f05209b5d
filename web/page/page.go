package page

import (
	"fmt"
	"net/http"
	"strconv"

	"github.com/a-h/templ"

	"steelyard/account"
)

// Write sends a page.
func Write(w http.ResponseWriter, r *http.Request, v *Viewer, status int, p Page) error {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	return layout(v, p).Render(r.Context(), w)
}

// Part sends a part of a page, for a page that is open already.
func Part(w http.ResponseWriter, r *http.Request, status int, c templ.Component) error {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	return c.Render(r.Context(), w)
}

// Go sends the browser on to another page after a change.
func Go(w http.ResponseWriter, r *http.Request, to string) error {
	http.Redirect(w, r, to, http.StatusSeeOther)
	return nil
}

type entry struct{ Name, Href, Here string }

// entries are those of the navigation.
func entries(v *Viewer) []entry {
	switch v.Role {
	case account.PupilOf:
		return []entry{{"My work", "/work", "work"}, {v.Name, "/account", "account"}}
	case account.Teacher, account.Head:
		return []entry{{"Questions", "/questions", "questions"}, {"Classes", "/classes", "classes"}, {v.Name, "/account", "account"}}
	}
	return []entry{{"Sign in", "/sign-in", "sign-in"}}
}

// theme is the class of the whole page.
func theme(v *Viewer) string {
	s := v.Theme
	if v.Large {
		s += " large"
	}
	if v.Access.Tint != "" {
		s += " tint-" + v.Access.Tint
	}
	return s
}

func (f Field) attributes() templ.Attributes {
	a := templ.Attributes{"id": f.Name, "name": f.Name}
	kind, most := f.Type, f.Most
	if kind == "" {
		kind = "text"
	}
	if most == 0 {
		most = 200
	}
	if f.Lines == 0 {
		a["type"] = kind
	}
	a["maxlength"] = strconv.Itoa(most)
	described := ""
	if f.Hint != "" {
		described = f.Name + "-hint"
	}
	if f.Fault != "" {
		described += " " + f.Name + "-fault"
		a["aria-invalid"] = "true"
	}
	if described != "" {
		a["aria-describedby"] = described
	}
	if f.Autocomplete != "" {
		a["autocomplete"] = f.Autocomplete
	}
	if f.Inputmode != "" {
		a["inputmode"] = f.Inputmode
	}
	if f.Need {
		a["required"] = true
	}
	return a
}

func (f Field) rows() string { return strconv.Itoa(f.Lines) }

func faulty(fields []Field) (list []Field) {
	for _, f := range fields {
		if f.Fault != "" {
			list = append(list, f)
		}
	}
	return list
}

// count is a number with its noun.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprint(n, " ", many)
}
