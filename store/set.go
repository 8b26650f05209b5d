package store

import (
	"context"
	"iter"

	"steelyard/homework"
)

// AddSet adds a set, still a draft.
func (s *Store) AddSet(ctx context.Context, by By, h homework.Set) error { return errNotYet }

// Set finds a set; SetsOf lists those of a class, the last opened first.
func (s *Store) Set(ctx context.Context, id string) (homework.Set, error) {
	return homework.Set{}, errNotYet
}
func (s *Store) SetsOf(ctx context.Context, class string) ([]homework.Set, error) {
	return nil, errNotYet
}

// SaveSet changes a set. Its version has to be the stored one. Items of a set that has been given out can't change.
func (s *Store) SaveSet(ctx context.Context, by By, h homework.Set) error { return errNotYet }

// RemoveSet removes a draft.
func (s *Store) RemoveSet(ctx context.Context, by By, id string) error { return errNotYet }

// Give gives a set out: its numbers are kept and it stops being a draft, all or nothing. Where some
// are kept already, as when a pupil joins later, they stay and the others are added.
func (s *Store) Give(ctx context.Context, by By, set string, numbers []homework.Numbers) error {
	return errNotYet
}

// NumbersFor are a pupil's numbers for a set, by item; NumbersOf all pupils'.
func (s *Store) NumbersFor(ctx context.Context, set, pupil string) ([]homework.Numbers, error) {
	return nil, errNotYet
}
func (s *Store) NumbersOf(ctx context.Context, set string) ([]homework.Numbers, error) {
	return nil, errNotYet
}

// SaveDrafts keeps answers that are not handed in yet; one with a lower Rev than is kept is left out.
func (s *Store) SaveDrafts(ctx context.Context, drafts []homework.Draft) error { return errNotYet }

// Drafts are a pupil's for a set.
func (s *Store) Drafts(ctx context.Context, set, pupil string) ([]homework.Draft, error) {
	return nil, errNotYet
}

// HandIn keeps a hand-in and returns it as it is kept: for a key that is there already, the first one.
// Many at once share one write to the disk. The drafts of its parts go.
func (s *Store) HandIn(ctx context.Context, by By, h homework.HandIn) (homework.HandIn, error) {
	return homework.HandIn{}, errNotYet
}

// HandInOf is the last hand-in of a pupil for a set; HandInsBy all of them, the last first; HandInsOf the last one of each pupil.
func (s *Store) HandInOf(ctx context.Context, set, pupil string) (homework.HandIn, error) {
	return homework.HandIn{}, errNotYet
}
func (s *Store) HandInsBy(ctx context.Context, set, pupil string) ([]homework.HandIn, error) {
	return nil, errNotYet
}
func (s *Store) HandInsOf(ctx context.Context, set string) iter.Seq2[homework.HandIn, error] {
	return func(yield func(homework.HandIn, error) bool) { yield(homework.HandIn{}, errNotYet) }
}

// SaveMarkings keeps what the marker made of one hand-in, in place of what it made of it before.
func (s *Store) SaveMarkings(ctx context.Context, handIn string, m []homework.Marking) error {
	return errNotYet
}

// MarkingsOf are the markings of the last hand-in of each pupil, or of the one pupil named.
func (s *Store) MarkingsOf(ctx context.Context, set, pupil string) ([]homework.Marking, error) {
	return nil, errNotYet
}

// Unmarked lists hand-ins that have no markings yet, the oldest first.
func (s *Store) Unmarked(ctx context.Context, most int) ([]homework.HandIn, error) {
	return nil, errNotYet
}

// Decide keeps a teacher's decisions, all or none.
func (s *Store) Decide(ctx context.Context, by By, d []homework.Decision) error { return errNotYet }

// DecisionsOf are all decisions for a set, the oldest first.
func (s *Store) DecisionsOf(ctx context.Context, set string) ([]homework.Decision, error) {
	return nil, errNotYet
}

// Changes is a number that is larger after each hand-in, marking, decision or change of a set.
func (s *Store) Changes(ctx context.Context, set string) (int64, error) { return 0, errNotYet }
