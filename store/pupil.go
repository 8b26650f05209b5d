package store

import (
	"cmp"
	"context"

	"steelyard/homework"
)

const pupilColumns = "id, class, name, source, code, access, left_at"

func scanPupil(r row) (p homework.Pupil, err error) {
	err = r.Scan(&p.ID, &p.Class, &p.Name, &p.Source, &p.Code, doc{&p.Access}, at{&p.Left})
	return p, err
}

func pupilByID(t tx, id string) (homework.Pupil, error) {
	return one(t, scanPupil, "SELECT "+pupilColumns+" FROM pupils WHERE id = $1", id)
}

// AddPupils adds pupils to a class, all or none.
func (s *Store) AddPupils(ctx context.Context, by By, class string, pupils []homework.Pupil) error {
	return s.change(ctx, "pupils of class "+class, func(t tx) error {
		for _, p := range pupils {
			if _, err := t.exec("INSERT INTO pupils ("+pupilColumns+") VALUES ($1, $2, $3, $4, $5, $6, $7)",
				p.ID, class, p.Name, p.Source, p.Code, asJSON(p.Access), p.Left); err != nil {
				return err
			}
			if err := t.line(by, Event{What: "pupil added", About: class, Pupil: p.ID}, nil, nil); err != nil {
				return err
			}
		}
		return nil
	})
}

// Pupil finds a pupil; Pupils lists those of a class in the order in which they were added, those who have left too.
func (s *Store) Pupil(ctx context.Context, id string) (p homework.Pupil, err error) {
	err = s.read(ctx, "pupil", func(t tx) (err error) {
		p, err = pupilByID(t, id)
		return err
	})
	return p, err
}

func (s *Store) Pupils(ctx context.Context, class string) (list []homework.Pupil, err error) {
	err = s.read(ctx, "pupils", func(t tx) (err error) {
		list, err = all(t, scanPupil, "SELECT "+pupilColumns+" FROM pupils WHERE class = $1 ORDER BY n", class)
		return err
	})
	return list, err
}

// SavePupil changes a pupil's name, code, access and whether they have left; its source only where it had none, such as
// of a pupil added by hand who is met in a school's list. A new code, or having left, ends their sessions.
func (s *Store) SavePupil(ctx context.Context, by By, p homework.Pupil) error {
	return s.change(ctx, "pupil "+p.ID, func(t tx) error {
		old, err := pupilByID(t, p.ID)
		if err != nil {
			return err
		}
		p := p
		p.Class, p.Source, p.Left = old.Class, cmp.Or(old.Source, p.Source), kept(p.Left)
		if err := t.must("UPDATE pupils SET name = $1, code = $2, access = $3, left_at = $4, source = $5 WHERE id = $6",
			p.Name, p.Code, asJSON(p.Access), p.Left, p.Source, p.ID); err != nil {
			return err
		}
		if p.Code != old.Code || !p.Left.Equal(old.Left) {
			if err := endSessions(t, p.ID, ""); err != nil {
				return err
			}
		}
		was, now := differing(old, p, "Code")
		return t.line(by, Event{What: "pupil changed", About: p.Class, Pupil: p.ID}, was, now)
	})
}
