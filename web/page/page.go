package page

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"github.com/a-h/templ"

	"steelyard/account"
)

// Write sends a page.
func Write(w http.ResponseWriter, r *http.Request, v *Viewer, status int, p Page) error {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	return layout(v, p).Render(r.Context(), w)
}

// Of is the name of a hidden field that says who a form was opened by. A form that somebody else sends is refused.
const Of = "of"

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

type entry struct {
	Name, Href, Here string
	Own              bool // the first of those at the right
}

// entries are those of the navigation.
func entries(v *Viewer) []entry {
	var list []entry
	switch v.Role {
	case account.PupilOf:
		list = []entry{{Name: "My work", Href: "/work", Here: "work"}}
	case account.Teacher, account.Head:
		list = []entry{{Name: "Today", Href: "/today", Here: "today"}, {Name: "Questions", Href: "/questions", Here: "questions"}, {Name: "Classes", Href: "/classes", Here: "classes"}}
	}
	own := entry{Name: v.Name, Href: "/account", Here: "account", Own: true}
	if !v.Signed() {
		own = entry{Name: "Sign in", Href: "/sign-in", Here: "sign-in", Own: true}
	}
	return append(list, own, entry{Name: "Help", Href: "/help", Here: "help"})
}

// theme is the class of the whole page.
func theme(v *Viewer) string {
	list := []string{}
	add := func(yes bool, class string) {
		if yes {
			list = append(list, class)
		}
	}
	add(v.Theme != "", v.Theme)
	add(v.Large, "large")
	add(v.Access.Tint != "", "tint-"+v.Access.Tint)
	if n := textSize(v.Access.TextSize); n > 0 {
		add(true, "text-"+strconv.Itoa(n))
	}
	return strings.Join(list, " ")
}

// scheme is what the browser's own parts (scroll bars, lists to choose from) keep to.
func scheme(v *Viewer) string {
	switch {
	case v.Theme != "":
		return v.Theme
	case v.Access.Tint != "":
		return "light"
	}
	return "light dark"
}

// textSizes are the sizes that look.css knows, in points on paper.
var textSizes = []int{14, 16, 18, 20, 24, 28, 36}

// textSize is the least of the known sizes that isn't smaller; 0 if the text stays as usual.
func textSize(points int) int {
	if points <= 12 {
		return 0
	}
	for _, n := range textSizes {
		if n >= points {
			return n
		}
	}
	return textSizes[len(textSizes)-1]
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
