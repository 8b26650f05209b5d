package account

import (
	"sync"
	"time"
)

// A Pace says how guessing at one kind of thing is slowed.
type Pace struct {
	Free        int           // wrong tries that cost nothing
	First, Most time.Duration // the wait after the next one, and what it doubles up to
	Lock        int           // wrong tries after which no more are taken; 0: never
	Forget      time.Duration // after so long without a wrong try all is as before
}

// Paces: a first lesson brings many mistyped codes from one address, so an address has room for a year group, and whoever
// Paces. A first lesson brings many mistyped codes from one address, so an address has room for a year group, and its
// waits stay short: whoever guesses from a school must not keep the school out.
var (
	OfClass   = Pace{Free: 10, First: time.Second, Most: time.Minute, Lock: 50, Forget: time.Hour}
	OfCode    = Pace{Free: 5, First: time.Second, Most: time.Minute, Forget: time.Hour}
	OfAddress = Pace{Free: 60, First: time.Second, Most: 5 * time.Second, Forget: 10 * time.Minute}
	OfTeacher = Pace{Free: 4, First: 30 * time.Second, Most: time.Hour, Lock: 100, Forget: 24 * time.Hour}
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

// A Target is what somebody may be guessing at, or from.
type Target struct {
	What string
	Pace Pace
}

// A Hold says that no try is taken now.
type Hold struct {
	Wait   time.Duration
	Locked bool // until somebody looks, or for as long as its pace says
}

// NewThrottle makes a throttle that keeps count of at most so many things.
func NewThrottle(most int) *Throttle { return &Throttle{seen: map[string]tries{}, most: most} }

// Holds says whether a try is taken now; it costs nothing, to refuse early.
func (t *Throttle) Holds(now time.Time, targets ...Target) Hold {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.holds(now, targets)
}

// Judge counts a try whose outcome is known, but not told yet, and returns how many wrong ones there have been at the
// first target. Of many tries sent at once those that should have waited are held even here, and what they would
// have told is not to be told.
func (t *Throttle) Judge(now time.Time, right bool, targets ...Target) (h Hold, wrong int) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if h := t.holds(now, targets); h != (Hold{}) || right {
		return h, 0
	}
	for i, target := range targets {
		n := t.count(now, target)
		if i == 0 {
			wrong = n
		}
	}
	return Hold{}, wrong
}

// Forget forgets the wrong tries at something.
func (t *Throttle) Forget(what string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	delete(t.seen, what)
}

func (t *Throttle) holds(now time.Time, targets []Target) (h Hold) {
	for _, target := range targets {
		n, p := t.seen[target.What], target.Pace
		if now.Sub(n.last) >= p.Forget {
			continue
		}
		h.Locked = h.Locked || p.Lock > 0 && n.wrong >= p.Lock
		h.Wait = max(h.Wait, n.last.Add(p.wait(n.wrong)).Sub(now))
	}
	return h
}

func (p Pace) wait(wrong int) time.Duration {
	over := wrong - p.Free
	if over <= 0 {
		return 0
	}
	if over > 20 {
		return p.Most
	}
	return min(p.First<<(over-1), p.Most)
}

func (t *Throttle) count(now time.Time, target Target) int {
	n := t.seen[target.What]
	if now.Sub(n.last) >= target.Pace.Forget {
		n = tries{}
	}
	if n.wrong == 0 && len(t.seen) >= t.most {
		t.makeRoom(now)
	}
	n.wrong, n.last, n.pace = n.wrong+1, now, target.Pace
	t.seen[target.What] = n
	return n.wrong
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
