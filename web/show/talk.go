package show

import (
	"crypto/sha256"
	"errors"
	"io/fs"
	"net/http"
	"strconv"
	"strings"
	"sync"

	"steelyard/answer"
	"steelyard/bank"
	"steelyard/question"
	talk "steelyard/show"
	"steelyard/solution"
	"steelyard/store"
	"steelyard/web/page"
)

// unready is told of a question that can't be worked out.
var unready = &page.Refusal{Status: http.StatusConflict, What: "this question cannot be worked out yet, so there are no steps to show", Mend: "open it under Questions, and mend what is listed there"}

// A shelf keeps talks that were made, by the text of their questions.
type shelf struct {
	mu    sync.Mutex
	talks map[[32]byte]*talk.Talk
}

// most is how many talks are kept: those that a school may show in one lesson.
const most = 60

func newShelf() *shelf { return &shelf{talks: map[[32]byte]*talk.Talk{}} }

// talkOf makes the talk of a question, or gives the one that was made before.
func (s *shelf) talkOf(text string) (*talk.Talk, error) {
	key := sha256.Sum256([]byte(text))
	s.mu.Lock()
	t := s.talks[key]
	s.mu.Unlock()
	if t != nil {
		return t, nil
	}
	t, err := made(text)
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.talks) >= most {
		clear(s.talks)
	}
	s.talks[key] = t
	return t, nil
}

// made makes a talk; a fault of the engine is told as a question that can't be worked out.
func made(text string) (t *talk.Talk, err error) {
	defer func() {
		if recover() != nil {
			t, err = nil, unready
		}
	}()
	q, err := question.Parse("", text)
	if err != nil {
		return nil, unready
	}
	a, err := answer.Solve(q)
	if err != nil {
		return nil, unready
	}
	s, err := solution.Solve(a)
	if err != nil {
		return nil, unready
	}
	t, err = talk.Make(a, s)
	if err != nil || len(t.Steps) == 0 {
		return nil, unready
	}
	return t, nil
}

// A source is the question that an address is about.
type source struct {
	text string
	base string // address of the talk
	home string // of the question
}

// sourceOf finds the question of an address.
func (d *desk) sourceOf(r *http.Request) (source, error) {
	if name := r.PathValue("name"); name != "" {
		b, err := fs.ReadFile(bank.Files, name+".moments")
		if err != nil || strings.ContainsAny(name, "/\\.") {
			return source{}, page.NotFound
		}
		return source{string(b), "/show/bank/" + name, "/questions/bank/" + name}, nil
	}
	if id := r.PathValue("set"); id != "" {
		return d.ofSet(r, id)
	}
	id := r.PathValue("question")
	q, err := d.Store.Question(r.Context(), id)
	if errors.Is(err, store.ErrNotFound) {
		return source{}, page.NotFound
	}
	return source{q.Text, "/show/own/" + id, "/questions/" + id}, err
}

// ofSet is a question as it stands in a set, with the numbers it was written with.
func (d *desk) ofSet(r *http.Request, id string) (source, error) {
	set, err := d.Store.Set(r.Context(), id)
	if err != nil {
		return source{}, err
	}
	n, err := strconv.Atoi(r.PathValue("item"))
	if err != nil || n < 1 || n > len(set.Items) {
		return source{}, page.NotFound
	}
	item := strconv.Itoa(n)
	return source{set.Items[n-1].Text, "/show/set/" + id + "/" + item, "/sets/" + id + "#item-" + item}, nil
}
