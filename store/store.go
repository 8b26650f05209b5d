package store

import (
	"context"
	"crypto/rand"
	"encoding/base32"
	"fmt"
	"strings"
	"sync/atomic"
	"time"

	"steelyard/account"
)

// A By says who makes a change, and when.
type By struct {
	Role account.Role
	Who  string // ID of the teacher or pupil; "" is the program itself
	At   time.Time
}

// A Store is an open database. It may be used by several goroutines at once.
type Store struct {
	db     database
	closed atomic.Bool
}

// A database is where a store keeps its tables. What a function does within change or often is kept
// wholly or not at all, and is on the disk when they return without an error; it may be called again where the database
// asks for that, so it only assigns results.
type database interface {
	// read runs statements that only read, each seeing what is kept at its moment.
	read(ctx context.Context, do func(tx) error) error
	// snapshot runs statements that all see what was kept at one moment.
	snapshot(ctx context.Context, do func(tx) error) error
	// change runs one change as if it were alone.
	change(ctx context.Context, do func(tx) error) error
	// often runs a change that many make at once. Each of its statements has to be safe by itself, and making it twice
	// has to be the same as making it once.
	often(ctx context.Context, do func(tx) error) error
	// scrub overwrites what was deleted.
	scrub(ctx context.Context) error
	// check is the database's own check of its pages and references.
	check(ctx context.Context) ([]string, error)
	// resume lets the counters of a version of the schema go on after rows that came with their numbers.
	resume(t tx, version int) error
	close() error
}

// Open opens the database and brings its schema up to date. Where is a folder, which is made if it
// is missing, or a postgres:// address.
func Open(ctx context.Context, where string) (*Store, error) {
	db, err := open(ctx, where, latest())
	if err != nil {
		return nil, err
	}
	return &Store{db: db}, nil
}

// open opens a database at the schema's version given.
func open(ctx context.Context, where string, version int) (database, error) {
	if address(where) {
		db, err := openPostgres(ctx, where, version)
		return db, told(err, "opening the PostgreSQL database")
	}
	db, err := openSQLite(ctx, where, version)
	return db, told(err, "opening the database in "+where)
}

// address says whether where is an address of PostgreSQL; else it is a folder.
func address(where string) bool {
	return strings.HasPrefix(where, "postgres://") || strings.HasPrefix(where, "postgresql://")
}

// Close finishes what is being written.
func (s *Store) Close() error {
	if s.closed.Swap(true) {
		return nil
	}
	return told(s.db.close(), "closing the database")
}

func (s *Store) open() error {
	if s.closed.Load() {
		return fmt.Errorf("%w: it is closed", ErrBusy)
	}
	return nil
}

// Ready says whether the database answers and can write.
func (s *Store) Ready(ctx context.Context) error {
	return s.often(ctx, "a sign that it can write", func(t tx) error { return setSetting(t, "ready", "yes") })
}

// read and change are database's, with what is being read or changed for the error.
func (s *Store) read(ctx context.Context, what string, do func(tx) error) error {
	if err := s.open(); err != nil {
		return told(err, "reading "+what)
	}
	return told(s.db.read(ctx, do), "reading "+what)
}

func (s *Store) change(ctx context.Context, what string, do func(tx) error) error {
	if err := s.open(); err != nil {
		return told(err, "keeping "+what)
	}
	return told(s.db.change(ctx, do), "keeping "+what)
}

func (s *Store) often(ctx context.Context, what string, do func(tx) error) error {
	if err := s.open(); err != nil {
		return told(err, "keeping "+what)
	}
	return told(s.db.often(ctx, do), "keeping "+what)
}

func (s *Store) snapshot(ctx context.Context, what string, do func(tx) error) error {
	if err := s.open(); err != nil {
		return told(err, what)
	}
	return told(s.db.snapshot(ctx, do), what)
}

func told(err error, what string) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("%s: %w", what, known(err))
}

// NewID makes an identifier. Identifiers are not secrets.
func NewID() string {
	var b [16]byte
	rand.Read(b[:])
	return strings.ToLower(base32.StdEncoding.WithPadding(base32.NoPadding).EncodeToString(b[:]))
}
