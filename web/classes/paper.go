package classes

import (
	"net/http"
	"slices"

	"steelyard/homework"
	"steelyard/sheet"
	"steelyard/web/page"
)

// printed is what a set's files are made of.
func (m *room) printed(r *http.Request) (s homework.Set, pupils []homework.Pupil, numbers []homework.Numbers, o sheet.Options, err error) {
	if s, _, pupils, err = m.setOf(r); err != nil {
		return s, pupils, nil, o, err
	}
	if s.Given.IsZero() {
		err = &page.Refusal{Status: http.StatusConflict, What: "The set has not been given out yet", Mend: "Give it out first: then everybody's numbers are fixed, on paper as on the screen."}
		return s, pupils, nil, o, err
	}
	if r.URL.Query().Get("paper") == "letter" {
		o.Paper = sheet.Letter
	}
	numbers, err = m.Store.NumbersOf(r.Context(), s.ID)
	return s, pupils, numbers, o, err
}

// sheets prints the question sheets of all pupils, or of those who have paper of a colour.
func (m *room) sheets(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, pupils, numbers, o, err := m.printed(r)
	if err != nil {
		return err
	}
	name := "sheets"
	if tint := r.URL.Query().Get("tint"); tint == "white" || slices.Contains(tints, tint) {
		name += "-" + tint
		pupils = slices.DeleteFunc(slices.Clone(pupils), func(p homework.Pupil) bool {
			return p.Access.Tint != tint && (tint != "white" || p.Access.Tint != "")
		})
	}
	o.TwoSided = r.URL.Query().Get("sides") == "two"
	file, err := homework.Sheets(&s, pupils, numbers, o)
	if err != nil {
		return cantPrint(err)
	}
	return sendPDF(w, s.FileName(name+".pdf"), file)
}

func (m *room) scheme(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, pupils, numbers, o, err := m.printed(r)
	if err != nil {
		return err
	}
	file, err := homework.SchemeSheet(&s, pupils, numbers, o)
	if err != nil {
		return cantPrint(err)
	}
	return sendPDF(w, s.FileName("scheme.pdf"), file)
}

// solutions prints worked solutions with the numbers of the questions as they stand, or of one pupil.
func (m *room) solutions(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	return m.forOne(w, r, "solutions.pdf", homework.SolutionSheet)
}

// cards prints hint cards, with the numbers of the questions as they stand, or of one pupil.
func (m *room) cards(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	return m.forOne(w, r, "hint-cards.pdf", homework.HintCards)
}

// forOne prints what goes by the questions as they stand, or by one pupil.
func (m *room) forOne(w http.ResponseWriter, r *http.Request, name string, print func(*homework.Set, homework.Pupil, []homework.Numbers, sheet.Options) ([]byte, error)) error {
	s, pupils, numbers, o, err := m.printed(r)
	if err != nil {
		return err
	}
	if r.URL.Query().Get("print") == "large" {
		o.Size = largePrint
	}
	var who homework.Pupil
	for _, p := range s.Pupils(pupils) {
		if p.ID == r.URL.Query().Get("pupil") {
			who = p
		}
	}
	file, err := print(&s, who, numbers, o)
	if err != nil {
		return cantPrint(err)
	}
	return sendPDF(w, s.FileName(name), file)
}

// largePrint is the size of text in points that is offered where a file is not one pupil's.
const largePrint = 18

func cantPrint(err error) error {
	return &page.Refusal{Status: http.StatusUnprocessableEntity, What: "The sheets can't be printed", Mend: err.Error()}
}

// A tinted is how many pupils have paper of a colour.
type tinted struct {
	Tint string
	N    int
}

func tintsOf(pupils []homework.Pupil) (list []tinted) {
	for _, tint := range tints {
		n := 0
		for _, p := range pupils {
			if p.Access.Tint == tint {
				n++
			}
		}
		if n > 0 {
			list = append(list, tinted{tint, n})
		}
	}
	return list
}
