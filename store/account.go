package store

import (
	"context"
	"time"

	"steelyard/account"
)

// AddPerson adds a teacher's account. It fails with ErrExists if the login is taken.
func (s *Store) AddPerson(ctx context.Context, by By, p account.Person) error { return errNotYet }

// Person is a teacher's account with its passkeys.
func (s *Store) Person(ctx context.Context, id string) (account.Person, error) {
	return account.Person{}, errNotYet
}

// PersonByLogin finds a teacher's account, open or closed.
func (s *Store) PersonByLogin(ctx context.Context, login string) (account.Person, error) {
	return account.Person{}, errNotYet
}

// People are all teachers' accounts, by name.
func (s *Store) People(ctx context.Context) ([]account.Person, error) { return nil, errNotYet }

// SavePerson changes name, hash, role and end of an account; where the hash or the end changes, all its
// sessions end, but for the one named keep.
func (s *Store) SavePerson(ctx context.Context, by By, p account.Person, keep string) error {
	return errNotYet
}

// AddPasskey, SavePasskey and RemovePasskey keep a teacher's passkeys.
func (s *Store) AddPasskey(ctx context.Context, by By, person string, k account.Passkey) error {
	return errNotYet
}
func (s *Store) SavePasskey(ctx context.Context, person string, k account.Passkey) error {
	return errNotYet
}
func (s *Store) RemovePasskey(ctx context.Context, by By, person, id string) error { return errNotYet }

// Invite keeps an invitation.
func (s *Store) Invite(ctx context.Context, by By, i account.Invitation) error { return errNotYet }

// Invitation finds an invitation that has not been used.
func (s *Store) Invitation(ctx context.Context, hash string) (account.Invitation, error) {
	return account.Invitation{}, errNotYet
}

// UseInvitation makes an account with an invitation, which is gone afterwards; of two at once, one gets ErrNotFound.
func (s *Store) UseInvitation(ctx context.Context, by By, hash string, p account.Person) error {
	return errNotYet
}

// StartSession keeps a session; Session finds it; TouchSession says when it was last used.
func (s *Store) StartSession(ctx context.Context, by By, a account.Session) error { return errNotYet }
func (s *Store) Session(ctx context.Context, hash string) (account.Session, error) {
	return account.Session{}, errNotYet
}
func (s *Store) TouchSession(ctx context.Context, hash string, at time.Time) error { return errNotYet }

// EndSession ends one session; EndSessions all of somebody, but for the one named keep.
func (s *Store) EndSession(ctx context.Context, by By, hash string) error { return errNotYet }
func (s *Store) EndSessions(ctx context.Context, by By, who, keep string) error {
	return errNotYet
}

// SessionsOf lists somebody's sessions, the last used first.
func (s *Store) SessionsOf(ctx context.Context, who string) ([]account.Session, error) {
	return nil, errNotYet
}
