package classes

import (
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/store"
	"steelyard/web/page"
)

const (
	mostName  = 80
	mostYears = 7 // that a class is kept
)

var (
	styles  = []string{"classes.css"}
	scripts = []string{"classes.js"}
)

func classCrumb(c homework.Class) []page.Crumb {
	return []page.Crumb{{Name: "Classes", Href: "/classes"}, {Name: c.Name, Href: "/classes/" + c.ID}}
}

// A classRow is a class in the list, with what is going on in it.
type classRow struct {
	homework.Class
	Pupils, Open, Drafts int
}

// about says how large a class is, and what it works at.
func (c *classRow) about() string {
	list := []string{count(c.Pupils, "pupil", "pupils")}
	if c.Open > 0 {
		list = append(list, count(c.Open, "set open", "sets open"))
	}
	if c.Drafts > 0 {
		list = append(list, count(c.Drafts, "draft", "drafts"))
	}
	return strings.Join(list, ", ")
}

func (m *room) list(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	classes, err := m.Store.ClassesOf(r.Context(), v.ID)
	if err != nil {
		return err
	}
	var rows []classRow
	for _, c := range classes {
		row := classRow{Class: c}
		pupils, err := m.Store.Pupils(r.Context(), c.ID)
		if err != nil {
			return err
		}
		row.Pupils = len(present(pupils))
		sets, err := m.Store.SetsOf(r.Context(), c.ID)
		if err != nil {
			return err
		}
		for i := range sets {
			if sets[i].Given.IsZero() {
				row.Drafts++
			} else if !sets[i].Closed(pupils, m.Now()) {
				row.Open++
			}
		}
		rows = append(rows, row)
	}
	return page.Write(w, r, v, 200, page.Page{Title: "Classes", Here: "classes", Styles: styles, Body: classList(rows)})
}

// present are the pupils who have not left.
func present(pupils []homework.Pupil) []homework.Pupil {
	return slices.DeleteFunc(slices.Clone(pupils), func(p homework.Pupil) bool { return !p.Left.IsZero() })
}

// keepTill is until when a class is kept if the teacher doesn't say: 31 August after the course ends, and a year
// (common practice, no source).
func keepTill(now time.Time) time.Time {
	now = now.In(time.Local)
	year := now.Year() + 1
	if now.Month() >= time.September {
		year++
	}
	return time.Date(year, time.August, 31, 23, 59, 0, 0, time.Local).UTC()
}

// classForm are the fields about a class.
type classForm struct {
	Name, Keep page.Field
	Plain      bool
	keep       time.Time
}

func formOf(c homework.Class) classForm {
	return classForm{
		Name:  page.Field{Name: "name", Label: "Name of the class", Hint: "As you and the pupils call it, such as 12B Physics", Value: c.Name, Need: true, Most: mostName, Autocomplete: "off"},
		Keep:  page.Field{Name: "keep", Label: "Kept until", Hint: "After this day the pupils and all their work are erased by themselves", Value: c.KeepTill.In(time.Local).Format(dateField), Type: "date", Need: true},
		Plain: c.Plain, keep: c.KeepTill,
	}
}

// read takes what was typed.
func (f *classForm) read(r *http.Request, now time.Time) {
	f.Name.Value, f.Keep.Value, f.Plain = plain(r.PostFormValue("name")), plain(r.PostFormValue("keep")), r.PostFormValue("plain") != ""
	f.Name.Fault = named(f.Name.Value, "the class a name", mostName)
	at, err := time.ParseInLocation(dateField, f.Keep.Value, time.Local)
	f.keep = at.Add(24*time.Hour - time.Minute).UTC()
	switch {
	case err != nil:
		f.Keep.Fault = "write the day as 2027-08-31"
	case f.keep.Before(now):
		f.Keep.Fault = "that day is over; choose one to come"
	case at.After(now.AddDate(mostYears, 0, 0)):
		f.Keep.Fault = fmt.Sprintf("choose a day in the next %d years", mostYears)
	}
}

func (f *classForm) fields() []page.Field { return []page.Field{f.Name, f.Keep} }

func (m *room) newClass(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	return m.sendNew(w, r, v, formOf(homework.Class{KeepTill: keepTill(m.Now())}), fileField)
}

func (m *room) sendNew(w http.ResponseWriter, r *http.Request, v *page.Viewer, f classForm, file page.Field) error {
	all := append(f.fields(), file)
	return page.Write(w, r, v, status(all...), page.Page{Title: titled("New class", all...), Here: "classes", Styles: styles, Bare: true,
		Crumbs: []page.Crumb{{Name: "Classes", Href: "/classes"}}, Body: newClassPage(f, file)})
}

func (m *room) addClass(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	f := formOf(homework.Class{})
	f.read(r, m.Now())
	if faulty(f.fields()...) {
		return m.sendNew(w, r, v, f, fileField)
	}
	c, err := m.makeClass(r, v, homework.Class{Name: f.Name.Value, KeepTill: f.keep})
	if err != nil {
		return err
	}
	return page.Go(w, r, "/classes/"+c.ID+"/list")
}

// makeClass gives a class its identifier and code, and stores it.
func (m *room) makeClass(r *http.Request, v *page.Viewer, c homework.Class) (homework.Class, error) {
	c.ID = store.NewID()
	for range 5 { // a code that is taken is unlikely, and no fault
		c.Code = account.NewClassCode()
		err := m.Store.AddClass(r.Context(), m.By(v), c)
		if !errors.Is(err, store.ErrExists) {
			return c, err
		}
	}
	return c, store.ErrExists
}

// A setRow is a set in a class's list.
type setRow struct {
	homework.Set
	State, Class string // in words, and the pill's
	Marks        string // address of its marks; "" for a draft
}

func (s *setRow) about() string {
	if s.Practice {
		return count(len(s.Items), "question", "questions") + ", practice"
	}
	return count(len(s.Items), "question", "questions")
}

func (m *room) setRows(sets []homework.Set, pupils []homework.Pupil) []setRow {
	var rows []setRow
	for i := range sets {
		row := setRow{Set: sets[i]}
		row.State, row.Class = m.state(&sets[i], pupils)
		if !sets[i].Given.IsZero() {
			row.Marks = "/sets/" + sets[i].ID + "/marks"
		}
		rows = append(rows, row)
	}
	return rows
}

// state says in a few words where a set stands.
func (m *room) state(s *homework.Set, pupils []homework.Pupil) (words, class string) {
	switch now := m.Now(); {
	case s.Given.IsZero():
		return "draft", "off"
	case !s.Released.IsZero():
		return "marks released", "right"
	case !s.Opened(now):
		return "opens " + moment(s.Opens), "carried"
	case s.Closed(pupils, now):
		return "closed", "doubt"
	case s.Closes.IsZero():
		return "open", "carried"
	case !now.Before(s.Closes):
		return "closed, but for extra time", "doubt"
	default:
		return "open until " + moment(s.Closes), "carried"
	}
}

// A pupilRow is a pupil in a class's list.
type pupilRow struct {
	homework.Pupil
	Shown  string // the name, or the pseudonym when names are off
	Access string
}

func (m *room) class(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	c, pupils, err := m.classAndPupils(r)
	if err != nil {
		return err
	}
	sets, err := m.Store.SetsOf(r.Context(), c.ID)
	if err != nil {
		return err
	}
	off := r.URL.Query().Get("names") == "off"
	view := classView{Class: c, NamesOff: off, Sets: m.setRows(sets, pupils)}
	for i, p := range pupils {
		row := pupilRow{Pupil: p, Shown: p.Name, Access: accessWords(p.Access)}
		if off {
			row.Shown, row.Access = pseudonym(i), ""
		}
		if p.Left.IsZero() {
			view.Pupils = append(view.Pupils, row)
			if p.Code == "" {
				view.Codeless++
			}
		} else {
			view.Gone = append(view.Gone, row)
		}
	}
	crumbs := []page.Crumb{{Name: "Classes", Href: "/classes"}}
	return page.Write(w, r, v, 200, page.Page{Title: c.Name, Here: "classes", Styles: styles, Crumbs: crumbs, Body: classPage(view)})
}

// A classView is what stands on a class's page.
type classView struct {
	homework.Class
	NamesOff bool
	Sets     []setRow
	Pupils   []pupilRow
	Gone     []pupilRow
	Codeless int // pupils who can't sign in yet
}

// pseudonym is what a pupil is called when names are off: their place in the class, which stays theirs.
func pseudonym(i int) string { return fmt.Sprintf("Pupil %02d", i+1) }

func (m *room) classAndPupils(r *http.Request) (homework.Class, []homework.Pupil, error) {
	c, err := m.Store.Class(r.Context(), r.PathValue("class"))
	if err != nil {
		return c, nil, err
	}
	pupils, err := m.Store.Pupils(r.Context(), c.ID)
	return c, pupils, err
}

func (m *room) about(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	c, err := m.Store.Class(r.Context(), r.PathValue("class"))
	if err != nil {
		return err
	}
	return m.sendAbout(w, r, v, c, formOf(c), page.Field{Name: "person", Label: "Teacher"})
}

// sendAbout shows what a class is, and who teaches it.
func (m *room) sendAbout(w http.ResponseWriter, r *http.Request, v *page.Viewer, c homework.Class, f classForm, person page.Field) error {
	ids, err := m.Store.TeachersOf(r.Context(), c.ID)
	if err != nil {
		return err
	}
	people, err := m.Store.People(r.Context())
	if err != nil {
		return err
	}
	view := aboutView{Class: c, Form: f, Person: person, Me: v.ID}
	for _, p := range people {
		switch {
		case slices.Contains(ids, p.ID):
			view.Teachers = append(view.Teachers, p)
		case p.Ended.IsZero():
			view.Others = append(view.Others, p)
		}
	}
	all := append(f.fields(), person)
	return page.Write(w, r, v, status(all...), page.Page{Title: titled("About "+c.Name, all...), Here: "classes", Styles: styles, Bare: true, Crumbs: classCrumb(c), Body: aboutPage(view)})
}

// An aboutView is what stands on the page about a class.
type aboutView struct {
	homework.Class
	Form     classForm
	Person   page.Field
	Teachers []account.Person
	Others   []account.Person
	Me       string
}

func (m *room) saveAbout(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	c, err := m.Store.Class(r.Context(), r.PathValue("class"))
	if err != nil {
		return err
	}
	f := formOf(c)
	f.read(r, m.Now())
	if faulty(f.fields()...) {
		return m.sendAbout(w, r, v, c, f, page.Field{Name: "person", Label: "Teacher"})
	}
	c.Name, c.KeepTill, c.Plain, c.Version = f.Name.Value, f.keep, f.Plain, version(r)
	if err := m.Store.SaveClass(r.Context(), m.By(v), c); err != nil {
		return err
	}
	return page.Go(w, r, "/classes/"+c.ID)
}

// version is that of what the form was filled in for, so that two teachers don't overwrite each other.
func version(r *http.Request) int {
	n, _ := strconv.Atoi(r.PostFormValue("version"))
	return n
}

func (m *room) unlock(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	c, err := m.Store.Class(r.Context(), r.PathValue("class"))
	if err != nil {
		return err
	}
	c.Locked = time.Time{}
	if err := m.Store.SaveClass(r.Context(), m.By(v), c); err != nil {
		return err
	}
	return page.Go(w, r, "/classes/"+c.ID)
}

func (m *room) share(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	c, err := m.Store.Class(r.Context(), r.PathValue("class"))
	if err != nil {
		return err
	}
	people, err := m.Store.People(r.Context())
	if err != nil {
		return err
	}
	id := r.PostFormValue("person")
	i := slices.IndexFunc(people, func(p account.Person) bool { return p.ID == id && p.Ended.IsZero() })
	if i < 0 {
		return m.sendAbout(w, r, v, c, formOf(c), page.Field{Name: "person", Label: "Teacher", Value: id, Fault: "choose a teacher from the list"})
	}
	if err := m.Store.Share(r.Context(), m.By(v), c.ID, id); err != nil {
		return err
	}
	return page.Go(w, r, "/classes/"+c.ID+"/about")
}

func (m *room) unshare(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	c, err := m.Store.Class(r.Context(), r.PathValue("class"))
	if err != nil {
		return err
	}
	id := r.PostFormValue("person")
	err = m.Store.Unshare(r.Context(), m.By(v), c.ID, id)
	if errors.Is(err, store.ErrLast) || errors.Is(err, store.ErrNotFound) {
		return m.sendAbout(w, r, v, c, formOf(c), page.Field{Name: "person", Label: "Teacher", Fault: "a class keeps at least one teacher; let somebody else teach it first"})
	}
	if err != nil {
		return err
	}
	if id == v.ID { // the class is no longer ours to look at
		return page.Go(w, r, "/classes")
	}
	return page.Go(w, r, "/classes/"+c.ID+"/about")
}

// accessWords are a pupil's access arrangements in a line.
func accessWords(a homework.Access) string {
	var list []string
	if a.TextSize > 0 {
		list = append(list, fmt.Sprintf("text %d\u00a0pt", a.TextSize))
	}
	if a.Tint != "" {
		list = append(list, a.Tint+" paper")
	}
	if a.ExtraTime > 0 {
		list = append(list, fmt.Sprintf("%d\u00a0%% more time", a.ExtraTime))
	}
	if a.Description {
		list = append(list, "description first")
	}
	return strings.Join(list, ", ")
}
