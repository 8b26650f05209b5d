package web

import (
	"sync"
	"time"

	"golang.org/x/time/rate"
)

// Rates: a browser that drags on the drawing asks once for each frame; an address may be a whole school's, before it
// has signed in.
const (
	perSession, sessionBurst = 120, 400
	perAddress, addressBurst = 100, 2000
	ratesKept                = 8192
)

// rates limits requests per session or address. It keeps count of a bounded number of them.
type rates struct {
	mu   sync.Mutex
	seen map[string]*counted
	now  func() time.Time
}

type counted struct {
	limit *rate.Limiter
	last  time.Time
}

// take says whether one more request may come, and if not, after how long.
func (s *rates) take(who string, per rate.Limit, burst int) (bool, time.Duration) {
	s.mu.Lock()
	defer s.mu.Unlock()
	now := s.now()
	c := s.seen[who]
	if c == nil {
		if len(s.seen) >= ratesKept {
			s.makeRoom(now)
		}
		c = &counted{limit: rate.NewLimiter(per, burst)}
		s.seen[who] = c
	}
	c.last = now
	if c.limit.AllowN(now, 1) {
		return true, 0
	}
	return false, time.Second
}

// makeRoom drops those not seen for a minute, whose allowance is whole again, or else all: better a new allowance than
// no memory.
func (s *rates) makeRoom(now time.Time) {
	for who, c := range s.seen {
		if now.Sub(c.last) > time.Minute {
			delete(s.seen, who)
		}
	}
	if len(s.seen) >= ratesKept {
		clear(s.seen)
	}
}
