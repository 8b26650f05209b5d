package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"net"
	"syscall"

	"github.com/jackc/pgx/v5/pgconn"
	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

var (
	ErrNotFound = errors.New("there is nothing of that name")
	ErrChanged  = errors.New("somebody else has changed it in between")
	ErrExists   = errors.New("it exists already")
	ErrClosed   = errors.New("the set is closed")
	ErrGiven    = errors.New("the set has been given out")
	ErrLast     = errors.New("the last teacher of a class can't leave it")
	ErrFull     = errors.New("the disk is full")
	ErrBusy     = errors.New("the database does not answer")
	ErrNewer    = errors.New("it was made by a newer version of this program; use that one, or a later one")
)

// known puts one of our errors in front of what a database says, where it is one that callers can do something about.
func known(err error) error {
	for _, ours := range []error{ErrNotFound, ErrChanged, ErrExists, ErrClosed, ErrGiven, ErrLast, ErrFull, ErrBusy, ErrNewer, context.Canceled} {
		if errors.Is(err, ours) {
			return err
		}
	}
	if e, ok := errors.AsType[*sqlite.Error](err); ok {
		return ours(err, ofSQLite(e.Code()))
	}
	if e, ok := errors.AsType[*pgconn.PgError](err); ok {
		return ours(err, ofPostgres(e.Code))
	}
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return ErrNotFound
	case errors.Is(err, syscall.ENOSPC):
		return ours(err, ErrFull)
	case lost(err), errors.Is(err, context.DeadlineExceeded):
		return ours(err, ErrBusy)
	}
	return err
}

func ours(err, sentinel error) error {
	if sentinel == nil {
		return err
	}
	return fmt.Errorf("%w (%w)", sentinel, err)
}

// ofSQLite sorts SQLite's result codes (https://www.sqlite.org/rescode.html).
func ofSQLite(code int) error {
	switch code {
	case sqlite3.SQLITE_CONSTRAINT_UNIQUE, sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY:
		return ErrExists
	case sqlite3.SQLITE_CONSTRAINT_FOREIGNKEY:
		return ErrNotFound
	}
	switch code & 0xff {
	case sqlite3.SQLITE_FULL:
		return ErrFull
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
		return ErrBusy
	}
	return nil
}

// ofPostgres sorts PostgreSQL's codes (appendix A of its manual).
func ofPostgres(code string) error {
	switch code {
	case "23505": // unique_violation
		return ErrExists
	case "23503": // foreign_key_violation
		return ErrNotFound
	case "53100": // disk_full
		return ErrFull
	case "40001", "40P01", "55P03", "57014": // serialization_failure, deadlock_detected, lock_not_available, query_canceled
		return ErrBusy
	}
	if gone(code) {
		return ErrBusy
	}
	return nil
}

// gone says whether a code of PostgreSQL says that the server takes no work: connections (08), resources (53), shutdown and
// start (57P0x).
func gone(code string) bool {
	return len(code) == 5 && (code[:2] == "08" || code == "53300" || code[:4] == "57P0")
}

// lost says whether an error is of a connection that broke or could not be made.
func lost(err error) bool {
	if e, ok := errors.AsType[*pgconn.PgError](err); ok {
		return gone(e.Code)
	}
	if _, ok := errors.AsType[*pgconn.ConnectError](err); ok {
		return true
	}
	if _, ok := errors.AsType[net.Error](err); ok && !errors.Is(err, context.DeadlineExceeded) {
		return true
	}
	return errors.Is(err, driver.ErrBadConn) || errors.Is(err, sql.ErrConnDone) ||
		errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, net.ErrClosed) ||
		errors.Is(err, syscall.ECONNRESET) || errors.Is(err, syscall.EPIPE)
}
