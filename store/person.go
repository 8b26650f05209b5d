package store

import (
	"context"
	"slices"
	"strings"

	"steelyard/account"
)

const personColumns = "id, name, login, hash, role, made, ended"

func scanPerson(r row) (p account.Person, err error) {
	err = r.Scan(&p.ID, &p.Name, &p.Login, &p.Hash, &p.Role, at{&p.Made}, at{&p.Ended})
	return p, err
}

// AddPerson adds a teacher's account. It fails with ErrExists if the login is taken.
func (s *Store) AddPerson(ctx context.Context, by By, p account.Person) error {
	return s.change(ctx, "account "+p.ID, func(t tx) error { return addPerson(t, by, p) })
}

func addPerson(t tx, by By, p account.Person) error {
	_, err := t.exec("INSERT INTO people ("+personColumns+") VALUES ($1, $2, $3, $4, $5, $6, $7)",
		p.ID, p.Name, p.Login, p.Hash, string(p.Role), p.Made, p.Ended)
	if err != nil {
		return err
	}
	for _, k := range p.Keys {
		if err := addPasskey(t, p.ID, k); err != nil {
			return err
		}
	}
	return t.line(by, Event{What: "account made", About: p.ID}, nil, map[string]any{"role": p.Role})
}

// Person is a teacher's account with its passkeys.
func (s *Store) Person(ctx context.Context, id string) (account.Person, error) {
	return s.person(ctx, "id = $1", id)
}

// PersonByLogin finds a teacher's account, open or closed.
func (s *Store) PersonByLogin(ctx context.Context, login string) (account.Person, error) {
	return s.person(ctx, "login = $1", login)
}

func (s *Store) person(ctx context.Context, where, value string) (p account.Person, err error) {
	err = s.read(ctx, "account", func(t tx) (err error) {
		p, err = personWhere(t, where, value)
		return err
	})
	return p, err
}

func personWhere(t tx, where, value string) (account.Person, error) {
	p, err := one(t, scanPerson, "SELECT "+personColumns+" FROM people WHERE "+where, value)
	if err != nil {
		return p, err
	}
	p.Keys, err = all(t, scanPasskey, "SELECT "+passkeyColumns+" FROM passkeys WHERE person = $1 ORDER BY made, id", p.ID)
	return p, err
}

// People are all teachers' accounts, by name, with their passkeys.
func (s *Store) People(ctx context.Context) (list []account.Person, err error) {
	err = s.read(ctx, "accounts", func(t tx) (err error) {
		if list, err = all(t, scanPerson, "SELECT "+personColumns+" FROM people"); err != nil {
			return err
		}
		keys := map[string][]account.Passkey{}
		err = each(t, scanOwnedPasskey, func(k ownedPasskey) error { keys[k.person] = append(keys[k.person], k.Passkey); return nil },
			"SELECT "+passkeyColumns+", person FROM passkeys ORDER BY made, id")
		for i := range list {
			list[i].Keys = keys[list[i].ID]
		}
		return err
	})
	slices.SortFunc(list, func(a, b account.Person) int { return byName(a.Name, b.Name, a.ID, b.ID) })
	return list, err
}

// byName orders as a person would, the same on both databases.
func byName(a, b, idA, idB string) int {
	if c := strings.Compare(strings.ToLower(a), strings.ToLower(b)); c != 0 {
		return c
	}
	return strings.Compare(idA, idB)
}

// SavePerson changes name, hash, role and end of an account; where the hash or the end changes, all its
// sessions end, but for the one named keep.
func (s *Store) SavePerson(ctx context.Context, by By, p account.Person, keep string) error {
	return s.change(ctx, "account "+p.ID, func(t tx) error {
		old, err := personWhere(t, "id = $1", p.ID)
		if err != nil {
			return err
		}
		p := p
		p.Login, p.Made, p.Keys, p.Ended, old.Keys = old.Login, old.Made, nil, kept(p.Ended), nil
		if err := t.must("UPDATE people SET name = $1, hash = $2, role = $3, ended = $4 WHERE id = $5",
			p.Name, p.Hash, string(p.Role), p.Ended, p.ID); err != nil {
			return err
		}
		if p.Hash != old.Hash || !p.Ended.Equal(old.Ended) {
			if err := endSessions(t, p.ID, keep); err != nil {
				return err
			}
		}
		was, now := differing(old, p, "Hash")
		return t.line(by, Event{What: "account changed", About: p.ID}, was, now)
	})
}
