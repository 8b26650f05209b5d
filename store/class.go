package store

import (
	"cmp"
	"context"
	"slices"

	"steelyard/homework"
)

const classColumns = "id, name, code, source, plain, keep_till, locked, version"

func scanClass(r row) (c homework.Class, err error) {
	err = r.Scan(&c.ID, &c.Name, &c.Code, &c.Source, flag{&c.Plain}, at{&c.KeepTill}, at{&c.Locked}, &c.Version)
	return c, err
}

func classByID(t tx, id string) (homework.Class, error) {
	return one(t, scanClass, "SELECT "+classColumns+" FROM classes WHERE id = $1", id)
}

// AddClass adds a class with its first teacher, who is by.Who. Its version is 1.
func (s *Store) AddClass(ctx context.Context, by By, c homework.Class) error {
	return s.change(ctx, "class "+c.ID, func(t tx) error {
		if _, err := t.exec("INSERT INTO classes ("+classColumns+") VALUES ($1, $2, $3, $4, $5, $6, $7, 1)",
			c.ID, c.Name, c.Code, c.Source, c.Plain, c.KeepTill, c.Locked); err != nil {
			return err
		}
		if _, err := t.exec("INSERT INTO teachers (class, person) VALUES ($1, $2)", c.ID, by.Who); err != nil {
			return err
		}
		return t.line(by, Event{What: "class made", About: c.ID}, nil, map[string]any{"Name": c.Name})
	})
}

// Class finds a class; ClassByCode by the code that names it at sign-in.
func (s *Store) Class(ctx context.Context, id string) (c homework.Class, err error) {
	err = s.read(ctx, "class", func(t tx) (err error) {
		c, err = classByID(t, id)
		return err
	})
	return c, err
}

func (s *Store) ClassByCode(ctx context.Context, code string) (c homework.Class, err error) {
	err = s.read(ctx, "class", func(t tx) (err error) {
		c, err = one(t, scanClass, "SELECT "+classColumns+" FROM classes WHERE code = $1", code)
		return err
	})
	return c, err
}

// ClassesOf lists a teacher's classes, by name.
func (s *Store) ClassesOf(ctx context.Context, teacher string) (list []homework.Class, err error) {
	err = s.read(ctx, "classes", func(t tx) (err error) {
		list, err = all(t, scanClass, "SELECT "+classColumns+" FROM classes WHERE id IN (SELECT class FROM teachers WHERE person = $1)", teacher)
		return err
	})
	slices.SortFunc(list, func(a, b homework.Class) int { return byName(a.Name, b.Name, a.ID, b.ID) })
	return list, err
}

// SaveClass changes all of a class but its ID, and its source only where it had none. Its version has to be the stored
// one.
func (s *Store) SaveClass(ctx context.Context, by By, c homework.Class) error {
	return s.change(ctx, "class "+c.ID, func(t tx) error {
		old, err := classByID(t, c.ID)
		if err != nil {
			return err
		}
		if old.Version != c.Version {
			return ErrChanged
		}
		c := c
		c.Source, c.KeepTill, c.Locked = cmp.Or(old.Source, c.Source), kept(c.KeepTill), kept(c.Locked)
		if err := t.must("UPDATE classes SET name = $1, code = $2, plain = $3, keep_till = $4, locked = $5, source = $6, version = version + 1 WHERE id = $7",
			c.Name, c.Code, c.Plain, c.KeepTill, c.Locked, c.Source, c.ID); err != nil {
			return err
		}
		was, now := differing(old, c)
		return t.line(by, Event{What: "class changed", About: c.ID}, was, now)
	})
}

// Teaches says whether a teacher teaches a class; TeachersOf lists who does, by ID.
func (s *Store) Teaches(ctx context.Context, teacher, class string) (yes bool, err error) {
	err = s.read(ctx, "teachers", func(t tx) error {
		n, err := one(t, single[int64], "SELECT COUNT(*) FROM teachers WHERE class = $1 AND person = $2", class, teacher)
		yes = n > 0
		return err
	})
	return yes, err
}

func (s *Store) TeachersOf(ctx context.Context, class string) (list []string, err error) {
	err = s.read(ctx, "teachers", func(t tx) (err error) {
		list, err = all(t, single[string], "SELECT person FROM teachers WHERE class = $1", class)
		return err
	})
	slices.Sort(list)
	return list, err
}

// Share lets another teacher teach a class too; Unshare ends that. The last teacher stays: ErrLast.
func (s *Store) Share(ctx context.Context, by By, class, teacher string) error {
	return s.change(ctx, "teacher of class "+class, func(t tx) error {
		n, err := t.exec("INSERT INTO teachers (class, person) VALUES ($1, $2) ON CONFLICT (class, person) DO NOTHING", class, teacher)
		if err != nil || n == 0 {
			return err
		}
		return t.line(by, Event{What: "class shared", About: class}, nil, map[string]any{"teacher": teacher})
	})
}

func (s *Store) Unshare(ctx context.Context, by By, class, teacher string) error {
	return s.change(ctx, "teacher of class "+class, func(t tx) error {
		if err := t.must("DELETE FROM teachers WHERE class = $1 AND person = $2", class, teacher); err != nil {
			return err
		}
		left, err := one(t, single[int64], "SELECT COUNT(*) FROM teachers WHERE class = $1", class)
		if err != nil {
			return err
		}
		if left == 0 {
			return ErrLast
		}
		return t.line(by, Event{What: "class no longer shared", About: class}, map[string]any{"teacher": teacher}, nil)
	})
}
