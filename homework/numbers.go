package homework

import (
	"fmt"

	"steelyard/question"
	"steelyard/variant"
)

// Choose chooses the numbers that a set's pupils don't have yet, for each item that gives pupils their own, and
// returns those new ones only. Kept are the numbers that have been given out: they stay as they are. Pupils are all of
// the class in its order, those who have left too, since a pupil's numbers keep clear of those of pupils before.
// Doubts say what the ranges of a question are too narrow for.
//
// It is a pure function: the same set, class and kept numbers give the same numbers, always.
func Choose(s *Set, pupils []Pupil, kept []Numbers) (fresh []Numbers, doubts []string, err error) {
	for i := range s.Items {
		if !s.Items[i].Own {
			continue
		}
		more, words, err := s.choose(i, pupils, kept)
		if err != nil {
			return nil, nil, fmt.Errorf("numbers for question %d: %w", i+1, err)
		}
		fresh, doubts = append(fresh, more...), append(doubts, words...)
	}
	return fresh, doubts, nil
}

// mostTries is how often numbers are chosen anew where they would be somebody else's already.
const mostTries = 3

// choose chooses the numbers of one item.
func (s *Set) choose(item int, pupils []Pupil, kept []Numbers) (fresh []Numbers, doubts []string, err error) {
	q, err := question.Parse("", s.Items[item].Text)
	if err != nil {
		return nil, nil, err
	}
	taken := map[string]bool{} // texts that somebody has
	has := map[string]bool{}   // pupils
	for _, n := range kept {
		if n.Item == item {
			taken[n.Text], has[n.Pupil] = true, true
		}
	}
	// Those who have numbers come first: who joins later doesn't move them.
	var order []string
	for _, with := range []bool{true, false} {
		for _, p := range pupils {
			if s.IsFor(p) && has[p.ID] == with && (with || p.Left.IsZero()) {
				order = append(order, p.ID)
			}
		}
	}
	old := 0
	for old < len(order) && has[order[old]] {
		old++
	}
	if old == len(order) {
		return nil, nil, nil
	}
	seed := s.Seed
	for try := range mostTries {
		res, err := variant.Choose(q, seed, order, variant.Options{})
		if err != nil {
			return nil, nil, err
		}
		fresh, doubts = nil, nil
		met := 0
		for k := old; k < len(res.Pupils); k++ {
			n := Numbers{Set: s.ID, Item: item, Pupil: order[k], Text: given(res.Pupils[k].Question)}
			if taken[n.Text] {
				met++
			}
			fresh = append(fresh, n)
		}
		for _, n := range res.TooNarrow {
			doubts = append(doubts, fmt.Sprintf("%s: %s", q.Title, n.Words))
		}
		if len(fresh) < len(order)-old {
			return nil, doubts, fmt.Errorf("no numbers in the ranges of %q keep it what it is; narrow or move them", q.Title)
		}
		// Who has left and been erased doesn't shape the choice any more, so it may meet numbers that were given out.
		if met == 0 || try == mostTries-1 {
			if met > 0 {
				doubts = append(doubts, fmt.Sprintf("%s: %d of the pupils who join have the numbers of somebody else", q.Title, met))
			}
			return fresh, doubts, nil
		}
		seed = fmt.Sprintf("%s, %d", s.Seed, try+2)
	}
	return fresh, doubts, nil
}

// given is a question as one pupil is given it: nothing in it varies any more.
func given(q *question.Question) string {
	own := q.Clone()
	own.Vary = nil
	return own.String()
}
