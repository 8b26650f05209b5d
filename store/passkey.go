package store

import (
	"context"

	"steelyard/account"
)

const passkeyColumns = "id, record, label, made"

func scanPasskey(r row) (k account.Passkey, err error) {
	err = r.Scan(&k.ID, &k.Record, &k.Label, at{&k.Made})
	return k, err
}

type ownedPasskey struct {
	account.Passkey
	person string
}

func scanOwnedPasskey(r row) (k ownedPasskey, err error) {
	err = r.Scan(&k.ID, &k.Record, &k.Label, at{&k.Made}, &k.person)
	return k, err
}

// AddPasskey, SavePasskey and RemovePasskey keep a teacher's passkeys.
func (s *Store) AddPasskey(ctx context.Context, by By, person string, k account.Passkey) error {
	return s.change(ctx, "passkey", func(t tx) error {
		if err := addPasskey(t, person, k); err != nil {
			return err
		}
		return t.line(by, Event{What: "passkey added", About: person}, nil, map[string]any{"label": k.Label})
	})
}

func addPasskey(t tx, person string, k account.Passkey) error {
	_, err := t.exec("INSERT INTO passkeys (person, "+passkeyColumns+") VALUES ($1, $2, $3, $4, $5)", person, k.ID, k.Record, k.Label, k.Made)
	return err
}

// SavePasskey changes the record, which counts the key's uses, and the label. It is kept without a line of history.
func (s *Store) SavePasskey(ctx context.Context, person string, k account.Passkey) error {
	return s.often(ctx, "passkey", func(t tx) error {
		return t.must("UPDATE passkeys SET record = $1, label = $2 WHERE id = $3 AND person = $4", k.Record, k.Label, k.ID, person)
	})
}

func (s *Store) RemovePasskey(ctx context.Context, by By, person, id string) error {
	return s.change(ctx, "passkey", func(t tx) error {
		if err := t.must("DELETE FROM passkeys WHERE id = $1 AND person = $2", id, person); err != nil {
			return err
		}
		return t.line(by, Event{What: "passkey removed", About: person}, nil, nil)
	})
}
