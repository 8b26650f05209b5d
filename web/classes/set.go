package classes

import (
	"fmt"
	"net/http"
	"slices"
	"time"

	"steelyard/homework"
	"steelyard/mark"
	"steelyard/store"
	"steelyard/web/page"
)

var errGiven = &page.Refusal{Status: http.StatusConflict, What: "This set has been given out", Mend: "Its questions and how they are marked stay as they are. Make a copy to change them."}

// setOf finds the set of an address, with its class and pupils.
func (m *room) setOf(r *http.Request) (s homework.Set, c homework.Class, pupils []homework.Pupil, err error) {
	if s, err = m.Store.Set(r.Context(), r.PathValue("set")); err != nil {
		return s, c, nil, err
	}
	if c, err = m.Store.Class(r.Context(), s.Class); err != nil {
		return s, c, nil, err
	}
	pupils, err = m.Store.Pupils(r.Context(), s.Class)
	return s, c, pupils, err
}

func setCrumbs(c homework.Class, s homework.Set) []page.Crumb {
	return append(classCrumb(c), page.Crumb{Name: s.Title, Href: "/sets/" + s.ID})
}

// find finds a question that a teacher may set: of the bank, their own, or one that a colleague shares.
func (m *room) find(r *http.Request, v *page.Viewer, from string) (book, error) {
	if b, ok := m.bank.find(from); ok {
		return b, nil
	}
	q, err := m.Store.Question(r.Context(), from)
	if err != nil {
		return book{}, err
	}
	if q.Owner != v.ID && !q.Shared {
		return book{}, page.NotFound
	}
	return ownBook(q), nil
}

func ownBook(q store.Question) book {
	b := bookOf(q.ID, q.Text)
	b.Picture = "/pictures/question/" + q.ID
	if b.Title == "" {
		b.Title = q.Title
	}
	return b
}

// chooseClass asks for which class a question is, before a set is made of it.
func (m *room) chooseClass(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	from := r.URL.Query().Get("question")
	var title string
	if from != "" {
		b, err := m.find(r, v, from)
		if err != nil {
			return err
		}
		title = b.Title
	}
	classes, err := m.Store.ClassesOf(r.Context(), v.ID)
	if err != nil {
		return err
	}
	view := chooseView{From: from, Title: title}
	for _, c := range classes {
		choice := classChoice{Class: c}
		sets, err := m.Store.SetsOf(r.Context(), c.ID)
		if err != nil {
			return err
		}
		for _, s := range sets {
			if s.Given.IsZero() && len(s.Items) < homework.MostItems {
				choice.Drafts = append(choice.Drafts, s)
			}
		}
		view.Classes = append(view.Classes, choice)
	}
	return page.Write(w, r, v, 200, page.Page{Title: "New set: for which class?", Here: "classes", Styles: styles, Scripts: scripts, Crumbs: []page.Crumb{{Name: "Classes", Href: "/classes"}}, Body: choosePage(view)})
}

// A chooseView is what stands on the page on which a class is chosen.
type chooseView struct {
	From, Title string
	Classes     []classChoice
}

type classChoice struct {
	homework.Class
	Drafts []homework.Set
}

// newSetForm are the fields that begin a set.
type newSetForm struct {
	Title    page.Field
	Practice bool
	From     string
	About    string // the title of the question that it begins with
}

func (m *room) newSet(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	f := newSetForm{Title: titleField(""), From: r.URL.Query().Get("question")}
	if f.From != "" {
		b, err := m.find(r, v, f.From)
		if err != nil {
			return err
		}
		f.About, f.Title.Value = b.Title, b.Title
	}
	return m.sendNewSet(w, r, v, f)
}

func titleField(value string) page.Field {
	return page.Field{Name: "title", Label: "Title", Hint: "As the pupils see it, such as Moments 3", Value: value, Need: true, Most: mostName, Autocomplete: "off"}
}

func (m *room) sendNewSet(w http.ResponseWriter, r *http.Request, v *page.Viewer, f newSetForm) error {
	c, err := m.Store.Class(r.Context(), r.PathValue("class"))
	if err != nil {
		return err
	}
	return page.Write(w, r, v, status(f.Title), page.Page{Title: titled("New set for "+c.Name, f.Title), Here: "classes", Styles: styles, Scripts: scripts, Bare: true, Crumbs: classCrumb(c), Body: newSetPage(c, f)})
}

func (m *room) addSet(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	f := newSetForm{Title: titleField(plain(r.PostFormValue("title"))), Practice: r.PostFormValue("kind") == "practice", From: r.PostFormValue("question")}
	s := homework.Set{ID: store.NewID(), Class: r.PathValue("class"), Title: f.Title.Value, Seed: store.NewID()[:10], Practice: f.Practice, Show: homework.UsualShow(f.Practice)}
	if f.From != "" {
		b, err := m.find(r, v, f.From)
		if err != nil {
			return err
		}
		f.About = b.Title
		s.Items = []homework.Item{itemOf(b)}
	}
	if f.Title.Fault = named(f.Title.Value, "the set a title", mostName); f.Title.Fault != "" {
		return m.sendNewSet(w, r, v, f)
	}
	if err := m.Store.AddSet(r.Context(), m.By(v), s); err != nil {
		return err
	}
	if len(s.Items) == 0 {
		return page.Go(w, r, "/sets/"+s.ID+"/questions")
	}
	return page.Go(w, r, "/sets/"+s.ID)
}

// itemOf is a question as it comes into a set: with numbers of their own wherever it has numbers that may vary.
func itemOf(b book) homework.Item {
	return homework.Item{Question: b.From, Text: b.Text, Own: b.Varies}
}

// A setView is what stands on a set's page.
type setView struct {
	homework.Set
	Class    homework.Class
	Pupils   []homework.Pupil // whom it is for
	Items    []itemView
	State    string
	Pill     string
	Draft    bool
	Over     bool // it has closed
	Open     bool
	Faults   []string
	Joined   int // pupils without numbers yet
	Rules    []string
	Policy   []string
	Extra    int
	Others   []homework.Class // to copy it to
	Until    page.Field       // of reopening
	Marks    int
	HandedIn int
}

// An itemView is a question of a set.
type itemView struct {
	homework.Item
	N       int
	Title   string
	Picture string // the drawing itself
	Marks   int
	Varies  bool
	Doubts  []string
	Fault   string
}

func (m *room) set(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	return m.sendSet(w, r, v, nil, closesField(""))
}

func closesField(value string) page.Field {
	return page.Field{Name: "closes", Label: "Closes", Value: value, Type: "datetime-local"}
}

// sendSet shows a set: as a draft to be made ready, or as it has been given out.
func (m *room) sendSet(w http.ResponseWriter, r *http.Request, v *page.Viewer, faults []string, closes page.Field) error {
	s, c, pupils, err := m.setOf(r)
	if err != nil {
		return err
	}
	view := setView{Set: s, Class: c, Pupils: s.Pupils(pupils), Draft: s.Given.IsZero(), Faults: faults, Until: closes}
	view.State, view.Pill = m.state(&s, pupils)
	view.Over = s.Closed(pupils, m.Now())
	view.Open = s.Opened(m.Now()) && !view.Over
	for i := range s.Items {
		view.Items = append(view.Items, m.itemView(&s, i, pupils))
		view.Marks += view.Items[i].Marks
	}
	for _, p := range view.Pupils {
		if p.Access.ExtraTime > 0 {
			view.Extra++
		}
	}
	view.Rules = m.inWords(&s, len(view.Pupils))
	if policy, err := mark.ParsePolicy(s.Policy); err == nil {
		view.Policy = policy.InWords()
	}
	if !view.Draft {
		if view.Joined, err = m.joined(r, &s, pupils); err != nil {
			return err
		}
		if view.HandedIn, err = m.handedIn(r, s.ID, view.Pupils); err != nil {
			return err
		}
	}
	if view.Others, err = m.Store.ClassesOf(r.Context(), v.ID); err != nil {
		return err
	}
	all := []page.Field{closes}
	for range faults {
		all = append(all, page.Field{Fault: "x"})
	}
	return page.Write(w, r, v, status(all...), page.Page{Title: titled(s.Title, all...), Here: "classes", Styles: styles, Scripts: scripts, Bare: true, Crumbs: classCrumb(c), Body: setPage(view)})
}

// handedIn counts the pupils whom a set is for and who have handed in. Who has left is not counted, as on the pages of
// marks.
func (m *room) handedIn(r *http.Request, set string, pupils []homework.Pupil) (n int, err error) {
	in := map[string]bool{}
	for h, e := range m.Store.HandInsOf(r.Context(), set) {
		if e != nil {
			return 0, e
		}
		in[h.Pupil] = true
	}
	for i := range pupils {
		if in[pupils[i].ID] {
			n++
		}
	}
	return n, nil
}

func (m *room) itemView(s *homework.Set, i int, pupils []homework.Pupil) itemView {
	it := itemView{Item: s.Items[i], N: i}
	l := m.bank.look(it.Text, fmt.Sprintf("q%d-", i+1))
	if l.Err != nil {
		it.Title, it.Fault = "Question "+fmt.Sprint(i+1), l.Err.Error()
		return it
	}
	it.Title, it.Marks, it.Varies, it.Picture = l.Title, l.Marks, l.Varies, l.Picture
	if it.Own && s.Given.IsZero() {
		it.Doubts = m.doubts.of(s, i, pupils)
	}
	return it
}

// inWords says when a set opens and closes, for whom, and what is shown when.
func (m *room) inWords(s *homework.Set, pupils int) []string {
	kind := "Homework: it is handed in once it is done, and marked."
	if s.Practice {
		kind = "Practice: each line is marked at once, with hints; nothing counts."
	}
	list := []string{kind}
	switch {
	case s.Opens.IsZero() && s.Given.IsZero():
		list = append(list, "Opens as soon as it is given out.")
	case s.Opens.Before(s.Given):
		list = append(list, "Opened "+moment(s.Given)+".")
	default:
		list = append(list, "Opens "+moment(s.Opens)+".")
	}
	if s.Closes.IsZero() {
		list = append(list, "Never closes.")
	} else {
		list = append(list, "Closes "+moment(s.Closes)+".")
	}
	if len(s.For) == 0 {
		list = append(list, fmt.Sprintf("For the whole class: %s.", count(pupils, "pupil", "pupils")))
	} else {
		list = append(list, fmt.Sprintf("For %s of the class.", count(pupils, "pupil", "pupils")))
	}
	for _, o := range shown(&s.Show) {
		list = append(list, fmt.Sprintf("%s: %s.", o.label, whenWords(*o.when)))
	}
	return list
}

func (m *room) closeNow(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, _, _, err := m.setOf(r)
	if err != nil {
		return err
	}
	if !s.Opened(m.Now()) {
		return &page.Refusal{Status: http.StatusConflict, What: "The set has not opened yet", Mend: "Change when it opens instead."}
	}
	if s.Closes.IsZero() || s.Closes.After(m.Now()) {
		s.Closes = m.Now()
		if err := m.Store.SaveSet(r.Context(), m.By(v), s); err != nil {
			return err
		}
	}
	return page.Go(w, r, "/sets/"+s.ID)
}

func (m *room) reopen(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, _, _, err := m.setOf(r)
	if err != nil {
		return err
	}
	closes := closesField(r.PostFormValue("closes"))
	at, err := readTime(closes.Value)
	switch {
	case err != nil:
		closes.Fault = err.Error()
	case !at.IsZero() && !at.After(m.Now()):
		closes.Fault = "that time is over; choose one to come, or none"
	}
	if closes.Fault != "" {
		return m.sendSet(w, r, v, nil, closes)
	}
	s.Closes = at
	if err := m.Store.SaveSet(r.Context(), m.By(v), s); err != nil {
		return err
	}
	return page.Go(w, r, "/sets/"+s.ID)
}

// copySet makes a draft of a set for a class: the same questions and rules, with numbers and times of its own.
func (m *room) copySet(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, _, _, err := m.setOf(r)
	if err != nil {
		return err
	}
	classes, err := m.Store.ClassesOf(r.Context(), v.ID)
	if err != nil {
		return err
	}
	to := r.PostFormValue("class")
	if !slices.ContainsFunc(classes, func(c homework.Class) bool { return c.ID == to }) {
		return page.NotFound
	}
	fresh := homework.Set{ID: store.NewID(), Class: to, Title: s.Title, Seed: store.NewID()[:10], Practice: s.Practice, Policy: s.Policy, Show: s.Show, Items: s.Items}
	if err := m.Store.AddSet(r.Context(), m.By(v), fresh); err != nil {
		return err
	}
	return page.Go(w, r, "/sets/"+fresh.ID)
}

func (m *room) removeSet(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, c, _, err := m.setOf(r)
	if err != nil {
		return err
	}
	if !s.Given.IsZero() {
		return errGiven
	}
	if err := m.Store.RemoveSet(r.Context(), m.By(v), s.ID); err != nil {
		return err
	}
	return page.Go(w, r, "/classes/"+c.ID)
}

// A previewView is a set as a pupil sees it.
type previewView struct {
	homework.Set
	Class  homework.Class
	Pupils []homework.Pupil
	Pupil  homework.Pupil
	Own    bool // with numbers of their own that are not chosen yet
	Asked  []previewItem
	Closes time.Time
}

type previewItem struct {
	*homework.Asked
	N       int
	Picture string
	Fault   string // why it can't be shown; there is nothing else then
}

func (m *room) preview(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, c, pupils, err := m.setOf(r)
	if err != nil {
		return err
	}
	view := previewView{Set: s, Class: c, Pupils: s.Pupils(pupils)}
	id := r.URL.Query().Get("pupil")
	for _, p := range view.Pupils {
		if p.ID == id {
			view.Pupil = p
		}
	}
	if view.Pupil.ID == "" && len(view.Pupils) > 0 {
		view.Pupil = view.Pupils[0]
	}
	view.Closes = s.ClosesFor(view.Pupil)
	var numbers []homework.Numbers
	if view.Pupil.ID != "" && !s.Given.IsZero() {
		if numbers, err = m.Store.NumbersFor(r.Context(), s.ID, view.Pupil.ID); err != nil {
			return err
		}
	}
	for i := range s.Items {
		view.Own = view.Own || s.Items[i].Own && s.Given.IsZero()
		a, err := homework.Ask(s.TextFor(i, view.Pupil.ID, numbers))
		if err != nil {
			view.Asked = append(view.Asked, previewItem{N: i + 1, Fault: err.Error()})
			continue
		}
		view.Asked = append(view.Asked, previewItem{a, i + 1, a.SVG(pictureWidth, pictureText, false, fmt.Sprintf("q%d-", i+1)), ""})
	}
	return page.Write(w, r, v, 200, page.Page{Title: "As a pupil sees it", Here: "classes", Styles: styles, Scripts: scripts, Crumbs: setCrumbs(c, s), Body: previewPage(view)})
}
