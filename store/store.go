package store

import (
	"context"
	"crypto/rand"
	"encoding/base32"
	"errors"
	"strings"
	"time"

	"steelyard/account"
)

var (
	ErrNotFound = errors.New("there is nothing of that name")
	ErrChanged  = errors.New("somebody else has changed it in between")
	ErrExists   = errors.New("it exists already")
	ErrClosed   = errors.New("the set is closed")
	ErrFull     = errors.New("the disk is full")
	ErrBusy     = errors.New("the database does not answer")
)

var errNotYet = errors.New("not built yet")

// A By says who makes a change, and when.
type By struct {
	Role account.Role
	Who  string // ID of the teacher or pupil; "" is the program itself
	At   time.Time
}

// A Store is an open database. It may be used by several goroutines at once.
type Store struct{}

// Open opens the database and brings its schema up to date. Where is a folder, which is made if it
// is missing, or a postgres:// address.
func Open(ctx context.Context, where string) (*Store, error) { return nil, errNotYet }

// Close finishes what is being written.
func (s *Store) Close() error { return errNotYet }

// Ready says whether the database answers and can write.
func (s *Store) Ready(ctx context.Context) error { return errNotYet }

// NewID makes an identifier. Identifiers are not secrets.
func NewID() string {
	var b [16]byte
	rand.Read(b[:])
	return strings.ToLower(base32.StdEncoding.WithPadding(base32.NoPadding).EncodeToString(b[:]))
}
