package trial

import (
	"sync"

	"steelyard/answer"
	"steelyard/trial"
	"steelyard/web/page"
)

// A shelf keeps what was worked out of the questions that were tried last: forces against a number, and the answers
// where an angle or a coefficient has to be found, take far longer than what changes at a step of a slider.
type shelf struct {
	mu   sync.Mutex
	kept map[string]*tried // by text
}

// tried is what is kept of one question.
type tried struct {
	answers *answer.Answers

	mu     sync.Mutex
	curves map[string]*trial.Curve // by number
}

// most is how many are kept; a text is at most some hundred kilobytes, and mostly two.
const most = 60

func (s *shelf) find(src page.Question) (*tried, error) {
	s.mu.Lock()
	k := s.kept[src.Text]
	s.mu.Unlock()
	if k != nil {
		return k, nil
	}
	a, err := solve(src)
	if err != nil {
		return nil, err
	}
	k = &tried{answers: a, curves: map[string]*trial.Curve{}}
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.kept) >= most || s.kept == nil {
		s.kept = map[string]*tried{}
	}
	s.kept[src.Text] = k
	return k, nil
}

// curve is the forces against a number, over all of its way.
func (k *tried) curve(x trial.Number) (*trial.Curve, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	name := x.Thing + "." + x.Attribute
	if c := k.curves[name]; c != nil {
		return c, nil
	}
	c, err := trial.Vary(k.answers, x, x.Low, x.High, 61)
	if err == nil {
		k.curves[name] = c
	}
	return c, err
}
