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
	kept map[string]func() (*tried, error) // by text; each is worked out once
}

// tried is what is kept of one question.
type tried struct {
	answers *answer.Answers

	mu     sync.Mutex
	curves map[string]func() (*trial.Curve, error) // by number
}

// most is how many are kept; a text is at most some hundred kilobytes, and mostly two.
const most = 60

// find is what is kept of a question, worked out where it is asked for the first time. The error is a refusal that says
// why it can't be tried out.
func (s *shelf) find(src page.Question) (*tried, error) {
	return once(&s.mu, &s.kept, src.Text, func() (*tried, error) {
		a, err := solve(src)
		if err != nil {
			return nil, err
		}
		return &tried{answers: a}, nil
	})
}

// curve is the forces against a number, over all of its way.
func (k *tried) curve(x trial.Number) (*trial.Curve, error) {
	return once(&k.mu, &k.curves, x.Thing+"."+x.Attribute, func() (*trial.Curve, error) {
		return trial.Vary(k.answers, x, x.Low, x.High, 61)
	})
}

// once works a thing out where it is not kept yet, without holding up what asks for another.
func once[T any](mu *sync.Mutex, kept *map[string]func() (T, error), name string, work func() (T, error)) (T, error) {
	mu.Lock()
	known := (*kept)[name]
	if known == nil {
		if len(*kept) >= most || *kept == nil {
			*kept = map[string]func() (T, error){}
		}
		known = sync.OnceValues(work)
		(*kept)[name] = known
	}
	mu.Unlock()
	return known()
}
