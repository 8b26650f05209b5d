package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"math/rand/v2"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/stdlib"
)

// A postgresDB gives each write a transaction of its own, on a pool of connections.
type postgresDB struct{ pool *sql.DB }

const (
	// patience is how long a write or a read waits for a server that is starting again.
	patience = 10 * time.Second
	// mostTries is how often a change is tried again that another got in the way of.
	mostTries = 30
	// connections is how many a program holds at most; PostgreSQL allows 100 in all unless it is told otherwise.
	connections = 20
	// countedIn is among how many rows the changes of a set are counted.
	countedIn = 16
)

func openPostgres(ctx context.Context, address string, version int) (*postgresDB, error) {
	config, err := pgx.ParseConfig(address)
	if err != nil {
		return nil, errors.New("it is no address of a PostgreSQL database, such as postgres://user@host/database") // the error itself may quote the password
	}
	if config.ConnectTimeout == 0 {
		config.ConnectTimeout = 5 * time.Second
	}
	config.RuntimeParams["application_name"] = "steelyard"
	config.RuntimeParams["synchronous_commit"] = "on"
	config.RuntimeParams["lock_timeout"] = "10s"
	config.RuntimeParams["idle_in_transaction_session_timeout"] = "60s"
	pool := stdlib.OpenDB(*config)
	pool.SetMaxOpenConns(connections)
	pool.SetMaxIdleConns(connections)
	if err := migrate(ctx, pool, postgresDialect, version); err != nil {
		pool.Close()
		return nil, err
	}
	return &postgresDB{pool}, nil
}

func (d *postgresDB) read(ctx context.Context, do func(tx) error) error {
	return persist(ctx, func() error { return do(tx{ctx: ctx, q: d.pool}) }, lost)
}

func (d *postgresDB) snapshot(ctx context.Context, do func(tx) error) error {
	t, err := d.pool.BeginTx(ctx, &sql.TxOptions{Isolation: sql.LevelRepeatableRead, ReadOnly: true})
	if err != nil {
		return err
	}
	defer t.Rollback()
	return do(tx{ctx: ctx, q: t})
}

func (d *postgresDB) change(ctx context.Context, do func(tx) error) error {
	return persist(ctx, func() error { return d.once(ctx, sql.LevelSerializable, do) }, mayTryAgain)
}

func (d *postgresDB) often(ctx context.Context, do func(tx) error) error {
	return persist(ctx, func() error { return d.once(ctx, sql.LevelReadCommitted, do) }, func(err error) bool {
		return mayTryAgain(err) || errors.Is(err, errUnknown)
	})
}

// errUnknown is of a connection that broke while it committed.
var errUnknown = errors.New("it is not known whether it was kept: look before trying again")

func (d *postgresDB) once(ctx context.Context, level sql.IsolationLevel, do func(tx) error) error {
	t, err := d.pool.BeginTx(ctx, &sql.TxOptions{Isolation: level})
	if err != nil {
		return err
	}
	defer t.Rollback()
	if err := do(tx{ctx: ctx, q: t, shards: countedIn}); err != nil {
		return err
	}
	err = t.Commit()
	if lost(err) || errors.Is(err, context.DeadlineExceeded) {
		return fmt.Errorf("%w: %w (%v)", ErrBusy, errUnknown, err)
	}
	return err
}

// mayTryAgain says whether an error leaves nothing behind and may be gone the next time.
func mayTryAgain(err error) bool {
	if errors.Is(err, errUnknown) {
		return false
	}
	if e, ok := errors.AsType[*pgconn.PgError](err); ok {
		switch e.Code {
		case "40001", "40P01": // serialization_failure, deadlock_detected
			return true
		case "23503": // foreign_key_violation: what it refers to, or what refers to it, came or went in between
			return true
		}
	}
	return lost(err)
}

// persist tries until it works, the error is not for trying again, or patience ends.
func persist(ctx context.Context, try func() error, again func(error) bool) error {
	until := time.Now().Add(patience)
	wait, tries := time.Millisecond, 0
	for {
		err := try()
		if tries++; err == nil || !again(err) || time.Now().After(until) {
			return err
		}
		if !lost(err) && !errors.Is(err, errUnknown) && tries == mostTries {
			return err
		}
		if e, ok := errors.AsType[*pgconn.PgError](err); ok && e.Code == "23503" && tries == 3 {
			return err
		}
		select {
		case <-ctx.Done():
			return fmt.Errorf("%w: %w", ErrBusy, err)
		case <-time.After(wait/2 + rand.N(wait)):
		}
		wait = min(2*wait, 200*time.Millisecond)
	}
}

// scrub lets the space of deleted rows be used again; PostgreSQL's own log ages out by itself.
func (d *postgresDB) scrub(ctx context.Context) error {
	for _, table := range tables {
		if _, err := d.pool.ExecContext(ctx, "VACUUM "+table); err != nil {
			return err
		}
	}
	return nil
}

// check reads every row of every table. PostgreSQL checks pages and references itself, when they are read and written.
func (d *postgresDB) check(ctx context.Context) (faults []string, err error) {
	err = d.snapshot(ctx, func(t tx) error {
		for _, table := range tables {
			if _, err := one(t, single[int64], "SELECT COALESCE(SUM(LENGTH(t::text)), 0)::bigint FROM "+table+" t"); err != nil {
				faults = append(faults, table+": "+err.Error())
				return nil
			}
		}
		return nil
	})
	return faults, err
}

func (d *postgresDB) resume(t tx, version int) error {
	for _, table := range madeUpTo(version, countingMade) {
		if _, err := one(t, single[int64], "SELECT setval(pg_get_serial_sequence('"+table+"', 'n'), COALESCE(MAX(n), 0) + 1, false) FROM "+table); err != nil {
			return err
		}
	}
	return nil
}

func (d *postgresDB) close() error { return d.pool.Close() }
