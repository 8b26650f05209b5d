package store

import (
	"bufio"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"hash"
	"io"
	"os"
	"path/filepath"
	"time"
)

// A backup is the line firstLine and then, packed by gzip, lines of JSON: a heading; for each table its name and columns, a
// list for each row, and an end that says how many rows there were and their SHA-256; and an end of the whole. It is the same
// whichever database it was taken from, so that a school can move from one to the other. Sessions are not in it: after a restore
// everybody signs in again.
const (
	firstLine    = "steelyard backup 1\n"
	formOfBackup = 1
)

type heading struct {
	Form   int       `json:"form"`
	Schema int       `json:"schema"`
	Taken  time.Time `json:"taken"`
}

type tableLine struct {
	Table   string   `json:"table"`
	Columns []string `json:"columns"`
}

type endLine struct {
	End    string `json:"end"`
	Rows   int    `json:"rows"`
	SHA256 string `json:"sha256,omitempty"`
}

// wholeEnd is the End of the last line; no table has that name.
const wholeEnd = "all"

// notInBackups are tables that a backup leaves out.
var notInBackups = map[string]bool{"sessions": true}

// Backup writes a whole and consistent copy, as of the moment at which it begins, to w. It may be taken while the
// program serves.
func (s *Store) Backup(ctx context.Context, w io.Writer) error {
	return s.snapshot(ctx, "taking a backup", func(t tx) error { return backup(t, w, latest()) })
}

func backup(t tx, w io.Writer, schema int) error {
	if _, err := io.WriteString(w, firstLine); err != nil {
		return err
	}
	z := gzip.NewWriter(w)
	out := bufio.NewWriter(z)
	lines := json.NewEncoder(out)
	lines.SetEscapeHTML(false)
	if err := lines.Encode(heading{formOfBackup, schema, time.Now().UTC()}); err != nil {
		return err
	}
	total := 0
	for _, table := range tablesAt(schema) {
		if notInBackups[table] {
			continue
		}
		n, err := backupTable(t, table, out)
		if err != nil {
			return fmt.Errorf("%s: %w", table, err)
		}
		total += n
	}
	if err := lines.Encode(endLine{End: wholeEnd, Rows: total}); err != nil {
		return err
	}
	if err := out.Flush(); err != nil {
		return err
	}
	return z.Close()
}

func backupTable(t tx, table string, out io.Writer) (n int, err error) {
	rows, err := t.q.QueryContext(t.ctx, "SELECT * FROM "+table+" ORDER BY 1")
	if err != nil {
		return 0, err
	}
	defer rows.Close()
	columns, err := rows.Columns()
	if err != nil {
		return 0, err
	}
	if err := writeLine(out, tableLine{table, columns}); err != nil {
		return 0, err
	}
	sum := sha256.New()
	for rows.Next() {
		if err := backupRow(rows, len(columns), io.MultiWriter(out, sum)); err != nil {
			return n, err
		}
		n++
	}
	if err := rows.Err(); err != nil {
		return n, err
	}
	return n, writeLine(out, endLine{table, n, sumIn(sum)})
}

func sumIn(h hash.Hash) string { return hex.EncodeToString(h.Sum(nil)) }

func backupRow(rows *sql.Rows, columns int, out io.Writer) error {
	values := make([]any, columns)
	into := make([]any, columns)
	for i := range values {
		into[i] = &values[i]
	}
	if err := rows.Scan(into...); err != nil {
		return err
	}
	return writeLine(out, values)
}

func writeLine(out io.Writer, v any) error {
	b, err := json.Marshal(v)
	if err != nil {
		return err
	}
	_, err = out.Write(append(b, '\n'))
	return err
}

// BackupFile takes a backup into a file, sealed with a passphrase unless that is empty. The file is there wholly or not
// at all: it is written beside its place, for the owner's eyes only, and then renamed.
func (s *Store) BackupFile(ctx context.Context, path, passphrase string) error {
	return told(s.backupFile(ctx, path, passphrase), "writing "+path)
}

func (s *Store) backupFile(ctx context.Context, path, passphrase string) (err error) {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+"-") // mode 0600
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	w, err := Seal(f, passphrase)
	if err != nil {
		return err
	}
	if err := s.Backup(ctx, w); err != nil {
		return err
	}
	if err := w.Close(); err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	return settle(f.Name(), path)
}

// settle renames a file into its place, and has the folder's entry on the disk before it returns.
func settle(from, to string) error {
	if err := os.Rename(from, to); err != nil {
		return err
	}
	dir, err := os.Open(filepath.Dir(to))
	if err != nil {
		return err
	}
	defer dir.Close()
	dir.Sync() // some systems can't sync a folder
	return nil
}
