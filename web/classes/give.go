package classes

import (
	"context"
	"crypto/sha256"
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"sync"

	"steelyard/homework"
	"steelyard/slip"
	"steelyard/web/page"
)

// doubts remembers what the ranges of questions were too narrow for, since finding it out takes up to a second or two.
type doubts struct {
	lock sync.Mutex
	said map[[32]byte][]string
}

func newDoubts() *doubts { return &doubts{said: map[[32]byte][]string{}} }

const mostSaid = 500

// of says what an item's ranges are too narrow for, for the pupils of a set.
func (d *doubts) of(s *homework.Set, item int, pupils []homework.Pupil) []string {
	n := len(s.Pupils(pupils))
	key := sha256.Sum256(fmt.Appendf(nil, "%s\x00%s\x00%d", s.Seed, s.Items[item].Text, n))
	d.lock.Lock()
	words, ok := d.said[key]
	d.lock.Unlock()
	if ok || n == 0 {
		return words
	}
	_, words, err := homework.Choose(alone(s, item), pupils, nil)
	if err != nil {
		words = []string{err.Error()}
	}
	for i := range words {
		words[i] = spoken(words[i])
	}
	d.lock.Lock()
	defer d.lock.Unlock()
	if len(d.said) >= mostSaid {
		clear(d.said)
	}
	d.said[key] = words
	return words
}

var slipName = regexp.MustCompile(`"([a-z-]+)( \([^"()]*\))?"`)

// spoken is a doubt with slips called as they would be in the staff room, and without the question's title before it.
func spoken(words string) string {
	if _, rest, ok := strings.Cut(words, ": "); ok {
		words = rest
	}
	return slipName.ReplaceAllStringFunc(words, func(quoted string) string {
		m := slipName.FindStringSubmatch(quoted)
		if s := slip.Named(m[1]); s != nil {
			return "“" + s.Title + "”" + m[2]
		}
		return quoted
	})
}

// alone is a set in which only one item gives pupils numbers of their own.
func alone(s *homework.Set, item int) *homework.Set {
	one := *s
	one.Items = make([]homework.Item, len(s.Items))
	copy(one.Items, s.Items)
	for i := range one.Items {
		one.Items[i].Own = one.Items[i].Own && i == item
	}
	return &one
}

// choose chooses the numbers that pupils lack, question by question, so that it ends when nobody waits for it any more.
func choose(ctx context.Context, s *homework.Set, pupils []homework.Pupil, kept []homework.Numbers) ([]homework.Numbers, error) {
	var all []homework.Numbers
	for i := range s.Items {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if !s.Items[i].Own {
			continue
		}
		fresh, _, err := homework.Choose(alone(s, i), pupils, kept)
		if err != nil {
			return nil, err
		}
		all = append(all, fresh...)
	}
	return all, nil
}

// give gives a set out, or gives those who have joined since their numbers.
func (m *room) give(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	s, _, pupils, err := m.setOf(r)
	if err != nil {
		return err
	}
	faults := s.Faults()
	if s.Given.IsZero() {
		if len(s.Pupils(pupils)) == 0 {
			faults = append(faults, "there is nobody to give it to; add pupils to the class")
		}
		if !s.Closes.IsZero() && !s.Closes.After(m.Now()) {
			faults = append(faults, "the closing time is over already; choose a later one")
		}
	}
	if len(faults) > 0 {
		return m.sendSet(w, r, v, faults, closesField(""))
	}
	if err := m.giveTo(r.Context(), v, &s, pupils); err != nil {
		return err
	}
	return page.Go(w, r, "/sets/"+s.ID)
}

func (m *room) giveTo(ctx context.Context, v *page.Viewer, s *homework.Set, pupils []homework.Pupil) error {
	kept, err := m.Store.NumbersOf(ctx, s.ID)
	if err != nil {
		return err
	}
	fresh, err := choose(ctx, s, pupils, kept)
	if err != nil {
		return err
	}
	return m.Store.Give(ctx, m.By(v), s.ID, fresh)
}

// giveJoined gives those who are new in a class their numbers for the sets that are under way.
func (m *room) giveJoined(ctx context.Context, v *page.Viewer, class string) error {
	pupils, err := m.Store.Pupils(ctx, class)
	if err != nil {
		return err
	}
	sets, err := m.Store.SetsOf(ctx, class)
	if err != nil {
		return err
	}
	for i := range sets {
		s := &sets[i]
		if s.Given.IsZero() || s.Closed(pupils, m.Now()) || len(s.Faults()) > 0 {
			continue
		}
		if err := m.giveTo(ctx, v, s, pupils); err != nil {
			return err
		}
	}
	return nil
}

// joined counts the pupils of a set that has been given out who have no numbers of their own yet.
func (m *room) joined(r *http.Request, s *homework.Set, pupils []homework.Pupil) (int, error) {
	own := 0
	for i := range s.Items {
		if s.Items[i].Own {
			own++
		}
	}
	if own == 0 {
		return 0, nil
	}
	kept, err := m.Store.NumbersOf(r.Context(), s.ID)
	if err != nil {
		return 0, err
	}
	has := map[string]int{}
	for _, n := range kept {
		has[n.Pupil]++
	}
	n := 0
	for _, p := range s.Pupils(pupils) {
		if has[p.ID] < own {
			n++
		}
	}
	return n, nil
}
