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

const questionColumns = "id, owner, title, text, shared, changed, gone, version"

func scanQuestion(r row) (q Question, err error) {
	err = r.Scan(&q.ID, &q.Owner, &q.Title, &q.Text, flag{&q.Shared}, at{&q.Changed}, at{&q.Gone}, &q.Version)
	return q, err
}

func questionByID(t tx, id string) (Question, error) {
	return one(t, scanQuestion, "SELECT "+questionColumns+" FROM questions WHERE id = $1", id)
}

// AddQuestion adds a question with its first version, 1.
func (s *Store) AddQuestion(ctx context.Context, by By, q Question) error {
	return s.change(ctx, "question "+q.ID, func(t tx) error {
		if _, err := t.exec("INSERT INTO questions ("+questionColumns+") VALUES ($1, $2, $3, $4, $5, $6, $7, 1)",
			q.ID, q.Owner, q.Title, q.Text, q.Shared, by.At, q.Gone); err != nil {
			return err
		}
		if err := addVersion(t, by, q.ID, 1, q.Text); err != nil {
			return err
		}
		return t.line(by, Event{What: "question made", About: q.ID}, nil, nil)
	})
}

// Question finds a question; QuestionsOf lists a teacher's own, the last changed first; SharedQuestions those of
// other teachers who share them.
func (s *Store) Question(ctx context.Context, id string) (q Question, err error) {
	err = s.read(ctx, "question", func(t tx) (err error) {
		q, err = questionByID(t, id)
		return err
	})
	return q, err
}

func (s *Store) QuestionsOf(ctx context.Context, teacher string) ([]Question, error) {
	return s.questions(ctx, "owner = $1", teacher)
}

func (s *Store) SharedQuestions(ctx context.Context, teacher string) ([]Question, error) {
	return s.questions(ctx, "owner <> $1 AND shared = 1 AND gone = 0", teacher)
}

func (s *Store) questions(ctx context.Context, where, teacher string) (list []Question, err error) {
	err = s.read(ctx, "questions", func(t tx) (err error) {
		list, err = all(t, scanQuestion, "SELECT "+questionColumns+" FROM questions WHERE "+where+" ORDER BY changed DESC, id", teacher)
		return err
	})
	return list, err
}

// SaveQuestion changes title, text, sharing and whether it is put away, and returns the new version's number.
// q.Version has to be the stored one. Where the last version has no name, is by the same teacher and began less than five
// minutes ago, it is written over: autosave does not fill the list.
func (s *Store) SaveQuestion(ctx context.Context, by By, q Question) (version int, err error) {
	err = s.change(ctx, "question "+q.ID, func(t tx) error {
		old, err := questionByID(t, q.ID)
		if err != nil {
			return err
		}
		if old.Version != q.Version {
			return ErrChanged
		}
		next := old.Version + 1
		if err := t.must("UPDATE questions SET title = $1, text = $2, shared = $3, gone = $4, changed = $5, version = $6 WHERE id = $7",
			q.Title, q.Text, q.Shared, q.Gone, by.At, next, q.ID); err != nil {
			return err
		}
		began, err := saveVersion(t, by, q.ID, next, clean(q.Text))
		if err != nil {
			return err
		}
		version = next
		return lineOfQuestion(t, by, old, q, began)
	})
	return version, err
}

// lineOfQuestion leaves a line where a version began or something else than the text was changed: the versions are the text's history.
func lineOfQuestion(t tx, by By, old, q Question, began bool) error {
	was := map[string]any{"Title": old.Title, "Shared": old.Shared, "Gone": kept(old.Gone)}
	now := map[string]any{"Title": q.Title, "Shared": q.Shared, "Gone": kept(q.Gone)}
	was, now = differing(was, now)
	if len(now) == 0 && !began {
		return nil
	}
	return t.line(by, Event{What: "question changed", About: q.ID}, was, now)
}
