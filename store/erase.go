package store

import (
	"context"
	"errors"
	"time"

	"steelyard/homework"
)

// ErasePupil removes a pupil and all that is theirs: name, code, numbers, drafts, answers, marks, decisions, sessions.
// Lines of history about them stay, without who it was and what it said. What was erased is overwritten
// on the disk; the space that a file gave back to the disk is the disk's.
func (s *Store) ErasePupil(ctx context.Context, by By, pupil string) error {
	if err := s.change(ctx, "the erasing of pupil "+pupil, func(t tx) error { return erase(t, by, pupil) }); err != nil {
		return err
	}
	return s.scrub(ctx)
}

func (s *Store) scrub(ctx context.Context) error {
	return told(s.db.scrub(ctx), "the erasing is done, but not yet what overwrites it: do any other erasing to try again")
}

// sureAfter is for how long a class has to have been due before its pupils are erased: a clock that jumped ahead for a while must
// not erase anybody.
const sureAfter = 24 * time.Hour

// Expire erases the pupils of classes whose time is up, and returns how many. That a class is due is noted the first time,
// and acted upon when it still is a day later; so call it every day.
func (s *Store) Expire(ctx context.Context, now time.Time) (pupils int, err error) {
	err = s.change(ctx, "the erasing of pupils whose time is up", func(t tx) error {
		classes, err := all(t, scanClass, "SELECT "+classColumns+" FROM classes WHERE keep_till > 0")
		if err != nil {
			return err
		}
		pupils = 0
		for _, c := range classes {
			sure, err := dueForLong(t, c, now)
			if err != nil || !sure {
				if err != nil {
					return err
				}
				continue
			}
			n, err := eraseClass(t, c.ID, now)
			if err != nil {
				return err
			}
			pupils += n
		}
		return nil
	})
	if err != nil || pupils == 0 {
		return 0, err
	}
	return pupils, s.scrub(ctx)
}

// dueForLong says whether a class was found due a day ago already, and notes if it is now.
func dueForLong(t tx, c homework.Class, now time.Time) (bool, error) {
	note := "due " + c.ID
	if !c.KeepTill.Before(now) {
		_, err := t.exec("DELETE FROM settings WHERE name = $1", note)
		return false, err
	}
	since, err := one(t, single[string], "SELECT value FROM settings WHERE name = $1", note)
	if err != nil && !errors.Is(err, ErrNotFound) {
		return false, err
	}
	first, wrong := time.Parse(time.RFC3339, since)
	if wrong != nil || first.After(now) {
		return false, setSetting(t, note, now.UTC().Format(time.RFC3339))
	}
	return now.Sub(first) >= sureAfter, nil
}

func eraseClass(t tx, class string, now time.Time) (int, error) {
	pupils, err := all(t, single[string], "SELECT id FROM pupils WHERE class = $1", class)
	if err != nil {
		return 0, err
	}
	for _, p := range pupils {
		if err := erase(t, By{At: now}, p); err != nil {
			return 0, err
		}
	}
	return len(pupils), nil
}

// Erased lists the pseudonyms of all who have been erased, to be kept beside backups: a restore erases them again.
func (s *Store) Erased(ctx context.Context) (list []string, err error) {
	err = s.read(ctx, "who was erased", func(t tx) (err error) {
		list, err = all(t, single[string], "SELECT pupil FROM erased ORDER BY at, pupil")
		return err
	})
	return list, err
}

// erasing are the statements that erase a pupil, $1. The place in a list of pupils whom a set is for is kept, empty: a
// list without anybody would mean the whole class.
var erasing = []string{
	"DELETE FROM markings WHERE hand_in IN (SELECT id FROM hand_ins WHERE pupil = $1)",
	"DELETE FROM second_marks WHERE pupil = $1",
	"DELETE FROM decisions WHERE pupil = $1",
	"DELETE FROM hand_ins WHERE pupil = $1",
	"DELETE FROM drafts WHERE pupil = $1",
	"DELETE FROM numbers WHERE pupil = $1",
	"DELETE FROM sessions WHERE who = $1",
	"DELETE FROM pupils WHERE id = $1",
	"UPDATE history SET pupil = '', was = '', now = '' WHERE pupil = $1",
	"UPDATE history SET who = '' WHERE who = $1",
	"UPDATE history SET about = '' WHERE about = $1",
	"UPDATE history SET was = REPLACE(was, $1, ''), now = REPLACE(now, $1, '') WHERE was LIKE '%' || $1 || '%' OR now LIKE '%' || $1 || '%'",
	"UPDATE sets SET pupils = REPLACE(pupils, '\"' || $1 || '\"', '\"\"') WHERE pupils LIKE '%\"' || $1 || '\"%'",
}

func erase(t tx, by By, pupil string) error {
	p, err := pupilByID(t, pupil)
	if err != nil {
		return err
	}
	for _, statement := range erasing {
		if _, err := t.exec(statement, pupil); err != nil {
			return err
		}
	}
	if _, err := t.exec("INSERT INTO erased (pupil, at) VALUES ($1, $2) ON CONFLICT (pupil) DO NOTHING", pupil, by.At); err != nil {
		return err
	}
	sets, err := all(t, single[string], "SELECT id FROM sets WHERE class = $1", p.Class)
	if err != nil {
		return err
	}
	for _, set := range sets {
		if err := changed(t, set); err != nil {
			return err
		}
	}
	if by.Who == pupil {
		by.Who = ""
	}
	return t.line(by, Event{What: "pupil erased", About: p.Class}, nil, nil)
}
