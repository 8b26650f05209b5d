package store

import (
	"context"
	"encoding/json"
	"fmt"

	"steelyard/homework"
)

// Verify checks the database and what it says: its pages, its references, and our own sums. It returns what is wrong.
func (s *Store) Verify(ctx context.Context) (faults []string, err error) {
	if err := s.open(); err != nil {
		return nil, told(err, "checking the database")
	}
	faults, err = s.db.check(ctx)
	if err != nil || len(faults) > 0 {
		return faults, told(err, "checking the database")
	}
	err = s.snapshot(ctx, "checking the database", func(t tx) (err error) {
		for _, c := range sums {
			list, err := all(t, single[string], c.finds)
			if err != nil {
				return err
			}
			for _, id := range list {
				faults = append(faults, fmt.Sprintf(c.fault, id))
			}
		}
		for _, check := range []func(tx) ([]string, error){handInsAsHandedIn, numbersOfItems} {
			more, err := check(t)
			if err != nil {
				return err
			}
			faults = append(faults, more...)
		}
		return nil
	})
	return faults, err
}

// sums are what has to hold, each as the question that finds what does not.
var sums = []struct{ fault, finds string }{
	{"hand-in %s is for a set that was not given out", "SELECT h.id FROM hand_ins h JOIN sets s ON s.id = h.set_id WHERE s.given = 0"},
	{"hand-in %s is by a pupil of another class", "SELECT h.id FROM hand_ins h JOIN sets s ON s.id = h.set_id JOIN pupils p ON p.id = h.pupil WHERE p.class <> s.class"},
	{"hand-in %s has markings, but counts as not marked", "SELECT h.id FROM hand_ins h WHERE h.marked = 0 AND h.id IN (SELECT hand_in FROM markings)"},
	{"a marking of hand-in %s has more marks than there are", "SELECT hand_in FROM markings WHERE marks < 0 OR marks > out_of"},
	{"decision %s is about a hand-in of another pupil or set", "SELECT d.id FROM decisions d JOIN hand_ins h ON h.id = d.hand_in WHERE d.pupil <> h.pupil OR d.set_id <> h.set_id"},
	{"a second mark by %s is about a hand-in of another pupil or set", "SELECT m.by_who FROM second_marks m JOIN hand_ins h ON h.id = m.hand_in WHERE m.pupil <> h.pupil OR m.set_id <> h.set_id"},
	{"class %s has no teacher", "SELECT id FROM classes WHERE id NOT IN (SELECT class FROM teachers)"},
	{"question %s is not as its last version says", `SELECT q.id FROM questions q WHERE NOT EXISTS
		(SELECT 1 FROM versions v WHERE v.question = q.id AND v.text = q.text AND v.n = (SELECT MAX(n) FROM versions w WHERE w.question = q.id) AND v.n <= q.version)`},
	{"pupil %s was erased and is there", "SELECT id FROM pupils WHERE id IN (SELECT pupil FROM erased)"},
	{"set %s counts no changes", "SELECT id FROM sets WHERE id NOT IN (SELECT set_id FROM changes)"},
}

type handedIn struct {
	id, set, pupil, key, answers, sum string
	parts                             int
}

func scanHandedIn(r row) (h handedIn, err error) {
	err = r.Scan(&h.id, &h.set, &h.pupil, &h.key, &h.answers, &h.sum, &h.parts)
	return h, err
}

// handInsAsHandedIn finds hand-ins that have not all their parts, or not as they were handed in.
func handInsAsHandedIn(t tx) (faults []string, err error) {
	err = each(t, scanHandedIn, func(h handedIn) error {
		var answers []homework.Answer
		if json.Unmarshal([]byte(h.answers), &answers) != nil || len(answers) != h.parts {
			faults = append(faults, fmt.Sprintf("hand-in %s does not have its %d parts", h.id, h.parts))
		} else if sumOf(h.set, h.pupil, h.key, h.answers) != h.sum {
			faults = append(faults, fmt.Sprintf("hand-in %s is not as it was handed in", h.id))
		}
		return nil
	}, "SELECT id, set_id, pupil, key, answers, sum, parts FROM hand_ins ORDER BY n")
	return faults, err
}

type numbered struct {
	set, pupil string
	item       int
}

func scanNumbered(r row) (n numbered, err error) {
	err = r.Scan(&n.set, &n.pupil, &n.item)
	return n, err
}

// numbersOfItems finds numbers for what has none, and pupils who handed in without having theirs.
func numbersOfItems(t tx) (faults []string, err error) {
	own := map[string][]bool{} // by set: has the item numbers for each pupil?
	err = each(t, scanSet, func(h homework.Set) error {
		for _, item := range h.Items {
			own[h.ID] = append(own[h.ID], item.Own)
		}
		return nil
	}, "SELECT "+setColumns+" FROM sets")
	if err != nil {
		return nil, err
	}
	have := map[numbered]bool{}
	err = each(t, scanNumbered, func(n numbered) error {
		have[n] = true
		if n.item < 0 || n.item >= len(own[n.set]) || !own[n.set][n.item] {
			faults = append(faults, fmt.Sprintf("set %s has numbers of pupil %s for item %d, which takes none", n.set, n.pupil, n.item))
		}
		return nil
	}, "SELECT set_id, pupil, item FROM numbers ORDER BY set_id, pupil, item")
	if err != nil {
		return nil, err
	}
	err = each(t, scanNumbered, func(n numbered) error {
		for item, is := range own[n.set] {
			if n.item = item; is && !have[n] {
				faults = append(faults, fmt.Sprintf("pupil %s handed in for set %s without numbers for item %d", n.pupil, n.set, item))
			}
		}
		return nil
	}, "SELECT DISTINCT set_id, pupil, 0 FROM hand_ins ORDER BY set_id, pupil")
	return faults, err
}
