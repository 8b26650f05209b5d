package web

import (
	"context"
	"errors"
	"maps"
	"mime/multipart"
	"net/http"
	"net/textproto"
	"net/url"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"steelyard/account"
	"steelyard/question"
	"steelyard/store"
	"steelyard/web/page"
)

// A told fault is an error as its reader gets to know it.
type told struct {
	Status     int
	What, Mend string
	Reference  string // for a fault of ours: it stands in the log too
	SignIn     string
	Again      string  // where what was typed can be sent once more, after signing in
	Typed      []typed // in order of name
}

// A typed is a field of a form that came when nobody was signed in any more.
type typed struct{ Name, Value string }

// tell turns an error into what the reader can do about it.
func tell(err error) told {
	var refusal *page.Refusal
	var unread question.Faults
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &refusal):
		return told{Status: refusal.Status, What: refusal.What, Mend: refusal.Mend}
	case errors.Is(err, store.ErrNotFound):
		return tell(page.NotFound)
	case errors.Is(err, store.ErrChanged):
		return told{Status: http.StatusConflict, What: "Somebody else has changed this in between",
			Mend: "Go back, open the page again, and make your change once more. Nothing of theirs was written over."}
	case errors.Is(err, store.ErrExists):
		return told{Status: http.StatusConflict, What: "It is there already", Mend: "Go back and take another name, or use the one that is there."}
	case errors.Is(err, store.ErrClosed):
		return told{Status: http.StatusConflict, What: "This set is closed", Mend: "What you handed in before is kept. Ask your teacher if you need more time."}
	case errors.Is(err, store.ErrFull):
		return told{Status: http.StatusInsufficientStorage, What: "The disk is full",
			Mend: "Nothing was changed. Whoever runs Steelyard at your school has to make room; then try again."}
	case errors.Is(err, store.ErrBusy), errors.Is(err, context.DeadlineExceeded):
		return told{Status: http.StatusServiceUnavailable, What: "It takes too long just now", Mend: "Wait a moment and try again."}
	case broken(err):
		return tell(badRequest)
	case errors.As(err, &unread):
		return told{Status: http.StatusUnprocessableEntity, What: "A question here can't be read any more", Mend: mendText(unread)}
	case errors.As(err, &large):
		return told{Status: http.StatusRequestEntityTooLarge, What: "That is too much at once", Mend: "Go back and send less, or a smaller file."}
	}
	return told{Status: http.StatusInternalServerError, What: "Something went wrong on our side",
		Mend: "It was not your doing. Go back and try again; what was saved before is still there."}
}

// mendText says how to mend the text of a question that was kept and can't be read.
func mendText(faults question.Faults) string {
	first := faults[0]
	first.File = "" // the reader knows it as a question, not as a file
	return ended(sentence(first.Error())) + " Nothing is lost, and all other pages go on. Mend it under Questions; " +
		"then take it out of the set and add it again, in a copy of the set if that is given out already."
}

// broken says whether a form with files could not be read because of what was sent.
func broken(err error) bool {
	var line textproto.ProtocolError
	return errors.Is(err, http.ErrMissingBoundary) || errors.Is(err, http.ErrNotMultipart) || errors.Is(err, multipart.ErrMessageTooLarge) ||
		errors.As(err, &line) || err != nil && strings.Contains(err.Error(), "multipart: ")
}

// sendFault sends the page of a fault.
func (s *server) sendFault(w http.ResponseWriter, r *http.Request, v *page.Viewer, f told) error {
	if f.Status == http.StatusServiceUnavailable || f.Status == http.StatusTooManyRequests {
		if w.Header().Get("Retry-After") == "" {
			w.Header().Set("Retry-After", "5")
		}
	}
	return page.Write(w, r, v, f.Status, page.Page{Title: sentence(f.What), Body: fault(told{Mend: ended(sentence(f.Mend)), Reference: f.Reference, SignIn: f.SignIn, Again: f.Again, Typed: f.Typed})})
}

// sentence begins with a capital letter.
func sentence(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[n:]
}

// ended ends with a full stop.
func ended(s string) string {
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".?!") {
		return s
	}
	return s + "."
}

var signedOut = told{Status: http.StatusUnauthorized, What: "You are signed out",
	Mend: "Sign in and try again. What you had typed may still be there when you go back."}

// signInFirst sends a visitor to where they can sign in and come back from. What can't be repeated is refused; a form
// comes back with all that was typed, to be sent again from where it is.
func (s *server) signInFirst(w http.ResponseWriter, r *http.Request, v *page.Viewer, route page.Route) error {
	to := "/sign-in"
	if route.For == page.Pupils {
		to = "/sign-in/pupil"
	}
	if whole := r.Method == http.MethodGet && !part(r); !whole {
		out := signedOut
		out.SignIn = to
		if r.Method == http.MethodPost && readForm(w, r, route) == nil && len(r.PostForm) > 0 {
			out.Again, out.Typed = r.URL.Path, typedIn(r.PostForm)
			out.Mend = "Nothing that you typed is lost as long as you leave this page open. Sign in on another tab; then come back here and send it again."
		}
		return s.sendFault(w, r, v, out)
	}
	return page.Go(w, r, to+"?to="+strings.ReplaceAll(r.URL.EscapedPath(), "&", "%26"))
}

// typedIn lists the fields of a form but for those that hold secrets.
func typedIn(form url.Values) (list []typed) {
	for _, name := range slices.Sorted(maps.Keys(form)) {
		if strings.Contains(name, "password") || strings.Contains(name, "code") {
			continue
		}
		for _, value := range form[name] {
			list = append(list, typed{name, value})
		}
	}
	return list
}

// part says whether a script asks, for a part of a page that is open already.
func part(r *http.Request) bool {
	if r.Header.Get("HX-Request") != "" {
		return true
	}
	dest := r.Header.Get("Sec-Fetch-Dest")
	return dest != "" && dest != "document"
}

func visitor() *page.Viewer { return &page.Viewer{Role: account.Visitor} }
