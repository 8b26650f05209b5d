package account

import (
	"sync"
	"time"
)

// A Pace says how guessing at one kind of thing is slowed.
type Pace struct {
	Free         int           // wrong tries that cost nothing
	First, Least time.Duration // the wait after the next one, and what it doubles up to
	Lock         int           // wrong tries after which no more are taken; 0: never
	Forget       time.Duration // after so long without a wrong try all is as before
}

// Paces: a class's first lesson brings many mistyped codes from one address, so an address has room for a year group.
var (
	OfClass   = Pace{Free: 10, First: time.Second, Least: time.Minute, Lock: 50, Forget: time.Hour}
	OfCode    = Pace{Free: 5, First: time.Second, Least: time.Minute, Forget: time.Hour}
	OfAddress = Pace{Free: 60, First: time.Second, Least: time.Minute, Forget: 10 * time.Minute}
	OfTeacher = Pace{Free: 4, First: 30 * time.Second, Least: time.Hour, Lock: 100, Forget: 24 * time.Hour}
)

// A Throttle counts wrong tries, for as many things as it has room for. It may be used by several goroutines at once.
type Throttle struct {
	mu   sync.Mutex
	seen map[string]tries
	most int
}

type tries struct {
	wrong int
	last  time.Time
	pace  Pace
}

// NewThrottle makes a throttle that keeps count of at most so many things.
func NewThrottle(most int) *Throttle { return &Throttle{seen: map[string]tries{}, most: most} }

// Wait is how long to wait before the next try; locked is that there is none.
func (t *Throttle) Wait(what string, now time.Time) (wait time.Duration, locked bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	n, ok := t.seen[what]
	if !ok || now.Sub(n.last) >= n.pace.Forget {
		return 0, false
	}
	if n.pace.Lock > 0 && n.wrong >= n.pace.Lock {
		return 0, true
	}
	return max(0, n.last.Add(n.wait()).Sub(now)), false
}

func (n tries) wait() time.Duration {
	over := n.wrong - n.pace.Free
	if over <= 0 {
		return 0
	}
	if over > 20 {
		return n.pace.Least
	}
	return min(n.pace.First<<(over-1), n.pace.Least)
}

// Wrong counts a wrong try, and returns how many there have been.
func (t *Throttle) Wrong(what string, p Pace, now time.Time) int {
	t.mu.Lock()
	defer t.mu.Unlock()
	n := t.seen[what]
	if now.Sub(n.last) >= p.Forget {
		n = tries{}
	}
	if n.wrong == 0 && len(t.seen) >= t.most {
		t.makeRoom(now)
	}
	n.wrong, n.last, n.pace = n.wrong+1, now, p
	t.seen[what] = n
	return n.wrong
}

// Right forgets the wrong tries.
func (t *Throttle) Right(what string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	delete(t.seen, what)
}

// makeRoom drops what has been forgotten, and if nothing has, what has the fewest wrong tries.
func (t *Throttle) makeRoom(now time.Time) {
	least, fewest := "", 1<<30
	for what, n := range t.seen {
		if now.Sub(n.last) >= n.pace.Forget {
			delete(t.seen, what)
		} else if n.wrong < fewest {
			least, fewest = what, n.wrong
		}
	}
	if len(t.seen) >= t.most {
		delete(t.seen, least)
	}
}
