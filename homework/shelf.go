package homework

import (
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"

	"steelyard/bank"
	"steelyard/class"
	"steelyard/mark"
	"steelyard/question"
	"steelyard/slip"
)

// A book is a question of the bank, ready for marking once it is needed.
type book struct {
	name     string
	text     string
	question *question.Question
	level    bool // that of the question that it follows
	key      *mark.Key
}

// A Shelf is the questions of the bank that may follow others: in another scene, with numbers that can vary. It is for
// one goroutine, and not to be kept: with all of its keys made it is some 20 MB large.
type Shelf struct{ books []book }

// OpenShelf opens the bank for what may follow some questions; there is one at least. Questions of the first one's
// level come first.
func OpenShelf(after ...*question.Question) (*Shelf, error) {
	var level, other []book
	for _, name := range bank.Names() {
		text, err := bank.Files.ReadFile(name)
		if err != nil {
			return nil, err
		}
		q, err := question.Parse(name, string(text))
		if err != nil {
			return nil, err
		}
		b := book{name: strings.TrimSuffix(name, ".moments"), text: string(text), question: q, level: q.Level == after[0].Level}
		switch {
		case len(q.Vary) == 0 || slices.ContainsFunc(after, func(a *question.Question) bool { return a.Title == q.Title }):
		case b.level:
			level = append(level, b)
		default:
			other = append(other, b)
		}
	}
	return &Shelf{append(level, other...)}, nil
}

// fit lists the questions that are meant to show one of the slips: of the level asked for, or else of any.
func (h *Shelf) fit(slips []string) []int {
	var level, all []int
	for i := range h.books {
		if !slices.ContainsFunc(slips, func(s string) bool { return slices.Contains(h.books[i].question.Traps, s) }) {
			continue
		}
		if all = append(all, i); h.books[i].level {
			level = append(level, i)
		}
	}
	if len(level) > 0 {
		return level
	}
	return all
}

// Next is the question whose answers are expected to tell most about which of the hypotheses left holds, of those that
// are meant to show one of the slips; and which part of what is open they are expected to settle. The name is "" if
// none tells anything.
func (h *Shelf) Next(left []mark.Suspect, slips []string) (name string, settles float64, err error) {
	b, settles, err := h.next(left, slips, nil)
	if err != nil || b == nil {
		return "", 0, err
	}
	return b.name, settles, nil
}

// next is Next without the questions named.
func (h *Shelf) next(left []mark.Suspect, slips, without []string) (*book, float64, error) {
	fit := slices.DeleteFunc(h.fit(slips), func(i int) bool { return slices.Contains(without, h.books[i].name) })
	faults := make([]error, len(fit))
	var wait sync.WaitGroup
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	for n, i := range fit {
		if h.books[i].key != nil {
			continue
		}
		wait.Go(func() {
			free <- struct{}{}
			h.books[i].key, faults[n] = mark.NewKey(h.books[i].question, mark.Policy{})
			<-free
		})
	}
	wait.Wait()
	if err := errors.Join(faults...); err != nil {
		return nil, 0, err
	}
	keys := make([]*mark.Key, len(fit))
	for n, i := range fit {
		keys[n] = h.books[i].key
	}
	best, ok := mark.Next(keys, left)
	if !ok || best.Most <= 0 {
		return nil, 0, nil
	}
	return &h.books[fit[best.Bank]], best.Bits / best.Most, nil
}

// StillOpen lists the slips that a pupil may have made: those that aren't next to excluded, or else the first few.
func StillOpen(left []mark.Suspect) []string {
	var out []string
	for _, s := range left {
		if slip.Named(s.Name) != nil && (s.Probability >= 0.02 || len(out) < 5) {
			out = append(out, s.Name)
		}
	}
	return out
}

// Afterwards is what is open about pupils once they have been taught: one of their slips is still made, or none.
func Afterwards(slips []string) []mark.Suspect {
	left := []mark.Suspect{{Name: mark.NoSlip, Probability: 0.5}}
	for _, s := range slips {
		left = append(left, mark.Suspect{Name: s, Probability: 0.5 / float64(len(slips))})
	}
	return left
}

// A Proposal is a question of the bank for a follow-up set.
type Proposal struct {
	Item    Item
	Title   string
	Why     string  // what it is expected to show, in a sentence for the teacher
	Settles float64 // the share of what is open that its answers are expected to settle, 0 to 1
}

// Propose proposes questions of the bank for pupils with some slips in common, at most so many, the most telling first.
// Each pupil has numbers of their own in them.
func (h *Shelf) Propose(slips []string, most int) ([]Proposal, error) {
	var out []Proposal
	var taken []string
	for len(out) < most {
		b, settles, err := h.next(Afterwards(slips), slips, taken)
		if err != nil {
			return nil, err
		}
		if b == nil {
			break
		}
		taken = append(taken, b.name)
		p := Proposal{Item: Item{Question: "bank:" + b.name, Text: b.text, Own: true}, Title: b.question.Title, Settles: settles}
		var shows []string
		for _, s := range slips {
			if row := slip.Named(s); row != nil && slices.Contains(b.question.Traps, s) {
				shows = append(shows, "“"+row.Title+"”")
			}
		}
		p.Why = fmt.Sprintf("Another scene, made to show %s. Its answers are expected to settle %.0f %% of what is open.", strings.Join(shows, " and "), 100*settles)
		out = append(out, p)
	}
	return out, nil
}

// FollowUp drafts a set for a group that is taught again, of questions proposed for it: for those pupils only, marked and
// shown as the set that it follows. The caller gives it an ID and times. Group codes are pupils' IDs, as in Results.
func FollowUp(s *Set, g class.Group, chosen []Proposal) Set {
	out := Set{Class: s.Class, Title: fmt.Sprintf("After %s: %s", s.Title, small(g.Cause.Title)), Seed: s.Seed + ", " + g.Cause.Name, Policy: s.Policy,
		Practice: s.Practice, Show: s.Show, Follows: s.ID}
	for _, who := range [][]class.Suspicion{g.Who, g.Then} {
		for _, w := range who {
			out.For = append(out.For, w.Code)
		}
	}
	for _, p := range chosen {
		out.Items = append(out.Items, p.Item)
	}
	return out
}

func small(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
