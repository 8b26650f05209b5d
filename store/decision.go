package store

import (
	"context"

	"steelyard/homework"
)

const decisionColumns = "id, set_id, pupil, hand_in, item, part, mark, reason, by_who, at"

func scanDecision(r row) (d homework.Decision, err error) {
	err = r.Scan(&d.ID, &d.Set, &d.Pupil, &d.HandIn, &d.Item, &d.Part, &d.Mark, &d.Reason, &d.By, at{&d.At})
	return d, err
}

const decisionsRead = "SELECT id, set_id, pupil, COALESCE(hand_in, ''), item, part, mark, reason, by_who, at FROM decisions "

// Decide keeps a teacher's decisions, all or none. Without an ID they get one.
func (s *Store) Decide(ctx context.Context, by By, list []homework.Decision) error {
	return s.change(ctx, "decisions", func(t tx) error {
		sets := map[string]bool{}
		for _, d := range list {
			if d.ID == "" {
				d.ID = NewID()
			}
			if _, err := t.exec("INSERT INTO decisions ("+decisionColumns+") VALUES ($1, $2, $3, NULLIF($4, ''), $5, $6, $7, $8, $9, $10)",
				d.ID, d.Set, d.Pupil, d.HandIn, d.Item, d.Part, d.Mark, d.Reason, d.By, d.At); err != nil {
				return err
			}
			if err := t.line(by, Event{What: "decision", About: d.Set, Pupil: d.Pupil}, nil,
				map[string]any{"Item": d.Item, "Part": d.Part, "Mark": d.Mark, "Decision": d.ID}); err != nil {
				return err
			}
			sets[d.Set] = true
		}
		for set := range sets {
			if err := changed(t, set); err != nil {
				return err
			}
		}
		return nil
	})
}

// DecisionsOf are all decisions for a set but those taken back, the oldest first.
func (s *Store) DecisionsOf(ctx context.Context, set string) (list []homework.Decision, err error) {
	err = s.read(ctx, "decisions", func(t tx) (err error) {
		list, err = all(t, scanDecision, decisionsRead+"WHERE set_id = $1 AND taken = 0 ORDER BY n", set)
		return err
	})
	return list, err
}
