package classes

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"steelyard/homework"
	"steelyard/mark"
	"steelyard/web/page"
)

// whens are the moments at which something is shown, with the values of the form's fields.
var whens = []struct {
	when         homework.When
	value, words string
}{
	{homework.Never, "never", "never"},
	{homework.Always, "open", "from the start"},
	{homework.HandedIn, "handed-in", "once the pupil has handed in"},
	{homework.Closed, "closed", "once it has closed"},
	{homework.Released, "released", "once you release the marks"},
}

func whenWords(w homework.When) string {
	for _, x := range whens {
		if x.when == w {
			return x.words
		}
	}
	return "never"
}

// showing is one of the things that are shown at some time.
type showing struct {
	name, label string
	when        *homework.When
}

func shown(s *homework.Show) []showing {
	return []showing{{"hints", "Hints", &s.Hints}, {"marks", "Marks", &s.Marks}, {"feedback", "Feedback", &s.Feedback}, {"solution", "Worked solution", &s.Solution}}
}

// choices are the rules of marking that a teacher chooses, in plain words. An empty value is the default.
var choices = []struct {
	name, legend string
	of           func(p *mark.Policy) *mark.Choice
	options      []page.Option
}{
	{"unit", "Units", func(p *mark.Policy) *mark.Choice { return &p.UnitNeeded }, []page.Option{
		{Value: "", Label: "A missing or wrong unit costs the answer's mark, once a question"},
		{Value: "no", Label: "Units cost nothing"}}},
	{"figures", "Significant figures", func(p *mark.Policy) *mark.Choice { return &p.FiguresNeeded }, []page.Option{
		{Value: "", Label: "Too few cost a mark only where a part asks for figures, or where only one is given"},
		{Value: "yes", Label: "Too few always cost the answer's mark"},
		{Value: "no", Label: "Figures cost nothing"}}},
	{"bare", "A right answer without working", func(p *mark.Policy) *mark.Choice { return &p.BareAnswer }, []page.Option{
		{Value: "", Label: "earns full marks, but for “show that”"},
		{Value: "no", Label: "earns nothing where there is a mark for the method"}}},
	{"follow", "What follows rightly from a wrong answer of their own", func(p *mark.Policy) *mark.Choice { return &p.FollowThrough }, []page.Option{
		{Value: "", Label: "earns its marks"},
		{Value: "no", Label: "earns only method marks"}}},
}

// rulesForm are the fields of a set's rules.
type rulesForm struct {
	Title, Opens, Closes, For, Tolerance page.Field
	Practice, Chosen                     bool
	Pupils                               []string
	Show                                 homework.Show
	Policy                               mark.Policy
	Given                                bool
}

func rulesOf(s *homework.Set) rulesForm {
	f := rulesForm{
		Title:     titleField(s.Title),
		Opens:     page.Field{Name: "opens", Label: "Opens", Hint: "Empty: as soon as you give it out", Value: timeValue(s.Opens), Type: "datetime-local"},
		Closes:    page.Field{Name: "closes", Label: "Closes", Hint: "Empty: it stays open", Value: timeValue(s.Closes), Type: "datetime-local"},
		For:       page.Field{Name: "for", Label: "For whom"},
		Tolerance: page.Field{Name: "tolerance", Label: "How near an answer has to be, per cent", Hint: "Besides answers that round to the right one. Empty: 1 %", Inputmode: "decimal", Most: 6, Autocomplete: "off"},
		Practice:  s.Practice, Chosen: len(s.For) > 0, Pupils: s.For, Show: s.Show, Given: !s.Given.IsZero(),
	}
	f.Policy, _ = mark.ParsePolicy(s.Policy)
	if f.Policy.Tolerance > 0 {
		f.Tolerance.Value = strconv.FormatFloat(f.Policy.Tolerance*100, 'g', 6, 64)
	}
	return f
}

func (f *rulesForm) fields() []page.Field {
	return []page.Field{f.Title, f.Opens, f.Closes, f.For, f.Tolerance}
}

// read takes what was typed into a set.
func (f *rulesForm) read(r *http.Request, s *homework.Set, pupils []homework.Pupil) {
	var err error
	f.Title.Value, f.Opens.Value, f.Closes.Value = plain(r.PostFormValue("title")), r.PostFormValue("opens"), r.PostFormValue("closes")
	f.Title.Fault = named(f.Title.Value, "the set a title", mostName)
	s.Title = f.Title.Value
	if s.Opens, err = readTime(f.Opens.Value); err != nil {
		f.Opens.Fault = err.Error()
	}
	if s.Closes, err = readTime(f.Closes.Value); err != nil {
		f.Closes.Fault = err.Error()
	}
	if !s.Opens.IsZero() && !s.Closes.IsZero() && !s.Closes.After(s.Opens) {
		f.Closes.Fault = "it would close before it opens; move one of the times"
	}
	for _, o := range shown(&f.Show) {
		for _, x := range whens {
			if r.PostFormValue(o.name) == x.value {
				*o.when = x.when
			}
		}
		if *o.when == homework.Closed && s.Closes.IsZero() && f.Closes.Fault == "" {
			f.Closes.Fault = strings.ToLower(o.label) + " would be shown once it has closed, but it never closes; give a time, or choose another moment"
		}
	}
	s.Show = f.Show
	f.readFor(r, s, pupils)
	if f.Given {
		return
	}
	f.Practice = r.PostFormValue("kind") == "practice"
	s.Practice = f.Practice
	f.readPolicy(r)
	s.Policy = f.Policy.String()
}

func (f *rulesForm) readFor(r *http.Request, s *homework.Set, pupils []homework.Pupil) {
	f.Chosen, f.Pupils = r.PostFormValue("for") == "chosen", nil
	for _, id := range r.PostForm["pupil"] {
		if slices.ContainsFunc(pupils, func(p homework.Pupil) bool { return p.ID == id }) {
			f.Pupils = append(f.Pupils, id)
		}
	}
	s.For = nil
	if f.Chosen {
		if s.For = f.Pupils; len(s.For) == 0 {
			f.For.Fault = "tick the pupils it is for, or choose the whole class"
		}
	}
}

func (f *rulesForm) readPolicy(r *http.Request) {
	f.Policy = mark.Policy{}
	for _, c := range choices {
		switch r.PostFormValue(c.name) {
		case "yes":
			*c.of(&f.Policy) = mark.Yes
		case "no":
			*c.of(&f.Policy) = mark.No
		}
	}
	f.Tolerance.Value = plain(r.PostFormValue("tolerance"))
	if f.Tolerance.Value == "" {
		return
	}
	v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.ReplaceAll(f.Tolerance.Value, ",", "."), "%")), 64)
	if err != nil || !(v > 0 && v <= 20) {
		f.Tolerance.Fault = "write a number above 0 and up to 20"
		return
	}
	f.Policy.Tolerance = v / 100
}

// chosen is the value of a rule of marking.
func (f *rulesForm) chosen(of func(p *mark.Policy) *mark.Choice) string {
	switch *of(&f.Policy) {
	case mark.No:
		return "no"
	case mark.Yes:
		return "yes"
	}
	return ""
}

func (m *room) rules(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, c, pupils, err := m.setOf(r)
	if err != nil {
		return err
	}
	return m.sendRules(w, r, v, s, c, pupils, rulesOf(&s), s.Version)
}

func (m *room) sendRules(w http.ResponseWriter, r *http.Request, v *page.Viewer, s homework.Set, c homework.Class, pupils []homework.Pupil, f rulesForm, version int) error {
	return page.Write(w, r, v, status(f.fields()...), page.Page{Title: titled("How "+s.Title+" runs", f.fields()...), Here: "classes", Styles: styles, Scripts: scripts, Bare: true,
		Crumbs: setCrumbs(c, s), Body: rulesPage(s, f, present(pupils), clock(m.Now()), version)})
}

func (m *room) saveRules(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, c, pupils, err := m.setOf(r)
	if err != nil {
		return err
	}
	was, f := s, rulesOf(&s)
	f.read(r, &s, pupils)
	if faulty(f.fields()...) {
		return m.sendRules(w, r, v, was, c, pupils, f, version(r))
	}
	s.Version = version(r)
	if err := m.Store.SaveSet(r.Context(), m.By(v), s); err != nil {
		return err
	}
	return page.Go(w, r, "/sets/"+s.ID)
}

// solutionIsShared is the plain warning beside the moments at which a worked solution can be shown.
const solutionIsShared = "A worked solution that is shown from the start, or once a pupil has handed in, can be shown by that pupil to others who are still at work. To be sure, show it once the set has closed, or when you release the marks."

// lends reports whether a set is to show its solution while others can still be at work on what counts.
func (f *rulesForm) lends() bool {
	return !f.Practice && (f.Show.Solution == homework.Always || f.Show.Solution == homework.HandedIn)
}
