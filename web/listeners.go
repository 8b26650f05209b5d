package web

import "sync"

// listeners counts the live pages of each session.
type listeners struct {
	mu   sync.Mutex
	open map[string]int
}

// enter says whether a session may open one more.
func (l *listeners) enter(session string) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.open[session] >= listening {
		return false
	}
	if l.open == nil {
		l.open = map[string]int{}
	}
	l.open[session]++
	return true
}

func (l *listeners) leave(session string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.open[session]--; l.open[session] == 0 {
		delete(l.open, session)
	}
}
