package homework

import "time"

// A Class is pupils who are taught together.
type Class struct {
	ID, Name string
	Code     string    // names the class at sign-in; no secret
	Source   string    // its identifier in the list it came from; may be empty
	Plain    bool      // no diagnosis: nothing is said about slips of single pupils
	KeepTill time.Time // what is kept of its pupils is erased after this
	Locked   time.Time // sign-in is locked since then, after too many wrong codes; zero: not locked
	Version  int
}

// A Pupil is what is kept of a pupil: a name to print and what their pages and sheets need.
type Pupil struct {
	ID     string // a pseudonym, stable; the only thing that logs and exports have
	Class  string
	Name   string // as the teacher gave it; may be a nickname
	Source string // its identifier in the list it came from; may be empty
	Code   string // the personal code, hashed (package account)
	Access Access
	Left   time.Time // not in the class any more; zero: still in it
}

// An Access says how a pupil's pages and sheets differ. It is stored as the setting, never as its reason.
type Access struct {
	TextSize    int    // points on paper, and in proportion on screen; 0: as usual
	Tint        string // "", "cream", "blue", "green", "rose"
	ExtraTime   int    // per cent of the time between opening and closing
	Description bool   // the drawing's description stands open, before the drawing
}

// printed is the size of text on paper, in points that can be printed; 0: as usual.
func (a Access) printed() float64 {
	if a.TextSize <= 0 {
		return 0
	}
	return float64(min(max(a.TextSize, 9), 36))
}
