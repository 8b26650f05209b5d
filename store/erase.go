package store

import (
	"context"
	"time"
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

// Expire erases the pupils of classes whose time is up, and returns how many.
func (s *Store) Expire(ctx context.Context, now time.Time) (pupils int, err error) {
	err = s.change(ctx, "the erasing of pupils whose time is up", func(t tx) error {
		due, err := all(t, single[string], "SELECT p.id FROM pupils p JOIN classes c ON c.id = p.class WHERE c.keep_till > 0 AND c.keep_till < $1", now)
		if err != nil {
			return err
		}
		for _, pupil := range due {
			if err := erase(t, By{At: now}, pupil); err != nil {
				return err
			}
		}
		pupils = len(due)
		return nil
	})
	if err != nil || pupils == 0 {
		return 0, err
	}
	return pupils, s.scrub(ctx)
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
