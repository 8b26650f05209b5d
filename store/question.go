package store

import (
	"context"
	"time"
)

// A Question is a teacher's own question.
type Question struct {
	ID, Owner string
	Title     string
	Text      string // as it stands, finished or not
	Shared    bool   // other teachers may read and copy it
	Changed   time.Time
	Gone      time.Time // put away since; zero: in use
	Version   int
}

// A Version is the text of a question at some time.
type Version struct {
	N    int
	Text string
	By   string
	At   time.Time
	Name string // given by the teacher; "" for those that autosave made
}

// AddQuestion adds a question with its first version.
func (s *Store) AddQuestion(ctx context.Context, by By, q Question) error { return errNotYet }

// Question finds a question; QuestionsOf lists a teacher's own, the last changed first; SharedQuestions those of
// other teachers who share them.
func (s *Store) Question(ctx context.Context, id string) (Question, error) {
	return Question{}, errNotYet
}
func (s *Store) QuestionsOf(ctx context.Context, teacher string) ([]Question, error) {
	return nil, errNotYet
}
func (s *Store) SharedQuestions(ctx context.Context, teacher string) ([]Question, error) {
	return nil, errNotYet
}

// SaveQuestion changes title, text, sharing and whether it is put away, and returns the new version's number.
// q.Version has to be the stored one. Where the last version has no name, is by the same teacher and less than five
// minutes old, it is written over: autosave does not fill the list.
func (s *Store) SaveQuestion(ctx context.Context, by By, q Question) (version int, err error) {
	return 0, errNotYet
}

// NameVersion names the text as it stands, which is kept as it is from then on.
func (s *Store) NameVersion(ctx context.Context, by By, question, name string) error {
	return errNotYet
}

// Versions lists the versions of a question, the newest first.
func (s *Store) Versions(ctx context.Context, question string) ([]Version, error) {
	return nil, errNotYet
}
