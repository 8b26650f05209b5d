package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"iter"
	"strings"

	"steelyard/homework"
)

const handInColumns = "id, set_id, pupil, key, receipt, at, answers"

func scanHandIn(r row) (h homework.HandIn, err error) {
	err = r.Scan(&h.ID, &h.Set, &h.Pupil, &h.Key, &h.Receipt, at{&h.At}, doc{&h.Answers})
	return h, err
}

// HandIn keeps a hand-in and returns it as it is kept: for a key that is there already, the first one.
// Many at once share one write to the disk. The drafts of its parts go. A set that hasn't been given out is ErrClosed; whether
// it is open for this pupil at this time is the caller's rule. Without an ID it gets one.
func (s *Store) HandIn(ctx context.Context, by By, h homework.HandIn) (homework.HandIn, error) {
	if h.ID == "" {
		h.ID = NewID()
	}
	var there homework.HandIn
	err := s.often(ctx, "hand-in for set "+h.Set, func(t tx) (err error) {
		if err := takes(t, h.Set, h.Pupil); err != nil {
			return err
		}
		if fresh, err := addHandIn(t, h); err != nil || !fresh {
			if err == nil {
				there, err = one(t, scanHandIn, "SELECT "+handInColumns+" FROM hand_ins WHERE set_id = $1 AND pupil = $2 AND key = $3", h.Set, h.Pupil, h.Key)
			}
			return err
		}
		if err := removeDrafts(t, h); err != nil {
			return err
		}
		if err := changed(t, h.Set); err != nil {
			return err
		}
		there = h
		there.At = kept(h.At)
		return t.line(by, Event{What: "hand-in", About: h.Set, Pupil: h.Pupil}, nil, map[string]any{"HandIn": h.ID, "Parts": len(h.Answers)})
	})
	return there, err
}

// takes says whether a set takes hand-ins of a pupil.
func takes(t tx, set, pupil string) error {
	given, err := one(t, single[int64], "SELECT s.given FROM sets s JOIN pupils p ON p.class = s.class WHERE s.id = $1 AND p.id = $2", set, pupil)
	if err == nil && given == 0 {
		err = ErrClosed
	}
	return err
}

// addHandIn says whether the hand-in was not there before.
func addHandIn(t tx, h homework.HandIn) (fresh bool, err error) {
	answers := asJSON(h.Answers)
	n, err := t.exec("INSERT INTO hand_ins ("+handInColumns+`, parts, sum, marked) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, 0)
		ON CONFLICT (set_id, pupil, key) DO NOTHING`,
		h.ID, h.Set, h.Pupil, h.Key, h.Receipt, h.At, answers, len(h.Answers), sumOf(h.Set, h.Pupil, h.Key, answers))
	return n == 1, err
}

// sumOf is SHA-256, in hex, of what was handed in, by whom and for what.
func sumOf(fields ...string) string {
	sum := sha256.Sum256([]byte(strings.Join(fields, "\n")))
	return hex.EncodeToString(sum[:])
}

func removeDrafts(t tx, h homework.HandIn) error {
	if len(h.Answers) == 0 {
		return nil
	}
	var parts strings.Builder
	args := []any{h.Set, h.Pupil}
	for i, a := range h.Answers {
		fmt.Fprintf(&parts, " OR (item = $%d AND part = $%d)", 2*i+3, 2*i+4)
		args = append(args, a.Item, a.Part)
	}
	_, err := t.exec("DELETE FROM drafts WHERE set_id = $1 AND pupil = $2 AND ("+parts.String()[len(" OR "):]+")", args...)
	return err
}

// lastOfEach are the hand-ins that count: the last of each pupil for each set, whatever the clock said.
const lastOfEach = "n IN (SELECT MAX(n) FROM hand_ins WHERE set_id = $1 GROUP BY pupil)"

// HandInOf is the last hand-in of a pupil for a set; HandInsBy all of them, the last first; HandInsOf the last one of each pupil.
func (s *Store) HandInOf(ctx context.Context, set, pupil string) (h homework.HandIn, err error) {
	err = s.read(ctx, "hand-in", func(t tx) (err error) {
		h, err = one(t, scanHandIn, "SELECT "+handInColumns+" FROM hand_ins WHERE set_id = $1 AND pupil = $2 ORDER BY n DESC LIMIT 1", set, pupil)
		return err
	})
	return h, err
}

func (s *Store) HandInsBy(ctx context.Context, set, pupil string) (list []homework.HandIn, err error) {
	err = s.read(ctx, "hand-ins", func(t tx) (err error) {
		list, err = all(t, scanHandIn, "SELECT "+handInColumns+" FROM hand_ins WHERE set_id = $1 AND pupil = $2 ORDER BY n DESC", set, pupil)
		return err
	})
	return list, err
}

// HandInsOf reads them all before the first is passed on, so that no transaction waits for a slow reader.
func (s *Store) HandInsOf(ctx context.Context, set string) iter.Seq2[homework.HandIn, error] {
	return func(yield func(homework.HandIn, error) bool) {
		var list []homework.HandIn
		err := s.read(ctx, "hand-ins", func(t tx) (err error) {
			list, err = all(t, scanHandIn, "SELECT "+handInColumns+" FROM hand_ins WHERE "+lastOfEach+" ORDER BY n", set)
			return err
		})
		if err != nil {
			yield(homework.HandIn{}, err)
			return
		}
		for _, h := range list {
			if !yield(h, nil) {
				return
			}
		}
	}
}

// Unmarked lists hand-ins that have no markings yet, the oldest first.
func (s *Store) Unmarked(ctx context.Context, most int) (list []homework.HandIn, err error) {
	err = s.read(ctx, "hand-ins", func(t tx) (err error) {
		list, err = all(t, scanHandIn, "SELECT "+handInColumns+" FROM hand_ins WHERE marked = 0 ORDER BY n LIMIT $1", most)
		return err
	})
	return list, err
}
