package store

import (
	"context"

	"steelyard/account"
)

const invitationColumns = "hash, role, ends, by_who"

func scanInvitation(r row) (i account.Invitation, err error) {
	err = r.Scan(&i.Hash, &i.Role, at{&i.Ends}, &i.By)
	return i, err
}

// Invite keeps an invitation.
func (s *Store) Invite(ctx context.Context, by By, i account.Invitation) error {
	return s.change(ctx, "invitation", func(t tx) error {
		if _, err := t.exec("INSERT INTO invitations ("+invitationColumns+") VALUES ($1, $2, $3, $4)", i.Hash, string(i.Role), i.Ends, i.By); err != nil {
			return err
		}
		return t.line(by, Event{What: "invited"}, nil, map[string]any{"role": i.Role})
	})
}

// Invitation finds an invitation that has not been used.
func (s *Store) Invitation(ctx context.Context, hash string) (i account.Invitation, err error) {
	err = s.read(ctx, "invitation", func(t tx) (err error) {
		i, err = one(t, scanInvitation, "SELECT "+invitationColumns+" FROM invitations WHERE hash = $1", hash)
		return err
	})
	return i, err
}

// UseInvitation makes an account with an invitation, which is gone afterwards; of two at once, one gets ErrNotFound.
func (s *Store) UseInvitation(ctx context.Context, by By, hash string, p account.Person) error {
	return s.change(ctx, "account "+p.ID, func(t tx) error {
		if err := t.must("DELETE FROM invitations WHERE hash = $1", hash); err != nil {
			return err
		}
		return addPerson(t, by, p)
	})
}
