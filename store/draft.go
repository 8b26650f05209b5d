package store

import (
	"context"

	"steelyard/homework"
)

const draftColumns = "set_id, pupil, item, part, answer, working, rev, at"

func scanDraft(r row) (d homework.Draft, err error) {
	err = r.Scan(&d.Set, &d.Pupil, &d.Item, &d.Part, &d.Answer.Answer, &d.Working, &d.Rev, at{&d.At})
	return d, err
}

// SaveDrafts keeps answers that are not handed in yet; one with a lower Rev than is kept is left out. Which is newer is
// never told by the clock.
func (s *Store) SaveDrafts(ctx context.Context, drafts []homework.Draft) error {
	return s.often(ctx, "drafts", func(t tx) error {
		for _, d := range drafts {
			if _, err := t.exec("INSERT INTO drafts ("+draftColumns+`) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)
				ON CONFLICT (set_id, pupil, item, part) DO UPDATE SET answer = excluded.answer, working = excluded.working, rev = excluded.rev, at = excluded.at
				WHERE excluded.rev >= drafts.rev`,
				d.Set, d.Pupil, d.Item, d.Part, d.Answer.Answer, d.Working, d.Rev, d.At); err != nil {
				return err
			}
		}
		return nil
	})
}

// Drafts are a pupil's for a set.
func (s *Store) Drafts(ctx context.Context, set, pupil string) (list []homework.Draft, err error) {
	err = s.read(ctx, "drafts", func(t tx) (err error) {
		list, err = all(t, scanDraft, "SELECT "+draftColumns+" FROM drafts WHERE set_id = $1 AND pupil = $2 ORDER BY item, part", set, pupil)
		return err
	})
	return list, err
}
