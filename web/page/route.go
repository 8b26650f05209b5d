package page

import (
	"log/slog"
	"net/http"
	"time"

	"steelyard/account"
	"steelyard/film"
	"steelyard/homework"
	"steelyard/store"
)

// A Route is an address with who may take it. Rights are checked in one place, before Do is called: the role, and
// that what the address names is the viewer's. Names in braces mean things: {class}, {set}, {question}, {pupil},
// {person} and {film} are IDs, and are found to belong to the viewer, or there is no such page. For a pupil, {set} is a set of
// their class that is for them and given out.
type Route struct {
	Pattern string // as http.ServeMux takes it: "POST /classes/{class}/pupils"
	For     For
	Body    int64 // bytes of the request's body at most; 0: 64 KB
	Slow    bool  // may take up to a minute (an upload, a pack of sheets); else it has ten seconds
	Live    bool  // stays open (server-sent events)
	Do      func(w http.ResponseWriter, r *http.Request, v *Viewer) error
}

// A For is who a route is for.
type For uint8

const (
	Nobody   For = iota // a route that says nothing is for nobody
	Everyone            // signed in or not
	Pupils
	Teachers // heads are teachers too
	Heads
	SignedIn // whoever is signed in
)

// A Viewer is who looks at a page.
type Viewer struct {
	Role    account.Role
	ID      string // of the teacher or pupil; "" of a visitor
	Name    string
	Class   string // a pupil's
	Access  homework.Access
	Session string // the session's hash
	Started time.Time
	Theme   string // "", "light", "dark"
	Large   bool   // to be read from the back of a room
}

// Signed says whether somebody is signed in.
func (v *Viewer) Signed() bool { return v.Role != account.Visitor }

// By says who makes a change.
func (d *Desk) By(v *Viewer) store.By { return store.By{Role: v.Role, Who: v.ID, At: d.Now()} }

// A Desk is what pages work with.
type Desk struct {
	Store *store.Store
	Log   *slog.Logger // nothing personal goes there: IDs, never names or answers
	Now   func() time.Time
	Host  string // the public address, for printed slips: "http://127.0.0.1:8017"

	Codes    *account.Codes // hashes pupils' personal codes
	Marker   *homework.Marker
	HandedIn chan struct{} // a signal that there is something to mark; has room for one, send without waiting
	Films    *film.Queue   // made beside serving
}

// A Refusal is an error that the reader can do something about; it becomes a page of its own.
type Refusal struct {
	Status int    // such as 404
	What   string // what is the matter: "this set has closed"
	Mend   string // what to do: "ask your teacher to open it again"
}

func (e *Refusal) Error() string { return e.What }

// NotFound is the answer to what isn't there and to what is somebody else's: nobody can tell which.
var NotFound = &Refusal{http.StatusNotFound, "there is no such page", "go back, or to the first page"}
