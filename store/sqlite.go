package store

import (
	"context"
	"database/sql"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"

	_ "modernc.org/sqlite" // registers the driver
)

// fileName is the database within its folder; SQLite keeps two more beside it while it is open.
const fileName = "steelyard.db"

// A sqliteDB has one connection that writes and several that read.
type sqliteDB struct {
	writing *sql.DB
	queue   *queue
	reading *sql.DB
	stmts   sync.Map // of reading: query to *sql.Stmt
}

// How SQLite is set: a commit is on the disk when it returns (WAL with synchronous=FULL, https://www.sqlite.org/pragma.html#pragma_synchronous),
// references are checked, freed content is overwritten.
var (
	writingSettings = []string{"busy_timeout(5000)", "foreign_keys(1)", "journal_mode(WAL)", "secure_delete(1)", "synchronous(FULL)", "temp_store(MEMORY)", "trusted_schema(0)"}
	readingSettings = []string{"busy_timeout(5000)", "query_only(1)", "trusted_schema(0)"}
)

func openSQLite(ctx context.Context, folder string, version int) (*sqliteDB, error) {
	file, err := newFile(folder)
	if err != nil {
		return nil, err
	}
	torn := unfinished(file)
	writing, err := sql.Open("sqlite", dsn(file, writingSettings))
	if err != nil {
		return nil, err
	}
	writing.SetMaxOpenConns(1)
	if err := ready(ctx, writing, torn, version); err != nil {
		writing.Close()
		return nil, err
	}
	conn, err := writing.Conn(ctx)
	if err != nil {
		writing.Close()
		return nil, err
	}
	reading, err := sql.Open("sqlite", dsn(file, readingSettings))
	if err != nil {
		conn.Close()
		writing.Close()
		return nil, err
	}
	most := max(4, runtime.NumCPU())
	reading.SetMaxOpenConns(most)
	reading.SetMaxIdleConns(most)
	return &sqliteDB{writing: writing, queue: newQueue(conn), reading: reading}, nil
}

// newFile makes the folder and the file where they are missing, for the owner's eyes only.
func newFile(folder string) (string, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return "", err
	}
	file, err := filepath.Abs(filepath.Join(folder, fileName))
	if err != nil {
		return "", err
	}
	f, err := os.OpenFile(file, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return "", err
	}
	return file, f.Close()
}

// unfinished says whether a log was left beside the file: the program was ended in the middle of its work, or is
// running elsewhere.
func unfinished(file string) bool {
	info, err := os.Stat(file + "-wal")
	return err == nil && info.Size() > 0
}

// ready checks a database that may have been left in the middle of something, and migrates it.
func ready(ctx context.Context, db *sql.DB, torn bool, version int) error {
	if torn {
		var said string
		if err := db.QueryRowContext(ctx, "PRAGMA quick_check(1)").Scan(&said); err != nil {
			return err
		}
		if said != "ok" {
			return fmt.Errorf("the file is damaged (%s); restore the last backup into another folder", said)
		}
	}
	return migrate(ctx, db, sqliteDialect, version)
}

func dsn(file string, settings []string) string {
	path := filepath.ToSlash(file)
	if !strings.HasPrefix(path, "/") {
		path = "/" + path // C:/… on Windows
	}
	u := url.URL{Scheme: "file", Path: path, RawQuery: url.Values{"_pragma": settings}.Encode()}
	return u.String()
}

func (d *sqliteDB) tx(ctx context.Context, q queryer) tx { return tx{ctx: ctx, q: q, shards: 1} }

func (d *sqliteDB) read(ctx context.Context, do func(tx) error) error { return do(d.tx(ctx, d)) }

func (d *sqliteDB) snapshot(ctx context.Context, do func(tx) error) error {
	t, err := d.reading.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer t.Rollback()
	return do(d.tx(ctx, t))
}

// change doesn't pass the context's end on: it would end the transaction of others too.
func (d *sqliteDB) change(ctx context.Context, do func(tx) error) error {
	whole := context.WithoutCancel(ctx)
	return d.queue.put(ctx, false, func(q queryer) error { return do(d.tx(whole, q)) })
}

func (d *sqliteDB) often(ctx context.Context, do func(tx) error) error { return d.change(ctx, do) }

func (d *sqliteDB) close() error {
	d.queue.close()
	d.reading.Close()
	d.queue.conn.Close()
	return d.writing.Close()
}

// ExecContext and QueryContext are those of the connections that read, with each statement kept prepared.
func (d *sqliteDB) ExecContext(ctx context.Context, query string, args ...any) (sql.Result, error) {
	return d.reading.ExecContext(ctx, query, args...)
}

func (d *sqliteDB) QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error) {
	s, ok := d.stmts.Load(query)
	if !ok {
		made, err := d.reading.PrepareContext(ctx, query)
		if err != nil {
			return nil, err
		}
		var had bool
		if s, had = d.stmts.LoadOrStore(query, made); had {
			made.Close()
		}
	}
	return s.(*sql.Stmt).QueryContext(ctx, args...)
}

// scrub writes the file anew without what was deleted (secure_delete overwrites what is freed, but a page that was split
// may still hold a copy), and empties the log.
func (d *sqliteDB) scrub(ctx context.Context) error {
	return d.queue.put(ctx, true, func(q queryer) error {
		if _, err := q.ExecContext(context.Background(), "VACUUM"); err != nil {
			return err
		}
		var busy, log, done int
		rows, err := q.QueryContext(context.Background(), "PRAGMA wal_checkpoint(TRUNCATE)")
		if err != nil {
			return err
		}
		defer rows.Close()
		if rows.Next() {
			err = rows.Scan(&busy, &log, &done)
		}
		if err == nil && busy != 0 {
			err = fmt.Errorf("%w: what was erased is still in its log, which another reader holds", ErrBusy)
		}
		return err
	})
}

// resume has nothing to do: SQLite counts on from the largest number.
func (d *sqliteDB) resume(tx, int) error { return nil }

func (d *sqliteDB) check(ctx context.Context) (faults []string, err error) {
	err = d.snapshot(ctx, func(t tx) error {
		said, err := all(t, single[string], "PRAGMA integrity_check")
		if err != nil {
			return err
		}
		if len(said) != 1 || said[0] != "ok" {
			faults = append(faults, said...)
		}
		return each(t, scanReference, func(s string) error { faults = append(faults, s); return nil }, "PRAGMA foreign_key_check")
	})
	return faults, err
}

func scanReference(r row) (string, error) {
	var table, parent string
	var rowid, key sql.NullInt64
	err := r.Scan(&table, &rowid, &parent, &key)
	return fmt.Sprintf("%s, row %d: refers to nothing in %s", table, rowid.Int64, parent), err
}
