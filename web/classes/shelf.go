package classes

import (
	"crypto/sha256"
	"io"
	"net/http"
	"slices"
	"strings"
	"sync"

	"steelyard/bank"
	"steelyard/homework"
	"steelyard/web/page"
)

// A shelf is the bank's questions, read when they are first wanted, and how questions look that were looked at lately.
type shelf struct {
	books func() []book
	lock  sync.Mutex
	looks map[[32]byte]look
}

// A look is a question as it stands on a page: some 10 KB, which take tens of milliseconds to draw.
type look struct {
	Title   string
	Marks   int
	Varies  bool
	Picture string
	Err     error // why it can't be shown
}

const mostLooks = 400

// look finds out how a question looks. The ID tells its drawing from others on the page.
func (s *shelf) look(text, id string) look {
	key := sha256.Sum256([]byte(id + "\x00" + text))
	s.lock.Lock()
	l, ok := s.looks[key]
	s.lock.Unlock()
	if ok {
		return l
	}
	if a, err := homework.Ask(text); err != nil {
		l.Err = err
	} else {
		l = look{Title: a.Title, Marks: a.Marks(), Varies: len(a.Question.Vary) > 0, Picture: a.SVG(pictureWidth, pictureText, false, id)}
	}
	s.lock.Lock()
	defer s.lock.Unlock()
	if len(s.looks) >= mostLooks {
		clear(s.looks)
	}
	s.looks[key] = l
	return l
}

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
	return &shelf{looks: map[[32]byte]look{}, books: sync.OnceValue(func() (list []book) {
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
	return m.sendPicture(w, b.Text)
}

func (m *room) questionPicture(w http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
	q, err := m.Store.Question(r.Context(), r.PathValue("question"))
	if err != nil {
		return err
	}
	return m.sendPicture(w, q.Text)
}

// sendPicture sends what the engine draws of a question.
func (m *room) sendPicture(w http.ResponseWriter, text string) error {
	l := m.bank.look(text, "")
	if l.Err != nil {
		return page.NotFound
	}
	w.Header().Set("Content-Type", "image/svg+xml")
	w.Header().Set("Cache-Control", "private, max-age=300")
	_, err := io.WriteString(w, l.Picture)
	return err
}
