package store

import (
	"context"
	"strings"
	"time"

	"steelyard/homework"
)

const markingColumns = "m.hand_in, h.set_id, h.pupil, m.item, m.part, m.marks, m.out_of, m.asks, m.record"

func scanMarking(r row) (m homework.Marking, err error) {
	err = r.Scan(&m.HandIn, &m.Set, &m.Pupil, &m.Item, &m.Part, &m.Marks, &m.Of, flag{&m.Asks}, &m.Record)
	return m, err
}

// SaveMarkings keeps what the marker made of one hand-in, in place of what it made of it before. Only a total that comes
// out otherwise leaves a line of history.
func (s *Store) SaveMarkings(ctx context.Context, handIn string, list []homework.Marking) error {
	return s.change(ctx, "markings of hand-in "+handIn, func(t tx) error {
		h, err := one(t, scanHandIn, "SELECT "+handInColumns+" FROM hand_ins WHERE id = $1", handIn)
		if err != nil {
			return err
		}
		before, err := one(t, single[int64], "SELECT COALESCE(SUM(marks), -1) FROM markings WHERE hand_in = $1", handIn)
		if err != nil {
			return err
		}
		if _, err := t.exec("DELETE FROM markings WHERE hand_in = $1", handIn); err != nil {
			return err
		}
		total := int64(0)
		for _, m := range list {
			total += int64(m.Marks)
			if _, err := t.exec("INSERT INTO markings (hand_in, item, part, marks, out_of, asks, record) VALUES ($1, $2, $3, $4, $5, $6, $7)",
				handIn, m.Item, m.Part, m.Marks, m.Of, m.Asks, m.Record); err != nil {
				return err
			}
		}
		if err := t.must("UPDATE hand_ins SET marked = 1 WHERE id = $1", handIn); err != nil {
			return err
		}
		if before >= 0 && before != total {
			if err := t.line(By{At: time.Now()}, Event{What: "marked again", About: h.Set, Pupil: h.Pupil}, map[string]any{"Marks": before}, map[string]any{"Marks": total}); err != nil {
				return err
			}
		}
		return changed(t, h.Set)
	})
}

// MarkingsOf are the markings of the last hand-in of each pupil, or of the one pupil named.
func (s *Store) MarkingsOf(ctx context.Context, set, pupil string) (list []homework.Marking, err error) {
	err = s.read(ctx, "markings", func(t tx) (err error) {
		list, err = all(t, scanMarking, "SELECT "+markingColumns+` FROM markings m JOIN hand_ins h ON h.id = m.hand_in
			WHERE h.`+lastOfEach+` AND ($2 = '' OR h.pupil = $2) ORDER BY h.n, m.item, m.part`, set, pupil)
		return err
	})
	return list, err
}

// MarksOf are the markings of the last hand-in of each pupil without their records, which are most of what is kept: for
// tables, and for looking often.
func (s *Store) MarksOf(ctx context.Context, set string) (list []homework.Marking, err error) {
	err = s.read(ctx, "marks", func(t tx) (err error) {
		list, err = all(t, scanMarking, "SELECT "+strings.Replace(markingColumns, "m.record", "''", 1)+` FROM markings m JOIN hand_ins h ON h.id = m.hand_in
			WHERE h.`+lastOfEach+" ORDER BY h.n, m.item, m.part", set)
		return err
	})
	return list, err
}
