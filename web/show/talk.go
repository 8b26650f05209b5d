package show

import (
	"crypto/sha256"
	"net/http"
	"sync"

	talk "steelyard/show"
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
	t, err := talk.Explain(text)
	if err != nil {
		return nil, unready
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.talks) >= most {
		clear(s.talks)
	}
	s.talks[key] = t
	return t, nil
}
