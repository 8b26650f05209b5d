package store

import (
	"context"

	"steelyard/homework"
)

const numbersColumns = "set_id, item, pupil, text"

func scanNumbers(r row) (n homework.Numbers, err error) {
	err = r.Scan(&n.Set, &n.Item, &n.Pupil, &n.Text)
	return n, err
}

// Give gives a set out: its numbers are kept and it stops being a draft, all or nothing. Where some
// are kept already, as when a pupil joins later, they stay and the others are added.
func (s *Store) Give(ctx context.Context, by By, set string, numbers []homework.Numbers) error {
	return s.change(ctx, "set "+set, func(t tx) error {
		h, err := setByID(t, set)
		if err != nil {
			return err
		}
		added := int64(0)
		for _, n := range numbers {
			one, err := t.exec("INSERT INTO numbers ("+numbersColumns+") VALUES ($1, $2, $3, $4) ON CONFLICT (set_id, pupil, item) DO NOTHING",
				set, n.Item, n.Pupil, n.Text)
			if err != nil {
				return err
			}
			added += one
		}
		if added == 0 && !h.Given.IsZero() {
			return nil
		}
		if h.Given.IsZero() {
			if err := t.must("UPDATE sets SET given = $1, version = version + 1 WHERE id = $2", by.At, set); err != nil {
				return err
			}
		}
		if err := changed(t, set); err != nil {
			return err
		}
		return t.line(by, Event{What: "set given out", About: set}, nil, map[string]any{"numbers": added})
	})
}

// NumbersFor are a pupil's numbers for a set, by item; NumbersOf all pupils'.
func (s *Store) NumbersFor(ctx context.Context, set, pupil string) ([]homework.Numbers, error) {
	return s.numbers(ctx, "set_id = $1 AND pupil = $2 ORDER BY item", set, pupil)
}

func (s *Store) NumbersOf(ctx context.Context, set string) ([]homework.Numbers, error) {
	return s.numbers(ctx, "set_id = $1 ORDER BY pupil, item", set)
}

func (s *Store) numbers(ctx context.Context, where string, args ...any) (list []homework.Numbers, err error) {
	err = s.read(ctx, "numbers", func(t tx) (err error) {
		list, err = all(t, scanNumbers, "SELECT "+numbersColumns+" FROM numbers WHERE "+where, args...)
		return err
	})
	return list, err
}
