package page

import (
	"net/http"
	"strconv"

	"steelyard/bank"
	"steelyard/question"
)

// From are the ends of the addresses of pages about one question: of the bank, of a teacher's own, and as it stands in
// a set, with the numbers it was written with.
var From = []string{"bank/{name}", "own/{question}", "set/{set}/{item}"}

// A Question is the one that an address names.
type Question struct {
	Text  string // its notation
	Title string // "" if the text can't be read
	From  string // such as "bank/loaded-beam": what follows "/show/", "/try/" and the like
	Home  string // address of its own page
}

// Question finds the question that an address, one of From, names.
func (d *Desk) Question(r *http.Request) (Question, error) {
	q, err := d.questionText(r)
	if err != nil {
		return q, err
	}
	if read, err := question.Parse("", q.Text); err == nil {
		q.Title = read.Title
	}
	return q, nil
}

func (d *Desk) questionText(r *http.Request) (Question, error) {
	if name := r.PathValue("name"); name != "" {
		text, err := bank.Files.ReadFile(name + ".moments")
		if err != nil {
			return Question{}, NotFound
		}
		return Question{Text: string(text), From: "bank/" + name, Home: "/questions/bank/" + name}, nil
	}
	if id := r.PathValue("set"); id != "" {
		set, err := d.Store.Set(r.Context(), id)
		if err != nil {
			return Question{}, err
		}
		item := r.PathValue("item")
		n, err := strconv.Atoi(item)
		if err != nil || n < 1 || n > len(set.Items) || item != strconv.Itoa(n) { // "01" and "+1" are no addresses
			return Question{}, NotFound
		}
		return Question{Text: set.Items[n-1].Text, From: "set/" + id + "/" + item, Home: "/sets/" + id + "#item-" + item}, nil
	}
	q, err := d.Store.Question(r.Context(), r.PathValue("question"))
	return Question{Text: q.Text, From: "own/" + q.ID, Home: "/questions/" + q.ID}, err
}

// Crumbs lead back from a page about the question.
func (q Question) Crumbs() []Crumb {
	return []Crumb{{Name: "Questions", Href: "/questions"}, {Name: q.Title, Href: q.Home}}
}
