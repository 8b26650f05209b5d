package classes

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"steelyard/homework"
	"steelyard/web/page"
)

// perPage is how many questions stand on a page of those to choose from.
const perPage = 24

// A pickingView is what stands on the page on which questions are chosen.
type pickingView struct {
	homework.Set
	Kind, Find, Level string
	Books             []book
	Found             int
	Page, Pages       int
	In                map[string]int // how often a question is in the set
}

// query is the address of a page of what was found.
func (p *pickingView) query(n int) string {
	q := "?kind=" + p.Kind + "&level=" + url.QueryEscape(p.Level) + "&find=" + url.QueryEscape(p.Find)
	return "/sets/" + p.ID + "/questions" + q + "&page=" + strconv.Itoa(n)
}

// levels are those that question files have.
var levels = []string{"14-16", "16-18", "first year"}

func (m *room) questions(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, c, _, err := m.setOf(r)
	if err != nil {
		return err
	}
	if !s.Given.IsZero() {
		return errGiven
	}
	q := r.URL.Query()
	view := pickingView{Set: s, Kind: q.Get("kind"), Find: plain(q.Get("find")), Level: q.Get("level"), In: map[string]int{}}
	for _, it := range s.Items {
		view.In[it.Question]++
	}
	books, err := m.books(r, v, &view)
	if err != nil {
		return err
	}
	books = slices.DeleteFunc(slices.Clone(books), func(b book) bool {
		return view.Level != "" && b.Level != view.Level || !b.matches(view.Find)
	})
	view.Found, view.Pages = len(books), (len(books)+perPage-1)/perPage
	view.Page, _ = strconv.Atoi(q.Get("page"))
	view.Page = max(1, min(view.Page, view.Pages))
	if view.Found > 0 {
		view.Books = books[(view.Page-1)*perPage : min(view.Page*perPage, len(books))]
	}
	return page.Write(w, r, v, 200, page.Page{Title: "Questions for " + s.Title, Here: "classes", Styles: styles, Crumbs: setCrumbs(c, s), Body: questionsPage(view)})
}

// books are the questions of a kind: the bank's unless one's own or colleagues' are asked for.
func (m *room) books(r *http.Request, v *page.Viewer, view *pickingView) (list []book, err error) {
	switch view.Kind {
	case "own":
		own, err := m.Store.QuestionsOf(r.Context(), v.ID)
		if err != nil {
			return nil, err
		}
		for _, q := range own {
			if q.Gone.IsZero() {
				list = append(list, ownBook(q))
			}
		}
	case "shared":
		shared, err := m.Store.SharedQuestions(r.Context(), v.ID)
		if err != nil {
			return nil, err
		}
		for _, q := range shared {
			list = append(list, ownBook(q))
		}
	default:
		view.Kind = "bank"
		list = m.bank.books()
	}
	return list, nil
}

// changeQuestions adds a question to a draft, takes one out, moves one, or changes whether pupils have their own numbers.
func (m *room) changeQuestions(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, _, _, err := m.setOf(r)
	if err != nil {
		return err
	}
	if !s.Given.IsZero() {
		return errGiven
	}
	from, do, back := r.PostFormValue("question"), r.PostFormValue("do"), "/sets/"+s.ID
	s.Items = slices.Clone(s.Items)
	if do == "add" {
		if err := m.addItem(r, v, &s, from); err != nil {
			return err
		}
		if r.PostFormValue("more") != "" {
			back += "/questions" + backQuery(r)
		}
	} else if !change(&s, r, from, do) {
		return page.Go(w, r, back) // somebody else has changed the set; it is shown as it is
	}
	if err := m.Store.SaveSet(r.Context(), m.By(v), s); err != nil {
		return err
	}
	return page.Go(w, r, back)
}

func (m *room) addItem(r *http.Request, v *page.Viewer, s *homework.Set, from string) error {
	b, err := m.find(r, v, from)
	if err != nil {
		return err
	}
	switch {
	case b.Fault != "":
		return &page.Refusal{Status: 422, What: "This question can't be set", Mend: b.Fault}
	case len(s.Items) >= homework.MostItems:
		return &page.Refusal{Status: 422, What: "The set is full", Mend: "Make a second set for further questions."}
	}
	s.Items = append(s.Items, itemOf(b))
	return nil
}

// change changes one item, which the form names by its place and its question.
func change(s *homework.Set, r *http.Request, from, do string) bool {
	i, err := strconv.Atoi(r.PostFormValue("item"))
	if err != nil || i < 0 || i >= len(s.Items) || s.Items[i].Question != from {
		return false
	}
	switch do {
	case "remove":
		s.Items = slices.Delete(s.Items, i, i+1)
	case "up", "down":
		j := i - 1
		if do == "down" {
			j = i + 1
		}
		if j < 0 || j >= len(s.Items) {
			return false
		}
		s.Items[i], s.Items[j] = s.Items[j], s.Items[i]
	case "own":
		s.Items[i].Own = true
	case "same":
		s.Items[i].Own = false
	default:
		return false
	}
	return true
}

// backQuery brings the teacher back to where they were choosing.
func backQuery(r *http.Request) string {
	p := pickingView{Kind: r.PostFormValue("kind"), Find: plain(r.PostFormValue("find")), Level: r.PostFormValue("level")}
	if !slices.Contains([]string{"bank", "own", "shared"}, p.Kind) || p.Level != "" && !slices.Contains(levels, p.Level) {
		return ""
	}
	n, _ := strconv.Atoi(r.PostFormValue("page"))
	_, q, _ := strings.Cut(p.query(max(1, n)), "?")
	return "?" + q
}
