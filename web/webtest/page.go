package webtest

import (
	"net/http"
	"net/url"
	"slices"
	"strings"

	"golang.org/x/net/html"
)

// A Page is an answer. Root is nil if it is no page of HTML.
type Page struct {
	c      *Client
	Status int
	Header http.Header
	Path   string // without the query
	Body   string
	Root   *html.Node
}

// Want fails the test if the status is another.
func (p *Page) Want(status int) *Page {
	p.c.T.Helper()
	if p.Status != status {
		p.c.T.Fatalf("%s: status %d, want %d:\n%s", p.Path, p.Status, status, p.Text())
	}
	return p
}

// Has fails the test if a text can't be read on the page.
func (p *Page) Has(texts ...string) *Page {
	p.c.T.Helper()
	for _, text := range texts {
		if !strings.Contains(p.Text(), text) {
			p.c.T.Errorf("%s does not say %q:\n%s", p.Path, text, p.Text())
		}
	}
	return p
}

// Lacks fails the test if a text can be read on the page.
func (p *Page) Lacks(texts ...string) *Page {
	p.c.T.Helper()
	for _, text := range texts {
		if strings.Contains(p.Text(), text) {
			p.c.T.Errorf("%s says %q:\n%s", p.Path, text, p.Text())
		}
	}
	return p
}

// Text is what can be read on the page, one space between words.
func (p *Page) Text() string {
	if p.Root == nil {
		return p.Body
	}
	return text(p.Root)
}

func text(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode && d.Parent.Data != "script" && d.Parent.Data != "style" {
			b.WriteString(d.Data + " ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// All are the elements of a name that have an attribute with a value; a name or value of "" fits all.
func (p *Page) All(element, attribute, value string) (list []*html.Node) {
	if p.Root == nil {
		return nil
	}
	for n := range p.Root.Descendants() {
		if n.Type != html.ElementNode || element != "" && n.Data != element {
			continue
		}
		if got, ok := attr(n, attribute); attribute == "" || ok && (value == "" || got == value) {
			list = append(list, n)
		}
	}
	return list
}

// Attr is an attribute of an element; "" if there is none.
func Attr(n *html.Node, name string) string {
	value, _ := attr(n, name)
	return value
}

// TextOf is what can be read in an element.
func TextOf(n *html.Node) string { return text(n) }

func attr(n *html.Node, name string) (string, bool) {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val, true
		}
	}
	return "", false
}

// Field is the field with a label that begins so.
func (p *Page) Field(label string) *html.Node {
	p.c.T.Helper()
	for _, l := range p.All("label", "", "") {
		if !strings.HasPrefix(text(l), label) {
			continue
		}
		if id := Attr(l, "for"); id != "" {
			if f := p.All("", "id", id); len(f) > 0 {
				return f[0]
			}
		}
		for n := range l.Descendants() {
			if isField(n) {
				return n
			}
		}
	}
	for _, f := range p.All("", "aria-label", "") {
		if isField(f) && strings.HasPrefix(Attr(f, "aria-label"), label) {
			return f
		}
	}
	p.c.T.Fatalf("%s has no field with the label %q:\n%s", p.Path, label, p.Text())
	return nil
}

func isField(n *html.Node) bool {
	return n.Type == html.ElementNode && slices.Contains([]string{"input", "select", "textarea"}, n.Data)
}

// Submit presses the first button whose text begins so, with fields filled in by label or by name, and follows where it
// leads. A box is ticked with "yes" and cleared with "".
func (p *Page) Submit(button string, fill Values) *Page {
	p.c.T.Helper()
	b := p.button(button)
	form := up(b, "form")
	if id := Attr(b, "form"); id != "" {
		form = p.All("form", "id", id)[0]
	}
	if form == nil {
		p.c.T.Fatalf("%s: the button %q stands in no form", p.Path, button)
	}
	values := fields(form)
	if name := Attr(b, "name"); name != "" {
		values.Set(name, Attr(b, "value"))
	}
	for key, value := range fill {
		name, f := key, (*html.Node)(nil)
		if _, ok := values[key]; !ok {
			f = p.fieldIn(form, key)
			name = Attr(f, "name")
		}
		switch {
		case f != nil && Attr(f, "type") == "radio":
			values.Set(name, Attr(f, "value"))
		case f != nil && Attr(f, "type") == "checkbox" && value == "":
			values.Del(name)
		case f != nil && Attr(f, "type") == "checkbox" && value == "yes":
			values.Add(name, orOn(Attr(f, "value")))
		default:
			values.Set(name, value)
		}
	}
	action := Attr(form, "action")
	if to := Attr(b, "formaction"); to != "" {
		action = to
	}
	if action == "" {
		action = p.Path
	}
	if !strings.HasPrefix(action, "/") {
		base, _ := url.Parse(p.Path)
		to, err := base.Parse(action)
		if err != nil {
			p.c.T.Fatal(err)
		}
		action = to.String()
	}
	if strings.EqualFold(Attr(form, "method"), "post") {
		return p.c.Post(action, values)
	}
	return p.c.Get(action + "?" + values.Encode())
}

func (p *Page) button(label string) *html.Node {
	p.c.T.Helper()
	for _, b := range append(p.All("button", "", ""), p.All("input", "type", "submit")...) {
		if strings.HasPrefix(text(b), label) || b.Data == "input" && strings.HasPrefix(Attr(b, "value"), label) {
			return b
		}
	}
	p.c.T.Fatalf("%s has no button %q:\n%s", p.Path, label, p.Text())
	return nil
}

// fieldIn is the field of a form with a label that begins so, or with that name.
func (p *Page) fieldIn(form *html.Node, key string) *html.Node {
	p.c.T.Helper()
	for n := range form.Descendants() {
		if isField(n) && Attr(n, "name") == key {
			return n
		}
	}
	whole := p.Root
	p.Root = form
	defer func() { p.Root = whole }()
	for _, l := range p.All("label", "", "") {
		if !strings.HasPrefix(text(l), key) {
			continue
		}
		for n := range form.Descendants() {
			if isField(n) && (Attr(l, "for") != "" && Attr(n, "id") == Attr(l, "for") || up(n, "label") == l) {
				return n
			}
		}
	}
	return p.Field(key)
}

// fields are what a form sends as it stands.
func fields(form *html.Node) url.Values {
	v := url.Values{}
	for n := range form.Descendants() {
		name := Attr(n, "name")
		if !isField(n) || name == "" {
			continue
		}
		if _, off := attr(n, "disabled"); off {
			continue
		}
		_, checked := attr(n, "checked")
		switch kind := Attr(n, "type"); {
		case n.Data == "textarea":
			v.Add(name, strings.TrimPrefix(whole(n), "\n"))
		case n.Data == "select":
			if value, ok := chosen(n); ok {
				v.Add(name, value)
			}
		case kind == "radio", kind == "checkbox":
			if checked {
				v.Add(name, orOn(Attr(n, "value")))
			}
		case kind != "submit" && kind != "file" && kind != "button":
			v.Add(name, Attr(n, "value"))
		}
	}
	return v
}

func chosen(list *html.Node) (value string, ok bool) {
	for n := range list.Descendants() {
		if n.Type != html.ElementNode || n.Data != "option" {
			continue
		}
		mine, has := attr(n, "value")
		if !has {
			mine = text(n)
		}
		if _, selected := attr(n, "selected"); selected {
			return mine, true
		}
		if !ok {
			value, ok = mine, true
		}
	}
	return value, ok
}

func whole(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return b.String()
}

func orOn(value string) string {
	if value == "" {
		return "on"
	}
	return value
}

func up(n *html.Node, element string) *html.Node {
	for n != nil && n.Data != element {
		n = n.Parent
	}
	return n
}

// Follow opens the link whose text begins so.
func (p *Page) Follow(link string) *Page {
	p.c.T.Helper()
	for _, a := range p.All("a", "href", "") {
		if strings.HasPrefix(text(a), link) {
			return p.c.Get(Attr(a, "href"))
		}
	}
	p.c.T.Fatalf("%s has no link %q:\n%s", p.Path, link, p.Text())
	return nil
}
