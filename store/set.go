package store

import (
	"context"
	"math/rand/v2"

	"steelyard/homework"
)

const setColumns = "id, class, title, seed, practice, policy, opens, closes, shown, items, pupils, follows, given, released, version"

func scanSet(r row) (h homework.Set, err error) {
	err = r.Scan(&h.ID, &h.Class, &h.Title, &h.Seed, flag{&h.Practice}, &h.Policy, at{&h.Opens}, at{&h.Closes},
		doc{&h.Show}, doc{&h.Items}, doc{&h.For}, &h.Follows, at{&h.Given}, at{&h.Released}, &h.Version)
	return h, err
}

func setByID(t tx, id string) (homework.Set, error) {
	return one(t, scanSet, "SELECT "+setColumns+" FROM sets WHERE id = $1", id)
}

// AddSet adds a set, still a draft. Its version is 1.
func (s *Store) AddSet(ctx context.Context, by By, h homework.Set) error {
	return s.change(ctx, "set "+h.ID, func(t tx) error {
		if _, err := t.exec("INSERT INTO sets ("+setColumns+") VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, 0, 0, 1)",
			h.ID, h.Class, h.Title, h.Seed, h.Practice, h.Policy, h.Opens, h.Closes, asJSON(h.Show), asJSON(h.Items), asJSON(h.For), h.Follows); err != nil {
			return err
		}
		if err := changed(t, h.ID); err != nil {
			return err
		}
		return t.line(by, Event{What: "set made", About: h.ID}, nil, map[string]any{"Class": h.Class})
	})
}

// Set finds a set; SetsOf lists those of a class, the last opened first.
func (s *Store) Set(ctx context.Context, id string) (h homework.Set, err error) {
	err = s.read(ctx, "set", func(t tx) (err error) {
		h, err = setByID(t, id)
		return err
	})
	return h, err
}

func (s *Store) SetsOf(ctx context.Context, class string) (list []homework.Set, err error) {
	err = s.read(ctx, "sets", func(t tx) (err error) {
		list, err = all(t, scanSet, "SELECT "+setColumns+" FROM sets WHERE class = $1 ORDER BY opens DESC, id", class)
		return err
	})
	return list, err
}

// SaveSet changes a set, but for its class and when it was given out. Its version has to be the stored one. Items and
// seed of a set that has been given out can't change: ErrGiven.
func (s *Store) SaveSet(ctx context.Context, by By, h homework.Set) error {
	return s.change(ctx, "set "+h.ID, func(t tx) error {
		old, err := setByID(t, h.ID)
		if err != nil {
			return err
		}
		if old.Version != h.Version {
			return ErrChanged
		}
		h := h
		h.Class, h.Given, h.Opens, h.Closes, h.Released = old.Class, old.Given, kept(h.Opens), kept(h.Closes), kept(h.Released)
		if !old.Given.IsZero() && (asJSON(h.Items) != asJSON(old.Items) || h.Seed != old.Seed) {
			return ErrGiven
		}
		if err := t.must(`UPDATE sets SET title = $1, seed = $2, practice = $3, policy = $4, opens = $5, closes = $6, shown = $7,
			items = $8, pupils = $9, follows = $10, released = $11, version = version + 1 WHERE id = $12`,
			h.Title, h.Seed, h.Practice, h.Policy, h.Opens, h.Closes, asJSON(h.Show), asJSON(h.Items), asJSON(h.For), h.Follows, h.Released, h.ID); err != nil {
			return err
		}
		if err := changed(t, h.ID); err != nil {
			return err
		}
		was, now := differing(old, h, "Items")
		return t.line(by, Event{What: "set changed", About: h.ID}, was, now)
	})
}

// RemoveSet removes a draft.
func (s *Store) RemoveSet(ctx context.Context, by By, id string) error {
	return s.change(ctx, "set "+id, func(t tx) error {
		h, err := setByID(t, id)
		if err != nil {
			return err
		}
		if !h.Given.IsZero() {
			return ErrGiven
		}
		if _, err := t.exec("DELETE FROM changes WHERE set_id = $1", id); err != nil {
			return err
		}
		if err := t.must("DELETE FROM sets WHERE id = $1", id); err != nil {
			return err
		}
		return t.line(by, Event{What: "set removed", About: id}, map[string]any{"Class": h.Class, "Title": h.Title}, nil)
	})
}

// Changes is a number that is larger after each hand-in, marking, decision or change of a set.
func (s *Store) Changes(ctx context.Context, set string) (n int64, err error) {
	err = s.read(ctx, "changes", func(t tx) error {
		list, err := all(t, single[int64], "SELECT n FROM changes WHERE set_id = $1", set)
		if err == nil && len(list) == 0 {
			err = ErrNotFound
		}
		n = 0
		for _, shard := range list {
			n += shard
		}
		return err
	})
	return n, err
}

// changed counts a change of a set.
func changed(t tx, set string) error {
	_, err := t.exec("INSERT INTO changes (set_id, shard, n) VALUES ($1, $2, 1) ON CONFLICT (set_id, shard) DO UPDATE SET n = changes.n + 1",
		set, rand.IntN(t.shards))
	return err
}
