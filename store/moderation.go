package store

import (
	"context"
	"time"
)

// A SecondMark is what a second marker gave for one part, without having seen the first mark.
type SecondMark struct {
	Set, Pupil, HandIn string
	Item               int
	Part               string
	Mark               int
	By                 string // the teacher's ID
	At                 time.Time
}

const secondColumns = "set_id, pupil, hand_in, item, part, mark, by_who, at"

func scanSecond(r row) (m SecondMark, err error) {
	err = r.Scan(&m.Set, &m.Pupil, &m.HandIn, &m.Item, &m.Part, &m.Mark, &m.By, at{&m.At})
	return m, err
}

// SaveSecondMarks keeps a second marker's marks, all or none. Earlier ones stay; the last counts.
func (s *Store) SaveSecondMarks(ctx context.Context, by By, set string, list []SecondMark) error {
	return s.change(ctx, "second marks", func(t tx) error {
		for _, m := range list {
			if _, err := t.exec("INSERT INTO second_marks ("+secondColumns+") VALUES ($1, $2, $3, $4, $5, $6, $7, $8)",
				set, m.Pupil, m.HandIn, m.Item, m.Part, m.Mark, m.By, m.At); err != nil {
				return err
			}
			if err := t.line(by, Event{What: "second mark", About: set, Pupil: m.Pupil}, nil,
				map[string]any{"Item": m.Item, "Part": m.Part, "Mark": m.Mark}); err != nil {
				return err
			}
		}
		return changed(t, set)
	})
}

// SecondMarks are all second marks of a set, the oldest first.
func (s *Store) SecondMarks(ctx context.Context, set string) (list []SecondMark, err error) {
	err = s.read(ctx, "second marks", func(t tx) (err error) {
		list, err = all(t, scanSecond, "SELECT "+secondColumns+" FROM second_marks WHERE set_id = $1 ORDER BY n", set)
		return err
	})
	return list, err
}

// TakeBack takes decisions of a set back, all or none: what was decided before counts again, or else the marker's mark.
// They stay in the history.
func (s *Store) TakeBack(ctx context.Context, by By, set string, decisions []string) error {
	return s.change(ctx, "decisions taken back", func(t tx) error {
		for _, id := range decisions {
			d, err := one(t, scanDecision, decisionsRead+"WHERE id = $1 AND set_id = $2 AND taken = 0", id, set)
			if err != nil {
				return err
			}
			if err := t.must("UPDATE decisions SET taken = $2 WHERE id = $1", id, max(1, millis(by.At))); err != nil {
				return err
			}
			if err := t.line(by, Event{What: "decision taken back", About: set, Pupil: d.Pupil},
				map[string]any{"Item": d.Item, "Part": d.Part, "Mark": d.Mark, "Decision": d.ID}, nil); err != nil {
				return err
			}
		}
		return changed(t, set)
	})
}
