package classes

import (
	"bytes"
	"net/http"
	"slices"
	"strings"
	"sync"

	"steelyard/bank"
	"steelyard/draw"
	"steelyard/homework"
	"steelyard/web/page"
)

// A shelf is the bank's questions, read when they are first wanted.
type shelf struct{ books func() []book }

// A book is a question to choose: of the bank, one's own, or a colleague's.
type book struct {
	From    string // as homework.Item.Question: an ID, or "bank:NAME"
	Title   string
	Level   string
	Text    string
	Wording string
	Marks   int
	Varies  bool
	Fault   string // why it can't be set; "" if it can
	Picture string // address
	Alt     string
}

func newShelf() *shelf {
	return &shelf{sync.OnceValue(func() (list []book) {
		for _, file := range bank.Names() {
			text, err := bank.Files.ReadFile(file)
			if err != nil {
				continue
			}
			name := strings.TrimSuffix(file, ".moments")
			b := bookOf("bank:"+name, string(text))
			b.Picture = "/pictures/bank/" + name
			list = append(list, b)
		}
		return list
	})}
}

func (s *shelf) find(from string) (book, bool) {
	list := s.books()
	i := slices.IndexFunc(list, func(b book) bool { return b.From == from })
	if i < 0 {
		return book{}, false
	}
	return list[i], true
}

func bookOf(from, text string) book {
	b := book{From: from, Text: text}
	a, err := homework.Ask(text)
	if err != nil {
		b.Fault = "it isn't finished: " + err.Error()
		return b
	}
	b.Title, b.Level, b.Wording, b.Marks = a.Title, string(a.Question.Level), strings.Join(a.Wording, " "), a.Marks()
	b.Varies, b.Alt = len(a.Question.Vary) > 0, a.PictureTitle
	return b
}

// about says for whom a question is, and what it is worth.
func (b *book) about() string {
	list := []string{count(b.Marks, "mark", "marks")}
	if b.Level != "" {
		list = []string{b.Level, list[0]}
	}
	if b.Varies {
		list = append(list, "own numbers")
	}
	return strings.Join(list, ", ")
}

// matches says whether all words that are looked for stand in a question.
func (b *book) matches(words string) bool {
	text := strings.ToLower(b.Title + " " + b.Wording + " " + b.Level + " " + b.Text)
	for word := range strings.FieldsSeq(strings.ToLower(words)) {
		if !strings.Contains(text, word) {
			return false
		}
	}
	return true
}

// Sizes of pictures on these pages, in points.
const pictureWidth, pictureText = 340, 11

func (m *room) bankPicture(w http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
	b, ok := m.bank.find("bank:" + r.PathValue("name"))
	if !ok {
		return page.NotFound
	}
	return sendPicture(w, b.Text)
}

func (m *room) questionPicture(w http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
	q, err := m.Store.Question(r.Context(), r.PathValue("question"))
	if err != nil {
		return err
	}
	return sendPicture(w, q.Text)
}

// sendPicture sends what the engine draws of a question.
func sendPicture(w http.ResponseWriter, text string) error {
	a, err := homework.Ask(text)
	if err != nil {
		return page.NotFound
	}
	w.Header().Set("Content-Type", "image/svg+xml")
	w.Header().Set("Cache-Control", "private, max-age=300")
	svg := draw.SVG(a.Picture(pictureWidth, pictureText, false))
	_, err = bytes.NewReader(svg).WriteTo(w)
	return err
}
