package store

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"
)

// ErrDamaged is of a backup that is not as it was written.
var ErrDamaged = errors.New("the backup is damaged or cut short; use another one")

// longestLine of a backup, in bytes: far more than a row can be that a page lets through.
const longestLine = 64 << 20

// Restore makes a new database from a backup. Where must be empty: a folder or a postgres:// address. Pupils erased
// since, whose IDs are given, are erased again. What comes out is verified before it is put in its place.
func Restore(ctx context.Context, r io.Reader, where string, erased []string) error {
	if address(where) {
		return told(build(ctx, r, where, erased), "restoring a backup")
	}
	return told(restoreFolder(ctx, r, where, erased), "restoring a backup into "+where)
}

// RestoreFile restores a file that BackupFile wrote.
func RestoreFile(ctx context.Context, path, passphrase, where string, erased []string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	r, err := Unseal(f, passphrase)
	if err != nil {
		return told(err, "reading "+path)
	}
	return Restore(ctx, r, where, erased)
}

// restoreFolder builds the database in a folder within, and moves it when it is whole.
func restoreFolder(ctx context.Context, r io.Reader, folder string, erased []string) error {
	if there, err := os.ReadDir(folder); err == nil && len(there) > 0 {
		return fmt.Errorf("%w: the folder is not empty; restore into a new one", ErrExists)
	}
	part := filepath.Join(folder, "restoring")
	defer os.RemoveAll(part)
	if err := build(ctx, r, part, erased); err != nil {
		return err
	}
	return settle(filepath.Join(part, fileName), filepath.Join(folder, fileName))
}

func build(ctx context.Context, r io.Reader, where string, erased []string) error {
	lines, head, err := beginning(r)
	if err != nil {
		return err
	}
	db, err := open(ctx, where, head.Schema)
	if err != nil {
		return err
	}
	begun := false
	err = db.change(ctx, func(t tx) error {
		if begun {
			return fmt.Errorf("%w: it broke off", ErrBusy) // a stream can't be read again
		}
		begun = true
		if err := nothingThere(t, head.Schema); err != nil {
			return err
		}
		if err := load(t, lines); err != nil {
			return err
		}
		return db.resume(t, head.Schema)
	})
	if err := errors.Join(err, db.close()); err != nil {
		return err
	}
	return finish(ctx, where, erased)
}

// finish brings what was restored up to date, erases whom it has to and verifies it.
func finish(ctx context.Context, where string, erased []string) error {
	s, err := Open(ctx, where)
	if err != nil {
		return err
	}
	defer s.Close()
	for _, pupil := range erased {
		if err := s.ErasePupil(ctx, By{At: time.Now()}, pupil); err != nil && !errors.Is(err, ErrNotFound) {
			return err
		}
	}
	faults, err := s.Verify(ctx)
	if err == nil && len(faults) > 0 {
		err = fmt.Errorf("%w: %s", ErrDamaged, strings.Join(faults, "; "))
	}
	return err
}

// nothingThere says whether a database has the schema of the backup and no rows.
func nothingThere(t tx, version int) error {
	taken := fmt.Errorf("%w: the database is not empty; restore into a new one", ErrExists)
	have, err := one(t, single[int], "SELECT MAX(version) FROM schema_steps")
	if err != nil {
		return err
	}
	if have != version {
		return taken
	}
	for _, table := range tablesAt(version) {
		n, err := one(t, single[int], "SELECT COUNT(*) FROM "+table)
		if err != nil {
			return err
		}
		if n > 0 {
			return taken
		}
	}
	return nil
}

// beginning reads a backup up to its first table.
func beginning(r io.Reader) (*bufio.Scanner, heading, error) {
	b := bufio.NewReader(r)
	first, err := b.Peek(len(firstLine))
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, heading{}, err
	}
	switch {
	case bytes.HasPrefix(first, []byte(sealedStart)):
		return nil, heading{}, ErrSealed
	case bytes.HasPrefix(first, []byte("steelyard backup ")) && string(first) != firstLine:
		return nil, heading{}, ErrNewer
	case string(first) != firstLine:
		return nil, heading{}, errors.New("this is no backup of this program")
	}
	b.Discard(len(firstLine))
	z, err := gzip.NewReader(b)
	if err != nil {
		return nil, heading{}, damaged(err)
	}
	lines := bufio.NewScanner(z)
	lines.Buffer(make([]byte, 64<<10), longestLine)
	var head heading
	if !lines.Scan() || json.Unmarshal(lines.Bytes(), &head) != nil || head.Schema < 1 {
		return nil, heading{}, damaged(lines.Err())
	}
	if head.Schema > latest() || head.Form > formOfBackup {
		return nil, heading{}, ErrNewer
	}
	return lines, head, nil
}

func damaged(err error) error {
	if err == nil {
		return ErrDamaged
	}
	return fmt.Errorf("%w (%w)", ErrDamaged, err)
}

// load reads the tables of a backup into a database of its schema.
func load(t tx, lines *bufio.Scanner) error {
	var into *loading
	total := 0
	for lines.Scan() {
		line := lines.Bytes()
		if len(line) > 0 && line[0] == '[' {
			if into == nil {
				return ErrDamaged
			}
			if err := into.row(t, line); err != nil {
				return err
			}
			continue
		}
		var said struct {
			tableLine
			endLine
		}
		if err := json.Unmarshal(line, &said); err != nil {
			return damaged(err)
		}
		switch {
		case said.End == wholeEnd && into == nil && said.Rows == total:
			// Read on to the end, where gzip has a sum of its own.
			if lines.Scan() || lines.Err() != nil {
				return damaged(lines.Err())
			}
			return nil
		case said.End != "" && into != nil && into.ends(said.endLine):
			total += into.rows
			into = nil
		case said.Table != "" && into == nil:
			var err error
			if into, err = startLoading(said.tableLine); err != nil {
				return err
			}
		default:
			return ErrDamaged
		}
	}
	return damaged(lines.Err())
}

// A loading is a table that is being read from a backup.
type loading struct {
	table, insert string
	columns, rows int
	sum           hash.Hash
}

// columnName is what may stand in a statement as a column's name.
var columnName = regexp.MustCompile(`^[a-z_]+$`)

func startLoading(l tableLine) (*loading, error) {
	if !slices.Contains(tables, l.Table) || len(l.Columns) == 0 {
		return nil, ErrDamaged
	}
	places := make([]string, len(l.Columns))
	for i, c := range l.Columns {
		if !columnName.MatchString(c) {
			return nil, ErrDamaged
		}
		places[i] = fmt.Sprintf("$%d", i+1)
	}
	insert := fmt.Sprintf("INSERT INTO %s (%s) VALUES (%s)", l.Table, strings.Join(l.Columns, ", "), strings.Join(places, ", "))
	return &loading{table: l.Table, insert: insert, columns: len(l.Columns), sum: sha256.New()}, nil
}

func (l *loading) row(t tx, line []byte) error {
	l.sum.Write(line)
	l.sum.Write([]byte{'\n'})
	l.rows++
	d := json.NewDecoder(bytes.NewReader(line))
	d.UseNumber()
	var values []any
	if err := d.Decode(&values); err != nil || len(values) != l.columns {
		return damaged(err)
	}
	for i, v := range values {
		switch v := v.(type) {
		case json.Number:
			n, err := v.Int64()
			if err != nil {
				return damaged(err)
			}
			values[i] = n
		case string, nil:
		default:
			return ErrDamaged
		}
	}
	_, err := t.exec(l.insert, values...)
	return err
}

func (l *loading) ends(e endLine) bool {
	return e.End == l.table && e.Rows == l.rows && e.SHA256 == sumIn(l.sum)
}
