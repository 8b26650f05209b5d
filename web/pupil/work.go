package pupil

import (
	"context"
	"errors"
	"fmt"
	"hash/fnv"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"steelyard/homework"
	"steelyard/mark"
	"steelyard/solution"
	"steelyard/store"
	"steelyard/web/page"
)

// A work is what a pupil has of a set: its questions with the pupil's numbers, and what was answered so far.
type work struct {
	Set       homework.Set
	Pupil     homework.Pupil // only what rules need: ID, class, access
	Now       time.Time
	Closes    time.Time // for this pupil; zero: never
	HandIn    homework.HandIn
	HandedIn  bool
	Questions []theQuestion
	Numbers   []homework.Numbers
	Saved     time.Time // when a draft was last kept; zero: there is none
}

// A theQuestion is one question of a set on a pupil's page.
type theQuestion struct {
	*homework.Asked
	N     int // from 1
	Parts []part
	Lost  bool      // its text can't be read any more: only what the pupil wrote is there, in parts without a wording
	key   *mark.Key // in practice, once it is judged
}

// A part is what is asked and what the pupil has for it.
type part struct {
	homework.Box
	Item            int
	Example         string // what an answer looks like
	Answer, Working string
	Rev             int64 // of the draft; 0 if there is none
	Late            bool  // typed after what was handed in
	Rungs           []rung
	More            bool // the ladder of hints goes on
	Practice        bool
	judged          *judged // in practice
}

// viewed is the pupil who looks at a page, as the rules need to know them.
func viewed(v *page.Viewer) homework.Pupil {
	return homework.Pupil{ID: v.ID, Class: v.Class, Access: v.Access}
}

// load finds a pupil's work for the set that the address names. What isn't open yet is refused.
func (r room) load(req *http.Request, v *page.Viewer) (*work, error) { return r.loaded(req, v, always) }

// loadBare is load without the pupil's own numbers, where only what was typed matters: a class's questions are then
// one question, which is found ready.
func (r room) loadBare(req *http.Request, v *page.Viewer) (*work, error) {
	return r.loaded(req, v, never)
}

// loadToRead is load with the pupil's own numbers only where lines are judged by them.
func (r room) loadToRead(req *http.Request, v *page.Viewer) (*work, error) {
	return r.loaded(req, v, func(s *homework.Set) bool { return s.Practice })
}

func always(*homework.Set) bool { return true }
func never(*homework.Set) bool  { return false }

func (r room) loaded(req *http.Request, v *page.Viewer, own func(*homework.Set) bool) (*work, error) {
	w, err := r.begin(req, v)
	if err != nil {
		return nil, err
	}
	if own(&w.Set) {
		if w.Numbers, err = r.Store.NumbersFor(req.Context(), w.Set.ID, w.Pupil.ID); err != nil {
			return nil, fmt.Errorf("finding numbers: %w", err)
		}
	}
	return w, r.answers(req.Context(), w)
}

func (r room) begin(req *http.Request, v *page.Viewer) (*work, error) {
	ctx := req.Context()
	set, err := r.Store.Set(ctx, req.PathValue("set"))
	if errors.Is(err, store.ErrNotFound) {
		return nil, page.NotFound
	}
	if err != nil {
		return nil, fmt.Errorf("finding a set: %w", err)
	}
	w := &work{Set: set, Pupil: viewed(v), Now: r.Now()}
	w.Closes = set.ClosesFor(w.Pupil)
	if !set.Opened(w.Now) {
		return nil, &page.Refusal{Status: http.StatusForbidden, What: "this set isn't open yet", Mend: "it opens " + when(set.Opens, w.Now) + "; come back then"}
	}
	return w, nil
}

// answers puts the questions of a set together with what the pupil has for them: what is kept as a draft, else what
// was handed in.
func (r room) answers(ctx context.Context, w *work) error {
	for i := range w.Set.Items {
		a, err := r.Marker.Ask(w.Set.TextFor(i, w.Pupil.ID, w.Numbers))
		if err != nil { // one question that can't be read takes none of the others away, and nothing that was written
			r.Log.ErrorContext(ctx, "a question can't be read", "set", w.Set.ID, "question", i+1, "err", err)
			w.Questions = append(w.Questions, theQuestion{Asked: &homework.Asked{Title: "This question can't be shown"}, N: i + 1, Lost: true})
			continue
		}
		q := theQuestion{Asked: a, N: i + 1}
		for _, b := range a.Parts {
			p := part{Box: b, Item: i, Practice: w.Set.Practice}
			p.Example = example(a, &p)
			q.Parts = append(q.Parts, p)
		}
		w.Questions = append(w.Questions, q)
	}
	var err error
	w.HandIn, err = r.Store.HandInOf(ctx, w.Set.ID, w.Pupil.ID)
	if err != nil && !errors.Is(err, store.ErrNotFound) {
		return fmt.Errorf("finding the hand-in: %w", err)
	}
	w.HandedIn = err == nil
	for _, a := range w.HandIn.Answers {
		if p := w.written(a.Item, a.Part); p != nil {
			p.Answer, p.Working = a.Answer, a.Working
		}
	}
	drafts, err := r.Store.Drafts(ctx, w.Set.ID, w.Pupil.ID)
	if err != nil {
		return fmt.Errorf("finding drafts: %w", err)
	}
	for _, d := range drafts {
		if p := w.written(d.Item, d.Part); p != nil {
			p.Late = w.HandedIn && (p.Answer != d.Answer.Answer || p.Working != d.Working)
			p.Answer, p.Working, p.Rev = d.Answer.Answer, d.Working, d.Rev
			if d.At.After(w.Saved) {
				w.Saved = d.At
			}
		}
	}
	return nil
}

// part finds a part of the set; nil if there is none.
func (w *work) part(item int, name string) *part {
	if item < 0 || item >= len(w.Questions) {
		return nil
	}
	for i := range w.Questions[item].Parts {
		if p := &w.Questions[item].Parts[i]; p.Name == name {
			return p
		}
	}
	return nil
}

// written finds a part that something was written for: a question that can't be read any more has those only.
func (w *work) written(item int, name string) *part {
	p := w.part(item, name)
	if p == nil && item >= 0 && item < len(w.Questions) && w.Questions[item].Lost {
		q := &w.Questions[item]
		q.Parts = append(q.Parts, part{Box: homework.Box{Name: name}, Item: item})
		p = &q.Parts[len(q.Parts)-1]
	}
	return p
}

// Lost says whether a question of the set can't be read any more.
func (w *work) Lost() bool {
	return slices.ContainsFunc(w.Questions, func(q theQuestion) bool { return q.Lost })
}

// Hints are those of a part; there are none for what can't be read.
func (q *theQuestion) Hints(part string) ([]solution.Hint, error) {
	if q.Lost {
		return nil, nil
	}
	return q.Asked.Hints(part)
}

// named finds a part by its ID: "0-a".
func (w *work) named(id string) *part {
	item, name, _ := strings.Cut(id, "-")
	n, err := strconv.Atoi(item)
	if err != nil {
		return nil
	}
	return w.part(n, name)
}

// each lists all parts in order.
func (w *work) each() (list []*part) {
	for i := range w.Questions {
		for k := range w.Questions[i].Parts {
			list = append(list, &w.Questions[i].Parts[k])
		}
	}
	return list
}

// Open says whether it can be handed in.
func (w *work) Open() bool { return w.Set.Open(w.Pupil, w.Now) && !w.Solved() }

// Solved says whether the worked solution has come to the pupil with the release.
func (w *work) Solved() bool { return solved(&w.Set, w.Pupil, w.Now, w.HandedIn) }

// solved says whether a pupil who has handed in a set has its worked solution with the release: what is handed in after
// that could be copied from it. Those who haven't handed in don't see it while the set is open for them.
func solved(s *homework.Set, p homework.Pupil, now time.Time, handedIn bool) bool {
	return handedIn && !s.Practice && s.Show.Solution == homework.Released && s.Shows(homework.Released, p, now, true)
}

// Shows says whether something is shown now.
func (w *work) Shows(when homework.When) bool { return w.Set.Shows(when, w.Pupil, w.Now, w.HandedIn) }

// Changed says whether something was typed since what was handed in.
func (w *work) Changed() bool {
	for _, p := range w.each() {
		if p.Late {
			return true
		}
	}
	return false
}

// Done counts the parts with an answer or working.
func (w *work) Done() (n, of int) {
	for _, p := range w.each() {
		if of++; !p.Blank() {
			n++
		}
	}
	return n, of
}

// Done says how far a question is: "not begun", "begun", "done".
func (q *theQuestion) Done() string {
	if q.Lost {
		return "can't be shown"
	}
	n := 0
	for i := range q.Parts {
		if !q.Parts[i].Blank() {
			n++
		}
	}
	switch n {
	case 0:
		return "not begun"
	case len(q.Parts):
		return "done"
	}
	return "begun"
}

// ID names a part on the page: "0-a".
func (p *part) ID() string { return strconv.Itoa(p.Item) + "-" + p.Name }

// Blank says whether nothing was written for a part.
func (p *part) Blank() bool {
	return strings.TrimSpace(p.Answer) == "" && strings.TrimSpace(p.Working) == ""
}

// Lacks says what of a part is empty.
func (p *part) Lacks() string {
	switch {
	case p.Blank():
		return "Nothing yet."
	case strings.TrimSpace(p.Answer) == "":
		return "No answer yet, only working."
	}
	return ""
}

// Seen is a stamp of what stood on the page, so that a form that is sent back from an old page changes only what was
// changed on it.
func (p *part) Seen() string {
	h := fnv.New64a()
	h.Write([]byte(p.Answer + "\x00" + p.Working))
	return strconv.FormatUint(h.Sum64(), 36)
}

// Stamp is one of all that is answered.
func (w *work) Stamp() string {
	h := fnv.New64a()
	for _, p := range w.each() {
		h.Write([]byte(p.ID() + p.Seen() + "\x00"))
	}
	return strconv.FormatUint(h.Sum64(), 36)
}
