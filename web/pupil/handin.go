package pupil

import (
	"crypto/rand"
	"errors"
	"fmt"
	"net/http"

	"steelyard/homework"
	"steelyard/store"
	"steelyard/web/page"
)

// look shows all answers as they were read, and what is empty, before anything is handed in.
func (r room) look(w http.ResponseWriter, req *http.Request, v *page.Viewer) error {
	k, err := r.load(req, v)
	if err != nil {
		return err
	}
	if !k.Open() {
		return page.Go(w, req, "/work/"+k.Set.ID)
	}
	return page.Write(w, req, v, http.StatusOK, k.page("Look over and hand in", lookOver(k, store.NewID(), req.FormValue("changed") != ""), page.Crumb{Name: k.Set.Title, Href: "/work/" + k.Set.ID}))
}

// handIn hands in what the pupil has just looked at. The key was made with the page, so that pressing twice, or a
// browser that sends again, hands in once.
func (r room) handIn(w http.ResponseWriter, req *http.Request, v *page.Viewer) error {
	k, err := r.loadBare(req, v)
	if err != nil {
		return err
	}
	ctx, key := req.Context(), req.PostFormValue("key")
	if len(key) < 16 || len(key) > 64 {
		return &page.Refusal{Status: http.StatusBadRequest, What: "the form did not arrive whole", Mend: "go back and look over your answers again"}
	}
	to := "/work/" + k.Set.ID
	if done, err := r.isHandedIn(req, k, key); err != nil {
		return err
	} else if done {
		return page.Go(w, req, to+"/receipt")
	}
	if k.Solved() {
		return &page.Refusal{Status: http.StatusConflict, What: "you have handed this set in, and its solutions are out",
			Mend: "what you handed in counts. Tell your teacher if something in it should be looked at"}
	}
	if !k.Open() {
		return &page.Refusal{Status: http.StatusConflict, What: "this set closed " + when(k.Closes, k.Now),
			Mend: "nothing is lost: what you typed is kept, and your teacher can see it. Tell your teacher if you meant to hand it in"}
	}
	if req.PostFormValue("stamp") != k.Stamp() {
		return page.Go(w, req, to+"/look?changed=1")
	}
	h := homework.HandIn{ID: store.NewID(), Set: k.Set.ID, Pupil: k.Pupil.ID, Key: key, Receipt: newReceipt(), At: k.Now}
	for _, p := range k.each() {
		if !p.Blank() {
			h.Answers = append(h.Answers, homework.Answer{Item: p.Item, Part: p.Name, Answer: p.Answer, Working: p.Working})
		}
	}
	if _, err := r.Store.HandIn(ctx, r.By(v), h); errors.Is(err, store.ErrClosed) {
		return &page.Refusal{Status: http.StatusConflict, What: "this set has just closed", Mend: "nothing is lost: what you typed is kept, and your teacher can see it"}
	} else if err != nil {
		return fmt.Errorf("handing in: %w", err)
	}
	select {
	case r.HandedIn <- struct{}{}:
	default:
	}
	return page.Go(w, req, to+"/receipt")
}

// isHandedIn says whether there is a hand-in with a key already.
func (r room) isHandedIn(req *http.Request, k *work, key string) (bool, error) {
	if !k.HandedIn {
		return false, nil
	}
	if k.HandIn.Key == key {
		return true, nil
	}
	all, err := r.Store.HandInsBy(req.Context(), k.Set.ID, k.Pupil.ID)
	if err != nil {
		return false, fmt.Errorf("finding hand-ins: %w", err)
	}
	for _, h := range all {
		if h.Key == key {
			return true, nil
		}
	}
	return false, nil
}

// receiptLetters are those that are not taken for each other when they are read out.
const receiptLetters = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"

// newReceipt makes a code to quote, in two groups: "K7QM-3XDW". It is no secret.
func newReceipt() string {
	b := make([]byte, 8)
	rand.Read(b)
	for i := range b {
		b[i] = receiptLetters[int(b[i])%len(receiptLetters)]
	}
	return string(b[:4]) + "-" + string(b[4:])
}

// receipt shows that it is handed in, and the code to quote.
func (r room) receipt(w http.ResponseWriter, req *http.Request, v *page.Viewer) error {
	k, err := r.load(req, v)
	if err != nil {
		return err
	}
	if !k.HandedIn {
		return page.Go(w, req, "/work/"+k.Set.ID)
	}
	return page.Write(w, req, v, http.StatusOK, k.page("Handed in", receiptOf(k), page.Crumb{Name: k.Set.Title, Href: "/work/" + k.Set.ID}))
}
